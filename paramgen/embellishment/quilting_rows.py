"""Rows of quilting: straight lines so far apart, joined in the allowance where they end there."""

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
import shapely.ops
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.sewable import sewable
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path, Point, path

#: A row shorter than this shows nothing, mm (our own choice).
SHORTEST_ROW = 6.0
#: Rows are joined in the allowance over no more than so many times their spacing.
_JOINED_OVER = 4.0
#: Noise, mm.
_HAIR = 1e-6


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
    found = []
    for number, offset in enumerate(np.arange(first, last + 1) * spacing):
        at = middle + across * offset
        whole = shapely.LineString([at - along * far, at + along * far])
        pieces = [
            part
            for part in shapely.get_parts(whole & ground)
            if part.geom_type == "LineString" and part.length >= SHORTEST_ROW
        ]
        ends = [
            sorted(((shapely.get_coordinates(part) - middle) @ along).tolist())
            for part in pieces
            if (part & within).length >= SHORTEST_ROW
        ]
        found += [
            QuiltedRow(number, _at(at, along, start), _at(at, along, end))
            for start, end in sorted(ends)
        ]
    return tuple(found)


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
    rims = _rims(ground, seam)
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
    rims: Sequence[shapely.LineString],
    spacing: float,
) -> tuple[list[Point], QuiltedRow, Point] | None:
    """The way to the next row, that row, and its far end; None where none is near."""
    best: tuple[float, list[Point], QuiltedRow, Point] | None = None
    for other in others:
        if other.number != row.number + 1:
            continue
        for enter, far_end in ((other.start, other.end), (other.end, other.start)):
            way = _along_a_rim(leave, enter, rims)
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


def _along_a_rim(
    start: Point, end: Point, rims: Sequence[shapely.LineString]
) -> list[Point] | None:
    """Corners from one place to another along a rim that both lie on; None if none is so."""
    a, b = shapely.Point(start), shapely.Point(end)
    for rim in rims:
        if rim.distance(a) > 1e-4 or rim.distance(b) > 1e-4:
            continue
        from_, to = rim.project(a), rim.project(b)
        way = shapely.ops.substring(rim, from_, to)
        spots = [(float(x), float(y)) for x, y in shapely.get_coordinates(way)]
        return [*spots[1:-1], end]
    return None
