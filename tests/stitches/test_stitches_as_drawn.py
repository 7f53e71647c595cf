"""Needle points that are drawn: the needle goes in at every vertex, and nowhere else."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from stitches_shapes import line, step, stitch

from paramgen.stitches.needle_points import Run
from paramgen.stitches.sew import sew
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import path

AS_DRAWN = stitch(StitchKind.AS_DRAWN)


def sewn(points: object, *, closed: bool = False) -> Run:
    (done,), findings = sew([step(line(AS_DRAWN, path(points, closed=closed)))])
    assert findings == ()
    (run,) = done.runs
    return run


def without_ties(run: Run) -> list[list[int]]:
    first, last = run.ties
    found: list[list[int]] = run.needles[first : len(run.needles) - last].tolist()
    return found


def test_a_satin_is_sewn_from_side_to_side() -> None:
    # To and fro over 3 mm, 0.4 mm on each time: no point between the sides.
    sides = [(0.4 * number, 3.0 * (number % 2)) for number in range(12)]
    expected = [[4 * number, 30 * (number % 2)] for number in range(12)]
    found = without_ties(sewn(sides))
    assert found in (expected, expected[::-1])


def test_points_on_a_straight_row_are_kept_and_long_ones_not_parted() -> None:
    found = without_ties(sewn([(0, 0), (1, 0), (3.5, 0), (12, 0)]))
    assert found in ([[0, 0], [10, 0], [35, 0], [120, 0]], [[120, 0], [35, 0], [10, 0], [0, 0]])


def test_a_closed_one_ends_where_it_began() -> None:
    found = without_ties(sewn([(0, 0), (5, 0), (5, 5), (2, 5), (0, 5)], closed=True))
    assert found[0] == found[-1]
    assert sorted(found[1:]) == [[0, 0], [0, 50], [20, 50], [50, 0], [50, 50]]


@given(st.lists(st.tuples(st.integers(-200, 200), st.integers(-200, 200)), min_size=2, max_size=30))
def test_every_vertex_is_a_needle_point(points: list[tuple[int, int]]) -> None:
    tenths = np.array(points)
    apart = np.hypot(*np.diff(tenths, axis=0).T)
    assume((apart > 0).any() and not (apart[apart > 0] < 4).any())  # none is under 0.4 mm
    (done,), findings = sew([step(line(AS_DRAWN, path(tenths / 10, closed=False)))])
    assert findings == ()
    (run,) = done.runs
    kept = tenths[np.concatenate([[True], apart > 0])].tolist()
    assert without_ties(run) in (kept, kept[::-1])


def test_stitches_that_are_too_short_are_refused() -> None:
    _, findings = sew([step(line(AS_DRAWN, path([(0, 0), (5, 0), (5.2, 0)], closed=False)))])
    assert [one.code for one in findings] == ["corners-too-close"]


@pytest.mark.parametrize("length", [0.5, 2.5, 12.0])
def test_a_length_of_stitch_says_nothing_here(length: float) -> None:
    how = stitch(StitchKind.AS_DRAWN, length)
    (done,), findings = sew([step(line(how, path([(0, 0), (7, 0)], closed=False)))])
    assert findings == ()
    assert without_ties(done.runs[0]) in ([[0, 0], [70, 0]], [[70, 0], [0, 0]])
