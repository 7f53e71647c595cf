"""Needle points along a line: on it, at its corners, equally far apart, without drift."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from stitches_shapes import (
    NOISE,
    Shape,
    ellipse,
    hits,
    needles_mm,
    polyline,
    rectangle,
    rounded,
    sew_one,
    shapes,
    stitch,
    stitch_lengths,
    touches,
)

from paramgen.stitches.path_ruler import lay_out
from paramgen.stitches.spacing import LEAST_STITCH, SAFE_STITCH, on_grid
from paramgen.vocabulary.kinds import StitchKind

STRAIGHT = (StitchKind.RUN, StitchKind.DOUBLE, StitchKind.TRIPLE, StitchKind.BASTING)
lengths = st.floats(1, 7) | st.integers(2, 14).map(lambda halves: halves / 2)


@settings(max_examples=70)
@given(shapes(), lengths, st.sampled_from(STRAIGHT))
def test_needle_points_keep_every_limit(shape: Shape, length: float, kind: StitchKind) -> None:
    run = sew_one(shape, stitch(kind, length))
    points = needles_mm(run)
    assert touches(shape.exact, points).all()
    for corner in shape.corners:
        assert hits(points, corner).any(), corner
    sewn = stitch_lengths(run, ties=False)
    assert sewn.max() <= length + NOISE
    assert sewn.min() >= LEAST_STITCH - NOISE
    assert stitch_lengths(run, ties=True).min() > 0


@settings(max_examples=40)
@given(st.floats(1.5, 400), st.floats(-50, 50), st.floats(-50, 50), lengths)
def test_needle_points_on_a_circle_are_on_the_true_circle(
    width: float, x: float, y: float, length: float
) -> None:
    """A square of half the grid round each needle point holds a point of x² + y² = r²."""
    points = needles_mm(sew_one(ellipse(x, y, width, width), stitch(StitchKind.RUN, length)))
    away = np.abs(points - [x, y])
    # The chords that stand for the circle leave it by 1e-4 mm at most.
    nearest = np.hypot(*np.maximum(away - 0.05, 0).T) - 1e-4
    farthest = np.hypot(*(away + 0.05).T) + 1e-4
    assert (nearest <= width / 2).all()
    assert (farthest >= width / 2).all()


@settings(max_examples=40)
@given(shapes(), lengths)
def test_stitches_between_corners_are_equal(shape: Shape, length: float) -> None:
    """The k-th of n stitches from a corner ends k/n of the way along the line."""
    run = sew_one(shape, stitch(StitchKind.RUN, length))
    points = needles_mm(run)[run.ties[0] : len(run.needles) - run.ties[1]]
    exact, closed = shape.exact, shape.path.closed
    if shape.corners and not hits(points[:1], shape.corners[0]).all() and not closed:
        points = points[::-1]
    corners = [exact.project(shapely.Point(corner)) for corner in shape.corners]
    # A closed path may begin at any corner: measure from that one.
    begun = [at for at, xy in zip(corners, shape.corners, strict=True) if hits(points[:1], xy)[0]]
    start = begun[0] if closed and begun else 0.0
    whole = exact.length
    inner = {round((at - start) % whole, 7) for at in corners}
    ends = [0.0, *sorted(at for at in inner if 1e-6 < at < whole - 1e-6), whole]

    def along(at: float) -> tuple[float, float]:
        place = exact.interpolate((start + at) % whole if at < whole or closed else whole)
        return place.x, place.y

    done = 0
    for one, two in pairwise(ends):
        count = 1 + int(np.argmax(hits(points[done + 1 :], along(two))))
        for k in range(count + 1):
            assert hits(points[done + k : done + k + 1], along(one + (two - one) * k / count)).all()
        done += count
    assert done == len(points) - 1


@pytest.mark.parametrize(
    ("span", "length", "count"),
    # By division: 25 / 2.5 = 10; 10 / 3 = 3.33; 114.3 / 3 = 38.1; 0.9 / 3 = 0.3. A stitch
    # of 2.54 mm is at most 2.5 mm on the grid: 177.8 / 2.5 = 71.1.
    [(25, 2.5, 10), (10, 3, 4), (114.3, 3, 39), (0.9, 3, 1), (177.8, 2.54, 72)],
)
def test_a_straight_line_takes_the_fewest_stitches(span: float, length: float, count: int) -> None:
    run = sew_one(polyline([(-3.15, 2), (span - 3.15, 2)]), stitch(StitchKind.RUN, length))
    assert len(stitch_lengths(run, ties=False)) == count


def test_a_slanting_line_takes_more_where_the_grid_would_stretch_a_stitch() -> None:
    """25 mm at 45° in 10 stitches is 1.77 mm a stitch in x and y, on the grid 1.7 or 1.8;
    1.8 √2 = 2.55 mm is over 2.5 mm. In 11, 1.607: 1.7 √2 = 2.404 mm at most."""
    end = 25 / math.sqrt(2)
    run = sew_one(polyline([(0, 0), (end, end)]), stitch(StitchKind.RUN, 2.5))
    assert len(stitch_lengths(run, ties=False)) == 11


def test_a_long_line_does_not_drift() -> None:
    """1000 / 2.3 = 434.8: 435 stitches of 1000/435 = 2.2989 mm."""
    run = sew_one(polyline([(-500, 0.02), (500, 0.02)]), stitch(StitchKind.RUN, 2.3))
    x = needles_mm(run)[run.ties[0] : -run.ties[1], 0]
    assert len(x) == 436
    k = np.arange(436)
    assert np.abs(x - (-500 + k * 1000 / 435)).max() <= 0.05 + NOISE


def test_a_line_after_many_others_does_not_drift() -> None:
    """The ruler reads hundreds of metres by then."""
    far = [polyline([(-500, y / 10), (500, y / 10)]).path for y in range(400)]
    ruler, corners = lay_out(far)
    k = np.arange(101)
    readings = corners.reading[-2] + k * 10.0
    assert np.abs(ruler.at(readings)[:, 0] - (-500 + 10.0 * k)).max() < 1e-8


def test_sizes_in_inches_keep_their_width_on_the_grid() -> None:
    """4 1/2 in is 114.3 mm: both edges lie on a half of the grid, 57.15 mm from the middle."""
    half = 4.5 * 25.4 / 2
    edges = on_grid(np.array([[-half, half], [-half - 1e-12, half - 1e-12]]))
    assert (edges[:, 1] - edges[:, 0]).tolist() == [1143, 1143]


@given(st.floats(0, math.tau), st.floats(SAFE_STITCH, 3), st.floats(-1, 1), st.floats(-1, 1))
def test_safe_stitches_are_never_short_on_the_grid(
    heading: float, length: float, x: float, y: float
) -> None:
    start = np.array([x, y])
    end = start + length * np.array([math.cos(heading), math.sin(heading)])
    assert math.hypot(*(on_grid(end) - on_grid(start))) / 10 >= LEAST_STITCH - NOISE


@settings(max_examples=40)
@given(st.lists(shapes(), min_size=1, max_size=6))
def test_the_ruler_finds_the_corners_that_a_path_has(some: list[Shape]) -> None:
    ruler, corners = lay_out([shape.path for shape in some])
    for number, shape in enumerate(some):
        found = ruler.at(corners.reading[corners.path == number])
        assume(not np.any(np.abs(np.abs(shape.path.turns) - 12) < 1e-9))
        expected = shape.path.points[shape.path.corners]
        if shape.path.closed:
            # A closed path ends where it begins, at its first corner or its first vertex.
            assert found[0] == pytest.approx(found[-1], abs=1e-9)
            found = found[:-1]
            expected = expected if len(expected) else shape.path.points[:1]
        assert found == pytest.approx(expected, abs=1e-9)


def test_small_closed_shapes_are_not_sewn_flat() -> None:
    """A circle 2 mm wide is 6.3 mm round: one 7 mm stitch would do, and show nothing."""
    for shape in (ellipse(0, 0, 2, 2), rounded(0, 0, 2, 2, 0.7)):
        run = sew_one(shape, stitch(StitchKind.RUN, 7))
        assert len(np.unique(run.needles[run.ties[0] : -run.ties[1]], axis=0)) >= 3


def test_a_closed_path_with_corners_begins_at_one_of_them() -> None:
    shape = rectangle(10, 10, 30, 20)
    shifted = Shape(
        polyline([(24, 10), (40, 10), (40, 30), (10, 30), (10, 10)], closed=True).path,
        shape.corners,
    )
    run = sew_one(shifted, stitch(StitchKind.RUN, 2.5))
    first = needles_mm(run)[run.ties[0]]
    assert any(hits(first[None], corner).all() for corner in shape.corners)
    # 30 / 2.5 and 20 / 2.5, twice each; from (24, 10) it would be 14 / 2.5 and 16 / 2.5.
    assert len(stitch_lengths(run, ties=False)) == 2 * 12 + 2 * 8
