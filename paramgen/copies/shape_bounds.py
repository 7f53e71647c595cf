"""How many shapes could at most lie in a field, however they lie.

Every bound holds for any way of laying them that is allowed, and the least of them is given:

- a rectangle inside the shape, the way round that each lies: what is said of tiles
  (`rectangle_bounds.py`) is true of these, as they do not overlap either;
- area: no more than there is room for where any of them reaches;
- circles inside the shape, whose middles then lie apart: no more of them lie in a box than Oler's
  inequality says (Acta Mathematica 105, 1961, 19-48).
"""

import math
from collections.abc import Iterator, Sequence

from shapely.geometry.base import BaseGeometry

from paramgen.copies.copy_tiles import CopyTile, FillRectangle
from paramgen.copies.nesting import NestingShape, ShapeTurn
from paramgen.copies.rectangle_bounds import at_most
from paramgen.vocabulary.box import Box, around

#: A way round, and the shape as it lies so.
ShapeTurns = tuple[ShapeTurn, BaseGeometry]

_HAIR = 1e-6


def most_shapes(room: FillRectangle, shape: NestingShape) -> int:
    """No more shapes than this lie in a field."""
    return max(_most(room, shape, ways) for ways in shape.together)


def _most(room: FillRectangle, shape: NestingShape, together: Sequence[int]) -> int:
    lying = [(shape.ways[one], shape.lying[one]) for one in together]
    fitting = [(w, area) for w, area in lying if w.wide <= room.wide and w.high <= room.high]
    if not fitting:
        return 0
    return min(
        _by_area(room, fitting),
        _by_circles(room, fitting, shape.inside),
        *_by_rectangles(room, fitting, shape.rectangles),
    )


def _by_area(room: FillRectangle, lying: Sequence[ShapeTurns]) -> int:
    whole = around(_reach(room, way, area) for way, area in lying)
    return math.floor(float(whole.width * whole.height / lying[0][1].area) + _HAIR)


def _reach(room: FillRectangle, way: ShapeTurn, area: BaseGeometry) -> Box:
    """Box round wherever a shape may reach."""
    box = Box(*area.bounds)
    return Box(
        box.left, box.top, room.wide - way.wide + box.right, room.high - way.high + box.bottom
    )


def _by_circles(room: FillRectangle, lying: Sequence[ShapeTurns], inside: BaseGeometry) -> int:
    across = 2.0 * float(inside.length)
    middles = []
    for way, _ in lying:
        x, y = way.lying(inside).coords[0]
        middles.append((x, y, room.wide - way.wide + x, room.high - way.high + y))
    left, top, right, bottom = zip(*middles, strict=True)
    wide, high = max(right) - min(left), max(bottom) - min(top)
    area, edge = wide * high, 2 * (wide + high)
    most = 2 * area / (math.sqrt(3) * across**2) + edge / (2 * across) + 1
    return math.floor(float(most) + _HAIR)


def _by_rectangles(
    room: FillRectangle, lying: Sequence[ShapeTurns], inside: Sequence[BaseGeometry]
) -> Iterator[int]:
    """What is true of the rectangles inside the shape, each way round."""
    for box in inside:
        tiles = []
        for turned in (0, 1):
            ways = [way for way, _ in lying if way.quarters % 2 == turned]
            tiles += [_tile(ways, box)] if ways else []
        yield at_most(room, tiles)


def _tile(ways: Sequence[ShapeTurn], box: BaseGeometry) -> CopyTile:
    """A rectangle as a tile, which reaches out at each side as far as in any of some ways."""
    outs = []
    for way in ways:
        left, top, right, bottom = way.lying(box).bounds
        outs.append((-left, -top, right - way.wide, bottom - way.high))
    # Rounded towards more room: what is true then is true of the shape.
    lefts, tops, rights, bottoms = zip(*outs, strict=True)
    return CopyTile(
        wide=math.floor(right - left + _HAIR),
        high=math.floor(bottom - top + _HAIR),
        left=math.ceil(max(lefts) - _HAIR),
        top=math.ceil(max(tops) - _HAIR),
        right=math.ceil(max(rights) - _HAIR),
        bottom=math.ceil(max(bottoms) - _HAIR),
    )
