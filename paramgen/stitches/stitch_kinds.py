"""The kinds of stitching: in what order the needle visits the places along a line."""

from collections.abc import Callable
from itertools import pairwise

from paramgen.stitches.ties import tie_in, tie_off
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import StitchKind


@dataclass(frozen=True, kw_only=True)
class Course:
    """One path in the order it is sewn: readings along the ruler, mm.

    Parameters
    ----------
    kind : StitchKind
    closed : bool
        Whether the last place is the first.
    out : list of float
        Needle points of a straight pass; of a zigzag, which has none, the corners.
    over : list of float
        Places of a pass over it, from corner to corner the same way: needle points
        between those of the first pass, or those of a zigzag. Corners alone if the kind
        has no such pass.
    aside : list of float
        How far to the left of each of `over` the needle goes in, mm; 0 at the corners, so
        that each is hit and none is cut.
    starts : tuple of (int, int)
        The corners at which a closed path may begin, by their places in `out` and `over`.
    """

    kind: StitchKind
    closed: bool
    out: list[float]
    over: list[float]
    aside: list[float]
    starts: tuple[tuple[int, int], ...]

    @property
    def ways(self) -> list["Course"]:
        """The ways to sew it: from either end, or from one of its corners if it is closed."""
        if self.closed:
            return [self._begun_at(out, over) for out, over in self.starts]
        return [self, self._with(self.out[::-1], self.over[::-1], self.aside[::-1])]

    def _begun_at(self, out: int, over: int) -> "Course":
        if out == 0:
            return self
        return self._with(
            _rolled(self.out, out), _rolled(self.over, over), _rolled(self.aside, over)
        )

    def _with(self, out: list[float], over: list[float], aside: list[float]) -> "Course":
        return Course(
            kind=self.kind, closed=self.closed, out=out, over=over, aside=aside, starts=self.starts
        )


@dataclass(frozen=True)
class NeedleVisits:
    """Needle points in sewing order.

    Parameters
    ----------
    readings : list of float
        Along the ruler, mm.
    aside : list of float
        How far to the left of the line each lies, mm.
    ties : tuple of int
        How many of the first and last stitches are tie-in and tie-off.
    """

    readings: list[float]
    aside: list[float]
    ties: tuple[int, int]


def visits(course: Course) -> NeedleVisits:
    """Sew a course: tie-in, the kind's own stitches, tie-off."""
    before, after = _ties(course)
    readings, aside = _SEWN[course.kind](course)
    return NeedleVisits(
        before + readings + after,
        [0.0] * len(before) + aside + [0.0] * len(after),
        (len(before), len(after)),
    )


def ends(course: Course) -> tuple[float, float]:
    """Readings of a course's first and last needle points, mm, as in its visits."""
    before, after = _ties(course)
    return before[0], after[-1]


def _ties(course: Course) -> tuple[list[float], list[float]]:
    kind, out = course.kind, course.out
    short = kind in (StitchKind.DOUBLE, StitchKind.TRIPLE, StitchKind.SEAM)
    back = kind is StitchKind.DOUBLE or (kind is StitchKind.SEAM and not course.closed)
    last, before_last = (out[0], out[1]) if back else (out[-1], out[-2])
    return tie_in(out[0], out[1], short=short), tie_off(last, before_last, short=short)


def _run(course: Course) -> tuple[list[float], list[float]]:
    return course.out, [0.0] * len(course.out)


def _double(course: Course) -> tuple[list[float], list[float]]:
    """Out, and back beside the holes of the first pass."""
    readings = course.out + course.over[-2::-1]
    return readings, [0.0] * len(readings)


def _triple(course: Course) -> tuple[list[float], list[float]]:
    """Each stitch forward, back and forward."""
    readings = course.out[:1]
    for start, end in pairwise(course.out):
        readings += (end, start, end)
    return readings, [0.0] * len(readings)


def _zigzag(course: Course) -> tuple[list[float], list[float]]:
    return course.over, course.aside


def _seam(course: Course) -> tuple[list[float], list[float]]:
    """Straight out, then a zigzag over it: back to the start, or round once more.

    The far end of an open seam is back-stitched, as the near end is by its ties.
    """
    out, over, aside = course.out, course.over, course.aside
    if course.closed:
        turn: list[float] = []
    else:
        turn = [*tie_off(out[-1], out[-2], short=True), out[-1]]
        over, aside = over[::-1], aside[::-1]
    return out + turn + over[1:], [0.0] * (len(out) + len(turn)) + aside[1:]


_SEWN: dict[StitchKind, Callable[[Course], tuple[list[float], list[float]]]] = {
    StitchKind.RUN: _run,
    StitchKind.BASTING: _run,
    StitchKind.AS_DRAWN: _run,
    StitchKind.DOUBLE: _double,
    StitchKind.TRIPLE: _triple,
    StitchKind.ZIGZAG: _zigzag,
    StitchKind.SEAM: _seam,
}


def _rolled(places: list[float], start: int) -> list[float]:
    """Begin a closed course, whose last place is its first, at another place."""
    return places[start:-1] + places[: start + 1]
