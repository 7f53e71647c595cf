"""Lay as many tiles as can be found room for: in rows, or some upright and some turned.

The mixed layouts are found by cutting the field in two from edge to edge, or in five round
a middle, and each part again (the five-block recursion for pallet loading: Morabito and
Morales, Journal of the Operational Research Society 49, 1998, 819-828). Cuts are only made
where sums of widths or of heights end. The work is bounded, and always the same.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from paramgen.copies.copy_tiles import CopyTile, FillRectangle, TileSpot
from paramgen.copies.rectangle_bounds import at_most

#: Cuts weighed before the search takes what it has.
_WEIGHED = 2_000
#: Parts of parts of parts are cut no further.
_DEPTH = 4

TileSpots = tuple[TileSpot, ...]
#: Parts of a region, each with where its left and top lie in it.
FillParts = tuple[tuple[FillRectangle, int, int], ...]


@dataclass
class _Search:
    """What is being laid, what was found for each region, and the work left."""

    tiles: Sequence[CopyTile]
    found: dict[tuple[FillRectangle, int], TileSpots] = field(default_factory=dict)
    rooms: dict[FillRectangle, int] = field(default_factory=dict)
    left: int = _WEIGHED

    def fill(self, region: FillRectangle, depth: int) -> TileSpots:
        """Lay as many as can be found room for, from the region's left and top."""
        key = (region, depth)
        if key not in self.found:
            self.found[key] = self._fill(region, depth)
        return self.found[key]

    def _fill(self, region: FillRectangle, depth: int) -> TileSpots:
        if depth == 0:
            return max(
                (in_rows(region, kind, tile) for kind, tile in enumerate(self.tiles)), key=len
            )
        best = self.fill(region, depth - 1)
        most = self._room(region)
        if len(best) >= most:
            return best
        for parts in self._cuts(region):
            self.left -= 1
            if self.left < 0:
                break
            if sum(self._room(part) for part, _, _ in parts) <= len(best):
                continue
            laid = [self.fill(part, depth - 1) for part, _, _ in parts]
            if sum(map(len, laid)) > len(best):
                best = tuple(
                    TileSpot(spot.kind, spot.x + x, spot.y + y)
                    for spots, (_, x, y) in zip(laid, parts, strict=True)
                    for spot in spots
                )
                if len(best) >= most:
                    break
        return best

    def _room(self, region: FillRectangle) -> int:
        """More tiles than this do not lie in a region."""
        if region not in self.rooms:
            self.rooms[region] = at_most(region, self.tiles)
        return self.rooms[region]

    def _cuts(self, region: FillRectangle) -> Iterator[FillParts]:
        """Ways to cut a region, each as parts and where they lie in it."""
        across = ends(
            region.wide,
            [tile.wide for tile in self.tiles],
            [tile.left for tile in self.tiles] if region.left else [0],
        )
        down = ends(
            region.high,
            [tile.high for tile in self.tiles],
            [tile.top for tile in self.tiles] if region.top else [0],
        )
        for x in across:
            yield (
                (_part(region, 0, 0, x, region.high), 0, 0),
                (_part(region, x, 0, region.wide, region.high), x, 0),
            )
        for y in down:
            yield (
                (_part(region, 0, 0, region.wide, y), 0, 0),
                (_part(region, 0, y, region.wide, region.high), 0, y),
            )
        for between in combinations(across, 2):
            for beneath in combinations(down, 2):
                yield _round_a_middle(region, between, beneath, one_way=True)
                yield _round_a_middle(region, between, beneath, one_way=False)


def _round_a_middle(
    region: FillRectangle, x: tuple[int, int], y: tuple[int, int], *, one_way: bool
) -> FillParts:
    """Four parts, each along an edge, one way round or the other, and one in the middle."""
    wide, high = region.wide, region.high
    (low_x, high_x), (low_y, high_y) = x, y
    if one_way:
        corners = (
            (0, 0, low_x, high_y),
            (low_x, 0, wide, low_y),
            (high_x, low_y, wide, high),
            (0, high_y, high_x, high),
        )
    else:
        corners = (
            (0, 0, high_x, low_y),
            (high_x, 0, wide, high_y),
            (low_x, high_y, wide, high),
            (0, low_y, low_x, high),
        )
    middle = (low_x, low_y, high_x, high_y)
    return tuple((_part(region, *box), box[0], box[1]) for box in (*corners, middle))


def _part(region: FillRectangle, left: int, top: int, right: int, bottom: int) -> FillRectangle:
    """Part of a region, which keeps the edges of the field that it touches."""
    return FillRectangle(
        wide=right - left,
        high=bottom - top,
        left=region.left and left == 0,
        top=region.top and top == 0,
        right=region.right and right == region.wide,
        bottom=region.bottom and bottom == region.high,
    )


def ends(whole: int, sides: Sequence[int], out: Sequence[int]) -> tuple[int, ...]:
    """Where sums of sides end within a whole, the first reaching out of it by one of the lengths.

    In rising order, the edges of the whole left out.

    Examples
    --------
    >>> ends(10, [3, 4], [0])  # 3, 4, 3 + 3, 3 + 4, 4 + 4 and 3 + 3 + 3
    (3, 4, 6, 7, 8, 9)
    >>> ends(2, [3], [0]), ends(2, [3], [2])  # what reaches out by 2 ends at 1
    ((), (1,))
    """
    far = whole + max(out)
    sums = {0}
    for side in sides:
        sums |= {at + count * side for at in sums for count in range((far - at) // side + 1)}
    return tuple(sorted({at - by for at in sums for by in out if 0 < at - by < whole}))


def in_rows(region: FillRectangle, kind: int, tile: CopyTile) -> TileSpots:
    """All that lie in rows in a region, from its left and top.

    Examples
    --------
    >>> region = FillRectangle(wide=7, high=4)
    >>> [(one.x, one.y) for one in in_rows(region, 0, CopyTile(wide=3, high=4))]
    [(0, 0), (3, 0)]
    >>> in_rows(region, 0, CopyTile(wide=8, high=4))
    ()
    """
    x = -tile.left if region.left else 0
    y = -tile.top if region.top else 0
    return tuple(
        TileSpot(kind, x + column * tile.wide, y + row * tile.high)
        for row in range(region.down(tile))
        for column in range(region.across(tile))
    )


def in_rows_both_ways(region: FillRectangle, tile: CopyTile, half: CopyTile) -> TileSpots:
    """All that lie in rows, those at one end half-turned if what they reach out by helps.

    Parameters
    ----------
    region : FillRectangle
    tile, half : CopyTile
        As it is, and half-turned: kinds 0 and 1.
    """
    wide, high = max(tile.wide, half.wide), max(tile.high, half.high)
    first, last = (
        CopyTile(
            wide=wide,
            high=high,
            left=one.left,
            top=min(tile.top, half.top),
            right=one.right,
            bottom=min(tile.bottom, half.bottom),
        )
        for one in (tile, half)
    )
    across = _ends_turned(region, first, last)
    # The same from the top down: as if all lay mirrored about the diagonal.
    first, last = (
        CopyTile(
            wide=high,
            high=wide,
            left=one.top,
            top=min(tile.left, half.left),
            right=one.bottom,
            bottom=min(tile.right, half.right),
        )
        for one in (tile, half)
    )
    down = _ends_turned(FillRectangle(wide=region.high, high=region.wide), first, last)
    if len(across) >= len(down):
        return across
    return tuple(TileSpot(spot.kind, spot.y, spot.x) for spot in down)


def _ends_turned(region: FillRectangle, tile: CopyTile, half: CopyTile) -> TileSpots:
    """Columns of which the first and the last reach out as far as either can."""
    first, last = int(half.left > tile.left), int(half.right > tile.right)
    kinds = (tile, half)
    room = region.wide + kinds[first].left + kinds[last].right
    columns = room // tile.wide
    if columns < 2:
        return ()
    return tuple(
        TileSpot(
            last if column == columns - 1 else first,
            column * tile.wide - kinds[first].left,
            row * tile.high - tile.top,
        )
        for row in range(region.down(tile))
        for column in range(columns)
    )


def most_found(region: FillRectangle, tiles: Sequence[CopyTile]) -> TileSpots:
    """As many as can be found room for, upright, turned or mixed.

    Parameters
    ----------
    region : FillRectangle
    tiles : sequence of CopyTile
        One kind, or two that are each other turned by 90° but for how far they reach out.

    Returns
    -------
    tuple of TileSpot
        From the top down, and from the left.
    """
    kinds = tiles if len(set(tiles)) > 1 else tiles[:1]
    laid = _Search(kinds).fill(region, _DEPTH if len(kinds) > 1 else 0)
    return tuple(sorted(laid, key=lambda spot: (spot.y, spot.x, spot.kind)))


def laid(region: FillRectangle, tiles: Sequence[CopyTile], wanted: int) -> TileSpots | None:
    """Lay so many tiles: in rows if they fit so, the fewest millimetres round; else mixed.

    Returns
    -------
    tuple of TileSpot or None
        None if no room is found for so many.
    """
    for kind, tile in enumerate(tiles):
        across, down = region.across(tile), region.down(tile)
        if across * down >= wanted:
            columns = min(
                (count for count in range(1, across + 1) if count * down >= wanted),
                key=lambda count: count * tile.wide + -(-wanted // count) * tile.high,
            )
            return tuple(
                TileSpot(
                    kind,
                    -tile.left + place % columns * tile.wide,
                    -tile.top + place // columns * tile.high,
                )
                for place in range(wanted)
            )
    found = most_found(region, tiles)
    return found[:wanted] if len(found) >= wanted else None
