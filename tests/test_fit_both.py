"""The largest of both sizes at once."""

import shlex

import pytest
from command_line import paramgen
from fit_flat import LEAST, asking, field, flat
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.fit.asking import Asking
from paramgen.fit.both import largest_both, smallest_both
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read import find_recipe
from paramgen.reference.hoops import Hoop

COASTER = find_recipe("coaster")


@given(st.floats(110, 250), st.floats(110, 250), st.booleans())
@settings(deadline=None, max_examples=5)
def test_no_pair_of_more_area_works(across: float, down: float, may_turn: bool) -> None:
    room = Room(Hoop("trial", across, down), may_turn=may_turn)
    asking = Asking(Order(COASTER, {"outline": "rectangle"}, room))
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
    asking = Asking(Order(COASTER, {"outline": "round", "height": "100mm"}, room))
    found = largest_both(asking, room)
    assert found is not None
    assert found["width"] == found["height"]
    # 130 - 5 mm; the needle points of a circle lie a little inside it.
    assert found["width"] == pytest.approx(125, abs=0.21)


def test_a_hoop_that_takes_not_even_the_least_has_none() -> None:
    room = Room(Hoop("trial", 45, 300))
    assert largest_both(Asking(Order(COASTER, {}, room)), room) is None


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


def test_the_smallest_of_both_is_where_no_pair_of_less_area_works() -> None:
    # An area of 4000 mm² at least, and no side under 50 mm: 50 × 80 has it; a mark less has not.
    recipe = flat("width * height >= 4000", "width >= 50", "height >= 50")
    room = field(300, 300)
    found = smallest_both(asking(recipe), room)
    assert found is not None
    assert found["width"] * found["height"] == pytest.approx(4000, abs=0.1 * 80)
    for name in found:
        assert asking(recipe).against({**found, name: found[name] - 0.1}, room)


def test_the_smallest_of_both_is_the_least_of_each_where_nothing_binds_but_the_recipe() -> None:
    assert smallest_both(asking(flat()), field(300, 300)) == {"width": LEAST, "height": LEAST}


def test_the_smallest_of_both_lies_in_the_field_too() -> None:
    # The height is at least 90 mm over the width; a field of 100 × 100 mm has no room for that.
    recipe = flat("height >= 90 + width")
    assert smallest_both(asking(recipe), field(100, 100)) is None
    found = smallest_both(asking(recipe), field(150, 100))
    assert found == {"width": LEAST, "height": LEAST + 90}


@pytest.mark.parametrize("words", [["--smallest"], ["--smallest", "both"], ["--smallest", "size"]])
def test_the_command_makes_the_smallest_of_both(words: list[str]) -> None:
    ran = paramgen("fit", "coaster", "outline=rectangle", *words, "--hoop", "5x7in")
    assert ran.status == 0, ran.err
    assert "smallest width × height" in ran.out
    made = shlex.split(ran.out.rsplit("To make it ", 1)[1])
    assert paramgen("check", *made[2:]).status == 0
    name, value = made[4].split("=")
    less = f"{name}={float(value.removesuffix('mm')) - 0.1:.1f}mm"
    refused = [less if word == made[4] else word for word in made[2:]]
    assert paramgen("check", *refused).status == 1
