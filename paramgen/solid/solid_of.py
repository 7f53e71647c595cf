"""The solid of a finished thing: what its folds part it into, and what stands out of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.clear_room import outward
from paramgen.finished.finished_thing import FinishedThing, Ply, fold_line
from paramgen.finished.held_things import lying
from paramgen.finished.pockets import Pocket, pockets_along
from paramgen.finished.round_the_edge import first_halves, spent_round_the_edge
from paramgen.geometry.mirror import mirrored_points
from paramgen.solid.solid_model import HeldSlab, Slab, Solid, SolidHinge, SolidPanel
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import BoolArray, FloatArray, Point
from paramgen.vocabulary.project import Held

#: A panel is looked at clear of the allowances turned in at its edge, mm.
_PAST_ALLOWANCE = 8.0
#: Nothing is thinner than paper, mm: what a recipe gives no thickness can be seen too.
_PAPER = 0.1
#: Less than this is not there, mm².
_NOTHING = 1.0
#: What the last fold lays round the edge turns in the last part of the closing.
_WRAPS_FROM = 0.75
#: So far past a mouth what lies there is looked at, mm.
_PAST_MOUTH = 2.0
#: What goes in through a zip stands off by so much, degrees: so much that it can be seen.
_THROUGH_ZIP = 40.0


def solid_of(thing: FinishedThing) -> Solid:
    """Make a solid of a finished thing.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.
    """
    parts = [*_flat_parts(thing), *_standing_out(thing)]
    order, hinges = _hung(thing, parts)
    found = _held(thing, [parts[index] for index in order])
    panels = [_panel(thing, parts[index], number, found) for number, index in enumerate(order)]
    place = {index: number for number, index in enumerate(order)}
    for number, index in enumerate(order):
        if index in hinges:
            parent, hinge = hinges[index]
            both = panels[place[parent]], panels[number]
            panels[number] = replace(
                panels[number],
                parent=place[parent],
                hinge=replace(
                    hinge,
                    between=tuple(place[one] for one in hinge.between),
                    reach=(_reaching(both[0], hinge), _reaching(both[1], hinge)),
                ),
                level=_level(thing, parts[index], panels[place[parent]]),
            )
    outer = 1 if thing.outer is Side.FRONT else -1
    return Solid(tuple(panels), tuple(one.slab for one in found), outer)


@dataclass(frozen=True, eq=False)
class _Part:
    """A panel in the making: where it lies, its plies, and the edge it stands out past."""

    area: BaseGeometry
    plies: tuple[int, ...]
    past: shapely.LineString | None = None


def _flat_parts(thing: FinishedThing) -> list[_Part]:
    flat = tuple(at for at, ply in enumerate(thing.plies) if ply.swung is None)
    return [_Part(panel, flat) for panel in thing.panels]


def _standing_out(thing: FinishedThing) -> list[_Part]:
    """What stands out past an edge, the plies of each flap together."""
    flaps: dict[int, list[int]] = {}
    for at, ply in enumerate(thing.plies):
        if ply.swung is not None and ply.area.area > _NOTHING:
            flaps.setdefault(id(ply.flap), []).append(at)
    return [
        _Part(
            shapely.union_all([thing.plies[at].area for at in plies]),
            tuple(plies),
            thing.plies[plies[0]].swung,
        )
        for plies in flaps.values()
    ]


def _hung(
    thing: FinishedThing, parts: Sequence[_Part]
) -> tuple[list[int], dict[int, tuple[int, SolidHinge]]]:
    """Which part hangs on which, as it is folded in order; parents before what hangs on them.

    It is folded as hands do: each fold lays what moves over what stays, the first to the inside,
    and each one after that to the other side.
    """
    spots = [np.array(shapely.point_on_surface(part.area).coords[0]) for part in parts]
    turned_over = set[int]()
    stack = list(range(len(parts)))
    hangs: dict[int, tuple[int, SolidHinge]] = {}
    for index, part in enumerate(parts):
        if part.past is not None:
            hangs[index] = _at_rim(parts, index, part.past)
    halves = first_halves(thing)
    spot = np.array(halves[0]) if halves else None
    towards = -1 if thing.outer is Side.FRONT else 1
    folds = thing.project.finish.folds
    for number, fold in enumerate(folds):
        line = fold_line(fold)
        sides = np.array([_aside(point, line) > 0 for point in spots])
        moving = {k for k in range(len(parts)) if sides[k] == _moves(parts, sides, spot, line)}
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
    parts: Sequence[_Part],
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


def _at_rim(parts: Sequence[_Part], index: int, rim: shapely.LineString) -> tuple[int, SolidHinge]:
    """Something that stands out, flat, past the edge of the panel that it is held at."""
    flat = [k for k, part in enumerate(parts) if part.past is None]
    parent = min(flat, key=lambda k: float(parts[k].area.distance(rim.centroid)))
    area = parts[index].area
    return parent, _lying_flat(rim, area, area & rim.buffer(0.1))


def _lying_flat(line: shapely.LineString, area: BaseGeometry, other: BaseGeometry) -> SolidHinge:
    """A hinge between an area and another, before it is known to be folded."""
    start, end = _left(line, area)
    edges = _edges(area, other, start, end)
    return SolidHinge(start=start, end=end, opened=0.0, closed=0.0, side=1, edges=edges)


def _at_fold(
    thing: FinishedThing,
    parts: Sequence[_Part],
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


def _reaching(panel: SolidPanel, hinge: SolidHinge) -> tuple[int, int]:
    """First and last of the slabs of a panel that reach a hinge."""
    line = fold_line((hinge.start, hinge.end))
    found = [k for k, slab in enumerate(panel.slabs) if slab.outline.dwithin(line, 0.1)]
    return min(found, default=0), max(found, default=len(panel.slabs) - 1)


def _parents_first(count: int, hangs: dict[int, tuple[int, SolidHinge]]) -> list[int]:
    order = [k for k in range(count) if k not in hangs]
    for k in order:
        order += [one for one, (parent, _) in sorted(hangs.items()) if parent == k]
    return order


@dataclass(frozen=True, eq=False)
class _Found:
    """A thing held: at which place of the plies, in which panels."""

    slab: HeldSlab
    place: int
    panels: frozenset[int]


def _held(thing: FinishedThing, parts: Sequence[_Part]) -> list[_Found]:
    """Everything that it holds, each in its pocket."""
    found = []
    for held in thing.project.holds:
        for pocket in pockets_along(thing, held):
            lies = lying(thing, held, pocket)
            if lies is not None:
                found.append(_in_pocket(thing, parts, held, pocket, lies))
    return found


def _in_pocket(
    thing: FinishedThing,
    parts: Sequence[_Part],
    held: Held,
    pocket: Pocket,
    lies: shapely.Polygon,
) -> _Found:
    out = outward(pocket)
    mouths = shapely.get_coordinates(pocket.mouths)
    mouth = float((mouths @ np.array(out)).max())
    place = thing.place[pocket.sheet] + (held.face is Side.FRONT)
    flat = [k for k, part in enumerate(parts) if part.past is None]
    at = pocket.mouths.interpolate(0.5, normalized=True)
    middle = shapely.Point(*(np.array(at.coords[0]) - np.array(out)))
    panel = min(flat, key=lambda k: float(parts[k].area.distance(middle)))
    into = shapely.union(pocket.area, lies)
    within = [k for k in flat if k == panel or (parts[k].area & lies).area > _NOTHING]
    within = [k for k in within if k == panel or (parts[k].area & into).area > _NOTHING]
    along = shapely.get_coordinates(lies) @ np.array(out)
    side = _opens_to(thing, pocket, place, np.array(at.coords[0]) + np.array(out) * _PAST_MOUTH)
    slab = HeldSlab(
        title=held.title,
        outline=lies,
        thickness=max(held.thickness, _PAPER),
        panel=panel,
        out=out,
        mouth=mouth,
        travel=mouth - float(along.min()) + _PAST_MOUTH,
        side=side,
        stands=_THROUGH_ZIP if pocket.through_zip else 0.0,
    )
    return _Found(slab, place, frozenset(within))


def _opens_to(thing: FinishedThing, pocket: Pocket, place: int, past: FloatArray) -> int:
    """To which side a mouth opens: where the zip lies, or where less lies before it."""
    if pocket.through_zip:
        zips = [k for k, ply in enumerate(thing.plies) if thing.layers[ply.sheet.layer].slit]
        return 1 if max(zips, default=-1) >= place else -1
    there = thing.areas.cover(past[np.newaxis])[:, 0]
    behind, before = int(there[:place].sum()), int(there[place:].sum())
    return 1 if before < behind else -1


def _panel(thing: FinishedThing, part: _Part, number: int, found: Sequence[_Found]) -> SolidPanel:
    """A panel, its plies parted where something goes between them."""
    here = [k for k, one in enumerate(found) if number in one.panels and part.past is None]
    cuts = sorted({found[k].place for k in here})
    slabs: list[Slab] = []
    holds: list[tuple[int, ...]] = []
    plies = [k for k in part.plies if (thing.plies[k].area & part.area).area > _NOTHING]
    for low, high in zip([0, *cuts], [*cuts, len(thing.plies)], strict=True):
        group = tuple(k for k in plies if low <= k < high)
        if group:
            slabs.append(_slab(thing, part, group))
            holds.append(tuple(k for k in here if found[k].place == high))
        elif holds:
            holds[-1] += tuple(k for k in here if found[k].place == high)
    return SolidPanel(outline=part.area, slabs=tuple(slabs), holds=tuple(holds))


def _slab(thing: FinishedThing, part: _Part, group: tuple[int, ...]) -> Slab:
    outline = shapely.union_all([thing.plies[k].area & part.area for k in group])
    outline = outline.buffer(0.01, join_style="mitre").buffer(-0.01, join_style="mitre")
    heights = _heights(thing, outline, group)
    return Slab(outline=shapely.simplify(outline, 0.01), plies=group, heights=heights)


def _heights(
    thing: FinishedThing, outline: BaseGeometry, group: tuple[int, ...]
) -> tuple[float, ...]:
    """Where plies end at the place where most of their thickness lies, mm."""
    inner = outline.buffer(-_PAST_ALLOWANCE)
    areas = [thing.plies[k].area & (inner if inner.area > _NOTHING else outline) for k in group]
    spots = _spots(areas)
    there = np.array([shapely.contains_xy(area, *spots.T) for area in areas])
    thick = np.array([_thickness(thing.plies[k]) for k in group])
    most = int(np.argmax(thick @ there))
    heights = np.cumsum(thick[there[:, most]])
    return tuple(float(one) for one in heights) if heights[-1] > _PAPER else (_PAPER,)


def _thickness(ply: Ply) -> float:
    return ply.sheet.plies * sum(ply.sheet.ply) / 2


def _spots(areas: Sequence[BaseGeometry]) -> FloatArray:
    """A place in each part that the edges of some areas leave."""
    lines = shapely.union_all([area.boundary for area in areas])
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    large = [face for face in faces if face.area > _NOTHING] or list(areas)
    return shapely.get_coordinates(shapely.point_on_surface(large)).reshape(-1, 2)


def _level(thing: FinishedThing, part: _Part, parent: SolidPanel) -> tuple[int, float] | None:
    """Where something that stands out leaves its parent: among which of its plies."""
    if part.past is None:
        return None
    for number, slab in enumerate(parent.slabs):
        behind = [k for k in slab.plies if k < part.plies[0]]
        if len(behind) < len(slab.plies) or number == len(parent.slabs) - 1:
            share = sum(_thickness(thing.plies[k]) for k in behind)
            return number, min(share, slab.thickness)
    return None
