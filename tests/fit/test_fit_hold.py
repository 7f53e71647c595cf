"""Sizes worked back from what a project must hold.

Things are those of published standards: see tests/reference/test_things.py. Everything is checked
against arithmetic that is shown, or by making the project and one a ruler mark smaller.
"""

import re
import shlex
from collections.abc import Mapping

import pytest
from command_line import paramgen
from fit_held import RECIPES, VAST, answer, held_or_told, made, several
from flat_recipe import flat_text
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from layout_orders import HOOPS
from told import says

from paramgen.cli.fit_hold import hold_asked, hold_report
from paramgen.fit.holding_lengths import ways
from paramgen.fit.smallest_holding import held
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read_recipe import Recipe, read_recipe
from paramgen.reference.hoops import Hoop, find_hoop
from paramgen.reference.things import Thing
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError, InputError, Severity
from paramgen.vocabulary.unit import Unit

# The ease is the recipe's own; a passport is 3 mm thick (from memory), a card 0.76 (ISO/IEC 7810).
ARITHMETIC = [
    # across packet + 4 of ease + thickness, between top-stitching 2 inside both edges; down, in
    # each half, packet + half its thickness at the closed end + the 2 there, and, clear of the
    # fold, half of what the outside goes round when it is closed: what four pockets hold and, on
    # each side, a lining and two folded pockets, 5 plies of 0.15 at the least, as in
    # shared/materials.toml
    (
        "fold-wallet",
        "passport",
        Unit.MM,
        (136, 197),
        (125 + 4 + 3 + 4, 2 * (88 + 1.5 + 2) + 4 * 3 + 10 * 0.15),
    ),
    # the same on marks of 1/8 in: 3 3/4 and 4 5/8 in
    (
        "fold-wallet",
        "bank card",
        Unit.INCH,
        (3.75 * 25.4, 4.625 * 25.4),
        (85.6 + 4 + 0.76 + 4, 2 * (53.98 + 0.38 + 2) + 4 * 0.76 + 10 * 0.15),
    ),
    # its finished size, and not its inside, has room for packet and ease; either way round, but
    # a zip 95 mm wide would let through 0.95 × (97 - 20) = 73, less than 88 + 3
    ("zip-pouch", "passport", Unit.MM, (132, 95), (125 + 4 + 3, 88 + 4 + 3)),
    # label, ease at each side, and at each side 3.5 for stitching and 7 of margin; down: slot
    # 11 + 4 + 2.5, snap 7 + 0.5 below it and 7 round it, what shows, the rest of the label,
    # stitching, margin
    (
        "plant-tag",
        "bank card",
        Unit.MM,
        (112, 97),
        (85.6 + 2 * (1.5 + 0.76) + 2 * 3.5 + 2 * 7, 17.5 + 7.5 + 7 + 7 + (53.98 - 7) + 3.5 + 7),
    ),
]


@pytest.mark.parametrize(("recipe", "thing", "unit", "sizes", "exact"), ARITHMETIC)
def test_the_smallest_sizes_are_those_of_arithmetic_on_the_next_ruler_mark(
    recipe: str,
    thing: str,
    unit: Unit,
    sizes: tuple[float, float],
    exact: tuple[float, float],
) -> None:
    best = answer(recipe, thing, unit=unit).best
    assert best is not None
    assert tuple(best.sizes.values()) == pytest.approx(sizes)
    mark = 25.4 / 8 if unit is Unit.INCH else 1.0
    for on_mark, least in zip(sizes, exact, strict=True):
        assert 0 <= on_mark - least < mark


#: The answers that are asked for above, and one in a hoop that is long.
CASES = [(recipe, thing, unit) for recipe, thing, unit, _, _ in ARITHMETIC]
CASES += [("plant-tag", "short ruler", Unit.MM)]


@pytest.mark.parametrize(("recipe", "thing", "unit"), CASES)
def test_what_is_found_is_made_in_its_hoop_and_a_mark_less_of_either_size_is_not(
    recipe: str, thing: str, unit: Unit
) -> None:
    one = answer(recipe, thing, unit=unit)
    assert one.best is not None
    hoop, turned = one.best.hoops[0]
    project = made(one, Room(hoop), one.best.sizes)
    assert project.project.turned == turned
    (held_thing,) = project.project.holds
    assert held_thing.size in ((t.width, t.height) for t in turnings(one.things[0].thing))
    # What the finished hollow takes is measured apart from the findings, by halving four times
    # the thing and its ease 14 times: to 4 × 132 / 2^14, about 0.03 mm.
    (takes,) = project.proof.takes
    width, height = held_thing.size
    assert takes.width >= width - 0.04
    assert takes.height >= height - 0.04
    for name, value in one.best.sizes.items():
        smaller = {**one.best.sizes, name: value - one.best.mark}
        with pytest.raises((CannotMakeError, InputError)):
            made(one, VAST, smaller)


def turnings(thing: Thing) -> tuple[Thing, Thing]:
    return thing, Thing(name=thing.name, width=thing.height, height=thing.width)


#: Cheap to ask about; all recipes and any thing are asked about in scans/.
@settings(max_examples=4, suppress_health_check=[HealthCheck.too_slow])
@given(
    thing=st.builds(
        Thing,
        name=st.just("typed"),
        width=st.integers(20, 170),
        height=st.integers(20, 170),
        thickness=st.integers(0, 3),
    ),
    number=st.integers(1, 4),
)
def test_whatever_a_tag_holds_is_made_and_whatever_it_does_not_is_told_why(
    thing: Thing, number: int
) -> None:
    held_or_told("plant-tag", thing, number)


@pytest.mark.parametrize(
    ("recipe", "thing", "asked"),
    [
        ("fold-wallet", "6 bank cards", ()),
        ("fold-wallet", "passport", (("pockets", "3"),)),
        ("zip-pouch", "sanitary pad", ()),
        ("zip-pouch", "phone", ()),
    ],
)
def test_what_is_found_does_not_disappoint(
    recipe: str, thing: str, asked: tuple[tuple[str, str], ...]
) -> None:
    one = answer(recipe, thing, asked=asked)
    assert one.best is not None
    assert not one.told
    found = made(one, VAST, one.best.sizes).project.findings
    assert not [finding for finding in found if finding.severity is Severity.DISAPPOINT]


def test_a_zip_is_as_long_as_lets_it_through() -> None:
    # 80 + 12 = 92 must go through; 0.95 of what the parked slider leaves: (117 - 20) is 92.15,
    # (116 - 20) is 91.2.
    one = answer("zip-pouch", "sanitary pad")
    assert one.best is not None
    assert one.best.sizes["width"] == 117
    # Made narrower, it says the same: 92 / 0.95 + 20 = 116.84, shown in tenths.
    words = shlex.split(hold_report(one).splitlines()[-1])[1:]
    narrow = ["width=110" if word.startswith("width=") else word for word in words]
    told = paramgen("check", *narrow[1:]).out
    assert "Make width at least 116.9 mm (4 5/8 in)." in told


def test_what_no_size_mends_is_told_with_what_is_found() -> None:
    # A card 53.98 high, 0.76 thick: deepest 53.98 + 0.38 + 3 - 10 = 47.36, the front one 35.98 for
    # 18 to grip: three pockets would be (47.36 - 35.98) / 2 = 5.7 apart, less than 8. Turned it
    # does not need to be, but is then 185 high.
    asked = (("pockets", "3"), ("width", "96mm"), ("height", "150mm"))
    one = answer("fold-wallet", "bank card", asked=asked)
    assert one.best is not None
    (told,) = one.told
    report = " ".join(hold_report(one).split())
    assert "will disappoint: The deepest pocket" in report
    assert "Take fewer pockets" in report
    assert told.severity is Severity.DISAPPOINT


@pytest.mark.parametrize("note", ["10 banknotes", "10 x 50 euro note", "10 dollar notes"])
def test_what_another_place_is_made_for_goes_there(note: str) -> None:
    (kind,) = several(note)
    told = paramgen("fit", "fold-wallet", "pouch=long", "--hold", "6 bank cards", "--hold", note)
    assert told.status == 0, told.err
    assert "; at the pouch lining" in told.out
    command = dict(word.split("=") for word in told.out.split() if re.match(r"\w+=\d", word))
    # The notes upright, as the recipe's own; the cards as without any notes: two in a pocket.
    size = sorted((kind.thing.width, kind.thing.height))
    assert command["note_width"] == f"{size[0]:g}mm"
    assert command["note_height"] == f"{size[1]:g}mm"
    assert command["note_thickness"] == f"{10 * kind.thing.thickness:g}mm"
    assert (command["packet_width"], command["packet_thickness"]) == ("85.6mm", "1.52mm")
    words = shlex.split(told.out.rpartition("To make it")[2])[2:]
    assert "It can be made as asked" in paramgen("check", *words).out


def test_what_another_place_is_made_for_may_be_all() -> None:
    told = paramgen("fit", "fold-wallet", "pouch=long", "--hold", "banknotes")
    # 160 × 77 mm: the box round all notes listed. The pockets are for a packet as ever.
    assert "note_width=77mm note_height=160mm" in told.out
    assert "packet_width" not in told.out
    assert "--holds" not in told.out


def test_a_choice_that_makes_a_place_is_named() -> None:
    told = paramgen("fit", "fold-wallet", "--hold", "5 pound note")
    assert "with pouch=long the 5 pound note has a place of its own" in told.out
    assert "pouch=long" not in paramgen("fit", "fold-wallet", "--hold", "bank card").out


def test_a_pile_wants_its_thickness_of_width_and_of_height() -> None:
    # Round a thing w wide and t thick goes 2 (w + t), twice the width of a flat pocket that
    # takes it. 6 passports of 3 mm are 18 mm, and the pouch's own ease is 4. The pouch is asked
    # for the thickness itself; where a recipe has no length for it, for as much more of ease.
    def both(recipe: Recipe, ease: float | None = None) -> list[Mapping[str, float]]:
        found = ways(recipe, several("6 passports"), asked={}, unit=Unit.MM, ease=ease)
        return [way.asked for way in found]

    flat = {"packet_ease": 4, "packet_thickness": 18}
    upright, turned = both(RECIPES["zip-pouch"])
    assert upright == {"packet_width": 125, "packet_height": 88, **flat}
    assert turned == {"packet_width": 88, "packet_height": 125, **flat}
    thin = changed((THICKNESS, ""))
    upright, turned = both(thin)
    assert upright == {"packet_width": 125, "packet_height": 88, "packet_ease": 4 + 18}
    assert turned == {"packet_width": 88, "packet_height": 125, "packet_ease": 4 + 18}
    assert both(thin, 2.5)[0]["packet_ease"] == 2.5 + 18
    assert both(RECIPES["zip-pouch"], 2.5)[0]["packet_ease"] == 2.5


@pytest.mark.parametrize(
    ("pockets", "number", "each"),
    [("1", 2, 1), ("1", 3, 2), ("2", 4, 1), ("2", 5, 2), ("4", 17, 3)],
)
def test_things_are_spread_over_the_pockets_of_both_stacks(
    pockets: str, number: int, each: int
) -> None:
    # Each pocket of a stack is cut twice, one for each end of the wallet.
    (one, *_) = ways(
        RECIPES["fold-wallet"],
        several(f"{number} passports"),
        asked={"pockets": pockets},
        unit=Unit.MM,
    )
    assert one.pile == each * 3


def test_what_is_square_goes_in_one_way() -> None:
    assert len(ways(RECIPES["zip-pouch"], several("60x60mm"), asked={}, unit=Unit.MM)) == 1


def test_several_kinds_get_a_place_as_large_as_the_largest_of_each() -> None:
    found = ways(RECIPES["zip-pouch"], several("50x120x2mm", "100x60x1mm"), asked={}, unit=Unit.MM)
    boxes = {way.turned: (way.asked["packet_width"], way.asked["packet_height"]) for way in found}
    assert boxes == {
        (False, False): (100, 120),
        (False, True): (60, 120),
        (True, False): (120, 60),
        (True, True): (120, 100),
    }
    assert {way.asked["packet_thickness"] for way in found} == {2 + 1}


def test_each_of_several_kinds_is_held() -> None:
    one = answer("fold-wallet", "bank card", "passport")
    assert one.best is not None
    project = made(one, VAST, one.best.sizes).project
    fixed = {figure.name: figure.value for figure in (*project.sizes, *project.lengths)}
    for width, height in one.best.way.sizes:
        again = {**fixed, "packet_width": width, "packet_height": height}
        assert made(one, VAST, again).project.holds[0].size == (width, height)


def test_kinds_that_no_one_pocket_keeps_are_refused() -> None:
    # A window of 170 - 7 mm buries a card of 85.6.
    one = answer("plant-tag", "170x170mm", "bank card")
    assert one.best is None
    # It is the card that the refusal is about.
    assert any("of the bank card, " in says(reason) for reason in one.refused)
    # Things without a name are told apart by their sizes.
    other = answer("plant-tag", "170x170mm", "60x50mm")
    assert any("of the thing, 60 × 50 mm, shows" in says(reason) for reason in other.refused)


@pytest.mark.parametrize(
    ("recipe", "texts", "said"),
    [
        (
            "fold-wallet",
            ["passport"],
            "the passport, 125 × 88 mm and 3 mm (1/8 in) thick, does not go",
        ),
        (
            "zip-pouch",
            ["passport"],
            "the passport, 125 mm (4 15/16 in) × 88 mm (3 7/16 in), with 3 mm (1/8 in) of thick",
        ),
        ("fold-wallet", ["4 bank cards"], "the bank card, 85.6 × 54 mm and 0.8 mm (0.03 in) thick"),
        # What has no name is called what it is.
        ("fold-wallet", ["90x150mm"], "the thing, 90 × 150 mm, does not go into"),
        # Of two it is the larger, as long as it is larger both ways.
        ("fold-wallet", ["bank card", "passport"], "the passport, 125 × 88 mm and 3.8 mm (1/8 in)"),
        (
            "fold-wallet",
            ["90x66mm", "80x70mm"],
            "the pile of 90 × 66 mm and 80 × 70 mm, 90 × 70 mm, does not go into",
        ),
    ],
)
def test_what_binds_is_said_of_the_thing_that_is_held(
    recipe: str, texts: list[str], said: str
) -> None:
    one = answer(recipe, *texts)
    binds = [
        says(reason)
        for holding in one.holdings
        for reasons in holding.binds.values()
        for reason in reasons
    ]
    assert any(said in text for text in binds), binds
    assert not any("seed packet" in text for text in binds)


def test_the_hoop_asked_for_is_met_if_any_way_round_fits() -> None:
    # With 2 of tack-down at each side and a strap of 77, a card that lies wants 116 × 178, one
    # that stands 84 × 210.
    hoop = find_hoop("130x180", HOOPS)
    one = answer("plant-tag", "bank card", hoop="130x180")
    assert one.works
    fitting = [other for other in one.holdings if other.fits(Room(hoop))]
    assert one.holdings[: len(fitting)] == tuple(fitting)
    assert 1 <= len(fitting) < len(one.holdings)
    # By area: 23,400 · 40,000 · 41,600 mm², though they are listed in another order.
    assert [h.name for h, _ in fitting[0].hoops[:3]] == ["130x180", "200x200", "160x260"]
    standing = find_hoop("90x220mm", HOOPS)
    other = answer("plant-tag", "bank card", hoop="90x220mm")
    assert other.works
    assert other.best is not None
    assert other.best.way.turned == (True,)
    made(other, Room(standing), other.best.sizes)


def test_a_hoop_that_is_too_small_gives_way_to_the_smallest_that_does() -> None:
    one = answer("plant-tag", "passport", hoop="130x180")
    assert not one.works
    assert one.best is not None
    areas = [hoop.width * hoop.height for hoop, _ in one.best.hoops]
    assert areas == sorted(areas)
    taken = {hoop.name for hoop, _ in one.best.hoops}
    for hoop in HOOPS:
        takes = one.best.fits(Room(hoop))
        assert takes == (hoop.name in taken)
    with pytest.raises(CannotMakeError):
        made(one, Room(find_hoop("130x180", HOOPS)), one.best.sizes)
    report = hold_report(one)
    assert "The field of 130x180, 130 × 180 mm, does not take it: it needs 122 × 249 mm" in report


def test_each_of_several_things_is_told_apart_from_its_size() -> None:
    report = " ".join(hold_report(answer("zip-pouch", "4 of 90x150x3mm", "passport")).split())
    assert "4 of 90 × 150 mm: 90 × 150 mm" in report
    assert "1 × passport: 125 × 88 mm" in report
    assert re.search("Put in: 90 × 150 mm as (90 × 150|150 × 90) mm, passport as ", report)


def test_where_no_thickness_is_typed_it_is_said_that_it_is_taken_as_none() -> None:
    # 1/16 in is 0.0625 in, and 4 in is 101.6 mm.
    for text, unit, example in (
        ("4 of 100x70mm", Unit.MM, "4 of 100x70x2mm"),
        ("4 of 4x3in", Unit.INCH, "4 of 4x3x0.0625in"),
        ("4x3in", Unit.MM, "1 of 101.6x76.2x2mm"),
    ):
        report = " ".join(hold_report(answer("plant-tag", text, unit=unit)).split())
        assert f"thickness taken as 0, as none is given; type it too, as in {example} " in report
        # As it is told to type it, it is known.
        (again,) = several(example)
        assert again.number == several(text)[0].number
        assert again.thing.thickness in (2.0, 25.4 / 16)
    for known in ("4 of 100x70x2mm", "bank card"):
        assert "taken as 0" not in hold_report(answer("plant-tag", known))


@pytest.mark.parametrize(
    ("recipe", "thing"), [("fold-wallet", "seed packet"), ("zip-pouch", "wide seed packet")]
)
def test_the_packet_that_is_listed_is_the_one_a_recipe_is_made_for(recipe: str, thing: str) -> None:
    names = size(RECIPES[recipe], {}, unit=Unit.MM).names
    (one,) = several(thing)
    made_for = (names["packet_width"], names["packet_height"], names["packet_thickness"])
    assert made_for == (one.thing.width, one.thing.height, one.thing.thickness)


def test_too_many_kinds_are_counted() -> None:
    kinds = [f"{40 + place}x90mm" for place in range(5)]
    with pytest.raises(InputError) as problem:
        ways(RECIPES["zip-pouch"], several(*kinds), asked={}, unit=Unit.MM)
    assert "--hold: 5 kinds of things are given; 1 to 4 can be held" in str(problem.value)


def test_what_no_listed_hoop_takes_says_what_field_would() -> None:
    order = Order(RECIPES["plant-tag"], {}, VAST)
    small = [hoop for hoop in HOOPS if hoop.name == "100x100"]
    one = held(order, several("bank card"), hoops=small, any_hoop=True)
    assert one.best is not None
    assert not one.best.hoops
    assert not one.works
    width, height = one.best.needs[0]
    made(one, Room(Hoop("would", width, height), may_turn=False), one.best.sizes)
    less = Room(Hoop("less", width - 0.2, height), may_turn=False)
    with pytest.raises(CannotMakeError):
        made(one, less, one.best.sizes)
    assert f"No listed hoop takes it. What would: a field of {width:g} × " in hold_report(one)


def test_sizes_that_are_asked_stay_as_they_are() -> None:
    one = answer("fold-wallet", "bank card", asked=(("width", "120mm"), ("pockets", "2")))
    assert one.best is not None
    assert one.best.sizes["width"] == 120
    assert set(one.best.binds) == {"height"}
    # The card needs 2 × (53.98 + 0.38 + 2) = 112.72, and clear of the fold four cards of 0.76 and
    # five plies of 0.15 on each side more: 117.26.
    assert one.best.sizes["height"] == 118
    # A third pocket, 8 mm deeper, would swallow a card that lies: only standing ones go in.
    other = answer("fold-wallet", "bank card", asked=(("width", "120mm"), ("pockets", "3")))
    assert other.best is not None
    assert other.best.way.turned == (True,)


@given(st.integers(30, 180))
def test_half_of_any_packet_is_held_and_enough_of_it_shows(height: int) -> None:
    # 1 mm of it goes in turning, 2 for the top-stitching and, of a packet 2 mm thick, 1 for that.
    front = size(RECIPES["fold-wallet"], {"packet_height": height}, unit=Unit.MM).names
    assert height / 2 <= front["front_depth"] - 4 <= height - 15


@given(st.integers(12, 180))
def test_seven_tenths_of_any_label_are_held_and_some_of_it_shows(height: int) -> None:
    tag = size(RECIPES["plant-tag"], {"label_height": height}, unit=Unit.MM).names
    assert 0.7 * height <= height - tag["label_shows"]
    assert 3 <= tag["label_shows"] <= 7


def test_the_packet_they_are_made_for_gets_what_it_always_got() -> None:
    # common practice, no source: 54 of 82 mm in the front pocket, so 76 / 2 + 13 = 51 of 76;
    # 7 of 52 mm of a label shown
    for height, deep in (("82mm", 54), ("76mm", 51)):
        names = size(RECIPES["fold-wallet"], {"packet_height": height}, unit=Unit.MM).names
        assert names["front_depth"] == deep
    assert size(RECIPES["fold-wallet"], {}, unit=Unit.MM).names["packet_height"] == 76
    assert size(RECIPES["plant-tag"], {}, unit=Unit.MM).names["label_shows"] == 7


#: What tells of the thickness of what the pouch holds.
THICKNESS = 'thickness = "packet_thickness"\n'


def changed(*pairs: tuple[str, str]) -> Recipe:
    text = flat_text("zip-pouch")
    for find, put in pairs:
        assert find in text
        text = text.replace(find, put)
    return read_recipe(text, name="pouch", source="pouch.toml")


def refusal(recipe: Recipe, ease: float | None = None, **asked: str) -> str:
    with pytest.raises(InputError) as problem:
        ways(recipe, several("passport"), asked=asked, unit=Unit.MM, ease=ease)
    return str(problem.value)


def test_a_recipe_that_holds_nothing_says_so() -> None:
    assert "coaster holds nothing" in refusal(RECIPES["coaster"])


def test_a_recipe_whose_thing_cannot_be_set_says_so() -> None:
    fixed = changed(('width = "packet_width"\n', 'width = "packet_width + 0"\n'))
    assert "pouch.toml: what pouch holds cannot be set" in refusal(fixed)


def test_a_recipe_that_holds_two_things_says_so() -> None:
    start = "[holds.packet]"
    second = '[holds.label]\ntitle = "label"\nwidth = "packet_width"\nheight = "packet_height"\n'
    second += 'ease = "packet_ease"\nagainst = "back-lining"\n\n'
    assert "holds several things, label, packet" in refusal(changed((start, second + start)))


def test_what_only_a_choice_makes_room_for_is_not_meant_by_the_thing() -> None:
    # The wallet's notes have lengths of their own, and a place in its long pouch alone.
    one, *_ = ways(
        RECIPES["fold-wallet"], several("bank card"), asked={"pouch": "long"}, unit=Unit.MM
    )
    assert set(one.asked) == {"packet_width", "packet_height", "packet_thickness", "packet_ease"}


def test_where_the_ease_is_fixed_a_pile_is_added_to_the_size() -> None:
    fixed = changed((THICKNESS, ""), ('ease = "packet_ease"\n', 'ease = "packet_ease + 0"\n'))
    (one, *_) = ways(fixed, several("6 passports"), asked={}, unit=Unit.MM)
    assert one.asked == {"packet_width": 125 + 18, "packet_height": 88 + 18}
    assert "has no ease that can be set" in refusal(fixed, ease=3)


def test_what_follows_from_the_thing_is_not_asked_as_well() -> None:
    every = refusal(
        RECIPES["zip-pouch"], packet_width="100", packet_height="80", packet_thickness="9"
    )
    assert every.count("follows from the thing to hold") == 3
    assert "ease: is given, and so is packet_ease" in refusal(
        RECIPES["zip-pouch"], ease=3, packet_ease="5"
    )


def test_a_thing_beyond_the_recipe_says_what_it_takes() -> None:
    one = answer("fold-wallet", "A4")
    assert one.best is None
    (wide, tall) = (says(reason) for reason in one.refused)
    assert "packet_height) can be 5 mm" in wide
    assert "to 180 mm (7 1/16 in); 297 mm is needed for the A4" in wide
    assert "210 mm is needed for the A4" in tall


def test_every_fault_of_what_is_typed_is_told_together() -> None:
    with pytest.raises(InputError) as problem:
        hold_asked(["pasport", "90mm x 5"], "2 1/2")
    wheres = [fault.where for fault in problem.value.faults]
    assert wheres == ["--hold", "--hold", "--ease"]
    assert hold_asked(["2 passports"], "1/8 in") == (several("2 passports"), 3.175)


@pytest.mark.parametrize(
    ("recipe", "thing", "unit"),
    [("fold-wallet", "bank card", Unit.INCH), ("zip-pouch", "passport", Unit.MM)],
)
def test_the_command_that_is_told_makes_it(recipe: str, thing: str, unit: Unit) -> None:
    one = answer(recipe, thing, unit=unit)
    assert one.best is not None
    command = hold_report(one).splitlines()[-1].strip()
    program, verb, *words = shlex.split(command)
    assert (program, verb) == ("paramgen", "make")
    ran = paramgen("check", *words)
    assert ran.status == 0, ran.err
    first = "3 3/4 × 4 5/8 in" if unit is Unit.INCH else "132 × 95 mm"
    assert f"finished {first}" in ran.out


def test_the_things_are_listed_with_their_sources(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("paramgen.cli.text_tables.TABLE_WIDTH", 1000)  # so that no cell is wrapped
    ran = paramgen("things")
    assert ran.status == 0
    assert "passport ID-3 125 × 88 mm (4 15/16 × 3 7/16 in) 3 mm ISO/IEC 7810, ID-3" in ran.out
