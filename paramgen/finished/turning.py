"""Where a hand goes in to turn the work out, and between which of the layers that lie there."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.flaps import Flap, mouth, walls
from paramgen.finished.limits import GAP_EDGE
from paramgen.finished.thing import Finished
from paramgen.geometry.path import FloatArray
from paramgen.layout.project import Role
from paramgen.rehearsal.sheets import Sheet
from paramgen.rehearsal.turned import Rehearsed, gap_ways

#: A line holds what lies along a gap if it runs along so much of it.
MOST_OF_IT = 0.9
#: What lies so near to a line lies on it, mm.
_AT = 0.01
#: So far inside its mouth a flap covers what lies under it, mm.
_INSIDE = 1.0
#: Part of a mouth's length at which one looks into it: clear of what lies in its middle.
_ASIDE = 0.2


@dataclass(frozen=True, eq=False)
class Passage:
    """The layers at a place where a hand goes in.

    Parameters
    ----------
    layers : tuple of tuple of Sheet
        From the back to the front as the work lies then: the sheets of each layer.
    between : int
        The hand goes in behind this layer and in front of the one before it.
    """

    layers: tuple[tuple[Sheet, ...], ...]
    between: int

    @property
    def behind(self) -> str:
        """Title of the layer behind the hand."""
        return self.layers[self.between - 1][0].title

    @property
    def in_front(self) -> str:
        """Title of the layer in front of the hand."""
        return self.layers[self.between][0].title


def through_gap(done: Rehearsed) -> Passage | None:
    """Where the turning gap lets a hand in: there where most layers lie, and along most of it.

    None if no gap opens between two layers.
    """
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    found = [node for node in _at_gap(done) if not _held_beside(done, node)]
    if not found:
        return None

    def telling(node: int) -> tuple[int, float]:
        layers = {sheets[index].layer for index in plane.stack(int(spaces.face[node]))}
        return len(layers), float(_along_gap(done, node).length)

    node = max(found, key=telling)
    stack = plane.stack(int(spaces.face[node]))
    return _passage(done, stack, stack.index(int(spaces.above[node])))


def _at_gap(done: Rehearsed) -> tuple[int, ...]:
    """The spaces between two sheets, within the seam line, that end at the turning gap."""
    spaces = done.spaces
    within = np.append(done.plane.within, False)[spaces.face]
    ways = [spaces.ways[number] for number in sorted(gap_ways(spaces))]
    inner = dict.fromkeys(way.a if within[way.a] else way.b for way in ways)
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
    cut = lining_cut(done)
    hoop = plane.stack(int(spaces.face[node]))
    stack = [*(one for one in hoop if one >= cut), *(one for one in hoop if one < cut)]
    return _passage(done, stack, stack.index(int(spaces.above[node])))


def lining_cut(done: Rehearsed) -> int:
    """The sheet that lies farthest behind once the work is turned to its lining.

    What lay behind it in the hoop then lies in front of all the rest.
    """
    return max(done.indices(done.sandwich.sheets[0].piece)) + 1


def into_flap(before: Finished, flap: Flap) -> Passage | None:
    """Where a hand goes in under a flap, to pull it over.

    None if it has no one mouth, or nothing lies under it.

    Parameters
    ----------
    before : Finished
        As it comes out of the gap.
    flap : Flap
    """
    edge = mouth(flap, before.project.seam.area)
    if not isinstance(edge, shapely.LineString) or edge.is_empty or flap.rim.is_empty:
        return None
    spot = edge.interpolate(_ASIDE, normalized=True)
    at = shapely.get_coordinates(spot)[0] + _INSIDE * way_over(flap, edge)
    here = [ply for ply in before.plies if ply.area.covers(shapely.Point(at))]
    own = [place for place, ply in enumerate(here) if ply.index in flap.sheets]
    if not own:
        return None
    place = own[0] if before.outer == "front" else own[-1] + 1
    if not 0 < place < len(here):
        return None
    return _passage(before.done, [ply.index for ply in here], place)


def way_over(flap: Flap, edge: BaseGeometry) -> FloatArray:
    """The way from the mouth of a flap over its rim, a unit vector; zero for a strap."""
    mouth_at, rim_at = (shapely.get_coordinates(one.centroid)[0] for one in (edge, flap.rim))
    way: FloatArray = rim_at - mouth_at
    far = float(np.hypot(*way))
    return way / far if far > _INSIDE else np.zeros(2)


def _passage(done: Rehearsed, stack: Sequence[int], place: int) -> Passage:
    """Sheets put together by layers, but for those that the hand parts."""
    sheets = [done.sandwich.sheets[index] for index in stack]
    layers: list[list[Sheet]] = []
    between = 0
    for number, sheet in enumerate(sheets):
        if number == place:
            between = len(layers)
        if layers and number != place and layers[-1][-1].layer == sheet.layer:
            layers[-1].append(sheet)
        else:
            layers.append([sheet])
    return Passage(tuple(tuple(one) for one in layers), between)
