"""Where on the free ground of a panel a figure lies: as near as can be to where it is wanted."""

from types import MappingProxyType

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.embellishment_kind import FreeGround
from paramgen.embellishment.kind_options import Embellishment, MeasureOption, WordOption
from paramgen.vocabulary.path import FloatArray, Point

PLACE = WordOption(
    name="place",
    words=MappingProxyType(
        {
            "middle": "in the middle of what is seen of the panel",
            "top": "at its top",
            "bottom": "at its bottom",
            "left": "at its left",
            "right": "at its right",
            "top left": "in its top left corner",
            "top right": "in its top right corner",
            "bottom left": "in its bottom left corner",
            "bottom right": "in its bottom right corner",
        }
    ),
    also=MappingProxyType(
        {
            "centre": "middle",
            "center": "middle",
            "left top": "top left",
            "right top": "top right",
            "left bottom": "bottom left",
            "right bottom": "bottom right",
        }
    ),
)


def _move(name: str, means: str) -> MeasureOption:
    return MeasureOption(name=name, means=means, default=0.0, least=0.0, most=2000.0)


RIGHT = _move("move right", "from there to the right")
LEFT = _move("move left", "from there to the left")
UP = _move("move up", "from there upwards")
DOWN = _move("move down", "from there downwards")

TURN = MeasureOption(
    name="turn",
    means="so many degrees clockwise",
    default=0.0,
    least=0.0,
    most=360.0,
    plain=True,
)

#: What every figure takes that lies in one place.
PLACING = (PLACE, TURN, RIGHT, LEFT, UP, DOWN)

#: So often a size is halved in looking for the largest.
_TRIES = 12
#: Curves of the ground are taken to be so coarse at most, and the ground so much smaller, mm.
_COARSE = 0.05


def place_for(asked: Embellishment, ground: FreeGround, size: tuple[float, float]) -> Point | None:
    """Find where the middle of a figure lies; None if there is no room for it.

    Parameters
    ----------
    asked : Embellishment
        With `PLACING` among its options.
    ground : FreeGround
    size : (width, height)
        mm.

    Returns
    -------
    Point or None
        Where it is wanted, if there is room; else the nearest place where there is, but None if it
        was said how far from there it is to be.
    """
    x, y = _wanted(asked, ground, size)
    right, left, up, down = ((asked.measure(one) or 0.0) for one in (RIGHT, LEFT, UP, DOWN))
    moved = (right - left, down - up)
    wanted = shapely.Point(x + moved[0], y + moved[1])
    middles = middles_with_room(ground.area, size)
    if middles.is_empty or (any(moved) and middles.distance(wanted) > _COARSE):
        return None
    there = shapely.get_coordinates(shapely.shortest_line(wanted, middles))[-1]
    return float(there[0]), float(there[1])


def _wanted(asked: Embellishment, ground: FreeGround, size: tuple[float, float]) -> Point:
    left, top, right, bottom = ground.seen.bounds
    x, y = (left + right) / 2, (top + bottom) / 2
    if ground.area.is_empty:
        return x, y
    place = asked.word(PLACE).split()
    left, top, right, bottom = ground.area.bounds
    if "left" in place:
        x = left + size[0] / 2
    if "right" in place:
        x = right - size[0] / 2
    if "top" in place:
        y = top + size[1] / 2
    if "bottom" in place:
        y = bottom - size[1] / 2
    return x, y


def middles_with_room(area: BaseGeometry, size: tuple[float, float]) -> BaseGeometry:
    """Where the middle of an upright rectangle can lie so that all of it lies in an area.

    Examples
    --------
    A rectangle of 4 by 2 mm in one of 10 by 6:

    >>> middles = middles_with_room(shapely.box(0, 0, 10, 6), (4.0, 2.0))
    >>> [round(one, 1) for one in middles.bounds]  # 2 mm from left and right, 1 from top and bottom
    [2.0, 1.0, 8.0, 5.0]
    >>> middles_with_room(shapely.box(0, 0, 10, 6), (4.0, 7.0)).is_empty
    True
    """
    if area.is_empty:
        return shapely.Polygon()
    if len(shapely.get_coordinates(area)) > 40:
        area = area.buffer(-_COARSE).simplify(_COARSE)
    half = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * (np.array(size) / 2)
    edges: list[BaseGeometry] = []
    for part in shapely.get_parts(area):
        for ring in (part.exterior, *part.interiors):
            points = shapely.get_coordinates(ring)
            ends = np.stack([points[:-1], points[1:]], axis=1)
            swept = (ends[:, :, None, :] + half).reshape(len(ends), -1, 2)
            edges += [shapely.MultiPoint(one).convex_hull for one in swept]
    near = shapely.union_all(edges)
    # A hair wider, so that what fits exactly fits.
    return area.buffer(1e-6, join_style="mitre") - near.buffer(-1e-6, join_style="mitre")


def turned_size(size: tuple[float, float], degrees: float) -> tuple[float, float]:
    """What an upright rectangle takes once it is turned about its middle, mm.

    >>> [round(one, 6) for one in turned_size((40.0, 10.0), 90.0)]
    [10.0, 40.0]
    """
    cos, sin = (abs(float(way(np.radians(degrees)))) for way in (np.cos, np.sin))
    width, height = size
    return width * cos + height * sin, width * sin + height * cos


def turned_points(points: FloatArray, degrees: float) -> FloatArray:
    """Points turned about the origin, clockwise as seen.

    >>> turned_points(np.array([[0.0, -5.0]]), 90.0).round(6).tolist()
    [[5.0, -0.0]]
    """
    cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    found: FloatArray = points @ np.array([[cos, sin], [-sin, cos]])
    return found


def largest_alike(area: BaseGeometry, size: tuple[float, float]) -> tuple[float, float] | None:
    """The largest rectangle of the proportions of another that an area has room for; None of none.

    Examples
    --------
    Twice as wide as high in 10 by 6 mm: 10 by 5.

    >>> [round(one, 1) for one in largest_alike(shapely.box(0, 0, 10, 6), (30.0, 15.0))]
    [10.0, 5.0]
    >>> largest_alike(shapely.Polygon(), (30.0, 15.0)) is None
    True
    """
    if area.is_empty:
        return None
    low, high = 0.0, 1.0
    for _ in range(_TRIES):
        middle = (low + high) / 2
        tried = (size[0] * middle, size[1] * middle)
        low, high = (low, middle) if middles_with_room(area, tried).is_empty else (middle, high)
    return (size[0] * low, size[1] * low) if low else None


def taken_by(middle: Point, size: tuple[float, float]) -> BaseGeometry:
    """The upright rectangle that a figure takes."""
    x, y = middle
    width, height = size
    return shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
