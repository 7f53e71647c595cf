"""The sizes nearest to those wished for that work."""

from collections.abc import Iterator
from itertools import islice

import numpy as np
import shapely

from paramgen.fit.region_columns import STRAIGHT
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import STEP, range_of
from paramgen.fit.size_regions import regions
from paramgen.hooping import Room
from paramgen.vocabulary.path import Point

#: A region is known to this, mm: where it bends between two columns, its boundary lies twice as
#: far off as it may in their middle.
SLACK = 2 * STRAIGHT * STEP

#: How many of the nearest marks are asked about, since some lie just outside of what works.
MOST_ASKED = 100


def nearest_that_works(
    asking: RememberedChecks, first: str, second: str, wanted: Point, room: Room, mark: float
) -> Point | None:
    """Find the pair of sizes nearest to one wished for.

    Parameters
    ----------
    asking : RememberedChecks
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
        By straight distance; None if nothing on whole marks works in this hoop.
    """

    def works(sizes: Point) -> bool:
        return not asking.against(dict(zip((first, second), sizes, strict=True)), room)

    if works(wanted):
        return wanted
    (region,) = regions(asking, first, second, (room,)).hoops
    tried = islice(marks_in(region.area, wanted, mark), MOST_ASKED)
    return next((sizes for sizes in tried if works(sizes)), None)


def nearest_alone(
    asking: RememberedChecks, name: str, wanted: float, room: Room, mark: float
) -> float | None:
    """Find the value of one size nearest to one wished for, the others as asked.

    Parameters
    ----------
    asking : RememberedChecks
    name : str
    wanted : float
        mm.
    room : Room
    mark : float
        What is found lies on a whole mark, mm, unless it is what is wished for.

    Returns
    -------
    float or None
        mm; None if nothing on a whole mark works in this hoop.
    """

    def works(value: float) -> bool:
        return not asking.against({name: value}, room)

    if works(wanted):
        return wanted
    found = range_of(asking, name, room)
    if found is None:
        return None
    ends = [(found.least.value, 0.0), (found.most.value, 0.0)]
    marks = marks_in(shapely.LineString(ends), (wanted, 0.0), mark)
    tried = islice((value for value, _ in marks), MOST_ASKED)
    return next((value for value in tried if works(value)), None)


def marks_in(area: shapely.Geometry, near: Point, mark: float) -> Iterator[Point]:
    """Whole marks in an area, the nearest to a place first, of equally near the smaller."""
    if shapely.is_empty(area):
        return
    left, low, right, high = shapely.bounds(area)
    across, up = (
        np.round(np.arange(np.ceil((start - SLACK) / mark), (end + SLACK) / mark) * mark, 9)
        for start, end in ((left, right), (low, high))
    )
    points = np.stack(np.meshgrid(across, up, indexing="ij"), axis=-1).reshape(-1, 2)
    shapely.prepare(area)
    points = points[shapely.dwithin(area, shapely.points(points), SLACK)]
    away = np.round(np.hypot(*(points - near).T), 6)
    for x, y in points[np.lexsort((points[:, 1], points[:, 0], away))]:
        yield float(x), float(y)
