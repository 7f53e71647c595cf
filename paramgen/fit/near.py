"""The sizes nearest to those wished for that work."""

from collections.abc import Iterator
from itertools import product
from math import dist

import shapely
from shapely.ops import nearest_points

from paramgen.fit.asking import Asking
from paramgen.fit.ranges import range_of
from paramgen.fit.region import Regions, regions
from paramgen.geometry.path import Point
from paramgen.hooping import Room

#: How many marks round the nearest place of a region are tried.
ROUND = 4


def nearest_that_works(
    asking: Asking, first: str, second: str, wanted: Point, room: Room, mark: float
) -> Point | None:
    """Find the pair of sizes nearest to one wished for.

    Parameters
    ----------
    asking : Asking
    first, second : str
        Names of two sizes.
    wanted : Point
        What is wished for, mm.
    room : Room
    mark : float
        What is found lies on whole marks, mm, unless it is what is wished for.

    Returns
    -------
    Point or None
        By straight distance; None if nothing works in this hoop.
    """
    if not asking.against(dict(zip((first, second), wanted, strict=True)), room):
        return wanted
    found: Regions = regions(asking, first, second, (room,))
    area = found.hoops[0].area
    if shapely.is_empty(area):
        return None
    (near, _) = nearest_points(area, shapely.Point(wanted))
    candidates = sorted(
        _marks_round((near.x, near.y), mark), key=lambda one: (dist(one, wanted), one)
    )
    for candidate in candidates:
        if not asking.against(dict(zip((first, second), candidate, strict=True)), room):
            return candidate
    return None


def nearest_alone(
    asking: Asking, name: str, wanted: float, room: Room, mark: float
) -> float | None:
    """Find the value of one size nearest to one wished for, the others as asked.

    Parameters
    ----------
    asking : Asking
    name : str
    wanted : float
        mm.
    room : Room
    mark : float
        What is found lies on a whole mark, mm, unless it is what is wished for.

    Returns
    -------
    float or None
        mm; None if nothing works in this hoop.
    """
    if not asking.against({name: wanted}, room):
        return wanted
    found = range_of(asking, name, room)
    if found is None:
        return None
    inside = min(max(wanted, found.least.value), found.most.value)
    tried = sorted(
        (round((round(inside / mark) + by) * mark, 9) for by in range(-ROUND, ROUND + 1)),
        key=lambda value: (abs(value - wanted), value),
    )
    return next((value for value in tried if not asking.against({name: value}, room)), None)


def _marks_round(point: Point, mark: float) -> Iterator[Point]:
    """Whole marks round a point."""
    centre = [round(value / mark) for value in point]
    for by in product(range(-ROUND, ROUND + 1), repeat=2):
        x, y = (round((at + step) * mark, 9) for at, step in zip(centre, by, strict=True))
        yield x, y
