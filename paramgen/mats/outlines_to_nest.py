"""What is laid on a mat, and what comes of it."""

from collections.abc import Iterator, Sequence
from itertools import combinations

import shapely
from shapely import affinity

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Path

#: Clear of the edge of a mat all round, and between two pieces, mm (common practice, no source:
#: cloth lifts at the edge of a mat, and a blade drags what stands too close beside its line).
EDGE, GAP = 6.0, 2.0


@dataclass(frozen=True, kw_only=True)
class Mat:
    """The part of a mat that may be cut on.

    Parameters
    ----------
    width, height : float
        Of the mat, mm.
    edge : float
        Kept clear all round, mm.
    gap : float
        Between two pieces, at least, mm.
    """

    width: float
    height: float
    edge: float = EDGE
    gap: float = GAP

    @property
    def clear(self) -> tuple[float, float]:
        """Width and height inside the clear edge, mm."""
        return self.width - 2 * self.edge, self.height - 2 * self.edge


@dataclass(frozen=True, kw_only=True, eq=False)
class OutlineToNest:
    """Pieces of one shape.

    Parameters
    ----------
    name : str
    outline : Path
        As cut, closed, mm.
    quantity : int
    turns : tuple of int
        How far it may be turned on the mat, of 0, 90, 180 and 270 degrees.
    """

    name: str
    outline: Path
    quantity: int
    turns: tuple[int, ...] = (0, 180)

    def laid(self, turned: int) -> shapely.Polygon:
        """Its shape turned clockwise as seen, its box in the corner where x and y are 0."""
        shape = affinity.rotate(shapely.Polygon(self.outline.points), turned, origin=(0, 0))
        left, top, *_ = shape.bounds
        return affinity.translate(shape, -left, -top)


@dataclass(frozen=True, kw_only=True)
class NestedPiece:
    """One piece where it lies on a mat.

    Parameters
    ----------
    name : str
    x, y : float
        Left upper corner of its box, from that of the mat, mm.
    turned : int
        Clockwise, degrees.
    """

    name: str
    x: float
    y: float
    turned: int


@dataclass(frozen=True, kw_only=True)
class NestedMat:
    """One mat as it is laid.

    Parameters
    ----------
    pieces : tuple of NestedPiece
    shapes : tuple of shapely.Polygon
        The piece of the same place in `pieces`, on the mat, mm.
    """

    pieces: tuple[NestedPiece, ...]
    shapes: tuple[shapely.Polygon, ...]

    @property
    def used(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of all that is cut on it, mm."""
        left, top, right, bottom = shapely.total_bounds(list(self.shapes))
        return float(left), float(top), float(right), float(bottom)


@dataclass(frozen=True, kw_only=True)
class MatPlan:
    """Every piece on a mat.

    Parameters
    ----------
    mat : Mat
    mats : tuple of (NestedMat, int)
        How each is laid, and how often it is laid so.
    least : int
        No plan does with fewer mats: so much do the pieces cover with half the gap round each.
    """

    mat: Mat
    mats: tuple[tuple[NestedMat, int], ...]
    least: int

    @property
    def count(self) -> int:
        """How many mats are laid."""
        return sum(times for _, times in self.mats)

    @property
    def proven(self) -> bool:
        """Whether no plan does with fewer."""
        return self.count <= self.least

    def closest(self) -> float:
        """The least distance between two pieces on one mat, mm; 0 if they overlap.

        It is that of the gap asked for where no mat has two.
        """
        return min((_apart(one.shapes) for one, _ in self.mats), default=self.mat.gap)

    def each(self) -> Iterator[NestedMat]:
        """Every mat, those that are laid alike as often as they are."""
        for one, times in self.mats:
            yield from [one] * times


def _apart(shapes: Sequence[shapely.Polygon]) -> float:
    return min((one.distance(other) for one, other in combinations(shapes, 2)), default=1e9)
