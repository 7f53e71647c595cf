"""What a solid is made of: panels in a tree, what lies in them, and the hinges between."""

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point


@dataclass(frozen=True, eq=False, kw_only=True)
class Slab:
    """Plies of a panel that stay together: those that nothing goes between.

    Parameters
    ----------
    outline : BaseGeometry
        Where they lie, open and flat, mm; with holes, where something is cut out.
    plies : tuple of int
        Their places among the plies of the finished thing, from the back to the front; empty if
        the solid is made from none.
    heights : tuple of float
        Where one ply ends and the next begins, above the back of the slab, mm; the last is its
        thickness.
    metal : bool
        Whether it is hardware and no cloth: a ring.
    """

    outline: BaseGeometry
    plies: tuple[int, ...]
    heights: tuple[float, ...]
    metal: bool = False

    @property
    def thickness(self) -> float:
        """Of all its plies, mm."""
        return self.heights[-1]


@dataclass(frozen=True, kw_only=True)
class SolidHinge:
    """The line that a panel turns about.

    The axis lies as far behind (or in front of) the faces that come to lie on each other as half
    of all that lies between them then: so the panel goes round it, and no panel through another.

    Parameters
    ----------
    start, end : Point
        Two points of the line, open and flat, mm; the panel lies on the left of the way from one
        to the other, as it is seen with x right and y down.
    opened, closed : float
        Degrees by which the panel stands out of the plane of its parent.
    side : int
        Where it goes: 1 to the front of its parent as that lies open, -1 to its back.
    between : tuple of int
        Panels that lie between it and its parent when it is closed.
    first, last : float
        From which part of the closing on it turns, and until which, 0 to 1.
    spends : float
        How much of the panel the way round what lies between takes when it is closed, mm.
    edges : tuple of (Point, Point)
        Where the panel and its parent hang together.
    reach : ((int, int), (int, int)) or None
        First and last of the slabs that reach the hinge: of the parent, and of the panel; all of
        them if None.
    axis : float or None
        How far the axis lies above the back of the first panel, all lying flat, mm; as it lays the
        panel on its parent if None.
    """

    start: Point
    end: Point
    opened: float
    closed: float
    side: int
    between: tuple[int, ...] = ()
    first: float = 0.0
    last: float = 1.0
    spends: float = 0.0
    edges: tuple[tuple[Point, Point], ...] = ()
    reach: tuple[tuple[int, int], tuple[int, int]] | None = None
    axis: float | None = None

    @property
    def moves(self) -> bool:
        """Whether it is closed and opened, and does not stand as it is."""
        return self.opened != self.closed


@dataclass(frozen=True, eq=False, kw_only=True)
class SolidPanel:
    """A part of the solid that stays flat.

    Parameters
    ----------
    outline : BaseGeometry
        Open and flat, mm; with holes.
    slabs : tuple of Slab
        From its back to its front.
    holds : tuple of tuple of int
        Things that lie on each slab, in front of it.
    parent : int or None
        Place of the panel that it hangs on; None for the one that stays where it is.
    hinge : SolidHinge or None
    level : (int, float) or None
        Where its back lies in its parent, both lying flat: above the back of which slab, and how
        far, mm. Without it the two lie even on the side to which it goes.
    """

    outline: BaseGeometry
    slabs: tuple[Slab, ...]
    holds: tuple[tuple[int, ...], ...]
    parent: int | None = None
    hinge: SolidHinge | None = None
    level: tuple[int, float] | None = None

    @property
    def thickness(self) -> float:
        """With nothing in it, mm."""
        return sum(slab.thickness for slab in self.slabs)


@dataclass(frozen=True, eq=False, kw_only=True)
class HeldSlab:
    """A thing that goes into a pocket of a panel.

    Parameters
    ----------
    title : str
    outline : Polygon
        As it lies when it is in, mm.
    thickness : float
        mm.
    panel : int
        The panel at whose mouth it goes in.
    out : (float, float)
        The way out of the mouth: a unit vector in the plane of that panel.
    mouth : float
        How far that way the mouth lies from the origin, mm.
    travel : float
        How far it goes from outside until it is in, mm.
    side : int
        To which side of its panel the mouth opens: 1 front, -1 back.
    stands : float
        Degrees by which what is not in yet stands off the panel: it goes in through a zip.
    """

    title: str
    outline: shapely.Polygon
    thickness: float
    panel: int
    out: tuple[float, float]
    mouth: float
    travel: float
    side: int
    stands: float = 0.0


@dataclass(frozen=True)
class Solid:
    """The finished thing as a solid.

    Parameters
    ----------
    panels : tuple of SolidPanel
        A parent stands before those that hang on it.
    held : tuple of HeldSlab
    outer : int
        The side that is outside when it is closed: 1 front, -1 back.
    """

    panels: tuple[SolidPanel, ...]
    held: tuple[HeldSlab, ...] = ()
    outer: int = 1
