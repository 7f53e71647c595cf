"""The work as it was laid and stitched, from the side the person sees.

Painted as it is laid: each piece over what was there before, each stitched line over
the pieces it goes through. What is covered is so left out with no more ado.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.back_end.contrast import GRAPHICS_CONTRAST, darkened
from paramgen.drawings.back_end.looks import PAPER
from paramgen.drawings.front_end.drawn_zips import slider_way, zip_items
from paramgen.drawings.front_end.edge_stitching import edge_stitched
from paramgen.drawings.front_end.facing_sides import face_seen
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.front_end.thread_styles import stitched_style
from paramgen.drawings.front_end.trimming import trimmed
from paramgen.drawings.primitives.drawn_paths import (
    line_within,
    outer_paths,
    rectangle,
    seen,
    straight,
)
from paramgen.drawings.primitives.hidden_items import uncovered
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style, Tone
from paramgen.drawings.primitives.symbols import arrow
from paramgen.finished.finished_thing import openings
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Face, Role, Side
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Step

# Copies of a line enclose areas that differ by less, mm².
_SAME_AREA = 1.0

_FACES: Mapping[Face | None, Style] = MappingProxyType(
    {Face.RIGHT: Style.RIGHT_SIDE, Face.WRONG: Style.WRONG_SIDE, None: Style.NO_RIGHT_SIDE}
)


def painted(hooped: Scene, step: Step, em: float) -> tuple[DrawnItem, ...]:
    """Paint the work in its hoop as it is when a step is done.

    Parameters
    ----------
    hooped : Scene
    step : Step
        One of its own.
    em : float
        Size of letters, which small things go by, mm.
    """
    side = step.seen_from
    field = () if hooped.close_up else (Shape(rectangle(hooped.field), Style.HOOP_FIELD),)
    now = Group("now", tuple(_on_top(hooped, step, em)), step.title)
    holes = tuple(cut_out(hooped, step, side))
    return uncovered((*field, *layered(hooped, step, em), *holes, now))


def layered(
    hooped: Scene, step: Step, em: float, room: BaseGeometry | None = None
) -> tuple[DrawnItem, ...]:
    """Paint what has been laid, stitched and taped when a step is done, a group for each step.

    Parameters
    ----------
    hooped, step, em
        As for `painted`.
    room : BaseGeometry or None
        What is left of the work; all of it if not said.
    """
    side, steps = step.seen_from, hooped.project.steps[: step.number]
    opened = zip_opened(hooped, step)
    items: list[DrawnItem] = []
    if behind := tuple(_through(hooped, step, room)):
        items.append(Group("behind", behind, "Behind what is clear"))
    for past in steps:
        now = past is step
        shapes: list[DrawnItem] = []
        for place, layer in enumerate(past.layers):
            tone = _tone(hooped, step, layer, now=now)
            lies = hooped.print_seen(past, place, side)
            there = _as_it_lies(layer, steps[:-1])
            for part in (there,) if room is None else trimmed(there, room):
                if part.side == side:
                    shapes.extend(_layer(part, side, em, tone, lies, now=now, opened=opened))
        shapes.extend(_sewn_before(hooped, past, step, room))
        if not now:
            shapes.extend(_lines(past, side, _still_there(hooped, step), room))
        if past.seen_from == side and not _untaped(past, steps):
            shapes.extend(Shape(seen(strip, side), Style.HOLDING_TAPE, now) for strip in past.tape)
        if shapes:
            items.append(Group(f"step-{past.number}", tuple(shapes), past.title))
    return tuple(items)


def _through(hooped: Scene, step: Step, room: BaseGeometry | None) -> Iterator[DrawnItem]:
    """Draw what lies on the other side where the stabiliser between has been torn out."""
    side, steps = step.seen_from, hooped.project.steps[: step.number]
    torn = shapely.union_all(
        [mark.area for past in steps if past.act is Act.TEAR for mark in past.mark]
    )
    torn = torn if room is None else torn & room
    found: list[Shape] = []
    # What was laid first lies nearest to the stabiliser, and is drawn last.
    for layer in (layer for past in steps for layer in past.layers if layer.side != side):
        here = layer.outline.area & torn
        style = Style.SEE_THROUGH if layer.clear else _FACES[face_seen(layer, side)]
        style = Style.ZIP_TAPE if layer.slit else style
        tone = None if layer.slit else _tone(hooped, step, layer, now=False)
        found += [Shape(seen(one, side), style, tone=tone) for one in outer_paths(here)]
        if not layer.clear:
            torn -= layer.outline.area
    yield from reversed(found)


def _as_it_lies(layer: Layer, done: Iterable[Step]) -> Layer:
    """A layer as it lies once some steps are done: a patch may have been cut back."""
    cut = any(one.act is Act.TRIM and layer.piece in one.pieces for one in done)
    return replace(layer, outline=layer.cut_back) if cut and layer.cut_back else layer


def cut_out(hooped: Scene, step: Step, side: Side) -> Iterator[Shape]:
    """Draw what was cut out of the work in its hoop before a step."""
    for hole in openings(hooped.project, step.number):
        yield from (Shape(seen(one, side), Style.CUT_OUT) for one in outer_paths(hole))


def zip_opened(hooped: Scene, step: Step) -> bool:
    """Whether the zip has been pulled open when a step is done."""
    opening = hooped.number_of(Act.OPEN_ZIP)
    return opening is not None and opening <= step.number


def stop_colour(step: Step) -> str | None:
    """Colour of a step's stop, dark enough to be seen on paper."""
    return darkened(step.colour, PAPER, GRAPHICS_CONTRAST) if step.colour else None


def taped_before(hooped: Scene, step: Step) -> tuple[Step, ...]:
    """Steps that put on tape which is still there when a step begins, on either side."""
    before = hooped.project.steps[: step.number - 1]
    return tuple(past for past in before if past.tape and not _untaped(past, before))


def tape_off(hooped: Scene, step: Step) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
    """Strips that come off in a step, on the side that is seen and on the other, as seen."""
    side = step.seen_from
    on = [past for past in taped_before(hooped, step) if step.takes_tape_off(past.taped)]
    strips = [(past.seen_from == side, seen(strip, side)) for past in on for strip in past.tape]
    return (
        tuple(strip for here, strip in strips if here),
        tuple(strip for here, strip in strips if not here),
    )


def _tone(hooped: Scene, step: Step, layer: Layer, *, now: bool) -> Tone | None:
    """What the fabric of a layer is told by; a person's own steps back behind what is laid now."""
    tone = hooped.tones.get(layer.fabric)
    behind = tone is not None and tone.cloth is not None and bool(step.layers) and not now
    return replace(tone, faded=True) if tone and behind else tone


def _layer(
    layer: Layer,
    side: Side,
    em: float,
    tone: Tone | None,
    lies: Path | None,
    *,
    now: bool,
    opened: bool,
) -> Iterator[DrawnItem]:
    outline = seen(layer.outline, side)
    style = _FACES[face_seen(layer, side)]
    if layer.slit:
        style = Style.ZIP_TAPE
    elif layer.clear:
        style = Style.SEE_THROUGH
    yield Shape(outline, style, now, tone=None if layer.slit else tone, print_at=lies)
    yield Shape(outline, Style.RAW_EDGE, now)
    for start, end in layer.folded_edges:
        yield Shape(seen(straight(start, end), side), Style.FOLDED_EDGE, now)
    if layer.slit:
        yield from zip_items(layer, side, em, opened=opened)


@dataclass(frozen=True)
class _StillThere:
    """Which threads are still there: basting until it is pulled out, what lies on cloth alone."""

    basted: bool
    on: BaseGeometry | None


def _still_there(hooped: Scene, step: Step) -> _StillThere:
    pulled, out = hooped.number_of(Act.PULL_OUT), hooped.number_of(Act.UNHOOP)
    basted = pulled is None or step.number < pulled
    # Stabiliser that is washed out is cut off close to the work before.
    cut_off = hooped.number_of(Act.WASH_OUT) is not None and out is not None and step.number > out
    return _StillThere(basted, hooped.whole if cut_off else None)


def _lines(
    step: Step, side: Side, there: _StillThere, room: BaseGeometry | None = None
) -> Iterator[DrawnItem]:
    for line in step.lines:
        if line.role is Role.BASTING and not there.basted:
            continue
        for path in line.paths:
            parts = (path,) if room is None else line_within(path, room)
            if there.on is not None:
                parts = tuple(one for part in parts for one in line_within(part, there.on))
            for part in parts:
                yield Shape(seen(part, side), stitched_style(line))


def _sewn_before(
    hooped: Scene, laid_in: Step, step: Step, room: BaseGeometry | None
) -> Iterator[DrawnItem]:
    """Lines along which what a step lays was sewn before: at its edges, or together."""
    side = step.seen_from
    layers = [layer for layer in laid_in.layers if layer.side == side]
    lines = [line for layer in layers for line in edge_stitched(hooped.project, layer)]
    laid = {layer.piece for layer in layers}
    for past in hooped.project.steps[: step.number]:
        if past.act in (Act.HAND_SEW, Act.EDGE_STITCH) and laid.issuperset(past.pieces):
            lines.extend(past.mark)
    for line in lines:
        parts = (line,) if room is None else line_within(line, room)
        yield from (Shape(seen(part, side), Style.STITCHED_BEFORE) for part in parts)


def _on_top(hooped: Scene, step: Step, em: float) -> Iterator[DrawnItem]:
    """Draw what has to be seen in this step although something lies over it."""
    side, colour = step.seen_from, stop_colour(step)
    if step.layers:
        before = hooped.project.steps[: step.number - 1]
        last = _placement_before(before)
        for path in last or _all_round(before, step):
            yield Shape(seen(path, side), Style.PLACEMENT)
    for layer in step.layers:
        if layer.side != side:
            yield Shape(seen(layer.outline, side), Style.HIDDEN, now=True)
    if step.act in (Act.UNTAPE, Act.UNHOOP):
        here, behind = tape_off(hooped, step)
        yield from (Shape(strip, Style.TAPE_OFF) for strip in here)
        if not here:
            yield from (Shape(strip, Style.HIDDEN, now=True) for strip in behind)
    if step.act is Act.OPEN_ZIP:
        for past in hooped.project.steps[: step.number]:
            for layer in past.layers:
                if layer.slit:
                    yield from zip_items(layer, side, em, opened=True)
                    yield from arrow(*slider_way(layer, side, em), em)
    if step.act is Act.FLIP:
        room = hooped.view if hooped.close_up else hooped.field
        axis = straight((0.0, room.top), (0.0, room.bottom))
        yield Shape(axis, Style.BY_HAND, now=True)
    if step.act is Act.TRIM:
        holes = shapely.union_all([mark.area for mark in step.mark if mark.closed])
        yield from (Shape(seen(one, side), Style.CUT_AWAY) for one in outer_paths(holes))
    for line in step.lines:
        for path in line.paths:
            style = stitched_style(line, now=True)
            yield Shape(seen(path, side), style, now=True, colour=colour)
    for mark in step.mark:
        yield Shape(seen(mark, side), Style.BY_HAND, now=True)


def _placement_before(steps: Iterable[Step]) -> tuple[Path, ...]:
    """Placement lines of the last step that stitched."""
    last: tuple[Path, ...] = ()
    for step in steps:
        if step.lines:
            last = tuple(
                path for line in step.lines if line.role is Role.PLACEMENT for path in line.paths
            )
    return last


def _all_round(before: Iterable[Step], step: Step) -> Iterator[Path]:
    """The outermost placement line, where what is laid covers it.

    Pieces that have no placement line of their own are laid past it.
    """
    closed = [
        line
        for past in before
        for line in past.lines
        if line.role is Role.PLACEMENT and all(path.closed for path in line.paths)
    ]
    largest = max((path.area.area for line in closed for path in line.paths), default=0.0)
    laid = [layer.outline.area for layer in step.layers if layer.side == step.seen_from]
    room = shapely.union_all(laid)
    for line in closed:
        if any(path.area.area > largest - _SAME_AREA for path in line.paths):
            for path in line.paths:
                yield from line_within(path, room)


def _untaped(step: Step, steps: Iterable[Step]) -> bool:
    """Whether one of the steps takes off the tape that a step put on."""
    return any(one.number > step.number and one.takes_tape_off(step.taped) for one in steps)
