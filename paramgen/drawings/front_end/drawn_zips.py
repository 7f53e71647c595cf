"""A zip: its coil, its stops, its slider and, once pulled, its opening."""

import numpy as np
import shapely

from paramgen.drawings.primitives.drawn_paths import seen, straight
from paramgen.drawings.primitives.items import Shape, Style
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray, Path, Point, path
from paramgen.vocabulary.project import Layer

# In ems: the slider's body, its pull, and half the width of the opening and of a stop.
_SLIDER = ((-0.7, -0.3), (0.3, -0.6), (0.8, -0.6), (0.8, 0.6), (0.3, 0.6), (-0.7, 0.3))
_PULL = ((-0.4, -0.22), (-2.4, -0.4), (-2.6, 0.0), (-2.4, 0.4), (-0.4, 0.22))
_OPENING, _STOP = 0.5, 0.6

# A stop is farther than this from the edge of the tape, mm.
_CUT_OFF = 0.1

# In ems: how far beside the zip an arrow shows which way the slider goes.
_BESIDE = 2.2

# Where along the zip the slider lies when it is shut, and when it is pulled in.
_SHUT, _PULLED = 0.96, 0.5


def zip_items(layer: Layer, side: Side, em: float, *, opened: bool) -> tuple[Shape, ...]:
    """Draw the coil of a zip, from stop to stop, and its slider.

    The slider is drawn at the end of the slit when the zip is shut: which end it has is
    for the person's zip to say.
    """
    start, along, across = _frame(layer, side)
    end = start + along
    if float(np.hypot(*along)) == 0.0:
        return ()
    slider = start + along * (_PULLED if opened else _SHUT)
    items: list[Shape] = [Shape(_line(start, slider if opened else end), Style.COIL)]
    if opened:
        middle = (slider + end) / 2
        wide = across * _OPENING * em
        items.append(
            Shape(path([slider, middle + wide, end, middle - wide], closed=True), Style.SLIT)
        )
    stop = across * _STOP * em
    # An end on the edge of the tape has been cut off with its stop.
    tape = seen(layer.outline, side).area.buffer(-_CUT_OFF)
    items.extend(
        Shape(_line(p - stop, p + stop), Style.ZIP_STOP)
        for p in (start, end)
        if tape.contains(shapely.Point(p))
    )
    unit = along / np.hypot(*along)
    items.extend(
        Shape(_placed(outline, slider, unit, across, em), Style.SLIDER)
        for outline in (_PULL, _SLIDER)
    )
    return tuple(items)


def slider_place(layer: Layer, side: Side, *, opened: bool) -> Point:
    """Where the slider is drawn."""
    start, along, _ = _frame(layer, side)
    x, y = start + along * (_PULLED if opened else _SHUT)
    return float(x), float(y)


def slider_way(layer: Layer, side: Side, em: float) -> tuple[Point, Point]:
    """Ends of an arrow beside the zip the way its slider is pulled, from shut to where it stays."""
    start, along, across = _frame(layer, side)
    beside = start + across * _BESIDE * em
    (ax, ay), (bx, by) = beside + along * _SHUT, beside + along * _PULLED
    return (float(ax), float(ay)), (float(bx), float(by))


def _frame(layer: Layer, side: Side) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Start of the slit, vector to its end, and a unit vector across it."""
    slit = seen(straight(*(layer.slit or ((0.0, 0.0), (0.0, 0.0)))), side)
    start, end = slit.points[0], slit.points[-1]
    along = end - start
    length = float(np.hypot(*along)) or 1.0
    return start, along, np.array([-along[1], along[0]]) / length


def _line(start: FloatArray, end: FloatArray) -> Path:
    return path([start, end], closed=False)


def _placed(
    outline: tuple[Point, ...], at: FloatArray, along: FloatArray, across: FloatArray, em: float
) -> Path:
    return path([at + (x * along + y * across) * em for x, y in outline], closed=True)
