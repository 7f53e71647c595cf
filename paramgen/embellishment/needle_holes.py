"""Needle points so far, so that no more of them come together than the cloth bears."""

import math
from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from paramgen.embellishment.satin_rungs import LEAST_RUNG
from paramgen.geometry.along_path import points_at
from paramgen.vocabulary.path import BoolArray, FloatArray, Path

#: Four needle points within 0.3 mm of one of them cut the cloth (`rehearsal/rehearsal_limits.py`):
#: no more than this lie within so far, mm, rounding to the grid included for the most part.
MOST_NEAR, NEAR = 3, 0.399


#: A needle point: x, y, and how many lie near it, itself included.
Hole = list[float]

#: Squares are numbered along rows of so many, far more than there are in any hoop.
_ROW = 1 << 20
#: From a square to itself and those round it.
_ROUND = tuple(right + down * _ROW for right in (-1, 0, 1) for down in (-1, 0, 1))


class Holes:
    """Needle points in squares as wide as `NEAR`.

    Examples
    --------
    >>> holes = Holes()
    >>> for _ in range(3):
    ...     holes.add(1.0, 1.0)
    >>> holes.full(1.2, 1.0), holes.full(1.5, 1.0)
    (True, False)
    """

    def __init__(self) -> None:
        # Under each square those in it and in the squares round it: asked oftener than added to.
        self._round: defaultdict[int, list[Hole]] = defaultdict(list)

    def near(self, x: float, y: float) -> list[Hole]:
        """Those near a place."""
        there = self._round.get(_square(x, y), ())
        return [one for one in there if math.hypot(one[0] - x, one[1] - y) < NEAR]

    def full(self, x: float, y: float) -> bool:
        """Whether one more here would be one too many for itself or for one near it."""
        return full(self.near(x, y))

    def add(self, x: float, y: float) -> None:
        """Make one."""
        self.make(x, y, self.near(x, y))

    def make(self, x: float, y: float, near: list[Hole]) -> None:
        """Make one, those near it being known."""
        for one in near:
            one[2] += 1
        made = [x, y, 1.0 + len(near)]
        square = _square(x, y)
        for step in _ROUND:
            self._round[square + step].append(made)

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
            places = points_at(line, start + (end - start) * np.arange(count) / count)
            for x, y in places.tolist():
                self.add(x, y)

    def room_for(self, places: FloatArray) -> BoolArray:
        """Make several, and say of which there was room for."""
        made = []
        for x, y in places.tolist():
            near = self.near(x, y)
            there = not full(near)
            if there:
                self.make(x, y, near)
            made.append(there)
        return np.array(made, dtype=bool)


def _square(x: float, y: float) -> int:
    return math.floor(x / NEAR) + math.floor(y / NEAR) * _ROW


def full(near: list[Hole]) -> bool:
    """Whether one more near these would be one too many for itself or for one of them."""
    if not near:  # by far the most
        return False
    return len(near) >= MOST_NEAR or any(one[2] >= MOST_NEAR for one in near)


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
        kept: list[list[float]] = []
        for place in run.tolist():
            x, y = place
            if kept and math.hypot(x - kept[-1][0], y - kept[-1][1]) < LEAST_RUNG - 1e-6:
                continue
            near = holes.near(x, y)
            if kept and full(near):
                continue
            holes.make(x, y, near)
            kept.append(place)
        if len(kept) > 1:
            found.append(np.array(kept))
    return tuple(found)
