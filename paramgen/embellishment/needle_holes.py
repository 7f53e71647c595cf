"""Needle points so far, so that no more of them come together than the cloth bears."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from paramgen.embellishment.satin_rungs import LEAST_RUNG
from paramgen.geometry.along_path import points_at
from paramgen.vocabulary.path import BoolArray, FloatArray, Path

#: Four needle points within 0.3 mm of one of them cut the cloth (`rehearsal/rehearsal_limits.py`):
#: no more than this lie within so far, mm, rounding to the grid included for the most part.
MOST_NEAR, NEAR = 3, 0.399


class Holes:
    """Needle points in squares as wide as `NEAR`.

    Examples
    --------
    >>> holes = Holes()
    >>> for _ in range(3):
    ...     holes.add(np.array([1.0, 1.0]))
    >>> holes.full(np.array([1.2, 1.0])), holes.full(np.array([1.5, 1.0]))
    (True, False)
    """

    def __init__(self) -> None:
        self._squares: dict[tuple[int, int], list[list[float]]] = {}

    def _near(self, x: float, y: float) -> list[list[float]]:
        """Those near a place: x, y, and how many are near each, itself included."""
        column, row = math.floor(x / NEAR), math.floor(y / NEAR)
        return [
            one
            for right in (-1, 0, 1)
            for down in (-1, 0, 1)
            for one in self._squares.get((column + right, row + down), ())
            if math.hypot(one[0] - x, one[1] - y) < NEAR
        ]

    def full(self, place: FloatArray) -> bool:
        """Whether one more here would be one too many for itself or for one near it."""
        near = self._near(float(place[0]), float(place[1]))
        return len(near) >= MOST_NEAR or any(one[2] >= MOST_NEAR for one in near)

    def add(self, place: FloatArray) -> None:
        """Make one."""
        x, y = float(place[0]), float(place[1])
        near = self._near(x, y)
        for one in near:
            one[2] += 1
        square = (math.floor(x / NEAR), math.floor(y / NEAR))
        self._squares.setdefault(square, []).append([x, y, 1 + len(near)])

    def add_stitched(self, line: Path, longest: float) -> None:
        """Make those of a line whose stitches are equal from corner to corner.

        Parameters
        ----------
        line : Path
        longest : float
            Longest stitch, mm.
        """
        corners = line.reach[line.corners].tolist() or [0.0]
        ends = [*corners, corners[0] + line.length] if line.closed else corners
        for start, end in pairwise(ends):
            count = max(1, math.ceil((end - start) / longest - 1e-9))
            for place in points_at(line, start + (end - start) * np.arange(count) / count):
                self.add(place)

    def room_for(self, places: FloatArray) -> BoolArray:
        """Make several, and say of which there was room for."""
        made = np.zeros(len(places), dtype=bool)
        for at, place in enumerate(places):
            if not self.full(place):
                self.add(place)
                made[at] = True
        return made


def not_piled_up(runs: Sequence[FloatArray]) -> tuple[FloatArray, ...]:
    """Leave out needle points where others are already as close as the cloth bears.

    Parameters
    ----------
    runs : sequence of array of float, shape (n, 2)
        In sewing order, mm.

    Examples
    --------
    Of four in one place one is left out:

    >>> to_and_fro = np.array([[0.0, 0], [1, 0], [0, 0], [1, 0], [0, 0], [1, 0], [0, 0], [1, 0]])
    >>> [len(run) for run in not_piled_up([to_and_fro])]
    [6]
    """
    holes = Holes()
    found = []
    for run in runs:
        kept: list[FloatArray] = []
        for place in run:
            near = kept and math.hypot(*(place - kept[-1])) < LEAST_RUNG - 1e-6
            if near or (kept and holes.full(place)):
                continue
            holes.add(place)
            kept.append(place)
        if len(kept) > 1:
            found.append(np.array(kept))
    return tuple(found)
