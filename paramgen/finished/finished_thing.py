"""The finished thing: its plies in order at every place, its edge, panels and hinges.

Nothing here knows a recipe. The rules, each of which is what cloth does:

- Turning cuts the pile of the hoop like a pack of cards, between the two pieces that lie right
  sides together: what lay in front of the cut comes behind the rest, the same way up, and the two
  pieces then look outwards.
- A flap stays on the side of the work, or is pulled over to the closing piece's side, in the order
  of the book: what lay nearest to the work is then outermost on the closing side.
- A flap that stands out swings out past the edge it is held at: it is mirrored about it, and shows
  its other face. What of it lies outside the seam line is turned in, as every allowance is.
- The finished edge lies inside the seam line by the turn of cloth.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property, lru_cache
from itertools import combinations
from typing import overload

import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from paramgen.finished.flaps import (
    Flap,
    FlapSide,
    closed_in_front,
    flaps,
    in_the_way,
    rim_line,
    walls,
)
from paramgen.geometry.mirror import mirrored
from paramgen.rehearsal.distinct_areas import DistinctAreas
from paramgen.rehearsal.faces import trimmed_to
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.sheets import Sheet
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import SEWN_THROUGH, Act, Face, FinishWay, Leaf, Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Layer, Project, Step

OTHER: dict[Side, Side] = {Side.FRONT: Side.BACK, Side.BACK: Side.FRONT}
SIDES: tuple[Side, ...] = (Side.FRONT, Side.BACK)
#: The ends of a binding meet within this, mm.
_HAIR = 0.01


@dataclass(frozen=True, eq=False)
class Ply:
    """One sheet where it lies in the finished thing.

    Parameters
    ----------
    index : int
        Its place in the sandwich of the hoop.
    sheet : Sheet
        As it lay in the hoop.
    area : BaseGeometry
        Where it lies, within the finished edge unless it stands out, mm.
    swung : LineString or None
        The line that it is mirrored about, if it stands out.
    flap : Flap or None
    """

    index: int
    sheet: Sheet
    area: BaseGeometry
    swung: shapely.LineString | None
    flap: Flap | None


@dataclass(frozen=True)
class Hinge:
    """A line that the finished thing folds along.

    Parameters
    ----------
    line : (Point, Point)
    panels : (int, int)
        The panels on its two sides, by their places in `FinishedThing.panels`.
    """

    line: tuple[Point, Point]
    panels: tuple[int, int]


class SeenPlies(Sequence[BaseGeometry]):
    """What can be seen of each ply from a side, worked out as far in as is asked for.

    Parameters
    ----------
    plies : sequence of (BaseGeometry, bool)
        Where each lies, from the back to the front, and whether it hides what lies under it.
    side : str
        `front` or `back`.

    Examples
    --------
    >>> plies = [(shapely.box(0, 0, 3, 1), True), (shapely.box(0, 0, 1, 1), True)]
    >>> [part.area for part in SeenPlies(plies, Side.FRONT)]
    [2.0, 1.0]
    """

    def __init__(self, plies: Sequence[tuple[BaseGeometry, bool]], side: Side) -> None:
        self._plies, self._side = plies, side
        self._found: list[BaseGeometry] = []  # the nearest first
        self._over: BaseGeometry = shapely.Polygon()

    def __len__(self) -> int:
        return len(self._plies)

    @overload
    def __getitem__(self, place: int) -> BaseGeometry: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[BaseGeometry]: ...

    def __getitem__(self, place: int | slice) -> BaseGeometry | Sequence[BaseGeometry]:
        """What is seen of one ply, or of several."""
        if isinstance(place, slice):
            return [self[one] for one in range(*place.indices(len(self)))]
        place = range(len(self))[place]
        away = len(self) - 1 - place if self._side is Side.FRONT else place
        while len(self._found) <= away:
            near = len(self._found)
            area, hides = self._plies[-1 - near if self._side is Side.FRONT else near]
            self._found.append(shapely.difference(area, self._over))
            if hides:
                self._over = shapely.union(self._over, area)
        return self._found[away]


@dataclass(frozen=True, eq=False)
class FinishedThing:
    """The finished thing, open and flat, as the hoop's front is looked at.

    Parameters
    ----------
    done : Rehearsed
    flaps : tuple of Flap
        In order from the work to the closing piece.
    plies : tuple of Ply
        From the back to the front.
    outer : str
        The side that is outside when it is folded, or else in front: the one on which the work's
        right side looks out, unless the recipe says that it is the closing piece's.
    room : BaseGeometry
        What lies within its edge, mm.
    """

    done: Rehearsed
    flaps: tuple[Flap, ...]
    plies: tuple[Ply, ...]
    outer: Side
    room: BaseGeometry

    @property
    def project(self) -> Project:
        """The project it is made from."""
        return self.done.project

    @property
    def work_side(self) -> Side:
        """The side on which the work's right side looks out; the other is the closing piece's."""
        return _work_side(self.done)

    @cached_property
    def place(self) -> dict[int, int]:
        """Place of each sheet of the hoop among the plies."""
        return {ply.index: place for place, ply in enumerate(self.plies)}

    @cached_property
    def areas(self) -> DistinctAreas:
        """Where its plies lie, in their order."""
        return DistinctAreas([ply.area for ply in self.plies])

    @cached_property
    def layers(self) -> tuple[Layer, ...]:
        """Every layer, numbered as sheets number theirs; the binding, if any, is the last."""
        return (*layers_of(self.project), *_binding(self.project))

    def hides(self, ply: Ply) -> bool:
        """Whether one cannot see through it."""
        return not self.layers[ply.sheet.layer].clear

    @cached_property
    def seen(self) -> dict[Side, "SeenPlies"]:
        """What can be seen of each ply from a side."""
        hiding = [(ply.area, self.hides(ply)) for ply in self.plies]
        return {side: SeenPlies(hiding, side) for side in SIDES}

    def nearer(self, ply: Ply, side: Side) -> tuple[Ply, ...]:
        """Plies that lie nearer to a side than one, the next first."""
        at = self.place[ply.index]
        return self.plies[at + 1 :] if side is Side.FRONT else self.plies[:at][::-1]

    @cached_property
    def bindings(self) -> tuple[shapely.LineString, ...]:
        """Lines that are stitched by hand through all of it once it is turned, mm."""
        return tuple(mark.line for step in top_stitched(self.project) for mark in step.mark)

    @cached_property
    def crossed(self) -> tuple[tuple[Point, Point], ...]:
        """The folds that cross it, open and flat, in order: not those along its edge."""
        inner = self.room.buffer(-1.0)
        folds = self.project.finish.folds
        return tuple(fold for fold in folds if (fold_line(fold) & inner).length > 1.0)

    @cached_property
    def unbound(self) -> BaseGeometry:
        """What lies within its binding; all of it where it has none."""
        covers = self.project.finish.covers
        return self.room.buffer(-covers) if covers else self.room

    @property
    def folds_shut(self) -> bool:
        """Whether it lies folded along all its folds in the end.

        What is cut out of it is there to be drawn through, and then it does not lie so.
        """
        holes = any(part.interiors for part in shapely.get_parts(self.room).tolist())
        return bool(self.project.finish.folds) and not (holes and not self.done.turned)

    @property
    def wraps(self) -> bool:
        """Whether the last of several folds lays what stands out round its closed edge."""
        folds = self.project.finish.folds
        return len(folds) > 1 and folds[-1] not in self.crossed

    @cached_property
    def panels(self) -> tuple[BaseGeometry, ...]:
        """What its folds part it into, mm; in the order in which the folds part it."""
        parts = [self.room]
        for fold in self.crossed:
            line = fold_line(fold)
            parts = [
                piece for part in parts for piece in shapely.get_parts(_split(part, line)).tolist()
            ]
        return tuple(parts)

    @cached_property
    def hinges(self) -> tuple[Hinge, ...]:
        """Where two panels hang together along a fold, in the order of folding."""
        return tuple(
            Hinge(fold, (first, second))
            for fold in self.crossed
            for (first, one), (second, other) in combinations(enumerate(self.panels), 2)
            if float((one.boundary & other.boundary & fold_line(fold).buffer(0.01)).length) > 1.0
        )


def fold_line(fold: tuple[Point, Point]) -> shapely.LineString:
    """A fold made so long that it parts anything in a hoop."""
    (ax, ay), (bx, by) = fold
    far = 2000.0 / max(abs(bx - ax) + abs(by - ay), 1e-9)
    dx, dy = (bx - ax) * far, (by - ay) * far
    return shapely.LineString([(ax - dx, ay - dy), (bx + dx, by + dy)])


def _split(part: BaseGeometry, line: shapely.LineString) -> BaseGeometry:
    (ax, ay), (bx, by) = shapely.get_coordinates(line)
    nx, ny = -(by - ay), bx - ax
    half = shapely.Polygon([(ax, ay), (bx, by), (bx + nx, by + ny), (ax + nx, ay + ny)])
    return shapely.GeometryCollection(
        [one for one in (part & half, part - half) if one.area > 1e-3]
    )


def finish(done: Rehearsed, *, pulled_over: bool = True) -> FinishedThing:
    """Turn the rehearsed work out and lay its flaps where the recipe says.

    Parameters
    ----------
    done : Rehearsed
    pulled_over : bool
        Whether the flaps that are to be have been pulled over; before that they lie on the side
        of the work, as they come out of the gap, and what is to stand out lies trapped under them.
    """
    book = flaps(done)
    if not pulled_over:
        book = tuple(
            replace(flap, lies=FlapSide.WORK) if flap.lies is FlapSide.CLOSING else flap
            for flap in book
        )
        trapped = {id(near) for near, _ in in_the_way(book)}
        book = tuple(
            replace(flap, lies=FlapSide.WORK) if id(flap) in trapped else flap for flap in book
        )
    of_sheet = {index: flap for flap in book for index in flap.sheets}
    room = finished_area(done)
    swung = {
        index: _at_edge(line, room)
        for flap in book
        if flap.lies is FlapSide.OUT and (line := rim_line(flap)) is not None
        for index in flap.sheets
    }

    def ply(index: int) -> Ply:
        sheet, line = done.sandwich.sheets[index], swung.get(index)
        area = sheet.area & room
        area = area if line is None else mirrored(area, line)
        return Ply(index, sheet, area, line, of_sheet.get(index))

    order, outer = _order(done, of_sheet, swung)
    plies = bound(done, tuple(ply(index) for index in order), room)
    return FinishedThing(done, book, plies, outer, room)


def round_edge(room: BaseGeometry, covers: float) -> shapely.Polygon:
    """What a binding covers of one face: its ends meet in the middle of the bottom.

    Examples
    --------
    >>> round(round_edge(shapely.box(0, 0, 100, 50), 10).area)  # 100 · 50 less 80 · 30
    2600
    """
    left, _, right, bottom = room.bounds
    middle = (left + right) / 2
    ends = shapely.box(middle - _HAIR, bottom - covers - 1.0, middle + _HAIR, bottom + 1.0)
    ring = room - room.buffer(-covers, join_style="mitre") - ends
    return shapely.Polygon(max(shapely.get_parts(ring).tolist(), key=lambda part: part.area))


def bound(done: Rehearsed, plies: tuple[Ply, ...], room: BaseGeometry) -> tuple[Ply, ...]:
    """Put the binding round the edge, behind all plies and in front of them.

    It is folded in four round the edge, two layers on each face, its fold inward. Sheets of it
    have numbers less than nothing, as none of them lay in the hoop.
    """
    finish = done.project.finish
    piece = next((one for one in done.project.pieces if one.name == finish.binding), None)
    if piece is None:
        return plies
    ring = round_edge(room, finish.covers)
    fabric = next(one for one in done.project.fabrics if one.role == piece.fabric)
    step = next((one.number for one in done.project.steps if one.act is Act.BIND), 0)
    number = sum(1 for _ in layers_of(done.project))

    def side(index: int) -> Ply:
        sheet = Sheet(
            piece=piece.name,
            title=piece.title,
            step=step,
            side=Side.FRONT,
            area=ring,
            front=True,
            back=True,
            folds=tuple(
                shapely.LineString(shapely.get_exterior_ring(part))
                for part in shapely.get_parts(room)
            ),
            leaf=Leaf.MAIN,
            layer=number,
            plies=2,
            frays=False,
            ply=fabric.ply,
        )
        return Ply(index, sheet, ring, None, None)

    return (side(-1), *plies, side(-2))


def _at_edge(rim: shapely.LineString, room: BaseGeometry) -> shapely.LineString:
    """The part of the finished edge beside a rim, which lies on the seam line, as one line."""
    middle = rim.interpolate(0.5, normalized=True)
    edge = shapely.shortest_line(middle, room.boundary)
    (ax, ay), (bx, by) = shapely.get_coordinates(edge)
    return translate(rim, bx - ax, by - ay)


def _order(
    done: Rehearsed, of_sheet: dict[int, Flap], swung: dict[int, shapely.LineString]
) -> tuple[list[int], Side]:
    """Sheets from the back to the front once turned, and the outer side."""
    count = len(done.sandwich.sheets)
    outer = _work_side(done)
    if not walls(done):
        return list(range(count)), outer
    in_front, (low, high) = closed_in_front(done), done.between

    def before_cut(index: int) -> bool:
        # What lies in the hollow and is no flap belongs to the work.
        closing = index in of_sheet and of_sheet[index].lies is FlapSide.CLOSING
        return index <= low or (index < high and closing != in_front)

    stay = [index for index in range(count) if index not in swung]
    behind = [index for index in stay if not before_cut(index)]
    # What stands out comes from the hidden inside, between the two sides.
    order = [*behind, *sorted(swung, reverse=True), *filter(before_cut, stay)]
    names = done.project.finish
    return order, OTHER[outer] if names.outside in names.closing else outer


def _work_side(done: Rehearsed) -> Side:
    return Side.FRONT if not walls(done) or closed_in_front(done) else Side.BACK


def top_stitched(project: Project) -> tuple[Step, ...]:
    """Steps that stitch through the finished thing by hand: those after it is first turned.

    What is not turned is finished once it is out of the hoop. What is stitched before that is not
    stitched through all of it.
    """
    done = Act.TURN if project.finish.way is FinishWay.TURNED else Act.UNHOOP
    after = next((step.number for step in project.steps if step.act is done), 0)
    # What is sewn by hand and marked is sewn along that.
    stitched = (
        step
        for step in project.steps
        if step.act in SEWN_THROUGH or (step.act is Act.HAND_SEW and step.mark)
    )
    return tuple(step for step in stitched if step.number > after > 0)


def folded_before(project: Project, step: Step) -> bool:
    """Whether the finished thing, turned out, lies folded when a step begins."""
    before = project.steps[: step.number - 1]
    turned = max((one.number for one in before if one.act is Act.TURN), default=step.number)
    return any(one.act is Act.FOLD and one.mark for one in before[turned:])


def _binding(project: Project) -> Iterator[Layer]:
    """The binding as a layer, round the edge."""
    piece = next((one for one in project.pieces if one.name == project.finish.binding), None)
    if piece is not None:
        yield Layer(
            piece=piece.name,
            title=piece.title,
            fabric=piece.fabric,
            side=Side.FRONT,
            up=Face.RIGHT,
            outline=project.finish.trimmed or project.seam,
            folded_edges=(),
            plies=2,
            two_sided=True,
            frays=False,
        )


def layers_of(project: Project) -> Iterator[Layer]:
    """Every layer, numbered as the rehearsal does."""
    for step in project.steps:
        if step.act is Act.UNHOOP:
            return
        yield from step.layers


# What is asked for several times in one project is kept for it, and for the one before.


@lru_cache(maxsize=2)
def finished_area(done: Rehearsed) -> BaseGeometry:
    """What lies within the finished edge, with what is cut out of it left out."""
    project = done.project
    cut = shapely.union_all(list(openings(project)))
    if not done.turned:
        return trimmed_to(project, done.sandwich) - cut
    if project.finish.finished is not None:
        return project.finish.finished.area - cut
    return project.seam.area.buffer(-turn_of_cloth(project), join_style="mitre") - cut


def turn_of_cloth(project: Project) -> float:
    """What turning takes from each edge: how much the finished edge lies inside the seam, mm."""
    box = project.seam.box
    one_in = project.seam.area.buffer(-1.0, join_style="mitre").bounds
    width, height = project.finished[::-1] if project.turned else project.finished
    if project.finish.finished:  # what stands, or is turned over, is less wide or high
        flat = project.finish.finished.box
        width, height = flat.width, flat.height
    # An outline takes off both its sizes what they lose for each millimetre that it is inset by.
    wide = (box.width - width) / (box.width - one_in[2] + one_in[0])
    high = (box.height - height) / (box.height - one_in[3] + one_in[1])
    return max(0.0, min(wide, high))


def openings(project: Project, before: int | None = None) -> Iterator[BaseGeometry]:
    """What is cut out while the work is in the hoop; not the line that it is itself cut out by.

    Parameters
    ----------
    project : Project
    before : int or None
        Number of a step: only what was cut out before it counts.
    """
    seam = project.seam.line
    for step in project.steps[: None if before is None else before - 1]:
        if step.act is Act.UNHOOP:
            return
        if step.act is Act.TRIM:
            cut = [mark.area for mark in step.mark if mark.closed]
            yield from (one for one in cut if not one.covers(seam))
