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

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.cutting import trimmed
from paramgen.drawings.facing import face_seen
from paramgen.drawings.outlines import circle
from paramgen.drawings.plies import (
    FAR,
    OTHER,
    SAME,
    SIDES,
    Laid,
    Mark,
    Pile,
    Ply,
    mirrored_about,
)
from paramgen.drawings.primitives import Style
from paramgen.drawings.zips import zip_items
from paramgen.geometry.path import path
from paramgen.layout.project import Act, Held, Layer, Project, Role, Side
from paramgen.rehearsal.contents import Pocket, lying, outward, pockets_along
from paramgen.rehearsal.faces import trimmed_to
from paramgen.rehearsal.sheets import Sheet
from paramgen.rehearsal.turned import Rehearsed

#: A piece swings out if the seam holds it along a run that turns by less than this, degrees.
ONE_SIDE = 60.0


def finished_pile(done: Rehearsed, em: float, *, opened: bool = False, bare: bool = False) -> Pile:
    """Turn the rehearsed thing out, fit its hardware and put in what it holds.

    Parameters
    ----------
    done : Rehearsed
    em : float
        Size of letters, which small things go by, mm.
    opened : bool
        Whether its zip is drawn half open.
    bare : bool
        Whether its hardware and what it holds are left out.
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
    if bare:
        return Pile(tuple(pile), outer, room)
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
        As for `finished_pile`; it is bare.
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


# What is asked for several times in one project is kept for it, and for the one before.


@lru_cache(maxsize=2)
def finished_area(done: Rehearsed) -> BaseGeometry:
    """What lies within the finished edge, with what is cut out of it left out."""
    project = done.project
    cut = shapely.union_all(list(openings(project)))
    if not done.turned:
        return trimmed_to(project, done.sandwich) - cut
    return project.seam.area.buffer(-turn_of_cloth(project), join_style="mitre") - cut


def turn_of_cloth(project: Project) -> float:
    """What turning takes from each edge: how much the finished edge lies inside the seam, mm."""
    left, top, right, bottom = project.seam.bounds
    one_in = project.seam.area.buffer(-1.0, join_style="mitre").bounds
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
    seam = project.seam.line
    for step in project.steps[: None if before is None else before - 1]:
        if step.act is Act.UNHOOP:
            return
        if step.act is Act.TRIM:
            cut = [mark.area for mark in step.mark if mark.closed]
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
    shape, edges, stitches = _plain(done, index, room)
    marks = (*edges, *_coil(done, index, layer, room, em, opened), *stitches)
    return Ply(sheet.piece, sheet.title, layer.fabric, shape, front, back, marks)


@lru_cache(maxsize=64)
def _plain(
    done: Rehearsed, index: int, room: BaseGeometry
) -> tuple[BaseGeometry, tuple[Mark, ...], tuple[Mark, ...]]:
    """Where a sheet lies, its edges and its stitches."""
    sheet = done.sandwich.sheets[index]
    shape = sheet.area & room
    return (
        shape,
        tuple(_edges(done, sheet, shape, room)),
        tuple(_stitches(done, sheet, shape)),
    )


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
    around = _band(room)
    edge = shape.boundary & around
    slits = [slit.line for slit in done.sandwich.slits if slit.layer == sheet.layer]
    known = shapely.union_all([folds, *slits]).buffer(SAME)
    heavy = shapely.union(folds, edge) if done.turned else folds
    raw = shape.boundary - known - (around if done.turned else shapely.Polygon())
    for side in SIDES:
        yield raw, Style.RAW_EDGE, side
        yield heavy, Style.FOLDED_EDGE, side


@lru_cache(maxsize=4)
def _band(room: BaseGeometry) -> BaseGeometry:
    return room.boundary.buffer(SAME)


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
                    yield item.path.line, item.style, side
                elif side == "front" or item.style is Style.SLIT:
                    yield item.path.area, item.style, side


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
            ring = circle(place, (notion.width or 2 * em) / 2).area
            for side in ends:
                there = [i for i, ply in enumerate(pile) if ply.area.contains(shapely.Point(place))]
                through = place in notion.at or all(pile[i].sticks_out for i in there)
                if there and (side == outer or through):
                    top = there[-1] if side == "front" else there[0]
                    mark: Mark = (ring, Style.HARDWARE, side)
                    pile[top] = replace(pile[top], marks=(*pile[top].marks, mark))
    return pile
