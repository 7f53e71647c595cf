"""Where the needle goes in to the sides of a line."""

import numpy as np
from numpy.typing import NDArray

from paramgen.geometry.path import FloatArray, IntArray
from paramgen.stitches.ruler import BoolArray, Ruler
from paramgen.stitches.sewn import GRID_MM
from paramgen.stitches.spacing import HAIR, LEAST_STITCH, on_grid

#: The least advance from side to side, mm: a step of the grid.
LEAST_ADVANCE = 0.1

#: A path is looked at over so much to either side for its direction, mm.
_REACH = 0.1


def swung(
    ruler: Ruler,
    readings: FloatArray,
    sides: NDArray[np.int64],
    swing: FloatArray,
    advance: FloatArray,
) -> FloatArray:
    """Find needle points on the line and to its sides.

    Parameters
    ----------
    ruler : Ruler
    readings : array of float, shape (k,)
        Places along the line, mm.
    sides : array of int, shape (k,)
        1 or -1 for the sides, 0 for the line itself.
    swing, advance : array of float, shape (k,)
        Whole width of the zigzag and longest advance, mm.

    Returns
    -------
    array of float, shape (k, 2)
    """
    points = ruler.at(readings)
    aside = np.flatnonzero(sides)
    # Equal advances are more than half the longest, and the first swing after a corner
    # comes after half of one: a quarter of the longest never reaches past the corner.
    reach = np.minimum(advance[aside] / 4, _REACH)
    out = sides[aside] * swing[aside] / 2
    points[aside] += out[:, None] * ruler.across(readings[aside], reach)
    return points


def short_swings(
    ruler: Ruler, readings: FloatArray, place: IntArray, swing: FloatArray, advance: FloatArray
) -> BoolArray:
    """Find stitches of a zigzag that are too short when rounded to the grid.

    Parameters
    ----------
    ruler : Ruler
    readings : array of float, shape (k,)
        Places along the line, mm.
    place : array of int, shape (k,)
        0 at a corner, 1, 2, 3 ... for the swings after it.
    swing, advance : array of float, shape (k,)
        As for `swung`.

    Returns
    -------
    array of bool, shape (k - 1,)
        Whether the stitch from each place to the next is under `LEAST_STITCH`,
        whichever side the zigzag takes first.
    """
    sides = np.where(place == 0, 0, 1 - 2 * (place % 2))
    short = np.zeros(max(0, len(readings) - 1), dtype=bool)
    for first in (1, -1):
        stitches = np.diff(on_grid(swung(ruler, readings, first * sides, swing, advance)), axis=0)
        squares = (stitches * stitches).sum(axis=1)
        short |= squares < (LEAST_STITCH / GRID_MM) ** 2 - HAIR
    return short
