"""Stretches of a line where something holds, found by looking at it often enough."""

from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.path import FloatArray

#: A line is looked at so often, mm: far below any length that the rehearsal judges by.
EVERY = 0.5

#: Takes points and says for each whether it passes.
PointTest = Callable[[NDArray[np.object_]], NDArray[np.bool_]]


def spots_along(line: BaseGeometry, every: float) -> FloatArray:
    """Evenly spaced points of a line, both ends included, no farther apart than asked, mm.

    Examples
    --------
    >>> spots_along(shapely.LineString([(0, 0), (3, 0)]), 2.0).tolist()  # two of 1.5 mm
    [[0.0, 0.0], [1.5, 0.0], [3.0, 0.0]]
    >>> spots_along(shapely.LineString([(1, 1), (1, 1)]), 2.0).tolist()
    [[1.0, 1.0]]
    """
    points = shapely.get_coordinates(line)
    way = points[1:] - points[:-1]
    reach = np.zeros(len(points))
    np.cumsum(np.hypot(way[:, 0], way[:, 1]), out=reach[1:])
    count = int(np.ceil(reach[-1] / every))
    places = np.arange(count + 1) * (reach[-1] / max(1, count))
    places[-1] = reach[-1]
    spots = np.empty((count + 1, 2))
    for axis in (0, 1):
        spots[:, axis] = np.interp(places, reach, points[:, axis])
    return spots


def stretches(lines: BaseGeometry, test: PointTest) -> Iterator[shapely.LineString]:
    """Runs of lines whose points pass a test.

    Parameters
    ----------
    lines : LineString or several
    test : callable
        Takes an array of points, gives for each whether it passes.

    Examples
    --------
    >>> line = shapely.LineString([(0, 0), (10, 0)])
    >>> [one.length for one in stretches(line, lambda spots: shapely.get_x(spots) >= 6.0)]
    [4.0]
    >>> list(stretches(line, lambda spots: shapely.get_x(spots) > 10.0))
    []
    """
    for part in shapely.get_parts(lines):
        if part.geom_type != "LineString" or part.length < EVERY:
            continue
        spots = spots_along(part, EVERY)
        passes = test(np.asarray(shapely.points(spots)))
        edges = np.flatnonzero(np.diff(np.concatenate([[False], passes, [False]]).astype(int)))
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            if end - start > 1:
                yield shapely.LineString(spots[start:end])


def beside(lines: BaseGeometry, edges: BaseGeometry, reach: float) -> float:
    """Length of lines that have an edge beside them, square to their way, within reach, mm.

    A line that goes straight across an edge has none beside it, however near it comes.

    Examples
    --------
    >>> edge = shapely.LineString([(0, 0), (20, 0)])
    >>> beside(shapely.LineString([(5, 2), (25, 2)]), edge, 3), beside(edge, edge, 3)
    (15.0, 20.0)
    >>> beside(shapely.LineString([(5, 2), (5, 9)]), edge, 3)
    0.0
    """
    pairs = np.array(
        [
            pair
            for line in shapely.get_parts(lines)
            if line.geom_type == "LineString"
            for pair in pairwise(shapely.get_coordinates(line))
        ]
    ).reshape(-1, 2, 2)
    starts, along = pairs[:, 0], pairs[:, 1] - pairs[:, 0]
    length = np.hypot(*along.T)
    starts, along, length = starts[length > 0], along[length > 0], length[length > 0, None]
    way = along / length
    out = reach * way[:, ::-1] * (1.0, -1.0)
    ends = starts + along
    strips = shapely.polygons(np.stack([starts + out, ends + out, ends - out, starts - out], 1))
    within = np.asarray(shapely.intersection(strips, edges))
    total = 0.0
    for start, one, met in zip(starts, way, within, strict=True):
        parts = [shapely.get_coordinates(part) for part in shapely.get_parts(met) if part.length]
        spans = [(part - start) @ one for part in parts]
        reached = 0.0
        for low, high in sorted((float(span.min()), float(span.max())) for span in spans):
            total += max(0.0, high - max(low, reached))
            reached = max(reached, high)
    return total


def runs(lines: BaseGeometry) -> list[BaseGeometry]:
    """Unbroken lines among some shapes.

    Examples
    --------
    >>> two = shapely.MultiLineString([[(0, 0), (1, 0)], [(1, 0), (3, 0)]])
    >>> [one.length for one in runs(two)]
    [3.0]
    >>> runs(shapely.Point(1, 1))
    []
    """
    parts = [
        part
        for part in shapely.get_parts(lines)
        if part.geom_type == "LineString" and not part.is_empty
    ]
    if len(parts) < 2:
        return parts
    return list(shapely.get_parts(shapely.line_merge(shapely.MultiLineString(parts))))
