"""The places in the finished thing that hold something: hollows along the face of a piece."""

from collections.abc import Sequence
from functools import cached_property, lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_limits import HAIR
from paramgen.finished.finished_thing import FinishedThing
from paramgen.rehearsal.hollows import WORLD, Spaces, joined
from paramgen.rehearsal.sheets import Sheet
from paramgen.vocabulary.facts import Name
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Leaf, Side
from paramgen.vocabulary.project import Held

#: A line parts a place as if it were so wide to either side, mm: nothing that is shown.
_CUT = 1e-4

#: One that ends inside a place, so wide that it stays a slit where rooms are rounded, mm.
_SLIT = 0.005

#: A mouth farther than this inside its place is at none of its edges, mm.
_WITHIN = 1.0

#: A mouth reaches its place if it is no farther from it than this, mm.
_REACHES = 0.002

#: What is turned in along the edges of a sheet.
_HEMS = (Leaf.HEM, Leaf.CORNER)


@dataclass(frozen=True, eq=False, kw_only=True)
class Pocket:
    """A place to put things: a hollow along one face of a piece.

    Parameters
    ----------
    sheet : int
        The sheet along whose face it lies.
    piece : str
        Its piece.
    title : str
    area : BaseGeometry
        Where things are held: between the lines that bind it, mm.
    mouths : BaseGeometry
        Lines it opens at, between those that bind it.
    seams : BaseGeometry
        The area as it would be if no line were stitched by hand, mm.
    rims : BaseGeometry
        The lines it opens at, before they are held to its area.
    opens : bool
        Whether it opens to the outside at all.
    through_zip : bool
        Whether it opens through a zip, and not at an edge.
    opens_within : bool
        Whether it opens somewhere within, and is closed at all its edges: through a zip, or
        between the folds of two pieces.
    node : int
        One of its spaces; -1 if there is none.
    """

    sheet: int
    piece: str
    title: str
    area: BaseGeometry
    mouths: BaseGeometry
    seams: BaseGeometry
    rims: BaseGeometry
    opens: bool
    through_zip: bool
    opens_within: bool
    node: int

    @cached_property
    def unbound(self) -> tuple[BaseGeometry, BaseGeometry]:
        """Area and mouths as they would be if no line were stitched by hand."""
        return self.seams, _reaching(self.rims, self.seams)

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("piece", self.piece, self.title)


def pockets_along(thing: FinishedThing, held: Held) -> list[Pocket]:
    """The hollows along a piece's face, one for each time it is laid where the thing may be."""
    done = thing.done
    sheets = done.sandwich.sheets
    outermost: dict[int, int] = {}
    wall: int | None = None
    for sheet in done.indices(held.against):
        layer = sheets[sheet].layer
        if sheets[sheet].leaf in _HEMS:
            continue  # its own layer lies along the whole of the hollow
        if done.opening and done.closes(sheets[sheet]):
            # Pieces that close it together are one wall: what lies along it lies there once.
            wall = layer if wall is None else wall
            layer = wall
            if layer in outermost and held.face is Side.BACK:
                continue
        if layer not in outermost or held.face is Side.FRONT:
            outermost[layer] = sheet
    found = [pocket(thing, sheet, held.face) for sheet in outermost.values()]
    if held.within is not None:
        room = held.within.area
        found = [one for one in found if (one.area & room).area > one.area.area / 2]
    return found


# What several checks ask about is worked out once.
@lru_cache(maxsize=32)
def pocket(
    thing: FinishedThing, sheet: int, face: Side, *, at: shapely.Point | None = None
) -> Pocket:
    """The hollow along the face of one sheet, within the finished edge.

    Parameters
    ----------
    thing : FinishedThing
    sheet : int
        Its place in the sandwich.
    face : str
        `front` or `back`, as it lies in the hoop.
    at : Point or None
        A place of it, where it has several parts that stitches divide; the roomiest if None.
    """
    done = thing.done
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    beside, across = spaces.below, spaces.above
    if face is Side.BACK:
        beside, across = across, beside
    inside = np.append(plane.within, False)[spaces.face]
    # Where a hem lies on that face of the sheet, the hollow goes on along the hem.
    leaves = np.zeros(len(sheets) + 1, dtype=bool)  # the last for where there is no sheet
    leaves[_with_hem(sheets, sheet)] = True
    if done.opening and done.closes(sheets[sheet]):
        leaves[done.indices(*done.project.finish.closing)] = True
    along = np.flatnonzero(leaves[beside] & ~leaves[across] & inside)
    nodes = _largest_part(spaces, along, at)
    mine = np.zeros(len(spaces.face), dtype=bool)
    mine[nodes] = True
    whole = shapely.union_all([plane.areas[int(spaces.face[node])] for node in nodes])
    seams = (whole & thing.room) - _slits(spaces, nodes)
    area = _between_lines(thing, seams)
    opens = any(done.shows(node) or done.inside(node) for node in nodes)
    ends = mine[spaces.joins]
    out_of_it = ends[:, 0] != ends[:, 1]
    to_outside = (~ends & (done.hollow[spaces.joins] == done.outside)).any(axis=1)
    # The world outside, the last of all faces, does not lie within the seam line.
    within = np.asarray(np.append(plane.within, False)[plane.faces].all(axis=1))
    ways = out_of_it & to_outside & within[spaces.crosses]
    mouths = [plane.edges[edge].line for edge in spaces.crosses[ways].tolist()]
    if not mouths and any(done.inside(node) for node in nodes):
        mouths = list(done.opening)
    through_zip = False
    slits = [slit.line for slit in done.sandwich.slits]
    if slits and mouths:
        on_slit = [line for line in mouths if any(slit.dwithin(line, 0.01) for slit in slits)]
        own = sheets[sheet].area.exterior
        at_edge = [line for line in mouths if own.dwithin(line.centroid, 0.01)]
        through_zip = bool(on_slit) and not at_edge
        mouths = on_slit if through_zip else at_edge
    open_at = shapely.union_all(mouths) if mouths else shapely.LineString()
    if done.through_zip and nodes and all(done.hollow[node] == WORLD for node in nodes):
        # Turned through its zip, what looked away from the work in the hoop is its inside.
        opens = through_zip = True
        open_at = shapely.union_all(slits) & thing.room
    within_it = open_at & whole.buffer(-_WITHIN)
    one = sheets[sheet]
    node = min(nodes, default=-1)
    return Pocket(
        sheet=sheet,
        piece=one.piece,
        title=one.title,
        area=area,
        mouths=_reaching(open_at, area),
        seams=seams,
        rims=open_at,
        opens=opens,
        through_zip=through_zip,
        opens_within=through_zip or float(within_it.length) > 0.5 * float(open_at.length),
        node=node,
    )


def _slits(spaces: Spaces, nodes: Sequence[int]) -> BaseGeometry:
    """Where lines that end inside a place part it: it goes on round their ends."""
    plane, node_of = spaces.plane, {int(spaces.face[node]): node for node in nodes}
    ways = np.isin(spaces.joins, nodes).all(axis=1)
    joined_at = set(spaces.crosses[ways].tolist())
    inner = np.flatnonzero(np.isin(plane.faces, list(node_of)).all(axis=1))
    bound = []
    for number in inner.tolist():
        edge = plane.edges[number]
        if edge.binds is None or number in joined_at:
            continue
        node = node_of[edge.faces[0]]
        # On both sides of a line that ends within one face lies the same space.
        low, high = edge.binds
        if edge.faces[0] != edge.faces[1] or low <= spaces.below[node] < spaces.above[node] <= high:
            bound.append(edge.line)
    return shapely.union_all(bound).buffer(_SLIT, cap_style="flat") if bound else shapely.Polygon()


def _reaching(lines: BaseGeometry, area: BaseGeometry) -> BaseGeometry:
    """The parts of lines that reach an area, put together where they meet."""
    near = shapely.get_parts(lines & area.buffer(_REACHES))
    parts = [part for part in near if part.geom_type == "LineString" and not part.is_empty]
    return shapely.line_merge(shapely.MultiLineString(parts)) if parts else shapely.LineString()


def _with_hem(sheets: Sequence[Sheet], sheet: int) -> list[int]:
    """A sheet and what is turned in along its edge."""
    layer = sheets[sheet].layer
    hem = [i for i, one in enumerate(sheets) if one.layer == layer and one.leaf in _HEMS]
    return [sheet, *hem]


def _between_lines(thing: FinishedThing, area: BaseGeometry) -> BaseGeometry:
    """The roomiest part that lines stitched by hand through all of it leave."""
    if not thing.bindings or area.is_empty:
        return area
    parts = shapely.get_parts(area - _cuts(thing))
    return max(parts, key=lambda part: float(part.area / part.length), default=area)


@lru_cache(maxsize=2)
def _cuts(thing: FinishedThing) -> BaseGeometry:
    """Where lines stitched by hand part a place."""
    return shapely.union_all(list(thing.bindings)).buffer(_CUT, cap_style="flat")


def _largest_part(spaces: Spaces, nodes: NDArray[np.intp], at: shapely.Point | None) -> list[int]:
    """Of the spaces along a sheet, those of the part at a place, or of the roomiest.

    What no stitch parts is one part.

    The roomiest by area for its outline: a narrow strip along an edge holds nothing, however
    long it is.
    """
    count = len(spaces.face)
    mine = np.zeros(count, dtype=bool)
    mine[nodes] = True
    ways = np.flatnonzero(mine[spaces.joins].any(axis=1))
    # Spaces meet at an edge if the ways there lead from the same space.
    start = spaces.crosses[ways] * count + spaces.joins[ways, 0]
    meeting = count + np.unique(start, return_inverse=True)[1].ravel()
    ends = np.stack([spaces.joins[ways].ravel(), np.repeat(meeting, 2)], axis=1)
    least = joined(count + len(ways), ends[mine[ends[:, 0]]])
    parts: dict[int, list[int]] = {}
    for node in nodes.tolist():
        parts.setdefault(int(least[node]), []).append(node)
    if len(parts) == 1 and at is None:
        return next(iter(parts.values()))
    areas = spaces.plane.areas
    if at is not None:
        return next(
            (
                part
                for part in parts.values()
                if any(areas[int(spaces.face[node])].dwithin(at, HAIR) for node in part)
            ),
            [],
        )

    def room(part: list[int]) -> float:
        whole = shapely.union_all([areas[int(spaces.face[node])] for node in part])
        return float(whole.area / whole.length)

    return max(parts.values(), key=room, default=[])
