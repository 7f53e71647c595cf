"""What is worked out from a sized project, kept by what it was worked out from.

So what is asked for often is worked out once, with the frozen thing it is of. Nothing here changes
what it is given, so nothing that is kept can go stale.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import replace
from typing import Generic, TypeVar

import numpy as np

from paramgen.finished.all_findings import Examined, Proven
from paramgen.layout.embellished_project import coarser
from paramgen.layout.lay_out import lay_out, lines_turned, shifted, without_curves
from paramgen.recipe.read_recipe import Recipe
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.stitches.farthest_needles import farthest_needles
from paramgen.stitches.measures import grid_box, needle_bounds
from paramgen.stitches.needle_points import GRID_MM, SewnStep
from paramgen.stitches.sew import not_to_be_sewn, sew
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.findings import CannotMakeError, Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Placement, Project
from paramgen.vocabulary.unit import Unit

Answer = TypeVar("Answer")

#: Smallest field, width and height, that takes stitches centred, mm.
Needs = tuple[float, float]


@dataclass(frozen=True)
class Stitched:
    """A project with its stitches, centred, before it is known to fit."""

    project: Project
    sewn: tuple[SewnStep, ...]
    extent: Box
    move: tuple[float, float]

    @property
    def needs(self) -> Needs:
        """Smallest field that takes it centred, as it lies in the hoop."""
        return _field(self.extent)


class Kept(Generic[Answer]):
    """Answers by their questions; the ones that were asked for longest ago go first.

    Parameters
    ----------
    most : int
        So many are kept; 0 keeps none.

    Examples
    --------
    >>> kept = Kept[int](most=2)
    >>> [kept.get(text, lambda text=text: len(text)) for text in ("a", "bb", "a", "ccc")]
    [1, 2, 1, 3]
    >>> kept.get("bb", lambda: 0)  # it was asked for longest ago, and is asked again
    0
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._answers: OrderedDict[Hashable, Answer | CannotMakeError] = OrderedDict()

    def __len__(self) -> int:
        return len(self._answers)

    def get(self, question: Hashable, work_out: Callable[[], Answer]) -> Answer:
        """An answer, worked out if it is not kept; that it cannot be made is kept as well."""
        if question in self._answers:
            self._answers.move_to_end(question)
            answer = self._answers[question]
        else:
            try:
                answer = work_out()
            except CannotMakeError as problem:
                answer = CannotMakeError(problem.findings)
            if self._most:
                self._answers[question] = answer
                if len(self._answers) > self._most:
                    self._answers.popitem(last=False)
        if isinstance(answer, CannotMakeError):
            raise answer.with_traceback(None)
        return answer


#: So many stitched projects and finished things are kept: each takes up to a few megabytes.
MOST_WHOLE = 12

#: So many projects are kept as they are laid out, which takes less than a megabyte each: what field
#: they need is asked after whether they can be made.
MOST_LAID_OUT = 64

#: So many sized recipes are kept: each takes some ten kilobytes.
MOST_SIZED = 64

#: So many answers of few numbers and sentences are kept.
MOST_ANSWERS = 20_000


class Works:
    """Numbers, stitches and findings of projects, each worked out once while it is kept.

    Parameters
    ----------
    most_whole, most_answers, most_sized, most_laid_out : int
        So many projects, so many short answers, the numbers of so many recipes, and so many
        projects that are laid out and not stitched, are kept.
    """

    def __init__(
        self,
        most_whole: int = MOST_WHOLE,
        most_answers: int = MOST_ANSWERS,
        most_sized: int = MOST_SIZED,
        most_laid_out: int = MOST_LAID_OUT,
    ) -> None:
        self._sized = Kept[Sized](most_sized)
        self._laid_out = Kept[Project](most_laid_out)
        self._stitched = Kept[Stitched](most_whole)
        self._examined = Kept[Examined](most_whole)
        self._proven = Kept[Proven](most_whole)
        self._needs = Kept[Needs](most_answers)
        self._found = Kept[tuple[Finding, ...]](most_answers)
        self._first_stop = Kept[tuple[Finding, ...]](most_answers)
        self._stops = Kept[tuple[Finding, ...]](most_answers)
        self._sewable = Kept[None](most_answers)

    def sized(
        self, recipe: Recipe, asked: Mapping[str, str | float], *, unit: Unit, scale: float = 1.0
    ) -> Sized:
        """Every number of a recipe; see `size`.

        Raises
        ------
        InputError
            If what is asked is wrong.
        """
        key = (recipe.key, in_order(asked), unit, scale)
        return self._sized.get(key, lambda: size(recipe, asked, unit=unit, scale=scale))

    def stitched(self, sized: Sized, *, turned: bool = False, half: bool = False) -> Stitched:
        """A sized recipe laid out, stitched and centred; see `stitch`."""

        def work_out() -> Stitched:
            if turned or half:
                return stitch(sized, turned=turned, half=half)
            return _sewn_centred(self._as_it_is(sized), Placement())

        return self._stitched.get((sized.key, turned, half), work_out)

    def _as_it_is(self, sized: Sized) -> Project:
        """A sized recipe laid out neither turned nor half-turned, fit to be sewn."""
        return self._laid_out.get(sized.key, lambda: lay_out(sized))

    def needs(self, sized: Sized, *, turned: bool = False) -> Needs:
        """Smallest field that takes its stitches, mm.

        Raises
        ------
        CannotMakeError
            If there are none.
        """

        def work_out() -> Needs:
            steps = self._as_it_is(sized).steps
            lying = lines_turned(steps, Placement(turned)) if turned else steps
            box, found = farthest_needles(lying)
            if any(finding.stops for finding in found):  # said of it as it lies
                return self.stitched(sized, turned=turned).needs
            return _field(_moved(box, _to_the_middle(box)))

        return self._needs.get((sized.key, turned), work_out)

    def ask_to_sew(self, sized: Sized) -> None:
        """See whether all its lines can be sewn, which is known sooner than what field they need.

        Raises
        ------
        CannotMakeError
            As `needs`.
        """

        def work_out() -> None:
            project = self._as_it_is(sized)
            found = not_to_be_sewn(project.steps)
            if any(finding.stops for finding in found):
                raise CannotMakeError([*project.findings, *found])

        self._sewable.get(sized.key, work_out)

    def proven(self, sized: Sized) -> Proven:
        """What is found about a sized recipe in no hoop, and the finished thing.

        Raises
        ------
        CannotMakeError
            If it has no shape to rehearse.
        """

        def work_out() -> Proven:
            examined = self._being_examined(sized)
            return Proven(examined.all_found(), examined.thing)

        return self._proven.get(sized.key, work_out)

    def _being_examined(self, sized: Sized) -> Examined:
        """A sized recipe rehearsed and turned out; what is found of it is found once."""
        return self._examined.get(sized.key, lambda: Examined(self._to_rehearse(sized)))

    def _to_rehearse(self, sized: Sized) -> Project:
        """A sized recipe laid out with curves no finer than the rehearsal needs."""
        if without_curves(sized, COARSE):
            return coarser(self._as_it_is(sized), COARSE)
        return coarser(lay_out(sized, chord_error=COARSE), COARSE)

    def found(self, sized: Sized) -> tuple[Finding, ...]:
        """What is found about a sized recipe in no hoop, be it that it has no shape."""

        def work_out() -> tuple[Finding, ...]:
            try:
                return self.proven(sized).findings
            except CannotMakeError as problem:
                return problem.findings

        return self._found.get(sized.key, work_out)

    def stops(self, sized: Sized) -> tuple[Finding, ...]:
        """What is found that stops it, be it that it has no shape."""

        def work_out() -> tuple[Finding, ...]:
            try:
                return self._being_examined(sized).stops
            except CannotMakeError as problem:
                return tuple(one for one in problem.findings if one.stops)

        return self._stops.get(sized.key, work_out)

    def first_stop(self, sized: Sized) -> tuple[Finding, ...]:
        """The first that is found and stops it, if any does."""

        def work_out() -> tuple[Finding, ...]:
            try:
                return self._being_examined(sized).first_stop
            except CannotMakeError as problem:
                return tuple(one for one in problem.findings if one.stops)[:1]

        return self._first_stop.get(sized.key, work_out)


#: Works everything out anew.
AFRESH = Works(0, 0, 0, 0)


def in_order(asked: Mapping[str, str | float]) -> tuple[tuple[str, str], ...]:
    """What is asked, equal in whatever order it is, and where each is typed in the same way.

    Examples
    --------
    >>> in_order({"width": "90", "pockets": 2}) == in_order({"pockets": 2, "width": "90"})
    True

    A count is a whole number, so that 2.0 is none:

    >>> in_order({"pockets": 2}) == in_order({"pockets": 2.0})
    False
    >>> in_order({})
    ()
    """
    return tuple(sorted((name, repr(value)) for name, value in asked.items()))


def stitch(sized: Sized, *, turned: bool = False, half: bool = False) -> Stitched:
    """Lay out and sew a sized recipe, and centre it by its needle points.

    Parameters
    ----------
    sized : Sized
    turned, half : bool
        Whether it lies turned by 90°, and by 180° besides.

    Raises
    ------
    CannotMakeError
        If a condition forbids it, or a line cannot be sewn.
    """
    project = lay_out(sized, turned=turned, half=half)
    return _sewn_centred(project, Placement(turned, half=half))


def _sewn_centred(project: Project, way: Placement) -> Stitched:
    """Sew a project that is laid out some way round, and centre it by its needle points."""
    sewn, found = sew(project.steps)
    if any(finding.stops for finding in found):
        raise CannotMakeError([*project.findings, *found])
    sewn, move = _centred(sewn)
    by = (move[0] * GRID_MM, move[1] * GRID_MM)
    project = shifted(project, *by)
    findings = (*project.findings, *found)
    project = replace(project, findings=findings, placed=(replace(way, move=by),))
    return Stitched(project, sewn, needle_bounds(sewn), by)


def _centred(sewn: Sequence[SewnStep]) -> tuple[tuple[SewnStep, ...], tuple[int, int]]:
    """Move all needle points about the middle of the hoop; and by how many steps of the grid."""
    move = _to_the_middle(needle_bounds(sewn))
    moved = tuple(
        replace(
            step,
            runs=tuple(replace(run, needles=run.needles + np.array(move)) for run in step.runs),
        )
        for step in sewn
    )
    return moved, move


def _to_the_middle(extent: Box) -> tuple[int, int]:
    """By how many steps of the grid it moves: whole ones, so that needle points move exactly."""
    x, y = extent.centre
    return -round(x / GRID_MM), -round(y / GRID_MM)


def _moved(extent: Box, move: tuple[int, int]) -> Box:
    """The box of needle points that were moved by steps of the grid."""
    dx, dy = move
    left, top, right, bottom = (
        round(side / GRID_MM) for side in (extent.left, extent.top, extent.right, extent.bottom)
    )
    return grid_box((left + dx, top + dy), (right + dx, bottom + dy))


def _field(extent: Box) -> Needs:
    """Smallest field that takes what reaches so far about its middle."""
    return 2 * max(-extent.left, extent.right), 2 * max(-extent.top, extent.bottom)
