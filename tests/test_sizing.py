"""From what a person asks to every number of a project."""

import operator
import re
from collections.abc import Mapping
from typing import cast

import pytest
from bad_recipe_files import GOOD
from hypothesis import given, settings
from hypothesis import strategies as st
from told import mends, says

from paramgen.lengths import INCH
from paramgen.recipe.built_in_lengths import BUILT_IN
from paramgen.recipe.language import AskedSize, Length
from paramgen.recipe.read_recipe import Recipe, find_recipe, read_recipe
from paramgen.sizing import MOST_REPEATS, Sized, conditions, size
from paramgen.vocabulary.findings import InputError, Severity
from paramgen.vocabulary.unit import Unit

Asking = Mapping[str, str | float]


def tag(*changes: tuple[str, str]) -> Recipe:
    """The plant tag with lines of its recipe changed."""
    text = GOOD
    for old, new in changes:
        assert text.count(f"{old}\n") == 1
        text = text.replace(f"{old}\n", f"{new}\n")
    return read_recipe(text, name="tag", source="tag.toml")


TAG, WALLET, COASTER = tag(), find_recipe("fold-wallet"), find_recipe("coaster")


def sized(asked: Asking, recipe: Recipe = TAG, unit: Unit = Unit.MM, scale: float = 1.0) -> Sized:
    return size(recipe, asked, unit=unit, scale=scale)


def refused(
    asked: Asking, recipe: Recipe = TAG, unit: Unit = Unit.MM, scale: float = 1.0
) -> list[str]:
    with pytest.raises(InputError) as refusal:
        size(recipe, asked, unit=unit, scale=scale)
    return [str(fault) for fault in refusal.value.faults]


# --- What is worked out -----------------------------------------------------------------


def test_without_being_asked_everything_is_as_the_recipe_says() -> None:
    names = sized({}).names
    assert (names["width"], names["pockets"], names["hanging"]) == (80, 2, "ring")
    assert (names["edge"], names["hem"], names["ruler_mark"]) == (6, 8, 0.5)
    assert names["height"] == 120  # 1.5 · 80
    assert names["depth"] == pytest.approx(84)  # 0.7 · 120
    assert names["mouth"] == pytest.approx({1: 42, 2: 84})  # 84 · k / 2


def test_what_is_asked_goes_before_what_follows() -> None:
    names = sized({"width": "4in", "pockets": "3", "hanging": "none", "edge": "1/4 in"}).names
    assert names["width"] == pytest.approx(101.6)  # 4 · 25.4
    assert names["height"] == pytest.approx(152.4)  # 1.5 · 101.6
    assert (names["pockets"], names["hanging"]) == (3, "none")
    assert names["edge"] == pytest.approx(6.35)  # 25.4 / 4
    assert sized({"width": 100, "height": "70mm"}).names["height"] == 70
    assert sized({"height": 100.0, "pockets": 1}).names["mouth"] == pytest.approx({1: 70})


def test_a_figure_says_what_it_is_and_whether_it_was_asked_for() -> None:
    found = sized({"width": "90", "pockets": 2, "edge": "5", "seam_stitch": "2"})
    asked = {f.name: (f.value, f.asked) for f in (*found.sizes, *found.counts, *found.lengths)}
    assert {name: value for name, (value, asked_for) in asked.items() if asked_for} == {
        "width": 90,
        "pockets": 2,
        "edge": 5,
        "seam_stitch": 2,
    }
    assert [asked[name][0] for name in ("height", "hem", "ruler_mark")] == [135, 8, 0.5]
    assert found.sizes[0].means == "finished width"
    assert found.choices == (("hanging", "how it is hung up", "ring", "by a ring"),)


def test_a_size_may_follow_from_a_count_and_a_length_from_a_size() -> None:
    recipe = tag(
        ('default = "1.5 * width"', 'default = "width + 10 * pockets + ruler_mark"'),
        ('by = "edge / 2"', 'by = "edge / 2 + 0 * lip"'),
        ("[values]", '[lengths.lip]\nmeans = "lip"\ndefault = "height / 10"\n[values]'),
    )
    names = sized({"pockets": "3"}, recipe).names
    assert names["height"] == 110.5  # 80 + 10 · 3 + 0.5
    assert names["lip"] == pytest.approx(11.05)


def test_what_is_worked_out_cannot_be_changed() -> None:
    with pytest.raises(TypeError, match="does not support item assignment"):
        operator.setitem(cast("dict[str, float]", sized({}).names), "width", 1.0)


ASKED: dict[str, str | float] = {"width": "90", "pockets": "3", "hanging": "none", "edge": "4mm"}


@settings(max_examples=20)
@given(st.permutations(list(ASKED)))
def test_the_order_of_asking_does_not_matter(order: list[str]) -> None:
    assert sized({name: ASKED[name] for name in order}).key == sized(ASKED).key


# --- Scale ------------------------------------------------------------------------------


def test_scale_multiplies_the_sizes_and_nothing_else() -> None:
    names, own = sized({}, scale=1.25).names, sized({}).names
    assert names["width"] == 100  # 1.25 · 80
    assert names["height"] == 150  # follows from the width, not scaled again
    stays = {*BUILT_IN, "edge", "hem", "pockets", "hanging", "ruler_mark"}
    assert {name: names[name] for name in stays} == {name: own[name] for name in stays}
    given_too = sized({"width": "50", "height": "90", "edge": "4"}, scale=1.2).names
    assert given_too["width"] == pytest.approx(60)  # 1.2 · 50
    assert given_too["height"] == pytest.approx(108)  # 1.2 · 90
    assert given_too["edge"] == 4


@settings(max_examples=50)
@given(st.floats(0.7, 1.6), st.floats(8, 12), st.integers(1, 4))
def test_scale_leaves_every_allowance_of_the_wallet(
    scale: float, side_allowance: float, pockets: int
) -> None:
    asked: Asking = {"side_allowance": side_allowance, "pockets": pockets, "width": 180}
    own = sized({**asked, "height": 200}, WALLET)
    scaled = sized({**asked, "height": 200}, WALLET, scale=scale)
    for before, after in zip(own.sizes, scaled.sizes, strict=True):
        assert after.value == pytest.approx(scale * before.value)
    assert scaled.lengths == own.lengths
    assert scaled.counts == own.counts
    assert scaled.choices == own.choices


@pytest.mark.parametrize("scale", [0, -1, 0.009, 101, float("inf"), float("nan")])
def test_an_absurd_scale_is_refused_once(scale: float) -> None:
    assert refused({}, scale=scale) == [f"--scale: `{scale:g}` is outside 0.01 to 100"]


def test_a_scale_that_makes_a_size_too_large_says_how_large() -> None:
    # 2 · 80 = 160; 1.5 · 160 = 240 is only its consequence. 150 / 25.4 · 16 = 94.49, shown
    # as 94/16 = 5 7/8 in; 40 / 25.4 · 16 = 25.2, shown as 25/16 = 1 9/16 in.
    asked = "width: 160 mm is outside 40 mm (1 9/16 in) to 150 mm (5 7/8 in) (finished width)"
    assert refused({}, scale=2) == [asked]


# --- Limits -----------------------------------------------------------------------------


def asked_for(recipe: Recipe) -> dict[str, AskedSize | Length]:
    return {**recipe.file.sizes, **recipe.file.lengths, **BUILT_IN}


LIMITED = [
    pytest.param(recipe, name, entry, id=f"{recipe.name}-{name}")
    for recipe in (TAG, WALLET, COASTER)
    for name, entry in asked_for(recipe).items()
    if recipe is TAG or name not in BUILT_IN
]


@pytest.mark.parametrize(("recipe", "name", "entry"), LIMITED)
@pytest.mark.parametrize("unit", list(Unit))
def test_a_length_may_be_at_its_limits_as_they_are_shown_but_not_past_them(
    recipe: Recipe, name: str, entry: AskedSize | Length, unit: Unit
) -> None:
    for limit, past in ((entry.least, -0.01), (entry.most, 0.01)):
        if not limit:
            continue
        assert sized({name: limit}, recipe, unit).names[name] == limit
        (message,) = [m for m in refused({name: limit + past}, recipe, unit) if "outside" in m]
        shown = re.search(r"outside ([^(]+) \(([^)]+)\) to ([^(]+) \(", message)
        assert shown
        at = 1 if past < 0 else 3
        found = sized({name: shown[at]}, recipe, unit).names[name]
        assert limit - 1e-6 <= found if past < 0 else found <= limit + 1e-6


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        # 40 / 25.4 · 16 = 25.2: 25/16 = 1 9/16 in; 150 / 25.4 · 16 = 94.49: 94/16 = 5 7/8 in.
        # In an order with inches it is said how a number without a unit was read.
        (
            "39",
            (
                "`39` is outside 1 9/16 in (40 mm) to 5 7/8 in (150 mm) (finished width). "
                "A plain number is millimetres."
            ),
        ),
        ("10in", "`10in` is outside 1 9/16 in (40 mm) to 5 7/8 in (150 mm) (finished width)"),
        ("0", "`0` is zero. Write a length of more than 0."),
        ("-5in", "`-5in` is negative. Write a length of more than 0."),
        ("3m", "`3m` is longer than the limit of 2000 mm (78 3/4 in)."),
        ("4 1/2", "`4 1/2` has a fraction but no unit. Are inches meant? Then write 4 1/2 in."),
        (
            "wide",
            "`wide` is not a length. Write a length as 114, 114mm, 11.4 cm, 4.5in or 4 1/2 in.",
        ),
    ],
)
def test_a_size_that_is_none_or_outside_its_limits_is_named(asked: str, message: str) -> None:
    assert refused({"width": asked}, unit=Unit.INCH) == [f"width: {message}"]


def test_only_what_may_be_nothing_can_be_zero() -> None:
    assert sized({"hem": "0"}).names["hem"] == 0
    assert sized({"hem": "0in"}).names["hem"] == 0
    assert refused({"edge": "0mm"}) == ["edge: `0mm` is zero. Write a length of more than 0."]
    assert sized({"turn_of_cloth": "0"}, WALLET).names["turn_of_cloth"] == 0


def test_what_follows_from_a_wrong_size_is_not_held_against_the_person() -> None:
    # A width of 500 mm alone is wrong, not the height of 750 mm that follows from it; nor
    # the 60 mm that would follow from the least width, where the least height is 110.
    recipe = tag(('least = "60mm"', 'least = "110mm"'))
    for asked in ("500", "x", "0"):
        assert [line.split(":")[0] for line in refused({"width": asked}, recipe)] == ["width"]


def test_a_default_that_leaves_its_limits_says_what_it_follows_from() -> None:
    # 1.5 · 39.9 = 59.85 mm, less than the 60 mm there must be.
    recipe = tag(('least = "40mm"', 'least = "30mm"'))
    message = "59.9 mm, which follows from width `39.9`, is outside 60 mm (2 3/8 in)"
    (found,) = refused({"width": "39.9"}, recipe)
    assert found.startswith(f"height: {message}")
    assert found.endswith("Change width, or set height itself.")


# --- Counts, choices, marks -------------------------------------------------------------


@pytest.mark.parametrize(
    "asked", ["2.5", "-1", "1e9", "two", "", "1_0", "²", "1/2", "nan", "9" * 50]
)
def test_a_count_that_is_no_whole_number_is_refused(asked: str) -> None:
    (message,) = refused({"pockets": asked})
    assert message.startswith("pockets: `")
    assert message.endswith("` is not a whole number from 1 to 3 (pockets, one over the other)")


@pytest.mark.parametrize("asked", ["0", "4", "100000"])
def test_a_count_outside_its_limits_is_refused(asked: str) -> None:
    limits = "a whole number from 1 to 3 (pockets, one over the other)"
    assert refused({"pockets": asked}) == [f"pockets: `{asked}` is not {limits}"]


@pytest.mark.parametrize("asked", ["1", " 3 ", 2, "02"])
def test_a_count_is_a_whole_number(asked: str | int) -> None:
    assert sized({"pockets": asked}).names["pockets"] == int(asked)


@pytest.mark.parametrize("asked", ["none", "NONE", " None "])
def test_a_choice_is_taken_in_any_case(asked: str) -> None:
    assert sized({"hanging": asked}).names["hanging"] == "none"


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ("Rings", "`rings` is not one of ring, none. Did you mean `ring`?"),
        ("hook", "`hook` is not one of ring, none"),
        ("", "`` is not one of ring, none"),
        ("x" * 99, f"`{'x' * 30}…` is not one of ring, none"),
    ],
)
def test_a_choice_that_there_is_not_is_refused_with_the_nearest(asked: str, message: str) -> None:
    assert refused({"hanging": asked}) == [f"hanging: {message}"]


def test_the_ruler_mark_goes_by_the_recipe_then_by_the_unit_and_can_be_set() -> None:
    assert sized({}, WALLET, Unit.MM).names["ruler_mark"] == 1
    assert sized({}, WALLET, Unit.INCH).names["ruler_mark"] == INCH / 8
    assert sized({}, TAG, Unit.INCH).names["ruler_mark"] == 0.5
    assert sized({"ruler_mark": "1/4 in"}, WALLET).names["ruler_mark"] == INCH / 4
    assert sized({"ruler_mark": "0.1"}, TAG).names["ruler_mark"] == 0.1


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ("0.09", "`0.09` is finer than the finest mark, 0.1 mm"),
        ("1e-320", "`1e-320` is finer than the finest mark, 0.1 mm"),
        ("0", "`0` is zero. Write a length of more than 0."),
        ("26", "`26` is longer than the limit of 25.4 mm (1 in)."),
        (
            "fine",
            "`fine` is not a length. Write a length as 114, 114mm, 11.4 cm, 4.5in or 4 1/2 in.",
        ),
    ],
)
def test_a_ruler_mark_that_no_ruler_has_is_refused(asked: str, message: str) -> None:
    assert refused({"ruler_mark": asked}) == [f"ruler_mark: {message}"]


def test_every_recipe_has_the_lengths_of_its_stitches() -> None:
    # Common practice, no source: placement 3, tack-down 2.5, basting 5, seam 2 to 2.5 mm.
    for recipe in (TAG, WALLET, COASTER):
        names = sized({}, recipe).names
        assert names["placement_stitch"] == 3
        assert names["tack_down_stitch"] == 2.5
        assert names["basting_stitch"] == 5
        assert 2 <= names["seam_stitch"] <= 2.5
        assert sized({"seam_stitch": "3"}, recipe).names["seam_stitch"] == 3
        assert {figure.name for figure in sized({}, recipe).lengths} >= {*BUILT_IN, "ruler_mark"}


# --- Faults -----------------------------------------------------------------------------


def test_names_of_nothing_are_refused_with_the_nearest_or_all() -> None:
    no = "tag has no such size or choice"
    assert refused({"widht": "90"}) == [f"widht: {no}. Did you mean `width`?"]
    assert refused({"Hem": "5"}) == [f"Hem: {no}. Did you mean `hem`?"]
    assert refused({"seam_stich": "2"}) == [f"seam_stich: {no}. Did you mean `seam_stitch`?"]
    every = ["width", "height", "pockets", "hanging", "edge", "hem", "ruler_mark", *BUILT_IN]
    assert refused({"xyz": "3"}) == [f"xyz: {no}. There are {', '.join(every)}."]
    assert refused({"": "3"}) == [f"{no}. There are {', '.join(every)}."]


def test_every_fault_of_one_call_is_reported_together() -> None:
    asked = {
        "widht": "90",
        "height": "tall",
        "pockets": "2.5",
        "hanging": "rings",
        "edge": "-1",
        "hem": "2cm1",
        "ruler_mark": "0",
        "seam_stitch": "9",
    }
    found = [line.split(":")[0] for line in refused(asked, scale=0)]
    assert sorted(found) == sorted([*asked, "--scale"])


@settings(max_examples=60)
@given(
    st.dictionaries(
        st.sampled_from([*asked_for(TAG), "pockets", "hanging", "ruler_mark"]) | st.text(),
        st.text(max_size=80) | st.text("0123456789.,/-+ einmc½\"'", max_size=12),
        max_size=4,
    ),
    st.floats(),
)
def test_whatever_is_asked_is_sized_or_refused_by_name(asked: dict[str, str], scale: float) -> None:
    where: set[str] = set()
    try:
        sized(asked, scale=scale)
    except InputError as refusal:
        where = {fault.where for fault in refusal.faults}
    assert where <= {*asked, "--scale", *(TAG.file.sizes if scale != 1 else ())}


# --- The recipe's own arithmetic --------------------------------------------------------


DEPTH, HEIGHT = 'depth = "0.7 * height"', 'default = "1.5 * width"'
MOUTH = 'mouth = { repeat = { k = "pockets" }, is = "depth * k / pockets" }'
REPEATS = f"repeats; 0 to {MOST_REPEATS} can be made"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (DEPTH, "height / (width - 80)", "values.depth: `{}` divides by zero"),
        (DEPTH, "(width - 81) ** 0.5", "values.depth: `{}` cannot be worked out: {root}"),
        (HEIGHT, "width ** 999", "height: `{}` has no finite value"),
        (HEIGHT, "hanging", "height: `{}` gives 'ring' where a number is wanted"),
        (MOUTH, "pockets / 4", "values.mouth: `{}` gives 0.5 {repeats}"),
        (MOUTH, "width * 10", "values.mouth: `{}` gives 800 {repeats}"),
        (MOUTH, "width * 1e9", "values.mouth: `{}` gives 8e+10, more than any project needs"),
        (MOUTH, "pockets - 3", "values.mouth: `{}` gives -1 {repeats}"),
    ],
)
def test_a_sum_that_fails_at_these_sizes_is_named(old: str, new: str, message: str) -> None:
    changed = f'{old.split(" = ", maxsplit=1)[0]} = "{new}"'
    if old == MOUTH:
        changed = MOUTH.replace('"pockets"', f'"{new}"')
    root = "a negative number has no such power"
    wanted = message.format(new, root=root, repeats=REPEATS)
    assert refused({}, tag((old, changed))) == [f"tag.toml: {wanted}"]


# --- Conditions -------------------------------------------------------------------------


def test_a_condition_that_holds_says_nothing() -> None:
    assert conditions(sized({})) == ()


def test_a_condition_that_fails_says_what_and_what_would_mend_it() -> None:
    # 0.7 · 60 = 42 mm, 42 / 3 = 14 mm = 8.8/16 in; 15 · 3 / 0.7 = 64.29 mm = 40.5/16 in.
    (found,) = conditions(sized({"height": "60", "pockets": "3"}, unit=Unit.INCH))
    assert found.code == "recipe-condition"
    assert found.severity is Severity.CANNOT
    assert says(found, Unit.INCH) == (
        "3 pockets leave 9/16 in (14 mm) from one mouth to the next; it needs 15 mm"
    )
    assert (
        mends(found, Unit.INCH)
        == "Take fewer pockets, or a height of at least 2 9/16 in (65.1 mm)."
    )


def test_conditions_come_worst_first_and_only_when_they_apply() -> None:
    text = """
[[conditions]]
severity = "{}"
require = "width > 1000"
say = "{}"
when = "pockets == {}"
"""
    more = [
        text.format("worth knowing", "first", 2),
        text.format("will disappoint", "second", 2),
        text.format("cannot be made", "third", 2),
        text.format("cannot be made", "fourth", 1),
    ]
    recipe = read_recipe(GOOD + "".join(more), name="tag", source="tag.toml")
    found = conditions(sized({}, recipe))
    assert [says(one) for one in found] == ["third", "second", "first"]
    assert [one.stops for one in found] == [True, False, False]
    assert mends(found[0]) == ""


def test_a_condition_that_cannot_be_worked_out_is_named() -> None:
    recipe = tag(('require = "depth / pockets >= 15"', 'require = "depth / (pockets - 2)"'))
    with pytest.raises(InputError) as refusal:
        conditions(sized({}, recipe))
    message = "tag.toml: conditions[1]: `depth / (pockets - 2)` divides by zero"
    assert str(refusal.value) == message
    with pytest.raises(InputError, match=r"gives 84\.0 where a yes or no is wanted"):
        conditions(sized({"pockets": 3}, recipe))
