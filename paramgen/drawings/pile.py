"""The finished thing as a pile of flat plies, worked out from the rehearsal.

Nothing here knows a recipe. The rules, each of which is what cloth does:

- Turning cuts the pile of the hoop like a pack of cards, between the two pieces that lie right
  sides together: what lay in front of the cut comes behind the rest, the same way up. The two
  pieces then look outwards, and what lay between them goes with the closing piece: what was
  laid first is then outermost.
- A piece between them that the seam holds along one side only swings out past that side: it is
  mirrored about it, and shows its other face.
- The finished edge lies inside the seam line by the turn of cloth. A raw edge is where it is
  trimmed.
- A thing is held where the rehearsal says it goes, pushed in as far as it goes.
- A stitched line is seen wherever a sheet that it goes through is seen.
- Folding lays the part beyond a fold on the rest, upside down, the inside in.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.cutting import trimmed
from paramgen.drawings.facing import face_seen
from paramgen.drawings.outlines import area, circle, line_string
from paramgen.drawings.primitives import Style
from paramgen.drawings.zips import zip_items
from paramgen.geometry.path import FloatArray, Point, path, quarter_turn
from paramgen.layout.project import Act, Held, Layer, Project, Role, Side
from paramgen.rehearsal.contents import Pocket, lying, outward, pockets_along
from paramgen.rehearsal.faces import trimmed_to
from paramgen.rehearsal.sheets import Sheet
from paramgen.rehearsal.turned import Rehearsed

#: A piece swings out if the seam holds it along a run that turns by less than this, degrees.
ONE_SIDE = 60.0
#: Far enough to be beyond anything in a hoop, mm.
FAR = 2000.0
#: Lines this near each other are the same, mm.
SAME = 0.01

#: What lies on a ply: a line or an area, how it looks, and the face it is seen on.
Mark = tuple[BaseGeometry, Style, Side]
OTHER: dict[Side, Side] = {"front": "back", "back": "front"}
SIDES: tuple[Side, ...] = ("front", "back")


@dataclass(frozen=True, eq=False)
class Laid:
    """A thing in its pocket.

    Parameters
    ----------
    held : Held
    outline : Polygon
        The whole of it.
    depth, out : float
        How much of it is held and how much stands out of the mouth, the way it goes in, mm.
    """

    held: Held
    outline: shapely.Polygon
    depth: float
    out: float


@dataclass(frozen=True, eq=False)
class Ply:
    """One sheet of the finished thing, or a thing it holds.

    Parameters
    ----------
    name, title, fabric : str
        Of its piece; of a thing held, its own, and no fabric.
    area : BaseGeometry
        Where it lies, mm.
    front, back : Style
        How its faces look.
    marks : tuple of Mark
        Its edges, coil, stitches and hardware.
    held : Laid or None
    sticks_out : bool
        Whether it swings out past the edge.
    """

    name: str
    title: str
    fabric: str
    area: BaseGeometry
    front: Style
    back: Style
    marks: tuple[Mark, ...] = ()
    held: Laid | None = None
    sticks_out: bool = False

    def face(self, side: Side) -> Style:
        """How it looks from a side."""
        return self.front if side == "front" else self.back


@dataclass(frozen=True, eq=False)
class Pile:
    """The finished thing, open and flat.

    Parameters
    ----------
    plies : tuple of Ply
        From the back to the front.
    outer : str
        The side it is seen from the outside; the other is the closing piece's.
    room : BaseGeometry
        What lies within its edge.
    """

    plies: tuple[Ply, ...]
    outer: Side
    room: BaseGeometry

    @cached_property
    def seen(self) -> dict[Side, tuple[BaseGeometry, ...]]:
        """What can be seen of each ply from a side; what one can see through hides nothing."""
        return {side: self._seen(side) for side in SIDES}

    def _seen(self, side: Side) -> tuple[BaseGeometry, ...]:
        plies = self.plies[::-1] if side == "front" else self.plies
        found: list[BaseGeometry] = []
        over: BaseGeometry = shapely.Polygon()
        for ply in plies:
            found.append(shapely.difference(ply.area, over))
            if ply.face(side) is not Style.SEE_THROUGH:
                over = shapely.union(over, ply.area)
        return tuple(found[::-1] if side == "front" else found)


def finished_pile(done: Rehearsed, em: float, *, opened: bool = False) -> Pile:
    """Turn the rehearsed thing out, fit its hardware and put in what it holds.

    Parameters
    ----------
    done : Rehearsed
    em : float
        Size of letters, which small things go by, mm.
    opened : bool
        Whether its zip is drawn half open.
    """
    room = finished_area(done)
    order, swung, outer = _order(done)
    left = trimmed_to(done.project, done.sandwich)
    pile = [
        replace(mirrored_about(_ply(done, index, left, em, opened), swung[index]), sticks_out=True)
        if index in swung
        else _ply(done, index, room, em, opened)
        for index in order
    ]
    pile = _with_hardware(pile, done, outer, em)
    for held in done.project.holds:
        for pocket in pockets_along(done, held):
            thing = lying(done, held, pocket)
            if thing is None:
                continue
            place = order.index(pocket.sheet) + (held.face == "front")
            pile.insert(place, _held_ply(held, thing, room, pocket))
            order.insert(place, -1)
    return Pile(tuple(pile), outer, room)


def lining_pile(done: Rehearsed, em: float, *, opened: bool = False) -> Pile:
    """Turn the rehearsed thing out between its linings, before it is pulled through its zip.

    The pile of the hoop is cut in front of what lies farthest behind. The outer side is the one
    that shows the zip.

    Parameters
    ----------
    done, em, opened
        As for `finished_pile`.
    """
    room, sheets = finished_area(done), done.sandwich.sheets
    cut = max(done.indices(sheets[0].piece)) + 1
    order = (*range(cut, len(sheets)), *range(cut))
    plies = tuple(_ply(done, index, room, em, opened) for index in order)
    pile = Pile(plies, "front", room)
    shown = {
        side: sum(
            part.area
            for ply, part in zip(plies, pile.seen[side], strict=True)
            if ply.face(side) is Style.ZIP_TAPE
        )
        for side in SIDES
    }
    return replace(pile, outer="back" if shown["back"] > shown["front"] else "front")


def moved(pile: Pile, turned: bool, move: Point) -> Pile:
    """Lay a pile as its project lies in the hoop.

    Parameters
    ----------
    pile : Pile
    turned : bool
        Whether it is turned by 90° clockwise.
    move : (dx, dy)
        By how much it is moved after that, mm.
    """

    def there(shape: BaseGeometry) -> BaseGeometry:
        return shapely.transform(
            shape, lambda points: (quarter_turn(points) if turned else points) + np.array(move)
        )

    plies = tuple(
        replace(
            ply,
            area=there(ply.area),
            marks=tuple((there(shape), style, side) for shape, style, side in ply.marks),
        )
        for ply in pile.plies
    )
    return Pile(plies, pile.outer, there(pile.room))


def finished_area(done: Rehearsed) -> BaseGeometry:
    """What lies within the finished edge, with what is cut out of it left out."""
    project = done.project
    cut = shapely.union_all(list(openings(project)))
    if not done.turned:
        return trimmed_to(project, done.sandwich) - cut
    return area(project.seam).buffer(-turn_of_cloth(project), join_style="mitre") - cut


def turn_of_cloth(project: Project) -> float:
    """What turning takes from each edge: how much the finished edge lies inside the seam, mm."""
    left, top, right, bottom = project.seam.bounds
    one_in = area(project.seam).buffer(-1.0, join_style="mitre").bounds
    width, height = project.finished[::-1] if project.turned else project.finished
    # An outline takes off both its sizes what they lose for each millimetre that it is inset by.
    wide = (right - left - width) / (right - left - one_in[2] + one_in[0])
    high = (bottom - top - height) / (bottom - top - one_in[3] + one_in[1])
    return max(0.0, min(wide, high))


def openings(project: Project, before: int | None = None) -> Iterator[BaseGeometry]:
    """What is cut out while the work is in the hoop; not the line that it is itself cut out by.

    Parameters
    ----------
    project : Project
    before : int or None
        Number of a step: only what was cut out before it counts.
    """
    seam = line_string(project.seam)
    for step in project.steps[: None if before is None else before - 1]:
        if step.act is Act.UNHOOP:
            return
        if step.act is Act.TRIM:
            cut = [area(mark) for mark in step.mark if mark.closed]
            yield from (one for one in cut if not one.covers(seam))


def _order(done: Rehearsed) -> tuple[list[int], dict[int, shapely.LineString], Side]:
    """Sheets from the back to the front once turned, those that swing out, the outer side."""
    count = len(done.sandwich.sheets)
    names = done.project.finish.between
    groups = [done.indices(name) for name in names]
    if not done.turned or len(groups) != 2 or not all(groups):
        return list(range(count)), {}, "front"
    first, last = groups
    closed_in_front = min(last) > max(first)
    cut = max(first) + 1 if closed_in_front else min(first)
    between = range(cut, min(last)) if closed_in_front else range(max(last) + 1, cut)
    swung = {index: line for index in between if (line := _held_along(done, index))}
    stay = [index for index in (*range(cut, count), *range(cut)) if index not in swung]
    # What swings out comes from the hidden inside, between the two sides.
    split = sum(index >= cut for index in stay)
    order = [*stay[:split], *sorted(swung, reverse=True), *stay[split:]]
    return order, swung, "front" if closed_in_front else "back"


def _held_along(done: Rehearsed, sheet: int) -> shapely.LineString | None:
    """The line across the only run of the seam that holds a sheet; None if it has others."""
    plane = done.plane
    runs = [
        edge.line
        for edge in plane.edges
        if edge.seam
        and edge.binds
        and edge.binds[0] <= sheet <= edge.binds[1]
        and all(plane.covers[face][sheet] for face in edge.faces)
    ]
    run = shapely.line_merge(shapely.union_all(runs))
    if run.geom_type != "LineString" or run.is_empty or run.is_ring:
        return None
    points = shapely.get_coordinates(run)
    if np.abs(path(points, closed=False).turns).sum() > ONE_SIDE:
        return None
    return shapely.LineString(points[[0, -1]])


def layers_of(project: Project) -> list[Layer]:
    """Every layer, numbered as the rehearsal does."""
    found: list[Layer] = []
    for step in project.steps:
        if step.act is Act.UNHOOP:
            break
        found.extend(step.layers)
    return found


def _ply(done: Rehearsed, index: int, room: BaseGeometry, em: float, opened: bool) -> Ply:
    sheet = done.sandwich.sheets[index]
    layer = layers_of(done.project)[sheet.layer]
    front, back = (_face(layer, sheet, side) for side in SIDES)
    shape = sheet.area & room
    marks = (
        *_edges(done, sheet, shape, room),
        *_coil(done, index, layer, room, em, opened),
        *_stitches(done, sheet, shape),
    )
    return Ply(sheet.piece, sheet.title, layer.fabric, shape, front, back, marks)


def _face(layer: Layer, sheet: Sheet, side: Side) -> Style:
    if layer.slit:
        return Style.ZIP_TAPE
    if layer.clear:
        return Style.SEE_THROUGH
    if face_seen(layer, side) is None:
        return Style.NO_RIGHT_SIDE
    return Style.RIGHT_SIDE if getattr(sheet, side) else Style.WRONG_SIDE


def _edges(
    done: Rehearsed, sheet: Sheet, shape: BaseGeometry, room: BaseGeometry
) -> Iterator[Mark]:
    """Folds and turned edges, drawn heavy, and raw edges."""
    folds = shapely.union_all([fold & room for fold in sheet.folds])
    around = room.boundary.buffer(SAME)
    edge = shape.boundary & around
    slits = [slit.line for slit in done.sandwich.slits if slit.layer == sheet.layer]
    known = shapely.union_all([folds, *slits]).buffer(SAME)
    heavy = shapely.union(folds, edge) if done.turned else folds
    raw = shape.boundary - known - (around if done.turned else shapely.Polygon())
    for side in SIDES:
        yield raw, Style.RAW_EDGE, side
        yield heavy, Style.FOLDED_EDGE, side


def _coil(
    done: Rehearsed, index: int, layer: Layer, room: BaseGeometry, em: float, opened: bool
) -> Iterator[Mark]:
    """Coil and slider of a zip, on the tape that is drawn last."""
    leaf = done.sandwich.sheets[index].leaf
    if not layer.slit:
        return
    for part in trimmed(layer, room):
        if part.slit:
            for item in zip_items(part, "front", em, opened=opened):
                side: Side = "front" if leaf == "lower" else "back"
                if not item.path.closed:
                    yield line_string(item.path), item.style, side
                elif side == "front" or item.style is Style.SLIT:
                    yield area(item.path), item.style, side


def _stitches(done: Rehearsed, sheet: Sheet, shape: BaseGeometry) -> Iterator[Mark]:
    """Lines that go through a sheet, but for the seam, which is turned in."""
    for sewn in done.sandwich.sewn:
        if sewn.step > sheet.step and not (done.turned and sewn.line.role is Role.SEAM):
            seen = sewn.path & shape
            if seen.length > SAME:
                yield from ((seen, Style.STITCHED_BEFORE, side) for side in SIDES)


def _held_ply(held: Held, thing: shapely.Polygon, room: BaseGeometry, pocket: Pocket) -> Ply:
    """A thing in its pocket: within the finished edge, and beyond it only past the mouth."""
    shape, out = thing & room, 0.0
    way = np.array(outward(pocket))
    along = shapely.get_coordinates(thing) @ way
    if not pocket.through_zip:
        mouth = float((shapely.get_coordinates(pocket.mouths) @ way).max())
        aside = np.array((-way[1], way[0])) * FAR
        near, far = way * mouth, way * FAR
        beyond = thing & shapely.Polygon([near - aside, near + aside, far + aside, far - aside])
        shape |= beyond
        out = max(0.0, float(along.max()) - mouth)
    laid = Laid(held, thing, float(np.ptp(along)) - out, out)
    return Ply(held.name, held.title, "", shape, Style.HELD, Style.HELD, held=laid)


def _with_hardware(pile: list[Ply], done: Rehearsed, outer: Side, em: float) -> list[Ply]:
    """Fit snaps on the outside, rings through everything, and both faces of what swings out."""
    project = done.project
    ends = (outer, OTHER[outer])
    for notion in project.notions:
        for place in (*notion.halves, *notion.at):
            ring = area(circle(place, (notion.width or 2 * em) / 2))
            for side in ends:
                there = [i for i, ply in enumerate(pile) if ply.area.contains(shapely.Point(place))]
                through = place in notion.at or all(pile[i].sticks_out for i in there)
                if there and (side == outer or through):
                    top = there[-1] if side == "front" else there[0]
                    mark: Mark = (ring, Style.HARDWARE, side)
                    pile[top] = replace(pile[top], marks=(*pile[top].marks, mark))
    return pile


# --- Moving ------------------------------------------------------------------------------


def mirrored_about(ply: Ply, line: shapely.LineString) -> Ply:
    """A ply swung round a line: mirrored about it, its other face in front."""
    return replace(
        ply,
        area=_mirrored(ply.area, line),
        front=ply.back,
        back=ply.front,
        marks=tuple(
            (_mirrored(shape, line), style, OTHER[side]) for shape, style, side in ply.marks
        ),
    )


def _mirrored(shape: BaseGeometry, line: shapely.LineString) -> BaseGeometry:
    start, end = shapely.get_coordinates(line)[[0, -1]]
    along = (end - start) / np.hypot(*(end - start))

    def move(points: FloatArray) -> FloatArray:
        away = points - start
        there: FloatArray = start + 2 * np.outer(away @ along, along) - away
        return there

    return shapely.transform(shape, move)


def folded(pile: Pile, folds: Sequence[tuple[Point, Point]], moves: Point | None) -> Pile:
    """Fold the finished thing along its fold lines in order, the inside in.

    Parameters
    ----------
    pile : Pile
    folds : sequence of (Point, Point)
        Two points of each line.
    moves : Point or None
        A point that lies on the part that moves; the smaller part does where there is none.
    """
    plies, towards = pile.plies, OTHER[pile.outer]
    for start, end in folds:
        line = shapely.LineString([start, end])
        near, far = _halves(line)
        whole = shapely.union_all([ply.area for ply in plies])
        spot = shapely.Point(moves) if moves else None
        moving = near
        if (spot and far.contains(spot)) or (
            not spot and (whole & far).area < (whole & near).area - SAME
        ):
            moving = far
        staying = far if moving is near else near
        stay = tuple(_part(ply, staying, line) for ply in plies)
        over = tuple(mirrored_about(_part(ply, moving, line), line) for ply in reversed(plies))
        both = (*over, *stay) if towards == "back" else (*stay, *over)
        plies = tuple(ply for ply in both if ply.area.area > SAME)
        if spot:
            ((x, y),) = shapely.get_coordinates(_mirrored(spot, line))
            moves = float(x), float(y)
        towards = OTHER[towards]  # what has been folded over now looks the other way
    return Pile(plies, pile.outer, shapely.union_all([ply.area for ply in plies]))


def _halves(line: shapely.LineString) -> tuple[shapely.Polygon, shapely.Polygon]:
    """The plane on either side of a line, as far as anything reaches."""
    start, end = shapely.get_coordinates(line)
    along = (end - start) / np.hypot(*(end - start)) * FAR
    aside = np.array((-along[1], along[0]))
    one, other = (
        shapely.Polygon([start - along, start + along, start + along + out, start - along + out])
        for out in (-aside, aside)
    )
    return one, other


def _part(ply: Ply, half: shapely.Polygon, line: shapely.LineString) -> Ply:
    """The part of a ply on one side of a line, with a folded edge along the line."""
    shape = ply.area & half
    crease = shape.boundary & line_through(line).buffer(SAME)
    marks = [(geometry & half, style, side) for geometry, style, side in ply.marks]
    marks += [(crease, Style.FOLDED_EDGE, side) for side in SIDES]
    return replace(ply, area=shape, marks=tuple(m for m in marks if not m[0].is_empty))


def line_through(line: shapely.LineString) -> shapely.LineString:
    """A line made long both ways."""
    start, end = shapely.get_coordinates(line)
    along = (end - start) / np.hypot(*(end - start)) * FAR
    return shapely.LineString([start - along, start + along])
