"""The largest of both sizes at once."""

import re
import shlex

import pytest
from command_line import paramgen
from fit_flat import LEAST, asking, field, flat
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.fit.largest_pair import MOST_SETTLING, MOST_SURVEYED, largest_both, smallest_both
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
    found = largest_both(asking, room).values
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
    found = largest_both(asking, room).values
    assert found is not None
    assert found["width"] == found["height"]
    # 130 - 5 mm; the needle points of a circle lie a little inside it.
    assert found["width"] == pytest.approx(125, abs=0.21)


def test_a_hoop_that_takes_not_even_the_least_has_none() -> None:
    room = Room(Hoop("trial", 45, 300))
    assert largest_both(RememberedChecks(Order(COASTER, {}, room)), room).values is None


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
    found = smallest_both(asking(recipe), room).values
    assert found is not None
    assert found["width"] * found["height"] == pytest.approx(4000, abs=0.1 * 80)
    for name in found:
        less = {**found, name: round(found[name] - 0.1, 1)}
        assert asking(recipe).against(less, room), less


def test_the_smallest_of_both_is_the_least_of_each_where_nothing_binds_but_the_recipe() -> None:
    assert smallest_both(asking(flat()), field(300, 300)).values == {
        "width": LEAST,
        "height": LEAST,
    }


def test_the_smallest_of_both_lies_in_the_field_too() -> None:
    # The height is at least 90 mm over the width; a field of 100 × 100 mm has no room for that.
    recipe = flat("height >= 90 + width")
    assert smallest_both(asking(recipe), field(100, 100)).values is None
    found = smallest_both(asking(recipe), field(150, 100)).values
    assert found == {"width": LEAST, "height": LEAST + 90}


@pytest.mark.parametrize("words", [["--smallest"], ["--smallest", "both"], ["--smallest", "size"]])
def test_the_command_makes_the_smallest_of_both(words: list[str]) -> None:
    ran = paramgen("fit", "coaster", "outline=rectangle", *words, "--hoop", "130x180")
    assert ran.status == 0, ran.err
    assert "smallest width × height" in ran.out
    made = shlex.split(ran.out.rsplit("To make it ", 1)[1])
    # Nothing binds a rectangle but what its recipe takes, 50 mm of each.
    assert made[4:6] == ["width=50mm", "height=50mm"]
    assert paramgen("check", *made[2:]).status == 0


def test_a_search_that_would_take_minutes_is_bounded_and_says_so() -> None:
    # What works has curved edges all round: to know them all takes far more than the bound.
    recipe = flat("(width - 160) ** 2 + (height - 160) ** 2 <= 10000", "width * height >= 9000")
    asked = asking(recipe)
    found = smallest_both(asked, field(300, 300))
    assert found.tried == asked.rehearsals <= MOST_SURVEYED + MOST_SETTLING
    assert found.values is not None
    assert not asked.against(found.values, field(300, 300))
    # Neither goes lower with the other as it is.
    for name, value in found.values.items():
        assert asked.against({**found.values, name: round(value - 0.1, 1)}, None)


def test_the_bound_is_said_with_the_way_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("paramgen.fit.largest_pair.MOST_SURVEYED", 12)
    ran = paramgen("fit", "coaster", "--smallest", "--hoop", "130x180")
    assert ran.status == 0, ran.err
    assert re.search(r"this is the best of \d+ sizes that were worked through", ran.out)
    assert "a smaller one may work. Ask for those you wish for with --near." in ran.out
    assert "To make it paramgen make coaster width=" in ran.out
