"""A corner opened and laid flat the other way, seam on seam, below another picture."""

from collections.abc import Iterator

import numpy as np

from paramgen.drawings.front_end.framed_picture import Inset
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style, Tone
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.lengths import show_both, unbroken
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray, Path, path
from paramgen.vocabulary.unit import Unit

# For the width of the picture: how long the seam across the corner is drawn, and where its middle.
_LONG, _MIDDLE = 0.3, 0.42
# For that length: how much of the work is shown beyond the tip.
_SHOWN = 0.85
# Above and below it, in ems.
_ABOVE, _BELOW = 3.5, 1.5
# A binding reaches so far over the raw edge, for what lies between that and the seam.
_OVER, _STITCHED = 0.85, 0.7


def corner_laid_flat(
    depth: float,
    cut_by: float | None,
    view: Box,
    em: float,
    unit: Unit,
    *,
    tone: Tone | None,
    binds: bool,
) -> Inset:
    """Draw a corner laid flat, with the seam across it and how it is measured.

    Parameters
    ----------
    depth : float
        How long the seam across it is, mm.
    cut_by : float or None
        How far outside that seam the corner is cut out, mm; None if it has its tip.
    view : Box
        Room of the picture above it.
    em : float
        Size of letters, mm.
    unit : Unit
    tone : Tone or None
        What the fabric that lies outside is told by.
    binds : bool
        Whether the seam is sewn already and the raw edge is bound now.
    """
    by = _LONG * view.width / depth
    half, middle = depth / 2 * by, view.left + _MIDDLE * view.width
    top = view.bottom + _ABOVE * em
    line = top + 2 * half * _SHOWN - half
    end = line + (half if cut_by is None else cut_by * by)
    wide = 0.0 if cut_by is None else half - cut_by * by
    far = half + line - top
    corners = [(middle - far, top), (middle + far, top), (middle + wide, end)]
    corners += [(middle - wide, end)] if wide else []
    seam = _straight((middle - half, line), (middle + half, line))
    items: list[DrawnItem] = [Shape(path(corners, closed=True), Style.RIGHT_SIDE, tone=tone)]
    for side in (-1, 1):
        edge = _straight((middle + side * far, top), (middle + side * wide, end))
        items.append(Shape(edge, Style.FOLDED_EDGE))
    if wide:
        items.append(Shape(_straight((middle - wide, end), (middle + wide, end)), Style.RAW_EDGE))
    items.append(Shape(_straight((middle, top), (middle, end)), Style.STITCHED_BEFORE))
    if binds and cut_by is not None:
        items.append(Shape(seam, Style.STITCHED_BEFORE))
        items += _binding(middle, end, wide, cut_by * by, tone)
        labels = tuple(_bound(middle, end, half, cut_by * by))
    else:
        items.append(Shape(seam, Style.BY_HAND, now=True))
        labels = tuple(_sewn(depth, cut_by, (middle, top, line, end), half, unit))
    heading = "A corner, opened and laid side seam on bottom seam"
    box = Box(view.left, view.bottom, view.right, end + _BELOW * em)
    return Inset(heading, box, (Group("corner", tuple(items), heading),), labels)


def _straight(start: tuple[float, float], end: tuple[float, float]) -> Path:
    ends: FloatArray = np.array([start, end], dtype=np.float64)
    return path(ends, closed=False)


def _binding(
    middle: float, end: float, wide: float, cut_by: float, tone: Tone | None
) -> Iterator[DrawnItem]:
    over, stitched = end - _OVER * cut_by, end - _STITCHED * cut_by
    ends = wide + _OVER * cut_by  # it goes past both folds
    left, right = middle - ends, middle + ends
    strip = path([(left, over), (right, over), (right, end), (left, end)], closed=True)
    yield Shape(strip, Style.RIGHT_SIDE, tone=tone)
    yield Shape(strip, Style.FOLDED_EDGE)
    yield Shape(_straight((left, stitched), (right, stitched)), Style.BY_HAND, now=True)


def _sewn(
    depth: float,
    cut_by: float | None,
    at: tuple[float, float, float, float],
    half: float,
    unit: Unit,
) -> Iterator[Label]:
    middle, top, line, end = at
    yield Label(
        (middle, (top + line) / 2),
        (TextLine("side seam", bold=True), TextLine("the bottom seam lies right behind it")),
        on_line=True,
    )
    long = unbroken(show_both(depth, unit))
    yield Label(
        (middle + 0.8 * half, line),
        (TextLine("sew across here", bold=True), TextLine(f"from fold to fold, {long}")),
        on_line=True,
    )
    if cut_by is None:
        away = unbroken(show_both(depth / 2, unit))
        said = TextLine("the tip", bold=True), TextLine(f"{away} from the line, along the seam")
    else:
        inside = unbroken(show_both(cut_by, unit))
        said = TextLine("raw edge", bold=True), TextLine(f"{inside} outside the line")
    yield Label((middle, end), said, on_line=True)


def _bound(middle: float, end: float, half: float, cut_by: float) -> Iterator[Label]:
    yield Label(
        (middle + 0.8 * half, end - cut_by),
        (TextLine("seam across the corner"), TextLine("the binding does not cover it")),
        on_line=True,
    )
    yield Label(
        (middle + 0.6 * half, end - _STITCHED * cut_by),
        (TextLine("binding", bold=True), TextLine("stitch it here, through everything")),
        on_line=True,
    )
