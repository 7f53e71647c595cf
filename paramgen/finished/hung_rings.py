"""Rings that hang from the finished thing: in a fold of it, or at its edge."""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import fold_line
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Notion, Project

#: The wire of a ring is shown so thick, mm; common practice, no source.
WIRE = 2.0
#: What is drawn through a ring bends within so much of its bar, mm.
_LEGS = 4.0
#: Half the width of the eye that a ring at an edge hangs in, and how far it stands out, mm; common
#: practice, no source.
_EYE_WIDE, _EYE_OUT = 3.0, 3.0
#: A place lies on a fold within this, mm.
_ON = 0.01


@dataclass(frozen=True, eq=False)
class HungRing:
    """One ring where it hangs.

    Parameters
    ----------
    notion : Notion
    at : Point
        The middle of its bar, on the finished thing open and flat, mm.
    fold : (Point, Point) or None
        The fold that it hangs in; None where it hangs at the edge.
    """

    notion: Notion
    at: Point
    fold: tuple[Point, Point] | None

    def parts(self, out: tuple[float, float]) -> tuple[shapely.Polygon, ...]:
        """Its bar, the two legs beside what is drawn through, and its bow in two halves.

        At an edge it is round, and hangs in an eye: that, and then the ring in four quarters, those
        next to the edge first.

        Parameters
        ----------
        out : (float, float)
            Unit vector, the way that it hangs.

        Examples
        --------
        >>> ring = HungRing(Notion(
        ...     name="ring", title="", sort="ring", quantity=1, length=None, width=20.0, coil=None,
        ... ), (0.0, 0.0), ((-1.0, 0.0), (1.0, 0.0)))
        >>> bar, *legs, left, right = ring.parts((0.0, 1.0))
        >>> bar.bounds  # 20 mm inside, and the wire at both sides
        (-12.0, -2.0, 12.0, 0.0)
        >>> shapely.union(left, right).bounds  # a half circle past its legs
        (-12.0, 4.0, 12.0, 16.0)
        >>> eye, *quarters = HungRing(ring.notion, ring.at, None).parts((0.0, 1.0))
        >>> [round(at, 1) for at in shapely.union_all(quarters).bounds]  # 24 across, in the eye
        [-12.0, 1.0, 12.0, 25.0]
        """
        inner = (self.notion.width or 0.0) / 2
        made = _in_fold(inner) if self.fold else _in_eye(inner)
        across = np.array((out[1], -out[0]))
        turn = np.column_stack([across, out])
        return tuple(
            shapely.Polygon(shapely.get_coordinates(part) @ turn.T + np.array(self.at))
            for part in made
        )


def _in_fold(inner: float) -> tuple[BaseGeometry, ...]:
    """A ring of so much half its width inside, its bar along the edge at 0, hanging downward."""
    outer = inner + WIRE
    disc = shapely.Point(0.0, _LEGS)
    bow = disc.buffer(outer, 32) - disc.buffer(inner, 32)
    return (
        shapely.box(-outer, -WIRE, outer, 0.0),
        shapely.box(-outer, 0.0, -inner, _LEGS),
        shapely.box(inner, 0.0, outer, _LEGS),
        bow & shapely.box(-outer, _LEGS, 0.0, _LEGS + outer),
        bow & shapely.box(0.0, _LEGS, outer, _LEGS + outer),
    )


def _in_eye(inner: float) -> tuple[BaseGeometry, ...]:
    """An eye at the edge at 0, and a round ring of so much half its width inside, through it."""
    outer = inner + WIRE
    top = _EYE_OUT - WIRE
    middle = top + outer
    disc = shapely.Point(0.0, middle)
    ring = disc.buffer(outer, 32) - disc.buffer(inner, 32)
    eye = shapely.box(-_EYE_WIDE, 0.0, _EYE_WIDE, middle) - disc.buffer(outer, 32)
    quarters = (
        ring & shapely.box(left, upper, left + outer, upper + outer)
        for upper in (top, middle)
        for left in (-outer, 0.0)
    )
    return (eye, *quarters)


def hung_rings(project: Project) -> tuple[HungRing, ...]:
    """Every ring that hangs from a project."""
    return tuple(
        HungRing(notion, at, next((one for one in project.finish.folds if _lies_on(at, one)), None))
        for notion in project.notions
        for at in notion.hangs
    )


def _lies_on(at: Point, fold: tuple[Point, Point]) -> bool:
    return bool(fold_line(fold).dwithin(shapely.Point(at), _ON))


def across(fold: tuple[Point, Point]) -> tuple[float, float]:
    """Unit vector across a fold, on its left with y down.

    Examples
    --------
    >>> across(((-1.0, 5.0), (1.0, 5.0)))
    (0.0, -1.0)
    """
    (ax, ay), (bx, by) = fold
    long = float(np.hypot(bx - ax, by - ay))
    return (by - ay) / long, (ax - bx) / long


def away_from(body: BaseGeometry, at: Point) -> tuple[float, float]:
    """Unit vector from the edge of a body at a place, along an axis, away from its middle.

    Examples
    --------
    >>> away_from(shapely.box(0, 0, 10, 40), (5.0, 0.0))
    (0.0, -1.0)
    >>> away_from(shapely.box(0, 0, 10, 40), (10.0, 20.0))
    (1.0, 0.0)
    """
    left, top, right, bottom = body.bounds
    x, y = at
    near = {
        (-1.0, 0.0): abs(x - left),
        (1.0, 0.0): abs(x - right),
        (0.0, -1.0): abs(y - top),
        (0.0, 1.0): abs(y - bottom),
    }
    return min(near, key=lambda way: near[way])
