"""Rows of quilting: straight lines so far apart, joined in the allowance where they end there."""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.sewable import sewable
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path, Point, path

#: A row shorter than this shows nothing, mm (our own choice).
SHORTEST_ROW = 6.0
#: Rows are joined in the allowance over no more than so many times their spacing.
_JOINED_OVER = 4.0
#: Noise, mm; and how far from a rim what ends on it may lie.
_HAIR, _ON_RIM = 1e-6, 1e-4


@dataclass(frozen=True)
class QuiltedRow:
    """One straight row, or what obstacles have left of it.

    Parameters
    ----------
    number : int
        Which of the parallel lines it lies on; neighbours differ by 1.
    start, end : Point
        mm.
    """

    number: int
    start: Point
    end: Point


def rows(
    ground: BaseGeometry, within: BaseGeometry, angle: float, spacing: float
) -> tuple[QuiltedRow, ...]:
    """Parallel rows over some ground, evenly about its middle.

    Parameters
    ----------
    ground : Polygon or MultiPolygon
        They end at its edge.
    within : Polygon or MultiPolygon
        What is seen of it: the rows lie about its middle, and one that does not pass through it is
        left out.
    angle : float
        Of the rows from level, degrees clockwise as seen (y down).
    spacing : float
        From row to row, mm.

    Returns
    -------
    tuple of QuiltedRow
        By number, and along each line.

    Examples
    --------
    Over 100 mm, 20 mm apart: one through the middle and two to either side.

    >>> sheet = shapely.box(0, 0, 100, 40)
    >>> [row.start for row in rows(sheet, sheet, 90.0, 20.0)]
    [(90.0, 0.0), (70.0, 0.0), (50.0, 0.0), (30.0, 0.0), (10.0, 0.0)]
    """
    if ground.is_empty or within.is_empty:
        return ()
    left, top, right, bottom = within.bounds
    middle = np.array([(left + right) / 2, (top + bottom) / 2])
    radians = math.radians(angle)
    along = np.array([math.cos(radians), math.sin(radians)]).round(12)
    across = np.array([-along[1], along[0]])
    far = float(np.hypot(*(np.array(ground.bounds[2:]) - np.array(ground.bounds[:2])))) + spacing
    offsets = (shapely.get_coordinates(ground) - middle) @ across
    first, last = math.ceil(offsets.min() / spacing), math.floor(offsets.max() / spacing)
    feet = middle + np.arange(first, last + 1)[:, np.newaxis] * spacing * across
    wholes = shapely.linestrings(np.stack([feet - along * far, feet + along * far], axis=1))
    parts, of = shapely.get_parts(shapely.intersection(wholes, ground), return_index=True)
    long = (shapely.get_type_id(parts) == shapely.GeometryType.LINESTRING) & (
        shapely.length(parts) >= SHORTEST_ROW
    )
    parts, of = parts[long], of[long]
    seen = shapely.length(shapely.intersection(parts, within)) >= SHORTEST_ROW
    ends: list[list[list[float]]] = [[] for _ in feet]
    for number, part in zip(of[seen].tolist(), parts[seen], strict=True):
        ends[number].append(sorted(((shapely.get_coordinates(part) - middle) @ along).tolist()))
    return tuple(
        QuiltedRow(number, _at(at, along, start), _at(at, along, end))
        for number, (at, pieces) in enumerate(zip(feet, ends, strict=True))
        for start, end in sorted(pieces)
    )


def _at(foot: FloatArray, along: FloatArray, reading: float) -> Point:
    x, y = foot + along * reading
    return round(float(x), 9), round(float(y), 9)


def joined_rows(
    found: Sequence[QuiltedRow], ground: BaseGeometry, seam: BaseGeometry, spacing: float
) -> tuple[Path, ...]:
    """Rows as runs: to and fro where two that follow each other both end in the allowance.

    The way from one to the next runs along the edge of the ground and outside the seam, so that it
    is hidden there and cut off.

    Parameters
    ----------
    found : sequence of QuiltedRow
        By number.
    ground : Polygon or MultiPolygon
        That they were cut by.
    seam : Polygon
        Inside the seam line.
    spacing : float
        mm.
    """
    if not found:
        return ()
    rims = _Rims(_rims(ground, seam), [spot for row in found for spot in (row.start, row.end)])
    left = list(found)
    made: list[Path] = []
    while left:
        row = left.pop(0)
        spots = [row.start, row.end]
        while True:
            following = [one for one in left if one.number in (row.number, row.number + 1)]
            step = _next(spots[-1], row, following, rims, spacing)
            if step is None and len(spots) == 2:  # the other end may lead on
                step = _next(spots[0], row, following, rims, spacing)
                spots = spots[::-1] if step else spots
            if step is None:
                break
            way, row, far_end = step
            left.remove(row)
            spots += [*way, far_end]
        made.append(sewable(path(spots, closed=False)))
    return tuple(made)


def _next(
    leave: Point,
    row: QuiltedRow,
    others: Iterable[QuiltedRow],
    rims: "_Rims",
    spacing: float,
) -> tuple[list[Point], QuiltedRow, Point] | None:
    """The way to the next row, that row, and its far end; None where none is near."""
    best: tuple[float, list[Point], QuiltedRow, Point] | None = None
    for other in others:
        if other.number != row.number + 1:
            continue
        for enter, far_end in ((other.start, other.end), (other.end, other.start)):
            way = rims.way(leave, enter, _JOINED_OVER * spacing)
            if way is None:
                continue
            length = float(shapely.LineString([leave, *way]).length)
            if length <= _JOINED_OVER * spacing and (best is None or length < best[0]):
                best = length, way, other, far_end
    return best[1:] if best else None


def _rims(ground: BaseGeometry, seam: BaseGeometry) -> list[shapely.LineString]:
    """The stretches of the ground's edge that lie in the allowance."""
    inside = seam.buffer(_HAIR + 0.5)
    found: list[shapely.LineString] = []
    for ring in shapely.get_rings(shapely.get_parts(ground)):
        outside = ring - inside
        if outside.is_empty:
            continue
        merged = shapely.line_merge(outside) if outside.geom_type != "LineString" else outside
        found += [one for one in shapely.get_parts(merged) if one.length > _HAIR]
    return found


class _Rims:
    """Ways along the rims between the ends of rows.

    Parameters
    ----------
    rims : sequence of LineString
    spots : sequence of Point
        The ends.
    """

    def __init__(self, rims: Sequence[shapely.LineString], spots: Sequence[Point]) -> None:
        self._number = {spot: number for number, spot in enumerate(spots)}
        # The last corner of a rim lies between no two places on it.
        self._corners = [
            [(x, y) for x, y in shapely.get_coordinates(rim).tolist()[:-1]] for rim in rims
        ]
        self._reach = [[0.0, *accumulate(map(_apart, one, one[1:]))] for one in self._corners]
        lines = np.array(rims, dtype=object)[:, np.newaxis]
        ends = shapely.points(np.array(spots))
        self._on = (shapely.distance(lines, ends) <= _ON_RIM).tolist()
        self._at = shapely.line_locate_point(lines, ends).tolist()

    def way(self, start: Point, end: Point, longest: float) -> list[Point] | None:
        """Corners from one end to another along a rim that both lie on.

        None if none is so, or if it would be longer for certain than it may be, mm.
        """
        a, b = self._number[start], self._number[end]
        for on, at, corners, reach in zip(
            self._on, self._at, self._corners, self._reach, strict=True
        ):
            if not (on[a] and on[b]):
                continue
            if abs(at[a] - at[b]) > longest + 10 * _ON_RIM:
                return None
            low, high = sorted((at[a], at[b]))
            inner = corners[bisect_right(reach, low) : bisect_left(reach, high)]
            return [*(inner if at[a] <= at[b] else reversed(inner)), end]
        return None


def _apart(one: Point, other: Point) -> float:
    return float(((other[0] - one[0]) ** 2 + (other[1] - one[1]) ** 2) ** 0.5)
