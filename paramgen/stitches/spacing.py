"""How many stitches lie between two corners, and where.

Stitches between two corners are equal. Each place is worked out from its corner, never from the
one before, and is rounded to the grid once, halves always up: nothing drifts.
"""

import numpy as np

from paramgen.stitches.needle_points import GRID_MM, GridArray
from paramgen.stitches.path_ruler import PathRuler, RulerCorners, counted
from paramgen.vocabulary.path import BoolArray, FloatArray, IntArray

#: The shortest stitch, mm; only tie-ins and tie-offs may be shorter.
LEAST_STITCH = 0.4

#: Points this far apart, mm, are at least `LEAST_STITCH` apart when they are rounded to
#: the grid, in whatever direction they lie.
SAFE_STITCH = 0.5

#: Far above the noise of floating-point arithmetic, far below anything on the grid.
HAIR = 1e-6

#: Stitches laid while a number of them is looked for that is even on the grid: twenty times those
#: of the whole budget. Longest stitches of `2 * SAFE_STITCH` and more need one or two tries.
_MOST_TRIED = 1_200_000


def on_grid(points: FloatArray) -> GridArray:
    """Round points in mm to the grid of stitch files.

    Halves go up, and noise about a half goes up with it: 57.15 mm and -57.15 mm stay
    114.3 mm apart, and equal stitches that end on halves stay equal.

    Examples
    --------
    >>> on_grid(np.array([57.15, -57.15, 0.04])).tolist()  # 1143 apart, as 114.3 mm are
    [572, -571, 0]
    >>> on_grid(np.array([])).tolist()
    []
    """
    return np.floor(points / GRID_MM + (0.5 + HAIR)).astype(np.int64)


def share_out(
    start: FloatArray, step: FloatArray, first: FloatArray, number: IntArray
) -> tuple[FloatArray, IntArray]:
    """Read off the corners and equally spaced places after each of them.

    Every place is worked out from its corner, never from the place before it, so
    nothing drifts.

    Parameters
    ----------
    start : array of float, shape (k,)
        Readings of the corners, mm.
    step : array of float, shape (k,)
        From place to place, mm.
    first : array of float, shape (k,)
        From the corner to the first place after it, in steps.
    number : array of int, shape (k,)
        Places after the corner.

    Returns
    -------
    readings : array of float, shape (k + sum of number,)
        Each corner, followed by its places.
    heads : array of int, shape (k,)
        Where each corner is among them.

    Examples
    --------
    A corner at 0 with two places after it, 2 mm apart, and one at 6 with none:

    >>> readings, heads = share_out(
    ...     np.array([0.0, 6.0]), np.array([2.0, 0.0]), np.array([1.0, 1.0]), np.array([2, 0])
    ... )
    >>> readings.tolist(), heads.tolist()
    ([0.0, 2.0, 4.0, 6.0], [0, 3])
    """
    place, corner = counted(number + 1)
    along = np.where(place == 0, 0.0, place - 1 + first[corner])
    return start[corner] + along * step[corner], np.flatnonzero(place == 0)


def stitch_counts(
    ruler: PathRuler, corners: RulerCorners, longest: FloatArray, fewest: IntArray
) -> tuple[IntArray, BoolArray]:
    """Find the fewest equal stitches from each corner to the next.

    Parameters
    ----------
    ruler : PathRuler
    corners : RulerCorners
    longest : array of float, shape (k,)
        Longest stitch after each corner, mm.
    fewest : array of int, shape (k,)
        As from `fewest_stitches`.

    Returns
    -------
    counts : array of int, shape (k,)
        0 after the last corner of a path.
    fits : array of bool, shape (k,)
        Whether all the stitches, once rounded to the grid, are between `LEAST_STITCH`
        and `longest`. Where no number of stitches is, the count is the last one tried; nor is
        one looked for any longer than `_MOST_TRIED` allows.
    """
    span = corners.span
    counts = np.where(corners.last, 0, np.maximum(np.ceil(span / longest - HAIR), fewest))
    counts = counts.astype(np.intp)
    fits = corners.last | ((span >= LEAST_STITCH - HAIR) & (longest >= LEAST_STITCH - HAIR))
    todo = np.flatnonzero(fits & ~corners.last)
    tried = 0
    while todo.size:
        tried += int(counts[todo].sum())
        if tried > _MOST_TRIED:
            fits[todo] = False
            break
        good = even_stitches_fit(
            ruler, corners.reading[todo], span[todo], counts[todo], longest[todo], middles=False
        )
        todo = todo[~good]
        more = span[todo] / (counts[todo] + 1) >= LEAST_STITCH
        fits[todo[~more]] = False
        todo = todo[more]
        counts[todo] += 1
    return counts, fits


def even_stitches_fit(
    ruler: PathRuler,
    start: FloatArray,
    span: FloatArray,
    counts: IntArray,
    longest: FloatArray,
    *,
    middles: bool,
) -> BoolArray:
    """Tell whether stitches between pairs of corners keep their limits on the grid.

    Parameters
    ----------
    ruler : PathRuler
    start, span : array of float, shape (k,)
        Reading of the first corner and length to the second, mm.
    counts : array of int, shape (k,)
        Equal parts of the span.
    longest : array of float, shape (k,)
        Longest stitch, mm.
    middles : bool
        Whether the needle goes in at the middle of each part, or where two parts meet.

    Returns
    -------
    array of bool, shape (k,)
        Whether each stitch is between `LEAST_STITCH` and `longest` when its ends are
        rounded to the grid.
    """
    pairs = 2 * len(start)
    ends, step, number = np.empty(pairs), np.zeros(pairs), np.zeros(pairs, dtype=np.intp)
    ends[0::2], ends[1::2] = start, start + span
    step[0::2] = span / counts
    number[0::2] = counts if middles else counts - 1
    readings, heads = share_out(ends, step, np.full(pairs, 0.5 if middles else 1.0), number)
    across = np.diff(on_grid(ruler.at(readings)), axis=0)
    squares = (across * across).sum(axis=1)
    # The move from one pair to the next is no stitch: let it repeat the stitch before.
    squares[heads[1:-1:2]] = squares[heads[1:-1:2] - 1]
    shortest = np.minimum.reduceat(squares, heads[0::2])
    widest = np.maximum.reduceat(squares, heads[0::2])
    least, most = (LEAST_STITCH / GRID_MM) ** 2 - HAIR, (longest / GRID_MM) ** 2 + HAIR
    return (shortest >= least) & (widest <= most)


def fewest_stitches(ruler: PathRuler, corners: RulerCorners) -> IntArray:
    """Find the fewest stitches after each corner that show the shape at all.

    Three round a loop, two round a bend, one along what is straight.
    """
    ends = ruler.at(corners.reading)
    chord = np.diff(ends, axis=0, append=ends[-1:])
    straightness = np.hypot(chord[:, 0], chord[:, 1])
    straightness = straightness / np.where(corners.last, 1.0, corners.span)
    return np.where(straightness < 0.05, 3, np.where(straightness < 0.95, 2, 1))
