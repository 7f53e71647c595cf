"""Snaps, rings and the like on the finished thing, with how far they lie from its edges."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import line_through
from paramgen.drawings.front_end.hardware_shapes import fitting_shape
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.primitives.drawn_paths import lines_of, outer_paths, seen, smooth, straight
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.drawings.primitives.symbols import double_arrow
from paramgen.finished.finished_thing import openings
from paramgen.finished.hardware_reach import places
from paramgen.finished.hung_rings import HungRing, across, away_from, hung_rings
from paramgen.lengths import show_both, unbroken
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, FinishWay, NotionSort, Side
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Notion, Project, Step

# Two edges that are equally far, to so much, leave it in the middle, mm.
_MIDDLE = 0.05

# Beyond any edge, mm.
_FAR = 2000.0

# How far past the edge the loop of a cord is drawn, in ems, and its half width for its length.
_PAST, _WIDE = 3.0, 0.22

# What goes through both halves of what is folded is one, though it is shown at two places.
_BOTH_HALVES = {
    NotionSort.RIVET: "its hole in this half; both meet when it is folded",
    NotionSort.CLAMP: "takes this end and the other together",
}

_WAYS: tuple[tuple[tuple[str, Point], tuple[str, Point]], ...] = (
    (("top", (0.0, -1.0)), ("bottom", (0.0, 1.0))),
    (("left", (-1.0, 0.0)), ("right", (1.0, 0.0))),
)


@dataclass(frozen=True)
class EdgeDistance:
    """How far a place lies from an edge.

    Parameters
    ----------
    edge : str
        `top edge`, `bottom edge`, `left edge` or `right edge` as it is seen, `opening` for one cut
        out, or `fold` for where the finished thing folds.
    end : Point
        On that edge, as it is seen.
    distance : float
        mm.
    middle : bool
        Whether the opposite edge is as far.
    """

    edge: str
    end: Point
    distance: float
    middle: bool


#: A notion, and the number of one of its places.
_Place = tuple[Notion, int]


@dataclass(frozen=True, eq=False)
class FittedHardware:
    """One place where something is fitted.

    Parameters
    ----------
    notion : Notion
    at : Point
        As it is seen.
    on : str
        Title of what it lies on, where that stands out from the rest; else empty.
    half : str
        Which half it is, by what it goes through; empty if it is none.
    measures : tuple of EdgeDistance
        From above or below, and from a side.
    """

    notion: Notion
    at: Point
    on: str
    half: str
    measures: tuple[EdgeDistance, ...]

    @property
    def at_ring(self) -> bool:
        """Whether it is a ring or the like, and no half of a snap."""
        return not self.notion.halves


def fittings(hooped: Scene, step: Step, side: Side) -> tuple[FittedHardware, ...]:
    """Where hardware goes in a step, as seen from a side of the finished thing."""
    _, now = _places(hooped.project, step)
    return tuple(_fitting(hooped, step, side, notion, number) for notion, number in now)


def set_from(hooped: Scene, step: Step) -> Side | None:
    """The side of the finished thing that the hardware of a step is set from, where it is one."""
    if hooped.thing is None:
        return None
    _, now = _places(hooped.project, step)
    spots = {(notion.name, number) for notion, number in now}
    sides = {
        one.side
        for one in places(hooped.thing)
        if (one.notion.name, (*one.notion.halves, *one.notion.at).index(one.at)) in spots
    }
    return sides.pop() if len(sides) == 1 else None


def _places(project: Project, step: Step) -> tuple[list[_Place], list[_Place]]:
    """Places of hardware that is set before a step, and of what is set in it.

    Each of as many steps as there are places sets one of them, in order; else each sets all.
    """
    every = [
        (notion, number)
        for notion in project.notions
        for number in range(len(notion.halves) + len(notion.at))
    ]
    steps = [one.number for one in project.steps if one.act is Act.FASTEN]
    if len(steps) != len(every) or step.number not in steps:
        return [], every
    now = steps.index(step.number)
    return every[:now], every[now : now + 1]


def fitted(hooped: Scene, step: Step, side: Side, em: float) -> Iterator[DrawnItem]:
    """Draw each with a line to the edges that it is measured from, and where it all folds."""
    whole = _whole(hooped, step)
    for start, end in hooped.project.finish.folds:
        crease = line_through(shapely.LineString([start, end])) & whole
        if not whole.boundary.buffer(_MIDDLE).covers(crease):
            yield from (Shape(seen(part, side), Style.CREASE) for part in lines_of(crease))
    for notion, number in _places(hooped.project, step)[0]:
        there = _fitting(hooped, step, side, notion, number)
        yield Shape(_shape(hooped, there, em), Style.HARDWARE)
    for one in fittings(hooped, step, side):
        if cords(hooped) and one.at_ring:
            yield from _loop(one, em)
        for measure in one.measures:
            if not measure.middle:
                yield from double_arrow(one.at, measure.end, em, Style.MEASURE)
        yield Shape(_shape(hooped, one, em), Style.HARDWARE, now=True)
    yield from _hung(hooped, whole, side)


def _shape(hooped: Scene, one: FittedHardware, em: float) -> Path:
    return fitting_shape(one.notion, one.at, em, turned=hooped.project.turned)


def _hung(hooped: Scene, whole: BaseGeometry, side: Side) -> Iterator[DrawnItem]:
    """Rings that hang from it: round the flat work where it will fold, or at its edge."""
    for ring in hung_rings(hooped.project):
        out = across(ring.fold) if ring.fold else away_from(whole, ring.at)
        yield from ring_drawn(ring, out, whole, side, now=True)


def ring_drawn(
    ring: HungRing,
    out: tuple[float, float],
    over: BaseGeometry,
    side: Side,
    *,
    now: bool = False,
) -> Iterator[Shape]:
    """Draw a ring, its bar under what lies over it.

    Parameters
    ----------
    ring : HungRing
    out : (float, float)
        Unit vector, the way that it hangs.
    over : BaseGeometry
        What lies over its bar.
    side : str
    now : bool
        Whether it is put there in this step.
    """
    bar, *rest = ring.parts(out)
    bow, under = shapely.union_all(rest, grid_size=1e-6), bar - over
    whole = shapely.union(bow, under, grid_size=1e-6)
    ways = ((whole,), (bow, under), (*rest, under))
    for part in next(parts for parts in ways if not _round(parts)):
        yield from (Shape(seen(one, side), Style.HARDWARE, now=now) for one in outer_paths(part))


def _round(parts: Sequence[BaseGeometry]) -> bool:
    """Whether one of these goes all round something, which no outline can show."""
    return any(one.interiors for part in parts for one in shapely.get_parts(part).tolist())


def fitting_labels(hooped: Scene, step: Step, side: Side) -> Iterator[Label]:
    """Name each, with its distances from the edges."""
    yield from ring_labels(hooped, _whole(hooped, step), side)
    for one in fittings(hooped, step, side):
        of = f" of the {one.on}" if one.on else ""
        words = [TextLine(one.notion.title, bold=True)]
        words += [TextLine(one.half)] if one.half else []
        for measure in one.measures:
            length = unbroken(show_both(measure.distance, hooped.project.unit))
            if measure.middle:
                words.append(TextLine(f"in the middle, {length} from either side{of}"))
            else:
                whose = of if measure.edge.endswith("edge") else ""
                words.append(TextLine(f"{length} from the {measure.edge}{whose}"))
        yield Label(one.at, tuple(words))
        for cord in cords(hooped) if one.at_ring else ():
            length = unbroken(show_both(cord.length or 0.0, hooped.project.unit))
            knotted = TextLine(f"{length}, knotted into a loop")
            yield Label(
                _tip(one, hooped.letters_in_hand), (TextLine(cord.title, bold=True), knotted)
            )


def ring_labels(hooped: Scene, whole: BaseGeometry, side: Side) -> Iterator[Label]:
    """Name each ring that hangs from it."""
    for ring in hung_rings(hooped.project):
        out = across(ring.fold) if ring.fold else away_from(whole, ring.at)
        spot = shapely.union_all(ring.parts(out)[1:]).representative_point()
        (at,) = seen(straight(*[(spot.x, spot.y)] * 2), side).points[:1].tolist()
        yield Label((at[0], at[1]), (TextLine(ring.notion.title, bold=True),))


def which_half(project: Project, notion: Notion, number: int) -> str:
    """Tell the halves of hardware apart by what they go through; or say that it is one.

    Parameters
    ----------
    project : Project
    notion : Notion
    number : int
        Of its place; empty if no half goes there, or the recipe does not say through what.
    """
    if number >= len(notion.halves):
        return ""
    if notion.sort in _BOTH_HALVES:
        return _BOTH_HALVES[notion.sort]
    if not notion.through:
        return ""
    laid = {layer.piece: layer.title for step in project.steps for layer in step.layers}
    titles = list(dict.fromkeys(laid[name] for name in notion.through[number] if name in laid))
    if not titles:
        return ""
    return f"one half, {'on the' if len(titles) == 1 else 'through'} {listed(titles)}"


def cords(hooped: Scene) -> tuple[Notion, ...]:
    """What is drawn through a ring or an eyelet: long, without a width, and never laid."""
    laid = {layer.piece for step in hooped.project.steps for layer in step.layers}
    return tuple(
        notion
        for notion in hooped.project.notions
        if notion.length and not notion.width and notion.name not in laid
    )


def _loop(one: FittedHardware, em: float) -> Iterator[DrawnItem]:
    """A loop from a ring past the edge it lies next to."""
    (x, y), (ex, ey) = one.at, _tip(one, em)
    ax, ay = -(ey - y) * _WIDE, (ex - x) * _WIDE
    nx, ny = x + (ex - x) * 0.7, y + (ey - y) * 0.7
    bend = [(x, y), (nx + ax, ny + ay), (ex, ey), (nx - ax, ny - ay)]
    yield Shape(smooth(bend), Style.CORD)


def _tip(one: FittedHardware, em: float) -> Point:
    """Where the loop of a cord is drawn to end: past the nearest edge."""
    nearest = min(one.measures, key=lambda measure: measure.distance, default=None)
    (x, y), (ex, ey) = one.at, nearest.end if nearest else (one.at[0], one.at[1] - 1.0)
    far = math.dist((x, y), (ex, ey)) or 1.0
    share = (far + _PAST * em) / far
    return x + (ex - x) * share, y + (ey - y) * share


def _fitting(hooped: Scene, step: Step, side: Side, notion: Notion, number: int) -> FittedHardware:
    place = (*notion.halves, *notion.at)[number]
    spot, on, room = shapely.Point(place), "", _room(hooped, step)
    pile = hooped.pile(step)
    if pile is not None and not room.covers(spot):
        standing = [p for p in pile.plies if p.sticks_out and p.area.covers(spot)]
        if standing:
            on, room = standing[0].title, standing[0].area
    (at,) = seen(straight(place, place), side).points[:1].tolist()
    creases = shapely.MultiLineString() if on else _creases(hooped) & room
    if side is Side.BACK:
        room, creases = (
            shapely.transform(one, lambda points: points * (-1.0, 1.0)) for one in (room, creases)
        )
    here = (float(at[0]), float(at[1]))
    return FittedHardware(
        notion,
        here,
        on,
        which_half(hooped.project, notion, number),
        tuple(_measures(here, room, creases)),
    )


def _creases(hooped: Scene) -> BaseGeometry:
    """Where the finished thing folds."""
    folds = hooped.project.finish.folds
    return shapely.union_all([line_through(shapely.LineString(fold)) for fold in folds])


def _whole(hooped: Scene, step: Step) -> BaseGeometry:
    """What lies there, with all that stands out of it."""
    pile = hooped.pile(step)
    if pile is None:
        return _room(hooped, step)
    return shapely.union_all([ply.area for ply in pile.plies])


def _room(hooped: Scene, step: Step) -> BaseGeometry:
    """What lies within the edge of the thing, with what is cut out left out."""
    pile = hooped.pile(step)
    if pile is not None:
        return pile.room
    finish = hooped.project.finish
    # What is neither trimmed nor turned ends at its folds.
    untrimmed = finish.finished if finish.way is FinishWay.RAW_EDGE else None
    whole = (finish.trimmed or untrimmed or hooped.project.seam).area
    return whole - shapely.union_all(list(openings(hooped.project, step.number)))


def _measures(at: Point, room: BaseGeometry, creases: BaseGeometry) -> Iterator[EdgeDistance]:
    if not room.contains(shapely.Point(at)):
        return
    for ways in _WAYS:
        found = [_reach(at, way, room, creases, f"{name} edge") for name, way in ways]
        (near, end, edge), (far, *_) = sorted(found, key=lambda one: one[0])
        yield EdgeDistance(edge, end, near, abs(near - far) < _MIDDLE)


def _reach(
    at: Point, way: Point, room: BaseGeometry, creases: BaseGeometry, name: str
) -> tuple[float, Point, str]:
    """How far the edge or a fold is one way, where it is met, and what it is called."""
    ray = shapely.LineString([at, (at[0] + way[0] * _FAR, at[1] + way[1] * _FAR)])
    part = next(one for one in shapely.get_parts(room) if one.contains(shapely.Point(at)))
    met = shapely.get_coordinates([part.boundary & ray, creases & ray])
    away = np.hypot(*(met - at).T)
    x, y = met[np.argmin(away)].tolist()
    end = shapely.Point(x, y)
    if end.dwithin(part.exterior, 1e-6):
        return float(away.min()), (x, y), name
    called = "fold" if creases.dwithin(end, 1e-6) else "opening"
    return float(away.min()), (x, y), called
