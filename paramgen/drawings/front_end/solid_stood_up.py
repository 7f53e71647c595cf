"""A solid stood up and looked at, as what is drawn: faces with what shows on them, and edges.

A face is squeezed as a whole, as it is seen from afar. Each body is drawn with its walls first and
the face that is turned to who looks last, over those behind it; the order of the bodies is worked
out in `solid/looked_at.py`.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.solid_faces import SolidFaces, bend_look, held_face
from paramgen.drawings.primitives.drawn_paths import (
    area_seen,
    area_within,
    line_within,
    outer_paths,
)
from paramgen.drawings.primitives.hidden_items import uncovered
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style, Tone, flat
from paramgen.solid.hinge_turns import standing
from paramgen.solid.looked_at import Gaze, far_to_near
from paramgen.solid.posed import BEND_PARTS
from paramgen.solid.posed_bodies import Posed, PosedBend, PosedPlate
from paramgen.solid.solid_model import Solid
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import BoolArray, FloatArray, IntArray, Path, path

#: A wall or a face squeezed to less than this is not seen, mm² and part.
_NOTHING, _EDGE_ON = 1e-3, 1e-3
#: Pieces of one surface are put together if they come no farther apart than this, mm; a line
#: that is shorter than the other is a point.
_JOINED, _SHORT = 1e-4, 0.01
#: Closed paths that are but the line along them.
_LINES = (Style.RAW_EDGE, Style.FOLDED_EDGE, Style.STITCHED_BEFORE, Style.THREAD)


@dataclass(frozen=True, eq=False)
class StoodUp:
    """A solid in one pose, ready to be looked at.

    Parameters
    ----------
    faces : SolidFaces
        Of the solid.
    stands : Posed
    """

    faces: SolidFaces
    stands: Posed

    @property
    def solid(self) -> Solid:
        """What stands so."""
        return self.faces.solid

    def items(self, gaze: Gaze) -> tuple[DrawnItem, ...]:
        """All that is drawn of it, the farthest first."""
        found = []
        for number, body in enumerate(far_to_near(self.stands, gaze), 1):
            if isinstance(body, PosedBend):
                drawn, title = tuple(self._bend(body, gaze)), ""
            else:
                drawn, title = tuple(self._plate(body, gaze)), self._title(body)
            found.append(Group(f"body-{number}", drawn, title))
        return uncovered(found)

    def _title(self, body: PosedPlate) -> str:
        return self.solid.held[body.held].title if body.held >= 0 else ""

    def _plate(self, body: PosedPlate, gaze: Gaze) -> Iterator[DrawnItem]:
        yield from _walls(body, self._heights(body), gaze)
        towards = float(gaze.matrix[2] @ body.place[:3, 2])
        if abs(towards) < _EDGE_ON:
            return
        side = Side.FRONT if towards > 0 else Side.BACK
        height = body.high if side is Side.FRONT else body.low
        room = area_seen(body.outline, side) if self._is_cut(body) else None

        def there(one: Path) -> Path:
            points = one.mirrored.points if side is Side.BACK else one.points
            return path(_seen(body, points + body.moved, height, gaze), closed=one.closed)

        for item in flat(self._face(body, side)):
            if isinstance(item, Shape):
                for part in (item,) if room is None else _kept(item, room):
                    lies = part.print_at and there(part.print_at)
                    yield replace(part, path=there(part.path), print_at=lies)
        for ring in body.rings:
            yield Shape(path(_seen(body, ring, height, gaze), closed=True), Style.FACE_EDGE)

    def _is_cut(self, body: PosedPlate) -> bool:
        """Whether something has been taken off its slab; a thing's face is that of what is left."""
        if body.held >= 0:
            return False
        whole = self.solid.panels[body.panel].slabs[body.slab].outline
        return bool(whole.area - body.outline.area > _NOTHING)

    def _heights(self, body: PosedPlate) -> tuple[float, ...]:
        if body.held >= 0:
            return (0.0, body.high - body.low)
        return (0.0, *self.solid.panels[body.panel].slabs[body.slab].heights)

    def _face(self, body: PosedPlate, side: Side) -> tuple[DrawnItem, ...]:
        if body.held >= 0:
            return held_face(body.outline, side)
        return self.faces.of_slab(body.panel, body.slab, side)

    def _bend(self, body: PosedBend, gaze: Gaze) -> Iterator[DrawnItem]:
        panel = self.solid.panels[body.panel]
        looks = [bend_look(self.faces.pile, panel, inside=inside) for inside in (True, False)]
        strips: list[tuple[float, FloatArray, tuple[Style, Tone | None]]] = []
        for k in range(BEND_PARTS):
            for rows, look in zip((body.inner, body.outer), looks, strict=True):
                quad = np.array([rows[k, 0], rows[k, 1], rows[k + 1, 1], rows[k + 1, 0]])
                strips.append((_depth(quad, gaze), quad, look))
            for end in (0, 1):
                near, far = (rows[k : k + 2, end] for rows in (body.inner, body.outer))
                quad = np.array([near[0], far[0], far[1], near[1]])
                strips.append((_depth(quad, gaze), quad, (Style.PLY_EDGES, None)))
        room: BaseGeometry = shapely.Polygon()
        for _, quad, (style, tone) in sorted(strips, key=lambda strip: strip[0]):
            flat_quad = quad @ gaze.matrix[:2].T
            area = shapely.Polygon(flat_quad)
            if area.area > _NOTHING:
                room |= area.buffer(_JOINED, join_style="mitre")
                yield Shape(path(flat_quad, closed=True), style, tone=tone)
        yield from (Shape(one, Style.FACE_EDGE) for one in outer_paths(room))
        for end in (0, 1):
            arc = body.outer[:, end] @ gaze.matrix[:2].T
            if np.ptp(arc, axis=0).max() > _SHORT:
                yield Shape(path(arc, closed=False), Style.FACE_EDGE)


def _depth(quad: FloatArray, gaze: Gaze) -> float:
    return round(float((quad @ gaze.matrix[2]).mean()), 6)


def _seen(body: PosedPlate, points: FloatArray, height: float, gaze: Gaze) -> FloatArray:
    """Points of a plate at a height, as they are seen."""
    return np.asarray(standing(body.place, points, height) @ gaze.matrix[:2].T)


def _kept(item: Shape, room: BaseGeometry) -> Iterator[Shape]:
    """The parts of a shape that lie within a room."""
    if item.path.closed and room.covers(item.path.line):
        parts: tuple[Path, ...] = (item.path,)
    elif item.path.closed and item.style not in _LINES:
        parts = area_within(item.path, room)
    else:
        parts = line_within(item.path, room)
    for part in parts:
        yield replace(item, path=part)


def _walls(body: PosedPlate, heights: tuple[float, ...], gaze: Gaze) -> Iterator[DrawnItem]:
    """What is seen of its plies all round it."""
    toward = gaze.matrix[2] @ body.place[:3, :2]
    for number, ring in enumerate(body.rings):
        chords = np.roll(ring, -1, axis=0) - ring
        out = np.column_stack([chords[:, 1], -chords[:, 0]])
        # Out of an outline that runs from x to y, and into a hole that does.
        way = 1.0 if shapely.LinearRing(ring).is_ccw == (number == 0) else -1.0
        seen = np.asarray(way * (out @ toward) > _NOTHING)
        levels = [_seen(body, ring, body.low + height, gaze) for height in heights]
        for run in _runs(seen):
            around = [levels[0][run], levels[-1][run][::-1]]
            yield Shape(path(np.concatenate(around), closed=True), Style.PLY_EDGES)
        for place, level in enumerate(levels):
            style = Style.FACE_EDGE if place in (0, len(levels) - 1) else Style.PLY_EDGE
            yield from (Shape(path(level[run], closed=False), style) for run in _runs(seen))


def _runs(seen: BoolArray) -> Iterator[IntArray]:
    """The corners along each run of chords of a ring that are seen; each chord leads to the next.

    Examples
    --------
    >>> [run.tolist() for run in _runs(np.array([True, False, False, True]))]
    [[3, 0, 1]]
    """
    if seen.all():
        yield np.append(np.arange(len(seen)), 0)
        return
    start = int(np.flatnonzero(~seen)[0]) + 1
    order = (np.arange(len(seen)) + start) % len(seen)
    for is_seen, run in groupby(order.tolist(), key=lambda k: bool(seen[k])):
        if is_seen:
            chords = list(run)
            yield np.array([*chords, (chords[-1] + 1) % len(seen)])
