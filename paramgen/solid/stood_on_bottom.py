"""The solid of a thing that stands on a bottom: a wedge, each face of it as it lay flat.

What stands in it pushes its walls apart: they go up beside it, and lean together above it. At every
height it is as far round as at its bottom, so that a wall grows wider by as much as it loses in
depth, and each face stays as it lay (geometry of cloth that does not stretch).

The first panel is a frame that is nothing itself: it stands upright in the middle, and what is held
stands in it. The front hangs on it; on the front hang its half of the bottom and its halves of the
sides, and on the bottom the other half, which the back hangs on with its own halves of the sides.
So the two halves of a side, and the top, come to meet without hanging together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.held_things import lying, way_round
from paramgen.finished.pockets import pockets_along
from paramgen.finished.standing_room import StandingRoom, room_place, standing_room
from paramgen.solid.held_in_panels import PAPER
from paramgen.solid.hinge_turns import into_panel
from paramgen.solid.panel_slabs import panel_of
from paramgen.solid.solid_model import HeldSlab, Slab, Solid, SolidHinge, SolidPanel
from paramgen.solid.solid_parts import SolidPart, standing_out
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray

#: What goes in through the zip stands off by so much, degrees: so much that it can be seen.
_THROUGH_ZIP = 40.0
#: So far past the mouth a thing is outside, mm.
_PAST_MOUTH = 2.0


@dataclass(frozen=True)
class _Stage:
    """A part of a wall that leans evenly.

    Parameters
    ----------
    start, end : float
        How far up the wall it begins and ends, mm.
    before, after : float
        How deep it is there, front to back, mm.
    """

    start: float
    end: float
    before: float
    after: float

    @property
    def lean(self) -> float:
        """Sine of the angle by which it leans."""
        return min(1.0, (self.before - self.after) / 2 / (self.end - self.start))

    @property
    def leans(self) -> float:
        """By how much it leans, degrees."""
        return float(np.degrees(np.arcsin(self.lean)))

    @property
    def round_side(self) -> float:
        """Between the outsides of a wall and of a side, degrees: they lean alike."""
        return float(np.degrees(np.arccos(-(self.lean**2))))


@dataclass(frozen=True, eq=False)
class _Wall:
    """A wall and what of it goes round the edges, by its plies.

    Parameters
    ----------
    plies : tuple of int
    side : int
        To which side it folds to its inside: -1 of the front, 1 of the back.
    low : float
        Where its back lies, all lying flat, mm.
    """

    plies: tuple[int, ...]
    side: int
    low: float


def stood_on_bottom(thing: FinishedThing) -> Solid:
    """Make a solid of a finished thing of which corners are sewn across.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.
    """
    room = standing_room(thing)
    assert room is not None
    held = tuple(_held(thing, room))
    deepest = max((one.thickness for one in held), default=0.0)
    inside = PAPER + deepest / 2 + room.depth / 2  # the inner face of the front, all lying flat
    panels = _Panels(thing, room, inside)
    panels.stand(_stages(room, held), len(held))
    return Solid(tuple(panels.made), held, 1 if thing.outer is Side.FRONT else -1)


def _stages(room: StandingRoom, held: Sequence[HeldSlab]) -> tuple[_Stage, ...]:
    """How the walls lean: up beside the thickest of what stands in it, and above that together."""
    one = max(held, key=lambda slab: slab.thickness, default=None)
    if one is not None:
        high = float(np.ptp(shapely.get_coordinates(one.outline) @ room.up))
        deep = min(one.thickness, room.depth)
        beside = float(np.hypot(high, (room.depth - deep) / 2))
        if beside + deep / 2 <= room.height:
            return (
                _Stage(0.0, beside, room.depth, deep),
                _Stage(beside, room.height, deep, 0.0),
            )
    return (_Stage(0.0, room.height, room.depth, 0.0),)


class _Panels:
    """The panels in the making, a parent before what hangs on it."""

    def __init__(self, thing: FinishedThing, room: StandingRoom, inside: float) -> None:
        self.thing, self.room, self.inside = thing, room, inside
        self.made: list[SolidPanel] = []
        self.lows: list[float] = []

    def stand(self, stages: Sequence[_Stage], held: int) -> None:
        """Make all of them: frame, front, bottom, back, what stands out."""
        room, thing = self.room, self.thing
        nothing = Slab(outline=shapely.Polygon(), plies=(), heights=(PAPER,))
        frame = room.wall & thing.room
        self.made.append(SolidPanel(outline=frame, slabs=(nothing,), holds=(tuple(range(held)),)))
        self.lows.append(0.0)
        behind = room_place(thing)
        flat = [at for at, ply in enumerate(thing.plies) if ply.swung is None]
        front = _Wall(tuple(at for at in flat if at >= behind), -1, self.inside)
        at_back = tuple(at for at in flat if at < behind)
        thick = panel_of(thing, SolidPart(frame, at_back), 0, ()).thickness
        back = _Wall(at_back, 1, self.inside - thick)
        half, leans = room.half_bottom, stages[0].leans
        first, sides = self._wall(front, stages, 0, leans, bends=False)
        mine = self._add(half, front, first, room.base, 90.0 + leans, -1)
        # The other half lies on this one, and is laid open.
        other = self._add(half, back, mine, room.edge, 180.0, -1, bends=False)
        self._wall(back, stages, other, 90.0 + leans)
        for part in standing_out(thing):
            self._stands_out(part, sides)

    def _wall(
        self,
        wall: _Wall,
        stages: Sequence[_Stage],
        parent: int,
        turns: float,
        *,
        bends: bool = True,
    ) -> tuple[int, list[int]]:
        """A wall with its halves of the sides; its lowest panel, and those of the sides."""
        first, sides, leant = len(self.made), list[int](), 0.0
        for number, stage in enumerate(stages):
            low, high = self._folds(stage)
            degrees = turns if number == 0 else stage.leans - leant
            area = shapely.Polygon([*low, *high[::-1]])
            parent = self._add(area, wall, parent, low, degrees, wall.side, bends=bends)
            leant, bends = stage.leans, True
            out = self.room.sides + self.room.up * stage.start
            far = self.room.sides + self.room.up * stage.end
            for which in (0, 1):
                line = np.array([low[which], high[which]])
                ring = shapely.MultiPoint([*line, out[which], far[which]]).convex_hull
                sides.append(self._add(ring, wall, parent, line, stage.round_side, wall.side))
        return first, sides

    def _folds(self, stage: _Stage) -> tuple[FloatArray, FloatArray]:
        """Ends of the lines across a wall where a stage begins and ends, open and flat."""
        room = self.room
        outwards = (room.sides - room.base) / (room.depth / 2)
        first, last = (
            room.base + room.up * at + outwards * (room.depth - deep) / 2
            for at, deep in ((stage.start, stage.before), (stage.end, stage.after))
        )
        return first, last

    def _add(
        self,
        area: BaseGeometry,
        wall: _Wall,
        parent: int,
        line: FloatArray,
        degrees: float,
        side: int,
        *,
        bends: bool = True,
    ) -> int:
        """Make one panel that hangs on another along a line; its place."""
        part = SolidPart(area & self.thing.room, wall.plies)
        hinge = _hinge(line, area, degrees, side, self.inside, bends)
        return self._hang(part, parent, hinge, wall.low)

    def _hang(self, part: SolidPart, parent: int, hinge: SolidHinge, low: float) -> int:
        bare = panel_of(self.thing, part, 0, ())
        level = (0, low - self.lows[parent])
        self.made.append(replace(bare, parent=parent, hinge=hinge, level=level))
        self.lows.append(low)
        return len(self.made) - 1

    def _stands_out(self, part: SolidPart, sides: Sequence[int]) -> None:
        """Hang something at the seam in the middle of a side: it stands off both halves of that."""
        assert part.past is not None
        middle = part.past.centroid
        parent = min(sides, key=lambda k: float(self.made[k].outline.distance(middle)))
        line = shapely.get_coordinates(part.past)[[0, -1]]
        thick = panel_of(self.thing, part, 0, ()).thickness
        hinge = _hinge(line, part.area, 90.0, 1, self.inside, False)
        self._hang(part, parent, hinge, self.inside - thick / 2)


def _hinge(
    line: FloatArray, into: BaseGeometry, degrees: float, side: int, axis: float, bends: bool
) -> SolidHinge:
    """A hinge that stays as it is, about a line, for a panel that lies on one side of it."""
    (ax, ay), (bx, by) = line.tolist()
    away = shapely.get_coordinates(into.centroid)[0] - line[0]
    nx, ny = into_panel(SolidHinge(start=(ax, ay), end=(bx, by), opened=0, closed=0, side=side))
    ends = ((ax, ay), (bx, by)) if nx * away[0] + ny * away[1] > 0 else ((bx, by), (ax, ay))
    return SolidHinge(
        start=ends[0],
        end=ends[1],
        opened=degrees,
        closed=degrees,
        side=side,
        edges=(ends,) if bends else (),
        axis=axis,
    )


def _held(thing: FinishedThing, room: StandingRoom) -> Iterator[HeldSlab]:
    """What stands in the middle of the bottom, and goes in through the zip."""
    out = (float(room.up[0]), float(room.up[1]))
    for held in thing.project.holds:
        for pocket in pockets_along(thing, held):
            lies = lying(thing, held, pocket)
            if lies is None or not pocket.through_zip:
                continue
            mouth = float((shapely.get_coordinates(pocket.mouths) @ room.up).max())
            along = shapely.get_coordinates(lies) @ room.up
            yield HeldSlab(
                title=held.title,
                outline=lies,
                thickness=max(way_round(thing, held, pocket).thickness, PAPER),
                panel=0,
                out=out,
                mouth=mouth,
                travel=mouth - float(along.min()) + _PAST_MOUTH,
                side=1,
                stands=_THROUGH_ZIP,
            )
