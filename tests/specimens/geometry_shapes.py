"""Shapes and measures for geometry tests, worked out without the code under test."""

import math
from itertools import accumulate

import numpy as np
import shapely
from hypothesis import strategies as st

from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, path


def area(outline: Path) -> float:
    return float(shapely.Polygon(outline.points).area)


def box(width: float, height: float) -> Path:
    """Rectangle about the origin by its corners, clockwise as seen (y down)."""
    x, y = width / 2, height / 2
    return path([(-x, -y), (x, -y), (x, y), (-x, y)], closed=True)


def middles(outline: Path) -> FloatArray:
    """Middles of the chords of a closed path: where chords leave a curve farthest."""
    return (outline.points + np.roll(outline.points, -1, axis=0)) / 2


def distances(points: FloatArray, outline: Path) -> FloatArray:
    """Distance of each point from a closed line, mm."""
    ring = shapely.LinearRing(outline.points)
    return np.asarray(shapely.distance(shapely.points(points), ring), dtype=np.float64)


def moved(outline: Path, dx: float, dy: float) -> Path:
    return Path(outline.points + np.array([dx, dy]), outline.closed)


@st.composite
def convex(draw: st.DrawFn) -> Path:
    """Convex polygon, clockwise: corners on an oval at angles at least 1/60 of a round apart."""
    steps = draw(st.lists(st.integers(1, 12), min_size=3, max_size=9))
    share = np.array(list(accumulate(steps))) / (sum(steps))
    radius = draw(st.floats(20.0, 120.0))
    squash = draw(st.floats(0.4, 1.0))
    turn = draw(st.floats(0.0, 2 * math.pi))
    angle = 2 * math.pi * share
    flat = np.stack([np.cos(angle), squash * np.sin(angle)], axis=1) * radius
    cos, sin = math.cos(turn), math.sin(turn)
    return path(flat @ np.array([[cos, sin], [-sin, cos]]), closed=True)


#: How far a measure of a curve may be off because its chords cut it: the length of the
#: curve times the most a chord leaves it.
def curve_error(length: float) -> float:
    return length * CHORD_ERROR + 1e-6
