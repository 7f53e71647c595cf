"""Lay shapes so that they nest: each may lie several ways round, and reach between others.

The places at which two shapes meet, seen as places of the one while the other stays, are the
Minkowski sum of the one and the other mirrored through a point (the no-fit polygon: Bennell and
Oliveira, European Journal of Operational Research 184, 2008, 397-415). What all those already
laid leave of the field's own places is where the next may lie; it goes to the corner of what is
left that comes first by some measure, from the top, from the left and so on. Several measures are
tried, always the same ones, and the work is bounded.

All lengths here are tenths of a millimetre, and places whole ones; shapes are taken larger by
`SLACK` so that rounding brings no two together.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import combinations

import numpy as np
import shapely
from shapely.affinity import affine_transform, translate
from shapely.geometry.base import BaseGeometry

from paramgen.copies.copy_tiles import FillRectangle
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: What rounding a place may move a shape by, and what leaving out points of a curve may add to it.
SLACK, COARSER = 0.6, 1.0
#: Places weighed before the search takes what it has.
_WEIGHED = 160
#: The field's own places reach out by less than rounding gives back.
_HAIR = 0.3
#: Places across at which the edges of rectangles inside a shape are looked for, and how far
#: inside it they stay.
_EDGES, _INSIDE = 60, 0.1
#: What is nearly convex is filled up by no more than this.
_FILLED = 50.0

#: Where shapes lie: which, and where the left and the top of its needle points are in the field.
NestingPlaces = tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, eq=False)
class ShapeTurn:
    """A way round that a shape may lie.

    Parameters
    ----------
    quarters : int
        By how many quarters it is turned, clockwise.
    x, y : int
        Where its own origin is, from the left and the top of its needle points.
    wide, high : int
        What its needle points take.
    """

    quarters: int
    x: int
    y: int
    wide: int
    high: int

    def lying(self, shape: BaseGeometry) -> BaseGeometry:
        """The shape, or a part of it, as it lies so, from the left and top of its needle points."""
        return translate(_turned(shape, self.quarters), self.x, self.y)


@dataclass(frozen=True, eq=False)
class NestingShape:
    """What one copy claims, in every way round that it may lie.

    Parameters
    ----------
    area : BaseGeometry
        About its own origin, half of what is kept free round it too.
    ways : tuple of ShapeTurn
    together : tuple of tuple of int
        Which ways round may lie beside each other.
    """

    area: shapely.Polygon
    ways: tuple[ShapeTurn, ...]
    together: tuple[tuple[int, ...], ...]

    @cached_property
    def lying(self) -> tuple[BaseGeometry, ...]:
        """Its area each way round, from the left and top of its needle points."""
        return tuple(way.lying(self.area) for way in self.ways)

    @cached_property
    def inside(self) -> BaseGeometry:
        """A radius of the largest circle inside it, from its middle, to a tenth of a millimetre."""
        return shapely.maximum_inscribed_circle(self.area, tolerance=1.0)

    @cached_property
    def rectangles(self) -> tuple[BaseGeometry, ...]:
        """Rectangles along the axes inside it, none as wide and as high as another."""
        return rectangles_inside(self.area)

    @cached_property
    def _parts(self) -> tuple[BaseGeometry, ...]:
        return convex_parts(self.area)

    @cached_property
    def _met(self) -> dict[int, BaseGeometry]:
        return {}

    def _meets(self, quarters: int) -> BaseGeometry:
        """Where it meets itself, as it lies and so turned, both about their origins."""
        if quarters not in self._met:
            if quarters == 3:  # what the one is to the other, the other is to the one
                self._met[3] = _turned(self._meets(1), 1)
            else:
                parts = [_turned(part, quarters) for part in self._parts]
                self._met[quarters] = _sum(self._parts, parts)
        return self._met[quarters]

    def meets(self, one: int, other: int) -> BaseGeometry:
        """Places of the other, while one stays at the origin, at which the two meet."""
        first, second = self.ways[one], self.ways[other]
        there = self._meets((second.quarters - first.quarters) % 4)
        return translate(_turned(there, first.quarters), first.x - second.x, first.y - second.y)


def _turned(shape: BaseGeometry, quarters: int) -> BaseGeometry:
    """A shape turned clockwise, as seen with y down, about its origin."""
    cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarters % 4]
    return affine_transform(shape, [cos, -sin, sin, cos, 0, 0])


def convex_parts(area: BaseGeometry) -> tuple[BaseGeometry, ...]:
    """Convex shapes that together cover an area, and a little round it, with few points.

    Triangles are put together to what is convex, or nearly so, one after the other.
    """
    grown = area.buffer(SLACK + COARSER, join_style="mitre", mitre_limit=2.0)
    whole = without_holes(grown.simplify(COARSER))
    parts = list(shapely.get_parts(shapely.constrained_delaunay_triangles(whole)))
    count = 0
    while len(parts) != count:
        count, left = len(parts), parts
        parts = []
        for one in left:
            for place, other in enumerate(parts):
                hull = shapely.MultiPolygon([one, other]).convex_hull
                if hull.area - one.area - other.area <= _FILLED:
                    parts[place] = hull
                    break
            else:
                parts.append(one)
    return tuple(parts)


def rectangles_inside(area: BaseGeometry) -> tuple[BaseGeometry, ...]:
    """Rectangles along the axes inside an area, the widest first, each next one higher."""
    left, top, right, bottom = area.bounds
    points = shapely.get_coordinates(area)[:, 0]
    # Where it has points, which is where it bends, and evenly between its sides.
    some = np.quantile(points, np.linspace(0, 1, _EDGES // 2))
    xs = np.unique(np.concatenate([some, np.linspace(left, right, _EDGES // 2)]))
    xs = np.clip(xs, left + _INSIDE, right - _INSIDE)
    rays = shapely.linestrings([[(x, top - 1.0), (x, bottom + 1.0)] for x in xs.tolist()])
    spans = [_longest(list(shapely.get_parts(one))) for one in shapely.intersection(area, rays)]
    boxes = []
    for first, last in combinations(range(len(xs)), 2):
        low = max(span[0] for span in spans[first : last + 1])
        high = min(span[1] for span in spans[first : last + 1])
        if high - low > 2 * _INSIDE:
            boxes.append((xs[first], low + _INSIDE, xs[last], high - _INSIDE))
    if not boxes:
        return ()
    # It may bend between two places: only what lies in it counts.
    shapely.prepare(area)
    found = [one for one in boxes if area.covers(shapely.box(*one))]
    kept, highest = [], 0.0
    for one in sorted(found, key=lambda box: (box[0] - box[2], box[1] - box[3])):
        if one[3] - one[1] > highest + _INSIDE:
            kept.append(shapely.box(*one))
            highest = one[3] - one[1]
    return tuple(kept)


def _longest(parts: Sequence[BaseGeometry]) -> tuple[float, float]:
    """Where the longest of some upright lines begins and ends."""
    long = max(parts, key=lambda part: float(part.length))
    return float(long.bounds[1]), float(long.bounds[3])


def _sum(ones: Sequence[BaseGeometry], others: Sequence[BaseGeometry]) -> BaseGeometry:
    """Places of the others at which they meet the ones, without holes."""
    sums = [
        (
            shapely.get_coordinates(first)[:, None] - shapely.get_coordinates(second)[None, :]
        ).reshape(-1, 2)
        for first in ones
        for second in others
    ]
    hulls = shapely.convex_hull([shapely.MultiPoint(points) for points in sums])
    whole = shapely.union_all(hulls)
    return without_holes(whole)


def without_holes(area: BaseGeometry) -> shapely.Polygon:
    """The largest part of an area, filled up.

    Examples
    --------
    >>> ring = shapely.box(0, 0, 4, 4) - shapely.box(1, 1, 3, 3)
    >>> without_holes(ring).area, without_holes(ring | shapely.box(9, 9, 10, 10)).area
    (16.0, 16.0)
    """
    largest = max(shapely.get_parts(area), key=lambda part: float(part.area))
    return shapely.Polygon(largest.exterior)


@dataclass
class _Search:
    """What is laid, where, and the work left."""

    room: FillRectangle
    shape: NestingShape
    left: int = _WEIGHED

    def lay(
        self, ways: Sequence[int], first: int, measure: "ExtentMeasure", wanted: int
    ) -> NestingPlaces:
        """Lay as many as there is room for, one after the other, up to so many."""
        free: dict[int, BaseGeometry] = {
            way: shapely.box(-_HAIR, -_HAIR, across + _HAIR, down + _HAIR)
            for way in ways
            for across, down in [self._own(way)]
            if across >= 0 and down >= 0
        }
        laid: list[tuple[int, int, int]] = []
        while free and len(laid) < wanted and self.left > 0:
            self.left -= 1
            here = [first] if not laid and first in free else list(free)
            way, x, y = min(
                (self._first(way, free[way], measure) for way in here), key=lambda one: one[0]
            )[1]
            laid.append((way, x, y))
            for other in list(free):
                rest = free[other] - translate(self.shape.meets(way, other), x, y)
                if rest.is_empty:
                    del free[other]
                else:
                    free[other] = rest
        return tuple(laid)

    def _own(self, way: int) -> tuple[int, int]:
        lying = self.shape.ways[way]
        return self.room.wide - lying.wide, self.room.high - lying.high

    def _first(
        self, way: int, free: BaseGeometry, measure: "ExtentMeasure"
    ) -> tuple[tuple[float, ...], tuple[int, int, int]]:
        """The corner of what is free that comes first, with its measure."""
        across, down = self._own(way)
        spots = np.rint(shapely.get_coordinates(free))
        spots = np.clip(spots, 0, (across, down))
        boxes = spots[:, [0, 1, 0, 1]] + self.shape.lying[way].bounds
        keys = np.rint(np.stack(measure(boxes), axis=1))
        best = np.lexsort(keys.T[::-1])[0]
        x, y = spots[best].tolist()
        return (*keys[best].tolist(), way), (way, int(x), int(y))


#: From boxes, left, top, right and bottom, to what they are compared by.
ExtentMeasure = Callable[[FloatArray], Sequence[FloatArray]]

_MEASURES: tuple[ExtentMeasure, ...] = (
    lambda box: (box[:, 1], box[:, 0]),
    lambda box: (box[:, 0], box[:, 1]),
    lambda box: (box[:, 3], box[:, 2]),
    lambda box: (box[:, 2], box[:, 3]),
    lambda box: (box[:, 2] + box[:, 3], box[:, 3]),
)


def nested(
    room: FillRectangle, shape: NestingShape, *, bound: int, wanted: int | None = None
) -> NestingPlaces:
    """Lay as many as can be found room for, or so many as are wanted.

    Parameters
    ----------
    room : FillRectangle
        In which all needle points must lie.
    shape : NestingShape
    bound : int
        No more can lie there.
    wanted : int or None

    Returns
    -------
    tuple of (way, x, y)
    """
    enough = bound if wanted is None else min(bound, wanted)
    search, best = _Search(room, shape), NestingPlaces()
    for ways, first, measure in _runs(shape.together):
        found = search.lay(ways, first, measure, enough)
        if len(found) > len(best):
            best = found
        if len(best) >= enough or search.left <= 0:
            break
    return best


def _runs(together: Sequence[Sequence[int]]) -> Iterator[tuple[Sequence[int], int, ExtentMeasure]]:
    """What may lie together, which lies first, and by what the places are compared."""
    for measure in _MEASURES:
        for ways in together:
            for first in ways:
                yield ways, first, measure
