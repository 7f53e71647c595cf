"""Free spots in a picture for small things such as numbers."""

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Geometry

from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray, Point

# Rings round a point on which a spot is looked for, and how many spots are tried on each.
_RINGS, _DIRECTIONS = 24, 24


def box_about(centre: Point, size: Point) -> Box:
    """Box of a width and height about a point."""
    (x, y), (wide, high) = centre, size
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def first_free(
    centres: FloatArray,
    size: Point,
    within: Box,
    taken: Sequence[Geometry],
    lead: Point | None = None,
) -> Point | None:
    """Take the first spot where a box is clear of what is there.

    Parameters
    ----------
    centres : array of shape (n, 2)
        Spots, the best first.
    size : (width, height)
        Of the box, mm.
    within : Box
        It must lie in.
    taken : sequence of shapely geometry
    lead : Point or None
        The straight line from here to the spot must be clear too, but of what lies here.
    """
    half = np.array(size) / 2
    low, high = centres - half, centres + half
    free: npt.NDArray[np.bool_] = np.asarray((low >= (within.left, within.top)).all(axis=1))
    free &= (high <= (within.right, within.bottom)).all(axis=1)
    boxes = shapely.box(*low.T, *high.T)
    free &= ~np.asarray(shapely.intersects(boxes, shapely.union_all(list(taken))))
    if lead is not None:
        here = shapely.Point(lead)
        in_the_way = shapely.union_all([one for one in taken if not shapely.intersects(one, here)])
        ends = np.stack([np.broadcast_to(lead, centres.shape), centres], axis=1)
        free &= ~np.asarray(shapely.intersects(shapely.linestrings(ends), in_the_way))
    if not free.any():
        return None
    x, y = centres[np.argmax(free)]
    return float(x), float(y)


def rings(about: Point, apart: float) -> FloatArray:
    """Spots round a point, the nearest first."""
    turns = np.arange(_DIRECTIONS) * (2 * math.pi / _DIRECTIONS) - math.pi / 4
    rays = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    reach = apart * np.arange(1, _RINGS + 1)
    spots: FloatArray = (reach[:, None, None] * rays[None]).reshape(-1, 2) + about
    return spots


def from_middle(line: Geometry, apart: float) -> FloatArray:
    """Spots along a line, the one in its middle first."""
    middle = float(shapely.length(line)) / 2
    count = math.floor(middle / apart)
    steps = [0.0, *(way * step for step in range(1, count + 1) for way in (apart, -apart))]
    points = shapely.line_interpolate_point([line], [middle + step for step in steps])
    return shapely.get_coordinates(points)


def deep_in(room: Geometry, depth: float, apart: float) -> FloatArray:
    """Spots along the edge of what lies so deep in an area; none if nothing does."""
    inner = shapely.buffer(room, -depth, join_style="mitre")
    spots: FloatArray = shapely.get_coordinates(shapely.segmentize(shapely.boundary(inner), apart))
    return spots


def farthest_first(spots: FloatArray, towards: Point) -> FloatArray:
    """Spots in the order of how far they lie in a direction; of equals the one to the right."""
    # Rounded, so that the noise of arithmetic does not part equals.
    far = np.round(spots @ np.array(towards), 3)
    order = np.lexsort((spots[:, 1], -np.round(spots[:, 0], 3), -far))
    found: FloatArray = spots[order]
    return found
