"""The work in the hoop as it looks after a step, from the side the person sees.

Painted as it is laid: each piece over what was there before, each stitched line over
the pieces it goes through. What is covered is so left out with no more ado.
"""

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.contrast import GRAPHICS_CONTRAST, darkened
from paramgen.drawings.covering import uncovered
from paramgen.drawings.facing import face_seen
from paramgen.drawings.hooped import Scene, trimmed
from paramgen.drawings.looks import PAPER
from paramgen.drawings.outlines import (
    area,
    area_within,
    circle,
    line_within,
    rectangle,
    seen,
    straight,
)
from paramgen.drawings.primitives import Group, Item, Shape, Style
from paramgen.drawings.zips import zip_items
from paramgen.geometry.path import Path, Point
from paramgen.layout.project import Act, Face, Layer, Notion, Role, Side, Step

_FACES: Mapping[Face | None, Style] = MappingProxyType(
    {"right": Style.RIGHT_SIDE, "wrong": Style.WRONG_SIDE, None: Style.NO_RIGHT_SIDE}
)


def painted(hooped: Scene, step: Step, em: float) -> tuple[Item, ...]:
    """Paint the work as it is when a step is done.

    Parameters
    ----------
    hooped : Scene
    step : Step
        One of its own.
    em : float
        Size of letters, which small things go by, mm.
    """
    turned = hooped.number_of(Act.TURN)
    if turned is not None and step.number > turned:
        return _turned_out(hooped, step, turned, em)
    return uncovered(_in_the_hoop(hooped, step, em))


def stop_colour(step: Step) -> str | None:
    """Colour of a step's stop, dark enough to be seen on paper."""
    return darkened(step.colour, PAPER, GRAPHICS_CONTRAST) if step.colour else None


def taped_before(hooped: Scene, step: Step) -> tuple[Step, ...]:
    """Steps that put on tape which is still there when a step begins, on either side."""
    before = hooped.project.steps[: step.number - 1]
    return tuple(past for past in before if past.tape and not _untaped(past, before))


def hardware(hooped: Scene) -> tuple[tuple[Notion, Point], ...]:
    """Snaps, rings and the like, with each place where one goes."""
    return tuple(
        (notion, place)
        for notion in hooped.project.notions
        for place in (*notion.halves, *notion.at)
    )


def _trimming(hooped: Scene, number: int) -> BaseGeometry | None:
    """What is left of the work when a step begins; None if it has not been trimmed.

    Only a trim after the work is out of the hoop goes through all its layers.
    """
    out = hooped.number_of(Act.UNHOOP)
    trims = [
        area(step.mark[0])
        for step in hooped.project.steps[: number - 1]
        if step.act is Act.TRIM and step.mark and step.mark[0].closed
        if out is not None and step.number > out
    ]
    return shapely.intersection_all(trims) if trims else None


def _in_the_hoop(hooped: Scene, step: Step, em: float) -> tuple[Item, ...]:
    side, steps = step.seen_from, hooped.project.steps[: step.number]
    out, opening = hooped.number_of(Act.UNHOOP), hooped.number_of(Act.OPEN_ZIP)
    opened = opening is not None and opening <= step.number
    room = _trimming(hooped, step.number)
    items: list[Item] = []
    if not hooped.close_up and (out is None or step.number <= out):
        items.append(Shape(rectangle(hooped.field), Style.HOOP_FIELD))
    for past in steps:
        now = past is step
        shapes: list[Item] = []
        for layer in past.layers:
            for part in (layer,) if room is None else trimmed(layer, room):
                if part.side == side:
                    shapes.extend(_layer(part, side, em, now=now, opened=opened))
        if not now:
            shapes.extend(_lines(past, side, room))
        if past.seen_from == side and not _untaped(past, steps):
            for strip in past.tape:
                parts = (strip,) if room is None else area_within(strip, room)
                shapes.extend(Shape(seen(part, side), Style.HOLDING_TAPE, now) for part in parts)
        if shapes:
            items.append(Group(f"step-{past.number}", tuple(shapes), past.title))
    items.append(Group("now", tuple(_on_top(hooped, step, em, opened=opened)), step.title))
    return tuple(items)


def _turned_out(hooped: Scene, step: Step, turned: int, em: float) -> tuple[Item, ...]:
    side, seam = step.seen_from, seen(hooped.project.seam, step.seen_from)
    items: list[Item] = [Shape(seam, Style.RIGHT_SIDE), Shape(seam, Style.FOLDED_EDGE)]
    for past in hooped.project.steps[turned : step.number]:
        if past is step:
            items.extend(_done_now(hooped, step, em))
        else:
            items.extend(_lines(past, side))
            if past.act is Act.TOP_STITCH:
                items.extend(Shape(seen(m, side), Style.STITCHED_BEFORE) for m in past.mark)
    return tuple(items)


def _layer(layer: Layer, side: Side, em: float, *, now: bool, opened: bool) -> Iterator[Item]:
    outline = seen(layer.outline, side)
    style = _FACES[face_seen(layer, side)]
    if layer.slit:
        style = Style.ZIP_TAPE
    elif layer.clear:
        style = Style.SEE_THROUGH
    yield Shape(outline, style, now)
    yield Shape(outline, Style.RAW_EDGE, now)
    for start, end in layer.folded_edges:
        yield Shape(seen(straight(start, end), side), Style.FOLDED_EDGE, now)
    if layer.slit:
        yield from zip_items(layer, side, em, opened=opened)


def _lines(step: Step, side: Side, room: BaseGeometry | None = None) -> Iterator[Item]:
    for line in step.lines:
        for path in line.paths:
            for part in (path,) if room is None else line_within(path, room):
                yield Shape(seen(part, side), Style.STITCHED_BEFORE)


def _done_now(hooped: Scene, step: Step, em: float) -> Iterator[Item]:
    side, colour = step.seen_from, stop_colour(step)
    for line in step.lines:
        for path in line.paths:
            yield Shape(seen(path, side), Style.STITCHED_NOW, now=True, colour=colour)
    for mark in step.mark:
        yield Shape(seen(mark, side), Style.BY_HAND, now=True)
    if step.act is Act.FASTEN:
        for notion, place in hardware(hooped):
            ring = circle(place, (notion.width or 2 * em) / 2)
            yield Shape(seen(ring, side), Style.BY_HAND, now=True)


def _on_top(hooped: Scene, step: Step, em: float, *, opened: bool) -> Iterator[Item]:
    """Draw what has to be seen in this step although something lies over it."""
    side = step.seen_from
    if step.layers:
        for path in _placement_before(hooped.project.steps[: step.number - 1]):
            yield Shape(seen(path, side), Style.PLACEMENT)
    for layer in step.layers:
        if layer.side != side:
            yield Shape(seen(layer.outline, side), Style.HIDDEN, now=True)
    if step.act is Act.UNTAPE:
        for past in taped_before(hooped, step):
            if past.seen_from == side:
                yield from (Shape(seen(strip, side), Style.TAPE_OFF) for strip in past.tape)
    if step.act is Act.OPEN_ZIP:
        for past in hooped.project.steps[: step.number]:
            for layer in past.layers:
                if layer.slit:
                    yield from zip_items(layer, side, em, opened=opened)
    if step.act is Act.FLIP:
        axis = straight((0.0, hooped.field.top), (0.0, hooped.field.bottom))
        yield Shape(axis, Style.BY_HAND, now=True)
    if step.act is Act.TURN:
        yield from (Shape(seen(gap, side), Style.GAP) for gap in hooped.gaps)
    yield from _done_now(hooped, step, em)


def _placement_before(steps: Iterable[Step]) -> tuple[Path, ...]:
    """Placement lines of the last step that stitched."""
    last: tuple[Path, ...] = ()
    for step in steps:
        if step.lines:
            last = tuple(
                path for line in step.lines if line.role is Role.PLACEMENT for path in line.paths
            )
    return last


def _untaped(step: Step, steps: Iterable[Step]) -> bool:
    """Whether one of the steps takes off the tape that a step put on: all there is comes off."""
    return any(later.act is Act.UNTAPE and later.number > step.number for later in steps)
