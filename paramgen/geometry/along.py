"""Places along a path: named edges, parts of it, gaps in it, its flattest run."""

import math
from itertools import pairwise

import numpy as np
import shapely

from paramgen.geometry.offset import clockwise
from paramgen.geometry.outlines import ShapeError
from paramgen.geometry.path import FloatArray, Path, Point, path

#: Outward normals of the named edges, x right and y down.
NORMALS: dict[str, Point] = {"top": (0, -1), "right": (1, 0), "bottom": (0, 1), "left": (-1, 0)}

#: Two spans of a path nearer than this along it are one place, mm.
SAME = 1e-6

Span = tuple[float, float]


def points_at(line: Path, at: FloatArray) -> FloatArray:
    """Points of the path at lengths along it, mm, shape (n, 2); a closed path goes on round."""
    along = line.reach
    if line.closed:
        at = at % along[-1]
    ring = np.vstack([line.points, line.points[:1]]) if line.closed else line.points
    return np.stack([np.interp(at, along, ring[:, 0]), np.interp(at, along, ring[:, 1])], axis=1)


def point_at(line: Path, at: float) -> Point:
    """Point of the path at a length along it, mm; a closed path goes on round."""
    x, y = points_at(line, np.array([at]))[0]
    return float(x), float(y)


def part(line: Path, start: float, end: float) -> Path:
    """Open part of a path between two lengths along it, mm; `end` may run past the start.

    Parameters
    ----------
    start, end : float
        ``start < end``; on a closed path ``end - start`` is at most its length.
    """
    along = line.reach
    whole = along[-1]
    if line.closed:
        points = np.vstack([line.points, line.points, line.points[:1]])
        along = np.concatenate([along[:-1], along + whole])
        turn = math.floor(start / whole) * whole
        start, end = start - turn, end - turn
    else:
        points = line.points
    inner = (along > start + SAME) & (along < end - SAME)
    ends = [
        (np.interp(at, along, points[:, 0]), np.interp(at, along, points[:, 1]))
        for at in (start, end)
    ]
    return path(np.vstack([ends[:1], points[inner], ends[1:]]), closed=False)


def without(line: Path, gaps: list[Span]) -> tuple[Path, ...]:
    """What gaps leave of a closed path, as open paths in order along it.

    Parameters
    ----------
    gaps : list of (start, end)
        Lengths along the path, mm, ``start < end``; may run past the start of the path.

    Raises
    ------
    ShapeError
        If the gaps leave nothing.
    """
    if not gaps:
        return (line,)
    whole = line.length
    placed = sorted((start % whole, start % whole + end - start) for start, end in gaps)
    merged = [placed[0]]
    for start, end in placed[1:]:
        if start <= merged[-1][1] + SAME:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    left = [(end, start) for (_, end), (start, _) in pairwise(merged)]
    left.append((merged[-1][1], merged[0][0] + whole))
    kept = tuple(part(line, start, end) for start, end in left if end - start > SAME)
    if not kept:
        raise ShapeError("the gaps leave nothing of the line")
    return kept


def straight_runs(outline: Path) -> list[Span]:
    """Straight runs of a closed path as spans of length along it, longest chords of a polygon.

    Neighbouring chords in one direction are one run.
    """
    along = outline.reach
    turning = np.abs(outline.turns) > 1e-6
    starts = np.flatnonzero(turning)
    if not len(starts):
        return []
    return [
        (float(along[a]), float(along[b] if b > a else along[b] + along[-1]))
        for a, b in zip(starts, np.roll(starts, -1), strict=True)
    ]


def edge(outline: Path, name: str) -> Span:
    """Span of the straight edge of a clockwise outline that faces the way named.

    Parameters
    ----------
    name : str
        `top`, `right`, `bottom` or `left`.

    Raises
    ------
    ShapeError
        If no straight edge faces that way.
    """
    wanted = NORMALS[name]
    best: Span | None = None
    for start, end in straight_runs(outline):
        (ax, ay), (bx, by) = point_at(outline, start), point_at(outline, end)
        length = math.hypot(bx - ax, by - ay)
        facing = ((by - ay) * wanted[0] - (bx - ax) * wanted[1]) / length
        longest = best is None or end - start > best[1] - best[0] + SAME
        if facing > math.cos(math.radians(0.5)) and longest:
            best = (start, end)
    if best is None:
        raise ShapeError(f"the outline has no straight edge at the {name}")
    return best


def flattest(outline: Path, length: float, *, clear: float) -> Span:
    """Span of the given length on the straightest run of a closed path.

    The middle of the longest straight run that has room for the span and `clear` at both
    ends; on a curve, where the path turns least over that span. Among equals the lowest
    place (largest y) is taken, then the one nearest to the middle.

    Parameters
    ----------
    length, clear : float
        Millimetres.

    Raises
    ------
    ShapeError
        If the path is shorter than the span.
    """
    whole = outline.length
    need = length + 2 * clear
    if length >= whole:
        raise ShapeError(f"a gap of {length:.1f} mm is longer than the line ({whole:.1f} mm)")
    runs = [run for run in straight_runs(outline) if run[1] - run[0] >= need - SAME]
    if runs:
        longest = max(end - start for start, end in runs)
        middles = [(s + e) / 2 for s, e in runs if e - s > longest - 1e-3]
    else:
        along = outline.reach
        # A vertex carries its turn; over three rounds, a window's turn is a difference.
        turns = np.tile(np.abs(outline.turns), 3)
        places = np.concatenate([along[:-1] + k * whole for k in range(3)])
        total = np.cumsum(turns)
        centres = np.arange(0.0, whole, 0.25) + whole
        bent = np.interp(centres + need / 2, places, total)
        bent -= np.interp(centres - need / 2, places, total)
        middles = list(centres[bent <= bent.min() + 1e-6] - whole)
    spots = points_at(outline, np.array(middles))
    lowest = spots[:, 1].max()
    x_middle = (outline.bounds[0] + outline.bounds[2]) / 2
    low = [(xy, float(at)) for xy, at in zip(spots, middles, strict=True) if xy[1] > lowest - 0.25]
    _, at = min(low, key=lambda spot: (round(abs(float(spot[0][0]) - x_middle), 3), spot[1]))
    return at - length / 2, at + length / 2


def inside(line: Path, region: Path, *, keep_outside: bool = False) -> tuple[Path, ...]:
    """Parts of a path within a closed outline (or outside it), in order along the path."""
    ring = np.vstack([line.points, line.points[:1]]) if line.closed else line.points
    cord = shapely.LineString(ring)
    field = shapely.Polygon(region.points)
    shapely.prepare(field)
    if field.covers(cord):
        return () if keep_outside else (line,)
    kept = cord.difference(field) if keep_outside else cord.intersection(field)
    if kept.equals(cord):
        return (line,)
    lines = [
        part_of
        for part_of in getattr(kept, "geoms", [kept])
        if part_of.geom_type == "LineString" and part_of.length > SAME
    ]
    if len(lines) > 1 and line.closed:
        merged = shapely.line_merge(shapely.MultiLineString(lines), directed=True)
        lines = list(getattr(merged, "geoms", [merged]))
    lines.sort(key=lambda one: cord.project(shapely.Point(one.coords[0])))
    return tuple(path(shapely.get_coordinates(one), closed=False) for one in lines)


def common(outline: Path, other: Path) -> Path:
    """Closed outline of the part of one outline within another.

    Raises
    ------
    ShapeError
        If they do not overlap in one part.
    """
    both = shapely.Polygon(outline.points) & shapely.Polygon(other.points)
    if not isinstance(both, shapely.Polygon) or both.area <= 0:
        raise ShapeError("the two outlines do not overlap in one part")
    return clockwise(path(shapely.get_coordinates(both.exterior), closed=True))
