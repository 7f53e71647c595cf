"""Satin: its edges, its mitres, how near its needle points come, and what lies under it.

Widths, spacings and mitres are worked out from the geometry of each line in the test.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.embellishment.needle_holes import Holes
from paramgen.embellishment.satin_column import (
    LONGEST_LOOSE,
    Satin,
    over_satin,
    satin_along,
    under_satin,
)
from paramgen.embellishment.satin_rungs import EndCut, column_rungs, covered, turned_round
from paramgen.geometry.outlines import oval, rectangle, regular_polygon
from paramgen.rehearsal.rehearsal_limits import CROWD, CROWD_WITHIN
from paramgen.stitches.spacing import LEAST_STITCH, on_grid
from paramgen.vocabulary.path import FloatArray, Path, path

PLAIN = Satin(width=3.0, pull=0.0)


def zigzag(middle: Path, satin: Satin = PLAIN) -> FloatArray:
    """Needle points of the satin alone."""
    (legs,) = column_rungs(middle, satin.stitched, satin.spacing)
    return over_satin(legs, Holes())


def worst_crowd(runs: tuple[FloatArray, ...]) -> int:
    """Most needle points within the distance at which they cut the cloth, on the grid."""
    points = on_grid(np.concatenate(runs)) / 10
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    return int((apart <= CROWD_WITHIN).sum(axis=1).max())


def test_a_straight_column_is_as_wide_as_asked_and_its_rows_as_far_apart() -> None:
    # 20 mm at 0.4 mm along an edge: 51 needle points on one edge and 50 on the other.
    needles = zigzag(path([(0, 0), (20, 0)], closed=False))
    upper, lower = needles[needles[:, 1] < 0], needles[needles[:, 1] > 0]
    assert len(needles) == 101
    assert upper[:, 1] == pytest.approx(-1.5)
    assert lower[:, 1] == pytest.approx(1.5)
    assert np.diff(upper[:, 0]) == pytest.approx(0.4)
    assert np.diff(lower[:, 0]) == pytest.approx(0.4)


def test_what_the_stitches_draw_in_is_added_to_the_width() -> None:
    needles = zigzag(path([(0, 0), (20, 0)], closed=False), Satin(width=3.0, pull=0.4))
    assert np.abs(needles[:, 1]) == pytest.approx(1.7)  # (3.0 + 0.4) / 2


def test_the_corners_of_a_square_are_mitred() -> None:
    # Half of 3 mm to either side of a square of 20 mm: outer corners at ±11.5, inner at ±8.5.
    # In a corner every needle point off the outer edge lies on the line that halves it, |x| = |y|.
    needles = zigzag(rectangle(-10, -10, 10, 10))
    x, y = np.abs(needles).T
    assert np.maximum(x, y).max() == pytest.approx(11.5)
    for corner in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        assert np.hypot(*(needles - np.array(corner) * 11.5).T).min() < 1e-6
    in_corner = np.minimum(x, y) > 8.5 + 1e-6
    outer = np.isclose(np.maximum(x, y), 11.5)
    off = in_corner & ~outer
    assert off.sum() > 20
    drawn_in = ~np.isclose(x[off], y[off], atol=1e-3)
    assert drawn_in.mean() < 0.35  # the others are drawn in from there, so as not to pile up
    on_edges = np.isclose(np.maximum(x, y), 8.5, atol=1e-3) & ~in_corner
    assert (on_edges | outer | in_corner).mean() > 0.9


def test_each_stitch_of_a_straight_side_lies_square_to_it() -> None:
    needles = zigzag(rectangle(-10, -10, 10, 10))
    along_top = needles[(needles[:, 1] < -8) & (np.abs(needles[:, 0]) < 7)]
    # From edge to edge by half of 0.4 mm along, whatever corners are near.
    assert np.abs(np.diff(along_top[:, 0])) == pytest.approx(0.2, abs=0.011)


def test_the_edges_of_a_round_column_are_circles() -> None:
    needles = zigzag(oval((0, 0), 30, 30))
    radius = np.hypot(*needles.T)
    outer, inner = radius > 15, radius < 15
    # The directions of chords are off by less than 0.01 mm at the edge.
    assert radius[outer] == pytest.approx(16.5, abs=0.01)
    assert radius[inner].min() == pytest.approx(13.5, abs=0.01)
    around = np.unwrap(np.arctan2(*needles[outer].T[::-1]))
    assert np.abs(np.diff(around)) * 16.5 == pytest.approx(0.4, abs=0.02)


@pytest.mark.parametrize("radius", [2.0, 2.5, 3.0, 5.0])
def test_needle_points_do_not_pile_up_inside_a_tight_bend(radius: float) -> None:
    # Inside, rows would come 0.4 (r - 1.5) / (r + 1.5) mm apart: 0.06 mm at a radius of 2.
    runs = satin_along(oval((0, 0), 2 * radius, 2 * radius), PLAIN)
    assert worst_crowd(runs) < CROWD
    shorter = np.hypot(*zigzag(oval((0, 0), 2 * radius, 2 * radius)).T)
    assert (shorter > radius + 1.49).sum() > 2 * math.pi * (radius + 1.5) / 0.4 * 0.95


def test_a_column_wider_than_its_bend_does_not_fold_back() -> None:
    # The middle turns about (0, 0) at 1 mm, the column reaches 1.5 mm inward: its inner edge stops
    # where the middle is as near from elsewhere, the middle of the circle.
    turn = np.linspace(0, math.pi, 61)
    bend = path([(-1, 8), *zip(-np.cos(turn), -np.sin(turn), strict=True), (1, 8)], closed=False)
    ((leg,),) = column_rungs(bend, 3.0, 0.4)
    bent = leg.middles[:, 1] < 0
    inner = np.where(leg.left[bent, 1:] > leg.right[bent, 1:], leg.left[bent], leg.right[bent])
    assert np.hypot(*inner.T).max() < 0.1


@pytest.mark.parametrize("sides", [3, 4, 6])
def test_a_corner_that_is_not_too_sharp_keeps_its_tip(sides: int) -> None:
    # The mitre of a corner of 60° reaches 1.5 / sin 30° = 3 mm past it, of 90° 2.12, of 120° 1.73.
    needles = zigzag(regular_polygon((0, 0), sides, 40))
    past = 1.5 / math.sin(math.pi / 2 - math.pi / sides)
    assert np.hypot(*needles.T).max() == pytest.approx(20 + past, abs=1e-3)


def test_a_corner_that_is_too_sharp_is_cut_off_square() -> None:
    # Of 30° it would reach 1.5 / sin 15° = 5.8 mm past; each leg ends 2 half widths past instead.
    sharp = path([(0, 0), (20, 0), (20 - 20 * math.cos(math.pi / 6), 10)], closed=False)
    needles = zigzag(sharp)
    # The other leg comes at 30°: 3 mm along it, and 1.5 mm square to it.
    other = 3 * math.cos(math.pi / 6) + 1.5 * math.sin(math.pi / 6)
    assert needles[:, 0].max() == pytest.approx(20 + other, abs=1e-3)


def test_ends_can_be_level_where_a_stroke_comes_aslant() -> None:
    # A stroke at 45° that ends level at y = 0: no needle point below, and some within a row of it.
    level = EndCut(4.0, (1.0, 0.0), 0.0)
    slanted = path([(0, -10), (10, 0)], closed=False)
    (legs,) = column_rungs(slanted, 3.0, 0.4, (EndCut(0.0), level))
    needles = over_satin(legs, Holes())
    assert needles[:, 1].max() <= 1e-6
    assert (needles[:, 1] > -0.01).sum() >= 3


def test_a_column_covers_as_much_as_it_is_long_and_wide() -> None:
    # Half a ring of 2 mm about a radius of 10: π × 10 × 2.
    angle = np.linspace(0, math.pi, 200)
    bend = path(10 * np.stack([np.cos(angle), np.sin(angle)], axis=1), closed=False)
    (legs,) = column_rungs(bend, 2.0, 0.4)
    assert covered(legs).area == pytest.approx(20 * math.pi, rel=1e-3)


def test_a_column_that_crosses_itself_covers_what_lies_there_once() -> None:
    # Up 30 mm, three quarters round a radius of 10, 15 π long, and 30 mm across where it came up:
    # all 2 mm wide, over each other in a square of 2 by 2.
    angle = np.linspace(0, 1.5 * math.pi, 300)
    bend = 10 * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    course = path(np.concatenate([[(10, -30)], bend, [(30, -10)]]), closed=False)
    parts = [covered(legs) for legs in column_rungs(course, 2.0, 0.4)]
    assert all(part.is_valid for part in parts)
    assert shapely.union_all(parts).area == pytest.approx(2 * (60 + 15 * math.pi) - 4, rel=5e-3)


def test_what_is_blocked_is_left_to_the_column_that_is_there() -> None:
    wall = shapely.box(8, -5, 12, 5)
    first, second = column_rungs(path([(0, 0), (20, 0)], closed=False), 2.0, 0.4, blocked=wall)
    assert covered(first).bounds[2] == pytest.approx(8.0, abs=0.2)
    assert covered(second).bounds[0] == pytest.approx(12.0, abs=0.2)
    assert covered(first).intersection(wall).area < 1e-6


def test_a_column_from_its_other_end_has_the_same_needle_points() -> None:
    (legs,) = column_rungs(path([(0, 0), (10, 0), (10, 10)], closed=False), 2.0, 0.4)
    there, back = over_satin(legs, Holes()), over_satin(turned_round(legs), Holes())
    assert len(there) == pytest.approx(len(back), abs=2)
    for one in ((11.0, -1.0), (9.0, 1.0)):  # outer and inner corner
        for needles in (there, back):
            assert np.hypot(*(needles - np.array(one)).T).min() < 0.3


def test_wide_satin_has_needle_points_within_its_stitches() -> None:
    needles = zigzag(path([(0, 0), (20, 0)], closed=False), Satin(width=12.0, pull=0.0))
    assert np.hypot(*np.diff(needles, axis=0).T).max() <= LONGEST_LOOSE
    inside = needles[np.abs(needles[:, 1]) < 5.9]
    assert len(np.unique(inside[:, 1].round(3))) > 2  # not all in one line, which would show


@pytest.mark.parametrize(("width", "farthest"), [(2.0, 0.0), (4.0, 2.0 - 0.5)])
def test_what_lies_under_satin_stays_inside_its_edges(width: float, farthest: float) -> None:
    # Narrow: a run along the middle. Wide: a zigzag 0.5 mm inside either edge.
    (legs,) = column_rungs(path([(0, 0), (20, 0)], closed=False), width, 0.4)
    under = under_satin(legs, Satin(width=width, pull=0.0))
    assert np.abs(under[:, 1]).max() == pytest.approx(farthest)
    assert under[[0, -1], 0].tolist() == pytest.approx([0.0, 20.0])


shapes = st.builds(
    lambda sides, across, width: (regular_polygon((0.03, 0.07), sides, across), width),
    st.integers(3, 12),
    st.floats(15.0, 60.0),
    st.floats(1.5, 6.0),
)


@given(shapes)
@settings(max_examples=20, deadline=None)
def test_satin_round_any_polygon_can_be_sewn(shape: tuple[Path, float]) -> None:
    middle, width = shape
    runs = satin_along(middle, Satin(width=width, pull=0.0))
    line = middle.line
    for run in runs:
        sewn = on_grid(run) / 10
        assert np.hypot(*np.diff(sewn, axis=0).T).min() >= LEAST_STITCH - 1e-9
        # Rounded, a needle point is at most 0.05 mm off along each axis.
        assert np.abs(sewn - run).max() <= 0.05 + 1e-6
        away = shapely.distance(shapely.points(run), line)
        mitre = width / 2 / math.sin(math.pi / 6) + 1e-3
        assert away.max() <= mitre
    assert worst_crowd(runs) <= CROWD  # the rounding may bring one more together


def test_needle_points_that_there_are_already_count() -> None:
    holes = Holes()
    line = path([(0, -1.5), (20, -1.5)], closed=False)
    for _ in range(2):
        holes.add_stitched(line, 0.8)  # at every other needle point of the upper edge
    (legs,) = column_rungs(path([(0, 0), (20, 0)], closed=False), 3.0, 0.4)
    needles = over_satin(legs, holes)
    beside = np.array([[x, -1.5] for x in np.arange(0, 20.01, 0.8)])
    points = np.concatenate([needles, beside, beside])
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    assert (apart <= CROWD_WITHIN).sum(axis=1).max() < CROWD
