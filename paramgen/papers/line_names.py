"""Names of lines written beside them, where they cover none if there is room."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from paramgen.drawings.primitives.drawn_paths import straight
from paramgen.drawings.primitives.items import Anchor, DrawnItem, Shape, Style, Text
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, paragraph
from paramgen.geometry.along_path import points_at
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path, Point

#: Size of the letters, mm: about 7 points.
EM = 2.6
# In ems: widest name, and how far away it is looked for.
_WIDE, _AWAY = 15.0, (1.2, 2.5, 4.0, 6.5, 10.0, 15.0, 22.0, 30.0)
# Places that are tried along the lines of a name, and directions from each.
_PLACES, _DIRECTIONS = 24, 8
# How many of its places tell how much room a name has.
_CHEAPEST = 16
# Kept clear round a name, mm.
_CLEAR = 0.8
# A line shorter than this on a sheet is not named there, mm.
_LEAST = 5.0
# A millimetre of line under a name is as bad as so many ems of its way, and so is a line that its
# leader crosses.
_COVERED, _CROSSED = 1.5, 1.0


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
    drawn = _Drawn.of(every, room)
    tries = [one for line in lines if (one := _Tries.of(line, drawn, room)) is not None]
    taken: list[Box] = []
    leaders: list[shapely.LineString] = []
    # What has least room beside it chooses first.
    for one in sorted(tries, key=lambda one: one.cheapest, reverse=True):
        found = _place(one, drawn, _Written(taken, leaders))
        if found is None:
            continue
        box, lead = found
        taken.append(box)
        leaders.append(lead)
        yield Shape(straight(*lead.coords), Style.LEADER)
        yield from _set(one.texts, box, lead)


def _set(texts: Sequence[Text], box: Box, lead: shapely.LineString) -> Iterator[Text]:
    """Set lines of a name against its leader: most letters are narrower than reckoned."""
    at, top = lead.coords[0][0], box.top - box_of_texts(texts).top
    if at == box.left:
        x, anchor = box.left, Anchor.START
    elif at == box.right:
        x, anchor = box.right, Anchor.END
    else:
        x, anchor = box.centre[0], Anchor.MIDDLE
    for text in texts:
        yield replace(text, at=(x, text.at[1] + top), anchor=anchor)


@dataclass(frozen=True)
class _Written:
    """Where names already stand."""

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
    """All lines, and how much of them lies up to each whole millimetre from the top left."""

    left: float
    top: float
    sums: FloatArray
    lines: Sequence[shapely.LineString]

    @classmethod
    def of(cls, paths: Sequence[Path], room: Box) -> "_Drawn":
        """Count points a millimetre apart along all lines."""
        points = np.vstack([np.empty((0, 2)), *(_points(path) for path in paths)])
        wide, high = math.ceil(room.width) + 2, math.ceil(room.height) + 2
        corner = np.array((room.left, room.top)) - 1.0
        cells = np.floor(points - corner).astype(int)
        inside = ((cells >= 0) & (cells < (wide, high))).all(axis=1)
        counts = np.zeros((wide + 1, high + 1))
        np.add.at(counts, tuple((cells[inside] + 1).T), 1.0)
        sums = counts.cumsum(axis=0).cumsum(axis=1)
        return cls(float(corner[0]), float(corner[1]), sums, [path.line for path in paths])

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


@dataclass(frozen=True)
class _Tries:
    """Where one name may stand: the points of its lines, its boxes, and what each place costs."""

    texts: Sequence[Text]
    spots: FloatArray
    boxes: FloatArray
    costs: FloatArray

    @classmethod
    def of(cls, line: NamedLines, drawn: _Drawn, room: Box) -> "_Tries | None":
        """Try places near the lines; None if they are too short, or none lies in the room."""
        paths = [path for path in line.paths if path.length >= _LEAST]
        if not paths:
            return None
        texts = tuple(paragraph((TextLine(line.name),), (0.0, 0.0), EM, _WIDE * EM))
        size = box_of_texts(texts)
        away, spots, boxes = _boxes(paths, size.width, size.height)
        held = (boxes[:, :2] >= (room.left, room.top)).all(axis=1)
        held &= (boxes[:, 2:] <= (room.right, room.bottom)).all(axis=1)
        if not held.any():
            return None
        costs = away[held] + _COVERED * drawn.within(boxes[held])
        return cls(texts, spots[held], boxes[held], costs)

    @property
    def cheapest(self) -> float:
        """What its cheapest places cost, on average."""
        return float(np.sort(self.costs)[:_CHEAPEST].mean())


def _place(
    tries: _Tries, drawn: _Drawn, written: _Written
) -> tuple[Box, shapely.LineString] | None:
    """Where a name goes, with its leader: near its line, over few lines, across few."""
    best, found = math.inf, None
    for place in np.argsort(tries.costs, kind="stable").tolist():
        cost = float(tries.costs[place])
        if cost >= best:
            break
        box = Box(*tries.boxes[place].tolist())
        x, y = tries.spots[place].tolist()
        lead = shapely.LineString([_edge(box, (x, y)), (x, y)])
        if not written.free(box, lead):
            continue
        cost += _CROSSED * float(shapely.crosses(lead, drawn.lines).sum())
        if cost < best:
            best, found = cost, (box, lead)
    return found


def _points(path: Path) -> FloatArray:
    """Points a millimetre apart along a path."""
    return points_at(path, np.linspace(0.0, path.length, 2 + int(path.length)))


def _boxes(
    paths: Sequence[Path], width: float, height: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Places for a name: how far away, in ems, the point of a line, and the name's room."""
    length = sum(path.length for path in paths)
    along = [max(2, round(_PLACES * path.length / length)) for path in paths]
    points = [
        points_at(path, (np.arange(count) + 0.5) / count * path.length)
        for path, count in zip(paths, along, strict=True)
    ]
    spots = np.vstack(points)
    turns = np.arange(_DIRECTIONS) * (2 * np.pi / _DIRECTIONS)
    rays = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    away = np.repeat(_AWAY, len(spots) * _DIRECTIONS)
    spots = np.tile(np.repeat(spots, _DIRECTIONS, axis=0), (len(_AWAY), 1))
    rays = np.tile(rays, (len(away) // _DIRECTIONS, 1))
    size = np.array((width, height))
    corners = spots + rays * away[:, None] * EM + (rays - 1.0) / 2 * size
    return away, spots, np.hstack([corners, corners + size])


def _edge(box: Box, at: Point) -> Point:
    """The point of a box nearest to another."""
    return min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom)


def _area(box: Box) -> shapely.Polygon:
    return shapely.box(box.left, box.top, box.right, box.bottom)
