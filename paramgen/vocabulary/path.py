"""A path: the one shape everything else is made of.

Curves are dense polylines. Chords leave the curve by at most a thousandth of the grid of stitch
files, so a needle point on a chord is one on the curve, and offsets, gaps and clipping need no
second kind of line. A vertex that turns by more than 12° is a corner and gets a needle point. What
is not to be sewn may have coarser chords; pictures and the plan leave out what they do not need.
"""

from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.intp]
Point = tuple[float, float]

#: Curves are broken into chords that leave them by no more than this, in mm. Far
#: below the 0.1 mm grid of stitch files, so a needle point on a chord is a needle
#: point on the curve.
CHORD_ERROR = 1e-4

#: A vertex where the path turns by more than this is a corner, not part of a curve.
CORNER_DEGREES = 12.0


@dataclass(frozen=True, eq=False)
class Path:
    """An open or closed line of straight chords.

    Parameters
    ----------
    points : array of float, shape (n, 2)
        Vertices in millimetres, x right and y down. A closed path does not repeat
        its first vertex. No two neighbours coincide.
    closed : bool
        Whether the last vertex is joined to the first.
    """

    points: FloatArray
    closed: bool

    def __post_init__(self) -> None:
        self.points.setflags(write=False)

    @cached_property
    def chords(self) -> FloatArray:
        """Vectors from each vertex to the next, shape (m, 2): m = n if closed, else n - 1.

        Examples
        --------
        >>> path([(0, 0), (3, 0), (3, 4)], closed=True).chords.tolist()
        [[3.0, 0.0], [0.0, 4.0], [-3.0, -4.0]]
        >>> path([(3, 4)], closed=False).chords.tolist()
        []
        """
        nxt = following(self.points) if self.closed else self.points[1:]
        return nxt - (self.points if self.closed else self.points[:-1])

    @cached_property
    def reach(self) -> FloatArray:
        """Length along the path at each vertex, and at the end of a closed one, shape (m + 1,).

        Examples
        --------
        Round the triangle of sides 3, 4 and 5; and a point:

        >>> path([(0, 0), (3, 0), (3, 4)], closed=True).reach.tolist()
        [0.0, 3.0, 7.0, 12.0]
        >>> path([(3, 4)], closed=False).reach.tolist()
        [0.0]
        """
        steps = np.hypot(self.chords[:, 0], self.chords[:, 1])
        return np.concatenate([[0.0], np.cumsum(steps)])

    @cached_property
    def length(self) -> float:
        """Length along the path in millimetres.

        Examples
        --------
        >>> triangle = [(0, 0), (3, 0), (3, 4)]
        >>> path(triangle, closed=True).length  # 3 + 4 + 5
        12.0
        >>> path(triangle, closed=False).length  # 3 + 4
        7.0
        >>> path([(3, 4)], closed=False).length
        0.0
        """
        return float(self.reach[-1])

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Smallest x, smallest y, largest x, largest y, in millimetres; as of any shape.

        Examples
        --------
        >>> path([(3, -2), (-1, 5), (0, 4)], closed=False).bounds
        (-1.0, -2.0, 3.0, 5.0)
        >>> path([(3, 4)], closed=False).bounds
        (3.0, 4.0, 3.0, 4.0)
        """
        return self.box.left, self.box.top, self.box.right, self.box.bottom

    @cached_property
    def box(self) -> Box:
        """The smallest box that it lies in.

        Examples
        --------
        >>> path([(0, 0), (4, 3)], closed=False).box.centre
        (2.0, 1.5)

        >>> path([(4, 3)], closed=False).box.width
        0.0
        >>> path([], closed=False).box
        Traceback (most recent call last):
            ...
        ValueError: a path of no points lies in no box
        """
        if not len(self.points):
            raise ValueError("a path of no points lies in no box")
        (left, top), (right, bottom) = self.points.min(axis=0), self.points.max(axis=0)
        return Box(float(left), float(top), float(right), float(bottom))

    @cached_property
    def line(self) -> shapely.LineString:
        """The line along it, back to its start if it is closed.

        Examples
        --------
        >>> path([(0, 0), (3, 0), (3, 4)], closed=True).line
        <LINESTRING (0 0, 3 0, 3 4, 0 0)>
        >>> path([(3, 4)], closed=False).line
        <LINESTRING (3 4, 3 4)>
        """
        points = self.points
        if self.closed or len(points) == 1:
            points = np.concatenate([points, points[:1]])
        return shapely.LineString(points)

    @cached_property
    def area(self) -> BaseGeometry:
        """What a closed path encloses; empty if that is nothing.

        Examples
        --------
        >>> path([(0, 0), (4, 0), (4, 3), (0, 3)], closed=True).area.area  # 4 × 3
        12.0

        There and back again, over two points or three:

        >>> path([(0, 0), (4, 0)], closed=True).area
        <POLYGON EMPTY>
        >>> path([(0, 0), (2, 0), (4, 0)], closed=True).area
        <POLYGON EMPTY>
        """
        if len(self.points) < 3:
            return shapely.Polygon()
        valid = shapely.make_valid(shapely.Polygon(self.points))
        if valid.geom_type in ("Polygon", "MultiPolygon"):
            return valid
        # Edges that run out and back are left as lines.
        parts = [one for one in shapely.get_parts(valid) if one.area > 0]
        return shapely.union_all(parts) if parts else shapely.Polygon()

    @cached_property
    def mirrored(self) -> "Path":
        """Left and right changed about the y axis.

        Examples
        --------
        >>> path([(1, 2), (-3, 4)], closed=False).mirrored.points.tolist()
        [[-1.0, 2.0], [3.0, 4.0]]

        What lies on the axis stays:

        >>> on_axis = path([(0, 2), (0, 4)], closed=False)
        >>> bool((on_axis.mirrored.points == on_axis.points).all())
        True
        """
        return Path(self.points * (-1.0, 1.0), self.closed)

    @cached_property
    def turns(self) -> FloatArray:
        """Angle in degrees by which the path turns at each vertex, shape (n,), signed.

        The ends of an open path turn by 0.

        Examples
        --------
        To the right and then down; straight back on itself; a point:

        >>> path([(0, 0), (5, 0), (5, 5)], closed=False).turns.round(6).tolist()
        [0.0, 90.0, 0.0]
        >>> path([(0, 0), (5, 0), (0, 0)], closed=False).turns.round(6).tolist()
        [0.0, -180.0, 0.0]
        >>> path([(5, 5)], closed=False).turns.tolist()
        [0.0]
        """
        angle = np.arctan2(self.chords[:, 1], self.chords[:, 0])
        if self.closed:
            change = angle - preceding(angle)
        else:
            change = np.zeros(len(self.points))
            change[1:-1] = np.diff(angle)
        return np.degrees((change + np.pi) % (2 * np.pi) - np.pi)

    @cached_property
    def corners(self) -> IntArray:
        """Indices of the vertices that need a needle point.

        Every vertex that turns by more than `CORNER_DEGREES`, and the two ends of an
        open path. A smooth closed path has none.

        Examples
        --------
        The second vertex lies on the straight from the first to the third:

        >>> path([(0, 0), (2, 0), (5, 0), (5, 5)], closed=False).corners.tolist()
        [0, 2, 3]
        >>> path([(5, 5)], closed=False).corners.tolist()
        [0]
        """
        sharp = np.abs(self.turns) > CORNER_DEGREES
        if not self.closed:
            sharp[:1] = sharp[-1:] = True
        return np.flatnonzero(sharp)


def path(points: object, *, closed: bool) -> Path:
    """Make a path from anything array-like, dropping vertices that repeat their neighbour.

    Examples
    --------
    >>> path([(0, 0), (4, 0), (4, 0), (4, 3), (0, 0)], closed=True).points.tolist()
    [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0]]

    One point however often it is given, and none:

    >>> path([(1, 2), (1, 2), (1, 2)], closed=True).points.tolist()
    [[1.0, 2.0]]
    >>> path([], closed=False).points.tolist()
    []
    """
    array = np.array(points, dtype=np.float64).reshape(-1, 2)
    same = (np.abs(array[1:] - array[:-1]) <= 1e-9).all(axis=1)
    if same.any():
        array = array[np.concatenate([[True], ~same])]
    if closed and len(array) > 1 and (np.abs(array[0] - array[-1]) <= 1e-9).all():
        array = array[:-1]
    return Path(array, closed)


def following(ring: FloatArray) -> FloatArray:
    """For each of a ring the one after it: `np.roll`, at a fraction of the time.

    Examples
    --------
    >>> following(np.array([1.0, 2.0, 3.0])).tolist()
    [2.0, 3.0, 1.0]
    >>> following(np.array([7.0])).tolist()
    [7.0]
    """
    return np.concatenate([ring[1:], ring[:1]])


def preceding(ring: FloatArray) -> FloatArray:
    """For each of a ring the one before it.

    Examples
    --------
    >>> preceding(np.array([1.0, 2.0, 3.0])).tolist()
    [3.0, 1.0, 2.0]
    >>> preceding(np.array([7.0])).tolist()
    [7.0]
    """
    return np.concatenate([ring[-1:], ring[:-1]])


def quarter_turn(points: FloatArray) -> FloatArray:
    """Turn points by 90° clockwise as seen (y down) about the origin: top goes to the right.

    Examples
    --------
    What lies 5 above the origin then lies 5 to the right of it:

    >>> quarter_turn(np.array([[0.0, -5.0]])).tolist()
    [[5.0, 0.0]]
    >>> quarter_turn(np.empty((0, 2))).tolist()
    []
    """
    return np.stack([-points[:, 1], points[:, 0]], axis=1)
