"""Which way up a print lies on each piece, so that it stands right in the finished thing.

No recipe says which way up its pieces are: the grain says along which edge a print runs, not which
end of it is up. So a print stands upright where the finished thing shows its piece: in its front
view if that shows enough of it, else in its back view, else where it is open and flat. A repeat
lies in the middle of what shows. All else follows from how the piece lies and is folded, so that a
print over a fold stands upside down on one side of it, as it will.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import PlyPile, folded
from paramgen.drawings.front_end.finished_pile import finished_pile
from paramgen.drawings.front_end.lying_prints import NO_PRINTS, Prints, corner
from paramgen.drawings.primitives.drawn_paths import area_seen
from paramgen.drawings.primitives.items import Style
from paramgen.finished.finished_thing import OTHER, FinishedThing
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.cloth import ClothPicture, Cloths
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Face, Side
from paramgen.vocabulary.path import FloatArray, Path
from paramgen.vocabulary.project import Layer

# Where less than so much of what is seen of a piece elsewhere is seen of it, it is not looked at.
_ENOUGH = 0.25

# Less than this of a piece is not looked at, mm².
_SPECK = 4.0

# Small things in a pile that is only looked at for its fabrics, mm.
_EM = 1.0


@dataclass(frozen=True, eq=False)
class LookedAt:
    """A piece's right side as one view of the finished thing shows it.

    Parameters
    ----------
    layer : int
    area : float
        How much of it is seen, mm².
    middle : FloatArray
        Of what is seen, mm.
    lies : Path
        How its print lies there, as it is seen.
    """

    layer: int
    area: float
    middle: FloatArray
    lies: Path

    @cached_property
    def upside_down(self) -> bool:
        """Whether the print stands upside down there."""
        corner, _, below = self.lies.points
        return bool(below[1] - corner[1] < -0.5)


def prints_of(thing: FinishedThing, cloths: Cloths) -> Prints:
    """Lay every print so that it stands right in the finished thing.

    Parameters
    ----------
    thing : FinishedThing
    cloths : mapping of name to Cloth
    """
    pictures = {
        number: cloth.picture
        for number, layer in enumerate(thing.layers)
        if not layer.slit and (cloth := cloths.get(layer.fabric)) and cloth.picture
    }
    if not pictures:
        return NO_PRINTS
    start = {number: as_laid(thing.layers[number], pictures[number]) for number in pictures}
    views = [list(_looked_at(pile, side)) for pile, side in _views(thing, start)]
    found: dict[int, BaseGeometry] = dict(start)
    for number, picture in pictures.items():
        best = _best([max(_of(number, seen), default=None, key=_area) for seen in views])
        if best is not None:
            found[number] = _stood_up(start[number], best, picture)
    return found


def upside_down(thing: FinishedThing, cloths: Cloths) -> tuple[str, ...]:
    """The fabrics whose print stands upside down on one side of the closed or finished thing."""
    prints = prints_of(thing, cloths)
    both = list(_views(thing, prints))[:2] if prints else []
    there = {one.layer for pile, side in both for one in _looked_at(pile, side) if one.upside_down}
    return tuple(dict.fromkeys(thing.layers[number].fabric for number in sorted(there)))


def as_laid(layer: Layer, picture: ClothPicture) -> BaseGeometry:
    """A print that stands upright as the piece is laid, a repeat in the middle of the piece."""
    face = layer.up
    if layer.plies > 1:
        face = Face.WRONG if layer.right_sides_in else Face.RIGHT
    x, y = layer.outline.box.centre
    aside = picture.width / 2 * (1.0 if face is Face.RIGHT else -1.0)
    return corner((x - aside, y - picture.height / 2), face=face)


def _views(thing: FinishedThing, prints: Prints) -> Iterator[tuple[PlyPile, Side]]:
    """The finished thing as it is looked at: the front view first."""
    pile = finished_pile(thing, _EM, prints=prints, bare=True)
    outer = pile.outer
    project = thing.project
    if thing.folds_shut:
        halves = next((notion.halves for notion in project.notions if notion.halves), None)
        closed = folded(pile, project.finish.folds, halves[0] if halves else None)
        yield closed, outer
        yield closed, OTHER[outer]
    yield pile, outer
    yield pile, OTHER[outer]


def _looked_at(pile: PlyPile, side: Side) -> Iterator[LookedAt]:
    for ply, room in zip(pile.plies, pile.seen[side], strict=True):
        lies = ply.print_seen(side)
        shown = ply.face(side) is Style.RIGHT_SIDE and room.area > _SPECK
        if lies is not None and shown:
            box = Box(*area_seen(room, side).bounds)
            yield LookedAt(ply.layer, float(room.area), np.array(box.centre), lies)


def _of(number: int, seen: Sequence[LookedAt]) -> Iterator[LookedAt]:
    return (one for one in seen if one.layer == number)


def _area(one: LookedAt | None) -> float:
    return one.area if one else 0.0


def _best(found: Sequence[LookedAt | None]) -> LookedAt | None:
    """Of a piece in each view the first that shows enough of it."""
    most = max(map(_area, found))
    return next((one for one in found if one and one.area >= _ENOUGH * most), None)


def _stood_up(start: BaseGeometry, seen: LookedAt, picture: ClothPicture) -> BaseGeometry:
    """A print as it must lie to stand upright where it is looked at."""
    laid, shown = shapely.get_coordinates(start), seen.lies.points
    # From the piece to the view it is turned or mirrored; what that does is undone.
    turn = (shown[1:] - shown[0]).T @ (laid[1:] - laid[0])
    wanted = seen.middle - np.array((picture.width, picture.height)) / 2
    at = laid[0] + turn.T @ (wanted - shown[0])
    return shapely.LineString([at, at + turn.T[:, 0], at + turn.T[:, 1]])
