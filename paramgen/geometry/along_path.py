"""Places along a path: named edges, parts of it, gaps in it, its flattest run; outlines of two.

What lays lines or outlines over each other asks the budget first, with `ask_for_meetings`; where a
recipe can do that anew, `tests/specimens/attack_recipes.py` has one that asks for far too much.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.geometry.crossing_work import ask_for_meetings
from paramgen.geometry.offset import clockwise
from paramgen.geometry.outlines import ShapeError
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Clause, Mm, Term
from paramgen.vocabulary.kinds import Edge
from paramgen.vocabulary.path import FloatArray, Path, Point, path

#: Outward normals of the named edges, x right and y down.
NORMALS: dict[str, Point] = {"top": (0, -1), "right": (1, 0), "bottom": (0, 1), "left": (-1, 0)}

#: Two spans of a path nearer than this along it are one place, mm.
SAME = 1e-6

#: A straight run shorter than this is a chord of a curve and no edge, mm: the longest
#: chord that leaves a circle of 2 m by `CHORD_ERROR` is 1.3 mm.
LEAST_EDGE = 2.0

Span = tuple[float, float]


def points_at(line: Path, at: FloatArray) -> FloatArray:
    """Points of the path at lengths along it, mm, shape (n, 2); a closed path goes on round.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    Along the top and down the right side; 14 mm are once round, so that 15 is 1:

    >>> points_at(rectangle(0, 0, 4, 3), np.array([1.0, 5.0, 15.0])).tolist()
    [[1.0, 0.0], [4.0, 1.0], [1.0, 0.0]]

    Round a path of one point all places are that point:

    >>> points_at(path([(2, 2)], closed=True), np.array([0.0, 3.0])).tolist()
    [[2.0, 2.0], [2.0, 2.0]]
    """
    along = line.reach
    if line.closed and line.length:
        at = at % along[-1]
    ring = np.vstack([line.points, line.points[:1]]) if line.closed else line.points
    return np.stack([np.interp(at, along, ring[:, 0]), np.interp(at, along, ring[:, 1])], axis=1)


def point_at(line: Path, at: float) -> Point:
    """Point of the path at a length along it, mm; a closed path goes on round.

    Examples
    --------
    >>> point_at(path([(0, 0), (3, 0), (3, 4)], closed=False), 5)  # 3 along, 2 down
    (3.0, 2.0)
    >>> point_at(path([(2, 2)], closed=False), 0)
    (2.0, 2.0)
    """
    x, y = points_at(line, np.array([at]))[0]
    return float(x), float(y)


def part(line: Path, start: float, end: float) -> Path:
    """Open part of a path between two lengths along it, mm; `end` may run past the start.

    Parameters
    ----------
    start, end : float
        ``start < end``; on a closed path ``end - start`` is at most its length.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    From 1 mm before the end, over the start, to 2 mm after it:

    >>> part(rectangle(0, 0, 4, 3), 13, 16).points.tolist()
    [[0.0, 1.0], [0.0, 0.0], [2.0, 0.0]]

    A part of no length is a point, as is any of a path of one point:

    >>> part(rectangle(0, 0, 4, 3), 2, 2).points.tolist()
    [[2.0, 0.0]]
    >>> part(path([(2, 2)], closed=True), 0, 0).points.tolist()
    [[2.0, 2.0]]
    """
    along = line.reach
    whole = along[-1]
    if line.closed:
        points = np.vstack([line.points, line.points, line.points[:1]])
        along = np.concatenate([along[:-1], along + whole])
        turn = math.floor(start / whole) * whole if whole else 0.0
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

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    >>> sheet = rectangle(0, 0, 4, 3)  # 14 mm round

    From the end of the first gap on, 3 to 4 mm are left, and then 0 to 1 mm:

    >>> [line.points.tolist() for line in without(sheet, [(1, 3), (4, 14)])]
    [[[3.0, 0.0], [4.0, 0.0]], [[0.0, 0.0], [1.0, 0.0]]]

    No gap leaves it closed, and one as long as it leaves nothing:

    >>> without(sheet, [])[0] is sheet
    True
    >>> without(sheet, [(0, 14)])
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: gaps-leave-nothing
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
    while len(merged) > 1 and merged[-1][1] >= merged[0][0] + whole - SAME:
        # The last gap goes on round over the start, and over the gaps behind it.
        _, end = merged.pop(0)
        merged[-1] = (merged[-1][0], max(merged[-1][1], end + whole))
    left = [(end, start) for (_, end), (start, _) in pairwise(merged)]
    left.append((merged[-1][1], merged[0][0] + whole))
    kept = tuple(part(line, start, end) for start, end in left if end - start > SAME)
    if not kept:
        raise ShapeError("gaps-leave-nothing")
    return kept


def straight_runs(outline: Path) -> FloatArray:
    """Straight runs of a closed path: neighbouring chords in one direction are one run.

    Returns
    -------
    array of float, shape (n, 2)
        Start and end as lengths along the path, mm; the last may run past the start.

    Examples
    --------
    Two chords in one direction are one run, of 4 mm; the others are 3, 4 and 3:

    >>> corners = [(0, 0), (2, 0), (4, 0), (4, 3), (0, 3)]
    >>> straight_runs(path(corners, closed=True)).tolist()
    [[0.0, 4.0], [4.0, 7.0], [7.0, 11.0], [11.0, 14.0]]
    >>> straight_runs(path([(2, 2)], closed=True)).tolist()
    []
    """
    along = outline.reach
    starts = along[np.flatnonzero(np.abs(outline.turns) > 1e-6)]
    ends = np.concatenate([starts[1:], starts[:1] + along[-1]])
    return np.stack([starts, ends], axis=1)


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

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    >>> edge(rectangle(0, 0, 4, 3), "bottom")  # past the top, 4, and the right side, 3
    (7.0, 11.0)

    An edge of 1 mm is shorter than `LEAST_EDGE`:

    >>> edge(rectangle(0, 0, 1, 3), "top")
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: no-straight-edge {'edge': Term(group='edge', word='top')}
    """
    runs = straight_runs(outline)
    runs = runs[runs[:, 1] - runs[:, 0] > LEAST_EDGE]
    along = points_at(outline, runs[:, 1]) - points_at(outline, runs[:, 0])
    out_x, out_y = NORMALS[name]
    # Outward of a clockwise edge along (x, y) is (y, -x).
    facing = (along[:, 1] * out_x - along[:, 0] * out_y) / np.hypot(along[:, 0], along[:, 1])
    runs = runs[facing > math.cos(math.radians(0.5))]
    if not len(runs):
        raise ShapeError("no-straight-edge", edge=Term("edge", name))
    length = runs[:, 1] - runs[:, 0]
    start, end = runs[np.flatnonzero(length > length.max() - SAME)[0]].tolist()
    return start, end


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

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    The bottom reaches from 7 to 11 mm, its middle is 9:

    >>> flattest(rectangle(0, 0, 4, 3), 2, clear=1)
    (8.0, 10.0)
    >>> flattest(rectangle(0, 0, 4, 3), 0, clear=0)
    (9.0, 9.0)
    >>> flattest(rectangle(0, 0, 4, 3), 14, clear=0)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: gap-longer-than-line {'gap': Mm(value=14, \
towards=''), 'line': Mm(value=14.0, towards='')}
    """
    whole = outline.length
    need = length + 2 * clear
    if length >= whole:
        raise ShapeError("gap-longer-than-line", gap=Mm(length), line=Mm(whole))
    runs = straight_runs(outline)
    room = runs[:, 1] - runs[:, 0]
    if len(runs) and room.max() >= need - SAME:
        middles = runs[room > room.max() - 1e-3].mean(axis=1)
    else:
        middles = _least_bent(outline, need)
    spots = points_at(outline, middles)
    x_middle = outline.box.centre[0]
    low = spots[:, 1] > spots[:, 1].max() - 0.25
    aside = np.round(np.abs(spots[low, 0] - x_middle), 3)
    at = float(middles[low][np.lexsort((middles[low], aside))[0]])
    return at - length / 2, at + length / 2


def _least_bent(outline: Path, length: float) -> FloatArray:
    """Middles of the spans of a closed path that turn least, as lengths along it, mm."""
    whole = outline.length
    # A vertex carries its turn: what a path has turned so far is known between vertices.
    # Over three rounds, the turn of any span is a difference.
    between = outline.reach[:-1] + np.diff(outline.reach) / 2
    places = np.concatenate([between + k * whole for k in range(3)])
    turned = np.cumsum(np.tile(np.abs(outline.turns), 3))
    # Quarters of the path are among the places tried: there an oval is flattest.
    count = 4 * math.ceil(whole)
    middles = whole * np.arange(count) / count
    bent = np.interp(middles + whole + length / 2, places, turned)
    bent -= np.interp(middles + whole - length / 2, places, turned)
    least: FloatArray = middles[bent <= bent.min() + 1e-6]
    return least


def inside(line: Path, region: Path, *, keep_outside: bool = False) -> tuple[Path, ...]:
    """Parts of a path within a closed outline (or outside it), in order along the path.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    >>> sheet = rectangle(0, 0, 4, 3)
    >>> across = path([(-1, 2), (5, 2)], closed=False)
    >>> inside(across, sheet)[0].points.tolist()
    [[0.0, 2.0], [4.0, 2.0]]
    >>> [line.points.tolist() for line in inside(across, sheet, keep_outside=True)]
    [[[-1.0, 2.0], [0.0, 2.0]], [[4.0, 2.0], [5.0, 2.0]]]

    A fold on its edge is within it, and a point beside it is not:

    >>> fold = path([(0, 0), (4, 0)], closed=False)
    >>> len(inside(fold, sheet)), len(inside(fold, sheet, keep_outside=True))
    (1, 0)
    >>> point = path([(9, 9)], closed=False)
    >>> len(inside(point, sheet)), len(inside(point, sheet, keep_outside=True))
    (0, 1)
    """
    return _parts(line, region.area, keep_outside=keep_outside)


def inside_any(line: Path, regions: Sequence[Path]) -> tuple[Path, ...]:
    """Parts of a path within any of some closed outlines, each once, in order along the path.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    Where the two lie over each other, from 3 to 4, the line is not told twice:

    >>> across = path([(-1, 1), (9, 1)], closed=False)
    >>> sheets = [rectangle(0, 0, 4, 3), rectangle(3, 0, 6, 3)]
    >>> [line.points.tolist() for line in inside_any(across, sheets)]
    [[[0.0, 1.0], [6.0, 1.0]]]
    >>> inside_any(across, [])
    ()
    """
    if len(regions) > 1:
        ask_for_meetings([region.line for region in regions], Clause("where-outlines-meet"))
    if any(region.area.covers(line.line) for region in regions):
        return (line,)
    return _parts(line, shapely.union_all([region.area for region in regions]))


def _parts(line: Path, field: BaseGeometry, *, keep_outside: bool = False) -> tuple[Path, ...]:
    cord = line.line
    shapely.prepare(field)  # it is asked about for many lines
    if field.disjoint(cord) if keep_outside else field.covers(cord):
        return (line,)
    ask_for_meetings([cord, field], Clause("where-a-line-meets"))
    kept = cord.difference(field) if keep_outside else cord.intersection(field)
    if not kept.is_empty and abs(kept.length - cord.length) <= SAME:
        return (line,)
    lines = [
        part_of
        for part_of in getattr(kept, "geoms", [kept])
        if part_of.geom_type == "LineString" and part_of.length > SAME
    ]
    if len(lines) > 1:
        # Joins what the start of a closed path, or a region that only touches, has parted.
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

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    >>> common(rectangle(0, 0, 4, 3), rectangle(2, 1, 6, 5)).bounds
    (2.0, 1.0, 4.0, 3.0)

    Two that share an edge alone:

    >>> common(rectangle(0, 0, 4, 3), rectangle(4, 0, 8, 3))
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: outlines-not-overlapping
    """
    ask_for_meetings([outline.line, other.line], Clause("where-two-meet"))
    # Where they only touch, a line or a point is left.
    both = [one for one in shapely.get_parts(outline.area & other.area) if one.area > 0]
    if len(both) != 1:
        raise ShapeError("outlines-not-overlapping")
    return clockwise(path(shapely.get_coordinates(both[0].exterior), closed=True))


def corners_out(outline: Path, edge_name: Edge, by: float) -> Path:
    """Closed outline without a square at both corners of one edge of the box around it.

    Raises
    ------
    ShapeError
        If there are no such squares in it, or nothing is left between them.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle
    >>> corners_out(rectangle(0, 0, 6, 4), Edge.BOTTOM, 2).points.astype(int).tolist()
    [[0, 0], [6, 0], [6, 2], [4, 2], [4, 4], [2, 4], [2, 2], [0, 2]]
    >>> try:
    ...     corners_out(rectangle(0, 0, 6, 4, rounded=1), Edge.TOP, 2)
    ... except ShapeError as problem:
    ...     problem.why.key
    'no-corners-to-cut-out'
    """
    squares = [shapely.box(*square) for square in _squares(outline.box, edge_name, by)]
    left = outline.area
    for square in squares:
        if by <= 0 or not left.buffer(SAME, join_style="mitre").covers(square):
            raise ShapeError("no-corners-to-cut-out", edge=Term("edge", edge_name), by=Mm(by))
        left = left - square
    parts = [part for part in shapely.get_parts(left) if part.area > 0]
    if len(parts) != 1 or len(shapely.get_coordinates(parts[0])) < 7:
        raise ShapeError("no-corners-to-cut-out", edge=Term("edge", edge_name), by=Mm(by))
    ring = clockwise(path(shapely.get_coordinates(parts[0].exterior), closed=True)).points
    start = int(np.lexsort((ring[:, 0], ring[:, 1]))[0])  # the topmost, and of these the leftmost
    return Path(np.roll(ring, -start, axis=0), closed=True)


def _squares(
    box: Box, edge_name: Edge, by: float
) -> tuple[tuple[float, float, float, float], tuple[float, float, float, float]]:
    """Left, top, right and bottom of the square at each end of an edge of a box."""
    left, right = (box.left, box.left + by), (box.right - by, box.right)
    top, bottom = (box.top, box.top + by), (box.bottom - by, box.bottom)
    across, down = {
        Edge.TOP: ((left, right), (top, top)),
        Edge.BOTTOM: ((left, right), (bottom, bottom)),
        Edge.LEFT: ((left, left), (top, bottom)),
        Edge.RIGHT: ((right, right), (top, bottom)),
    }[edge_name]
    first, last = ((x[0], y[0], x[1], y[1]) for x, y in zip(across, down, strict=True))
    return first, last
