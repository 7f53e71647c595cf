"""The places that hold something, and whether it goes in, stays in and comes out.

Room is what lies between the lines that bind the finished thing, those stitched by hand among them,
and not between its seams. A thing takes its thickness from the width of a pocket, as a flat bag is
half as wide as it is round, and half of it at a closed end, where the two sides meet in the middle
of the thickness (geometry of cloth that does not stretch).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.findings import Finding, Severity
from paramgen.finished.thing import Finished
from paramgen.geometry.path import FloatArray
from paramgen.layout.project import Held, Side
from paramgen.lengths import show_apart, show_both, show_size
from paramgen.rehearsal.hollows import Spaces, joined
from paramgen.rehearsal.places import place_of
from paramgen.rehearsal.sheets import Sheet

#: Sizes are compared to this, mm.
HAIR = 0.01
#: Part of a size that makes no difference.
_NEARLY = 1e-4
#: How far a thing may reach out where nothing limits it, mm.
FAR = 1000.0
#: What a slider parked at the end takes from the mouth of a zip, least and most, mm (from memory:
#: the body of a slider of size 3 to 5, and what it keeps from the seam).
PARKED_SLIDER = (8.0, 20.0)
#: Part of a slit's length that opens: its ends draw together (common practice, no source).
SLIT_OPENS = 0.95


@dataclass(frozen=True)
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
    unbound : (BaseGeometry, BaseGeometry)
        Both as they would be if no line were stitched by hand.
    opens : bool
        Whether it opens to the outside at all.
    through_zip : bool
        Whether it opens through a zip, and not at an edge.
    node : int
        One of its spaces; -1 if there is none.
    """

    sheet: int
    piece: str
    title: str
    area: BaseGeometry
    mouths: BaseGeometry
    unbound: tuple[BaseGeometry, BaseGeometry]
    opens: bool
    through_zip: bool
    node: int


def pockets_along(thing: Finished, held: Held) -> list[Pocket]:
    """The hollows along a piece's face, one for each time it is laid where the thing may be."""
    done = thing.done
    sheets = done.sandwich.sheets
    outermost: dict[int, int] = {}
    for sheet in done.indices(held.against):
        layer = sheets[sheet].layer
        if sheets[sheet].leaf == "hem":
            continue  # its own layer lies along the whole of the hollow
        if layer not in outermost or held.face == "front":
            outermost[layer] = sheet
    found = [pocket(thing, sheet, held.face) for sheet in outermost.values()]
    if held.within is not None:
        room = held.within.area
        found = [one for one in found if (one.area & room).area > one.area.area / 2]
    return found


def pocket(thing: Finished, sheet: int, face: Side, *, at: shapely.Point | None = None) -> Pocket:
    """The hollow along the face of one sheet, within the finished edge.

    Parameters
    ----------
    thing : Finished
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
    if face == "back":
        beside, across = across, beside
    inside = np.append(plane.within, False)[spaces.face]
    # Where a hem lies on that face of the sheet, the hollow goes on along the hem.
    leaves = _with_hem(sheets, sheet)
    along = {
        int(n) for n in np.flatnonzero(np.isin(beside, leaves) & ~np.isin(across, leaves) & inside)
    }
    nodes = _largest_part(spaces, along, at)
    mine = set(nodes)
    whole = shapely.union_all([plane.areas[int(spaces.face[node])] for node in nodes])
    seams = whole & thing.room
    area = _between_lines(thing, seams)
    opens = any(done.shows(node) for node in nodes)
    mouths: list[BaseGeometry] = []
    through_zip = False
    for way in spaces.ways:
        if (way.a in mine) == (way.b in mine):
            continue
        edge = plane.edges[way.edge]
        other = way.b if way.a in mine else way.a
        if not done.shows(other) or -1 in edge.faces:
            continue
        if not all(plane.within[face_at] for face_at in edge.faces):
            continue
        mouths.append(edge.line)
    slits = [slit.line for slit in done.sandwich.slits]
    if slits and mouths:
        on_slit = [line for line in mouths if any(slit.dwithin(line, 0.01) for slit in slits)]
        own = sheets[sheet].area.exterior
        at_edge = [line for line in mouths if own.dwithin(line.centroid, 0.01)]
        through_zip = bool(on_slit) and not at_edge
        mouths = on_slit if through_zip else at_edge
    open_at = shapely.union_all(mouths) if mouths else shapely.LineString()
    bound, unbound = (_reaching(open_at, room) for room in (area, seams))
    one = sheets[sheet]
    node = min(nodes, default=-1)
    without = (seams, unbound)
    return Pocket(sheet, one.piece, one.title, area, bound, without, opens, through_zip, node)


def _reaching(lines: BaseGeometry, area: BaseGeometry) -> BaseGeometry:
    """The parts of lines that reach an area, put together where they meet."""
    near = shapely.get_parts(lines & area.buffer(_REACHES))
    parts = [part for part in near if part.geom_type == "LineString" and not part.is_empty]
    return shapely.line_merge(shapely.MultiLineString(parts)) if parts else shapely.LineString()


def _with_hem(sheets: Sequence[Sheet], sheet: int) -> list[int]:
    """A sheet and what is turned in along its edge."""
    layer = sheets[sheet].layer
    hem = [i for i, one in enumerate(sheets) if one.layer == layer and one.leaf == "hem"]
    return [sheet, *hem]


#: A line parts a place as if it were so wide to either side, mm: nothing that is shown.
_CUT = 1e-4

#: A mouth reaches its place if it is no farther from it than this, mm.
_REACHES = 0.002


def _between_lines(thing: Finished, area: BaseGeometry) -> BaseGeometry:
    """The roomiest part that lines stitched by hand through all of it leave."""
    if not thing.bindings or area.is_empty:
        return area
    lines = shapely.union_all(list(thing.bindings)).buffer(_CUT, cap_style="flat")
    parts = shapely.get_parts(area - lines)
    return max(parts, key=lambda part: float(part.area / part.length), default=area)


def _largest_part(spaces: Spaces, nodes: set[int], at: shapely.Point | None) -> list[int]:
    """Of the spaces along a sheet, those of the part at a place, or of the roomiest.

    What no stitch parts is one part.

    The roomiest by area for its outline: a narrow strip along an edge holds nothing, however
    long it is.
    """
    meeting: dict[tuple[int, int], set[int]] = {}
    for way in spaces.ways:
        if way.a in nodes or way.b in nodes:
            meeting.setdefault((way.edge, way.a), {way.a} & nodes).update({way.b} & nodes)
    pairs = [(one, other) for some in meeting.values() for one, other in pairwise(sorted(some))]
    least = joined(len(spaces.face), np.array(pairs, dtype=np.intp).reshape(-1, 2))
    parts: dict[int, list[int]] = {}
    for node in sorted(nodes):
        parts.setdefault(int(least[node]), []).append(node)
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


def contents(thing: Finished) -> Iterator[Finding]:
    """Find the things that do not go in, are not held, or cannot be gripped."""
    for held in thing.project.holds:
        told: set[str] = set()
        pockets = pockets_along(thing, held)
        if not pockets:
            yield Finding(
                "no-pocket",
                Severity.CANNOT,
                f"nothing in the finished thing holds the {held.title} against the {held.against}",
                "Lay the piece that should hold it where the thing is to go.",
                piece=held.against,
            )
        for pocket in pockets:
            for finding in _one(thing, way_round(thing, held, pocket), pocket):
                if finding.code not in told:
                    told.add(finding.code)
                    yield finding


def way_round(thing: Finished, held: Held, pocket: Pocket) -> Held:
    """The thing put in the way round that suits it better: as it is, or turned by 90°."""
    found = list(_one(thing, held, pocket))
    if not found:
        return held
    sideways = replace(held, size=held.size[::-1])
    return min((found, held), (list(_one(thing, sideways, pocket)), sideways), key=_badness)[1]


def _badness(way: tuple[list[Finding], Held]) -> tuple[int, float]:
    found, _ = way
    worst = max((one.severity is Severity.CANNOT) + 1 for one in found) if found else 0
    return worst, sum(one.amount or 0.0 for one in found)


def takes(held: Held, pocket: Pocket) -> tuple[float, float]:
    """Room that a thing takes, with its ease and what its thickness takes, mm.

    The way it goes in it needs no ease: there it stands out as far as it likes.
    """
    (width, height), thick = held.size, held.thickness
    beside = held.ease + thick
    if pocket.through_zip or pocket.mouths.is_empty:  # closed at both ends, each way
        return width + beside, height + beside
    dx, dy = outward(pocket)
    if abs(dx) > abs(dy):
        return width + thick / 2, height + beside
    return width + beside, height + thick / 2


def _one(thing: Finished, held: Held, pocket: Pocket) -> Iterator[Finding]:
    unit = thing.project.unit
    size = show_size(*held.size, unit)
    if not pocket.opens or pocket.mouths.is_empty:
        yield Finding(
            "sewn-shut",
            Severity.CANNOT,
            f"the {held.title} cannot be put in: the hollow at the {pocket.title} does not open",
            "Move the line that crosses its mouth.",
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
        return
    room = _room(held, pocket)
    width, height = held.size
    # What fits to the hair fits.
    across, down = (size - HAIR for size in takes(held, pocket))
    spots = shrunk(room, across, down)
    if spots.is_empty:
        most = largest_in(room, held, pocket)
        left, top, right, bottom = shapely.bounds(room).tolist()
        # Where the place is too small all through, just that is lacking.
        short = max(across - (right - left), down - (bottom - top))
        if not short > HAIR:
            short = max(width - most[0], height - most[1], 0.0)
        area, mouths = pocket.unbound
        seams = replace(pocket, area=area, mouths=mouths)
        stitched = not shrunk(_room(held, seams), across, down).is_empty
        where = ", between the lines it is top-stitched along," if stitched else ""
        nearer = ", or top-stitch nearer to the edge" if stitched else ""
        thick = f", {show_both(held.thickness, unit)} thick," if held.thickness else ""
        yield Finding(
            "stitched-too-narrow" if stitched else "does-not-fit",
            Severity.CANNOT,
            f"the {held.title} of {size}{thick} does not go into the {pocket.title}{where} with "
            f"{show_both(held.ease, unit)} of ease; the largest of its shape that does is "
            f"{show_size(most[0], most[1], unit)}",
            f"Make the place for it about {show_both(short, unit)} larger{nearer}.",
            amount=short,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
        return
    if pocket.through_zip:
        yield from _through_the_zip(thing, held, pocket)
        return
    depth = deepest(spots, held, pocket)
    height = along_the_way_in(held, pocket)
    share = depth / height
    if share < held.share - 1e-6:
        need = held.share * height
        has, needs = show_apart(depth, need, unit)
        yield Finding(
            "held-too-little",
            Severity.DISAPPOINT,
            f"the {pocket.title} holds {has} of the {held.title} of {size}; it should hold {needs}",
            f"Make the pocket {show_both(need - depth, unit)} deeper.",
            amount=need - depth,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
    if held.shows and height - depth < held.shows - 1e-6:
        has, needs = show_apart(max(0.0, height - depth), held.shows, unit)
        yield Finding(
            "no-grip",
            Severity.DISAPPOINT,
            f"only {has} of the {held.title} of {size} shows at the {pocket.title}; to grip it "
            f"{needs} should",
            f"Make the pocket {show_both(held.shows - height + depth, unit)} shallower.",
            amount=held.shows - height + depth,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )


def _through_the_zip(thing: Finished, held: Held, pocket: Pocket) -> Iterator[Finding]:
    """A thing goes through a slit if its two smaller measures together do.

    They go round it: the slit opens to a ring twice its own length round.
    """
    unit = thing.project.unit
    needs = sum(sorted((*held.size, held.thickness))[:2])
    # The slider is parked at one end, and there the zip does not open.
    widest, narrowest = (
        SLIT_OPENS * max(0.0, float(pocket.mouths.length) - slider) for slider in PARKED_SLIDER
    )
    if needs <= narrowest:
        return
    has, wants = show_apart(narrowest, needs, unit)
    cannot = needs > widest
    how = "does not go through" if cannot else "may not go through"
    yield Finding(
        "mouth-narrow",
        Severity.CANNOT if cannot else Severity.DISAPPOINT,
        f"the {held.title} of {show_size(*held.size, unit)} {how} the zip: with the slider "
        f"parked at its end it opens {has}; {wants} must go through",
        f"Make the zip open {show_both((needs - narrowest) / SLIT_OPENS, unit)} more: make the "
        "project larger the way the zip runs.",
        amount=needs - narrowest,
        place=place_of([pocket.mouths]),
        piece=pocket.piece,
    )


def _room(held: Held, pocket: Pocket) -> BaseGeometry:
    """Where the thing may lie: the hollow, and what lies before its mouth."""
    if pocket.through_zip:
        return pocket.area
    dx, dy = outward(pocket)
    out = []
    for mouth in shapely.get_parts(pocket.mouths):
        near = shapely.get_coordinates(mouth)
        far = near + np.array([dx, dy]) * FAR
        out.append(shapely.MultiPoint(np.concatenate([near, far])).convex_hull)
    room = shapely.union_all([pocket.area, *out]).buffer(1e-3, join_style="mitre")
    return room if held.within is None else room & held.within.area


def outward(pocket: Pocket) -> tuple[float, float]:
    """Direction out of the mouth: from the middle of the hollow across the longest mouth."""
    # Of several as long to a tenth the first: no rounding may decide between them.
    mouth = max(shapely.get_parts(pocket.mouths), key=lambda part: round(part.length, 1))
    (ax, ay), (bx, by) = shapely.get_coordinates(mouth)[[0, -1]]
    length = float(np.hypot(bx - ax, by - ay)) or 1.0
    nx, ny = (by - ay) / length, -(bx - ax) / length
    middle = pocket.area.representative_point()
    if (middle.x - ax) * nx + (middle.y - ay) * ny > 0:
        nx, ny = -nx, -ny
    return float(nx), float(ny)


def shrunk(area: BaseGeometry, width: float, height: float) -> BaseGeometry:
    """Middles of all places where a rectangle lies within an area.

    The area less the rectangle moved along its whole boundary (Minkowski difference), exact
    for polygons.
    """
    corners = np.array([(x, y) for x in (-width / 2, width / 2) for y in (-height / 2, height / 2)])
    rings = [corners + ring[:, np.newaxis] for ring in _rings(area)]  # point, corner, x and y
    if not rings:
        return area
    around = np.concatenate([np.concatenate([ring[:-1], ring[1:]], axis=1) for ring in rings])
    swept = shapely.convex_hull(shapely.multipoints(around))  # of every edge at once
    return area - shapely.union_all(swept)


def _rings(area: BaseGeometry) -> Iterator[FloatArray]:
    for part in shapely.get_parts(area):
        if part.geom_type == "Polygon":
            for ring in (part.exterior, *part.interiors):
                yield shapely.get_coordinates(ring)


def along_the_way_in(held: Held, pocket: Pocket) -> float:
    """Size of the thing in the direction it goes into the pocket, mm."""
    dx, dy = outward(pocket)
    return held.size[1] if abs(dy) > abs(dx) else held.size[0]


def deepest(spots: BaseGeometry, held: Held, pocket: Pocket) -> float:
    """How much of the thing's height is held when it is pushed in as far as it goes, mm."""
    dx, dy = outward(pocket)
    x, y = shapely.get_coordinates(spots).T
    place = int(np.argmin(x * dx + y * dy))
    tall = along_the_way_in(held, pocket)
    taken = takes(held, pocket)[abs(dy) > abs(dx)]
    inner = float(x[place] * dx + y[place] * dy) - taken / 2 + held.thickness / 2
    mouth = shapely.get_coordinates(pocket.mouths) @ np.array([dx, dy])
    return float(min(tall, mouth.max() - inner))


def lying(thing: Finished, held: Held, pocket: Pocket) -> shapely.Polygon | None:
    """The thing as it lies when it is pushed in as far as it goes, in the middle of its room.

    None if it does not go in.
    """
    if not pocket.opens or pocket.mouths.is_empty:
        return None
    held = way_round(thing, held, pocket)
    width, height = held.size
    across, down = takes(held, pocket)
    spots = shrunk(_room(held, pocket), across - HAIR, down - HAIR)
    if spots.is_empty:
        return None
    out = np.array(outward(pocket))
    points = shapely.get_coordinates(spots)
    along = points @ out
    lowest = points[along < along.min() + HAIR]
    # Through a zip it lies at the bottom with no ease left; a thick thing keeps half its
    # thickness from a closed end.
    inward = held.ease / 2 if pocket.through_zip else -held.thickness / 4
    x, y = (lowest.min(axis=0) + lowest.max(axis=0)) / 2 - out * inward
    dx, dy = width / 2, height / 2
    return shapely.Polygon([(x - dx, y - dy), (x + dx, y - dy), (x + dx, y + dy), (x - dx, y + dy)])


def largest_in(
    room: BaseGeometry, held: Held, pocket: Pocket, most: float = 1.0
) -> tuple[float, float]:
    """Largest thing of the same shape that goes in with its ease and thickness, mm."""
    taken = takes(held, pocket)
    found = largest_through(room, taken, most)
    sizes = [
        max(0.0, large - (took - size))
        for large, took, size in zip(found, taken, held.size, strict=True)
    ]
    return sizes[0], sizes[1]


def largest_through(
    room: BaseGeometry, taken: tuple[float, float], most: float = 1.0
) -> tuple[float, float]:
    """Largest rectangle of a shape that goes into a room, width and height, mm.

    Parameters
    ----------
    taken : (width, height)
        Of that shape, mm.
    most : float
        Times that size, beyond which is not looked.
    """
    width, height = taken
    left, top, right, bottom = shapely.bounds(room)
    high = min(most, (right - left) / width, (bottom - top) / height)

    def goes(times: float) -> bool:
        return not shrunk(room, times * width, times * height).is_empty

    # Most rooms are about as wide and high all through: then their bounds say it.
    low = (1.0 - _NEARLY) * high
    if not goes(low):
        low, high = 0.0, low
        for _ in range(14):
            middle = (low + high) / 2
            low, high = (middle, high) if goes(middle) else (low, middle)
    return low * width, low * height


#: A pocket that takes more than so many times its thing takes it anyhow.
MOST_TIMES = 4.0


def room_in(thing: Finished, held: Held) -> tuple[float, float] | None:
    """Largest thing of the same shape that goes where one is held; None if nothing does.

    Returns
    -------
    (width, height) or None
        mm, the ease and what the thickness takes taken off.
    """
    sizes = [
        largest_in(_room(held, pocket), held, pocket, MOST_TIMES)
        for pocket in pockets_along(thing, held)
        if pocket.opens and not pocket.mouths.is_empty
    ]
    return min(sizes, default=None)
