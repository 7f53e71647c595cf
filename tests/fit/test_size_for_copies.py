"""The largest of a size of which so many copies lie in a hoop at once."""

import pytest
from command_line import paramgen

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_for_copies import largest_for_copies
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import Hoop


@pytest.mark.parametrize(("wide", "width"), [(231.4, 108.0), (237.5, 111.0), (181.4, 83.0)])
def test_two_coasters_side_by_side_take_twice_their_width_and_what_is_trimmed(
    wide: float, width: float
) -> None:
    # Stitches run 2 mm outside a seam that is half a millimetre outside the finished edge: one
    # takes w + 5. From one to the next w + 1 and, for trimming, 3.2 + 3 + 3.2: both 2 w + 15.4.
    assert 2 * width + 15.4 <= wide < 2 * (width + 0.1) + 15.4
    room = Room(Hoop("long", wide, 113.0), may_turn=False)
    order = Order(find_recipe("coaster"), {"height": 108, "width": 90}, room, copies=2)
    assert largest_for_copies(RememberedChecks(order), "width", room, 2) == pytest.approx(width)


def test_where_there_is_no_room_for_so_many_of_any_size_there_is_no_answer() -> None:
    room = Room(Hoop("small", 100.0, 100.0))
    order = Order(find_recipe("coaster"), {"outline": "round", "width": 70}, room, copies=9)
    assert largest_for_copies(RememberedChecks(order), "width", room, 9) is None


def test_the_command_that_is_told_makes_so_many() -> None:
    asked = ("coaster", "outline=round", "--copies", "4", "--largest", "width", "--hoop", "8x12in")
    ran = paramgen("fit", *asked)
    assert ran.status == 0
    assert "The largest width of which 4 lie in 200x300 at once is 4 in (101.6 mm)." in ran.out
    # Four round ones of 4 in: trimmed to 109, 3 apart: two by two 112 + 106.6 across, 218.6, are
    # too wide for 200, so they lie aslant; of 5 in not even two rows of two have room.
    made = paramgen("check", "coaster", "outline=round", "width=4in", "--hoop", "200x300",
                    "--copies", "4")  # fmt: skip
    assert made.status == 0
    more = paramgen("check", "coaster", "outline=round", "width=5in", "--hoop", "200x300",
                    "--copies", "4")  # fmt: skip
    assert more.status == 1


@pytest.mark.parametrize("words", [("most", "width"), ("4", "both")])
def test_how_many_and_of_which_size_must_be_said(words: tuple[str, str]) -> None:
    copies, size = words
    ran = paramgen("fit", "coaster", "--copies", copies, "--largest", size, "--hoop", "8x12in")
    assert ran.status == 2
    assert "Say how many, and of which size: --copies 4 --largest width" in ran.err
