"""How much work it is to find where lines cross: counted before they are laid over each other."""

from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.budget import MEETINGS
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.path import IntArray

#: Straight parts times straight parts that are looked at in one go: a bound on memory.
_AT_ONCE = 500_000


def ask_for_meetings(shapes: Iterable[BaseGeometry], where: Clause) -> None:
    """Ask the budget for all places where straight parts of some shapes may cross.

    Parameters
    ----------
    shapes : iterable of geometry
        Lines, and areas by their edges.
    where : Clause
        Where, as the end of a sentence.

    Raises
    ------
    CannotMakeError
        If there are more than the budget has.

    Examples
    --------
    Each of 150 lines across meets each of 150 lines down, 22,500 in all, and the budget has
    20,000; nothing meets where there is nothing:

    >>> from paramgen.vocabulary.findings import CannotMakeError
    >>> across = [shapely.LineString([(-1, y), (200, y)]) for y in range(150)]
    >>> down = [shapely.LineString([(x, -1), (x, 200)]) for x in range(150)]
    >>> try:
    ...     ask_for_meetings([*across, *down], Clause("where-outlines-meet"))
    ... except CannotMakeError as refusal:
    ...     print(dict(refusal.findings[0].facts)["amount"])
    22500
    >>> ask_for_meetings([], Clause("where-outlines-meet"))
    """
    shapes = list(shapes)
    points = int(shapely.get_num_coordinates(shapes).sum())
    if points * (points - 1) // 2 <= MEETINGS.most:
        return  # even if every part met every other
    for found in _counted(shapes):
        MEETINGS.ask(found, where, at_least=True)


def meetings(shapes: Iterable[BaseGeometry]) -> int:
    """Count the pairs of straight parts whose boxes meet, beyond those that follow each other.

    Examples
    --------
    Two squares of which each has a corner in the other:

    >>> meetings([shapely.box(0, 0, 2, 2), shapely.box(1, 1, 3, 3)])
    2

    Two lines that cross, one that has a bend, one of no length, and none:

    >>> meetings([shapely.LineString([(0, 0), (2, 2)]), shapely.LineString([(0, 2), (2, 0)])])
    1
    >>> meetings([shapely.LineString([(0, 0), (2, 0), (2, 2)])])
    0
    >>> meetings([shapely.LineString([(1, 1), (1, 1)])])
    0
    >>> meetings([])
    0
    """
    return max(_counted(shapes), default=0)


def _counted(shapes: Iterable[BaseGeometry]) -> Iterable[int]:
    """So many so far, as the counting goes on."""
    parts, beside = _straight_parts(shapes)
    count = len(parts)
    if count < 2:
        return
    tree = shapely.STRtree(parts)
    stride, pairs = max(1, _AT_ONCE // count), 0
    for first in range(0, count, stride):
        some = parts[first : first + stride]
        # Each meets itself, and the one before and after it.
        pairs += tree.query(some).shape[1] - len(some) - int(beside[first : first + stride].sum())
        yield pairs // 2


def _straight_parts(shapes: Iterable[BaseGeometry]) -> tuple[list[BaseGeometry], IntArray]:
    """Boxes round all straight parts, and how many others each of them is joined to."""
    points, of = shapely.get_coordinates(
        [line for shape in shapes for line in _lines(shape)], return_index=True
    )
    follows = of[1:] == of[:-1]
    ends = np.stack([points[:-1], points[1:]], axis=1)[follows]
    low, high = ends.min(axis=1), ends.max(axis=1)
    boxes = list(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    beside = np.zeros(len(boxes), dtype=np.intp)
    if boxes:
        of = of[1:][follows]
        joined = of[1:] == of[:-1]
        beside[1:] += joined
        beside[:-1] += joined
        first = np.flatnonzero(np.concatenate([[True], ~joined]))
        last = np.flatnonzero(np.concatenate([~joined, [True]]))
        # The last of a closed line is joined to its first; of two they are so already.
        closed = (ends[first, 0] == ends[last, 1]).all(axis=1) & (last - first > 1)
        beside[first[closed]] += 1
        beside[last[closed]] += 1
    return boxes, beside


def _lines(shape: BaseGeometry) -> Iterable[BaseGeometry]:
    edge = shape.boundary if shape.geom_type in ("Polygon", "MultiPolygon") else shape
    return shapely.get_parts(edge)
