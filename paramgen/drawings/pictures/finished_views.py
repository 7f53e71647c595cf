"""Pictures of the finished thing: open and flat from both sides, and folded."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import (
    DrawnPly,
    PlyPile,
    ThingInPocket,
    folded,
    line_through,
    shapes_of,
)
from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.finished_pile import finished_pile, stitched_through
from paramgen.drawings.front_end.fitted_hardware import ring_drawn, which_half
from paramgen.drawings.front_end.framed_picture import FramedPicture, composed, letters_for
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.front_end.over_edge import along_tapes, taped_over, tapes
from paramgen.drawings.front_end.print_ways import prints_of
from paramgen.drawings.primitives.drawn_paths import area_seen, box_of, outer_paths, seen, spot_in
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine, fabric_name
from paramgen.finished.finished_thing import OTHER, FinishedThing, top_stitched
from paramgen.finished.front_when_closed import front_when_closed
from paramgen.finished.hung_rings import HungRing, away_from, hung_rings
from paramgen.finished.round_the_edge import first_halves, spent_round_the_edge
from paramgen.lengths import show_both, show_size_both, spaced, unbroken
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import path
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

_CAPTIONS: Mapping[Style, str] = MappingProxyType(
    {
        Style.STITCHED_BEFORE: "stitching",
        Style.THREAD: "stitching, stitch by stitch",
        Style.FOLDED_EDGE: "folded or turned edge",
        Style.CREASE: "it folds here",
    }
)

#: Less than this of a piece is not worth a label, mm².
_SPECK = 4.0

#: Two sizes that differ by less are one, mm: a curve is laid out in chords.
_SAME_SIZE = 0.1

#: Faces that are told, and how.
_FACES: Mapping[Style, str] = MappingProxyType(
    {Style.WRONG_SIDE: "its wrong side", Style.SEE_THROUGH: "see-through"}
)


@dataclass(frozen=True, kw_only=True)
class _View:
    """One way to look at it.

    Parameters
    ----------
    name : str
    title : str
        Follows "finished".
    how : str
        A sentence on how it lies.
    pile : PlyPile
    side : str
        Which side of the pile is looked at.
    flat : bool
        Whether it lies open and flat.
    """

    name: str
    title: str
    how: str
    pile: PlyPile
    side: Side
    flat: bool = True


def finished(thing: FinishedThing, cloths: Cloths = NO_CLOTHS) -> tuple[Drawing, ...]:
    """Draw the finished thing.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it.

    Returns
    -------
    tuple of Drawing
        `front` and `back`. What is turned and folds is drawn closed in these two, and open and
        flat in `outside` and `inside`; the inside is the closing piece's.
    """
    return tuple(composed(sheet) for sheet in finished_sheets(thing, cloths))


def finished_sheets(thing: FinishedThing, cloths: Cloths = NO_CLOTHS) -> tuple[FramedPicture, ...]:
    """Pictures of the finished thing and their labels, before they are put together."""
    em = letters_for(Box(*thing.room.bounds))
    tones = tones_of(thing.project, cloths)
    pile = finished_pile(thing, em, tones=tones, prints=prints_of(thing, cloths))
    pile = taped_over(pile, thing.project, tones)
    return tuple(_sheet(thing, view, em) for view in _views(thing, pile))


def front_of(sheets: Sequence[FramedPicture]) -> FramedPicture:
    """Of the pictures of a finished thing that of its front, closed if it closes."""
    return next((one for one in sheets if one.name.endswith("front")), sheets[0])


def _views(thing: FinishedThing, pile: PlyPile) -> Iterator[_View]:
    outer, inner = pile.outer, OTHER[pile.outer]
    # Seen from the back of the hoop it is turned over as a page is.
    over = "Turned over like a page: left and right change places."
    # Where that is its back, what is seen from the front of the hoop is not its front.
    plain = "Seen from the front." if outer is Side.FRONT else "Seen as it lay in the hoop."
    said = {"front": plain, "back": over}
    project = thing.project
    if project.depth:
        leans = "Its walls lean together where it stands; this one is shown as it was sewn."
        said = {side: f"{how} {leans}" for side, how in said.items()}
    if not thing.folds_shut:
        yield _View(name="front", title="front", how=said[outer], pile=pile, side=outer)
        yield _View(name="back", title="back", how=said[inner], pile=pile, side=inner)
        return
    yield _View(
        name="outside", title="outside", how=f"Open and flat. {said[outer]}", pile=pile, side=outer
    )
    yield _View(
        name="inside", title="inside", how=f"Open and flat. {said[inner]}", pile=pile, side=inner
    )
    stitched = stitched_through(pile, project)
    first = next(iter(first_halves(thing)), None)
    closed = folded(stitched, project.finish.folds, first, spent_round_the_edge(thing))
    closed = stitched_through(closed, project, folded=True)
    front = front_when_closed(thing, _closed_body(closed))
    for name, side in zip(("front", "back"), (front, OTHER[front]), strict=True):
        yield _View(
            name=name,
            title=f"closed, {name}",
            how=f"Folded. {said[side]}",
            pile=closed,
            side=side,
            flat=False,
        )


def _sheet(thing: FinishedThing, view: _View, em: float) -> FramedPicture:
    project, pile, side = thing.project, view.pile, view.side
    picture = (*pile.painted[side], *_on_top(project, view), *_hung(project, view))
    labels = tuple(_labels(thing, view))
    size = show_size_both(*project.finished, project.unit, depth=project.depth)
    told = [", ".join(line.text for line in label.lines) + "." for label in labels]
    tells_all = view.flat or not _told_flat(thing)
    open_size = f"Finished size {size}{'' if tells_all else ', open and flat'}."
    how = view.how if view.flat else f"{view.how} {_folded_size(pile, project.unit)}"
    return FramedPicture(
        name=f"finished-{view.name}",
        title=f"{project.title}: finished, {view.title}",
        description=spaced(" ".join([open_size, how, *told])),
        heading=(
            TextLine(f"{project.title}: finished, {view.title}", bold=True),
            TextLine(open_size),
            TextLine(how),
        ),
        above="top" if view.flat else "",
        view=around([_view_box(pile, side), *_box_of_rings(project, view)]).grown(0.5 * em),
        picture=picture,
        legend=entries_for(picture, _CAPTIONS, project.unit),
        letters=em,
        labels=labels,
        column=True,
    )


def _told_flat(thing: FinishedThing) -> bool:
    """Whether the finished size that is told is that of the thing open and flat."""
    flat = Box(*thing.room.bounds)
    both = zip(sorted((flat.width, flat.height)), sorted(thing.project.finished), strict=True)
    return bool(thing.project.depth) or all(abs(one - other) < _SAME_SIZE for one, other in both)


def _folded_size(pile: PlyPile, unit: Unit) -> str:
    """Size of it when closed, without what is folded over its edge."""
    box = Box(*_closed_body(pile).bounds)
    return f"Folded size {show_size_both(box.width, box.height, unit)}."


def _closed_body(pile: PlyPile) -> BaseGeometry:
    """Where it lies when closed, without what stands out of it and what it holds."""
    return shapely.union_all([ply.area for ply in pile.plies if not (ply.sticks_out or ply.held)])


def _rings(project: Project, view: _View) -> Iterator[tuple[HungRing, tuple[float, float]]]:
    """Rings that hang from it when it is closed, or at an edge, and the way that each hangs."""
    body = _closed_body(view.pile)
    for ring in hung_rings(project):
        if ring.fold is None or not view.flat:
            yield ring, away_from(body, ring.at)


def _hung(project: Project, view: _View) -> Iterator[DrawnItem]:
    body = _closed_body(view.pile)
    for ring, out in _rings(project, view):
        yield from ring_drawn(ring, out, body, view.side)


def _box_of_rings(project: Project, view: _View) -> Iterator[Box]:
    for ring, out in _rings(project, view):
        shown = (seen(one, view.side) for part in ring.parts(out) for one in outer_paths(part))
        yield box_of(list(shown))


def _view_box(pile: PlyPile, side: Side) -> Box:
    return around(
        box_of([seen(one, side) for one in outer_paths(ply.area)])
        for ply in pile.plies
        if not ply.area.is_empty
    )


def _on_top(project: Project, view: _View) -> Iterator[DrawnItem]:
    """Draw what is cut out, top-stitched, where it folds, and what is hidden of things held."""
    pile, side = view.pile, view.side
    for part in shapely.get_parts(pile.room):
        for ring in part.interiors if view.flat else ():
            hole = path(shapely.get_coordinates(ring), closed=True)
            yield Shape(seen(hole, side), Style.CUT_OUT)
    if not view.flat:
        return
    for stitched in _top_stitched(project, pile, side):
        yield from shapes_of(stitched, Style.STITCHED_BEFORE, side)
    whole = shapely.union_all([ply.area for ply in pile.plies if not ply.held])
    for start, end in project.finish.folds:
        crease = line_through(shapely.LineString([start, end])) & whole
        if crease.length > 1.0 and not whole.boundary.buffer(0.1).covers(crease):
            yield from shapes_of(crease, Style.CREASE, side)
    for index, ply in enumerate(pile.plies):
        if ply.held:
            hidden = ply.area - pile.seen[side][index]
            outline = (ply.area.boundary & hidden) - pile.room.boundary.buffer(0.1)
            yield from shapes_of(outline, Style.BEHIND, side)


def _top_stitched(project: Project, pile: PlyPile, side: Side) -> Iterator[BaseGeometry]:
    """Lines top-stitched through the finished thing, but for what the things held cover."""
    pairs = zip(pile.plies, pile.seen[side], strict=True)
    held = shapely.union_all([part for ply, part in pairs if ply.held])
    for step in top_stitched(project):
        lines = (along_tapes(mark.line, project) for mark in step.mark)
        yield from (shapely.difference(line, held) for line in lines)


def _labels(thing: FinishedThing, view: _View) -> Iterator[Label]:
    pile, side = view.pile, view.side
    largest: dict[str, tuple[float, BaseGeometry, DrawnPly]] = {}
    for index, ply in enumerate(pile.plies):
        parts = shapely.get_parts(pile.seen[side][index])
        room = max(parts, key=lambda part: part.area, default=shapely.Polygon())
        hidden = ply.held is not None and room.area <= _SPECK
        if hidden and view.flat:
            room = ply.area
        known = largest.get(ply.name)
        if room.area > _SPECK and (known is None or room.area > known[0]):
            largest[ply.name] = (float(room.area), room, ply)
    for _, room, ply in largest.values():
        at = spot_in(area_seen(room, side))
        if ply.held:
            hidden = room is ply.area
            if hidden:  # it is only drawn as a dashed line
                at = area_seen(room, side).bounds[2], at[1]
            yield Label(at, tuple(_held_words(ply.held, thing.project.unit)), hidden)
        else:
            yield Label(at, (TextLine(ply.title, bold=True), *_ply_words(thing.project, ply, side)))
    yield from _hardware_labels(thing, view)
    for ring, out in _rings(thing.project, view):
        spot = spot_in(area_seen(shapely.union_all(ring.parts(out)[3:]), side))
        yield Label(spot, (TextLine(ring.notion.title, bold=True),))


def _ply_words(project: Project, ply: DrawnPly, side: Side) -> Iterator[TextLine]:
    """Say what fabric it is, unless it is a notion, and which face shows if not the right one.

    Of a tape over an edge, that it does not end there.
    """
    if any(tape.name == ply.name for tape in tapes(project)):
        yield TextLine("runs on at both ends")
    if any(piece.name == ply.name for piece in project.pieces):
        yield TextLine(f"fabric: {fabric_name(ply.fabric)}")
    if ply.face(side) in _FACES:
        yield TextLine(_FACES[ply.face(side)])


def _hardware_labels(thing: FinishedThing, view: _View) -> Iterator[Label]:
    for notion in thing.project.notions:
        for number, place in enumerate((*notion.halves, *notion.at)):
            half = which_half(thing.project, notion, number)
            for index, ply in enumerate(view.pile.plies):
                rings = [
                    geometry
                    for geometry, style, face in ply.marks
                    if style is Style.HARDWARE and face == view.side
                    if view.flat and geometry.contains(shapely.Point(place))
                ]
                if any(view.pile.seen[view.side][index].covers(ring) for ring in rings):
                    x, y = place
                    at = (-x if view.side is Side.BACK else x, y)
                    words = (
                        TextLine(notion.title, bold=True),
                        *((TextLine(half),) if half else ()),
                    )
                    yield Label(at, words)


def _held_words(laid: ThingInPocket, unit: Unit) -> Iterator[TextLine]:
    """Name a thing, with its size and how much of it is held and stands out."""
    yield TextLine(laid.held.title, bold=True)
    yield TextLine(unbroken(show_size_both(*laid.held.size, unit)))
    if laid.out > 0.0:
        yield TextLine(f"stands out {unbroken(show_both(laid.out, unit))}")
        yield TextLine(f"held {unbroken(show_both(laid.depth, unit))}")
    else:
        yield TextLine("lies wholly inside")
