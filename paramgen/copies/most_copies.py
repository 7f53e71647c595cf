"""How many copies of a project lie in a hoop at once, and how."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial

import shapely

from paramgen.copies.claimed_area import CUT, claim_of
from paramgen.copies.copy_tiles import CopyTile, FillRectangle, TileSpot
from paramgen.copies.footprint import field_of, needle_box, tile_of
from paramgen.copies.nesting import NestingShape, ShapeTurn, nested, without_holes
from paramgen.copies.packing import TileSpots, in_rows_both_ways, laid, most_found
from paramgen.copies.rectangle_bounds import at_most
from paramgen.copies.shape_bounds import most_shapes
from paramgen.copies.shared_sheets import sheet_pieces
from paramgen.hooping import Room
from paramgen.layout.copies_apart import put, taken
from paramgen.sizing import Sized
from paramgen.stitches.needle_points import GRID_MM
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain
from paramgen.works import AFRESH, Stitched, Works


@dataclass(frozen=True)
class CopiesThatFit:
    """How many copies there is room for.

    Parameters
    ----------
    count : int
        So many were found room for.
    bound : int
        More than so many could not lie there: each in the rectangle round all that is its, or
        on one sheet in what it claims of it.
    """

    count: int
    bound: int

    @property
    def exact(self) -> bool:
        """Whether no more can lie there."""
        return self.count == self.bound


@dataclass(frozen=True)
class StitchedTurns:
    """A project stitched each way round that it may lie, and the room each takes.

    Parameters
    ----------
    stitched : tuple of Stitched
        As it is; and turned by 90°, if it may be. On one sheet also half-turned, after each.
    tiles : tuple of CopyTile
        The rectangle that each takes, with half of what is kept free between two.
    sheets : frozenset of str
        The pieces that are one sheet over all copies.
    shape : NestingShape or None
        What each claims of a sheet; None if there is none. Where the grain minds, none lie turned
        by 90° beside others that do not.
    """

    stitched: tuple[Stitched, ...]
    tiles: tuple[CopyTile, ...]
    sheets: frozenset[str] = frozenset()
    shape: NestingShape | None = None

    @property
    def rows(self) -> tuple[tuple[int, ...], ...]:
        """Which rectangles may lie beside each other in rows: those that are not half-turned."""
        if self.shape is None:
            return (tuple(range(len(self.tiles))),)
        kinds = [tuple(one for one in ways if one % 2 == 0) for ways in self.shape.together]
        return tuple(sorted(kinds, key=len, reverse=True)) if len(kinds) > 2 else tuple(kinds)


def ways_of(
    sized: Sized, *, may_turn: bool = True, singly: bool = False, works: Works = AFRESH
) -> tuple[StitchedTurns, ...]:
    """Stitch a project each way round, with one sheet over all copies and without.

    Parameters
    ----------
    sized : Sized
    may_turn : bool
        Whether copies may lie turned by 90°.
    singly : bool
        Never one sheet over all copies.
    works : Works
        Keeps what was worked out.

    Returns
    -------
    tuple of StitchedTurns
        The one to be preferred first.

    Raises
    ------
    CannotMakeError
        If it cannot be made as it is. Turned, it is left out where it cannot.
    """
    found = [works.stitched(sized)]
    if may_turn:
        with suppress(CannotMakeError):  # a line that the grid spoils when it is turned
            found.append(works.stitched(sized, turned=True))
    alone = StitchedTurns(tuple(found), tuple(tile_of(one) for one in found))
    sheets = frozenset[str]() if singly else sheet_pieces(found[0].project)
    return (_on_sheets(sized, found, sheets, works), alone) if sheets else (alone,)


def _on_sheets(
    sized: Sized, found: Sequence[Stitched], sheets: frozenset[str], works: Works
) -> StitchedTurns:
    first = found[0].project
    claim = claim_of(first, sheets)
    own = shapely.transform(claim, lambda points: taken(points, first.placed[0]))
    every, tiles, ways = [], [], []
    for upright in found:
        for half in (False, True):
            turned = upright.project.turned
            one = works.stitched(sized, turned=turned, half=True) if half else upright
            where = one.project.placed[0]
            there = shapely.transform(own, partial(put, where=where))
            every.append(one)
            tiles.append(tile_of(one, Box(*there.bounds), CUT))
            ways.append(_way(one))
    grained = any(one.grain is not Grain.ANY for one in first.pieces if one.name in sheets)
    area = shapely.transform(own.buffer(CUT / 2), lambda points: points / GRID_MM)
    numbers = tuple(range(len(ways)))
    pairs = tuple(numbers[at : at + 2] for at in numbers[::2])
    together = pairs if grained or len(pairs) == 1 else (*pairs, numbers)
    shape = NestingShape(without_holes(area), tuple(ways), together)
    return StitchedTurns(tuple(every), tuple(tiles), sheets, shape)


def _way(one: Stitched) -> ShapeTurn:
    """The way round that one lies, in tenths of a millimetre."""
    left, top, right, bottom = needle_box(one)
    where = one.project.placed[0]
    x, y = (round(side / GRID_MM) for side in where.move)
    return ShapeTurn(where.turned + 2 * where.half, x - left, y - top, right - left, bottom - top)


def most_of(every: Sequence[StitchedTurns], room: Room) -> CopiesThatFit:
    """How many copies of a stitched project there is room for."""
    field = field_of(room)
    bounds = [bound_of(ways, field) for ways in every]
    count = 0
    for ways, bound in zip(every, bounds, strict=True):
        if bound > count:
            count = max(count, len(_most_spots(ways, field, bound)))
    return CopiesThatFit(count, max(count, *bounds))


def bound_of(ways: StitchedTurns, field: FillRectangle) -> int:
    """No more copies than this lie in a field."""
    if ways.shape is None:
        return at_most(field, ways.tiles)
    return most_shapes(field, ways.shape)


def spots_for(
    every: Sequence[StitchedTurns], room: Room, wanted: int
) -> tuple[StitchedTurns, TileSpots] | None:
    """Lay so many copies: in rows if they fit so; else mixed, or head to tail.

    Returns
    -------
    (StitchedTurns, tuple of TileSpot) or None
        None if no room is found for so many.
    """
    field = field_of(room)
    for ways in every:
        found = _spots_for(ways, field, wanted)
        if found is not None:
            return ways, found
    return None


def _spots_for(ways: StitchedTurns, field: FillRectangle, wanted: int) -> TileSpots | None:
    for kinds in ways.rows:
        found = laid(field, [ways.tiles[kind] for kind in kinds], wanted)
        if found is not None:
            return _as_kinds(found, kinds)
    bound = bound_of(ways, field) if ways.shape else 0
    if bound < wanted:
        return None
    found = _head_to_tail(ways, field, bound, wanted)
    return found[:wanted] if len(found) >= wanted else None


def _most_spots(ways: StitchedTurns, field: FillRectangle, bound: int) -> TileSpots:
    best: TileSpots = ()
    for kinds in ways.rows:
        found = most_found(field, [ways.tiles[kind] for kind in kinds])
        best = max(best, _as_kinds(found, kinds), key=len)
    if ways.shape and len(best) < bound:
        best = max(best, _head_to_tail(ways, field, bound), key=len)
    return best


def _head_to_tail(
    ways: StitchedTurns, field: FillRectangle, bound: int, wanted: int | None = None
) -> TileSpots:
    """Lay as many as can be found room for, or so many as are wanted, half-turned too."""
    enough = wanted or bound
    pairs = range(0, len(ways.tiles), 2)
    rows = [in_rows_both_ways(field, *ways.tiles[at : at + 2]) for at in pairs]
    found = [_as_kinds(spots, (at, at + 1)) for spots, at in zip(rows, pairs, strict=True)]
    best = max(found, key=len)
    if len(best) < enough:
        best = max(best, _nested_spots(ways, field, bound, wanted), key=len)
    return _whole_one_first(best)


def _whole_one_first(spots: TileSpots) -> TileSpots:
    """In order, the first of them not half-turned: it is the one that is shown and rehearsed."""
    spots = tuple(sorted(spots, key=lambda spot: (spot.y, spot.x, spot.kind)))
    first = next((at for at, spot in enumerate(spots) if spot.kind % 2 == 0), 0)
    return (*spots[first : first + 1], *spots[:first], *spots[first + 1 :])


def _as_kinds(spots: TileSpots, kinds: Sequence[int]) -> TileSpots:
    return tuple(replace(spot, kind=kinds[spot.kind]) for spot in spots)


def _nested_spots(
    ways: StitchedTurns, field: FillRectangle, bound: int, wanted: int | None = None
) -> TileSpots:
    assert ways.shape is not None
    places = nested(field, ways.shape, bound=bound, wanted=wanted)
    if all(way % 2 for way, _, _ in places):  # the other way up, then
        places = tuple(
            (way - 1, field.wide - lying.wide - x, field.high - lying.high - y)
            for way, x, y in places
            for lying in [ways.shape.ways[way]]
        )
    return tuple(
        TileSpot(way, x - ways.tiles[way].left, y - ways.tiles[way].top) for way, x, y in places
    )


def most_copies(sized: Sized, room: Room, *, singly: bool = False) -> CopiesThatFit:
    """How many copies of a project there is room for in a hoop.

    Parameters
    ----------
    sized : Sized
    room : Room
        The hoop, and whether copies may lie turned.
    singly : bool
        Never one sheet over all copies.

    Raises
    ------
    CannotMakeError
        If not even one can be made.

    Notes
    -----
    Copies are laid out in rectangles: each is given the one round all that is laid, taped
    and cut, `BETWEEN` from the next. On one sheet it is given what it claims of that, the trim
    line and its own pieces, `CUT` from the next. Whether one can be made at all, and whether it
    is sound, is not asked: see `paramgen.making.make`.
    """
    return most_of(ways_of(sized, may_turn=room.may_turn, singly=singly), room)
