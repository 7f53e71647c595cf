"""Too many stitches for the stabiliser, or too close together for the cloth."""

from collections.abc import Iterator, Sequence
from math import isqrt

import numpy as np
import shapely
from numpy.typing import NDArray

from paramgen.layout.copies_apart import seams
from paramgen.rehearsal.rehearsal_limits import (
    CROWD,
    CROWD_WITHIN,
    DENSE,
    DENSE_OVER,
    STITCHES_A_SHEET,
    sheets_for,
)
from paramgen.stitches.needle_points import GRID_MM, SewnStep
from paramgen.vocabulary.facts import StepName, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Project


def density(steps: Sequence[SewnStep], project: Project) -> Iterator[Finding]:
    """Find where the stitching is too much for stabiliser or cloth.

    Parameters
    ----------
    steps : sequence of SewnStep
    project : Project
        The project they sew, where they sew it. Only what goes through cloth inside the seam
        line, or on it, counts for the cloth.
    """
    count = sum(step.stitch_count for step in steps)
    if count > STITCHES_A_SHEET:
        yield Finding(
            "many-stitches",
            Severity.DISAPPOINT,
            facts(stitches=count, most=STITCHES_A_SHEET, sheets=sheets_for(count)),
        )
    points, stops = _within_seam(steps, project)
    for middle, stop, has in _dense(points, stops):
        last = next(step for step in steps if step.stop == stop)
        yield Finding(
            "stitches-dense",
            Severity.DISAPPOINT,
            facts(
                stop=StepName(last.stop, last.title),
                stitches=round(100 * has),
                most=round(100 * DENSE),
            ),
            place=((float(middle[0]), float(middle[1])),),
        )
    crowded = _crowded(points)
    if crowded.any():
        last = next(step for step in steps if step.stop == stops[crowded].max())
        yield Finding(
            "stitches-crowded",
            Severity.DISAPPOINT,
            facts(stop=StepName(last.stop, last.title), stitches=CROWD),
            place=tuple((float(x), float(y)) for x, y in points[crowded][:8]),
        )


def densest(steps: Sequence[SewnStep], project: Project) -> float:
    """The most penetrations a square millimetre where `density` counts them; 0 of none.

    Parameters
    ----------
    steps : sequence of SewnStep
    project : Project
        The project they sew, where they sew it.
    """
    points, _ = _within_seam(steps, project)
    squares = (
        np.unique(_numbered(np.floor(points / DENSE_OVER + shift)), return_counts=True)[1]
        for shift in _SHIFTS
        if len(points)
    )
    return max((int(many.max()) for many in squares), default=0) / DENSE_OVER**2


#: Squares lie side by side, and again half a square on, either way.
_SHIFTS = ((0.0, 0.0), (0.5, 0.0), (0.0, 0.5), (0.5, 0.5))


def _within_seam(
    steps: Sequence[SewnStep], project: Project
) -> tuple[FloatArray, NDArray[np.int64]]:
    """Penetrations through cloth inside the seam line, or on it, and the stop of each."""
    laid = min((step.number for step in project.steps if step.layers), default=0)
    bare = {step.stop for step in project.steps if step.number < laid}
    points, stops = _penetrations([step for step in steps if step.stop not in bare])
    inside = shapely.union_all([one.area for one in seams(project)])
    inside = inside.buffer(ON_SEAM)
    shapely.prepare(inside)
    kept = shapely.contains_xy(inside, *points.T)
    return points[kept], stops[kept]


def _dense(points: FloatArray, stops: NDArray[np.int64]) -> Iterator[tuple[FloatArray, int, float]]:
    """The square with the most penetrations, if they are too many: its middle, stop, and how many.

    Squares lie side by side, and again half a square on, either way, so that none is missed that
    is a quarter more.
    """
    most = DENSE * DENSE_OVER**2
    for shift in _SHIFTS:
        cells = np.floor(points / DENSE_OVER + shift)
        if not len(cells):
            return
        _, first, which, many = np.unique(
            _numbered(cells), return_index=True, return_inverse=True, return_counts=True
        )
        if many.max() > most:
            at = int(many.argmax())
            middle = (cells[first[at]] + 0.5 - np.array(shift)) * DENSE_OVER
            last = int(stops[which.ravel() == at].max())
            yield middle, last, float(many[at]) / DENSE_OVER**2
            return


#: A point this near to the seam line is on it, mm.
ON_SEAM = 0.2


def _penetrations(steps: Sequence[SewnStep]) -> tuple[FloatArray, NDArray[np.int64]]:
    """All needle points, ties and ends left out, mm, and the stop of each."""
    points: list[FloatArray] = [np.empty((0, 2))]
    stops: list[NDArray[np.int64]] = [np.empty(0, dtype=np.int64)]
    for step in steps:
        for run in step.runs:
            first, last = run.ties
            # A line that comes back to its start meets itself there once, and that is well.
            kept = run.needles[first + 1 : len(run.needles) - last - 1]
            points.append(np.asarray(kept * GRID_MM, dtype=np.float64))
            stops.append(np.full(len(kept), step.stop))
    return np.concatenate(points), np.concatenate(stops)


def _crowded(points: FloatArray) -> NDArray[np.bool_]:
    """Which points have too many others near."""
    # However many lie in one place, it is looked at once.
    places, first, which, many = np.unique(
        _numbered(np.rint(points / GRID_MM)),
        return_index=True,
        return_inverse=True,
        return_counts=True,
    )
    before = np.concatenate([[0], np.cumsum(many)])
    near = np.zeros(len(places), dtype=np.int64)  # each is near itself
    for column in range(1 - _AWAY, _AWAY):
        # The places of a column follow each other.
        middle, reach = places + column * _LINE, isqrt(_AWAY**2 - column**2 - 1)
        near += before[np.searchsorted(places, middle + reach, side="right")]
        near -= before[np.searchsorted(places, middle - reach)]
    for axis, step in ((0, _LINE), (1, 1)):
        # Just so far away, on either side: as near as noise makes it.
        one, other = _pairs(places, _AWAY * step)
        at = points[first, axis]
        there = np.abs(at[other] - at[one]) <= CROWD_WITHIN
        one, other = one[there], other[there]
        near[one] += many[other]
        near[other] += many[one]
    return np.asarray(near[which.ravel()] >= CROWD)


#: How many needle points of the grid `CROWD_WITHIN` is.
_AWAY = round(CROWD_WITHIN / GRID_MM)
#: Needle points are numbered along lines of so many, far more than there are in any hoop.
_LINE = 1 << 20


def _numbered(cells: FloatArray) -> NDArray[np.int64]:
    """Numbers of squares, column after column: of numbers those that differ are found fast."""
    whole = cells.astype(np.int64)
    return whole[:, 0] * _LINE + whole[:, 1]


def _pairs(places: NDArray[np.int64], away: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Which places, in order, have another so far on, and which that is."""
    other = np.searchsorted(places, places + away)
    one = np.flatnonzero(np.append(places, -1)[other] == places + away)
    return one, other[one]
