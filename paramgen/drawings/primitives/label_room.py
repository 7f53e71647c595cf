"""Upright boxes, and finding room for them."""

from collections.abc import Sequence
from itertools import combinations

from paramgen.vocabulary.path import Point


def spread(
    wanted: Sequence[float], heights: Sequence[float], top: float, gap: float
) -> list[float]:
    """Stack labels in a column, each as near as may be to its wanted height.

    Parameters
    ----------
    wanted : sequence of float
        Where the middle of each would best be; they keep this order from the top down.
    heights : sequence of float
    top : float
        Where the column begins.
    gap : float
        Least room between two.

    Returns
    -------
    list of float
        The top of each.

    Examples
    --------
    >>> spread([10, 10], [4, 4], 0, 1)
    [5.5, 10.5]
    """
    # Labels that touch are moved as one block, to the mean of what they want.
    blocks: list[list[float]] = []  # sum of wanted tops less offsets, count, height
    for middle, height in zip(wanted, heights, strict=True):
        block = [middle - height / 2, 1.0, height + gap]
        while blocks and _start(blocks[-1], top) + blocks[-1][2] > _start(block, top):
            above = blocks.pop()
            block = [
                above[0] + block[0] - above[2] * block[1],
                above[1] + block[1],
                above[2] + block[2],
            ]
        blocks.append(block)
    tops: list[float] = []
    for block in blocks:
        at = _start(block, top)
        for _ in range(round(block[1])):
            tops.append(at)
            at += heights[len(tops) - 1] + gap
    return tops


def _start(block: Sequence[float], top: float) -> float:
    return max(top, block[0] / block[1])


def crosses(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    """Whether two straight lines cross at a point within both."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(*a, b[0]) * side(*a, b[1]) < 0.0 and side(*b, a[0]) * side(*b, a[1]) < 0.0


def any_cross(lines: Sequence[tuple[Point, Point]]) -> tuple[int, int] | None:
    """Indices of the first two lines that cross; None if none do."""
    for (i, a), (j, b) in combinations(enumerate(lines), 2):
        if crosses(a, b):
            return i, j
    return None
