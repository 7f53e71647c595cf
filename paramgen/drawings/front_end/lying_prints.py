"""How the print of a fabric lies on a piece, on each of its leaves.

A print is told by three points: a corner of one repeat, and 1 mm to the right of it and below it
as the print is looked at. Whatever moves, turns or mirrors the piece does so to them.
"""

from collections.abc import Mapping
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.geometry.mirror import mirrored
from paramgen.vocabulary.kinds import Face, Leaf, Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Layer

#: By the number of a layer how the print lies on what of it is in front, its own way round.
Prints = Mapping[int, BaseGeometry]

NO_PRINTS: Prints = MappingProxyType({})


def corner(at: Point, *, face: Face = Face.RIGHT) -> shapely.LineString:
    """A print that stands upright, its corner at a point, seen from its right or wrong side.

    >>> corner((0.0, 0.0), face=Face.WRONG)
    <LINESTRING (0 0, -1 0, 0 1)>
    """
    x, y = at
    right = 1.0 if face is Face.RIGHT else -1.0
    return shapely.LineString([(x, y), (x + right, y), (x, y + 1.0)])


def on_leaf(lies: BaseGeometry, layer: Layer, leaf: Leaf) -> tuple[BaseGeometry, BaseGeometry]:
    """How a print lies on the front and on the back of one leaf of a layer.

    Parameters
    ----------
    lies : LineString
        On what of the layer is in front.
    layer : Layer
    leaf : Leaf
    """
    if leaf is Leaf.HEM:
        over = mirrored(lies, shapely.LineString(layer.folded_edges[-1]))
        return over, over
    if layer.plies == 1 or leaf is Leaf.FRONT or not layer.folded_edges:
        return lies, lies
    over = mirrored(lies, shapely.LineString(layer.folded_edges[0]))
    # What is folded more often is drawn as one: its back is another leaf than its front.
    return (over, over) if leaf is Leaf.BACK else (lies, over)


def on_side(lies: BaseGeometry, layer: Layer, side: Side) -> BaseGeometry:
    """How a print lies on what is seen of a layer from a side of the hoop."""
    front, back = on_leaf(lies, layer, Leaf.MAIN)
    return front if side is Side.FRONT else back
