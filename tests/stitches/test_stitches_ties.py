"""Tie-ins and tie-offs: small stitches on the line that hold and do not perforate."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from stitches_shapes import (
    Shape,
    ellipse,
    most_within,
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

from paramgen.vocabulary.kinds import SPACED, StitchKind

kinds = st.sampled_from(SPACED)


@settings(max_examples=60)
@given(shapes(), kinds, st.floats(1, 7))
def test_every_run_is_tied_with_small_stitches_on_the_line(
    shape: Shape, kind: StitchKind, length: float
) -> None:
    run = sew_one(shape, stitch(kind, length))
    first, last = run.ties
    assert first >= 1
    assert last >= 1
    points = needles_mm(run)
    tied = np.concatenate([points[: first + 1], points[len(points) - 1 - last :]])
    assert touches(shape.exact, tied).all()
    sewn = stitch_lengths(run, ties=True)
    assert sewn.min() > 0
    # At most 0.8 mm, or a whole stitch of less than 1 mm where it is so short, and the
    # diagonal of the grid for rounding.
    assert max(sewn[:first].max(), sewn[len(sewn) - last :].max()) <= 1 + 0.15


@pytest.mark.parametrize("kind", SPACED)
def test_ties_go_forth_and_back_over_the_first_and_last_stitch(kind: StitchKind) -> None:
    """At either end the thread lies at least twice over half a millimetre of the line."""
    run = sew_one(polyline([(0, 0), (20, 0)]), stitch(kind))
    x = needles_mm(run)[:, 0]
    begins, ends = x[run.ties[0]], x[-1 - run.ties[1]]
    assert np.abs(x[: run.ties[0]] - begins).max() >= 0.5
    assert np.abs(x[len(x) - run.ties[1] :] - ends).max() >= 0.5
    for end in {begins, ends, 20 - begins}:
        near = end + 0.25 * (1 if end == 0 else -1)
        crossed = (np.minimum(x[:-1], x[1:]) < near) & (near < np.maximum(x[:-1], x[1:]))
        assert crossed.sum() >= 2


@pytest.mark.parametrize("kind", [StitchKind.RUN, StitchKind.BASTING, StitchKind.ZIGZAG])
def test_kinds_that_pass_once_are_tied_with_two_stitches(kind: StitchKind) -> None:
    assert sew_one(polyline([(0, 0), (20, 0)]), stitch(kind)).ties == (2, 2)


@pytest.mark.parametrize("length", [0.7, 0.8, 0.95, 1.2])
def test_ties_are_no_longer_than_a_short_first_stitch(length: float) -> None:
    run = sew_one(polyline([(0, 0), (3 * length, 0)]), stitch(StitchKind.RUN, length))
    x = needles_mm(run)[:, 0]
    start, end = x[run.ties[0]], x[-1 - run.ties[1]]
    assert np.abs(x[: run.ties[0]] - start).max() <= length + 0.05
    assert np.abs(x[len(x) - run.ties[1] :] - end).max() <= length + 0.05


@settings(max_examples=80)
@given(
    kinds,
    st.sampled_from(["rectangle", "rounded", "circle", "line", "bend"]),
    st.floats(6, 120),
    st.floats(6, 120),
    st.floats(-1, 1),
    st.floats(0, math.tau),
    st.floats(1.6, 7),
    st.floats(1, 4),
)
def test_ends_do_not_perforate(
    kind: StitchKind,
    form: str,
    width: float,
    height: float,
    shift: float,
    heading: float,
    length: float,
    swing: float,
) -> None:
    """Nowhere do more than 4 needle points lie within 0.3 mm of one of them."""
    ahead = np.array([math.cos(heading), math.sin(heading)])
    end = ahead * width + shift
    shape = {
        "rectangle": lambda: rectangle(shift, shift, width, height),
        "rounded": lambda: rounded(shift, shift, width, height, min(width, height) / 3),
        "circle": lambda: ellipse(shift, shift, width, width),
        "line": lambda: polyline([(shift, shift), tuple(end)]),
        "bend": lambda: polyline(
            [(shift, shift), tuple(end), tuple(end + height * np.array([-ahead[1], ahead[0]]))]
        ),
    }[form]()
    run = sew_one(shape, stitch(kind, length, swing, 1.2))
    assert most_within(needles_mm(run), 0.3) <= 4


def test_two_lines_may_meet_at_an_end_without_perforating_it() -> None:
    """Two runs that begin and two that end at one corner, and sew away from it."""
    points = []
    for heading in (0.0, 1.5, 3.0, 4.5):
        end = (20 * math.cos(heading), 20 * math.sin(heading))
        points.append(needles_mm(sew_one(polyline([(0, 0), end]), stitch(StitchKind.RUN))))
    assert most_within(np.concatenate(points), 0.3) <= 4


def test_a_tie_round_a_hairpin_has_no_stitch_of_no_length() -> None:
    """The line turns back 0.5 mm from its start, on half a circle of 0.02 π = 0.063 mm. The
    tie's points at 0.4 and 0.7 mm along it lie at x = 0.4 and 0.5 - (0.7 - 0.563) = 0.36 mm,
    0.04 mm apart across: one place on the grid."""
    arc = [
        (0.5 + 0.02 * math.sin(a), 0.02 - 0.02 * math.cos(a)) for a in np.linspace(0, math.pi, 60)
    ]
    shape = polyline([(0, 0), *arc, (-30, 0.04)])
    assert list(shape.path.corners) == [0, len(shape.path.points) - 1]
    for kind in (StitchKind.RUN, StitchKind.ZIGZAG):
        run = sew_one(shape, stitch(kind, 2.5))
        assert run.needles[:2].tolist() == [[4, 0], [0, 0]]
        assert run.ties == (1, 2)
        assert stitch_lengths(run, ties=True).min() > 0
