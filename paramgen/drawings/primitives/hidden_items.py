"""Leaving out what is wholly covered by what is drawn over it."""

from collections.abc import Iterable
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style
from paramgen.vocabulary.path import Path

# What is cut along one curve comes out this much apart at most, mm.
_FINE = 1e-4

# A corner as far from all that covers it as this is seen, mm.
_OPEN = 0.01

#: Least x and y, largest x and y, mm.
Bounds = tuple[float, float, float, float]

_COVERING = frozenset(
    {
        Style.RIGHT_SIDE,
        Style.WRONG_SIDE,
        Style.NO_RIGHT_SIDE,
        Style.ZIP_TAPE,
        Style.HELD,
        Style.CUT_AWAY,
    }
)


def uncovered(items: Iterable[DrawnItem]) -> tuple[DrawnItem, ...]:
    """Drop every shape of which nothing can be seen, and every group left empty.

    A picture is the same without them; its file is smaller and its legend names only
    what is there to be seen.
    """
    kept, _ = _from_the_top(tuple(items), shapely.Polygon())
    return kept


def _from_the_top(
    items: tuple[DrawnItem, ...], over: BaseGeometry
) -> tuple[tuple[DrawnItem, ...], BaseGeometry]:
    kept: list[DrawnItem] = []
    for item in reversed(items):
        if isinstance(item, Group):
            inner, over = _from_the_top(item.items, over)
            if inner:
                kept.append(Group(item.name, inner, item.title))
        elif not isinstance(item, Shape):
            kept.append(item)
        elif not _hides(over, item.path, filled=item.style in _COVERING):
            kept.append(item)
            if item.style in _COVERING:
                over = shapely.union(over, item.path.area)
    return tuple(reversed(kept)), over


def _hides(over: BaseGeometry, path: Path, *, filled: bool) -> bool:
    """Whether an area covers a shape, but for what is too fine to be seen."""
    if over.is_empty:
        return False
    if _reaches_out(path.bounds, over.bounds):
        return False
    shape = path.area if filled else path.line
    shapely.prepare(over)
    if over.covers(shape):
        return True
    # Most of what is seen has a corner in the open, which is soon found.
    if not shapely.dwithin(over, shapely.points(path.points), _OPEN).all():
        return False
    left = shapely.difference(shape, over)
    if left.area > 0.0 or shape.area > 0.0:
        return bool(left.area <= _FINE * left.length)
    parts = shapely.get_parts(left)
    chords = [(a + b) / 2 for part in parts for a, b in pairwise(shapely.get_coordinates(part))]
    return all(shapely.Point(middle).dwithin(over, _FINE) for middle in chords)


def _reaches_out(inner: Bounds, outer: Bounds) -> bool:
    return (
        inner[0] < outer[0] - _OPEN
        or inner[1] < outer[1] - _OPEN
        or inner[2] > outer[2] + _OPEN
        or inner[3] > outer[3] + _OPEN
    )
