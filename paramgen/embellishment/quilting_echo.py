"""Echoes: the outline of the free ground again and again, each so far inside the one before."""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.sewable import sewable
from paramgen.vocabulary.path import Path, path

#: An echo shorter than this is a knot, mm (our own choice).
SHORTEST_ECHO = 12.0
#: A corner is kept sharp up to so many times the way to it.
_SHARP = 4.0


def echoes(ground: BaseGeometry, spacing: float) -> tuple[Path, ...]:
    """Outlines inside some ground, the first at its edge, the last where nothing is left.

    What the ground goes round is echoed as well, and where two echoes would meet they are one.

    Parameters
    ----------
    ground : Polygon or MultiPolygon
    spacing : float
        From each to the next, mm.

    Examples
    --------
    In a sheet of 100 by 40 mm: at its edge, and 10 mm inside it.

    >>> [one.bounds for one in echoes(shapely.box(0, 0, 100, 40), 10.0)]
    [(0.0, 0.0, 100.0, 40.0), (10.0, 10.0, 90.0, 30.0)]
    """
    found: list[Path] = []
    number = 0
    left = ground
    while not left.is_empty:
        for ring in shapely.get_rings(shapely.get_parts(left)):
            if ring.length >= SHORTEST_ECHO:
                corners = shapely.get_coordinates(ring)[:-1]
                found.append(sewable(path(np.asarray(corners), closed=True)))
        number += 1
        left = ground.buffer(-number * spacing, join_style="mitre", mitre_limit=_SHARP)
    return tuple(found)
