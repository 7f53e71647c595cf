"""Leaving out what is wholly covered by what is drawn over it."""

from collections.abc import Iterable

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.outlines import area, line_string
from paramgen.drawings.primitives import Group, Item, Shape, Style

_COVERING = frozenset(
    {Style.RIGHT_SIDE, Style.WRONG_SIDE, Style.NO_RIGHT_SIDE, Style.ZIP_TAPE, Style.HELD}
)


def uncovered(items: Iterable[Item]) -> tuple[Item, ...]:
    """Drop every shape of which nothing can be seen, and every group left empty.

    A picture is the same without them; its file is smaller and its legend names only
    what is there to be seen.
    """
    kept, _ = _from_the_top(tuple(items), shapely.Polygon())
    return kept


def _from_the_top(
    items: tuple[Item, ...], over: BaseGeometry
) -> tuple[tuple[Item, ...], BaseGeometry]:
    kept: list[Item] = []
    for item in reversed(items):
        if isinstance(item, Group):
            inner, over = _from_the_top(item.items, over)
            if inner:
                kept.append(Group(item.name, inner, item.title))
        elif not isinstance(item, Shape):
            kept.append(item)
        elif item.style in _COVERING:
            room = area(item.path)
            if not over.covers(room):
                kept.append(item)
                over = shapely.union(over, room)
        elif over.is_empty or not over.covers(line_string(item.path)):
            kept.append(item)
    return tuple(reversed(kept)), over
