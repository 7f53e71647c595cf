"""Sew the steps of a project: from lines to needle points."""

from collections.abc import Sequence
from itertools import accumulate, chain, pairwise

import numpy as np

from paramgen.budget import MILLIMETRES, RUNS, STITCHES
from paramgen.stitches.courses import CoursesLaid, PathToSew, about, lay_courses
from paramgen.stitches.needle_points import GridArray, Run, SewnStep
from paramgen.stitches.path_ruler import PathRuler
from paramgen.stitches.spacing import on_grid
from paramgen.stitches.stitch_kinds import Course, ends, visits
from paramgen.stitches.travel import RunWays, least_travel
from paramgen.stitches.zigzag import swung
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.path import BoolArray, IntArray
from paramgen.vocabulary.project import Step

#: The colour of a step that has none.
_BLACK = "#000000"


#: Where a bound on stitching is passed.
IN_ITS_LINES = Clause("in-its-lines")


def sew(steps: Sequence[Step]) -> tuple[tuple[SewnStep, ...], tuple[Finding, ...]]:
    """Turn the lines of a project into needle points.

    Parameters
    ----------
    steps : sequence of Step
        All the steps of the project, in order; what is done by hand is passed over.

    Returns
    -------
    sewn : tuple of SewnStep
        One for each stitched step. Each path is one run, tied in and tied off.
    findings : tuple of Finding
        Every path that cannot be sewn, with the reason; all of them stop the project,
        and their runs are left out of `sewn`.

    Raises
    ------
    CannotMakeError
        If there is more to sew than the budget has.
    """
    stitched = [step for step in steps if step.lines]
    jobs = jobs_of(stitched)
    runs: list[list[Run]] = [[] for _ in stitched]
    findings: tuple[Finding, ...] = ()
    if jobs:
        laid = lay_courses(jobs)
        findings = laid.findings
        order = _order(laid)
        for (job, _), run in zip(order, _runs(laid.ruler, order), strict=True):
            runs[job.stop].append(run)
    sewn = [
        SewnStep(step.stop or number, step.title, step.colour or _BLACK, tuple(done))
        for number, (step, done) in enumerate(zip(stitched, runs, strict=True), start=1)
    ]
    return tuple(sewn), findings


def not_to_be_sewn(steps: Sequence[Step]) -> tuple[Finding, ...]:
    """Find every path that cannot be sewn, as `sew` does, and put none in order."""
    jobs = jobs_of([step for step in steps if step.lines])
    return lay_courses(jobs).findings if jobs else ()


def jobs_of(stitched: Sequence[Step]) -> list[PathToSew]:
    """All that is to be sewn, once the budget is asked for it."""
    jobs = [
        PathToSew(stop, step, line, path)
        for stop, step in enumerate(stitched)
        for line in step.lines
        for path in line.paths
    ]
    RUNS.ask(len(jobs), IN_ITS_LINES)
    MILLIMETRES.ask(sum(job.path.length for job in jobs), IN_ITS_LINES)
    STITCHES.ask(sum(about(job) for job in jobs), IN_ITS_LINES)
    return jobs


def _order(laid: CoursesLaid) -> list[tuple[PathToSew, Course]]:
    """Put the courses of each step in order, each sewn the way that makes travel least."""
    if not laid.jobs:
        return []
    ways = [course.ways for course in laid.courses]
    flat = [way for each in ways for way in each]
    count = [len(each) for each in ways]
    owner = np.repeat(np.arange(len(ways)), count)
    points = on_grid(laid.ruler.at(np.array([ends(way) for way in flat]).ravel()))
    places = points.reshape(-1, 2, 2).astype(np.float64)

    order: list[tuple[PathToSew, Course]] = []
    place = np.zeros(2)  # the middle of the hoop
    for first, stop in _stretches(laid, owner):
        here = slice(first, stop)
        choice = least_travel(
            RunWays(owner[here] - owner[first], places[here, 0], places[here, 1]), place
        )
        order += [(laid.jobs[owner[first + way]], flat[first + way]) for way in choice]
        place = places[first + choice[-1], 1]
    return order


def _stretches(laid: CoursesLaid, owner: IntArray) -> list[tuple[int, int]]:
    """First way of each step, and the one after its last."""
    step = np.array([job.stop for job in laid.jobs], dtype=np.intp)[owner]
    bounds = [0, *(np.flatnonzero(np.diff(step)) + 1).tolist(), len(owner)]
    return [(first, stop) for first, stop in pairwise(bounds) if stop > first]


def _runs(ruler: PathRuler, order: list[tuple[PathToSew, Course]]) -> list[Run]:
    """Put every needle point on the grid, for all runs at once."""
    if not order:
        return []
    sewn = [visits(course) for _, course in order]
    readings = np.fromiter(chain.from_iterable(each.readings for each in sewn), np.float64)
    aside = np.fromiter(chain.from_iterable(each.aside for each in sewn), np.float64)
    sizes = [len(each.readings) for each in sewn]
    advance = np.repeat([job.line.stitch.spacing for job, _ in order], sizes)
    needles = on_grid(swung(ruler, readings, aside, advance))
    moved = (needles[1:] != needles[:-1]).any(axis=1)
    runs = []
    for (job, _), each, size, end in zip(order, sewn, sizes, accumulate(sizes), strict=True):
        start = end - size
        runs.append(_run(job.line.name, needles[start:end], moved[start : end - 1], each.ties))
    return runs


def _run(line: str, needles: GridArray, moved: BoolArray, ties: tuple[int, int]) -> Run:
    """Make a run, without the stitches of no length that a tie can have in a hairpin."""
    if not moved.all():
        needles = needles[np.concatenate([[True], moved])]
        ties = (int(moved[: ties[0]].sum()), int(moved[len(moved) - ties[1] :].sum()))
    return Run(line, needles, ties)
