"""Moving what is drawn, and cutting it to what a sheet shows."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np
import shapely

from paramgen.drawings.primitives.drawn_paths import line_within
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Text
from paramgen.drawings.primitives.paragraphs import moved as moved_text
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import Path


def moved(items: Iterable[DrawnItem], dx: float, dy: float) -> tuple[DrawnItem, ...]:
    """Move all items by a distance, mm."""
    return tuple(_moved(item, dx, dy) for item in items)


def _moved(item: DrawnItem, dx: float, dy: float) -> DrawnItem:
    if isinstance(item, Group):
        return replace(item, items=moved(item.items, dx, dy))
    if isinstance(item, Text):
        return moved_text(item, dx, dy)
    return replace(item, path=Path(item.path.points + np.array([dx, dy]), item.path.closed))


def within(shapes: Iterable[Shape], window: Box) -> Iterator[Shape]:
    """Cut lines to what lies in a window."""
    room = shapely.box(window.left, window.top, window.right, window.bottom)
    for shape in shapes:
        for part in line_within(shape.path, room):
            yield replace(shape, path=part)
