"""Paths: measures, corners, and moves of the plane that change neither."""

import math

import numpy as np
import pytest
from geometry_shapes import area, box, convex
from hypothesis import given, settings

from paramgen.geometry.outlines import oval, rectangle, regular_polygon
from paramgen.vocabulary.path import Path, path, quarter_turn


def turned(outline: Path) -> Path:
    return Path(quarter_turn(outline.points), outline.closed)


def test_length_of_a_closed_path_counts_the_last_side_and_of_an_open_one_does_not() -> None:
    # The 3-4-5 triangle: 3 + 4 + 5 = 12 round, 3 + 4 = 7 from end to end.
    points = [(0, 0), (3, 0), (3, 4)]
    assert path(points, closed=True).length == pytest.approx(12)
    assert path(points, closed=False).length == pytest.approx(7)
    assert path(points, closed=True).reach.tolist() == pytest.approx([0, 3, 7, 12])


def test_bounds_are_the_least_and_largest_of_the_vertices() -> None:
    assert path([(3, -2), (-1, 5), (0, 9)], closed=False).bounds == (-1, -2, 3, 9)


def test_turns_of_any_convex_outline_are_those_of_one_round() -> None:
    # Outer angles of a convex polygon add up to 360° (Euclid, Elements I.32, corollary);
    # each of a regular hexagon is 360/6 = 60°.
    assert regular_polygon((0, 0), 6, 50).turns == pytest.approx([60] * 6)
    assert oval((0, 0), 80, 50).turns.sum() == pytest.approx(360)


def test_ends_of_an_open_path_do_not_turn() -> None:
    assert path([(0, 0), (5, 0), (5, 5)], closed=False).turns.tolist() == pytest.approx([0, 90, 0])


@pytest.mark.parametrize(
    ("outline", "corners"),
    [
        (rectangle(0, 0, 60, 40), 4),
        (rectangle(0, 0, 60, 40, cut=5), 8),
        (rectangle(0, 0, 60, 40, rounded=0.5), 0),
        (rectangle(0, 0, 60, 40, rounded=20), 0),
        (oval((0, 0), 60, 60), 0),
        (oval((0, 0), 330, 50), 0),
        (oval((0, 0), 5, 3), 0),
        (regular_polygon((0, 0), 3, 60), 3),
        (regular_polygon((0, 0), 12, 60), 12),  # turns of 30°
        (path([(0, 0), (9, 0), (9, 9)], closed=False), 3),
    ],
)
def test_corners_are_where_a_line_turns_sharply_and_curves_have_none(
    outline: Path, corners: int
) -> None:
    assert len(outline.corners) == corners


def test_ends_of_an_open_curve_are_corners() -> None:
    curve = oval((0, 0), 60, 60).points[:50]
    assert path(curve, closed=False).corners.tolist() == [0, 49]


def test_vertices_that_repeat_their_neighbour_are_dropped() -> None:
    doubled = [(0, 0), (0, 0), (9, 0), (9, 9), (9, 9), (0, 0)]
    assert len(path(doubled, closed=True).points) == 3
    assert len(path(doubled, closed=False).points) == 4


def test_a_path_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        box(10, 10).points[0, 0] = 5


def test_a_quarter_turn_takes_the_top_to_the_right() -> None:
    # Clockwise as seen, with y down: up (0, -1) becomes right (1, 0), right becomes down.
    assert quarter_turn(np.array([[0.0, -1.0], [1.0, 0.0]])).tolist() == [[1, 0], [0, 1]]


@given(convex())
@settings(max_examples=30)
def test_four_quarter_turns_bring_everything_back(outline: Path) -> None:
    once = turned(outline)
    assert not np.allclose(once.points, outline.points)
    assert (turned(turned(turned(once))).points == outline.points).all()


@given(convex())
@settings(max_examples=30)
def test_a_quarter_turn_keeps_area_length_and_corners(outline: Path) -> None:
    once = turned(outline)
    left, top, right, bottom = outline.bounds
    assert area(once) == pytest.approx(area(outline))
    assert once.length == pytest.approx(outline.length)
    assert once.corners.tolist() == outline.corners.tolist()
    assert once.bounds == (-bottom, left, -top, right)
    assert math.fsum(once.turns) == pytest.approx(360)


def test_a_closed_path_has_a_line_back_to_its_start_and_an_area() -> None:
    sheet = path([(0, 0), (4, 0), (4, 3), (0, 3)], closed=True)
    assert sheet.line.length == 2 * (4 + 3)
    assert sheet.area.area == 4 * 3
    assert path(sheet.points, closed=False).line.length == 4 + 3 + 4


def test_what_crosses_itself_has_the_area_of_its_parts() -> None:
    # Two triangles of base 2 and height 1 that meet in a point.
    bow = path([(0, 0), (2, 2), (2, 0), (0, 2)], closed=True)
    assert bow.area.area == pytest.approx(2 * (2 * 1 / 2))


def test_a_path_of_no_area_encloses_nothing() -> None:
    assert path([(0, 0), (4, 0)], closed=True).area.is_empty


def test_mirrored_left_and_right_change_places() -> None:
    assert path([(1, 2), (-3, 4)], closed=False).mirrored.points.tolist() == [[-1, 2], [3, 4]]


@pytest.mark.parametrize("points", [[], [(5, 5)], [(5, 5), (9, 5)]])
def test_an_open_path_has_one_turn_for_each_vertex_however_few_they_are(
    points: list[tuple[float, float]],
) -> None:
    short = path(points, closed=False)
    assert short.turns.tolist() == [0] * len(points)
    assert short.corners.tolist() == list(range(len(points)))


def test_vertices_in_one_line_enclose_nothing() -> None:
    assert path([(0, 0), (2, 0), (4, 0)], closed=True).area.is_empty


def test_an_edge_that_runs_out_and_back_encloses_nothing() -> None:
    # A sheet of 4 × 2 with a line of 3 standing out of its corner, and round it 2 × (4 + 2).
    spiked = path([(0, 0), (4, 0), (4, 2), (4, 5), (4, 2), (0, 2)], closed=True)
    assert spiked.area.geom_type == "Polygon"
    assert (spiked.area.area, spiked.area.length) == (4 * 2, 2 * (4 + 2))
