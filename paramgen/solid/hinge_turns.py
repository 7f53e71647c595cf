"""What a hinge does: the turn of its panel, and which part of the plane is whose."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from paramgen.solid.solid_model import Solid, SolidHinge
from paramgen.vocabulary.path import FloatArray

#: Far enough to be beyond anything in a hoop, mm.
_FAR = 2000.0
#: Less than this is not there, mm².
_NOTHING = 1e-3


def turned(hinge: SolidHinge, degrees: float, axis: float) -> FloatArray:
    """The turn of a panel about its hinge, whose axis lies at a height, shape (4, 4)."""
    (ax, ay), (bx, by) = hinge.start, hinge.end
    length = float(np.hypot(bx - ax, by - ay))
    ex, ey = (bx - ax) / length, (by - ay) / length
    nx, ny = ey, -ex
    c, s = float(np.cos(np.radians(degrees))), float(np.sin(np.radians(degrees))) * hinge.side
    # Along n and z it turns, along e it stays.
    matrix = np.array(
        [
            [ex * ex + c * nx * nx, ex * ey + c * nx * ny, -s * nx, 0.0],
            [ex * ey + c * nx * ny, ey * ey + c * ny * ny, -s * ny, 0.0],
            [s * nx, s * ny, c, 0.0],
            [0.0, 0.0, 0.0, 1.0],
        ]
    )
    there = np.array([ax, ay, axis])
    matrix[:3, 3] = there - matrix[:3, :3] @ there
    return matrix


def standing(place: FloatArray, points: FloatArray, height: float) -> FloatArray:
    """Points of the plane at a height, placed in space, shape (n, 3)."""
    flat = np.column_stack([points, np.full(len(points), height)])
    there: FloatArray = flat @ place[:3, :3].T + place[:3, 3]
    return there


def territory(solid: Solid, index: int) -> BaseGeometry:
    """The part of the plane, open and flat, that belongs to a panel and lies before no other."""
    whole: BaseGeometry = shapely.box(-_FAR, -_FAR, _FAR, _FAR)
    for number, panel in enumerate(solid.panels):
        if panel.hinge is None or index not in (number, panel.parent):
            continue
        into = into_panel(panel.hinge)
        (x, y), mine = panel.hinge.start, beyond(into, 0.0)
        half = translate(mine, x, y)
        whole = whole & half if number == index else whole - half
    return whole


def into_panel(hinge: SolidHinge) -> tuple[float, float]:
    """The way from a hinge into its panel: a unit vector."""
    (ax, ay), (bx, by) = hinge.start, hinge.end
    length = float(np.hypot(bx - ax, by - ay))
    return (by - ay) / length, -(bx - ax) / length


def beyond(way: tuple[float, float], beyond: float) -> shapely.Polygon:
    """What lies farther than a length from the origin along a way."""
    out, aside = np.array(way), np.array((-way[1], way[0]))
    near, far = out * beyond, out * _FAR
    return shapely.Polygon(
        [near - aside * _FAR, near + aside * _FAR, far + aside * _FAR, far - aside * _FAR]
    )


def polygons(area: BaseGeometry) -> Iterator[shapely.Polygon]:
    """The parts of an area that are there to be seen."""
    for part in shapely.get_parts(area):
        if isinstance(part, shapely.Polygon) and part.area > _NOTHING:
            yield part
