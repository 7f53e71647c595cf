"""The finished thing as a pile of flat plies to be painted, worked out from the finished thing.

Nothing here knows a recipe. What lies where is known; here it gets its looks: edges, stitches, coil
and hardware. A raw edge is where it is trimmed, a stitched line is seen wherever a sheet that it
goes through is seen, and a thing is held where it goes, pushed in as far as it goes.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from itertools import islice
from typing import NamedTuple

import numpy as np
import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import (
    FAR,
    SAME,
    DrawnPly,
    PlyMark,
    PlyPile,
    ThingInPocket,
    folded,
    mirrored_about,
)
from paramgen.drawings.front_end.drawn_zips import zip_items
from paramgen.drawings.front_end.edge_stitching import edge_stitched
from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.facing_sides import face_seen
from paramgen.drawings.front_end.hardware_shapes import fitting_shape
from paramgen.drawings.front_end.lying_prints import NO_PRINTS, Prints, on_leaf
from paramgen.drawings.front_end.trimming import trimmed
from paramgen.drawings.primitives.items import Style, Tone
from paramgen.finished.clear_room import outward
from paramgen.finished.finished_thing import (
    OTHER,
    SIDES,
    FinishedThing,
    folded_before,
    layers_of,
    top_stitched,
    turn_of_cloth,
)
from paramgen.finished.finished_thing import Ply as FinishedPly
from paramgen.finished.hardware_reach import places
from paramgen.finished.held_things import lying
from paramgen.finished.pockets import Pocket, pockets_along
from paramgen.finished.round_the_edge import first_halves, spent_round_the_edge
from paramgen.finished.standing_room import standing_room
from paramgen.finished.turning_passage import lining_cut
from paramgen.layout.turning_gaps import gaps_in, is_open_edge
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.sheets import Sheet, frontmost
from paramgen.vocabulary.kinds import Act, Leaf, Role, Side
from paramgen.vocabulary.project import Held, Layer, Project


def finished_pile(
    thing: FinishedThing,
    em: float,
    *,
    tones: Mapping[str, Tone] | None = None,
    prints: Prints = NO_PRINTS,
    opened: bool = False,
    bare: bool = False,
    empty: bool = False,
    flat: bool = False,
) -> PlyPile:
    """Dress the finished thing, fit its hardware and put in what it holds.

    Of what stands on a bottom its walls are shown, front and back, and not what goes round them.

    Parameters
    ----------
    thing : FinishedThing
    em : float
        Size of letters, which small things go by, mm.
    tones : mapping of name to Tone or None
        What each fabric is told by; None where nobody said what they look like.
    prints : mapping of number to LineString
        How the print of each layer lies.
    opened : bool
        Whether its zip is drawn half open.
    bare : bool
        Whether its hardware and what it holds are left out.
    empty : bool
        Whether what it holds is left out.
    flat : bool
        Whether what stands is shown as it was before its corners were sewn across.
    """
    stands = None if flat else standing_room(thing)
    room = thing.room if stands is None else thing.room & stands.wall
    looks = _Looks(em, tones or tones_of(thing.project), prints, opened)
    pile = [_dressed(thing, ply, looks, room) for ply in thing.plies]
    if bare:
        return PlyPile(tuple(pile), thing.outer, room)
    pile = _with_hardware(pile, thing, em)
    order = [ply.index for ply in thing.plies]
    for held in () if empty else thing.project.holds:
        for pocket in pockets_along(thing, held):
            lies = lying(thing, held, pocket)
            if lies is None:
                continue
            place = order.index(pocket.sheet) + (held.face is Side.FRONT)
            pile.insert(place, _held_ply(held, lies, room, pocket))
            order.insert(place, -1)
    return PlyPile(tuple(pile), thing.outer, room)


def folded_pile(
    thing: FinishedThing,
    em: float,
    *,
    tones: Mapping[str, Tone] | None = None,
    prints: Prints = NO_PRINTS,
    opened: bool = False,
) -> PlyPile:
    """The finished thing, bare, folded along all its folds.

    Parameters
    ----------
    thing, em, tones, prints, opened
        As for `finished_pile`.
    """
    pile = finished_pile(thing, em, tones=tones, prints=prints, opened=opened, bare=True)
    moves = next(iter(first_halves(thing)), None)
    return folded(pile, thing.project.finish.folds, moves, spent_round_the_edge(thing))


def lapped_pile(
    thing: FinishedThing,
    em: float,
    *,
    sewn: int,
    tones: Mapping[str, Tone] | None = None,
    prints: Prints = NO_PRINTS,
    opened: bool = False,
) -> PlyPile:
    """The finished thing, bare, folded as it is sewn in a step.

    Parameters
    ----------
    thing, em, tones, prints, opened
        As for `finished_pile`.
    sewn : int
        Number of the step. What is sewn in it is drawn as done by hand, what was sewn through
        before it as stitched.
    """
    pile = finished_pile(thing, em, tones=tones, prints=prints, opened=opened, bare=True)
    for step in top_stitched(thing.project):
        if step.number <= sewn:
            style = Style.BY_HAND if step.number == sewn else Style.STITCHED_BEFORE
            pile = _with_lines(pile, shapely.union_all([mark.line for mark in step.mark]), style)
    return folded(pile, thing.project.finish.folds, None, spent_round_the_edge(thing))


class _Looks(NamedTuple):
    """What plies are dressed by: as for `finished_pile`."""

    em: float
    tones: Mapping[str, Tone]
    prints: Prints
    opened: bool


def _dressed(thing: FinishedThing, ply: FinishedPly, looks: _Looks, room: BaseGeometry) -> DrawnPly:
    """A ply with its looks; what stands out is dressed as it lay, and then swung out."""
    if ply.index < 0:
        return _bound(thing, ply, looks)
    if ply.swung is None:
        return _ply(thing, ply.index, room, looks)
    swung = mirrored_about(_ply(thing, ply.index, thing.room, looks), ply.swung)
    if room is not thing.room:  # it hangs at a side that goes round behind the wall
        dx, dy = _to_the_wall(ply.swung, room)
        swung = swung.put(lambda shape: translate(shape, dx, dy))
    return replace(swung, sticks_out=True)


def _to_the_wall(edge: shapely.LineString, wall: BaseGeometry) -> tuple[float, float]:
    """The way straight from a line in the edge of the flat thing to that of its wall, mm."""
    middle = shapely.get_coordinates(edge.centroid)[0]
    (ax, ay), (bx, by) = shapely.get_coordinates(edge)[[0, -1]]
    away = np.array((by - ay, ax - bx)) / edge.length
    inwards = shapely.get_coordinates(wall.centroid)[0] - middle
    far = middle + away * np.copysign(FAR, away @ inwards)
    found = shapely.LineString([middle, far]) & wall
    if found.is_empty:
        return 0.0, 0.0
    way = away * np.copysign(found.distance(shapely.Point(middle)), away @ inwards)
    return float(way[0]), float(way[1])


def _bound(thing: FinishedThing, ply: FinishedPly, looks: _Looks) -> DrawnPly:
    """One half of the binding, with the folded edges that it has on both sides."""
    lies = looks.prints.get(ply.sheet.layer)
    edges = tuple((ply.area.boundary, Style.FOLDED_EDGE, side) for side in SIDES)
    layer = thing.layers[ply.sheet.layer]
    return DrawnPly(
        name=ply.sheet.piece,
        title=ply.sheet.title,
        fabric=layer.fabric,
        area=ply.area,
        front=Style.RIGHT_SIDE,
        back=Style.RIGHT_SIDE,
        marks=edges,
        tone=looks.tones.get(layer.fabric),
        layer=ply.sheet.layer,
        print_at=None if lies is None else on_leaf(lies, layer, ply.sheet.leaf),
    )


def stitched_through(pile: PlyPile, project: Project, *, folded: bool = False) -> PlyPile:
    """Put top-stitching on all that it goes through, so that it is folded with it.

    Parameters
    ----------
    pile : PlyPile
    project : Project
    folded : bool
        Whether it lies folded: what is sewn through it then.
    """
    lines = [
        mark.line
        for step in top_stitched(project)
        if folded_before(project, step) == folded
        for mark in step.mark
    ]
    return _with_lines(pile, shapely.union_all(lines), Style.STITCHED_BEFORE)


def _with_lines(pile: PlyPile, lines: BaseGeometry, style: Style) -> PlyPile:
    """Put lines on every ply that they go through, but for what it holds."""
    plies = [
        ply
        if ply.held
        else replace(
            ply,
            marks=(*ply.marks, *((lines & ply.area, style, side) for side in SIDES)),
        )
        for ply in pile.plies
    ]
    return replace(pile, plies=tuple(plies))


def lining_pile(
    thing: FinishedThing,
    em: float,
    *,
    tones: Mapping[str, Tone] | None = None,
    prints: Prints = NO_PRINTS,
    opened: bool = False,
    room: BaseGeometry | None = None,
) -> PlyPile:
    """Turn the work out between its linings, before it is pulled through its zip.

    The pile of the hoop is cut in front of what lies farthest behind. The outer side is the one
    that shows the zip.

    Parameters
    ----------
    thing, em, tones, prints, opened
        As for `finished_pile`; it is bare.
    room : BaseGeometry or None
        What is shown of it; all within its edge if None.
    """
    room, sheets = room or thing.room, thing.done.sandwich.sheets
    cut = lining_cut(thing.done)
    order = (*range(cut, len(sheets)), *range(cut))
    looks = _Looks(em, tones or tones_of(thing.project), prints, opened)
    plies = tuple(_ply(thing, index, room, looks) for index in order)
    pile = PlyPile(plies, Side.FRONT, room)
    shown = {
        side: sum(
            part.area
            for ply, part in zip(plies, pile.seen[side], strict=True)
            if ply.face(side) is Style.ZIP_TAPE
        )
        for side in SIDES
    }
    return replace(pile, outer=Side.BACK if shown[Side.BACK] > shown[Side.FRONT] else Side.FRONT)


def _ply(thing: FinishedThing, index: int, room: BaseGeometry, looks: _Looks) -> DrawnPly:
    done = thing.done
    sheet = done.sandwich.sheets[index]
    layer = thing.layers[sheet.layer]
    front, back = (_face(layer, sheet, side) for side in SIDES)
    shape, edges, stitches = _plain(done, index, room)
    coil = _coil(done, index, layer, room, looks.em, looks.opened)
    lies = looks.prints.get(sheet.layer)
    return DrawnPly(
        name=sheet.piece,
        title=sheet.title,
        fabric=layer.fabric,
        area=shape,
        front=front,
        back=back,
        marks=(*edges, *coil, *stitches),
        tone=None if layer.slit else looks.tones.get(layer.fabric),
        layer=sheet.layer,
        print_at=None if lies is None else on_leaf(lies, layer, sheet.leaf),
    )


@lru_cache(maxsize=64)
def _plain(
    done: Rehearsed, index: int, room: BaseGeometry
) -> tuple[BaseGeometry, tuple[PlyMark, ...], tuple[PlyMark, ...]]:
    """Where a sheet lies, its edges and its stitches; nowhere if it cannot be seen."""
    sheet = done.sandwich.sheets[index]
    if not sheet.shows:
        return shapely.Polygon(), (), ()
    shape = sheet.area & room
    return (
        shape,
        tuple(_edges(done, sheet, shape, room)),
        (
            *_sewn_before(done, sheet, shape),
            *_stitches(done, sheet, shape),
            *_looks_on(done, sheet, shape),
        ),
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
) -> Iterator[PlyMark]:
    """Folds and turned edges, drawn heavy, and raw edges: those of corners cut out among them."""
    folds = shapely.union_all([fold & room for fold in sheet.folds])
    around = _band(room)
    if done.turned and done.project.finish.trimmed is not None:
        around = around - _band(done.project.finish.trimmed.area)
    edge = shape.boundary & around
    slits = [slit.line for slit in done.sandwich.slits if slit.layer == sheet.layer]
    known = shapely.union_all([folds, *slits]).buffer(SAME)
    turned_in = around - _open_edges(done) if done.turned else shapely.Polygon()
    heavy = shapely.union(folds, edge & turned_in) if done.turned else folds
    raw = shape.boundary - known - turned_in
    for side in SIDES:
        yield raw, Style.RAW_EDGE, side
        yield heavy, Style.FOLDED_EDGE, side


@lru_cache(maxsize=4)
def _open_edges(done: Rehearsed) -> BaseGeometry:
    """Where an edge stays open, and is not turned in: so far inside the seam as turning takes."""
    project = done.project
    found = [
        gap.line
        for gap in gaps_in(project, (project.seam,))
        if is_open_edge(project.seam, gap.line)
    ]
    near = turn_of_cloth(project) + SAME
    return shapely.union_all([line.buffer(near, cap_style="flat") for line in found])


@lru_cache(maxsize=4)
def _band(room: BaseGeometry) -> BaseGeometry:
    return room.boundary.buffer(SAME)


def _coil(
    done: Rehearsed, index: int, layer: Layer, room: BaseGeometry, em: float, opened: bool
) -> Iterator[PlyMark]:
    """Coil and slider of a zip, on the tape that is drawn last."""
    leaf = done.sandwich.sheets[index].leaf
    if not layer.slit:
        return
    for part in trimmed(layer, room):
        if part.slit:
            for item in zip_items(part, Side.FRONT, em, opened=opened):
                side: Side = Side.FRONT if leaf is Leaf.LOWER else Side.BACK
                if not item.path.closed:
                    yield item.path.line, item.style, side
                elif side is Side.FRONT or item.style is Style.SLIT:
                    yield item.path.area, item.style, side


def _looks_on(done: Rehearsed, sheet: Sheet, shape: BaseGeometry) -> Iterator[PlyMark]:
    """What is stitched on a sheet for its looks: patches, and each stitch of what is drawn."""
    pile = done.sandwich
    for patch in pile.applied:
        if frontmost(pile, patch.area, patch.step) is sheet:
            yield patch.area & shape, Style.PATCH, Side.FRONT
    for sewn in pile.drawn:
        if frontmost(pile, sewn.path, sewn.step) is sheet:
            yield sewn.path & shape, Style.THREAD, Side.FRONT


def _sewn_before(done: Rehearsed, sheet: Sheet, shape: BaseGeometry) -> Iterator[PlyMark]:
    """Lines along which a sheet was sewn before it was laid: to another, or at its edges."""
    layer = next(islice(layers_of(done.project), sheet.layer, None))
    for line in edge_stitched(done.project, layer):
        yield from ((line.line & shape, Style.STITCHED_BEFORE, side) for side in SIDES)
    for step in done.project.steps[: sheet.step - 1]:
        if step.act in (Act.HAND_SEW, Act.EDGE_STITCH) and sheet.piece in step.pieces:
            for mark in step.mark:
                yield from ((mark.line & shape, Style.STITCHED_BEFORE, side) for side in SIDES)


def _stitches(done: Rehearsed, sheet: Sheet, shape: BaseGeometry) -> Iterator[PlyMark]:
    """Lines that go through a sheet, but for the seam, which is turned in."""
    for sewn in done.sandwich.sewn:
        if (
            sewn.stays
            and sewn.step > sheet.step
            and not (done.turned and sewn.line.role is Role.SEAM)
        ):
            seen = sewn.path & shape
            if seen.length > SAME:
                yield from ((seen, Style.STITCHED_BEFORE, side) for side in SIDES)


def _held_ply(held: Held, thing: shapely.Polygon, room: BaseGeometry, pocket: Pocket) -> DrawnPly:
    """A thing in its pocket: within the finished edge, and beyond it only past the mouth."""
    shape, out = thing & room, 0.0
    way = np.array(outward(pocket))
    along = shapely.get_coordinates(thing) @ way
    if not pocket.opens_within:
        mouth = float((shapely.get_coordinates(pocket.mouths) @ way).max())
        aside = np.array((-way[1], way[0])) * FAR
        near, far = way * mouth, way * FAR
        beyond = thing & shapely.Polygon([near - aside, near + aside, far + aside, far - aside])
        shape |= beyond
        out = max(0.0, float(along.max()) - mouth)
    laid = ThingInPocket(held, thing, float(np.ptp(along)) - out, out)
    return DrawnPly(
        name=held.name,
        title=held.title,
        fabric="",
        area=shape,
        front=Style.HELD,
        back=Style.HELD,
        held=laid,
    )


def _with_hardware(pile: list[DrawnPly], thing: FinishedThing, em: float) -> list[DrawnPly]:
    """Fit snaps on the side they are set from, the outside unless it is known.

    On both faces what goes through all that lies there. So do rings, what is set in what stands
    out, and what names every piece that it meets.
    """
    project, outer = thing.project, thing.outer
    ends = (outer, OTHER[outer])
    set_from = {(one.notion.name, one.at): one.side for one in places(thing)}
    for notion in project.notions:
        for number, place in enumerate((*notion.halves, *notion.at)):
            named = set(notion.through[number]) if notion.through else set[str]()
            ring = fitting_shape(notion, place, em).area
            for side in ends:
                there = [i for i, ply in enumerate(pile) if ply.area.contains(shapely.Point(place))]
                through = (
                    place in notion.at
                    or all(pile[i].sticks_out for i in there)
                    or {pile[i].name for i in there} <= named
                )
                if there and (side == set_from.get((notion.name, place), outer) or through):
                    top = there[-1] if side is Side.FRONT else there[0]
                    mark: PlyMark = (ring, Style.HARDWARE, side)
                    pile[top] = replace(pile[top], marks=(*pile[top].marks, mark))
    return pile
