"""In which order the strokes of a letter are sewn, so that the thread is not cut within it.

Strokes that touch make a tree. Each is walked from where it leaves the one before it to its far
end; whatever leaves it on the way is sewn first, and then it is sewn back to where it began. So
the thread never lies bare, and every letter ends where it began.
"""

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray


@dataclass(frozen=True)
class Branch:
    """A stroke, and where it leaves the one that it is sewn from.

    Parameters
    ----------
    stroke : int
    turned : bool
        Whether it leaves it with its last point.
    along : float
        Where it leaves it: length along that one from its own first point, mm; 0 for a root.
    branches : tuple of Branch
        What leaves this one.
    """

    stroke: int
    turned: bool
    along: float
    branches: tuple["Branch", ...]


def stroke_tree(
    middles: Sequence[FloatArray], near: float, shapes: Sequence[BaseGeometry] = ()
) -> tuple[Branch, ...]:
    """Find which stroke leaves which.

    Parameters
    ----------
    middles : sequence of array of float, shape (n, 2)
        Points along the middle of each stroke, mm.
    near : float
        Strokes whose end comes so near to another leave it, mm.
    shapes : sequence of shape
        What each covers but the last, which no other leaves; its middle alone unless given.

    Returns
    -------
    tuple of Branch
        A root for each group of strokes that touch.

    Examples
    --------
    The bar of a T leaves its upright where that ends:

    >>> import numpy as np
    >>> upright, bar = np.array([[0.0, 0], [0, 9]]), np.array([[0.0, 0], [4, 0]])
    >>> (root,) = stroke_tree([upright, bar], 0.1)
    >>> root.stroke, [one.stroke for one in root.branches]
    (0, [1])
    """
    lines = [shapely.LineString(one) for one in middles]
    shapes = shapes or lines
    left: dict[int, tuple[int, bool, float]] = {}
    for stroke in range(1, len(middles)):
        ends = [shapely.Point(middles[stroke][at]) for at in (0, -1)]
        tried = [
            (max(float(shapes[other].distance(end)), near / 2), other, turned)
            for turned, end in enumerate(ends)
            for other in range(stroke)
        ]
        distance, other, turned = min(tried)
        if distance <= near:
            left[stroke] = (other, bool(turned), float(lines[other].project(ends[turned])))

    def branch(stroke: int) -> Branch:
        _, turned, along = left.get(stroke, (0, False, 0.0))
        own = [branch(one) for one, (other, _, _) in left.items() if other == stroke]
        own.sort(key=lambda one: one.along)
        return Branch(stroke, turned, along, tuple(own))

    return tuple(branch(one) for one in range(len(middles)) if one not in left)
