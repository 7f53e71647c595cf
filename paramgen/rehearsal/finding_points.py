"""Where a finding is, as a few points."""

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.path import Point


def place_of(shapes: Sequence[BaseGeometry]) -> tuple[Point, ...]:
    """Points of the largest of some shapes once they are put together.

    An area is given by its corners, a line by its course; a curve by no more points than
    keep it within 0.1 mm.

    Examples
    --------
    >>> place_of([shapely.LineString([(0, 0), (1, 0)]), shapely.LineString([(1, 0), (3, 0)])])
    ((0.0, 0.0), (3.0, 0.0))
    >>> place_of([])
    ()
    """
    whole = shapely.union_all(list(shapes))
    if whole.geom_type in ("MultiLineString", "GeometryCollection"):
        lines = [part for part in shapely.get_parts(whole) if part.geom_type == "LineString"]
        whole = shapely.line_merge(shapely.MultiLineString(lines)) if lines else whole
    parts = list(shapely.get_parts(whole))
    if not parts:
        return ()
    largest = max(parts, key=lambda part: (part.area, part.length))
    if largest.geom_type == "Polygon":
        largest = shapely.LineString(largest.exterior)
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(largest.simplify(0.1)))
