"""Flat bodies in space, looked at without the program: what lies within which, by its own axes."""

from collections.abc import Iterable
from itertools import combinations

import numpy as np
import shapely

from paramgen.solid.posed_bodies import Posed, PosedPlate

#: Nearer to a face than this is on it, mm.
ON_IT = 1e-6


def corners(plate: PosedPlate) -> np.ndarray:
    return np.concatenate([*plate.at(plate.low), *plate.at(plate.high)])


def box(stands: Posed, *, held: bool = False) -> np.ndarray:
    """Least and largest x, y and z of all plates, shape (2, 3)."""
    points = np.concatenate([corners(one) for one in stands.plates if held or one.held < 0])
    return np.array([points.min(axis=0), points.max(axis=0)])


def overlapping(stands: Posed, count: int = 120) -> list[tuple[int, int]]:
    """Pairs of plates of which one holds a point of the other, of many spread within it.

    A point is taken back to where the other lay flat, and held against its outline there.
    """
    return [
        (one, other)
        for (one, a), (other, b) in combinations(enumerate(stands.plates), 2)
        if any(_holds(second, _spread(first, count)) for first, second in ((a, b), (b, a)))
    ]


def _spread(plate: PosedPlate, count: int) -> np.ndarray:
    """Points within a plate: a lattice (of Kronecker, by the plastic number) and near corners."""
    left, top, right, bottom = plate.outline.bounds
    k = np.arange(1, count + 1)[:, None]
    share = (k * np.array([0.8191725134, 0.6710436067, 0.5497004779])) % 1.0
    ends = np.array(
        [(x, y, z) for x in (1e-4, 1 - 1e-4) for y in (1e-4, 1 - 1e-4) for z in (1e-3, 1 - 1e-3)]
    )
    share = np.concatenate([share, ends])
    x, y = left + share[:, 0] * (right - left), top + share[:, 1] * (bottom - top)
    inside = shapely.contains_xy(plate.outline, x, y)
    z = plate.low + share[:, 2] * (plate.high - plate.low)
    flat = np.column_stack([x + plate.moved[0], y + plate.moved[1], z])[inside]
    return flat @ plate.place[:3, :3].T + plate.place[:3, 3]


def _holds(plate: PosedPlate, points: np.ndarray) -> bool:
    flat = (points - plate.place[:3, 3]) @ plate.place[:3, :3]  # its axes are at right angles
    high = (flat[:, 2] > plate.low + ON_IT) & (flat[:, 2] < plate.high - ON_IT)
    inner = plate.outline.buffer(-ON_IT, join_style="mitre")
    x, y = (flat[:, :2] - plate.moved).T
    return bool((high & shapely.contains_xy(inner, x, y)).any())


def covered_wrongly(order: Iterable[PosedPlate], matrix: np.ndarray) -> list[tuple[int, int]]:
    """Pairs of a plate and one drawn before it that lies nearer at some place of the picture.

    Lines of sight from points of the one are followed through the other.
    """
    plates = list(order)
    return [
        (later, before)
        for before, later in combinations(range(len(plates)), 2)
        if _before(plates[before], _spread(plates[later], 60), matrix[2])
    ]


def _before(plate: PosedPlate, points: np.ndarray, way: np.ndarray) -> bool:
    """Whether a plate lies wholly before one of some points, on the way to who looks."""
    start = (points - plate.place[:3, 3]) @ plate.place[:3, :3]
    along = way @ plate.place[:3, :3]
    if abs(along[2]) < 1e-9:
        return False
    inner = plate.outline.buffer(-1e-3, join_style="mitre")
    reach = np.sort([(height - start[:, 2]) / along[2] for height in (plate.low, plate.high)], 0)
    meets = [
        shapely.contains_xy(inner, *(start[:, :2] + t[:, None] * along[:2] - plate.moved).T)
        for t in reach
    ]
    return bool((meets[0] & meets[1] & (reach[0] > 1e-3)).any())
