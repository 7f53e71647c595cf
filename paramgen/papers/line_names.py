"""Names of lines written beside them, where they cover none if there is room."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from paramgen.drawings.primitives.drawn_paths import straight
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, moved, paragraph
from paramgen.geometry.along_path import points_at
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray, Path, Point

#: Size of the letters, mm: about 7 points.
EM = 2.6
# In ems: widest name, and how far away it is looked for.
_WIDE, _AWAY = 15.0, (1.2, 2.5, 4.0, 6.5, 10.0, 15.0, 22.0, 30.0)
# Places that are tried along a line, and directions from each.
_PLACES, _DIRECTIONS = 12, 8
# Kept clear round a name, mm.
_CLEAR = 0.8
# A line shorter than this on a sheet is not named there, mm.
_LEAST = 5.0
# A millimetre of line under a name is as bad as so many ems of its way.
_COVERED = 1.5


@dataclass(frozen=True)
class NamedLines:
    """Lines of one name."""

    name: str
    paths: tuple[Path, ...]


def line_names(
    lines: Sequence[NamedLines], others: Sequence[Path], room: Box
) -> Iterator[DrawnItem]:
    """Write names beside lines, each with a leader to its line.

    Parameters
    ----------
    lines : sequence of NamedLines
        As far as they lie in the room.
    others : sequence of Path
        What no name should cover, but for the lines themselves.
    room : Box
        Where names may stand.
    """
    every = [*others, *(path for line in lines for path in line.paths)]
    drawn = _Drawn.of(np.vstack([np.empty((0, 2)), *(_points(path) for path in every)]), room)
    taken: list[Box] = []
    leaders: list[shapely.LineString] = []
    for line in lines:
        paths = [path for path in line.paths if path.length >= _LEAST]
        if not paths:
            continue
        texts = paragraph((TextLine(line.name),), (0.0, 0.0), EM, _WIDE * EM)
        size = box_of_texts(texts)
        found = _place(paths, size, drawn, _Written(room, taken, leaders))
        if found is None:
            continue
        box, at = found
        edge = _edge(box, at)
        taken.append(box)
        leaders.append(shapely.LineString([edge, at]))
        yield Shape(straight(edge, at), Style.LEADER)
        yield from (moved(text, box.left - size.left, box.top - size.top) for text in texts)


@dataclass(frozen=True)
class _Written:
    """Where names may stand, and where some already do."""

    room: Box
    taken: Sequence[Box]
    leaders: Sequence[shapely.LineString]

    def free(self, box: Box, lead: shapely.LineString) -> bool:
        """Whether a name and its leader meet no other."""
        return not (
            any(box.overlaps(other) for other in self.taken)
            or any(lead.intersects(_area(other)) for other in self.taken)
            or any(lead.crosses(other) or _area(box).intersects(other) for other in self.leaders)
        )


@dataclass(frozen=True)
class _Drawn:
    """How much is drawn up to each whole millimetre of a room, from its corner at the top left."""

    left: float
    top: float
    sums: FloatArray

    @classmethod
    def of(cls, points: FloatArray, room: Box) -> "_Drawn":
        """Count points a millimetre apart along all lines."""
        wide, high = math.ceil(room.width) + 2, math.ceil(room.height) + 2
        corner = np.array((room.left, room.top)) - 1.0
        cells = np.floor(points - corner).astype(int)
        inside = ((cells >= 0) & (cells < (wide, high))).all(axis=1)
        counts = np.zeros((wide + 1, high + 1))
        np.add.at(counts, tuple((cells[inside] + 1).T), 1.0)
        return cls(float(corner[0]), float(corner[1]), counts.cumsum(axis=0).cumsum(axis=1))

    def within(self, boxes: FloatArray) -> FloatArray:
        """How much lies in boxes, each by its left, top, right and bottom."""
        corner, last = (self.left, self.top), np.array(self.sums.shape) - 1
        low = np.floor(boxes[:, :2] - _CLEAR - corner).astype(int).clip(0, last)
        high = np.ceil(boxes[:, 2:] + _CLEAR - corner).astype(int).clip(0, last)
        found: FloatArray = (
            self.sums[high[:, 0], high[:, 1]]
            - self.sums[low[:, 0], high[:, 1]]
            - self.sums[high[:, 0], low[:, 1]]
            + self.sums[low[:, 0], low[:, 1]]
        )
        return found


def _place(
    paths: Sequence[Path], size: Box, drawn: _Drawn, written: _Written
) -> tuple[Box, Point] | None:
    """Where a name goes, and the point of its line that it is for: near it, and over few lines."""
    away, spots, boxes = _boxes(paths, size.width, size.height)
    room = written.room
    within = (boxes >= (room.left, room.top, -np.inf, -np.inf)).all(axis=1)
    within &= (boxes <= (np.inf, np.inf, room.right, room.bottom)).all(axis=1)
    costs = away[within] + _COVERED * drawn.within(boxes[within])
    for place in np.flatnonzero(within)[np.argsort(costs, kind="stable")].tolist():
        x, y = spots[place].tolist()
        at, box = (x, y), Box(*boxes[place].tolist())
        lead = shapely.LineString([_edge(box, at), at])
        if written.free(box, lead):
            return box, at
    return None


def _points(path: Path) -> FloatArray:
    """Points a millimetre apart along a path."""
    return points_at(path, np.linspace(0.0, path.length, 2 + int(path.length)))


def _boxes(
    paths: Sequence[Path], width: float, height: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Places for a name: how far away, in ems, the point of its line, and the name's room.

    Rooms by their left, top, right and bottom. The nearest first, and of those point by point.
    """
    longest = max(paths, key=lambda path: path.length)
    along = (np.arange(_PLACES) + 0.5) / _PLACES * longest.length
    angles = np.arange(_DIRECTIONS) * (2 * np.pi / _DIRECTIONS)
    towards = np.tile(np.stack([np.cos(angles), np.sin(angles)], axis=1), (_PLACES, 1))
    spots = np.repeat(points_at(longest, along), _DIRECTIONS, axis=0)
    towards, spots = (np.tile(one, (len(_AWAY), 1)) for one in (towards, spots))
    away = np.repeat(_AWAY, _PLACES * _DIRECTIONS)
    size = np.array((width, height))
    corners = spots + towards * (away * EM)[:, None] + (towards - 1.0) / 2 * size
    return away, spots, np.hstack([corners, corners + size])


def _edge(box: Box, at: Point) -> Point:
    """The point of a box nearest to another."""
    return min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom)


def _area(box: Box) -> shapely.Polygon:
    return shapely.box(box.left, box.top, box.right, box.bottom)
