"""How far the needle points of a project reach, known before its runs are put in order.

A run may be sewn in several ways, and its farthest needle points seldom depend on which. Where they
do, all is sewn.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from paramgen.stitches.courses import CoursesLaid, PathToSew, lay_courses
from paramgen.stitches.measures import grid_box, needle_bounds
from paramgen.stitches.path_ruler import PathRuler
from paramgen.stitches.sew import jobs_of, sew
from paramgen.stitches.spacing import HAIR, on_grid
from paramgen.stitches.stitch_kinds import Course, visits
from paramgen.stitches.zigzag import swung
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import IntArray
from paramgen.vocabulary.project import Step

#: Farther than anything in a hoop reaches, in steps of the grid.
_FAR_AWAY = 10**6

#: Left, top, right and bottom, in steps of the grid; the first two are negated, so that more is
#: always farther out.
_Reaches = tuple[int, ...]


def farthest_needles(steps: Sequence[Step]) -> tuple[Box, tuple[Finding, ...]]:
    """The smallest box that all needle points of `sew` lie in, and what it finds.

    Parameters
    ----------
    steps : sequence of Step

    Returns
    -------
    box : Box
        As from `needle_bounds`.
    findings : tuple of Finding
        As from `sew`.

    Raises
    ------
    CannotMakeError
        If there is more to sew than the budget has.

    Examples
    --------
    A line 30 mm to either side of the middle, sewn at 2.5 mm, and nothing at all:

    >>> from paramgen.vocabulary.kinds import Act, Role, Side, StitchKind
    >>> from paramgen.vocabulary.path import path
    >>> from paramgen.vocabulary.project import Line, Stitch
    >>> along = path([(-30, 0), (30, 0)], closed=False)
    >>> line = Line("edge", "Edge", Role.TACK_DOWN, Stitch(StitchKind.RUN, 2.5), (along,))
    >>> step = Step(
    ...     number=1, stop=1, act=Act.STITCH, title="", say="", seen_from=Side.FRONT, lines=(line,)
    ... )
    >>> farthest_needles([step])
    (Box(left=-30.0, top=0.0, right=30.0, bottom=0.0), ())
    >>> farthest_needles([])
    (Box(left=0.0, top=0.0, right=0.0, bottom=0.0), ())
    """
    jobs = jobs_of([step for step in steps if step.lines])
    if not jobs:
        return needle_bounds([]), ()
    laid = lay_courses(jobs)
    reaches = _whichever_way(laid) if laid.jobs else None
    if reaches is None:
        return needle_bounds(sew(steps)[0]), laid.findings
    left, top, right, bottom = reaches
    return grid_box((-left, -top), (right, bottom)), laid.findings


def _whichever_way(laid: CoursesLaid) -> _Reaches | None:
    """How far they reach, if that is so in whichever way each run is sewn; else None."""
    over = _at_most(laid)
    known: dict[int, _Reach] = {}
    found = []
    for side in range(4):
        farthest_first = np.argsort(-over[:, side], kind="stable").tolist()
        least = most = -_FAR_AWAY
        for place in farthest_first:
            if over[place, side] <= least:
                break
            if place not in known:
                known[place] = _reach(laid.ruler, laid.jobs[place], laid.courses[place])
            least = max(least, known[place].least[side])
            most = max(most, known[place].most[side])
        if least != most:
            return None
        found.append(least)
    return tuple(found)


@dataclass(frozen=True)
class _Reach:
    """How far a run reaches at each side, sewn the way in which that is least, and most."""

    least: _Reaches
    most: _Reaches


def _reach(ruler: PathRuler, job: PathToSew, course: Course) -> _Reach:
    ways = np.array([*_of_ways(ruler, job, course)])
    return _Reach(tuple(ways.min(axis=0).tolist()), tuple(ways.max(axis=0).tolist()))


def _of_ways(ruler: PathRuler, job: PathToSew, course: Course) -> Iterator[IntArray]:
    for way in course.ways:
        sewn = visits(way)
        readings, aside = np.array(sewn.readings), np.array(sewn.aside)
        advance = np.full(len(readings), job.line.stitch.spacing)
        needles = on_grid(swung(ruler, readings, aside, advance))
        yield np.concatenate([-needles.min(axis=0), needles.max(axis=0)])


def _at_most(laid: CoursesLaid) -> IntArray:
    """How far each run reaches at each side at most, in steps of the grid, shape (runs, 4).

    Needle points lie on its path or aside of it, and what lies farther out is rounded no nearer.
    """
    boxes = np.array([job.path.bounds for job in laid.jobs])
    swing = np.array([max(map(abs, one.aside), default=0.0) for one in laid.courses])
    reach = np.where(swing > 0, swing + HAIR, 0.0)[:, None]
    low, high = on_grid(boxes[:, :2] - reach), on_grid(boxes[:, 2:] + reach)
    return np.concatenate([-low, high], axis=1)
