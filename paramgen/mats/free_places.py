"""Where an outline may still lie on a mat."""

from dataclasses import field

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from paramgen.mats.kept_apart import convex_parts, grown, overlapping_places
from paramgen.mats.outlines_to_nest import Mat, OutlineToNest
from paramgen.vocabulary.frozen_data import dataclass

#: An exact fit leaves no room at all, which areas cannot show: so much is let go, mm.
CLOSE = 1e-4

#: The number of an outline, and how far it is turned.
Key = tuple[int, int]


@dataclass(frozen=True)
class TurnedOutline:
    """An outline as it is laid, and what it keeps others from."""

    laid: shapely.Polygon
    parts: tuple[shapely.Polygon, ...]

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of its box, mm."""
        return float(self.laid.bounds[2]), float(self.laid.bounds[3])


@dataclass
class TurnedOutlines:
    """Every outline as it may be turned, and how each pair keeps apart, worked out once.

    Parameters
    ----------
    outlines : tuple of OutlineToNest
    mat : Mat
    boxed : bool
        Whether each keeps others out of its whole box, and not only from its shape.
    """

    outlines: tuple[OutlineToNest, ...]
    mat: Mat
    boxed: bool = False
    _shapes: dict[Key, TurnedOutline] = field(default_factory=dict)
    _pairs: dict[tuple[Key, Key], BaseGeometry] = field(default_factory=dict)

    def shape(self, key: Key) -> TurnedOutline:
        """By the number of the outline and how far it is turned."""
        if key not in self._shapes:
            number, turned = key
            laid = self.outlines[number].laid(turned)
            whole = shapely.box(*laid.bounds) if self.boxed else laid
            self._shapes[key] = TurnedOutline(laid, convex_parts(grown(whole, self.mat.gap / 2)))
        return self._shapes[key]

    def overlapping(self, there: Key, laid: Key) -> BaseGeometry:
        """Moves of one from another at which they are nearer to each other than the gap."""
        if (there, laid) not in self._pairs:
            places = overlapping_places(self.shape(there).parts, self.shape(laid).parts)
            self._pairs[there, laid] = shapely.buffer(places, -CLOSE, join_style="mitre")
        return self._pairs[there, laid]


@dataclass
class MatBeingLaid:
    """A mat with what lies on it so far."""

    shapes: TurnedOutlines
    laid: list[tuple[Key, float, float]] = field(default_factory=list)
    _taken: dict[Key, tuple[int, BaseGeometry]] = field(default_factory=dict)
    _full: set[Key] = field(default_factory=set)

    def place(self, key: Key) -> tuple[float, float] | None:
        """The place nearest to the top, then to the left, for an outline; None if there is none.

        Returns
        -------
        x, y : float
            Of the corner of its box, from the corner inside the clear edge, mm.
        """
        if key in self._full:
            return None
        across, down = self.shapes.mat.clear
        width, height = self.shapes.shape(key).size
        if width > across + CLOSE or height > down + CLOSE:
            self._full.add(key)
            return None
        room = shapely.box(-CLOSE, -CLOSE, across - width + CLOSE, down - height + CLOSE)
        free = room.difference(self._kept_from(key))
        if free.is_empty:
            self._full.add(key)
            return None
        x, y = min(
            ((float(x), float(y)) for x, y in shapely.get_coordinates(free)),
            key=lambda at: (round(at[1], 3), round(at[0], 3)),
        )
        return max(round(x, 3), 0.0), max(round(y, 3), 0.0)

    def lay(self, key: Key, x: float, y: float) -> None:
        """Lay an outline there."""
        self.laid.append((key, x, y))

    def _kept_from(self, key: Key) -> BaseGeometry:
        """Places that an outline is kept from by what is laid, of which only the last is new."""
        known, taken = self._taken.get(key, (0, shapely.Polygon()))
        new = [
            affinity.translate(self.shapes.overlapping(other, key), x, y)
            for other, x, y in self.laid[known:]
        ]
        if new:
            taken = shapely.union_all([taken, *new])
            self._taken[key] = (len(self.laid), taken)
        return taken
