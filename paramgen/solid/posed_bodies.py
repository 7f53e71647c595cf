"""What a solid is made of once it is stood up: plates, and bends between them."""

from functools import cached_property

import numpy as np
import shapely

from paramgen.solid.hinge_turns import standing
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray


@dataclass(frozen=True, eq=False, kw_only=True)
class PosedPlate:
    """A flat thing with a thickness, where it stands.

    Parameters
    ----------
    panel : int
    slab : int
        Of the panel; -1 if it is a thing held.
    held : int
        Which thing; -1 if it is a slab.
    outline : Polygon
        Open and flat, and when it is in, mm.
    moved : (float, float)
        How far that is moved in its own plane before it is placed, mm.
    low, high : float
        Its back and its front, mm above the back of the root panel, before it is placed.
    place : array of float, shape (4, 4)
        To where it stands.
    """

    panel: int
    slab: int
    held: int
    outline: shapely.Polygon
    moved: tuple[float, float]
    low: float
    high: float
    place: FloatArray

    @cached_property
    def rings(self) -> tuple[FloatArray, ...]:
        """Its outline and its holes, moved, without their last points."""
        rings = (self.outline.exterior, *self.outline.interiors)
        return tuple(shapely.get_coordinates(ring)[:-1] + self.moved for ring in rings)

    def at(self, height: float) -> tuple[FloatArray, ...]:
        """Its rings at a height between back and front, in space, shape (n, 3)."""
        return tuple(standing(self.place, ring, height) for ring in self.rings)

    @property
    def faces(self) -> tuple[FloatArray, ...]:
        """Its back, its front, and one wall for each chord of its rings, in space."""
        low, high = self.at(self.low), self.at(self.high)
        walls = [
            np.array([under[k], under[k - 1], over[k - 1], over[k]])
            for under, over in zip(low, high, strict=True)
            for k in range(len(under))
        ]
        return (low[0], high[0], *walls)

    @property
    def volume(self) -> float:
        """mm³."""
        return float(self.outline.area * (self.high - self.low))


@dataclass(frozen=True, eq=False, kw_only=True)
class PosedBend:
    """The bend along a hinge, where it stands.

    Parameters
    ----------
    panel : int
        The one that hangs on the hinge.
    inner, outer : array of float, shape (parts + 1, 2, 3)
        Lines along the hinge, from the parent to the panel: along the inside of the bend and
        along its outside.
    """

    panel: int
    inner: FloatArray
    outer: FloatArray


@dataclass(frozen=True)
class Posed:
    """A solid as it stands.

    Parameters
    ----------
    plates : tuple of PosedPlate
    bends : tuple of PosedBend
    """

    plates: tuple[PosedPlate, ...]
    bends: tuple[PosedBend, ...]
