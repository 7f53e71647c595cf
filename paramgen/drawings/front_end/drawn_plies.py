"""Flat plies lying on each other: what is seen of them, how they are painted, how they fold."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.primitives.drawn_paths import lines_of, outer_paths, seen
from paramgen.drawings.primitives.hidden_items import uncovered
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style, Tone
from paramgen.finished.finished_thing import OTHER, SIDES
from paramgen.geometry.mirror import mirrored
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import Path, Point, path, quarter_turn
from paramgen.vocabulary.project import Held

#: Far enough to be beyond anything in a hoop, mm.
FAR = 2000.0
#: Lines this near each other are the same, mm.
SAME = 0.01
#: Less than this is not there, mm².
_NOTHING = 1e-3

#: What lies on a ply: a line or an area, how it looks, and the face it is seen on.
PlyMark = tuple[BaseGeometry, Style, Side]


@dataclass(frozen=True, eq=False)
class ThingInPocket:
    """A thing in its pocket.

    Parameters
    ----------
    held : Held
    outline : Polygon
        The whole of it.
    depth, out : float
        How much of it is held and how much stands out of the mouth, the way it goes in, mm.
    """

    held: Held
    outline: shapely.Polygon
    depth: float
    out: float


@dataclass(frozen=True, eq=False, kw_only=True)
class DrawnPly:
    """One sheet of the finished thing, or a thing it holds.

    Parameters
    ----------
    name, title, fabric : str
        Of its piece; of a thing held, its own, and no fabric.
    area : BaseGeometry
        Where it lies, mm.
    front, back : Style
        How its faces look.
    marks : tuple of PlyMark
        Its edges, coil, stitches and hardware.
    held : ThingInPocket or None
    sticks_out : bool
        Whether it swings out past the edge.
    tone : Tone or None
        What its fabric is told by.
    layer : int
        Number of its layer in the hoop; -1 for a thing held.
    print_at : (BaseGeometry, BaseGeometry) or None
        How the print of its fabric lies, on its front and its back: three points, as of a `Shape`.
        They are not the same where it is folded so often that the one ply drawn is several.
    """

    name: str
    title: str
    fabric: str
    area: BaseGeometry
    front: Style
    back: Style
    marks: tuple[PlyMark, ...] = ()
    held: ThingInPocket | None = None
    sticks_out: bool = False
    tone: Tone | None = None
    layer: int = -1
    print_at: tuple[BaseGeometry, BaseGeometry] | None = None

    def face(self, side: Side) -> Style:
        """How it looks from a side."""
        return self.front if side is Side.FRONT else self.back

    def print_seen(self, side: Side) -> Path | None:
        """How the print lies on one of its faces, as that is seen."""
        if self.print_at is None:
            return None
        lies = self.print_at[0 if side is Side.FRONT else 1]
        return seen(path(shapely.get_coordinates(lies), closed=False), side)

    def put(self, there: Callable[[BaseGeometry], BaseGeometry]) -> "DrawnPly":
        """The ply and all that lies on it, put somewhere else."""
        return replace(
            self,
            area=there(self.area),
            marks=tuple((there(shape), style, side) for shape, style, side in self.marks),
            print_at=self.print_at and (there(self.print_at[0]), there(self.print_at[1])),
        )


@dataclass(frozen=True, eq=False)
class PlyPile:
    """The finished thing, open and flat.

    Parameters
    ----------
    plies : tuple of DrawnPly
        From the back to the front.
    outer : str
        The side it is seen from the outside; the other is the closing piece's.
    room : BaseGeometry
        What lies within its edge.
    """

    plies: tuple[DrawnPly, ...]
    outer: Side
    room: BaseGeometry

    @cached_property
    def seen(self) -> dict[Side, tuple[BaseGeometry, ...]]:
        """What can be seen of each ply from a side; what one can see through hides nothing."""
        return {side: self._seen(side) for side in SIDES}

    def _seen(self, side: Side) -> tuple[BaseGeometry, ...]:
        plies = self.plies[::-1] if side is Side.FRONT else self.plies
        found: list[BaseGeometry] = []
        over: BaseGeometry = shapely.Polygon()
        for ply in plies:
            found.append(shapely.difference(ply.area, over))
            if ply.face(side) is not Style.SEE_THROUGH:
                over = shapely.union(over, ply.area)
        return tuple(found[::-1] if side is Side.FRONT else found)

    def lines_seen(self, style: Style, side: Side) -> BaseGeometry:
        """What can be seen from a side of all that lies on the plies in a style."""
        pairs = zip(self.plies, self.seen[side], strict=True)
        return shapely.union_all(
            [
                shape & room
                for ply, room in pairs
                for shape, looks, face in ply.marks
                if looks is style and face == side
            ]
        )

    def without(self, style: Style) -> "PlyPile":
        """The same with nothing on it in a style."""
        plies = (
            replace(ply, marks=tuple(mark for mark in ply.marks if mark[1] is not style))
            for ply in self.plies
        )
        return PlyPile(tuple(plies), self.outer, self.room)

    @cached_property
    def painted(self) -> dict[Side, tuple[DrawnItem, ...]]:
        """Every ply painted over those farther away, but for what is wholly covered, by side."""
        return {side: uncovered(self._items(side)) for side in SIDES}

    def _items(self, side: Side) -> Iterator[DrawnItem]:
        order = list(enumerate(self.plies))
        for index, ply in order if side is Side.FRONT else reversed(order):
            if self.seen[side][index].area <= _NOTHING:
                continue
            lies = ply.print_seen(side)
            shapes: list[DrawnItem] = [
                Shape(seen(one, side), ply.face(side), tone=ply.tone, print_at=lies)
                for one in outer_paths(ply.area)
            ]
            for geometry, style, face in ply.marks:
                if face == side:
                    shapes.extend(shapes_of(geometry, style, side))
            yield Group(f"ply-{index + 1}-{ply.name}", tuple(shapes), ply.title)


def shapes_of(geometry: BaseGeometry, style: Style, side: Side) -> Iterator[Shape]:
    """Areas and lines as they are seen from a side."""
    for one in (*outer_paths(geometry), *lines_of(geometry)):
        yield Shape(seen(one, side), style)


def moved(pile: PlyPile, turned: bool, move: Point) -> PlyPile:
    """Lay a pile as its project lies in the hoop.

    Parameters
    ----------
    pile, turned, move
        As for `moved_there`.
    """

    def there(shape: BaseGeometry) -> BaseGeometry:
        return moved_there(shape, turned, move)

    return PlyPile(tuple(ply.put(there) for ply in pile.plies), pile.outer, there(pile.room))


def moved_there(shape: BaseGeometry, turned: bool, move: Point) -> BaseGeometry:
    """Lay a shape as its project lies in the hoop.

    Parameters
    ----------
    shape : BaseGeometry
    turned : bool
        Whether it is turned by 90° clockwise.
    move : (dx, dy)
        By how much it is moved after that, mm.
    """
    return shapely.transform(
        shape, lambda points: (quarter_turn(points) if turned else points) + np.array(move)
    )


def mirrored_about(ply: DrawnPly, line: shapely.LineString) -> DrawnPly:
    """A ply swung round a line: mirrored about it, its other face in front."""
    over = ply.put(lambda shape: mirrored(shape, line))
    return replace(
        over,
        front=ply.back,
        back=ply.front,
        marks=tuple((shape, style, OTHER[side]) for shape, style, side in over.marks),
        print_at=over.print_at and over.print_at[::-1],
    )


def folded(
    pile: PlyPile, folds: Sequence[tuple[Point, Point]], moves: Point | None, spent: float = 0.0
) -> PlyPile:
    """Fold the finished thing along its fold lines in order, the inside in.

    Parameters
    ----------
    pile : PlyPile
    folds : sequence of (Point, Point)
        Two points of each line.
    moves : Point or None
        A point that lies on the part that moves; the smaller part does where there is none.
    spent : float
        What the last fold takes over is shorter by so much: it goes round the closed edge, mm.
    """
    plies, towards = pile.plies, OTHER[pile.outer]
    turned: BaseGeometry = shapely.Polygon()
    for number, (start, end) in enumerate(folds, 1):
        line = shapely.LineString([start, end])
        near, far = _halves(line)
        whole = shapely.union_all([ply.area for ply in plies])
        spot = shapely.Point(moves) if moves else None
        moving = near
        if (spot and far.contains(spot)) or (
            not spot and (whole & far).area < (whole & near).area - SAME
        ):
            moving = far
        staying = far if moving is near else near
        part = whole & moving
        if not spot and (pile.room & moving).area > SAME:  # not what goes round an edge
            over_before = (turned & part).area > part.area / 2
            towards = pile.outer if over_before else OTHER[pile.outer]
        turned = (turned & staying) | mirrored(part - turned, line)
        stay = tuple(_part(ply, staying, line) for ply in plies)
        over = tuple(mirrored_about(_part(ply, moving, line), line) for ply in reversed(plies))
        if number == len(folds) and spent:
            over = tuple(_part(_drawn_out(ply, moving, line, spent), staying, line) for ply in over)
        both = (*over, *stay) if towards is Side.BACK else (*stay, *over)
        plies = tuple(ply for ply in both if ply.area.area > SAME)
        if spot:
            ((x, y),) = shapely.get_coordinates(mirrored(spot, line))
            moves = float(x), float(y)
        towards = OTHER[towards]  # what has been folded over now looks the other way
    return PlyPile(plies, pile.outer, shapely.union_all([ply.area for ply in plies]))


def _halves(line: shapely.LineString) -> tuple[shapely.Polygon, shapely.Polygon]:
    """The plane on either side of a line, as far as anything reaches."""
    start, end = shapely.get_coordinates(line)
    along = (end - start) / np.hypot(*(end - start)) * FAR
    aside = np.array((-along[1], along[0]))
    one, other = (
        shapely.Polygon([start - along, start + along, start + along + out, start - along + out])
        for out in (-aside, aside)
    )
    return one, other


def _part(ply: DrawnPly, half: shapely.Polygon, line: shapely.LineString) -> DrawnPly:
    """The part of a ply on one side of a line, with a folded edge along the line."""
    shape = ply.area & half
    crease = shape.boundary & line_through(line).buffer(SAME)
    marks = [(geometry & half, style, side) for geometry, style, side in ply.marks]
    marks += [(crease, Style.FOLDED_EDGE, side) for side in SIDES]
    return replace(ply, area=shape, marks=tuple(m for m in marks if not m[0].is_empty))


def _drawn_out(
    ply: DrawnPly, half: shapely.Polygon, line: shapely.LineString, by: float
) -> DrawnPly:
    """A ply moved across a line towards one side of it."""
    start, end = shapely.get_coordinates(line)
    along = (end - start) / np.hypot(*(end - start))
    out = np.array((-along[1], along[0]))
    way = by * (out if half.contains(shapely.Point((start + end) / 2 + out)) else -out)

    def there(shape: BaseGeometry) -> BaseGeometry:
        return shapely.transform(shape, lambda points: points + way)

    return ply.put(there)


def line_through(line: shapely.LineString) -> shapely.LineString:
    """A line made long both ways."""
    start, end = shapely.get_coordinates(line)
    along = (end - start) / np.hypot(*(end - start)) * FAR
    return shapely.LineString([start - along, start + along])
