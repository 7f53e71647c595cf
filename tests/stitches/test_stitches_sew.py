"""Whole steps: runs, their order, what cannot be sewn, and what is measured of it."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from stitches_shapes import (
    Shape,
    ellipse,
    line,
    needles_mm,
    polyline,
    rectangle,
    shapes,
    step,
    stitch,
)
from told import mends, says

from paramgen.stitches.measures import needle_bounds, sewn_length
from paramgen.stitches.needle_points import Run, SewnStep
from paramgen.stitches.sew import sew
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.findings import Severity
from paramgen.vocabulary.kinds import SPACED, Act, Side, StitchKind
from paramgen.vocabulary.project import Step

RUN = stitch(StitchKind.RUN)


def test_each_stitched_step_is_one_stop_and_each_path_one_run() -> None:
    by_hand = Step(number=2, stop=None, act=Act.LAY, title="Lay", say="", seen_from=Side.FRONT)
    sewn, findings = sew(
        [
            step(line(RUN, rectangle(0, 0, 20, 10).path), number=1),
            by_hand,
            step(
                line(RUN, polyline([(0, 0), (9, 0)]).path, polyline([(0, 9), (9, 9)]).path),
                line(stitch(StitchKind.ZIGZAG), ellipse(30, 0, 9, 9).path, name="ring"),
                number=3,
            ),
        ]
    )
    assert findings == ()
    assert [(each.stop, each.title, each.colour) for each in sewn] == [
        (1, "Step 1", "#204060"),
        (3, "Step 3", "#204060"),
    ]
    assert [len(each.runs) for each in sewn] == [1, 3]
    assert sorted(run.line for run in sewn[1].runs) == ["edge", "edge", "ring"]


def test_nothing_to_sew_gives_nothing() -> None:
    assert sew([]) == ((), ())
    assert sew(
        [Step(number=1, stop=None, act=Act.TAPE, title="Tape", say="", seen_from=Side.FRONT)]
    ) == ((), ())


def test_a_step_is_sewn_from_where_the_needle_is() -> None:
    """The second line starts at its right end, where the first step stopped."""
    first = line(RUN, polyline([(0, 0), (40, 0)]).path)
    second = line(RUN, polyline([(0, 5), (40, 5)]).path)
    sewn, _ = sew([step(first, number=1), step(second, number=2)])
    assert needles_mm(sewn[1].runs[0])[0, 0] > 38
    sewn, _ = sew([step(first, second)])
    assert needles_mm(sewn[0].runs[1])[0, 0] > 38


def test_a_closed_path_begins_at_the_corner_that_is_nearest() -> None:
    first = line(RUN, polyline([(0, 0), (40, 20)]).path)
    second = line(RUN, rectangle(10, 10, 31, 11).path)
    sewn, _ = sew([step(first, second)])
    run = sewn[0].runs[1] if len(sewn[0].runs[1].needles) > 30 else sewn[0].runs[0]
    assert run.needles[run.ties[0]].tolist() == [410, 210]
    assert run.needles[-1 - run.ties[1]].tolist() == [410, 210]


@settings(max_examples=30)
@given(st.lists(st.tuples(shapes(), st.sampled_from(SPACED), st.integers(1, 3)), max_size=14))
def test_sewing_twice_gives_the_same(some: list[tuple[Shape, StitchKind, int]]) -> None:
    steps = [
        step(*(line(stitch(kind), each.path) for each, kind, at in some if at == number))
        for number in (1, 2, 3)
    ]
    first, second = sew(steps), sew(steps)
    assert first[1] == second[1]
    for one, two in zip(first[0], second[0], strict=True):
        assert len(one.runs) == len(two.runs)
        for run, again in zip(one.runs, two.runs, strict=True):
            assert run.needles.tobytes() == again.needles.tobytes()
            assert run.ties == again.ties


@settings(max_examples=30)
@given(shapes(), st.sampled_from(SPACED), st.lists(shapes(), min_size=1, max_size=3))
def test_a_run_has_the_same_holes_whatever_else_is_sewn(
    shape: Shape, kind: StitchKind, others: list[Shape]
) -> None:
    alone, _ = sew([step(line(stitch(kind), shape.path, name="it"))])
    rest = line(stitch(StitchKind.SEAM), *(other.path for other in others))
    among, _ = sew([step(rest, number=1), step(line(stitch(kind), shape.path), number=2)])
    one, two = alone[0].runs[0], among[1].runs[0]
    if one.needles[one.ties[0]].tolist() == two.needles[two.ties[0]].tolist():
        assert one.needles.tolist() == two.needles.tolist()
    else:
        assert len(one.needles) == len(two.needles)


def test_corners_nearer_than_a_stitch_are_refused_with_the_place() -> None:
    notch = [(0, 0), (10, 0), (10, 0.25), (20, 0.25), (20, 10), (0, 10)]
    sewn, findings = sew(
        [step(line(RUN, polyline(notch, closed=True).path, title="Pocket tack-down"), number=4)]
    )
    (finding,) = findings
    assert finding.severity is Severity.CANNOT
    assert finding.code == "corners-too-close"
    assert finding.step == 4
    assert finding.place == ((10.0, 0.0), (10.0, 0.25))
    # 0.5 mm is always a stitch of 0.4 mm on the grid.
    assert finding.amount == pytest.approx(0.5 - 0.25)
    assert "Pocket tack-down" in says(finding)
    assert "0.25 mm" in says(finding)
    assert "x 10.0 mm, y 0.0 mm" in says(finding)
    assert "0.5 mm" in mends(finding)
    assert sewn[0].runs == ()


@pytest.mark.parametrize("kind", SPACED)
@pytest.mark.parametrize(
    ("shape", "need", "have"),
    [
        (polyline([(0, 0), (0.3, 0)]), 0.5, 0.3),
        # A loop needs three stitches; a circle 0.3 mm wide is 0.3 π round.
        (ellipse(0, 0, 0.3, 0.3), 1.5, 0.3 * math.pi),
    ],
)
def test_a_path_too_short_for_its_stitches_is_refused(
    kind: StitchKind, shape: Shape, need: float, have: float
) -> None:
    _, (finding,) = sew([step(line(stitch(kind), shape.path))])
    assert finding.code == "path-too-short"
    assert finding.severity is Severity.CANNOT
    assert finding.amount == pytest.approx(need - have, abs=1e-3)


def test_corners_0_4_mm_apart_are_sewn_if_the_grid_allows() -> None:
    sewn, findings = sew([step(line(RUN, polyline([(0, 0), (5, 0), (5, 0.4), (9, 0.4)]).path))])
    assert findings == ()
    assert len(sewn[0].runs) == 1


def test_all_that_cannot_be_sewn_is_said_at_once_and_the_rest_is_sewn() -> None:
    good = line(RUN, rectangle(0, 0, 20, 10).path, name="good")
    notch = polyline([(0, 0), (9, 0), (9, 0.2), (18, 0.2), (18, 0.1)])
    sewn, findings = sew(
        [
            step(line(RUN, notch.path), good, number=1),
            step(line(stitch(StitchKind.ZIGZAG, swing=0), notch.path), number=2),
            # 0.2 mm on and 0.3 mm aside are 0.36 mm.
            step(line(stitch(StitchKind.SEAM, swing=0.3, spacing=0.2), TEN.path), number=3),
            step(line(stitch(StitchKind.RUN, length=0.3), TEN.path), number=4),
            step(line(stitch(StitchKind.SEAM, spacing=0), TEN.path), number=5),
        ]
    )
    assert [(each.step, each.code) for each in findings] == [
        (1, "corners-too-close"),
        (1, "corners-too-close"),
        (2, "zigzag-without-swing"),
        (3, "zigzag-too-narrow"),
        (4, "no-even-stitches"),
        (5, "zigzag-without-swing"),
    ]
    assert all(each.stops and says(each).startswith("Edge: ") and mends(each) for each in findings)
    assert [[run.line for run in each.runs] for each in sewn] == [["good"], [], [], [], []]


TEN = polyline([(0, 0), (10, 0)])


def test_bounds_are_those_of_the_needle_points_in_mm() -> None:
    sewn, _ = sew(
        [
            step(line(RUN, rectangle(-10.3, 0, 20, 10).path), number=1),
            step(
                line(stitch(StitchKind.ZIGZAG, swing=3), polyline([(0, -20), (10, -20)]).path),
                number=2,
            ),
        ]
    )
    assert needle_bounds(sewn) == Box(-10.3, -21.5, 10, 10)
    assert needle_bounds(sewn[:1]) == Box(-10.3, 0, 9.7, 10)


def test_bounds_of_nothing_are_nothing() -> None:
    assert needle_bounds([]) == Box(0, 0, 0, 0)


def test_length_is_that_of_the_stitches_and_not_of_the_moves() -> None:
    """Stitches of 3, 4 and 5 mm, and one of 1 mm after a move."""
    runs = (
        Run("a", np.array([[0, 0], [30, 0], [30, 40], [0, 0]]), (0, 0)),
        Run("b", np.array([[900, 0], [910, 0]]), (0, 0)),
    )
    assert sewn_length(SewnStep(1, "", "#000000", runs)) == pytest.approx(13)


def test_length_of_a_run_is_the_line_and_its_ties() -> None:
    """100 mm round in stitches that lie on it; each tie is at most 1.6 mm of thread."""
    sewn, _ = sew([step(line(RUN, rectangle(0, 0, 30, 20).path))])
    assert 100 < sewn_length(sewn[0]) <= 100 + 2 * 1.6
