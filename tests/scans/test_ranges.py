"""Ranges of sizes of every recipe, with choices and counts at random, held to `make`."""

from fit_orders import (
    ROOMS,
    SLOW,
    agrees_with_make,
    ends_where_make_ends,
    ends_with_the_others_named,
    orders,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room


@settings(SLOW, max_examples=60)
@given(one=orders(), room=ROOMS)
def test_nothing_speaks_against_sizes_exactly_when_they_can_be_made(
    one: RememberedChecks, room: Room
) -> None:
    agrees_with_make(one, room)


@settings(SLOW, max_examples=25)
@given(one=orders(), room=ROOMS, which=st.integers(0, 1))
def test_the_ends_of_a_range_can_be_made_and_a_tenth_of_a_millimetre_beyond_cannot(
    one: RememberedChecks, room: Room, which: int
) -> None:
    ends_where_make_ends(one, room, which)


@settings(SLOW, max_examples=8)
@given(one=orders(sizes=False), room=ROOMS, which=st.integers(0, 1))
def test_where_the_others_may_follow_the_ends_can_be_made_with_those_named(
    one: RememberedChecks, room: Room, which: int
) -> None:
    ends_with_the_others_named(one, room, which)
