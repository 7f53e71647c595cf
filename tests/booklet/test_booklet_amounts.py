"""Fabric and thread to have, against published tables and arithmetic."""

from dataclasses import replace

import pytest
import shapely
from booklets import CASES, made, said
from hypothesis import given
from hypothesis import strategies as st
from specimens import oblong

from paramgen.amounts.project_materials import cloths_of
from paramgen.reference.materials import listed_materials
from paramgen.supplies.fabric_amount import BETWEEN, SOLD_BY, USABLE, amounts, strip_length
from paramgen.supplies.fabrics_to_have import fabrics
from paramgen.supplies.thread_length import whole_metres
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.project import Fabric
from paramgen.vocabulary.unit import Unit

INCH = 25.4


@pytest.mark.parametrize(
    ("side", "count"),
    # Squares from a fat quarter, 18 × 22 in, as quilters' tables give them.
    [(2, 99), (3, 42), (3.5, 30), (4, 20), (4.5, 16), (5, 12), (6, 9), (6.5, 6)],
)
def test_squares_from_a_fat_quarter(side: float, count: int) -> None:
    square = (side * INCH, side * INCH)
    assert strip_length([square] * count, 18 * INCH, 0.0) <= 22 * INCH + 1e-6
    assert strip_length([square] * (count + 1), 18 * INCH, 0.0) > 22 * INCH + 1e-6


boxes = st.lists(st.tuples(st.floats(5, 900), st.floats(5, 900)), min_size=1, max_size=20)


@given(boxes)
def test_a_strip_holds_the_area_and_is_no_longer_than_a_column(
    pieces: list[tuple[float, float]],
) -> None:
    length = strip_length(pieces, 1000.0)
    assert length * 1000.0 >= sum(across * along for across, along in pieces) - 1e-6
    assert length >= max(along for _, along in pieces)
    column = sum(along for _, along in pieces) + BETWEEN * (len(pieces) - 1)
    assert length <= column + 1e-6


def test_the_wallet_takes_what_its_pieces_add_up_to() -> None:
    # Outer: 139 × 102 and 139 × 306, grain along the height (the recipe's cut list): side by side
    # 139 + 139 and a gap are far below 1 m, so the longest, 306 mm, is the length; up to the next
    # 5 cm 350. Area 139·102 + 139·306 = 56712 mm².
    project = made(*CASES[0][:3]).project
    outer, lining, pocket, ribbon = amounts(project.pieces, Unit.MM, trims=project.trims)
    assert (outer.fabric, outer.pieces, outer.length) == ("outer", 2, 350.0)
    assert outer.area == pytest.approx(56712)
    # Lining: 139 × 198 and 139 × 111; pocket: twice 139 × 132 and twice 139 × 166.
    assert (lining.length, pocket.length) == (200.0, 200.0)
    # The tab's ribbon, less than 10 cm: up to the next 5 cm.
    assert (ribbon.fabric, ribbon.length) == ("ribbon", 100.0)
    words = said(*CASES[0][:3]).fabrics
    assert [one.what for one in words] == ["outer", "lining", "pocket", "ribbon"]
    assert words[0].amount.startswith("350 mm (13 3/4 in)")


def test_the_grain_lies_along_the_fabric() -> None:
    project = made(*CASES[0][:3]).project
    lower = next(piece for piece in project.pieces if piece.name == "lower-outer")
    (along,) = amounts([lower], Unit.MM)
    (across,) = amounts([replace(lower, grain=Grain.WIDTH)], Unit.MM)
    # 306 mm high and 139 mm wide: up to 350 and up to 150.
    assert (along.length, across.length) == (350.0, 150.0)


def test_what_is_cut_on_the_bias_takes_a_square() -> None:
    project = made(*CASES[0][:3]).project
    lower = next(piece for piece in project.pieces if piece.name == "lower-outer")
    (slanted,) = amounts([replace(lower, grain=Grain.BIAS)], Unit.MM)
    # 306 high and 139 wide at 45°: (306 + 139) / √2 = 314.7 both ways, up to 350.
    assert slanted.length == 350.0
    shape = oblong(-340, -17, 340, 17)
    strip = replace(lower, grain=Grain.BIAS, cut=(680.0, 34.0), outline=shape)
    (slanted,) = amounts([strip], Unit.MM)
    # (680 + 34) / √2 = 504.9, where along the grain 50 would do.
    assert slanted.length == 550.0
    # And in the cloth to cut: a square that its template is cut from, whichever way round.
    (cloth,) = cloths_of(replace(project, pieces=(strip,), fabrics=()))
    (one,) = cloth.pieces
    assert one.cut == pytest.approx((504.9, 504.9), abs=0.05)
    assert one.by_template
    assert one.grain is Grain.ANY
    ((corners, count),) = one.shapes
    lies = shapely.Polygon(corners)
    assert count == 1
    assert lies.bounds == pytest.approx((-252.4, -252.4, 252.4, 252.4), abs=0.05)
    assert lies.area == pytest.approx(680 * 34, rel=1e-4)


def test_ribbon_is_bought_by_its_length() -> None:
    # The pouch's loop is cut 3 1/2 × 7/8 in: 3 1/2 in of a ribbon 7/8 in wide; 1/8 yd is 4 1/2 in.
    project = made(*CASES[2][:3]).project
    ribbon = next(
        one for one in amounts(project.pieces, Unit.INCH, trims=project.trims) if one.narrow
    )
    assert ribbon.width == pytest.approx(0.875 * INCH)
    assert ribbon.length == pytest.approx(4.5 * INCH)
    assert SOLD_BY[Unit.INCH] == pytest.approx(914.4 / 8)  # 1 yd is 0.9144 m, 1959
    assert USABLE[Unit.INCH] == pytest.approx(40 * INCH)


def test_what_is_bought_by_its_length_is_told_by_what_it_is_and_not_by_its_name() -> None:
    # What a recipe calls `tape` and cuts from cotton comes off a width of 1 m; cut from ribbon it
    # is as wide as the ribbon.
    project = made(*CASES[1][:3]).project
    cloth = [replace(piece, fabric="tape") for piece in project.pieces if piece.name == "top"]
    for kind, narrow in (("quilting-cotton", False), ("ribbon", True)):
        fabric = Fabric("tape", listed_materials()[kind], None)
        one = replace(project, pieces=tuple(cloth), fabrics=(fabric,))
        (amount,) = amounts(one.pieces, Unit.MM, trims=one.trims)
        assert amount.narrow == narrow
        assert amount.width == (max(cloth[0].cut) if narrow else 1000.0)
        (supply,) = fabrics(one)
        assert (" of a width of " in supply.amount) != narrow


def test_a_piece_wider_than_the_fabric_is_told() -> None:
    project = made(*CASES[0][:3]).project
    lining = next(piece for piece in project.pieces if piece.name == "lining")
    (amount,) = amounts([replace(lining, cut=(1200.0, 1300.0))], Unit.MM)
    assert amount.wide
    assert amount.length >= 1300


def test_metres_are_rounded_up() -> None:
    assert [whole_metres(length) for length in (0.0, 1.0, 1000.0, 1000.1)] == [0, 1, 1, 2]


# What several hoopings give goes on one tape: a list that names both must say which is for which.
def test_amounts_for_one_hooping_beside_a_tape_for_a_whole_string_are_said_to_be_so() -> None:
    told = said("bunting-flag", "130x180", Unit.MM)
    assert "are for one hooping, which gives 1: have as much again" in told.estimate
    (tape,) = (one for one in told.besides if "tape" in one.what and "string" in one.what)
    assert tape.amount.startswith("1, at least 1570 mm")  # 9 · 90 + 8 · 20 + 2 · 300
    assert "hooping" not in said("coaster", "130x180", Unit.MM).estimate
