"""How far apart two letters stand: so that the room between them looks alike in every pair.

No pair is listed. The room between the outlines is measured in rows over the height that both
letters have; what lies deep inside a letter counts no more than so much.
"""

import math
from functools import lru_cache

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from paramgen.letters.letterforms import letterform
from paramgen.vocabulary.path import FloatArray

#: Room between two upright strokes, from edge to edge; how much of what is open besides counts,
#: and up to what depth on either side; in hundredths of a capital's height (our own choice).
UPRIGHTS_APART, OPEN_SHARE, DEEPEST = 25.0, 0.72, 22.0

#: Nowhere nearer than this, so that satin of either does not touch.
LEAST_APART = 11.0

#: Between two words.
WORD_SPACE = 44.0

_ROWS = np.arange(-148.0, 50.0, 4.0)


@lru_cache(maxsize=2048)
def outline(character: str, pen: float) -> BaseGeometry:
    """What a letter covers, drawn with a pen so wide, in hundredths of a capital's height.

    >>> outline("I", 10).bounds
    (-5.0, -105.0, 5.0, 5.0)
    """
    form = letterform(character)
    strokes = [] if form is None else [one.line for one in form.strokes]
    return shapely.union_all(
        [
            one.simplify(0.2).buffer(
                pen / 2, cap_style="square", join_style="mitre", mitre_limit=math.sqrt(2)
            )
            for one in strokes
        ]
    )


@lru_cache(maxsize=2048)
def apart(left: str, right: str, pen: float) -> float:
    """From the origin of a letter to that of the next, in hundredths of a capital's height.

    Parameters
    ----------
    left, right : str
        Characters that are drawn.
    pen : float
        Width of the strokes.

    Examples
    --------
    Two uprights stand as far apart as uprights do, and the width of a stroke:

    >>> apart("I", "I", 10.0)
    35.0

    What is open on its side comes nearer than what is not:

    >>> apart("L", "T", 10.0) < apart("H", "I", 10.0)
    True
    """
    inner, outer = _edges(left, pen)[1], _edges(right, pen)[0]
    width_left, start_right = outline(left, pen).bounds[2], outline(right, pen).bounds[0]
    open_left, open_right = width_left - inner, outer - start_right
    both = ~np.isnan(inner) | ~np.isnan(outer)
    rows_left, rows_right = np.flatnonzero(~np.isnan(inner)), np.flatnonzero(~np.isnan(outer))
    first, last = max(rows_left[0], rows_right[0]), min(rows_left[-1], rows_right[-1])
    both[:first] = False
    both[last + 1 :] = False
    room = UPRIGHTS_APART
    if both.any():
        sides = [
            np.where(np.isnan(one), DEEPEST, np.minimum(one, DEEPEST))[both]
            for one in (open_left, open_right)
        ]
        room -= OPEN_SHARE * float((sides[0] + sides[1]).mean())
    advance = width_left - start_right + room
    return max(advance, _touching(left, right, pen))


@lru_cache(maxsize=2048)
def _edges(character: str, pen: float) -> tuple[FloatArray, FloatArray]:
    """Left and right edge of a letter in each row; nan where it has none."""
    area = outline(character, pen)
    left, _, right, _ = area.bounds
    rows = shapely.linestrings([[(left - 1, y), (right + 1, y)] for y in _ROWS])
    bounds = shapely.bounds(shapely.intersection(rows, area))
    return bounds[:, 0], bounds[:, 2]


def _touching(left: str, right: str, pen: float) -> float:
    """How far apart they stand at `LEAST_APART`."""
    one, other = outline(left, pen), outline(right, pen)
    low = one.bounds[0] - other.bounds[2]
    high = one.bounds[2] - other.bounds[0] + LEAST_APART
    one = one.buffer(LEAST_APART)
    shapely.prepare(one)
    for _ in range(14):
        middle = (low + high) / 2
        moved = shapely.affinity.translate(other, middle)
        low, high = (middle, high) if shapely.intersects(one, moved) else (low, middle)
    return high
