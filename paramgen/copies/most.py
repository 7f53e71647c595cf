"""How many copies of a project lie in a hoop at once."""

from contextlib import suppress
from dataclasses import dataclass

from paramgen.copies.bounds import at_most
from paramgen.copies.footprint import field_of, tile_of
from paramgen.copies.packing import most_found
from paramgen.copies.tiles import Tile
from paramgen.findings import CannotMakeError
from paramgen.hooping import Room, Stitched, stitch
from paramgen.sizing import Sized


@dataclass(frozen=True)
class Most:
    """How many copies there is room for.

    Parameters
    ----------
    count : int
        So many were found room for.
    bound : int
        More than so many could not lie there, each in the rectangle round all that is its.
    """

    count: int
    bound: int

    @property
    def exact(self) -> bool:
        """Whether no more can lie there."""
        return self.count == self.bound


@dataclass(frozen=True)
class Ways:
    """A project stitched each way round that it may lie, and the room each takes.

    Parameters
    ----------
    stitched : tuple of Stitched
        As it is; and turned by 90°, if it may be.
    tiles : tuple of Tile
    """

    stitched: tuple[Stitched, ...]
    tiles: tuple[Tile, ...]


def ways_of(sized: Sized, *, may_turn: bool = True) -> Ways:
    """Stitch a project each way round.

    Raises
    ------
    CannotMakeError
        If it cannot be made as it is. Turned, it is left out where it cannot.
    """
    found = [stitch(sized)]
    if may_turn:
        with suppress(CannotMakeError):  # a line that the grid spoils when it is turned
            found.append(stitch(sized, turned=True))
    return Ways(tuple(found), tuple(tile_of(one) for one in found))


def most_of(ways: Ways, room: Room) -> Most:
    """How many copies of a stitched project there is room for."""
    field = field_of(room)
    return Most(len(most_found(field, ways.tiles)), at_most(field, ways.tiles))


def most_copies(sized: Sized, room: Room) -> Most:
    """How many copies of a project there is room for in a hoop.

    Parameters
    ----------
    sized : Sized
    room : Room
        The hoop, and whether copies may lie turned.

    Raises
    ------
    CannotMakeError
        If not even one can be made.

    Notes
    -----
    Copies are laid out in rectangles: each is given the one round all that is laid, taped
    and cut, `BETWEEN` from the next. Whether one can be made at all, and whether it is
    sound, is not asked: see `paramgen.making.make`.
    """
    return most_of(ways_of(sized, may_turn=room.may_turn), room)
