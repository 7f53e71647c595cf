"""Which part of a finished thing hangs on which, as its folds are made in order."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing, fold_line
from paramgen.finished.round_the_edge import first_halves, spent_round_the_edge
from paramgen.geometry.mirror import mirrored_points
from paramgen.solid.solid_model import SolidHinge, SolidPanel
from paramgen.solid.solid_parts import SolidPart
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import BoolArray, FloatArray, Point

#: What the last fold lays round the edge turns in the last part of the closing.
_WRAPS_FROM = 0.75


def hung(
    thing: FinishedThing, parts: Sequence[SolidPart]
) -> tuple[list[int], dict[int, tuple[int, SolidHinge]]]:
    """Which part hangs on which, as it is folded in order; parents before what hangs on them.

    It is folded as hands do: each fold lays what moves over what stays, to the inside, and what has
    been turned over before to the other side.
    """
    spots = [np.array(shapely.point_on_surface(part.area).coords[0]) for part in parts]
    turned_over = set[int]()
    inner = -1 if thing.outer is Side.FRONT else 1
    towards = inner
    # What stands out hangs beside its panel, not between that and what it is laid on.
    stack = list(range(len(parts)))[::-towards]
    hangs: dict[int, tuple[int, SolidHinge]] = {}
    for index, part in enumerate(parts):
        if part.past is not None:
            hangs[index] = _at_rim(parts, index, part.past)
    halves = first_halves(thing)
    spot = np.array(halves[0]) if halves else None
    folds = thing.project.finish.folds
    for number, fold in enumerate(folds):
        line = fold_line(fold)
        sides = np.array([_aside(point, line) > 0 for point in spots])
        moving = {k for k in range(len(parts)) if sides[k] == _moves(parts, sides, spot, line)}
        if spot is None and fold in thing.crossed:  # not what goes round an edge
            areas = {k: parts[k].area.area for k in moving}
            over = sum(areas[k] for k in moving & turned_over)
            towards = -inner if over > sum(areas.values()) / 2 else inner
        first, last = _turns(thing, number)
        before = [k for k in stack if k in moving]
        rest = [k for k in stack if k not in moving]
        stack = [*before[::-1], *rest] if towards < 0 else [*rest, *before[::-1]]
        for child, parent, lies in _at_fold(thing, parts, fold, moving, hangs):
            one, other = sorted((stack.index(child), stack.index(parent)))
            hangs[child] = (
                parent,
                replace(
                    lies,
                    closed=180.0,
                    side=-towards if parent in turned_over else towards,
                    between=tuple(stack[one + 1 : other]),
                    first=first,
                    last=last,
                ),
            )
        for k in moving:
            spots[k] = mirrored_points(spots[k][np.newaxis], line)[0]
        turned_over ^= moving
        if spot is not None:
            spot = mirrored_points(spot[np.newaxis], line)[0]
        towards = -towards
    return _parents_first(len(parts), hangs), hangs


def _turns(thing: FinishedThing, number: int) -> tuple[float, float]:
    """In which part of the closing a fold is made."""
    count = len(thing.project.finish.folds)
    if not thing.wraps:
        return number / count, (number + 1) / count
    if number == count - 1:
        return _WRAPS_FROM, 1.0
    return _WRAPS_FROM * number / (count - 1), _WRAPS_FROM * (number + 1) / (count - 1)


def _moves(
    parts: Sequence[SolidPart],
    sides: BoolArray,
    spot: FloatArray | None,
    line: shapely.LineString,
) -> bool:
    """On which side of a fold lies what moves: the first half of the hardware, or less of it."""
    if spot is not None:
        return _aside(spot, line) > 0
    areas = np.array([part.area.area for part in parts])
    return bool(areas[sides].sum() < areas[~sides].sum())


def _aside(point: FloatArray, line: shapely.LineString) -> float:
    (ax, ay), (bx, by) = shapely.get_coordinates(line)
    return float((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax))


def _at_rim(
    parts: Sequence[SolidPart], index: int, rim: shapely.LineString
) -> tuple[int, SolidHinge]:
    """Something that stands out, flat, past the edge of the panel that it is held at."""
    flat = [k for k, part in enumerate(parts) if part.past is None]
    parent = min(flat, key=lambda k: float(parts[k].area.distance(rim.centroid)))
    area = parts[index].area
    return parent, _lying_flat(rim, area, area & rim.buffer(0.1))


def _at_fold(
    thing: FinishedThing,
    parts: Sequence[SolidPart],
    fold: tuple[Point, Point],
    moving: set[int],
    hangs: dict[int, tuple[int, SolidHinge]],
) -> list[tuple[int, int, SolidHinge]]:
    """What turns about a fold, on what, and where; lying flat still."""
    found = []
    for hinge in thing.hinges:
        if hinge.line == fold and len(moving & set(hinge.panels)) == 1:
            child, parent = sorted(hinge.panels, key=lambda k: k not in moving)
            if child not in hangs:
                flat = _lying_flat(shapely.LineString(fold), parts[child].area, parts[parent].area)
                found.append((child, parent, flat))
    if fold not in thing.crossed:  # what stands out goes round the closed edge
        spent = spent_round_the_edge(thing)
        for child in sorted(moving):
            if parts[child].past is not None:
                parent, flat = hangs[child]
                found.append((child, parent, replace(flat, spends=spent)))
    return found


def _lying_flat(line: shapely.LineString, area: BaseGeometry, other: BaseGeometry) -> SolidHinge:
    """A hinge between an area and another, before it is known to be folded."""
    start, end = _left(line, area)
    edges = _edges(area, other, start, end)
    return SolidHinge(start=start, end=end, opened=0.0, closed=0.0, side=1, edges=edges)


def _left(line: shapely.LineString, area: BaseGeometry) -> tuple[Point, Point]:
    """The ends of a line, so that an area lies on its left, with y down."""
    (ax, ay), (bx, by) = shapely.get_coordinates(line)[[0, -1]].tolist()
    if _aside(np.array(shapely.point_on_surface(area).coords[0]), line) > 0:
        return (bx, by), (ax, ay)
    return (ax, ay), (bx, by)


def _edges(
    one: BaseGeometry, other: BaseGeometry, start: Point, end: Point
) -> tuple[tuple[Point, Point], ...]:
    """Where two areas meet along a line."""
    line = fold_line((start, end)).buffer(0.1)
    both = one.boundary & line & other.buffer(0.1)
    along = np.subtract(end, start) / np.hypot(*np.subtract(end, start))
    found = []
    for part in shapely.get_parts(shapely.line_merge(both) if both.length else both):
        far = (shapely.get_coordinates(part) - start) @ along
        if np.ptp(far) > 0.5:
            a, b = (np.array(start) + along * reach for reach in (far.min(), far.max()))
            found.append(((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))))
    return tuple(found)


def reaching(panel: SolidPanel, hinge: SolidHinge) -> tuple[int, int]:
    """First and last of the slabs of a panel that reach a hinge."""
    line = fold_line((hinge.start, hinge.end))
    found = [k for k, slab in enumerate(panel.slabs) if slab.outline.dwithin(line, 0.1)]
    return min(found, default=0), max(found, default=len(panel.slabs) - 1)


def _parents_first(count: int, hangs: dict[int, tuple[int, SolidHinge]]) -> list[int]:
    order = [k for k in range(count) if k not in hangs]
    for k in order:
        order += [one for one, (parent, _) in sorted(hangs.items()) if parent == k]
    return order
