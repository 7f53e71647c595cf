"""How far layers lie over each other where the work opens between them."""

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.sheets import GRID

#: An opening lies along what lies over each other if it is no farther from it, mm.
_BESIDE = 10 * GRID


def least_lap(lies_over: BaseGeometry, opening: Sequence[shapely.LineString]) -> float:
    """How far layers lie over each other where they open, at the opening where it is least, mm.

    Where a strip is sewn along one fold, they open at both edges of it, one beside the other: what
    lies over each other there goes along both.

    Examples
    --------
    Two laps of 12 mm, each with its opening; one of 24 mm with two; and folds that only meet:

    >>> folds = [shapely.LineString([(0, y), (100, y)]) for y in (0, 4, 50)]
    >>> apart = shapely.box(0, 0, 100, 12) | shapely.box(0, 50, 100, 62)
    >>> least_lap(apart, [folds[0], folds[2]]), least_lap(shapely.box(0, 0, 100, 24), folds[:2])
    (12.0, 24.0)
    >>> least_lap(shapely.Polygon(), folds)
    0.0
    """
    parts = [part for part in shapely.get_parts(lies_over) if part.area > 0]
    beside = [[line for line in opening if line.distance(part) <= _BESIDE] for part in parts]
    lapped = {id(line) for lines in beside for line in lines}
    if not opening or any(id(line) not in lapped for line in opening):
        return 0.0
    return min(
        float(part.area) / _along(lines) for part, lines in zip(parts, beside, strict=True) if lines
    )


def _along(lines: Sequence[shapely.LineString]) -> float:
    """Length of folds, upright or across; of those beside each other along one of them."""
    by_axis: tuple[list[shapely.LineString], ...] = ([], [])
    for line in lines:
        left, top, right, bottom = line.bounds
        axis, ends = (0, (left, right)) if right - left > bottom - top else (1, (top, bottom))
        by_axis[axis].append(shapely.LineString([(at, 0.0) for at in ends]))
    return sum(float(shapely.union_all(one).length) for one in by_axis)
