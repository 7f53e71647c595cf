"""Where one outline may not lie beside another: every place at which the two would overlap.

The places of B, as moves from where both begin, at which it overlaps A are the sum of A and of B
turned by a half turn (Minkowski's sum; de Berg and others, Computational Geometry, chapter 13.3).
The sum of two convex shapes is the hull of the sums of their corners; a shape that is not convex is
parted into such as are.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.path import FloatArray

#: Curves may leave their chords by so much while places are sought, mm; they are grown by it.
COARSE = 0.2
#: A length that the geometry library cannot put round a shape, mm: of 1e-178 it makes no shape.
NOTHING = 1e-9
#: Two areas that differ by no more are the same, mm².
SAME = 1e-6


def grown(shape: shapely.Polygon, by: float) -> shapely.Polygon:
    """A shape with fewer corners that holds the shape and all that is nearer to it than `by`, mm.

    Examples
    --------
    A rectangle keeps its corners:

    >>> grown(shapely.box(0, 0, 40, 20), 1).bounds
    (-1.0, -1.0, 41.0, 21.0)
    """
    simple = shapely.simplify(shape, COARSE)
    if not simple.is_valid or simple.is_empty:
        simple = shape
    reach = by + float(shapely.hausdorff_distance(shape, simple))
    if reach < NOTHING:
        reach = 0.0
    whole = shapely.buffer(simple, reach, join_style="mitre", mitre_limit=1.5)
    return shapely.Polygon(whole.exterior)  # what is cut out of a piece is no place for another


def convex_parts(shape: shapely.Polygon) -> tuple[shapely.Polygon, ...]:
    """A shape parted into convex ones.

    Examples
    --------
    >>> len(convex_parts(shapely.box(0, 0, 2, 1)))
    1

    An L is two of them:

    >>> ell = shapely.Polygon([(0, 0), (4, 0), (4, 1), (1, 1), (1, 3), (0, 3)])
    >>> sum(part.area for part in convex_parts(ell)), len(convex_parts(ell))
    (6.0, 2)
    """
    if _is_convex(shape):
        return (shape,)
    parts: list[shapely.Polygon] = []
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(shape)):
        for number, part in enumerate(parts):
            both = part.union(triangle)
            if isinstance(both, shapely.Polygon) and _is_convex(both):
                parts[number] = both
                break
        else:
            parts.append(triangle)
    return tuple(parts)


def _is_convex(shape: BaseGeometry) -> bool:
    return bool(shape.convex_hull.area - shape.area <= SAME)


def overlapping_places(
    there: Sequence[shapely.Polygon], laid: Sequence[shapely.Polygon]
) -> BaseGeometry:
    """Moves of what is laid at which it overlaps what is there, both given in convex parts.

    Examples
    --------
    Squares of 2 and of 1 mm, both from the origin, overlap less than 1 mm to the left and above
    and less than 2 mm to the right and below:

    >>> square = [shapely.box(0, 0, 2, 2)]
    >>> overlapping_places(square, [shapely.box(0, 0, 1, 1)]).bounds
    (-1.0, -1.0, 2.0, 2.0)
    """
    turned = [shapely.get_coordinates(affinity.scale(one, -1, -1, origin=(0, 0))) for one in laid]
    hulls = [
        shapely.convex_hull(shapely.MultiPoint(_sums(shapely.get_coordinates(one), other)))
        for one in there
        for other in turned
    ]
    return shapely.union_all(hulls)


def _sums(one: FloatArray, other: FloatArray) -> FloatArray:
    return np.reshape(one[:, None] + other[None], (-1, 2))
