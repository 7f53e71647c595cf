"""How much work it is to find where lines cross: counted before they are laid over each other."""

from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.budget import MEETINGS
from paramgen.vocabulary.facts import Clause

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
    """
    found = 0
    for found in _counted(shapes):
        MEETINGS.ask(found, where, at_least=True)


def meetings(shapes: Iterable[BaseGeometry]) -> int:
    """Count the pairs of straight parts whose boxes meet, beyond those that follow each other.

    Two squares of which each has a corner in the other:

    >>> meetings([shapely.box(0, 0, 2, 2), shapely.box(1, 1, 3, 3)])
    2
    """
    return max(_counted(shapes), default=0)


def _counted(shapes: Iterable[BaseGeometry]) -> Iterable[int]:
    """So many so far, as the counting goes on."""
    parts = _straight_parts(shapes)
    count = len(parts)
    if count < 2:
        return
    tree = shapely.STRtree(parts)
    stride, pairs = max(1, _AT_ONCE // count), 0
    for first in range(0, count, stride):
        some = parts[first : first + stride]
        # Each meets itself, and the one before and after it.
        pairs += tree.query(some).shape[1] - 3 * len(some)
        yield max(0, pairs // 2)


def _straight_parts(shapes: Iterable[BaseGeometry]) -> list[BaseGeometry]:
    """Boxes round all straight parts."""
    points, of = shapely.get_coordinates(
        [line for shape in shapes for line in _lines(shape)], return_index=True
    )
    follows = of[1:] == of[:-1]
    ends = np.stack([points[:-1], points[1:]], axis=1)[follows]
    low, high = ends.min(axis=1), ends.max(axis=1)
    return list(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))


def _lines(shape: BaseGeometry) -> Iterable[BaseGeometry]:
    edge = shape.boundary if shape.geom_type in ("Polygon", "MultiPolygon") else shape
    return shapely.get_parts(edge)
