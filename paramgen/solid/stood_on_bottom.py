"""The solid of a thing that stands on a bottom: a wedge, each face of it as it lay flat.

The first panel is a frame that is nothing itself: it stands upright in the middle, and what is held
stands in it. The front hangs on it, leaning back; on the front hang its half of the bottom and its
halves of the sides, and on the bottom the other half, which the back hangs on with its own halves
of the sides. So the two halves of a side, and the top, come to meet without hanging together.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.held_things import lying, way_round
from paramgen.finished.pockets import pockets_along
from paramgen.finished.standing_room import StandingRoom, room_place, standing_room
from paramgen.solid.held_in_panels import PAPER
from paramgen.solid.hinge_turns import into_panel
from paramgen.solid.panel_slabs import panel_of
from paramgen.solid.solid_model import HeldSlab, Slab, Solid, SolidHinge, SolidPanel
from paramgen.solid.solid_parts import SolidPart, standing_out
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray

#: What goes in through the zip stands off by so much, degrees: so much that it can be seen.
_THROUGH_ZIP = 40.0
#: So far past the mouth a thing is outside, mm.
_PAST_MOUTH = 2.0


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
    return Solid(
        tuple(_panels(thing, room, inside, len(held))), held, 1 if thing.outer is Side.FRONT else -1
    )


def _panels(
    thing: FinishedThing, room: StandingRoom, inside: float, held: int
) -> Iterator[SolidPanel]:
    """The frame, front, its half of the bottom, the other, the back, four half sides, the rest."""
    leans = float(np.degrees(np.arcsin(min(1.0, room.depth / 2 / room.height))))
    # Between the outsides of a wall and of a side: geometry of the wedge.
    round_side = float(np.degrees(np.arccos(-((room.depth / 2 / room.height) ** 2))))
    behind = room_place(thing)
    flat = [at for at, ply in enumerate(thing.plies) if ply.swung is None]
    of_back, of_front = (
        tuple(at for at in flat if (at < behind) == is_back) for is_back in (True, False)
    )
    nothing = Slab(outline=shapely.Polygon(), plies=(), heights=(PAPER,))
    yield SolidPanel(
        outline=room.wall & thing.room, slabs=(nothing,), holds=(tuple(range(held)),)
    )

    def panel(
        area: shapely.Polygon, wall: _Wall, parent: tuple[int, float], hinge: SolidHinge
    ) -> SolidPanel:
        bare = panel_of(thing, SolidPart(area & thing.room, wall.plies), 0, ())
        return SolidPanel(
            outline=bare.outline,
            slabs=bare.slabs,
            holds=bare.holds,
            parent=parent[0],
            hinge=hinge,
            level=(0, wall.low - parent[1]),
        )

    def hinge(
        line: FloatArray, into: shapely.Polygon, degrees: float, side: int, *, bends: bool = True
    ) -> SolidHinge:
        return _hinge(line, into, degrees, side, inside, bends=bends)

    front, half = _Wall(of_front, -1, inside), room.half_bottom
    thick = panel_of(thing, SolidPart(room.wall & thing.room, of_back), 0, ()).thickness
    back = _Wall(of_back, 1, inside - thick)
    base, sides, tops = room.base, room.sides, room.tops
    yield panel(room.wall, front, (0, 0.0), hinge(base, room.wall, leans, -1, bends=False))
    yield panel(half, front, (1, inside), hinge(base, half, 90.0 + leans, -1))
    # The other half lies on this one, and is laid open.
    yield panel(half, back, (2, inside), hinge(room.edge, half, 180.0, -1, bends=False))
    yield panel(room.wall, back, (3, back.low), hinge(base, room.wall, 90.0 + leans, 1))
    for wall, number in ((front, 1), (back, 4)):
        for which, area in enumerate(room.half_sides):
            line = np.array([base[which], tops[which]])
            yield panel(area, wall, (number, wall.low), hinge(line, area, round_side, wall.side))
    for part in standing_out(thing):
        assert part.past is not None
        line = shapely.get_coordinates(part.past)[[0, -1]]
        # At the seam in the middle of a side it stands off both halves of that.
        nearest = min((0, 1), key=lambda k: float(np.hypot(*(line.mean(axis=0) - sides[k]))))
        bare = panel_of(thing, part, 0, ())
        yield SolidPanel(
            outline=bare.outline,
            slabs=bare.slabs,
            holds=bare.holds,
            parent=5 + nearest,
            hinge=_hinge(line, part.area, 90.0, 1, inside, bends=False),
            level=(0, -bare.thickness / 2),
        )


def _hinge(
    line: FloatArray,
    into: shapely.Polygon,
    degrees: float,
    side: int,
    axis: float,
    *,
    bends: bool,
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
