"""Sheets cut across, one over the other: their right sides dark, their folds round."""

from collections.abc import Iterator

import numpy as np

from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import Shape, Style, Tone
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray, Path, Point, path


def sheet_across(
    tone: Tone | None, above: bool, below: bool, box: Box, face: float
) -> Iterator[Shape]:
    """A sheet cut across, its right sides dark.

    Parameters
    ----------
    tone : Tone or None
        None for the tape of a zip.
    above, below : bool
        Which of its faces are right sides.
    box : Box
    face : float
        How thick a right side is drawn, mm.
    """
    yield Shape(rectangle(box), Style.SHEET if tone else Style.ZIP_TAPE, tone=tone)
    if above:
        yield Shape(rectangle(Box(box.left, box.top, box.right, box.top + face)), Style.RIGHT_FACE)
    if below:
        low = Box(box.left, box.bottom - face, box.right, box.bottom)
        yield Shape(rectangle(low), Style.RIGHT_FACE)


def fold_across(
    tone: Tone | None,
    middle: Point,
    radii: tuple[float, float],
    end: int,
    faces: tuple[bool, bool],
    face: float,
    out: float | None = None,
) -> Iterator[Shape]:
    """A fold that joins two sheets cut across, its right sides dark.

    Parameters
    ----------
    tone : Tone or None
        None for the tape of a zip.
    middle : Point
        Of its rings.
    radii : (float, float)
        Of the inner and the outer one, mm.
    end : int
        0 for a fold at the left of the sheets, 1 for one at their right.
    faces : (bool, bool)
        Whether its outer and its inner face are right sides.
    face : float
        How thick a right side is drawn, mm.
    out : float or None
        How far it stands out, mm, if less than a round one does: there is no room for that.
    """
    inner, outer = radii
    way = (1.0 if end else -1.0) * (1.0 if out is None else min(1.0, out / outer))
    yield Shape(_half_ring(middle, inner, outer, way), Style.SHEET, tone=tone)
    if faces[0]:
        yield Shape(_half_ring(middle, outer - face, outer, way), Style.RIGHT_FACE)
    if faces[1]:
        yield Shape(_half_ring(middle, inner, inner + face, way), Style.RIGHT_FACE)


def _half_ring(middle: Point, inner: float, outer: float, way: float) -> Path:
    """Half of a ring, bulging to the left where `way` is less than 0; less than 1 flattens it."""
    angle = np.linspace(-np.pi / 2, np.pi / 2, 17)
    arc: FloatArray = np.stack([way * np.cos(angle), np.sin(angle)], axis=1)
    return path(np.vstack([arc * outer, arc[::-1] * inner]) + middle, closed=True)
