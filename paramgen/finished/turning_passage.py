"""Where a hand goes in to turn the work out, and between which of the layers that lie there."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_limits import GAP_EDGE
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.flaps import Flap, FlapSide, closed_in_front, flaps, mouth, walls
from paramgen.geometry.mirror import mirrored
from paramgen.rehearsal.outside_hollow import Rehearsed, gap_ways
from paramgen.rehearsal.sheets import Sheet
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Role, Side
from paramgen.vocabulary.path import FloatArray, Point

#: A line holds what lies along a gap if it runs along so much of it.
MOST_OF_IT = 0.9
#: What lies so near to a line lies on it, mm.
_AT = 0.01
#: So far inside its mouth a flap covers what lies under it, mm.
_INSIDE = 1.0
#: A fold lies behind or before the hand, and not aside, if so much of the way to it does (cosine).
_MOSTLY = 0.5
#: Part of a mouth's length at which one looks into it: clear of what lies in its middle.
_ASIDE = 0.2


@dataclass(frozen=True, eq=False, kw_only=True)
class Passage:
    """The layers at a place where a hand goes in.

    Parameters
    ----------
    layers : tuple of tuple of Sheet
        From the back to the front as the work lies then: the sheets of each layer.
    between : int
        The hand goes in behind this layer and in front of the one before it.
    way : Point
        A vector the way that it goes.
    partly : frozenset of int
        Those of the layers that do not lie all over there: what stands out in the end.
    beyond : tuple of tuple of Sheet
        Where the hand goes in through a slit: the layers on its other side that it passes.
    farther : frozenset of int
        Those of the layers that do not reach so far, but lie on its way: parts of the work.
    """

    layers: tuple[tuple[Sheet, ...], ...]
    between: int
    way: Point
    partly: frozenset[int] = frozenset()
    beyond: tuple[tuple[Sheet, ...], ...] = ()
    farther: frozenset[int] = frozenset()

    def folded_behind(self, sheet: Sheet) -> bool:
        """Whether a sheet is folded where the hand comes from; else the way it goes, or aside."""
        fold, middle = sheet.folds[-1].centroid, sheet.area.centroid
        away = np.array(_way(middle, fold))
        share = away @ np.array(self.way)
        return bool(share < -_MOSTLY * np.hypot(*away) * np.hypot(*self.way))

    @property
    def behind(self) -> str:
        """Title of the layer behind the hand, all over there."""
        whole = [n for n in range(self.between) if n not in self.partly | self.farther]
        return self.layers[whole[-1]][0].title

    @property
    def in_front(self) -> str:
        """Title of the layer in front of the hand, all over there."""
        here = range(self.between, len(self.layers))
        whole = [n for n in here if n not in self.partly | self.farther]
        return self.layers[whole[0]][0].title

    @property
    def on_between(self) -> tuple[str, str] | None:
        """Titles of those behind and before the hand where it goes on; None if as it went in."""
        if not self.farther:
            return None
        behind = max(self.farther) < self.between
        nearest = max(self.farther) if behind else min(self.farther)
        title = self.layers[nearest][0].title
        return (title, self.in_front) if behind else (self.behind, title)


def through_gap(done: Rehearsed) -> Passage | None:
    """Where the turning gap lets a hand in: there where most layers lie, and along most of it.

    None if no gap opens between two layers.
    """
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    if not plane.gaps:
        return None
    found = [node for node in _at_gap(done) if not _held_beside(done, node)]
    if not found:
        return None

    def telling(node: int) -> tuple[int, int, float]:
        stack = plane.stack(int(spaces.face[node]))
        layers = {sheets[index].layer for index in stack}
        standing = len(_standing_out(done, stack))
        return len(layers), standing, float(_along_gap(done, node).length)

    node = max(found, key=telling)
    stack = plane.stack(int(spaces.face[node]))
    edge = _along_gap(done, node).centroid
    way = _way(edge, plane.areas[int(spaces.face[node])].centroid)
    stand = _standing_out(done, stack)
    farther = _farther_in(done, int(spaces.below[node]), int(spaces.above[node]))
    above = int(spaces.above[node])
    if farther and not closed_in_front(done):  # They lie on the work, which is then in front.
        above = farther[0]
    return _passage(done, stack, range(len(sheets)), above, way, stand, farther)


def through_opening(done: Rehearsed) -> Passage | None:
    """Where an opening between folds lets a hand in: under the piece laid last of those there.

    None if nothing closes it together.
    """
    closing = [one for one in done.sandwich.sheets if done.closes(one) and one.folds]
    if not done.opening or not closing:
        return None
    seam = done.project.seam.area
    last = max(closing, key=lambda one: one.layer if _crosses(one, seam) else -1)
    fold = max((one & seam for one in last.folds), key=lambda one: float(one.length))
    way = _way(fold.centroid, (last.area & seam).centroid)
    far = float(np.hypot(*way))
    x, y = _point(fold.interpolate(_ASIDE, normalized=True))
    spot = shapely.Point(x + way[0] / far * _INSIDE, y + way[1] / far * _INSIDE)
    stack = [n for n, one in enumerate(done.sandwich.sheets) if one.area.covers(spot)]
    own = [n for n in stack if done.sandwich.sheets[n].layer == last.layer]
    in_front = done.between[1] in done.indices(*done.project.finish.closing)
    above = min(own) if in_front else max(own) + 1
    order = range(len(done.sandwich.sheets))
    if above not in stack or above == stack[0]:
        return None
    return _passage(done, stack, order, above, way, ())


def _crosses(sheet: Sheet, seam: BaseGeometry) -> bool:
    return any(float((fold & seam).length) > _INSIDE for fold in sheet.folds)


def _standing_out(done: Rehearsed, stack: Sequence[int]) -> tuple[int, ...]:
    """Sheets of what stands out in the end that lie over and under some, if not everywhere."""
    sheets = [done.sandwich.sheets[index] for index in stack]
    found: list[int] = []
    for flap in flaps(done):
        if flap.lies is FlapSide.OUT and not set(flap.sheets) & set(stack):
            share = [float((one.area & flap.area).area) for one in sheets if not one.of_zip]
            if min(share) > 0.5 * flap.area.area:
                found += flap.sheets
    return tuple(found)


def _farther_in(done: Rehearsed, below: int, above: int) -> tuple[int, ...]:
    """Sheets of the work between the two at a gap that lie within the seam and do not reach it.

    What is bound at the rim alone, a flap, is told where it is pulled over or lies at the gap.
    """
    if (below, above) != done.between:
        return ()
    loose = {index for flap in flaps(done) for index in flap.sheets}
    gap, seam = shapely.union_all(done.plane.gaps).buffer(_AT), done.project.seam.area
    here = [(index, done.sandwich.sheets[index]) for index in range(below + 1, above)]
    # A hem lies farther in than the gap, but the piece it belongs to may not.
    at_gap = {one.layer for _, one in here if one.area.intersects(gap)}
    return tuple(
        index
        for index, one in here
        if index not in loose and one.layer not in at_gap and one.area.intersects(seam)
    )


def _point(spot: BaseGeometry) -> Point:
    x, y = shapely.get_coordinates(spot)[0].tolist()
    return x, y


def _way(start: BaseGeometry, end: BaseGeometry) -> Point:
    (ax, ay), (bx, by) = _point(start), _point(end)
    return bx - ax, by - ay


def _at_gap(done: Rehearsed) -> tuple[int, ...]:
    """The spaces between two sheets, within the seam line, that end at the turning gap."""
    spaces = done.spaces
    within = np.append(done.plane.within, False)[spaces.face]
    ways = spaces.joins[sorted(gap_ways(spaces))].tolist()
    inner = dict.fromkeys(a if within[a] else b for a, b in ways)
    return tuple(n for n in inner if spaces.below[n] >= 0 and spaces.above[n] >= 0)


def _along_gap(done: Rehearsed, node: int) -> BaseGeometry:
    """The part of the gap along which a space lies."""
    area = done.plane.areas[int(done.spaces.face[node])]
    return area.boundary & shapely.union_all(done.plane.gaps).buffer(_AT)


def _held_beside(done: Rehearsed, node: int) -> bool:
    """Whether a line just outside the gap holds together what a space there lies between."""
    spaces, sheets = done.spaces, done.sandwich.sheets
    edge = _along_gap(done, node)
    beside = edge.buffer(GAP_EDGE, cap_style="flat") - done.project.seam.area
    laid = max(sheets[spaces.below[node]].step, sheets[spaces.above[node]].step)
    return any(
        float((sewn.path & beside).length) > MOST_OF_IT * edge.length
        for sewn in done.sandwich.sewn
        if sewn.step > laid and sewn.line.role is not Role.PLACEMENT
    )


def through_zip(done: Rehearsed) -> Passage | None:
    """Where a zip lets a hand in to what becomes the outside, once it is turned to its lining.

    None if no zip leads there.
    """
    if not walls(done):
        return None
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    low, high = done.between
    zips = {slit.layer: slit.line for slit in done.sandwich.slits}
    found: list[tuple[int, float, int]] = []
    for node in range(1, len(spaces.face)):
        face = int(spaces.face[node])
        between = spaces.below[node] >= low and 0 <= spaces.above[node] <= high
        if not (between and plane.within[face] and done.shows(node)):
            continue
        stack = plane.stack(face)
        for layer, line in zips.items():
            if any(sheets[index].layer == layer for index in stack):
                found.append((-len(stack), float(plane.areas[face].distance(line)), node))
    if not found:
        return None
    node = min(found)[2]
    cut, count = lining_cut(done), len(sheets)
    order = (*range(cut, count), *range(cut))
    face = int(spaces.face[node])
    hoop = plane.stack(face)
    stack = tuple(index for index in order if index in hoop)
    above = int(spaces.above[node])
    slit = next(line for layer, line in zips.items() if layer in {sheets[i].layer for i in hoop})
    # Just past the folds beside the slit, and as far on its other side.
    near = plane.areas[face] & slit.buffer(float(plane.areas[face].distance(slit)) + _INSIDE)
    spot = shapely.point_on_surface(near)
    other = mirrored(spot, slit)
    stand = _standing_out(done, stack)
    passage = _passage(done, stack, order, above, _way(other, spot), stand)
    zip_at = next(i for i in order if i in hoop and sheets[i].layer in zips)
    across = [i for i in order if sheets[i].area.covers(other)]
    # What the zip is sewn to lies on the same side of the hand as the zip does.
    front = order.index(zip_at) >= order.index(above)
    kept = [i for i in across if (order.index(i) >= order.index(above)) is front and i not in hoop]
    return replace(passage, beyond=_by_layers(done, kept))


def lining_cut(done: Rehearsed) -> int:
    """The sheet that lies farthest behind once the work is turned to its lining.

    What lay behind it in the hoop then lies in front of all the rest.
    """
    return max(done.indices(done.sandwich.sheets[0].piece)) + 1


def into_flap(before: FinishedThing, flap: Flap) -> Passage | None:
    """Where a hand goes in under a flap, to pull it over.

    None if it has no one mouth, or nothing lies under it.

    Parameters
    ----------
    before : FinishedThing
        As it comes out of the gap.
    flap : Flap
    """
    edge = mouth(flap, before.project.seam.area)
    if not isinstance(edge, shapely.LineString) or edge.is_empty or flap.rim.is_empty:
        return None
    spot = edge.interpolate(_ASIDE, normalized=True)
    at = shapely.get_coordinates(spot)[0] + _INSIDE * way_over(flap, edge)
    here = [ply for ply in before.plies if ply.area.covers(shapely.Point(at))]
    own = [ply.index for ply in here if ply.index in flap.sheets]
    if not own:
        return None
    stand = _standing_out(before.done, own)
    trapped = [ply.index for ply in before.plies if ply.index in stand and ply.swung is None]
    stack = [ply.index for ply in here]
    order = [ply.index for ply in before.plies]
    there = [index for index in order if index in stack or index in trapped]
    # Between it and the work: behind its backmost sheet, or in front of its frontmost.
    place = there.index(own[0]) if before.work_side is Side.FRONT else there.index(own[-1]) + 1
    if not 0 < place < len(there):
        return None
    dx, dy = way_over(flap, edge).tolist()
    return _passage(before.done, stack, order, there[place], (dx, dy), trapped)


def way_over(flap: Flap, edge: BaseGeometry) -> FloatArray:
    """The way from the mouth of a flap over its rim, a unit vector; zero for a strap."""
    mouth_at, rim_at = (shapely.get_coordinates(one.centroid)[0] for one in (edge, flap.rim))
    way: FloatArray = rim_at - mouth_at
    far = float(np.hypot(*way))
    return way / far if far > _INSIDE else np.zeros(2)


def _passage(
    done: Rehearsed,
    stack: Sequence[int],
    order: Sequence[int],
    above: int,
    way: Point,
    standing: Sequence[int],
    farther: Sequence[int] = (),
) -> Passage:
    """Sheets put together by layers, but for those that the hand parts.

    Parameters
    ----------
    done : Rehearsed
    stack : sequence of int
        The sheets at the place, from the back.
    order : sequence of int
        All sheets, as they lie then.
    above : int
        The hand goes in behind this one.
    way : Point
    standing : sequence of int
        Sheets of what stands out in the end and lies in there as well.
    farther : sequence of int
        Sheets that lie in there, not at the place but on the way that the hand goes.
    """
    sheets = done.sandwich.sheets
    there = [index for index in order if index in {*stack, *standing, *farther}]
    place = there.index(above)
    behind, before = _by_layers(done, there[:place]), _by_layers(done, there[place:])
    layers = (*behind, *before)

    def of(some: Sequence[int]) -> frozenset[int]:
        own = {sheets[index].layer for index in some}
        return frozenset(n for n, layer in enumerate(layers) if layer[0].layer in own)

    return Passage(
        layers=layers,
        between=len(behind),
        way=way,
        partly=of(standing),
        farther=of(farther),
    )


def _by_layers(done: Rehearsed, stack: Sequence[int]) -> tuple[tuple[Sheet, ...], ...]:
    layers: list[list[Sheet]] = []
    for index in stack:
        sheet = done.sandwich.sheets[index]
        if layers and layers[-1][-1].layer == sheet.layer:
            layers[-1].append(sheet)
        else:
            layers.append([sheet])
    return tuple(tuple(one) for one in layers)
