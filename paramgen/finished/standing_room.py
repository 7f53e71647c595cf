"""The room of a thing that stands on a bottom of its own, and what stands in it.

Flat, it is a bag; its bottom corners sewn across, it is a wedge: a bottom as wide and as deep as
asked, two walls as high as the front that lean against each other, and the top as wide as the flat
bag. No cloth stretches or is slack in it: each face is as it lay flat. What stands in it pushes the
walls apart, so that one goes up beside it from the bottom and half across its top (geometry of
cloth that does not stretch).
"""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_limits import HAIR
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.pockets import Pocket
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Held

#: A corner is looked at so near to its end, of the seam across it.
_BESIDE_END = 0.01
#: A place is the room of the whole thing if it takes so much of it.
_MOST_OF_IT = 0.9


@dataclass(frozen=True, eq=False, kw_only=True)
class StandingRoom:
    """A bottom, and the walls on it.

    Parameters
    ----------
    width, height, depth : float
        Of the bottom, along the boxed edge; of a wall, from the bottom to its top; mm.
    base, edge, sides : array of float, shape (2, 2)
        At either end, open and flat, mm: the fold between a wall and the bottom, the seam in the
        middle of the bottom, and where the seam of the side meets the bottom.
    up : array of float, shape (2,)
        The way from there to the top: a unit vector.
    """

    width: float
    height: float
    depth: float
    base: FloatArray
    edge: FloatArray
    sides: FloatArray
    up: FloatArray

    @property
    def tops(self) -> FloatArray:
        """Where the seams of the sides end at the top, open and flat, shape (2, 2)."""
        return np.asarray(self.sides + self.up * self.height)

    @property
    def wall(self) -> shapely.Polygon:
        """One wall, open and flat: from its fold along the bottom to the whole top."""
        return shapely.Polygon([*self.base, *self.tops[::-1]])

    @property
    def half_bottom(self) -> shapely.Polygon:
        """What of a wall lies in the bottom, open and flat."""
        return shapely.Polygon([*self.base, *self.edge[::-1]])

    @property
    def half_sides(self) -> tuple[shapely.Polygon, shapely.Polygon]:
        """What of a wall goes round to either side, open and flat."""
        first, other = (
            shapely.Polygon(three) for three in zip(self.base, self.sides, self.tops, strict=True)
        )
        return first, other

    @property
    def stands(self) -> float:
        """How high its top is when it stands, mm.

        Examples
        --------
        A wall of 50 mm that leans by 30, half of a depth of 60, ends 40 above the table:

        >>> ends, up = np.array([[0.0, 0.0], [90.0, 0.0]]), np.array([0.0, -1.0])
        >>> lines = {"base": ends, "edge": ends, "sides": ends, "up": up}
        >>> StandingRoom(width=90.0, height=50.0, depth=60.0, **lines).stands
        40.0
        """
        return float(np.sqrt(max(0.0, self.height**2 - (self.depth / 2) ** 2)))

    def lacks(self, held: Held) -> tuple[float, float, float]:
        """How much too small it is for a thing across, up and in depth; below 0 if it is larger.

        Examples
        --------
        What is 40 high and as deep as the bottom goes straight up, and half across its top:

        >>> ends, up = np.array([[0.0, 0.0], [90.0, 0.0]]), np.array([0.0, -1.0])
        >>> lines = {"base": ends, "edge": ends, "sides": ends, "up": up}
        >>> room = StandingRoom(width=90.0, height=80.0, depth=60.0, **lines)
        >>> tin = Held(name="", title="", size=(80.0, 40.0), ease=0.0, against="", thickness=60.0)
        >>> room.lacks(tin)
        (-10.0, -10.0, 0.0)
        """
        across, high = self.lying(held.size)
        deep = held.thickness_in_place
        leans = max(0.0, self.depth - deep) / 2
        needs = (across, float(np.hypot(high, leans)) + deep / 2, deep)
        has = (self.width, self.height, self.depth)
        across, up, back = (need + held.ease - room for need, room in zip(needs, has, strict=True))
        return across, up, back

    def lying(self, size: tuple[float, float]) -> tuple[float, float]:
        """Of a width and height as they lie in the hoop that across, and that up."""
        return size if abs(self.up[1]) > abs(self.up[0]) else size[::-1]

    def largest(self, held: Held, most: float) -> tuple[float, float]:
        """Width and height of the largest thing of the same shape and depth that stands in it, mm.

        Parameters
        ----------
        held : Held
        most : float
            Times its size, beyond which is not looked.
        """
        if self.lacks(held)[2] > HAIR:
            return 0.0, 0.0
        across, high = self.lying(held.size)
        deep = held.thickness_in_place
        rest = self.height - held.ease - deep / 2
        leans = max(0.0, self.depth - deep) / 2
        up = float(np.sqrt(max(0.0, rest**2 - leans**2))) if rest > 0 else 0.0
        times = min(most, max(0.0, self.width - held.ease) / across, up / high)
        return held.size[0] * times, held.size[1] * times

    def standing(self, held: Held) -> shapely.Polygon:
        """The thing in the middle of the bottom, as it is seen from the front."""
        across, high = self.lying(held.size)
        middle = self.base.mean(axis=0)
        along = np.array((-self.up[1], self.up[0])) * across / 2
        far = self.up * high
        return shapely.Polygon(
            [middle - along, middle + along, middle + along + far, middle - along + far]
        )


def standing_room(thing: FinishedThing) -> StandingRoom | None:
    """The room of a thing that stands; None of one that lies flat."""
    project = thing.project
    boxed = project.finish.boxed
    if boxed is None:
        return None
    edge, base, sides = np.array(boxed.folds).transpose(1, 0, 2)
    down = edge.mean(axis=0) - base.mean(axis=0)
    up = -down / np.hypot(*down)
    along = shapely.get_coordinates(thing.room) @ up
    return StandingRoom(
        width=float(np.hypot(*(base[1] - base[0]))),
        height=float(along.max() - base.mean(axis=0) @ up),
        depth=boxed.depth,
        base=base,
        edge=edge,
        sides=sides,
        up=up,
    )


def room_of_all(thing: FinishedThing, pocket: Pocket) -> StandingRoom | None:
    """The room that a pocket is, if it is that of the whole thing and the thing stands."""
    if float(pocket.area.area) < _MOST_OF_IT * float(thing.room.area):
        return None
    return standing_room(thing)


def flat_room(thing: FinishedThing) -> BaseGeometry:
    """What lies within its edge while it is still flat: with the corners that are sewn across.

    Of those that are cut out before there is what lies outside the seams across them.
    """
    boxed, trimmed = thing.project.finish.boxed, thing.project.finish.trimmed
    if boxed is None:
        return thing.room
    kept = thing.project.seam.area if trimmed is None else trimmed.area
    corners = [shapely.MultiPoint(fold).envelope for fold in boxed.folds]
    return shapely.union_all([thing.room, *(one & kept for one in corners)])


def cut_out_by(thing: FinishedThing) -> float | None:
    """How far outside the seam across it a corner is cut out, mm; None if it is left whole."""
    boxed, trimmed = thing.project.finish.boxed, thing.project.finish.trimmed
    if boxed is None or trimmed is None:
        return None
    end, corner, side = (np.array(one) for one in boxed.seams[0])
    away = side - corner
    at = end + (corner - end) * _BESIDE_END
    left = shapely.LineString([at, at + away]) & trimmed.area
    nearest = [part for part in shapely.get_parts(left) if part.dwithin(shapely.Point(at), HAIR)]
    beyond = float(nearest[0].length) if nearest else 0.0
    return beyond if beyond < float(np.hypot(*away)) - HAIR else None


def room_place(thing: FinishedThing) -> int:
    """How many of its plies lie behind its room: those of its back."""
    done = thing.done
    spaces, plane = done.spaces, done.plane
    areas: dict[int, float] = {}
    for node in range(1, len(spaces.face)):
        below, above, face = (int(one[node]) for one in (spaces.below, spaces.above, spaces.face))
        if min(below, above) < 0 or not plane.within[face] or not done.shows(node):
            continue
        under, over = thing.place[below], thing.place[above]
        if under < over:  # not parted when it was turned
            areas[under + 1] = areas.get(under + 1, 0.0) + float(plane.areas[face].area)
    return max(areas, key=lambda place: areas[place], default=0)
