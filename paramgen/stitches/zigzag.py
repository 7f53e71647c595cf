"""Where the needle goes in to the sides of a line.

A seam's zigzag swings outward, so that no needle point but those on the line comes near the
finished edge. How far to the left each point lies is settled with its place on the path, before it
is known from which end it is sewn. Inner points and corners take turns with the outer ones; in a
notch the outer ones reach no further than the other edge.
"""

import numpy as np

from paramgen.stitches.needle_points import GRID_MM
from paramgen.stitches.path_ruler import PathRuler, RulerCorners, counted
from paramgen.stitches.spacing import HAIR, LEAST_STITCH, on_grid
from paramgen.vocabulary.path import BoolArray, FloatArray, IntArray

#: The least advance from side to side, mm: a step of the grid.
LEAST_ADVANCE = 0.1

#: A path is looked at over so much to either side for its direction, mm.
_REACH = 0.1

#: At a corner, over so much: less than a stitch, so that it is within the next chord or arc.
_NEAR = 0.1


def asides(
    corners: RulerCorners,
    between: IntArray,
    swing: FloatArray,
    outward: BoolArray,
    steep: FloatArray,
) -> FloatArray:
    """Find how far beside the line the needle goes in at each place of a zigzag.

    Parameters
    ----------
    corners : RulerCorners
    between : array of int, shape (k,)
        How many places follow each corner.
    swing : array of float, shape (k,)
        Whole width of the zigzag after each corner, mm; 0 where there is none.
    outward : array of bool, shape (k,)
        Whether it swings from the line to the left alone, and back to the next corner.
    steep : array of float, shape (k,)
        As from `notches`.

    Returns
    -------
    array of float, shape (k + sum of between,)
        To the left of the path, mm, negative to the right; 0 at each corner.
    """
    place, corner = counted(between + 1)
    beside, odd = place > 0, place % 2 == 1
    # To both sides: by turns along the whole path, passing its corners on the line.
    so_far = np.cumsum(beside)
    head = np.flatnonzero(~beside)[np.searchsorted(corners.path, corners.path)]
    turn = 1 - 2 * ((so_far - so_far[head][corner]) % 2)
    aside: FloatArray = np.where(beside & ~outward[corner], turn * swing[corner] / 2, 0.0)

    out = np.flatnonzero(odd & outward[corner])
    place, corner = place[out], corner[out]
    advance = corners.span[corner] / (between[corner] + 1)
    room = advance * np.minimum(
        place * steep[corner], (between[corner] + 1 - place) * steep[corner + 1]
    )
    aside[out] = np.minimum(swing[corner], room)
    return aside


def notches(ruler: PathRuler, corners: RulerCorners, closed: BoolArray) -> FloatArray:
    """Find how far to the left one can go beside a corner without meeting the line again.

    Parameters
    ----------
    ruler : PathRuler
    corners : RulerCorners
    closed : array of bool
        Which of the paths are closed.

    Returns
    -------
    array of float, shape (k,)
        Times as far as the place is away from the corner; inf unless the path turns back
        to the left there, by more than a right angle.
    """
    ahead = ruler.at(corners.reading + _NEAR) - ruler.at(corners.reading)
    behind = ruler.at(corners.reading) - ruler.at(corners.reading - _NEAR)
    last = np.flatnonzero(corners.last)
    head = np.concatenate([[0], last[:-1] + 1])
    ring = closed[:, None]
    ahead[last] = np.where(ring, ahead[head], behind[last])
    behind[head] = np.where(ring, behind[last], ahead[head])
    left = behind[:, 1] * ahead[:, 0] - behind[:, 0] * ahead[:, 1]
    back = -(behind * ahead).sum(axis=1)
    acute = (left > 0) & (back > 0)
    steep: FloatArray = np.divide(left, back, out=np.full(len(left), np.inf), where=acute)
    return steep


def swung(
    ruler: PathRuler, readings: FloatArray, aside: FloatArray, advance: FloatArray
) -> FloatArray:
    """Find needle points on the line and beside it.

    Parameters
    ----------
    ruler : PathRuler
    readings : array of float, shape (k,)
        Places along the line, mm.
    aside : array of float, shape (k,)
        How far to the left of the line, mm; negative to the right.
    advance : array of float, shape (k,)
        Longest advance of the zigzag, mm.

    Returns
    -------
    array of float, shape (k, 2)
    """
    points = ruler.at(readings)
    off = np.flatnonzero(aside)
    # Equal advances are more than half the longest, unless two share a short stretch, and
    # the first swing after a corner comes after half of one or more: a quarter of the
    # longest never reaches past the corner.
    reach = np.minimum(advance[off] / 4, _REACH)
    points[off] += aside[off, None] * ruler.across(readings[off], reach)
    return points


def short_swings(
    ruler: PathRuler, readings: FloatArray, aside: FloatArray, advance: FloatArray
) -> BoolArray:
    """Find stitches of a zigzag that are too short when rounded to the grid.

    Parameters are those of `swung`.

    Returns
    -------
    array of bool, shape (k - 1,)
        Whether the stitch from each place to the next is under `LEAST_STITCH`.
    """
    stitches = np.diff(on_grid(swung(ruler, readings, aside, advance)), axis=0)
    squares = (stitches * stitches).sum(axis=1)
    short: BoolArray = squares < (LEAST_STITCH / GRID_MM) ** 2 - HAIR
    return short
