"""The nearest two of very many places, some pairs left out.

Closest holes are of different places and not the two ends of one stitch; those of ties count.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

WholeArray = NDArray[np.int64]

#: Half of the cells round one; with the others each pair would be found twice.
_HALF_ROUND = ((0, 0), (1, 0), (-1, 1), (0, 1), (1, 1))


def nearest_pair(places: WholeArray, apart: WholeArray) -> tuple[int, int] | None:
    """Find the nearest two places that are not one of certain pairs.

    Looks for pairs as near as one step of the grid, then two, four, and so on, each time
    only in the same and in neighbouring squares of that size. A square holds few places
    for as long as nothing is found: all that are so near each other are certain pairs.

    Parameters
    ----------
    places : array of int, shape (n, 2)
        All different.
    apart : array of int, shape (m, 2)
        Pairs of places, by their numbers, that do not count.

    Returns
    -------
    pair of int, or None
        Numbers of the two, the smaller first; of several pairs so near the first. None if
        no pair counts.
    """
    count = len(places)
    left_out = np.unique(np.sort(apart, axis=1) @ np.array([count, 1]))
    if count * (count - 1) // 2 <= len(left_out):
        return None
    reach, whole = 1, int(np.ptp(places, axis=0).max()) + 1
    while True:
        best: tuple[int, int] | None = None
        for one, two in _neighbours(places, reach):
            code = np.minimum(one, two) * count + np.maximum(one, two)
            counts = ~np.isin(code, left_out)
            if not counts.any():
                continue
            code = code[counts]
            away = places[one[counts]] - places[two[counts]]
            square = away[:, 0] ** 2 + away[:, 1] ** 2
            nearest = int(square.min())
            found = (nearest, int(code[square == nearest].min()))
            best = found if best is None else min(best, found)
        # What is farther away than a square is wide may have been missed.
        if best is not None and (best[0] <= reach**2 or reach > whole):
            return divmod(best[1], count)
        reach *= 2


def _neighbours(places: WholeArray, reach: int) -> Iterator[tuple[WholeArray, WholeArray]]:
    """Pairs of places in the same square, and in neighbouring ones."""
    cells = (places - places.min(axis=0)) // reach + 1
    wide = int(cells[:, 0].max()) + 2
    keys = cells[:, 1] * wide + cells[:, 0]
    order = np.argsort(keys, kind="stable")
    ordered = keys[order]
    for x, y in _HALF_ROUND:
        wanted = ordered + (y * wide + x)
        start = np.searchsorted(ordered, wanted, "left")
        end = np.searchsorted(ordered, wanted, "right")
        if (x, y) == (0, 0):
            start = np.arange(1, len(ordered) + 1)  # only those after it in its own square
        many = end - start
        one = np.repeat(np.arange(len(ordered)), many)
        first = np.repeat(start - (np.cumsum(many) - many), many)
        yield order[one], order[first + np.arange(len(one))]
