"""Stippling: one line that wanders over the ground and never crosses itself.

A tree is grown over a grid of cells, and the line walks once round it: through four places in each
cell, along the tree on one side and back on the other. So it is closed, passes everywhere and meets
itself nowhere; its corners are rounded. Then the whole plane is moved a little by a smooth field,
x + d(x), that moves two places apart by less than they lie apart: |d(x) - d(y)| < |x - y|. Two
places that differ are moved to two that differ, so that what did not cross does not cross.

The branching is drawn by a counter, not by chance: the same ground gives the same line.
"""

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.path import FloatArray, Path, following, path, preceding

#: Of the field: how far it moves a place, and its wave, in spacings. It moves two places apart by
#: at most so many times what they lie apart: 2 π × 0.22 / 4.8 × √2 = 0.41.
_MOVES, _WAVE = 0.22, 4.8
#: Places on a quarter circle, and on a straight stretch: turns of 3°, and of less than four times
#: that once they are moved, are no corners.
_ARC, _STRAIGHT = 28, 4
#: No smaller patch of cells gets a line.
_LEAST_CELLS = 2

Cell = tuple[int, int]


def stipple(ground: BaseGeometry, spacing: float) -> tuple[Path, ...]:
    """Lines that wander over some ground, about so far apart.

    Parameters
    ----------
    ground : Polygon or MultiPolygon
    spacing : float
        From one pass to the next, mm; they come no nearer than 0.59 of it.

    Returns
    -------
    tuple of Path
        Closed, one for each part of the ground that has room for it.
    """
    inner = ground.buffer(-_MOVES * math.sqrt(2) * spacing)
    if inner.is_empty:
        return ()
    left, top, right, bottom = inner.bounds
    pitch = 2 * spacing
    columns, lines = (
        max(1, int((far - near + spacing) // pitch)) for near, far in ((left, right), (top, bottom))
    )
    # In the middle: the outermost passes lie as far from either side.
    corner = np.array([(left + right - columns * pitch) / 2, (top + bottom - lines * pitch) / 2])
    grid = _Grid(inner, corner, spacing)
    cells = {(i, j) for i in range(columns) for j in range(lines) if grid.takes(i, j, i, j)}
    found = []
    for tree in _trees(cells, grid):
        if len(tree) + 1 >= _LEAST_CELLS:
            found.append(path(_moved(_rounded(_round_tree(tree), grid), spacing), closed=True))
    return tuple(found)


class _Grid:
    """Cells of two by two places, and whether the ground takes them."""

    def __init__(self, ground: BaseGeometry, corner: FloatArray, spacing: float) -> None:
        self.ground, self.corner, self.spacing = ground, corner, spacing
        shapely.prepare(ground)

    def takes(self, i: int, j: int, k: int, m: int) -> bool:
        """Whether all from one cell to another lies on the ground, between their places."""
        low = self.place(2 * min(i, k), 2 * min(j, m))
        high = self.place(2 * max(i, k) + 1, 2 * max(j, m) + 1)
        return bool(shapely.covers(self.ground, shapely.box(*low, *high)))

    def place(self, column: int, line: int) -> FloatArray:
        """Where a place lies, mm."""
        return self.corner + self.spacing * (np.array([column, line]) + 0.5)


def _trees(cells: set[Cell], grid: _Grid) -> Iterator[list[tuple[Cell, Cell]]]:
    """For each part of the ground a tree over its cells: which cells it joins."""
    left = sorted(cells)
    free = set(cells)
    while left:
        start = left[0]
        free.discard(start)
        joins: list[tuple[Cell, Cell]] = []
        rim = [start]
        drawn = 1
        while rim:
            # Now from the newest, now from an older one: branches that fork.
            drawn = (1103515245 * drawn + 12345) % 2**31
            at = rim[-1] if drawn >> 16 & 1 else rim[(drawn >> 18) % len(rim)]
            i, j = at
            ways = [
                there
                for there in ((i + 1, j), (i, j + 1), (i - 1, j), (i, j - 1))
                if there in free and grid.takes(i, j, *there)
            ]
            if not ways:
                rim.remove(at)
                continue
            there = ways[(drawn >> 8) % len(ways)]
            free.discard(there)
            joins.append((at, there))
            rim.append(there)
        left = [cell for cell in left if cell in free]
        yield joins


def _round_tree(joins: list[tuple[Cell, Cell]]) -> list[Cell]:
    """Places in the order in which a walk round a tree passes them."""
    sides: dict[Cell, set[Cell]] = {}

    def link(a: Cell, b: Cell) -> None:
        sides.setdefault(a, set()).add(b)
        sides.setdefault(b, set()).add(a)

    def cut(a: Cell, b: Cell) -> None:
        sides[a].discard(b)
        sides[b].discard(a)

    for i, j in dict.fromkeys(cell for pair in joins for cell in pair):
        ring = [(2 * i, 2 * j), (2 * i + 1, 2 * j), (2 * i + 1, 2 * j + 1), (2 * i, 2 * j + 1)]
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
            link(a, b)
    for one, other in joins:
        (i, j), (k, m) = min(one, other), max(one, other)
        if j == m:  # side by side
            near = [(2 * i + 1, 2 * j + a) for a in (0, 1)]
            far = [(2 * k, 2 * m + a) for a in (0, 1)]
        else:
            near = [(2 * i + a, 2 * j + 1) for a in (0, 1)]
            far = [(2 * k + a, 2 * m) for a in (0, 1)]
        cut(*near)
        cut(*far)
        for a, b in zip(near, far, strict=True):
            link(a, b)
    start = min(sides)
    walk, before, at = [start], start, max(sides[start])
    while at != start:
        walk.append(at)
        one, other = sorted(sides[at])
        before, at = at, other if one == before else one
    return walk


def _rounded(walk: list[Cell], grid: _Grid) -> FloatArray:
    """A walk from middle to middle of its straight stretches, quarter circles at its corners."""
    places = grid.corner + grid.spacing * (np.array(walk) + 0.5)
    before, after = preceding(places), following(places)
    starts, ends = (before + places) / 2, (places + after) / 2
    straight = np.asarray(np.isclose(starts + ends, 2 * places).all(axis=1))
    share = np.linspace(0.0, 1.0, _STRAIGHT, endpoint=False)[:, np.newaxis]
    turn = np.linspace(0.0, 1.0, _ARC, endpoint=False)[:, np.newaxis] * math.pi / 2
    cos, sin = np.cos(turn), np.sin(turn)
    found = []
    for a, at, b, on in zip(starts, places, ends, straight.tolist(), strict=True):
        if on:
            found.append(a + (b - a) * share)
        else:
            centre = a + b - at
            found.append(centre + (a - centre) * cos + (b - centre) * sin)
    return np.concatenate(found)


def _moved(points: FloatArray, spacing: float) -> FloatArray:
    """Points moved by the field."""
    wave = 2 * math.pi / (_WAVE * spacing)
    across = np.sin(wave * points[:, 1] + 1.0)
    down = np.sin(wave * points[:, 0] + 2.0)
    return points + _MOVES * spacing * np.stack([across, down], axis=1)
