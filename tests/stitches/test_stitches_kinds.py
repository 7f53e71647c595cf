"""The kinds of stitching, each against its description worked out by hand."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from stitches_shapes import (
    NOISE,
    Shape,
    ellipse,
    half_moon,
    hits,
    line,
    needles_mm,
    polyline,
    rectangle,
    rounded,
    sew_one,
    shapes,
    step,
    stitch,
    stitch_lengths,
    touches,
)
from told import mends

from paramgen.stitches.sew import sew
from paramgen.vocabulary.kinds import SPACED, StitchKind

TEN = polyline([(0, 0), (10, 0)])


def along_x(kind: StitchKind, shape: Shape = TEN, **how: float) -> list[int]:
    """Needle points without the ties, in tenths of a millimetre."""
    run = sew_one(shape, stitch(kind, **how))
    return [int(x) for x in run.needles[run.ties[0] : len(run.needles) - run.ties[1], 0]]


@pytest.mark.parametrize("kind", [StitchKind.RUN, StitchKind.BASTING])
def test_a_run_goes_once_along_the_line(kind: StitchKind) -> None:
    assert along_x(kind, length=2.5) == [0, 25, 50, 75, 100]


def test_a_triple_sews_each_stitch_forward_back_and_forward() -> None:
    assert along_x(StitchKind.TRIPLE, length=5) == [0, 50, 0, 50, 100, 50, 100]


def test_a_double_run_comes_back_half_a_stitch_beside_its_holes() -> None:
    """Middles of 0, 2.5, 5, 7.5, 10 are 1.25, 3.75 ...: on the grid 1.3, 3.8 ..."""
    assert along_x(StitchKind.DOUBLE, length=2.5) == [0, 25, 50, 75, 100, 88, 63, 38, 13, 0]


def test_a_double_run_uses_its_holes_again_where_half_a_stitch_is_too_short() -> None:
    """3.5 mm in stitches of 0.7 mm: half of one is 0.35 mm, under 0.4 mm."""
    shape = polyline([(0, 0), (3.5, 0)])
    assert along_x(StitchKind.DOUBLE, shape, length=0.7) == [
        *(0, 7, 14, 21, 28, 35),
        *(28, 21, 14, 7, 0),
    ]


def test_a_double_run_hits_the_corners_both_ways() -> None:
    corner = (10.0, 0.0)
    run = sew_one(polyline([(0, 0), corner, (10, 8)]), stitch(StitchKind.DOUBLE))
    assert hits(needles_mm(run), corner).sum() == 2


def test_a_zigzag_swings_by_its_width_and_crosses_between_corners() -> None:
    """4 mm in advances of 1 mm: swings at 0.5, 1.5, 2.5, 3.5 mm, 1 mm to either side."""
    run = sew_one(polyline([(0, 0), (4, 0)]), stitch(StitchKind.ZIGZAG, swing=2, spacing=1))
    sewn = run.needles[run.ties[0] : -run.ties[1]].tolist()
    assert sewn in (
        [[0, 0], [5, 10], [15, -10], [25, 10], [35, -10], [40, 0]],
        [[0, 0], [5, -10], [15, 10], [25, -10], [35, 10], [40, 0]],
    )


@settings(max_examples=30)
@given(
    st.floats(-100, 100),
    st.floats(-100, 100),
    st.floats(0, math.tau),
    st.tuples(st.floats(2, 200), st.floats(2, 200)),
    st.sampled_from([-1, 1]),
    st.floats(1, 5),
    st.floats(0.5, 3),
)
def test_zigzag_swings_are_where_they_should_be_on_straight_lines(
    x: float,
    y: float,
    heading: float,
    sides: tuple[float, float],
    turn: int,
    swing: float,
    spacing: float,
) -> None:
    """Between corners: middles of n equal parts, n = length / spacing rounded up."""
    middle = np.array([x, y])
    first = np.array([math.cos(heading), math.sin(heading)])
    second = turn * np.array([-first[1], first[0]])
    corners = [middle - first * sides[0], middle, middle + second * sides[1]]
    shape = polyline([tuple(corner) for corner in corners])
    run = sew_one(shape, stitch(StitchKind.ZIGZAG, swing=swing, spacing=spacing))
    sewn = needles_mm(run)[run.ties[0] : len(run.needles) - run.ties[1]]
    if not hits(sewn[:1], tuple(corners[0])).all():
        corners.reverse()
    expected, sign = [corners[0]], 0.0
    at = 1
    for start, end in pairwise(corners):
        length = math.hypot(*(end - start))
        count = math.ceil(length / spacing - 1e-9)
        ahead = (end - start) / length
        left = np.array([-ahead[1], ahead[0]])
        for k in range(count):
            place = start + ahead * length * (k + 0.5) / count
            if not sign:
                sign = 1 if (sewn[at] - place) @ left > 0 else -1
            expected.append(place + sign * swing / 2 * left)
            sign = -sign
            at += 1
        expected.append(end)
        at += 1
    assert len(sewn) == len(expected)
    assert np.abs(sewn - np.array(expected)).max() <= 0.05 + NOISE


@settings(max_examples=30)
@given(st.floats(10, 400), st.floats(1, 4), st.floats(0.5, 3))
def test_zigzag_swings_are_where_they_should_be_on_a_circle(
    width: float, swing: float, spacing: float
) -> None:
    """Swing points lie at radius r ± swing/2 and at the middles of equal angles."""
    run = sew_one(
        ellipse(0, 0, width, width), stitch(StitchKind.ZIGZAG, swing=swing, spacing=spacing)
    )
    sewn = needles_mm(run)[run.ties[0] + 1 : -run.ties[1] - 1]
    count = len(sewn)
    assert count == pytest.approx(math.pi * width / spacing, abs=1)
    k = np.arange(count)
    side = np.where(k % 2 == 0, 1, -1) * (1 if np.hypot(*sewn[0]) > width / 2 else -1)
    angle = (k + 0.5) / count * math.tau
    exact = (
        np.stack([np.cos(angle), np.sin(angle)], axis=1) * (width / 2 + side * swing / 2)[:, None]
    )
    # 0.001 mm for the chords that stand for the circle.
    assert np.abs(sewn - exact).max() <= 0.05 + 0.001


@settings(max_examples=40)
@given(
    # Curves of these have a radius of 1.2 mm or more, half the widest swing.
    shapes(least=12),
    st.floats(1, 2.4),
    st.floats(0.3, 3),
    st.sampled_from([StitchKind.ZIGZAG, StitchKind.SEAM]),
)
def test_zigzags_keep_within_their_swing_and_hit_the_corners(
    shape: Shape, swing: float, spacing: float, kind: StitchKind
) -> None:
    """Half of it to both sides of the line; of a seam all of it to one side."""
    run = sew_one(shape, stitch(kind, swing=swing, spacing=spacing))
    reach = swing if kind is StitchKind.SEAM else swing / 2
    points = needles_mm(run)
    for corner in shape.corners:
        assert hits(points, corner).any()
    # Half the diagonal of the grid, for the rounding.
    away = shapely.distance(shape.exact, shapely.points(points))
    assert away.max() <= reach + 0.05 * math.sqrt(2) + 1e-3
    assert stitch_lengths(run, ties=False).min() >= 0.4 - NOISE


def test_a_zigzag_that_a_tight_curve_squeezes_is_refused() -> None:
    """On a radius of 0.3 mm the first swing, 0.5 mm inwards and 0.5 mm on, turns by 0.5 / 0.3
    = 1.67 rad. From the middle it lies at 0.3 - 0.5 = -0.2 mm, so the first stitch is
    √(0.3² + 0.2² + 2 · 0.3 · 0.2 · cos 1.67) = 0.34 mm."""
    tight = rounded(0, 0, 3, 3, 0.3)
    how = stitch(StitchKind.ZIGZAG, swing=1, spacing=1)
    _, (finding,) = sew([step(line(how, tight.path))])
    assert finding.code == "zigzag-too-narrow"
    assert "curve" in mends(finding)


@settings(max_examples=40)
@given(st.floats(0.05, 1), st.floats(0.1, 3), st.floats(0, math.tau), st.floats(1, 30))
def test_a_narrow_zigzag_is_refused_or_has_no_short_stitch(
    swing: float, spacing: float, heading: float, length: float
) -> None:
    ends = [(0.0, 0.0), (length * math.cos(heading), length * math.sin(heading))]
    how = stitch(StitchKind.ZIGZAG, swing=swing, spacing=spacing)
    (sewn,), findings = sew([step(line(how, polyline(ends).path))])
    if sewn.runs:
        assert stitch_lengths(sewn.runs[0], ties=False).min() >= 0.4 - NOISE
    else:
        assert [finding.code for finding in findings] == ["zigzag-too-narrow"]
        # Half a swing and half an advance, rounded to the grid.
        count = math.ceil(length / spacing - 1e-9)
        assert math.hypot(swing, length / count) / 2 < 0.4 + 0.1 * math.sqrt(2)


def test_a_zigzag_does_not_stick_out_at_a_right_angle() -> None:
    points = needles_mm(sew_one(rectangle(0, 0, 30, 20), stitch(StitchKind.ZIGZAG, swing=3)))
    assert points.min(axis=0) == pytest.approx([-1.5, -1.5])
    assert points.max(axis=0) == pytest.approx([31.5, 21.5])


def test_an_open_seam_is_a_run_with_a_zigzag_over_it_that_ends_where_it_began() -> None:
    how = stitch(StitchKind.SEAM, length=2.5, swing=2, spacing=1)
    run = sew_one(TEN, how)
    sewn = run.needles[run.ties[0] : -run.ties[1]].tolist()
    assert sewn[:5] == [[0, 0], [25, 0], [50, 0], [75, 0], [100, 0]]
    # The far end is back-stitched before the zigzag.
    (back, _), end = sewn[5:7]
    assert 92 <= back < 100
    assert end == [100, 0]
    zigzag = sewn[7:]
    # In 10 advances from the far end: out by 2 mm to the left of the line (up, as seen), and
    # back on it. Whichever end is sewn first, these are the same holes.
    assert zigzag == [[x, -20 if x % 20 else 0] for x in range(90, -10, -10)]


def test_a_closed_seam_goes_round_twice() -> None:
    run = sew_one(rectangle(0, 0, 30, 20), stitch(StitchKind.SEAM, length=2.5, swing=2, spacing=1))
    sewn = needles_mm(run)[run.ties[0] : -run.ties[1]]
    # 100 mm round: 40 stitches straight; edges of 30 and 20 mm in as many advances of 1 mm.
    assert len(sewn) - 1 == 40 + 100
    for corner in [(0, 0), (30, 0), (30, 20), (0, 20)]:
        assert hits(sewn, corner).sum() == (3 if hits(sewn[:1], corner).all() else 2)
    assert (sewn[0] == sewn[-1]).all()


@settings(max_examples=30)
@given(shapes(least=3), st.floats(1.5, 4))
def test_the_straight_pass_of_a_seam_is_sewn_like_a_run(shape: Shape, length: float) -> None:
    seam, run = (sew_one(shape, stitch(kind, length)) for kind in (StitchKind.SEAM, StitchKind.RUN))
    # It may begin at another end or corner, but has the same holes.
    straight = run.needles[run.ties[0] : len(run.needles) - run.ties[1]].tolist()
    passed = seam.needles[seam.ties[0] :].tolist()[: len(straight)]
    assert {tuple(hole) for hole in passed} == {tuple(hole) for hole in straight}


@settings(max_examples=30)
@given(shapes(least=2), st.floats(1, 7))
def test_kinds_that_come_back_end_where_they_begin(shape: Shape, length: float) -> None:
    for kind in (StitchKind.DOUBLE, StitchKind.SEAM):
        run = sew_one(shape, stitch(kind, length))
        assert (run.needles[run.ties[0]] == run.needles[-1 - run.ties[1]]).all()


def test_every_kind_sews_a_bend_and_its_ends() -> None:
    shape = half_moon(0, 0, 12)
    for kind in SPACED:
        points = needles_mm(sew_one(shape, stitch(kind, 3)))
        on_line = points[touches(shape.exact, points)]
        assert all(hits(on_line, corner).any() for corner in shape.corners)
