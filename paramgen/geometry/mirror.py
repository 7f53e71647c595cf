"""Mirroring about a line, as folding and swinging out do."""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.geometry.outlines import ShapeError
from paramgen.vocabulary.path import FloatArray


def mirrored(shape: BaseGeometry, line: shapely.LineString) -> BaseGeometry:
    """A shape mirrored about the straight line through the two ends of another.

    Raises
    ------
    ShapeError
        If the two ends are one point.

    Examples
    --------
    >>> axis = shapely.LineString([(0, 0), (1, 0)])
    >>> mirrored(shapely.Point(3, 2), axis)
    <POINT (3 -2)>
    >>> mirrored(shapely.Polygon(), axis)
    <POLYGON EMPTY>
    """
    return shapely.transform(shape, lambda points: mirrored_points(points, line))


def mirrored_points(points: FloatArray, line: shapely.LineString) -> FloatArray:
    """Points, shape (n, 2), mirrored about the straight line through the two ends of one.

    Raises
    ------
    ShapeError
        If the two ends are one point.

    Examples
    --------
    >>> mirrored_points(np.array([[3.0, 2.0]]), shapely.LineString([(0, 0), (1, 0)]))
    array([[ 3., -2.]])

    What lies on the line stays, and a line of no length mirrors nothing:

    >>> mirrored_points(np.array([[3.0, 0.0]]), shapely.LineString([(0, 0), (1, 0)]))
    array([[3., 0.]])
    >>> mirrored_points(np.array([[3.0, 2.0]]), shapely.LineString([(1, 0), (1, 0)]))
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: mirror-line-of-no-length
    """
    start, end = shapely.get_coordinates(line)[[0, -1]]
    if (start == end).all():
        raise ShapeError("mirror-line-of-no-length")
    along = (end - start) / np.hypot(*(end - start))
    away = points - start
    there: FloatArray = start + 2 * np.outer(away @ along, along) - away
    return there
