"""The book between the right sides: its flaps in order, and on which side each comes to lie.

The hollow that becomes the outside has two walls, the work and the closing piece. What lies in it
and is bound only at the rim is a flap. Flaps open like the pages of a book: along the rim they are
ordered from the work to the closing piece, and turning keeps that order.
"""

from enum import IntEnum
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.outside_hollow import Rehearsed, facing_spaces
from paramgen.vocabulary.facts import Name
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Role
from paramgen.vocabulary.path import path

#: A rim on one run turns by no more than this, degrees: what it holds can stand out.
ONE_SIDE = 60.0
#: Ends of a strap lie on one straight run if they leave a line by no more than this, mm.
STRAIGHT = 1.0
#: Flaps that share no more of the rim than this do not lie between the same pages, mm.
SHARED = 1.0
#: What lies so near to the seam line lies on it, mm.
_ON_SEAM = 0.01
#: A line that runs through less than this of a sheet does not bind it, mm.
TOUCH = 1.0


class FlapSide(IntEnum):
    """On which side a flap lies in the end, in the order that turning keeps."""

    WORK = 0
    OUT = 1
    CLOSING = 2

    @property
    def words(self) -> Literal["work side", "stands out", "closing side"]:
        """For the person and for `plan.json`."""
        return _WORDS[self]


_WORDS: dict[FlapSide, Literal["work side", "stands out", "closing side"]] = {
    FlapSide.WORK: "work side",
    FlapSide.OUT: "stands out",
    FlapSide.CLOSING: "closing side",
}


@dataclass(frozen=True, eq=False, kw_only=True)
class Flap:
    """What is bound only at the rim, between the work and the closing piece.

    Parameters
    ----------
    piece, title : str
    layer : int
        Its layer, in the order of laying.
    sheets : tuple of int
        Its sheets in the sandwich, from the back of the hoop to the front.
    step : int
        The step that lays it.
    lies : FlapSide
    rim : BaseGeometry
        Where it leaves the seam line, mm; empty if it is not caught there.
    area : BaseGeometry
        As it lies in the hoop, mm.
    """

    piece: str
    title: str
    layer: int
    sheets: tuple[int, ...]
    step: int
    lies: FlapSide
    rim: BaseGeometry
    area: BaseGeometry

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("piece", self.piece, self.title)


def walls(done: Rehearsed) -> bool:
    """Whether both pieces that it is turned out between are laid."""
    return done.walled


def closed_in_front(done: Rehearsed) -> bool:
    """Whether the closing piece lies in front of the work in the hoop, and not behind it."""
    return done.between[1] in done.indices(*done.project.finish.closing)


def between_walls(done: Rehearsed) -> NDArray[np.bool_]:
    """Which spaces lie between the two walls; all where there are none, shape (nodes,).

    They do if the sheet next to them on the closing piece's side is it or a flap.
    """
    if not walls(done):
        return np.ones(len(done.spaces.face), dtype=bool)
    return facing_spaces(done.project, done.sandwich, done.spaces)


def flaps(done: Rehearsed) -> tuple[Flap, ...]:
    """Every flap, in order from the work to the closing piece; none of what is not turned."""
    if not walls(done):
        return ()
    low, high = done.between
    sheets, finish = done.sandwich.sheets, done.project.finish
    between = range(low + 1, high) if closed_in_front(done) else range(high - 1, low, -1)
    found: dict[int, list[int]] = {}
    for index in between:
        found.setdefault(sheets[index].layer, []).append(index)
    seam = done.project.seam.line
    book = []
    for layer, own in found.items():
        one = sheets[own[0]]
        declared = one.piece in (*finish.pulled_over, *finish.stands_out)
        if not declared and any(bound_within(done, index) for index in own):
            continue  # it belongs to the wall that it is sewn to
        lies = FlapSide.CLOSING if one.piece in finish.pulled_over else FlapSide.WORK
        lies = FlapSide.OUT if one.piece in finish.stands_out else lies
        area = shapely.union_all([sheets[index].area for index in own])
        rim = _merged(seam & area)
        book.append(
            Flap(
                piece=one.piece,
                title=one.title,
                layer=layer,
                sheets=tuple(sorted(own)),
                step=one.step,
                lies=lies,
                rim=rim,
                area=area,
            )
        )
    return tuple(book)


def bound_within(done: Rehearsed, sheet: int) -> bool:
    """Whether a line inside the seam binds a sheet to others."""
    one, inside = done.sandwich.sheets[sheet], done.project.seam.area.buffer(-0.1)
    others = [other for place, other in enumerate(done.sandwich.sheets) if place != sheet]
    for sewn in done.sandwich.sewn:
        if sewn.step <= one.step or sewn.line.role is Role.PLACEMENT:
            continue
        within = sewn.path & one.area & inside
        under = [other.area for other in others if other.step < sewn.step]
        if any(float((within & area).length) > TOUCH for area in under):
            return True
    return False


def rim_line(flap: Flap) -> shapely.LineString | None:
    """The straight line that a flap can stand out past; None if its rim lies on no one run.

    A rim may have two parts if they lie on one straight run, as the two ends of a strap do.
    """
    if flap.rim.is_empty:
        return None
    points = shapely.get_coordinates(flap.rim)
    if flap.rim.geom_type == "LineString":
        turns = np.abs(path(points, closed=False).turns).sum() if len(points) > 2 else 0.0
        if flap.rim.is_ring or turns > ONE_SIDE:
            return None
        return shapely.LineString(points[[0, -1]])
    spread = points - points.mean(axis=0)
    along = np.linalg.svd(spread, full_matrices=False)[2][0]
    across = spread @ np.array((-along[1], along[0]))
    if np.abs(across).max() > STRAIGHT:
        return None
    far = spread @ along
    return shapely.LineString(points[[int(far.argmin()), int(far.argmax())]])


def mouth(flap: Flap, seam: BaseGeometry) -> BaseGeometry:
    """The edges of a flap within the seam line, which nothing holds.

    Parameters
    ----------
    flap : Flap
    seam : Polygon
        What the seam line encloses.
    """
    return _merged((flap.area & seam).boundary - seam.boundary.buffer(_ON_SEAM))


def in_the_way(book: tuple[Flap, ...]) -> tuple[tuple[Flap, Flap], ...]:
    """Pairs of flaps that cannot both lie as they should: the one in the way, the trapped one.

    Along any stretch of rim that two share, the one nearer the work comes no later in the order
    work side, standing out, closing side.
    """
    return tuple(
        (near, far)
        for place, near in enumerate(book)
        for far in book[place + 1 :]
        if near.lies > far.lies and float((near.rim & far.rim).length) > SHARED
    )


def _merged(shape: BaseGeometry) -> BaseGeometry:
    """Lines of a shape, put together where they meet."""
    lines = [part for part in shapely.get_parts(shape) if part.geom_type == "LineString"]
    if not lines:
        return shapely.LineString()
    return shapely.line_merge(shapely.MultiLineString(lines)) if len(lines) > 1 else lines[0]
