"""Paths for drawing: made thinner, mirrored, cut, and the few plain shapes."""

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray, Path, Point, path

#: A drawn outline leaves the exact one by no more than this, in mm: a tenth of the
#: finest line that can be seen.
DRAWN_ERROR = 0.01

_CIRCLE_CORNERS = 32


def thinned(outlines: Sequence[Path]) -> tuple[Path, ...]:
    """Drop the vertices that a drawing can do without, of many paths at once."""
    thin = shapely.simplify([outline.line for outline in outlines], DRAWN_ERROR)
    return tuple(
        path(shapely.get_coordinates(line), closed=outline.closed)
        for outline, line in zip(outlines, thin, strict=True)
    )


def seen(outline: Path, side: Side) -> Path:
    """Show a path as it is seen from a side of the hoop, `front` or `back`."""
    return outline.mirrored if side is Side.BACK else outline


def area_seen(room: BaseGeometry, side: Side) -> BaseGeometry:
    """Show an area with its holes as it is seen from a side of the hoop."""
    if side is Side.FRONT:
        return room
    return shapely.transform(room, lambda points: points * (-1.0, 1.0))


def area_within(outline: Path, room: BaseGeometry) -> tuple[Path, ...]:
    """Outlines of the parts of a closed path's area that lie within another area."""
    return outer_paths(shapely.intersection(outline.area, room))


def line_within(outline: Path, room: BaseGeometry) -> tuple[Path, ...]:
    """Parts of a path that lie within an area; a closed one that lies wholly in it stays closed."""
    if room.covers(outline.line):
        return (outline,)
    return lines_of(shapely.intersection(outline.line, room))


def lines_of(shape: BaseGeometry) -> tuple[Path, ...]:
    """Take open paths out of a line or several, joined where they meet end to end."""
    parts = shapely.get_parts(shape)
    lines = [part for part in parts if isinstance(part, shapely.LineString) and part.length > 0.0]
    if not lines:
        return ()
    merged = shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines)))
    return tuple(path(shapely.get_coordinates(line), closed=False) for line in merged)


def outer_paths(shape: BaseGeometry) -> tuple[Path, ...]:
    """Outer outlines of every area among some shapes; their holes are not drawn."""
    return tuple(
        path(shapely.get_coordinates(part.exterior), closed=True)
        for part in shapely.get_parts(shape)
        if isinstance(part, shapely.Polygon) and part.area > 0.0
    )


def point_along(outline: Path, reach: float) -> tuple[FloatArray, FloatArray]:
    """Point so far along a path, mm, and the unit vector along it there."""
    place = int(np.searchsorted(outline.reach, reach, side="right")) - 1
    place = min(max(place, 0), len(outline.chords) - 1)
    chord = outline.chords[place]
    along: FloatArray = chord / (np.hypot(*chord) or 1.0)
    return outline.points[place] + along * (reach - outline.reach[place]), along


def spot_in(room: BaseGeometry) -> Point:
    """Point in an area, near its right side."""
    middle = shapely.point_on_surface(room)
    left, _, right, _ = shapely.bounds(room)
    across = shapely.LineString([(left - 1, middle.y), (right + 1, middle.y)])
    runs = shapely.get_parts(shapely.intersection(room, across))
    spans = [shapely.bounds(run) for run in runs if run.length > 0.0]
    if not spans:
        return float(middle.x), float(middle.y)
    start, end = max((float(s[0]), float(s[2])) for s in spans)
    return end - 0.2 * (end - start), float(middle.y)


def rightmost(paths: Sequence[Path]) -> Point:
    """Point on the chord that lies farthest to the right, towards its right end."""
    starts = np.vstack([path.points[: len(path.chords)] for path in paths])
    chords = np.vstack([path.chords for path in paths])
    if not len(chords):
        x, y = paths[0].points[0]
        return float(x), float(y)
    lengths = np.hypot(chords[:, 0], chords[:, 1])
    reach = starts[:, 0] + chords[:, 0] / 2
    at_right = np.flatnonzero(reach >= reach.max() - 0.5)
    best = at_right[np.argmax(lengths[at_right])]
    share = 0.5 + 0.35 * chords[best, 0] / lengths[best]
    x, y = starts[best] + share * chords[best]
    return float(x), float(y)


def box_of(outlines: Iterable[Path]) -> Box:
    """Smallest box around all of them."""
    points = np.vstack([outline.points for outline in outlines])
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    return Box(float(left), float(top), float(right), float(bottom))


def rectangle(box: Box) -> Path:
    """Outline of a box."""
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    return Path(np.array([(left, top), (right, top), (right, bottom), (left, bottom)]), closed=True)


def straight(start: Point, end: Point) -> Path:
    """Line from one point to another."""
    return Path(np.array([start, end], dtype=np.float64), closed=False)


def circle(centre: Point, radius: float) -> Path:
    """Circle, as a polygon with enough corners for a small one."""
    angle = np.linspace(0.0, 2 * np.pi, _CIRCLE_CORNERS, endpoint=False)
    return Path(np.stack([np.cos(angle), np.sin(angle)], axis=1) * radius + centre, closed=True)


def smooth(corners: Sequence[Point]) -> Path:
    """Closed smooth curve through points: a Catmull-Rom spline."""
    points = np.array(corners, dtype=np.float64)
    before, after, last = np.roll(points, 1, 0), np.roll(points, -1, 0), np.roll(points, -2, 0)
    share = np.linspace(0.0, 1.0, _CIRCLE_CORNERS // 4, endpoint=False)[:, None, None]
    curve = 0.5 * (
        2 * points
        + (after - before) * share
        + (2 * before - 5 * points + 4 * after - last) * share**2
        + (3 * points - before - 3 * after + last) * share**3
    )
    return path(curve.transpose(1, 0, 2).reshape(-1, 2), closed=True)


def arrow_head(tip: Point, tail: Point, length: float, wide: float = 1 / 3) -> Path:
    """Triangle with its point at the tip, away from the tail; its width is a part of its length."""
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    far = math.hypot(dx, dy) or 1.0
    ux, uy = dx / far * length, dy / far * length
    back = (tip[0] - ux, tip[1] - uy)
    ax, ay = -uy * wide / 2, ux * wide / 2
    corners = [tip, (back[0] + ax, back[1] + ay), (back[0] - ax, back[1] - ay)]
    return Path(np.array(corners), closed=True)
