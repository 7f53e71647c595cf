"""Flaps pulled over the edge of the turned work to its other side."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import moved_there
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.primitives.drawn_paths import area_seen, lines_of, outer_paths, point_along
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.drawings.primitives.symbols import arrow
from paramgen.finished.flaps import Flap, mouth
from paramgen.finished.turning_passage import Passage, into_flap, way_over
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray, Path, Point

#: How far the arrow reaches past the edge, in ems, and beyond anything in a hoop, mm.
_PAST, _FAR = 3.5, 2000.0
#: Flaps go over the edge together where they meet it so near to each other, mm.
_TOGETHER = 1.0
#: A mouth is pointed at so much of its length from its end.
_ASIDE = 0.15


@dataclass(frozen=True, eq=False)
class FlapPull:
    """Flaps that go over one edge together.

    Parameters
    ----------
    flaps : tuple of Flap
        The one nearest to the work first.
    mouths : tuple of BaseGeometry
        Of each, on the thing its own way round, mm.
    start, over : FloatArray
        The middle of the farthest mouth, and where the way from there goes over the edge.
    strap : bool
        Whether it is a strap, held at both ends: it has no mouth, and goes over sideways.
    """

    flaps: tuple[Flap, ...]
    mouths: tuple[BaseGeometry, ...]
    start: FloatArray
    over: FloatArray
    strap: bool = False

    @property
    def titles(self) -> str:
        """What is pulled over."""
        return listed([flap.title for flap in self.flaps])


def pulls(hooped: Scene) -> tuple[FlapPull, ...]:
    """What is pulled over, by the edge that it goes over, in the order of the book."""
    thing = hooped.thing
    if thing is None:
        return ()
    seam, found = thing.project.seam.area, list[FlapPull]()
    for flap in hooped.to_pull_over:
        edge = mouth(flap, seam)
        if edge.is_empty or flap.rim.is_empty:
            continue
        if not way_over(flap, edge).any():
            found.extend(_strap_pulled(flap, edge, thing.room))
            continue
        start = shapely.get_coordinates(
            edge.interpolate(0.5, normalized=True)
            if isinstance(edge, shapely.LineString)
            else edge.centroid
        )[0]
        over = _over(thing.room, start, way_over(flap, edge))
        if over is None:
            continue
        same = next((p for p in found if np.hypot(*(p.over - over)) < _TOGETHER), None)
        if same is None:
            found.append(FlapPull((flap,), (edge,), start, over))
            continue
        far = max((same.start, start), key=lambda one: float(np.hypot(*(one - over))))
        both = FlapPull((*same.flaps, flap), (*same.mouths, edge), far, same.over)
        found[found.index(same)] = both
    return tuple(found)


def _strap_pulled(flap: Flap, edge: BaseGeometry, room: BaseGeometry) -> Iterator[FlapPull]:
    """A strap drawn sideways from its middle, over the edge that is nearer."""
    ends = [shapely.get_coordinates(one.centroid)[0] for one in shapely.get_parts(flap.rim)]
    dx, dy = ends[-1] - ends[0]
    far = float(np.hypot(dx, dy))
    if not far:
        return
    start: FloatArray = shapely.get_coordinates(flap.area.centroid)[0]
    sideways = (np.array([dy, -dx]) / far, np.array([-dy, dx]) / far)
    ways = [one for way in sideways if (one := _over(room, start, way)) is not None]
    if ways:
        over = min(ways, key=lambda one: float(np.hypot(*(one - start))))
        yield FlapPull((flap,), (edge,), start, over, strap=True)


def _over(room: BaseGeometry, start: FloatArray, way: FloatArray) -> FloatArray | None:
    """Where one leaves the work on the way from a place; None if there is no way."""
    if not way.any():
        return None
    ray = shapely.LineString([start, start + way * _FAR]) & room
    if ray.is_empty:
        return None
    points = shapely.get_coordinates(ray)
    last: FloatArray = points[np.argmax((points - start) @ way)]
    return last


def pulled_over(hooped: Scene, side: Side, em: float) -> Iterator[DrawnItem]:
    """Outline each flap that is pulled over, with arrows over the edges."""
    thing = hooped.thing
    if thing is None:
        return
    every = pulls(hooped)
    for flap in (flap for pull in every for flap in pull.flaps):
        for outline in outer_paths(_there(hooped, flap.area & thing.room, side)):
            yield Shape(outline, Style.FLAP)
    for pull in every:
        start, over = (_point(hooped, at, side) for at in (pull.start, pull.over))
        yield from arrow(start, _past(start, over, em), em)


def pulled_over_labels(hooped: Scene, side: Side, em: float) -> Iterator[Label]:
    """Name each flap at its mouth, and say what goes over each edge."""
    for pull in pulls(hooped):
        named = () if pull.strap else zip(pull.flaps, pull.mouths, strict=True)
        for flap, edge in named:
            for line in lines_of(_there(hooped, edge, side))[:1]:
                words = (TextLine(flap.title, bold=True), TextLine("its mouth"))
                yield Label(_aside(line), words, on_line=True)
        start, over = (_point(hooped, at, side) for at in (pull.start, pull.over))
        said = [
            TextLine("pull over this edge", bold=True),
            TextLine(f"{pull.titles}, to the other side"),
        ]
        passage = reached(hooped, pull)
        if passage is not None:
            pair = _nearer_first(hooped, passage)
            said.append(TextLine(f"reach in between {pair[0]} and {pair[1]}"))
        yield Label(_past(start, over, em), tuple(said), on_line=True)


def _aside(line: Path) -> Point:
    """A place on a line clear of its middle, over which the arrow goes: at the right, or above."""
    ends = [point_along(line, part * line.length)[0].tolist() for part in (_ASIDE, 1.0 - _ASIDE)]
    x, y = max(ends, key=lambda at: (round(at[0], 3), -at[1]))
    return x, y


def reached(hooped: Scene, pull: FlapPull) -> Passage | None:
    """Where a hand goes in to pull flaps over: under the one nearest to the work."""
    before = hooped.as_it_came_out
    if before is None:
        return None
    first = next((one for one in before.flaps if one.layer == pull.flaps[0].layer), None)
    return into_flap(before, first) if first is not None else None


def _nearer_first(hooped: Scene, passage: Passage) -> tuple[str, str]:
    """The two titles, that of the work first."""
    if hooped.thing is not None and hooped.thing.work_side is Side.BACK:
        return passage.in_front, passage.behind
    return passage.behind, passage.in_front


def _past(start: Point, over: Point, em: float) -> Point:
    (sx, sy), (ex, ey) = start, over
    share = 1.0 + _PAST * em / (np.hypot(ex - sx, ey - sy) or 1.0)
    return float(sx + share * (ex - sx)), float(sy + share * (ey - sy))


def _there(hooped: Scene, shape: BaseGeometry, side: Side) -> BaseGeometry:
    """A shape of the thing as it lies in the hoop and is seen."""
    return area_seen(moved_there(shape, hooped.project.turned, hooped.move), side)


def _point(hooped: Scene, at: FloatArray, side: Side) -> Point:
    x, y = shapely.get_coordinates(_there(hooped, shapely.Point(at), side))[0].tolist()
    return x, y
