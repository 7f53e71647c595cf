"""Outlines inside and outside others, against Steiner's formula and plain arithmetic.

Steiner (J. Steiner, Über parallele Flächen, 1840): all points within r of a convex set of
area A and perimeter P have the area A + P r + π r² and the perimeter P + 2 π r.
"""

import math

import numpy as np
import pytest
from geometry_shapes import area, box, convex, curve_error, distances, middles, moved
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from told import no_shape

from paramgen.geometry.offset import clockwise, offset, signed_area
from paramgen.geometry.outlines import arc_through, oval, rectangle, regular_polygon
from paramgen.vocabulary.path import CHORD_ERROR, Path, path, quarter_turn

RIGHT_TRIANGLE = path([(0, 0), (4, 0), (4, 3)], closed=True)


@pytest.mark.parametrize(
    ("outline", "by", "grown", "round_it"),
    [
        # ISO 216 A7 across, 105 × 74: 7770 + 358 × 5 + 25 π; 358 + 10 π
        (box(105, 74), 5, 9638.540, 389.416),
        # 6000 + 320 × 10 + 100 π; 320 + 20 π
        (box(100, 60), 10, 9514.159, 382.832),
        # ISO/IEC 7810 ID-1 with sharp corners, 1/4 in outside:
        # 4620.688 + 279.16 × 6.35 + 40.3225 π; 279.16 + 12.7 π
        (box(85.60, 53.98), 6.35, 6520.031, 319.058),
        # half of 3 × 4, + 12 × 1 + π; 12 + 2 π
        (RIGHT_TRIANGLE, 1, 18 + math.pi, 12 + 2 * math.pi),
        # side 10: 150 √3 + 60 × 2 + 4 π; 60 + 4 π
        (regular_polygon((0, 0), 6, 20), 2, 392.374, 72.566),
    ],
)
def test_a_rounded_outset_grows_as_steiner_says(
    outline: Path, by: float, grown: float, round_it: float
) -> None:
    result = offset(outline, by, round_corners=True)
    assert area(result) == pytest.approx(grown, abs=1e-3 + curve_error(2 * math.pi * by))
    assert result.length == pytest.approx(round_it, abs=2e-3)


@given(convex(), st.floats(0.05, 40.0))
@settings(max_examples=30)
def test_a_rounded_outset_of_any_convex_outline_grows_as_steiner_says(
    outline: Path, by: float
) -> None:
    result = offset(outline, by, round_corners=True)
    around = 2 * math.pi * by
    assert area(result) == pytest.approx(
        area(outline) + outline.length * by + math.pi * by**2, abs=curve_error(around)
    )
    # The sum of chords of a circle falls short by a share of t²/24, t the angle of one.
    assert result.length == pytest.approx(outline.length + around, abs=around * 1e-3)


@given(convex(), st.floats(0.05, 40.0))
@settings(max_examples=30)
def test_rounded_corners_stay_at_their_distance_and_are_no_corners(
    outline: Path, by: float
) -> None:
    result = offset(outline, by, round_corners=True)
    away = distances(middles(result), outline)
    assert by - CHORD_ERROR * 1.001 <= away.min()
    assert away.max() <= by + 1e-9
    assert len(result.corners) == 0


@given(st.floats(20.0, 300.0), st.floats(20.0, 300.0), st.floats(0.1, 30.0))
@settings(max_examples=30)
def test_a_sharp_outset_of_a_rectangle_is_a_rectangle(
    width: float, height: float, by: float
) -> None:
    # (a + 2r)(b + 2r); perimeter 2 (a + b) + 8 r
    result = offset(box(width, height), by)
    assert area(result) == pytest.approx((width + 2 * by) * (height + 2 * by))
    assert result.length == pytest.approx(2 * (width + height) + 8 * by)
    assert len(result.corners) == 4


def test_a_sharp_outset_of_the_3_4_5_triangle_grows_about_its_inscribed_circle() -> None:
    # Its inscribed circle has the radius (3 + 4 - 5)/2 = 1; moved out by 1 all sides double:
    # 6, 8, 10 and the area 24.
    result = offset(RIGHT_TRIANGLE, 1)
    assert sorted(np.hypot(*result.chords.T)) == pytest.approx([6, 8, 10])
    assert area(result) == pytest.approx(24)


@given(convex(), st.floats(0.1, 20.0))
@settings(max_examples=30)
def test_an_inset_of_an_outset_is_the_outline_again(outline: Path, by: float) -> None:
    back = offset(offset(outline, by), -by)
    assert len(back.points) == len(outline.points)
    assert np.abs(distances(back.points, outline)).max() < 1e-6
    assert area(back) == pytest.approx(area(outline))


def test_an_inset_keeps_its_distance_where_the_corners_of_a_rounded_outline_are_used_up() -> None:
    # A rectangle 60 × 40 with r = 5 is, 8 inside, the sharp rectangle 44 × 24; 3 inside,
    # 54 × 34 with r = 2: 1836 - (4 - π) 4.
    outline = rectangle(-30, -20, 30, 20, rounded=5)
    sharp = offset(outline, -8)
    assert sharp.bounds == pytest.approx((-22, -12, 22, 12), abs=1e-4)
    assert area(sharp) == pytest.approx(44 * 24, abs=0.01)
    assert area(offset(outline, -3)) == pytest.approx(1836 - (4 - math.pi) * 4, abs=0.01)


@pytest.mark.parametrize("by", [-3.0, -12.0, 0.5, 12.0])
def test_an_oval_is_followed_at_its_distance_even_inside_its_sharpest_bend(by: float) -> None:
    # The sharpest bend of 160 × 50 has the radius b²/a = 25²/80 = 7.8 mm.
    outline = oval((0, 0), 160, 50)
    away = distances(offset(outline, by).points, outline)
    assert away == pytest.approx(np.full(len(away), abs(by)), abs=3 * CHORD_ERROR)


@pytest.mark.parametrize("by", [2.0, 12.0])
def test_an_outset_follows_a_hollow_edge(by: float) -> None:
    # A hollow arc of sagitta 20 on a chord of 100: R = (50² + 20²)/(2 × 20) = 72.5 about
    # (0, -92.5); outside it by r the radius is R - r.
    hollow = arc_through((-50, -40), (0, -20), (50, -40))
    outline = path(np.vstack([hollow, [(50, 40), (-50, 40)]]), closed=True)
    points = offset(outline, by).points
    top = points[(np.abs(points[:, 0]) < 30) & (points[:, 1] < 0)]
    assert len(top) > 20
    away = np.hypot(top[:, 0], top[:, 1] + 92.5)
    assert away == pytest.approx(np.full(len(away), 72.5 - by), abs=2 * CHORD_ERROR)


@pytest.mark.parametrize("round_corners", [True, False])
def test_an_inset_of_an_inner_corner_is_round_only_if_asked(round_corners: bool) -> None:
    # An L of 60 × 60 with 30 × 30 missing, 5 inside: an L of 50 × 50 with 30 × 30 missing,
    # 2500 - 900 = 1600; a rounded inner corner gives (1 - π/4) 5² back.
    ell = path([(0, 0), (30, 0), (30, 30), (60, 30), (60, 60), (0, 60)], closed=True)
    result = offset(ell, -5, round_corners=round_corners)
    more = (1 - math.pi / 4) * 25 if round_corners else 0
    assert area(result) == pytest.approx(1600 + more, abs=curve_error(5 * math.pi / 2))
    assert len(result.corners) == (5 if round_corners else 6)


@given(convex(), st.floats(-3.0, 15.0), st.booleans(), st.floats(-50, 50), st.floats(-50, 50))
@settings(max_examples=30)
def test_offsets_do_not_depend_on_where_and_how_an_outline_lies(
    outline: Path, by: float, round_corners: bool, dx: float, dy: float
) -> None:
    assume(abs(by) > 1e-3)
    here = offset(outline, by, round_corners=round_corners)
    there = offset(moved(outline, dx, dy), by, round_corners=round_corners)
    turned = offset(Path(quarter_turn(outline.points), True), by, round_corners=round_corners)
    assert area(there) == pytest.approx(area(here), rel=1e-6)
    assert area(turned) == pytest.approx(area(here), rel=1e-6)
    assert there.length == pytest.approx(here.length, rel=1e-6)
    left, top, right, bottom = here.bounds
    assert there.bounds == pytest.approx((left + dx, top + dy, right + dx, bottom + dy), abs=1e-4)
    assert turned.bounds == pytest.approx((-bottom, left, -top, right), abs=1e-4)


@given(convex(), st.booleans(), st.booleans())
@settings(max_examples=20)
def test_offsets_run_clockwise_whichever_way_the_outline_ran(
    outline: Path, reverse: bool, round_corners: bool
) -> None:
    given_way = Path(outline.points[::-1].copy(), True) if reverse else outline
    result = offset(given_way, 2, round_corners=round_corners)
    assert signed_area(result.points) == pytest.approx(area(result))
    assert area(result) > area(outline)


@pytest.mark.parametrize("round_corners", [True, False])
@pytest.mark.parametrize("by", [0.0, 1e-12, 1e-5, -1e-12])
def test_an_offset_by_next_to_nothing_is_the_outline(by: float, round_corners: bool) -> None:
    result = offset(box(60, 40), by, round_corners=round_corners)
    assert area(result) == pytest.approx(2400, abs=0.01)


def test_clockwise_turns_round_what_runs_the_other_way_only() -> None:
    outline = box(60, 40)
    back = Path(outline.points[::-1].copy(), True)
    assert clockwise(outline) is outline
    assert signed_area(back.points) == pytest.approx(-2400)
    assert signed_area(clockwise(back).points) == pytest.approx(2400)


def test_an_inset_that_leaves_nothing_is_refused() -> None:
    with no_shape(r"nothing is left 20 mm \(13/16 in\) inside"):
        offset(box(60, 40), -20)


def test_an_inset_that_falls_apart_is_refused() -> None:
    # Two squares of 20 joined by a neck 4 wide; 3 inside there is no neck.
    corners = [(0, 0), (20, 0), (20, 8), (40, 8), (40, 0), (60, 0), (60, 20), (40, 20)]
    neck = path([*corners, (40, 12), (20, 12), (20, 20), (0, 20)], closed=True)
    with no_shape(r"falls into parts 3 mm \(1/8 in\) inside"):
        offset(neck, -3)


@pytest.mark.parametrize("points", [[(1, 1)], [(0, 0), (4, 0)], [(0, 0), (1, 1), (3, 3)]])
@pytest.mark.parametrize("by", [1, -1])
@pytest.mark.parametrize("round_corners", [True, False])
def test_an_outline_of_no_area_has_none_beside_it(
    points: list[tuple[float, float]], by: float, round_corners: bool
) -> None:
    with no_shape("no area"):
        offset(path(points, closed=True), by, round_corners=round_corners)


def test_what_has_no_area_runs_neither_way_and_stays() -> None:
    there_and_back = path([(0, 0), (4, 0)], closed=True)
    assert clockwise(there_and_back) is there_and_back
