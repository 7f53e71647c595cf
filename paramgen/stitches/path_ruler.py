"""Every path of a project laid end to end along one ruler, to be measured in one go."""

from collections.abc import Sequence

import numpy as np

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import CORNER_DEGREES, BoolArray, FloatArray, IntArray, Path

#: Bare ruler between two paths, mm, so that no reading can belong to both.
_GAP = 1.0


@dataclass(frozen=True, eq=False)
class PathRuler:
    """Places in the hoop by their reading along the ruler.

    Parameters
    ----------
    marks : array of float, shape (n,)
        Reading at each vertex, mm, rising.
    x, y : array of float, shape (n,)
        The vertices, mm.
    """

    marks: FloatArray
    x: FloatArray
    y: FloatArray

    def at(self, readings: FloatArray) -> FloatArray:
        """Points on the paths, shape (k, 2), mm."""
        points = np.empty((len(readings), 2))
        points[:, 0] = np.interp(readings, self.marks, self.x)
        points[:, 1] = np.interp(readings, self.marks, self.y)
        return points

    def across(self, readings: FloatArray, reach: FloatArray) -> FloatArray:
        """Unit vectors to the left of the paths, at a right angle, as seen; shape (k, 2).

        Parameters
        ----------
        readings : array of float, shape (k,)
        reach : array of float, shape (k,)
            How far to either side a path is looked at for its direction, mm: long
            against the chords that stand for a curve, short against its radius, and
            not past a corner.
        """
        along = self.at(readings + reach) - self.at(readings - reach)
        along /= np.hypot(along[:, 0], along[:, 1])[:, None]
        return np.stack([along[:, 1], -along[:, 0]], axis=1)


@dataclass(frozen=True, eq=False)
class RulerCorners:
    """The corners of all the paths, in the order of their readings.

    A closed path begins at its first corner, or at its first vertex if it has none, and
    ends there: that corner is listed twice.

    Parameters
    ----------
    path : array of int, shape (k,)
        Which path the corner belongs to.
    reading : array of float, shape (k,)
        Where it lies on the ruler, mm.
    last : array of bool, shape (k,)
        Whether its path ends there.
    """

    path: IntArray
    reading: FloatArray
    last: BoolArray

    @property
    def span(self) -> FloatArray:
        """Length of path from each corner to the next, mm; 0 where the path ends."""
        return np.where(self.last, 0.0, np.diff(self.reading, append=0.0))


def lay_out(paths: Sequence[Path], as_drawn: Sequence[bool] = ()) -> tuple[PathRuler, RulerCorners]:
    """Lay paths along one ruler.

    Parameters
    ----------
    paths : sequence of Path
        At least one, each of two vertices or more.
    as_drawn : sequence of bool
        Of which of them every vertex is a corner; of none if it is empty.
    """
    size = np.array([len(path.points) for path in paths])
    closed = np.array([path.closed for path in paths])
    base = np.cumsum(size) - size
    points = np.concatenate([path.points for path in paths])
    sharp = _sharp(points, base, size, closed)
    if any(as_drawn):
        sharp |= np.repeat(np.array(as_drawn), size)

    first = np.append(np.flatnonzero(sharp), len(points))
    first = first[np.searchsorted(first, base)] - base
    first[first >= size] = 0

    size_laid = size + closed
    place, path = counted(size_laid)
    vertex = base[path] + (first[path] + place) % size[path]
    x, y = points[vertex, 0], points[vertex, 1]
    last = place == size_laid[path] - 1
    steps = np.hypot(np.diff(x), np.diff(y))
    steps[last[:-1]] = _GAP
    marks = np.concatenate([[0.0], np.cumsum(steps)])
    corner = sharp[vertex] | (place == 0) | last
    return PathRuler(marks, x, y), RulerCorners(path[corner], marks[corner], last[corner])


def counted(sizes: IntArray) -> tuple[IntArray, IntArray]:
    """Count 0, 1, 2 ... through groups of the given sizes; also the group of each."""
    group = np.repeat(np.arange(len(sizes)), sizes)
    return np.arange(len(group)) - (np.cumsum(sizes) - sizes)[group], group


def _sharp(points: FloatArray, base: IntArray, size: IntArray, closed: BoolArray) -> BoolArray:
    """Tell which vertices are corners, as `Path.corners` does, for all paths at once."""
    end = base + size - 1
    following = np.arange(1, len(points) + 1)
    following[end] = base
    before = np.arange(-1, len(points) - 1)
    before[base] = end
    out = points[following] - points
    come = out[before]
    cross = come[:, 0] * out[:, 1] - come[:, 1] * out[:, 0]
    dot = come[:, 0] * out[:, 0] + come[:, 1] * out[:, 1]
    sharp = np.abs(np.degrees(np.arctan2(cross, dot))) > CORNER_DEGREES
    sharp[base[~closed]] = sharp[end[~closed]] = True
    return sharp
