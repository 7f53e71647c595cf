"""The largest of both sizes at once."""

import shlex

import pytest
from command_line import paramgen
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.fit.largest_pair import largest_both
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import Hoop

COASTER = find_recipe("coaster")


@given(st.floats(110, 250), st.floats(110, 250), st.booleans())
@settings(max_examples=5)
def test_no_pair_of_more_area_works(across: float, down: float, may_turn: bool) -> None:
    room = Room(Hoop("trial", across, down), may_turn=may_turn)
    asking = RememberedChecks(Order(COASTER, {"outline": "rectangle"}, room))
    found = largest_both(asking, room)
    assert found is not None
    assert not asking.against(found, room)
    # A coaster needs 5 mm more than its size each way; needle points lie on whole tenths.
    assert found["width"] * found["height"] >= (across - 5.21) * (down - 5.21)
    for name in found:
        assert asking.against({**found, name: found[name] + 0.3}, room)


def test_where_one_size_is_bound_to_the_other_the_largest_of_these_is_found() -> None:
    # A round coaster whose height is asked for is as high as wide: only that pair works.
    room = Room(Hoop("trial", 130, 180))
    asking = RememberedChecks(Order(COASTER, {"outline": "round", "height": "100mm"}, room))
    found = largest_both(asking, room)
    assert found is not None
    assert found["width"] == found["height"]
    # 130 - 5 mm; the needle points of a circle lie a little inside it.
    assert found["width"] == pytest.approx(125, abs=0.21)


def test_a_hoop_that_takes_not_even_the_least_has_none() -> None:
    room = Room(Hoop("trial", 45, 300))
    assert largest_both(RememberedChecks(Order(COASTER, {}, room)), room) is None


@pytest.mark.parametrize("words", [["--largest"], ["--largest", "both"], ["--largest", "all"]])
def test_the_command_makes_the_largest_of_both(words: list[str]) -> None:
    # 126 × 176 mm, as the stitches of a wallet need 4 mm more each way than its size.
    ran = paramgen("fit", "fold-wallet", *words, "--hoop", "130x180")
    assert ran.status == 0, ran.err
    assert "126 × 176 mm" in ran.out
    made = shlex.split(ran.out.rsplit("To make it ", 1)[1])
    assert made[3:5] == ["width=126mm", "height=176mm"]
    assert paramgen("check", *made[2:]).status == 0


def test_the_largest_of_both_does_not_go_with_what_is_of_one() -> None:
    ran = paramgen("fit", "coaster", "--hoop", "130x180", "--largest", "--free")
    assert ran.status == 2
    assert ran.err == "--free: does not go with --largest. Ask for it alone."
