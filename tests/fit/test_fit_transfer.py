"""The same thing for another hoop: what stays, what changes, and what scaling would have done."""

from dataclasses import astuple
from functools import lru_cache
from itertools import pairwise
from math import hypot

import pytest
from fit_flat import TEXT, field, flat
from told import mends, says

from paramgen.fit.other_hoop import ComparisonGroup, ComparisonRow, Transfer, transfer
from paramgen.fit.sizes_that_matter import what_matters
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.recipe.read_recipe import find_recipe, read_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.unit import Unit

HOOPS = listed()

recipe = lru_cache(find_recipe)


def room(name: str, *, margin: float = 0.0, may_turn: bool = True) -> Room:
    return Room(find_hoop(name, HOOPS), margin, may_turn)


@lru_cache
def moved(
    name: str, start: str, end: str, *asked: tuple[str, str | float], unit: Unit = Unit.MM
) -> Transfer:
    return transfer(Order(recipe(name), dict(asked), room(start), unit), room(end), HOOPS)


#: What is taken where: larger, smaller, turned, and of several sizes.
CASES = [
    ("coaster", "130x180", "100x100", ()),
    ("coaster", "130x180", "200x300", (("outline", "oval"), ("width", 120), ("height", 90))),
    ("coaster", "130x180", "240x360", (("outline", "polygon"), ("sides", "8"))),
    ("plant-tag", "130x180", "160x260", (("hang", "hole"),)),
    ("zip-pouch", "200x300", "180x300", ()),
    # The highest for 180 mm: 2 · 1 mm turn of cloth, 2 · 1 mm to the tack-downs.
    ("fold-wallet", "130x180", "160x260", (("pockets", "3"), ("height", "176mm"))),
]


@pytest.fixture(params=CASES, ids=lambda case: f"{case[0]}-{case[2]}")
def one(request: pytest.FixtureRequest) -> Transfer:
    name, start, end, asked = request.param
    return moved(name, start, end, *asked)


def rows(one: Transfer, *groups: ComparisonGroup) -> list[ComparisonRow]:
    return [row for row in one.rows if row.group in groups]


def row_of(one: Transfer, what: str) -> ComparisonRow:
    (row,) = (row for row in one.rows if row.what == what)
    return row


def test_what_is_found_is_made_in_the_other_hoop(one: Transfer) -> None:
    made = make(one.order)
    assert made.room == one.order.room
    assert made.extent == one.after.extent
    assert [piece.cut for piece in made.project.pieces] == [
        piece.cut for piece in one.after.project.pieces
    ]
    assert one.before.project.recipe == made.project.recipe


def test_what_it_holds_counts_choices_and_lengths_stay(one: Transfer) -> None:
    old, new = one.before.project, one.after.project
    assert [held.size for held in new.holds] == [held.size for held in old.holds]
    assert [figure.value for figure in new.counts] == [figure.value for figure in old.counts]
    assert new.choices == old.choices
    by_name = {figure.name: figure.value for figure in new.lengths}
    # A length that the recipe works out from a size may follow it; the shipped ones have none.
    assert by_name == {figure.name: figure.value for figure in old.lengths}
    for row in rows(one, ComparisonGroup.HOLDS, ComparisonGroup.COUNTS, ComparisonGroup.LENGTHS):
        assert not row.changed
    assert rows(one, ComparisonGroup.LENGTHS)


def test_cut_sizes_follow_and_are_those_of_the_projects(one: Transfer) -> None:
    for made, side in ((one.before, "before"), (one.after, "after")):
        by_title = {piece.title: piece for piece in made.project.pieces}
        for row in rows(one, ComparisonGroup.CUT):
            title, _, kind = row.what.rpartition(", ")
            piece = by_title[title]
            assert getattr(row, side) == (piece.cut if kind == "cut" else piece.folded)
    assert any(row.changed for row in rows(one, ComparisonGroup.CUT))
    finished = row_of(one, "finished size")
    assert (finished.before, finished.after) == (
        one.before.project.finished,
        one.after.project.finished,
    )


def test_the_last_column_is_what_was_there_times_how_much_the_finished_size_grew(
    one: Transfer,
) -> None:
    finished = row_of(one, "finished size")
    across, down = (new / old for new, old in zip(finished.after, finished.before, strict=True))
    assert one.factors == pytest.approx((across, down))
    for row in rows(one, ComparisonGroup.CUT):
        if row.what.endswith("folded"):
            assert row.scaled == pytest.approx((row.before[0] * across, row.before[1] * down))
        else:
            assert row.scaled == ()  # what is cut is in no stitch file
    for row in rows(one, ComparisonGroup.LENGTHS):
        (length,) = row.before
        assert row.scaled == pytest.approx((length * across, length * down))


def test_room_for_a_thing_scales_with_its_ease_and_then_lacks_it(one: Transfer) -> None:
    across, down = one.factors
    for row, held in zip(rows(one, ComparisonGroup.HOLDS), one.before.project.holds, strict=True):
        wide, high = held.size
        # So wide with its ease; scaled; less the ease that a thing needs all the same.
        ease = held.ease
        expected = ((wide + ease) * across - ease, (high + ease) * down - ease)
        assert row.scaled == pytest.approx(expected)


def stitches(made: Made, across: float, down: float) -> list[float]:
    """Lengths of all stitches between ties, of needle points scaled one by one, mm."""
    found = []
    for step in made.sewn:
        for run in step.runs:
            first, last = run.ties
            points = [(x * 0.1 * across, y * 0.1 * down) for x, y in run.needles.tolist()]
            kept = points[first : len(points) - last]
            found += [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(kept)]
    return found


def test_stitches_of_the_scaled_file_are_those_of_its_scaled_needle_points(one: Transfer) -> None:
    across, down = one.factors
    if one.before.project.turned:
        across, down = down, across
    was, scaled = stitches(one.before, 1, 1), stitches(one.before, across, down)
    now = stitches(one.after, 1, 1)
    longest, shortest = row_of(one, "longest stitch"), row_of(one, "shortest stitch, ties left out")
    for row, pick in ((longest, max), (shortest, min)):
        assert (*row.before, *row.after, *row.scaled) == pytest.approx(
            (pick(was), pick(now), pick(scaled))
        )


def test_a_turned_project_is_scaled_the_way_it_lies() -> None:
    # 121 × 90 lies turned in a hoop that is narrower than it is high. In the other it may be no
    # higher than 100, so that it grows more across than down.
    of, start = flat("height <= 100"), field(100, 140)
    order = Order(of, {"width": 121, "height": 90}, start)
    one = transfer(order, field(300, 300, may_turn=False))
    assert one.before.project.turned
    across, down = one.factors
    assert across > 2 * down
    # 36 stitches of 2.5 mm are 90 mm; 121 mm take 49 that are shorter. Down it grows less.
    shortest = row_of(one, "shortest stitch, ties left out")
    assert shortest.scaled == pytest.approx((2.5 * down,))
    assert shortest.before[0] < 2.5
    assert shortest.scaled == pytest.approx((min(stitches(one.before, down, across)),))


@pytest.mark.parametrize(
    ("asked", "start", "end", "expected"),
    [
        # 80 × 60 fills 100 × 100 to 80 %; so does 160 × 120 in 200 × 200.
        ((80, 60), (100, 100), (200, 200), (160, 120)),
        # 90 × 60 fills 100 × 120 to 90 % of the width; turned in 100 × 200 it is 180 × 120, too
        # wide, so the factor is that of 90 %: 60 to 90, and 90 to 135.
        ((90, 60), (100, 120), (100, 200), (135, 90)),
        # Never larger than the recipe makes: 0.9 of 400 is 360, the recipe ends at 300.
        ((90, 90), (100, 100), (400, 400), (300, 300)),
    ],
)
def test_the_other_field_is_filled_as_far(
    asked: tuple[float, float],
    start: tuple[float, float],
    end: tuple[float, float],
    expected: tuple[float, float],
) -> None:
    order = Order(flat(), dict(zip(("width", "height"), asked, strict=True)), field(*start))
    one = transfer(order, field(*end))
    assert one.after.project.finished == expected


def test_there_and_back_again_is_what_it_was() -> None:
    order = Order(flat(), {"width": 80, "height": 60}, field(100, 100))
    there = transfer(order, field(200, 200))
    back = transfer(there.order, field(100, 100))
    assert back.after.project.finished == (80.0, 60.0)
    assert [row.before for row in back.rows] == [row.after for row in there.rows]
    assert back.factors == pytest.approx([1 / factor for factor in there.factors])


def test_sizes_lie_on_ruler_marks_and_one_that_follows_goes_on_following() -> None:
    one = moved("coaster", "130x180", "100x100", unit=Unit.INCH)
    width, height = one.after.project.finished
    assert width == height
    assert (width / (25.4 / 8)) % 1 == pytest.approx(0)
    assert "height" not in one.order.asked


def test_where_as_far_does_not_work_the_nearest_that_does_is_taken() -> None:
    # As far would be 40 × 30; it is at least 45 wide, and 30 high will do.
    order = Order(flat("width >= 45"), {"width": 80, "height": 60}, field(100, 100))
    one = transfer(order, field(50, 50))
    assert one.after.project.finished == (45.0, 30.0)


def test_what_keeps_no_size_in_a_hoop_says_which_hoop_would_do_and_it_does() -> None:
    order = Order(recipe("zip-pouch"), {}, room("200x300"))
    with pytest.raises(CannotMakeError) as refused:
        transfer(order, room("100x100"), HOOPS)
    (finding,) = refused.value.findings
    assert finding.code == "nothing-fits"
    assert says(finding).startswith(
        "with what it holds kept as it is, no size works in 100x100: the stitches would be"
    )
    prefix = "The smallest listed hoop in which some size works is "
    name = mends(finding).removeprefix(prefix).removesuffix(".")
    assert transfer(order, room(name), HOOPS).after.room == room(name)
    smaller = [hoop for hoop in HOOPS if area(hoop.name) < area(name)]
    assert [hoop.name for hoop in smaller] == ["100x100"]


def area(hoop: str) -> float:
    found = find_hoop(hoop, HOOPS)
    return found.width * found.height


def test_nothing_is_said_of_a_hoop_where_none_would_do() -> None:
    order = Order(flat("width >= 250"), {"width": 250}, field(260, 260))
    with pytest.raises(CannotMakeError) as refused:
        transfer(order, field(90, 90), [find_hoop("100x100", HOOPS)])
    (finding,) = refused.value.findings
    assert mends(finding) == ""
    assert "holds" not in says(finding)


def test_what_cannot_be_made_in_its_own_hoop_is_not_moved() -> None:
    with pytest.raises(CannotMakeError) as refused:
        transfer(Order(flat("width >= 50"), {"width": 40}, field(100, 100)), field(200, 200))
    codes = [finding.code for finding in refused.value.findings]
    assert codes == ["not-made-there", "recipe-condition"]


def test_the_margin_and_the_way_round_are_kept() -> None:
    start = room("130x180", margin=5, may_turn=False)
    end = room("200x200", margin=5, may_turn=False)
    one = transfer(Order(recipe("coaster"), {}, start), end)
    assert one.order.room == end
    left, top, right, bottom = astuple(one.after.extent)
    assert max(right, -left, bottom, -top) <= 200 / 2 - 5


def mattering(name: str, **asked: str | float) -> frozenset[str]:
    return what_matters(size(recipe(name), asked, unit=Unit.MM))


def test_lengths_that_matter_are_those_that_shapes_are_made_from() -> None:
    # Of the flat the felt past its stitching, and its stitches: a run along a seam.
    assert what_matters(size(flat(), {}, unit=Unit.MM)) == {"rim", "seam_stitch"}
    # Used in an outline; in what is cut; for what is trimmed by hand.
    assert {"turn_of_cloth", "allowance", "trim_allowance"} <= mattering("coaster")
    # What is only in a condition, or in what a notion is bought by, or is held: not a shape's.
    wallet = mattering("fold-wallet")
    assert {"side_allowance", "pockets"} <= wallet
    assert not {"least_stagger", "zip_spare", "packet_width", "packet_ease"} & wallet


@pytest.mark.parametrize(
    ("name", "choice", "on", "off", "settings"),
    [
        ("coaster", "outline", "rounded", "square", {"corner_radius"}),
        ("coaster", "outline", "polygon", "round", {"sides"}),
        ("coaster", "padding", "batting", "none", {"batting_inside", "batting_hold"}),
        ("fold-wallet", "corners", "rounded", "square", {"corner_radius"}),
        ("fold-wallet", "tab", "ribbon", "none", {"tab_cut", "tab_past_seam"}),
    ],
)
def test_what_a_choice_switches_off_does_not_matter(
    name: str, choice: str, on: str, off: str, settings: set[str]
) -> None:
    assert settings <= mattering(name, **{choice: on})
    assert not settings & mattering(name, **{choice: off})


def test_what_does_not_matter_is_in_no_row() -> None:
    radius, sides = "radius of rounded corners", "sides of a polygon"
    square = moved("coaster", "130x180", "100x100", ("outline", "square"))
    assert not {radius, sides} & {row.what for row in square.rows}
    many = moved("coaster", "130x180", "240x360", ("outline", "polygon"), ("sides", "8"))
    told = {row.what for row in many.rows}
    assert sides in told
    assert radius not in told


def test_what_a_condition_hardly_lets_change_matters() -> None:
    # The pouch has room for 158 - 24 mm of a gap of at most 90 mm: only where the gap must lie
    # 34 mm clear of the corners is it shorter, and soon too short for a condition.
    assert "gap_clear" in mattering("zip-pouch")


def test_what_cannot_be_known_is_taken_to_matter() -> None:
    # At any other value of the rim it is divided by nought.
    text = TEXT.format(conditions="", height="60mm")
    text = text.replace('"rim"', '"rim / (1 if rim == 5 else 0)"')
    of = read_recipe(text, name="felt-flat", source="felt-flat.toml")
    assert "rim" in what_matters(size(of, {}, unit=Unit.MM))


def test_what_cannot_be_made_in_the_hoop_it_comes_from_is_told_of_that_hoop() -> None:
    small, large = (Room(find_hoop(name, HOOPS)) for name in ("100x100", "360x350"))
    order = Order(find_recipe("zip-pouch"), {}, small)  # 160 mm wide, in a field of 100 mm
    with pytest.raises(CannotMakeError) as problem:
        transfer(order, large, HOOPS)
    first, second = problem.value.findings[:2]
    assert "100x100, the hoop it is said to come from" in says(first)
    assert second.code == "hoop-exceeded"


def test_what_has_sizes_that_all_follow_from_what_it_holds_is_refused_in_words() -> None:
    # Both sizes of the case follow from its cards: there is none to change.
    with pytest.raises(CannotMakeError) as refused:
        moved("card-case", "160x260", "130x180")
    (finding,) = refused.value.findings
    assert finding.code == "nothing-fits"
    assert "what it holds kept as it is" in says(finding)
