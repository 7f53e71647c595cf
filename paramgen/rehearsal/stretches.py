"""Stretches of a line where something holds, found by looking at it often enough."""

from collections.abc import Callable, Iterator

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

#: A line is looked at so often, mm: far below any length that the rehearsal judges by.
EVERY = 0.5

Test = Callable[[NDArray[np.object_]], NDArray[np.bool_]]


def stretches(lines: BaseGeometry, test: Test) -> Iterator[shapely.LineString]:
    """Runs of lines whose points pass a test.

    Parameters
    ----------
    lines : LineString or several
    test : callable
        Takes an array of points, gives for each whether it passes.
    """
    for part in shapely.get_parts(lines):
        if part.geom_type != "LineString" or part.length < EVERY:
            continue
        count = int(np.ceil(part.length / EVERY)) + 1
        places = np.linspace(0.0, part.length, count)
        spots = shapely.line_interpolate_point(part, places)
        passes = test(np.asarray(spots))
        edges = np.flatnonzero(np.diff(np.concatenate([[False], passes, [False]]).astype(int)))
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            if end - start > 1:
                yield shapely.LineString(shapely.get_coordinates(spots[start:end]))
