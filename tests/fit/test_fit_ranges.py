"""Ranges of sizes, held to the whole check of `make` and to arithmetic."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from math import ceil, floor, log2

import pytest
from fit_flat import asking, field, flat, texts
from fit_orders import (
    HOOPS,
    RECIPES,
    ROOMS,
    SLOW,
    agrees_with_make,
    ends_where_make_ends,
    ends_with_the_others_named,
    orders,
    recipe,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from told import reason

from paramgen.fit.free_ranges import free_range
from paramgen.fit.remembered_checks import HOOP, LIMIT, RememberedChecks
from paramgen.fit.size_ranges import SizeRange, edge, range_of
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.reference.hoops import Hoop, find_hoop
from paramgen.vocabulary.facts import Mm
from paramgen.vocabulary.findings import Finding, Severity


@settings(SLOW, max_examples=8)
@given(one=orders(), room=ROOMS)
def test_nothing_speaks_against_sizes_exactly_when_they_can_be_made(
    one: RememberedChecks, room: Room
) -> None:
    agrees_with_make(one, room)


@settings(SLOW, max_examples=3)
@given(one=orders(), room=ROOMS, which=st.integers(0, 1))
def test_the_ends_of_a_range_can_be_made_and_a_tenth_of_a_millimetre_beyond_cannot(
    one: RememberedChecks, room: Room, which: int
) -> None:
    ends_where_make_ends(one, room, which)


@settings(SLOW, max_examples=1)
@given(one=orders(sizes=False), room=ROOMS, which=st.integers(0, 1))
def test_where_the_others_may_follow_the_ends_can_be_made_with_those_named(
    one: RememberedChecks, room: Room, which: int
) -> None:
    ends_with_the_others_named(one, room, which)


@pytest.mark.parametrize("name", RECIPES)
def test_a_bound_takes_fewer_than_40_checks_in_all_listed_hoops(name: str) -> None:
    one = RememberedChecks(Order(recipe(name), {}, Room(HOOPS[0])))
    bounds = 0
    for size in one.sizes({}):
        whole = range_of(one, size, None)
        found = [range_of(one, size, Room(hoop), within=whole) for hoop in HOOPS]
        bounds += 2 * sum(each is not None for each in (whole, *found))
    assert bounds >= 2 * len(HOOPS)
    assert one.checks < 40 * bounds
    # Alone, with nothing known from another hoop.
    alone = RememberedChecks(Order(recipe(name), {}, Room(HOOPS[0])))
    assert range_of(alone, "width", Room(find_hoop("200x300", HOOPS))) is not None
    assert alone.checks < 2 * 40
    assert alone.rehearsals < 40


# Everything below is arithmetic on the small recipe.


def test_a_range_ends_at_a_hole_that_the_numbers_leave_in_it() -> None:
    one = asking(flat("abs(width - 115) >= 8"), {"width": 80})
    found = range_of(one, "width", None)
    assert found is not None
    assert (found.least.value, found.most.value) == (20, 115 - 8)
    other = range_of(asking(flat("abs(width - 115) >= 8"), {"width": 200}), "width", None)
    assert other is not None
    assert (other.least.value, other.most.value) == (115 + 8, 300)


SIZE = st.integers(200, 3000).map(lambda tenths: tenths / 10)


@settings(SLOW, max_examples=30)
@given(
    width=SIZE,
    slope=st.integers(1, 9),
    least=st.integers(20, 120),
    across=st.integers(40, 320),
    down=st.integers(40, 320),
    may_turn=st.booleans(),
)
def test_a_range_ends_at_its_condition_and_at_the_field(
    width: float, slope: int, least: int, across: int, down: int, may_turn: bool
) -> None:
    # height >= least + width * slope / 10, in whole tenths of a millimetre; its stitches lie
    # on its edge, so the field takes it if it is as wide and as high, either way round.
    one = asking(flat(f"height * 10 >= {least * 10} + width * {slope}"), {"width": width})
    room = field(across, down, may_turn=may_turn)
    low = max(200, ceil(round(least * 10 + width * slope, 6)))
    high = max(
        (min(3000, up * 10) for over, up in ways(room) if width <= over),
        default=0,
    )
    found = range_of(one, "height", room)
    if low > high:
        assert found is None
    else:
        assert found is not None
        assert (found.least.value, found.most.value) == (low / 10, high / 10)
        codes = found.least.binds[0].code, found.most.binds[0].code
        assert codes[0] == (LIMIT if low == 200 else "recipe-condition")
        assert codes[1] == (LIMIT if high == 3000 else HOOP)


def ways(room: Room) -> list[tuple[float, float]]:
    across, down = room.field
    return [(across, down), (down, across)] if room.may_turn else [(across, down)]


def test_a_margin_takes_from_both_sides_of_the_field() -> None:
    one = asking(flat())
    found = range_of(one, "width", Room(Hoop("own", 120, 90), margin=10, may_turn=False))
    assert found is not None
    assert found.most.value == 120 - 2 * 10
    assert texts(found.most.binds) == [
        "the stitches would be wider than 100 mm, the field of own less the margin"
    ]


def test_the_range_found_is_the_one_that_the_size_asked_for_lies_in() -> None:
    # Works from 20 to 100 and from 200 to 300.
    of = flat("width <= 100 or width >= 200")
    for asked, ends in ((60, (20, 100)), (250, (200, 300))):
        found = range_of(asking(of, {"width": asked}), "width", None)
        assert found is not None
        assert (found.least.value, found.most.value) == ends


def test_a_range_for_a_hoop_is_that_for_none_less_what_its_field_takes() -> None:
    one = asking(flat("width >= 33.3", "width <= 222.2"))
    whole = range_of(one, "width", None)
    for across in (30, 100, 222, 223, 400):
        within = range_of(one, "width", field(across, 60, may_turn=False), within=whole)
        if across < 33.3:
            assert within is None
        else:
            assert within is not None
            assert (within.least.value, within.most.value) == (33.3, min(across, 222.2))


def test_what_binds_is_said_in_the_words_of_the_recipe_or_with_its_limit() -> None:
    one = asking(flat("width <= 120"))
    found = range_of(one, "width", None)
    assert found is not None
    assert texts(found.most.binds) == ["(1) does not hold"]
    # 20 mm are 0.787 in: 13/16 in is the first mark above.
    assert texts(found.least.binds) == ["the recipe makes no width below 20 mm (13/16 in)"]


def test_other_sizes_are_held_where_they_are_given() -> None:
    one = asking(flat("height >= width"))
    found = range_of(one, "height", None, {"width": 150.0})
    assert found is not None
    assert found.least.value == 150


def test_a_size_that_follows_another_is_free_to_follow() -> None:
    # As high as wide unless asked; the field lets it be 100 wide either way.
    one = asking(flat("height == width", height="width"))
    found = range_of(one, "width", field(100, 140))
    assert found is not None
    assert (found.least.value, found.most.value) == (20, 100)


def test_freed_sizes_reach_what_no_size_alone_does() -> None:
    # Upright it may be 140 high if it is narrow enough for 100 across: width <= height - 50.
    one = asking(flat("height >= width + 50"), {"width": 80, "height": 140})
    alone, free = (found(one, "width", field(100, 140)) for found in (range_of, free_range))
    assert isinstance(alone, SizeRange)
    assert isinstance(free, SizeRange)
    assert alone.most.value == 140 - 50
    assert free.most.value == 140 - 50
    low = free_range(one, "height", field(100, 140))
    assert low is not None
    # The narrowest is 20 wide.
    assert low.least.value == 20 + 50
    assert low.least.others["width"] == 20
    assert low.most.value == 140


def test_no_answer_is_worked_out_twice() -> None:
    one = asking(flat("width >= 50"))
    first = range_of(one, "width", field(100, 140))
    checks, rehearsals = one.checks, one.rehearsals
    assert range_of(one, "width", field(100, 140)) == first
    assert (one.checks, one.rehearsals) == (checks, rehearsals)
    assert 0 < rehearsals < checks


def test_the_rehearsal_is_not_asked_where_numbers_or_field_refuse() -> None:
    one = asking(flat("width >= 50"))
    assert texts(one.against({"width": 40.0}, None)) == ["(1) does not hold"]
    assert [reason.code for reason in one.against({"width": 90.0}, field(80, 80))] == [HOOP]
    assert [reason.code for reason in one.against({"width": 900.0}, None)] == [LIMIT]
    assert one.rehearsals == 0


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (("the side is ", Mm(8.0), " long"), ("the side is ", Mm(12.5), " long"), True),
        (("the side is ", Mm(8.0), " long"), ("the gap is ", Mm(8.0), " long"), False),
    ],
)
def test_reasons_are_about_the_same_thing_whatever_their_numbers(
    one: tuple[str | Mm, ...], other: tuple[str | Mm, ...], same: bool
) -> None:
    assert (reason(*one).about == reason(*other).about) is same
    assert reason(*one).about != replace(reason(*one), code="another").about
    assert reason(*one).about != replace(reason(*one), variant="another").about


def tried(
    limit: int, lacking: Callable[[int], float | None]
) -> tuple[list[int], Callable[[int], tuple[Finding, ...]]]:
    """A check that refuses places past a limit, by amounts in steps; and the places asked."""
    asked: list[int] = []

    def against(place: int) -> tuple[Finding, ...]:
        asked.append(place)
        if place <= limit:
            return ()
        amount = lacking(place - limit)
        return (Finding("c", Severity.CANNOT, amount=None if amount is None else amount / 10),)

    return asked, against


AMOUNTS: Mapping[str, Callable[[int], float | None]] = {
    "exact": lambda past: past,
    "missing": lambda _: None,
    "too small": lambda past: past / 7,
    "too large": lambda past: past * 5,
    "capped": lambda past: min(past, 30),
    "stuck": lambda _: 1,
    "huge": lambda _: 10**6,
    "curved": lambda past: past**0.5,
    "steep": lambda past: past**2 / 50,
    "sometimes": lambda past: past if past % 3 else None,
    "in lumps": lambda past: ceil(past / 40) * 40,
    "too little in lumps": lambda past: floor(past / 40) * 40,
    "rising": lambda past: max(1, 3000 - past),
}


@pytest.mark.parametrize("amount", AMOUNTS)
@settings(max_examples=150)
@given(
    inside=st.integers(0, 3000),
    more=st.integers(0, 3300),
    room=st.integers(0, 3300),
    mirrored=st.booleans(),
)
def test_an_edge_is_found_exactly_whatever_is_said_of_the_amount(
    amount: str, inside: int, more: int, room: int, mirrored: bool
) -> None:
    limit, far = inside + more, inside + room
    asked, against = tried(limit, AMOUNTS[amount])
    if mirrored:
        found = -edge(lambda place: against(-place), -inside, -far)
    else:
        found = edge(against, inside, far)
    assert found == min(limit, far)
    assert len(asked) < 40
    assert all(inside <= place <= far for place in asked)


@settings(max_examples=100)
@given(inside=st.integers(0, 3000), more=st.integers(0, 3300), beyond=st.integers(1, 3300))
def test_an_exact_amount_is_followed_at_once(inside: int, more: int, beyond: int) -> None:
    # The far end, the aim, and one place past it.
    asked, against = tried(inside + more, AMOUNTS["exact"])
    assert edge(against, inside, inside + more + beyond) == inside + more
    assert len(asked) <= 3


@settings(max_examples=100)
@given(inside=st.integers(0, 3000), more=st.integers(0, 3300), beyond=st.integers(1, 3300))
def test_an_amount_that_does_not_follow_from_the_size_is_aimed_by_once(
    inside: int, more: int, beyond: int
) -> None:
    # The far end, the aim, and halvings of what lies between.
    asked, against = tried(inside + more, AMOUNTS["stuck"])
    assert edge(against, inside, inside + more + beyond) == inside + more
    assert len(asked) <= 2 + ceil(log2(more + beyond))
