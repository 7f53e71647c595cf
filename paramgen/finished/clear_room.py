"""How much room a place leaves for a thing: rectangles in areas that need not be rectangles.

Room is what lies between the lines that bind the finished thing, those stitched by hand among them,
and not between its seams. A thing takes its thickness from the width of a pocket, as a flat bag is
half as wide as it is round, and half of it at a closed end, where the two sides meet in the middle
of the thickness (geometry of cloth that does not stretch).
"""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.pockets import Pocket, pockets_along
from paramgen.finished.standing_room import room_of_all
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Held

#: No more than this off the middle, mm, an opening has as much room on one side as on the other.
_LEAN = 1.0
#: Part of a size that makes no difference.
_NEARLY = 1e-4
#: How far a thing may reach out where nothing limits it, mm.
FAR = 1000.0
#: A pocket that takes more than so many times its thing takes it anyhow.
MOST_TIMES = 4.0


def takes(held: Held, pocket: Pocket) -> tuple[float, float]:
    """Room that a thing takes, with its ease and what its thickness takes, mm.

    The way it goes in it needs no ease: there it stands out as far as it likes.
    """
    (width, height), thick = held.size, held.thickness_in_place
    beside = held.ease + thick
    if pocket.opens_within or pocket.mouths.is_empty:  # closed at both ends, each way
        return width + beside, height + beside
    dx, dy = outward(pocket)
    if abs(dx) > abs(dy):
        return width + thick / 2, height + beside
    return width + beside, height + thick / 2


def room_for(held: Held, pocket: Pocket) -> BaseGeometry:
    """Where the thing may lie: the hollow, and what lies before its mouth."""
    if pocket.opens_within:
        return pocket.area
    dx, dy = outward(pocket)
    out = []
    for mouth in shapely.get_parts(pocket.mouths):
        near = shapely.get_coordinates(mouth)
        far = near + np.array([dx, dy]) * FAR
        out.append(shapely.MultiPoint(np.concatenate([near, far])).convex_hull)
    room = shapely.union_all([pocket.area, *out]).buffer(1e-3, join_style="mitre")
    return room if held.within is None else room & held.within.area


def outward(pocket: Pocket) -> tuple[float, float]:
    """Direction out of the mouth: from the middle of the hollow across the longest mouth."""
    # Of several as long to a tenth the first: no rounding may decide between them.
    mouth = max(shapely.get_parts(pocket.mouths), key=lambda part: round(part.length, 1))
    (ax, ay), (bx, by) = shapely.get_coordinates(mouth)[[0, -1]]
    length = float(np.hypot(bx - ax, by - ay)) or 1.0
    nx, ny = (by - ay) / length, -(bx - ax) / length
    middle = pocket.area.representative_point()
    if pocket.opens_within and not pocket.through_zip:
        # It goes in towards where more room is; of two alike away from the person.
        x, y = shapely.get_coordinates(pocket.area.centroid)[0]
        middle = shapely.Point(x + _LEAN, y + _LEAN)
    if (middle.x - ax) * nx + (middle.y - ay) * ny > 0:
        nx, ny = -nx, -ny
    return float(nx), float(ny)


def shrunk(area: BaseGeometry, width: float, height: float) -> BaseGeometry:
    """Middles of all places where a rectangle lies within an area.

    The area less the rectangle moved along its whole boundary (Minkowski difference), exact
    for polygons.

    Examples
    --------
    In a room of 10 × 6 mm a thing of 4 × 2 has its middle anywhere in 6 × 4:

    >>> shrunk(shapely.box(0, 0, 10, 6), 4, 2).bounds
    (2.0, 1.0, 8.0, 5.0)
    >>> shrunk(shapely.box(0, 0, 10, 6), 11, 2).is_empty, shrunk(shapely.Polygon(), 1, 1).is_empty
    (True, True)
    """
    corners = np.array([(x, y) for x in (-width / 2, width / 2) for y in (-height / 2, height / 2)])
    rings = [corners + ring[:, np.newaxis] for ring in _rings(area)]  # point, corner, x and y
    if not rings:
        return area
    around = np.concatenate([np.concatenate([ring[:-1], ring[1:]], axis=1) for ring in rings])
    swept = shapely.convex_hull(shapely.multipoints(around))  # of every edge at once
    return area - shapely.union_all(swept)


def _rings(area: BaseGeometry) -> Iterator[FloatArray]:
    for part in shapely.get_parts(area):
        if part.geom_type == "Polygon":
            for ring in (part.exterior, *part.interiors):
                yield shapely.get_coordinates(ring)


def along_the_way_in(held: Held, pocket: Pocket) -> float:
    """Size of the thing in the direction it goes into the pocket, mm."""
    dx, dy = outward(pocket)
    return held.size[1] if abs(dy) > abs(dx) else held.size[0]


def deepest(spots: BaseGeometry, held: Held, pocket: Pocket) -> float:
    """How much of the thing's height is held when it is pushed in as far as it goes, mm."""
    dx, dy = outward(pocket)
    x, y = shapely.get_coordinates(spots).T
    place = int(np.argmin(x * dx + y * dy))
    tall = along_the_way_in(held, pocket)
    taken = takes(held, pocket)[abs(dy) > abs(dx)]
    inner = float(x[place] * dx + y[place] * dy) - taken / 2 + held.thickness_in_place / 2
    mouth = shapely.get_coordinates(pocket.mouths) @ np.array([dx, dy])
    return float(min(tall, mouth.max() - inner))


def largest_in(
    room: BaseGeometry, held: Held, pocket: Pocket, most: float = 1.0
) -> tuple[float, float]:
    """Largest thing of the same shape that goes in with its ease and thickness, mm."""
    taken = takes(held, pocket)
    found = largest_through(room, taken, most)
    sizes = [
        max(0.0, large - (took - size))
        for large, took, size in zip(found, taken, held.size, strict=True)
    ]
    return sizes[0], sizes[1]


def largest_through(
    room: BaseGeometry, taken: tuple[float, float], most: float = 1.0
) -> tuple[float, float]:
    """Largest rectangle of a shape that goes into a room, width and height, mm.

    Parameters
    ----------
    taken : (width, height)
        Of that shape, mm.
    most : float
        Times that size, beyond which is not looked.

    Examples
    --------
    Of a square of 4 mm a room of 10 × 6 takes one of 6, as far as that is looked for:

    >>> [round(side, 2) for side in largest_through(shapely.box(0, 0, 10, 6), (4, 4), most=2.0)]
    [6.0, 6.0]
    >>> [round(side, 2) for side in largest_through(shapely.box(0, 0, 10, 6), (4, 4))]
    [4.0, 4.0]
    """
    width, height = taken
    box = Box(*room.bounds)
    high = min(most, box.width / width, box.height / height)

    def goes(times: float) -> bool:
        return not shrunk(room, times * width, times * height).is_empty

    # Most rooms are about as wide and high all through: then their bounds say it.
    low = (1.0 - _NEARLY) * high
    if not goes(low):
        low, high = 0.0, low
        for _ in range(14):
            middle = (low + high) / 2
            low, high = (middle, high) if goes(middle) else (low, middle)
    return low * width, low * height


def room_in(thing: FinishedThing, held: Held) -> tuple[float, float] | None:
    """Largest thing of the same shape that goes where one is held; None if nothing does.

    Returns
    -------
    (width, height) or None
        mm, the ease and what the thickness takes taken off.
    """
    sizes = [
        stands.largest(held, MOST_TIMES)
        if (stands := room_of_all(thing, pocket)) is not None
        else largest_in(room_for(held, pocket), held, pocket, MOST_TIMES)
        for pocket in pockets_along(thing, held)
        if pocket.opens and not pocket.mouths.is_empty
    ]
    return min(sizes, default=None)
