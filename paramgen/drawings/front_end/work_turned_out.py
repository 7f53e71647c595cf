"""The work turned out: to its lining first where it has one all round, and right side out."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import DrawnPly, PlyPile
from paramgen.drawings.front_end.fitted_hardware import fitted, fitting_labels, set_from
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.over_edge import along_tapes, tape_area, tapes
from paramgen.drawings.front_end.pulling_over import pulled_over, pulled_over_labels
from paramgen.drawings.front_end.scene import Scene, State
from paramgen.drawings.front_end.table_work import ON_THE_TABLE
from paramgen.drawings.front_end.work_before_turning import across, gap_point
from paramgen.drawings.primitives.drawn_paths import area_seen, lines_of, rightmost, seen, spot_in
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.drawings.primitives.symbols import arrow
from paramgen.finished.finished_thing import OTHER, SIDES, turn_of_cloth
from paramgen.finished.gap_closing import next_to
from paramgen.lengths import show_both, unbroken
from paramgen.vocabulary.kinds import Act, FinishWay, Side
from paramgen.vocabulary.path import FloatArray, Path, Point, path
from paramgen.vocabulary.project import Step
from paramgen.wording.load import english

# A gap lies so near to the finished edge, beyond what turning takes, mm.
_NEAR = 0.3

# A stitched line this near all along is so far from the edge, mm.
_EVEN = 0.1

# Less than this of a piece is not worth a label, mm².
_SPECK = 4.0

# In ems: how far the arrows that fold a gap's edges in, and that through a zip, reach.
_FOLD_IN, _PULL = (0.3, 3.0), (0.9, 6.0)

# Marks between the two ends of a zip.
_ZIP = (Style.COIL, Style.SLIT)

# What closes a gap.
_CLOSES = (Act.HAND_SEW, Act.TOP_STITCH)

# Where all of it is looked at, as it lies: when it is pressed, with fingers or an iron, and filled.
_LOOKED_AT = (Act.FINGER_PRESS, Act.PRESS, Act.PUT_IN)

# Where what is done is told by itself.
_TOLD = (Act.BOX, Act.BIND)

# What is done to a gap in a step.
_AT_THE_GAP = {
    Act.PRESS: "fold its edges in along the seam line",
    Act.TOP_STITCH: "closed by this stitching",
}

# What is done through an open zip.
_THROUGH_THE_ZIP = {
    Act.TURN: "open it fully and pull the work out here",
    Act.TEAR: "open it and take the stabiliser out here",
}

# Where a gap is stitched by hand, so far inside the edge, mm: close to it, common practice,
# no source.
_CLOSE = 2.0


class TurnedWork(NamedTuple):
    """The turned work, and the side of it that is looked at."""

    pile: PlyPile
    side: Side


def turned_at(hooped: Scene, step: Step) -> TurnedWork | None:
    """How the turned work is looked at in a step; None if it was not rehearsed.

    It is seen from its outside, or from the side of its zip while its lining is outside; while
    something is pulled over, from the side that it comes from, and where it is looked at right
    after that, from the side that it was pulled over to; from the side that hardware is set from;
    and from the back where a step to top-stitch says so. What is lapped is seen from the lap.
    """
    pile = hooped.pile(step)
    if pile is None:
        return None
    if hooped.lapped(step):
        return TurnedWork(pile, _lap_side(pile))
    over = step.act in _LOOKED_AT and _just_pulled_over(hooped, step)
    if hooped.thing is not None and (over or step.act is Act.PULL_OVER):
        work_side = hooped.thing.work_side
        return TurnedWork(pile, OTHER[work_side] if over else work_side)
    if step.act is Act.TOP_STITCH and step.seen_from is Side.BACK:
        return TurnedWork(pile, Side.BACK)
    if step.act is Act.PUT_IN:
        return TurnedWork(pile, _side_of_mouths(hooped, pile))
    set_there = set_from(hooped, step) if step.act is Act.FASTEN else None
    return TurnedWork(pile, set_there or pile.outer)


def _lap_side(pile: PlyPile) -> Side:
    """The side on which most is seen of what is sewn by hand."""
    seen_on = {side: pile.lines_seen(Style.BY_HAND, side).length for side in SIDES}
    return max(SIDES, key=lambda side: seen_on[side])


def _side_of_mouths(hooped: Scene, pile: PlyPile) -> Side:
    """The side on which most is seen of what things are put in behind; outside if none of it is."""
    against = {held.against for held in hooped.project.holds}
    shown = {
        side: sum(
            float(part.area)
            for ply, part in zip(pile.plies, pile.seen[side], strict=True)
            if ply.name in against
        )
        for side in (pile.outer, OTHER[pile.outer])
    }
    return max(shown, key=lambda side: shown[side])


def outermost_fabric(hooped: Scene, step: Step) -> str:
    """The fabric most of which is seen of the turned work; empty if it was not rehearsed."""
    turned = turned_at(hooped, step)
    if turned is None:
        return ""
    shown: dict[str, float] = {}
    for ply, part in zip(turned.pile.plies, turned.pile.seen[turned.side], strict=True):
        shown[ply.fabric] = shown.get(ply.fabric, 0.0) + float(part.area)
    return max(shown, key=lambda fabric: shown[fabric], default="")


def _just_pulled_over(hooped: Scene, step: Step) -> bool:
    return hooped.project.steps[step.number - 2].act is Act.PULL_OVER


def turned_out(hooped: Scene, step: Step, em: float) -> tuple[DrawnItem, ...]:
    """Paint the turned work as it is when a step is done.

    Parameters
    ----------
    hooped : Scene
        Of a project that was rehearsed, but for its outline alone.
    step : Step
        After it was first turned.
    em : float
        Size of letters, which small things go by, mm.
    """
    turned = turned_at(hooped, step)
    if turned is None:
        seam = seen(hooped.project.seam, step.seen_from)
        plain = (Shape(seam, Style.RIGHT_SIDE), Shape(seam, Style.FOLDED_EDGE))
        return (*plain, *_by_hand(hooped, step, step.seen_from, em))
    pile, side = turned
    hidden = tuple(
        Shape(seen(one, side), Style.HIDDEN)
        for ply in (_behind(pile, side) if step.act in _LOOKED_AT else ())
        for one in _edges(ply, pile.room)
    )
    now = Group("now", (*hidden, *_by_hand(hooped, step, side, em)), step.title)
    return (*pile.painted[side], now)


def turned_out_labels(hooped: Scene, step: Step) -> Iterator[Label]:
    """Say what is done, and where; name the pieces where nothing else is to be named."""
    turned = turned_at(hooped, step)
    side = turned.side if turned else step.seen_from
    unit = hooped.project.unit
    for gap in _gaps(hooped, step):
        length = TextLine(unbroken(show_both(gap.exact, unit)))
        stays = bool(hooped.open_edges)
        does = [TextLine(_AT_THE_GAP[step.act])] if step.act in _AT_THE_GAP and not stays else []
        if step.act is Act.HAND_SEW:
            does = [
                TextLine("fold its raw edge in"),
                TextLine(f"sew by hand: {_sewn(hooped, step)}"),
            ]
        named = "open edge" if stays else "turning gap"
        said = (TextLine(named, bold=True), length, *does)
        yield Label(gap_point(gap.shown, side), said, on_line=True)
    if step.act is Act.TOP_STITCH:
        for tape in tapes(hooped.project, step):
            spot = spot_in(area_seen(tape_area(tape), side))
            said = (TextLine(tape.short_title, bold=True), TextLine("folded over the edge"))
            yield Label(spot, said)
        for line in _stitched(hooped, step):
            words = (TextLine("top-stitch here", bold=True), *_inside(hooped, step, line))
            yield Label(rightmost([seen(line, side)]), words, on_line=True)
    elif step.act is Act.BOX and (boxed := hooped.project.finish.boxed):
        across = [seen(path(one, closed=False), side) for one in boxed.folds]
        words = (TextLine("pinch each corner flat", bold=True), TextLine("and sew here, as below"))
        yield Label(rightmost(across), words, on_line=True)
    elif step.mark:
        marks = [seen(mark, side) for mark in step.mark]
        words = (TextLine("fold here" if step.act is Act.FOLD else "here", bold=True),)
        yield Label(rightmost(marks), words, on_line=True)
    if step.act is Act.FASTEN:
        yield from fitting_labels(hooped, step, side)
    if step.act is Act.PULL_OVER:
        yield from pulled_over_labels(hooped, side, hooped.letters_in_hand)
    if turned and step.act in _THROUGH_THE_ZIP:
        for _, _, opening in _pulls(turned, 1.0):
            words = (
                TextLine(english().as_used("zip", unit), bold=True),
                TextLine(_THROUGH_THE_ZIP[step.act]),
            )
            yield Label(gap_point(opening, Side.FRONT), words, on_line=True)
    naming = step.act in (*_LOOKED_AT, Act.HAND_SEW)
    to_lining = hooped.state(step) is State.TO_THE_LINING and step.act not in _TOLD
    if turned and (naming or to_lining):
        hidden = step.act in _LOOKED_AT
        yield from _named(turned, but_zip=step.act in _THROUGH_THE_ZIP, hidden=hidden)


def _sewn(hooped: Scene, step: Step) -> str:
    """Name the pieces whose edges are sewn to each other, all that lie along the gap."""
    project = hooped.project
    titles = {one.name: one.title for one in project.pieces}
    titles |= {one.name: one.title for one in project.notions}
    first, *others = dict.fromkeys(titles.get(name, name) for name in step.pieces) or ("it",)
    if hooped.thing is not None and len(step.pieces) > 1:
        # Where a flap lies along a part of the gap, that is next to the first piece there.
        others = [*next_to(hooped.thing, step.pieces[0], step.pieces[1])] or others
    return f"{first} to {listed(others)}" if others else first


class GapOnEdge(NamedTuple):
    """A turning gap on the finished edge, and its length along the seam line, mm."""

    shown: Path
    exact: float


def _gaps(hooped: Scene, step: Step) -> tuple[GapOnEdge, ...]:
    """Turning gaps that are still open when a step begins, along the finished edge.

    What goes into a tape in the step is not told of any more.
    """
    project = hooped.project
    earlier = project.steps[: step.number - 1]
    if any(one.act in _CLOSES for one in earlier) or hooped.folded_over(step):
        return ()
    pile = hooped.pile(step)
    if pile is None or hooped.thing is None:
        return tuple(GapOnEdge(gap, gap.length) for gap in hooped.gaps)
    near = turn_of_cloth(hooped.thing.project) + _NEAR
    found: list[GapOnEdge] = []
    for gap in hooped.gaps:
        band = gap.line.buffer(near, cap_style="flat")
        edge = lines_of(pile.room.boundary & band)
        found.extend(
            GapOnEdge(part, gap.length) for part in sorted(edge, key=lambda p: -p.length)[:1]
        )
    taped = shapely.union_all([tape_area(one) for one in tapes(project, step)])
    return tuple(gap for gap in found if not taped.covers(gap.shown.line))


def _by_hand(hooped: Scene, step: Step, side: Side, em: float) -> Iterator[DrawnItem]:
    gaps = _gaps(hooped, step)
    for past in hooped.project.steps[: step.number - 1]:
        if past.act is Act.TOP_STITCH:
            yield from (Shape(seen(mark, side), Style.STITCHED_BEFORE) for mark in past.mark)
    yield from (Shape(seen(gap.shown, side), Style.GAP) for gap in gaps)
    if step.act in (Act.PRESS, Act.HAND_SEW):
        for gap in hooped.gaps if gaps and not hooped.open_edges else ():
            into, out = _FOLD_IN
            end, start = across(gap, hooped.project.seam, em, side, into, out)
            yield from arrow(start, end, em)
    marks = _stitched(hooped, step) if step.act is Act.TOP_STITCH else step.mark
    if step.act is Act.BOX and (boxed := hooped.project.finish.boxed):
        marks = tuple(path(one, closed=False) for one in boxed.folds)
    yield from (Shape(seen(mark, side), Style.BY_HAND, now=True) for mark in marks)
    if step.act is Act.FASTEN:
        yield from fitted(hooped, step, side, em)
    if step.act is Act.PULL_OVER:
        yield from pulled_over(hooped, side, em)
    turned = turned_at(hooped, step)
    if turned and step.act in _THROUGH_THE_ZIP:
        for start, end, opening in _pulls(turned, em):
            yield Shape(opening, Style.SLIT)
            yield from arrow(start, end, em)


def _stitched(hooped: Scene, step: Step) -> tuple[Path, ...]:
    """Lines to top-stitch along: those marked, or else just inside every gap."""
    if step.mark:
        lines = (along_tapes(mark.line, hooped.project) for mark in step.mark)
        return tuple(
            mark if line.equals(mark.line) else path(shapely.get_coordinates(line), closed=False)
            for mark, line in zip(step.mark, lines, strict=True)
        )
    pile = hooped.pile(step)
    room = hooped.project.seam.area if pile is None else pile.room
    inner = room.buffer(-_CLOSE, join_style="mitre").boundary
    return tuple(
        part
        for gap in _gaps(hooped, step)
        for part in lines_of(inner & gap.shown.line.buffer(_CLOSE + _NEAR, cap_style="square"))
    )


def _inside(hooped: Scene, step: Step, line: Path) -> Iterator[TextLine]:
    """How far from the edge it is stitched, if it is marked and that is the same all along."""
    pile = hooped.pile(step)
    if pile is None or not step.mark:
        yield TextLine("close to the edge")
        return
    stitched = line.line
    away = shapely.distance(stitched, pile.room.boundary)
    if pile.room.boundary.buffer(away + _EVEN, join_style="mitre").covers(stitched):
        yield TextLine(f"{unbroken(show_both(away, hooped.project.unit))} from the edge")


def _slits(turned: TurnedWork) -> Iterator[tuple[FloatArray, FloatArray]]:
    """Ends of each zip that is seen, as the work lies."""
    pile, side = turned
    for ply, part in zip(pile.plies, pile.seen[side], strict=True):
        marks = [shape for shape, style, face in ply.marks if style in _ZIP and face == side]
        if ply.face(side) is Style.ZIP_TAPE and marks and part.dwithin(marks[0], _NEAR):
            points = np.vstack([shapely.get_coordinates(shape) for shape in marks])
            start = points[0]
            yield start, points[np.argmax(np.hypot(*(points - start).T))]


def _pulls(turned: TurnedWork, em: float) -> Iterator[tuple[Point, Point, Path]]:
    """Arrow out of each zip over the work, and the zip's opening, as they are seen."""
    pile, side = turned
    middle_of_it = np.array(shapely.get_coordinates(pile.room.centroid)[0])
    for start, end in _slits(turned):
        along = (end - start) / (np.hypot(*(end - start)) or 1.0)
        middle, across = (start + end) / 2, np.array((-along[1], along[0]))
        if (middle_of_it - middle) @ across < 0.0:
            across = -across
        into, out = _PULL
        wide = across * into * em
        opening = path([start, middle + wide, end, middle - wide], closed=True)
        ends = seen(path([middle, middle + across * out * em], closed=False), side)
        (sx, sy), (ex, ey) = ends.points.tolist()
        yield (sx, sy), (ex, ey), seen(opening, side)


def _behind(pile: PlyPile, side: Side) -> tuple[DrawnPly, ...]:
    """What is hidden but gives the work its shape: pockets of the other side, and batting."""
    return tuple(
        ply
        for ply, here, there in zip(
            pile.plies, pile.seen[side], pile.seen[OTHER[side]], strict=True
        )
        if here.area <= _SPECK
        and not ply.sticks_out
        and (there.area > _SPECK or ply.front is Style.NO_RIGHT_SIDE)
    )


def _edges(ply: DrawnPly, room: BaseGeometry) -> tuple[Path, ...]:
    """Edges of a ply that do not lie along the edge of the work."""
    return lines_of(ply.area.boundary - room.boundary.buffer(_NEAR))


def _named(turned: TurnedWork, *, but_zip: bool, hidden: bool) -> Iterator[Label]:
    """Name the pieces, but for a zip that has a label of its own; those hidden too if drawn."""
    pile, side = turned
    named: set[str] = set()
    for ply, part in zip(pile.plies, pile.seen[side], strict=True):
        rooms = [one for one in shapely.get_parts(part) if one.area > _SPECK]
        if but_zip and ply.face(side) is Style.ZIP_TAPE:
            continue
        if rooms and ply.name not in named:
            named.add(ply.name)
            room = max(rooms, key=lambda one: float(one.area))
            yield Label(spot_in(area_seen(room, side)), (TextLine(ply.title, bold=True),))
    if not hidden:
        return
    found: dict[str, dict[str, list[Path]]] = {}
    for ply in _behind(pile, side):
        edges = [seen(one, side) for one in _edges(ply, pile.room)]
        if edges and ply.name not in named:
            named.add(ply.name)
            where = "inside" if ply.front is Style.NO_RIGHT_SIDE else "on the other side"
            found.setdefault(where, {}).setdefault(ply.title, edges)
    for where, titles in found.items():
        words = (TextLine(listed(list(titles)), bold=True), TextLine(where))
        yield Label(rightmost(next(iter(titles.values()))), words, on_line=True)


def shown_state(hooped: Scene, step: Step) -> str:
    """Say in a sentence how the work lies before the person."""
    state, turned = hooped.state(step), turned_at(hooped, step)
    if state is State.BEFORE_HOOPING:
        return ON_THE_TABLE
    side = turned.side if turned else step.seen_from
    seen_from = (
        "seen from the front."
        if side is Side.FRONT
        else "turned over like a page: left and right change places."
    )
    how = {
        State.AS_SEWN: "Out of the hoop",
        State.TO_THE_LINING: "The lining outside",
        State.RIGHT_SIDE_OUT: "Right side out",
    }.get(state, "")
    if state is State.AS_SEWN and hooped.project.finish.way is FinishWay.TURNED:
        how = "Out of the hoop, inside out"
    if hooped.folded_over(step) or hooped.lapped(step):
        how = f"{how}, folded"
    if state is State.RIGHT_SIDE_OUT and (flaps := _flaps(hooped, step)):
        how = f"{how}, {flaps}"
    return f"{how}, {seen_from}"


def _flaps(hooped: Scene, step: Step) -> str:
    """Where what is pulled over lies, up to the step after that; empty later on."""
    titles = list(dict.fromkeys(flap.title for flap in hooped.to_pull_over))
    if hooped.before_pulling_over(step):
        return f"{listed(titles)} still in front"
    if not titles or not _just_pulled_over(hooped, step):
        return ""
    return f"{listed(titles)} {'on this side' if step.act in _LOOKED_AT else 'behind'}"
