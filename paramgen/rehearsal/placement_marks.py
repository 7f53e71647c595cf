"""Whether the mark that a piece is laid by can still be seen once the piece lies there."""

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import chain

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.line_stretches import runs
from paramgen.rehearsal.rehearsal_limits import CROSSING, MARK_AT_EDGE, MARK_MEETS, MARK_SHOWS
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.project import Layer, Line, Project, Step


@dataclass(frozen=True)
class _Mark:
    """Paths of one placement line that hang together."""

    line: Line
    step: Step
    path: BaseGeometry


@dataclass(frozen=True)
class _Laid:
    """A layer and the number of the step that lays it."""

    layer: Layer
    step: int

    @cached_property
    def hides(self) -> BaseGeometry:
        """Where no mark under it can be seen."""
        if self.layer.clear:
            return shapely.Polygon()
        return self.layer.outline.area.buffer(-MARK_AT_EDGE, join_style="mitre")

    @cached_property
    def beside_edge(self) -> BaseGeometry:
        """Where a mark meets its edge."""
        return self.layer.outline.line.buffer(MARK_MEETS)


@dataclass(frozen=True)
class _Covered:
    """How much of a mark shows for a layer, and what laid before that hides it."""

    mark: _Mark
    laid: _Laid
    shows: float
    first: _Laid | None


def placement_marks(project: Project) -> Iterator[Finding]:
    """Find marks of which the piece they are for, or one laid before it, leaves too little."""
    worst: dict[tuple[int, str, str], _Covered] = {}
    for one in _covered(project):
        key = (one.mark.step.number, one.mark.line.name, one.laid.layer.piece)
        if key not in worst or one.shows < worst[key].shows:
            worst[key] = one
    for one in worst.values():
        yield _finding(one)


def _covered(project: Project) -> Iterator[_Covered]:
    """Marks that can be seen for none of the layers that they touch an edge of."""
    marks, laid = _marks_and_layers(project)
    for mark in marks:
        later = [one for one in laid if one.step > mark.step.number]
        seen_for = (
            _seen(mark, one, later[:place])
            for place, one in enumerate(later)
            if _touches(mark.path, one)
        )
        first = next(seen_for, None)
        if first and all(one.shows < MARK_SHOWS for one in chain([first], seen_for)):
            yield first


def _marks_and_layers(project: Project) -> tuple[list[_Mark], list[_Laid]]:
    """Everything stitched to lay by, and everything laid, while the work is in the hoop."""
    marks: list[_Mark] = []
    laid: list[_Laid] = []
    for step in project.steps:
        if step.act is Act.UNHOOP:
            break
        laid += [_Laid(layer, step.number) for layer in step.layers]
        for line in step.lines:
            if line.role is Role.PLACEMENT:
                marks += [_Mark(line, step, one) for one in _together(line)]
    return marks, laid


def _together(line: Line) -> list[BaseGeometry]:
    """The paths of a line, joined where one comes near another.

    A path hangs together however it crosses itself, so only whole ones are held to each other.
    """
    paths = np.array([path.line for path in line.paths], dtype=object)
    if len(paths) == 1:
        return [shapely.union_all(paths)]
    one, other = shapely.STRtree(paths).query(paths, predicate="dwithin", distance=MARK_MEETS)
    first = np.arange(len(paths))
    while (first[one] != first[other]).any():
        np.minimum.at(first, one, first[other])
    return [shapely.union_all(paths[first == at]) for at in sorted({*first.tolist()})]


def _touches(mark: BaseGeometry, laid: _Laid) -> bool:
    """Whether a mark ends on an edge, or runs along it; one that crosses it says nothing."""
    edge = laid.layer.outline.line
    if not mark.dwithin(edge, MARK_MEETS):
        return False
    if mark.boundary.dwithin(edge, MARK_MEETS):
        return True
    return any(part.length > CROSSING for part in runs(mark & laid.beside_edge))


def _seen(mark: _Mark, laid: _Laid, before: Sequence[_Laid]) -> _Covered:
    """How much of a mark can be seen in one stretch on the side where a layer is laid."""
    side = laid.layer.side
    earlier = [one for one in before if one.layer.side == side]
    left = mark.path - shapely.union_all([one.hides for one in earlier])
    shows, first = _longest(left - laid.hides), None
    if shows < MARK_SHOWS and _longest(left) < MARK_SHOWS:
        first = next((one for one in earlier if one.hides.intersects(mark.path)), None)
    return _Covered(mark, laid, shows, first)


def _longest(lines: BaseGeometry) -> float:
    return max((float(part.length) for part in runs(lines)), default=0.0)


def _finding(one: _Covered) -> Finding:
    layer, step, before = one.laid.layer, one.mark.step, one.first
    return Finding(
        "mark-covered",
        Severity.DISAPPOINT,
        facts(
            piece=layer.called,
            laid=one.laid.step,
            step=step.called,
            has=Mm(one.shows),
            needs=Mm(MARK_SHOWS),
            other=before.layer.called if before else None,
            other_laid=before.step if before else None,
        ),
        variant="by-another" if before else "",
        amount=MARK_SHOWS - one.shows,
        place=place_of([one.mark.path]),
        step=step.number,
        piece=layer.piece,
    )
