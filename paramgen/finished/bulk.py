"""How thick it is: under each line stitched, by machine and by hand, and when it is closed.

Each figure is an estimate with a range, as a ply is: only what is too thick over all of it is
refused.

Allowances are counted by mirroring: what lies so far outside the seam line is turned in to lie as
far inside it. So the plies under stitching by hand are those of the finished thing at that place
and those that lay on the other side of the seam line.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_limits import CLOSED, UNDER_EMBROIDERY, UNDER_SEWING
from paramgen.finished.finished_thing import FinishedThing, top_stitched
from paramgen.finished.standing_room import room_place
from paramgen.geometry.mirror import mirrored_points
from paramgen.rehearsal.faces import trimmed_to
from paramgen.rehearsal.line_stretches import spots_along
from paramgen.rehearsal.sheets import Sheet
from paramgen.vocabulary.facts import Mm, StepName, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import BoolArray, FloatArray, Point

#: Least and most, mm.
ThicknessRange = tuple[float, float]
#: Two points of each line it is folded along, in order.
Folds = Sequence[tuple[Point, Point]]

#: A line is looked at so often, mm.
EVERY = 2.0
#: Each fold doubles the places to look at; more are not made by hand, as cloth grows too thick.
MOST_FOLDS = 6
#: The closed thing is looked at this far inside its edge as well: on its allowances, mm.
BESIDE_EDGE = 1.5


@dataclass(frozen=True)
class Thickness:
    """How thick the closed thing is.

    Parameters
    ----------
    empty, full : (float, float)
        Least and most, mm: with nothing in it, and with all that it is to hold.
    """

    empty: ThicknessRange
    full: ThicknessRange


@dataclass(frozen=True)
class PliesUnderNeedle:
    """What lies under the needle along a line that is stitched by hand.

    Parameters
    ----------
    step : int
    plies : int
        The most at any place.
    thick : (float, float)
        There, least and most, mm.
    place : tuple of Point
        Where it is thickest.
    """

    step: int
    plies: int
    thick: ThicknessRange
    place: tuple[Point, ...]


def bulk(thing: FinishedThing) -> Iterator[Finding]:
    """Find lines that are too thick to be stitched, and what is too thick to be closed."""
    called = thing.project.step_called
    for line in by_machine(thing):
        yield from _thick(line, called(line.step), "machine", UNDER_EMBROIDERY)
    for line in by_hand(thing):
        yield from _thick(line, called(line.step), "hand", UNDER_SEWING)
    least, most = closed_thickness(thing).full
    if least > CLOSED:
        yield Finding(
            "closed-too-thick",
            Severity.CANNOT,
            facts(least=Mm(least), most=Mm(most), limit=Mm(CLOSED), over=Mm(least - CLOSED)),
            amount=least - CLOSED,
        )


def _thick(
    line: PliesUnderNeedle, step: StepName, by: str, limits: ThicknessRange
) -> Iterator[Finding]:
    least, most = line.thick
    limit, refused = limits
    known = facts(step=step, plies=line.plies, least=Mm(least), most=Mm(most), limit=Mm(refused))
    if least > refused:
        yield Finding(
            f"too-bulky-by-{by}",
            Severity.CANNOT,
            known,
            amount=least - refused,
            place=line.place,
            step=line.step,
        )
    elif (least + most) / 2 > limit:
        yield Finding(
            f"bulky-by-{by}",
            Severity.KNOW,
            known,
            amount=(least + most) / 2 - limit,
            place=line.place,
            step=line.step,
        )


@lru_cache(maxsize=4)
def by_machine(thing: FinishedThing) -> tuple[PliesUnderNeedle, ...]:
    """What lies under each line stitched in the hoop where it is thickest."""
    pile = thing.done.sandwich
    through = [
        sewn for sewn in pile.sewn if sum(sheet.step < sewn.step for sheet in pile.sheets) > 1
    ]
    along = [
        np.concatenate([spots_along(part, EVERY) for part in shapely.get_parts(sewn.path)])
        for sewn in through
    ]
    if not along:
        return ()
    there = pile.areas.cover(np.concatenate(along))
    found = []
    for sewn, spots, lies in zip(
        through,
        along,
        np.split(there, np.cumsum([len(one) for one in along])[:-1], axis=1),
        strict=True,
    ):
        laid = [place for place, (sheet, _) in enumerate(pile.whole) if sheet.step < sewn.step]
        stacks = _stacked([pile.whole[place][0] for place in laid], lies[laid])
        found.append(_under(sewn.step, spots, stacks))
    return tuple(found)


@lru_cache(maxsize=4)
def by_hand(thing: FinishedThing) -> tuple[PliesUnderNeedle, ...]:
    """What lies under each line stitched by hand where it is thickest, allowances included."""
    along = tuple(
        _under(step.number, spots, _open(thing, spots))
        for step in top_stitched(thing.project)
        for mark in step.mark
        for spots in [spots_along(mark.line, EVERY)]
    )
    corners = sorted(_across_corners(thing), key=lambda one: one.thick[1])[-1:]
    return (*along, *corners, *(line for one in corners for line in _corner_bound(thing, one)))


def _corner_bound(thing: FinishedThing, across: PliesUnderNeedle) -> Iterator[PliesUnderNeedle]:
    """What lies under the binding of a corner: what is sewn across there, and the binding."""
    pieces = {piece.name: piece for piece in thing.project.pieces}
    fabrics = {fabric.role: fabric for fabric in thing.project.fabrics}
    for step in thing.project.steps:
        for binding in step.pieces if step.act is Act.BIND else ():
            piece, (least, most) = pieces[binding], across.thick
            fabric = fabrics[piece.fabric]
            thin, thick = fabric.ply if thing.project.fused(piece) else fabric.material.ply
            yield PliesUnderNeedle(
                step.number,
                across.plies + _BINDING,
                (least + _BINDING * thin, most + _BINDING * thick),
                across.place,
            )


def _across_corners(thing: FinishedThing) -> Iterator[PliesUnderNeedle]:
    """What lies under a seam across a corner, beside the two seams that lie on each other there.

    The same wall lies there twice, once beside each seam, and the allowances of both with it.
    """
    boxed = thing.project.finish.boxed
    steps = [step.number for step in thing.project.steps if step.act is Act.BOX]
    if boxed is None or not steps:
        return
    behind = room_place(thing)
    plies = [thing.plies[:behind], thing.plies[behind:]]
    for end, corner, side in boxed.folds:
        spots = np.array([_beside(end, corner, side), _beside(side, corner, end)])
        stacks = _open(thing, spots)
        there = np.split(thing.areas.cover(spots), [behind])
        back, front = (
            _stacked([ply.sheet for ply in wall], lies)
            for wall, lies in zip(plies, there, strict=True)
        )
        together = (stacks - np.minimum(back, front)).sum(axis=1, keepdims=True)
        place = np.array([end, side]).mean(axis=0, keepdims=True)
        yield _under(steps[0], place, together)


def _beside(end: Point, corner: Point, other: Point) -> FloatArray:
    """A spot beside the end of a seam across a corner: within the edge, past the seam."""
    at, inner, away = (np.array(one) for one in (end, corner, other))
    into = (inner - at) / np.hypot(*(inner - at))
    past = (inner - away) / np.hypot(*(inner - away))
    return np.asarray(at + into * BESIDE_EDGE + past * _PAST_ACROSS)


def _under(step: int, spots: FloatArray, stacks: FloatArray) -> PliesUnderNeedle:
    count, least, most = stacks
    at = int(np.argmax(most))
    thick = np.flatnonzero(most >= most[at] - 1e-9)[:8]
    place = tuple((float(x), float(y)) for x, y in spots[thick])
    return PliesUnderNeedle(step, int(count.max()), (float(least[at]), float(most[at])), place)


def _stacked(sheets: Sequence[Sheet], there: BoolArray) -> FloatArray:
    """Plies at each place, and their least and most thickness, mm, shape (3, places).

    Parameters
    ----------
    sheets : sequence of Sheet
    there : array of bool, shape (sheets, places)
        Which of them lie where.
    """
    each = np.array([(1.0, *sheet.ply) for sheet in sheets]).reshape(-1, 3)
    each *= np.array([sheet.plies for sheet in sheets]).reshape(-1, 1)
    return np.asarray(np.einsum("sk,sp->kp", each, there.astype(np.float64)))


def _open(thing: FinishedThing, spots: FloatArray) -> FloatArray:
    """The same in the finished thing, open and flat: its plies, and their allowances turned in.

    What lies outside the seam line is turned in along it: at a place so far inside the line lies
    what lay as far outside, the raw ends of what stands out among it.
    """
    sheets = [ply.sheet for ply in thing.plies]
    there = thing.areas.cover(spots)
    if not thing.done.turned:
        return _stacked(sheets, there)
    seam = thing.project.seam.line
    foot = shapely.get_coordinates(
        shapely.line_interpolate_point(seam, shapely.line_locate_point(seam, shapely.points(spots)))
    )
    outside = 2 * foot - spots
    left = trimmed_to(thing.project, thing.done.sandwich)
    kept = _covers(left, outside) & _covers(thing.room, spots)
    pile = thing.done.sandwich
    sheets += [sheet for sheet, _ in pile.whole]
    return _stacked(sheets, np.concatenate([there, kept & pile.areas.cover(outside)]))


def _covers(area: BaseGeometry, spots: FloatArray) -> BoolArray:
    shapely.prepare(area)
    return np.asarray(shapely.contains_xy(area, *spots.T))


@lru_cache(maxsize=4)
def closed_thickness(thing: FinishedThing) -> Thickness:
    """How thick it is where it is thickest when its folds are made, empty and full."""
    edge = _rim(thing)
    rims = [spots_along(part, EVERY) for part in shapely.get_parts(edge) if part.length > EVERY]
    bodies = _bodies(thing)
    empty = _most(thing, np.concatenate([*rims, bodies]))
    return Thickness(empty, _filled(thing, empty))


@lru_cache(maxsize=4)
def _rim(thing: FinishedThing) -> BaseGeometry:
    """Where the closed thing is looked at on its allowances."""
    return thing.room.buffer(-BESIDE_EDGE, join_style="mitre").boundary


def thickness_at(thing: FinishedThing, at: Point) -> ThicknessRange:
    """How thick it is, full, where its last fold lays something round its edge, mm.

    Parameters
    ----------
    thing : FinishedThing
    at : Point
        At that edge.
    """
    edge = _rim(thing)
    foot = edge.interpolate(edge.project(shapely.Point(at)))
    spot = shapely.get_coordinates(foot)
    return _filled(thing, _most(thing, spot))


@lru_cache(maxsize=4)
def body_thickness(thing: FinishedThing) -> ThicknessRange:
    """How thick it is closed and full, clear of the allowances turned in at its edge, mm."""
    body = _most(thing, _bodies(thing))
    # What is folded with it lies on both sides of each fold.
    times = 2 ** len(thing.crossed)
    holds = sum(
        held.number * held.thickness * (times if held.folds else 1)
        for held in thing.project.holds
        if not thing.project.depth  # what stands in it need not be held flat
    )
    return body[0] + holds, body[1] + holds


def open_thickness(thing: FinishedThing, spots: FloatArray) -> ThicknessRange:
    """Thickness of the open, empty thing where it is thickest of some places, mm."""
    _, least, most = _open(thing, spots)
    return float(least.max(initial=0.0)), float(most.max(initial=0.0))


def _filled(thing: FinishedThing, empty: ThicknessRange) -> ThicknessRange:
    """Thickness with all that it holds, at the middle of it if it is thicker there, mm."""
    body = body_thickness(thing)
    return max(empty[0], body[0]), max(empty[1], body[1])


def _most(thing: FinishedThing, spots: FloatArray) -> ThicknessRange:
    """Thickness where it is thickest of some spots, closed, mm."""
    folds = thing.project.finish.folds
    if thing.wraps:  # what is laid round the edge last lies on the closed thing
        folds = folds[:-1]
    _, least, most = _closed(thing, spots, folds)
    return float(least.max(initial=0.0)), float(most.max(initial=0.0))


@lru_cache(maxsize=4)
def _bodies(thing: FinishedThing) -> FloatArray:
    """A spot of every face on every panel that lies clear of the allowances turned in."""
    inner = thing.room.buffer(-_PAST_ALLOWANCE)
    panels = np.array([panel & inner for panel in thing.panels], dtype=object)
    areas = np.array(thing.done.plane.areas, dtype=object)[:, np.newaxis]
    shapely.prepare(panels)
    within, met = shapely.covers(panels, areas), shapely.intersects(panels, areas)
    faces = np.repeat(areas, len(panels), axis=1)
    face, panel = np.nonzero(met & ~within)
    faces[face, panel] = shapely.intersection(areas[face, 0], panels[panel])
    large = faces[met & (shapely.area(faces) > 1.0)]
    return shapely.get_coordinates(shapely.point_on_surface(large)).reshape(-1, 2)


#: Layers of a binding, which is folded in four round the edge.
_BINDING = 4
#: So far past a seam across a corner nothing of the corner itself lies, mm.
_PAST_ACROSS = 6.0
#: Beyond the allowances turned in from the edge, mm.
_PAST_ALLOWANCE = 8.0


def _closed(thing: FinishedThing, spots: FloatArray, folds: Folds) -> FloatArray:
    """Plies and thickness at spots, of all that comes to lie there when the folds are made.

    What lies at a spot after a fold lay there before it, or where the fold mirrors the spot to; so
    the folds are undone from the last to the first.
    """
    if not len(spots):
        return np.zeros((3, 0))
    places = [spots]
    for start, end in reversed(folds[:MOST_FOLDS]):
        line = shapely.LineString([start, end])
        places += [mirrored_points(some, line) for some in places]
    stacks = _open(thing, np.concatenate(places)).reshape(3, len(places), len(spots))
    return np.asarray(stacks.sum(axis=1))
