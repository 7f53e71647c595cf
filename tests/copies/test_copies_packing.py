"""How many rectangles lie in a field: rows by arithmetic, mixed layouts against what is known.

Published packings: `published_packings.json`, each with its source. Well-known results of
pallet loading are from memory and say so.
"""

import json
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.copies.copy_tiles import CopyTile, FillRectangle, TileSpot
from paramgen.copies.packing import in_rows, laid, most_found
from paramgen.copies.rectangle_bounds import at_most, barnes, filled, scales

PUBLISHED = json.loads((Path(__file__).parent / "published_packings.json").read_text("utf-8"))


def both_ways(
    wide: int, high: int, out: tuple[int, int, int, int] = (0, 0, 0, 0)
) -> list[CopyTile]:
    """A tile as it is, and turned by 90° clockwise: its left side comes to lie at the top."""
    left, top, right, bottom = out
    return [
        CopyTile(wide=wide, high=high, left=left, top=top, right=right, bottom=bottom),
        CopyTile(wide=high, high=wide, left=bottom, top=left, right=top, bottom=right),
    ]


def check(field: FillRectangle, tiles: list[CopyTile], spots: tuple[TileSpot, ...]) -> None:
    """See that no tile reaches farther out of the field than it may, and none meets another."""
    boxes = []
    for spot in spots:
        tile = tiles[spot.kind]
        right, bottom = spot.x + tile.wide, spot.y + tile.high
        assert spot.x >= -tile.left
        assert spot.y >= -tile.top
        assert right <= field.wide + tile.right
        assert bottom <= field.high + tile.bottom
        boxes.append((spot.x, spot.y, right, bottom))
    for place, (a, b, c, d) in enumerate(boxes):
        for e, f, g, h in boxes[:place]:
            assert c <= e or g <= a or d <= f or h <= b


@cache
def fullest(wide: int, high: int, one: int, other: int) -> int:
    """Most rectangles that lie in a small box, either way, by trying everything.

    The first empty cell is covered by a rectangle that has its corner there, or stays empty.
    """
    best = 0
    sizes = {(one, other), (other, one)}

    def go(taken: int, cell: int, count: int) -> None:
        nonlocal best
        best = max(best, count)
        free = wide * high - cell
        if count + free // (one * other) <= best:
            return
        x, y = cell % wide, cell // wide
        if not taken >> cell & 1:
            for across, down in sizes:
                if x + across <= wide and y + down <= high:
                    room = sum(((1 << across) - 1) << (y + row) * wide + x for row in range(down))
                    if not taken & room:
                        go(taken | room, cell + 1, count + 1)
        go(taken, cell + 1, count)

    go(0, 0, 0)
    return best


# --- Rows -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "tile", "count"),
    [
        # 3600 = 3 · 1200, 3500 = 2 · 1500 + 500
        ((3600, 3500), CopyTile(wide=1200, high=1500), 3 * 2),
        ((3599, 3500), CopyTile(wide=1200, high=1500), 2 * 2),
        # Reaching out by 100 at the left and by 200 at the right: 3300 + 300 = 3 · 1200.
        ((3300, 3000), CopyTile(wide=1200, high=1500, left=100, right=200), 3 * 2),
        ((3299, 3000), CopyTile(wide=1200, high=1500, left=100, right=200), 2 * 2),
        ((1000, 1000), CopyTile(wide=1001, high=10), 0),
    ],
)
def test_rows_hold_what_division_says_and_no_more_can(
    field: tuple[int, int], tile: CopyTile, count: int
) -> None:
    region = FillRectangle(wide=field[0], high=field[1])
    spots = in_rows(region, 0, tile)
    check(region, [tile], spots)
    assert len(spots) == count
    assert at_most(region, [tile]) == count


@given(st.integers(1, 6), st.integers(1, 6), st.integers(1, 4))
def test_squares_are_as_many_as_trying_everything_finds(wide: int, high: int, side: int) -> None:
    tiles = both_ways(side, side)
    assert len(most_found(FillRectangle(wide=wide, high=high), tiles)) == fullest(
        wide, high, side, side
    )
    assert at_most(FillRectangle(wide=wide, high=high), tiles) == fullest(wide, high, side, side)


@given(st.integers(200, 4000), st.integers(200, 4000), st.integers(200, 2000), st.data())
def test_so_many_as_wanted_lie_in_rows_if_they_can(
    wide: int, high: int, side: int, data: st.DataObject
) -> None:
    tile = CopyTile(
        wide=side, high=data.draw(st.integers(200, 2000)), left=30, top=40, right=50, bottom=60
    )
    region = FillRectangle(wide=wide, high=high)
    columns, rows = (wide + 80) // tile.wide, (high + 100) // tile.high
    wanted = data.draw(st.integers(1, max(1, columns * rows)))
    spots = laid(region, [tile], wanted)
    assert (spots is not None) == (columns * rows >= wanted)
    if spots:
        check(region, [tile], spots)
        assert len(spots) == wanted
    assert laid(region, [tile], columns * rows + 1) is None


# --- Some this way and some that ----------------------------------------------------------


@given(st.integers(3, 7), st.integers(3, 6), st.integers(1, 4), st.integers(1, 3))
@settings(max_examples=60)
def test_mixed_layouts_are_never_more_nor_bounds_less_than_trying_everything(
    wide: int, high: int, one: int, other: int
) -> None:
    tiles, region, best = (
        both_ways(one, other),
        FillRectangle(wide=wide, high=high),
        fullest(wide, high, one, other),
    )
    spots = most_found(region, tiles)
    check(region, tiles, spots)
    assert len(spots) <= best <= at_most(region, tiles)
    assert best <= barnes((wide, high), (one, other))


#: Pallets with the number of boxes known to be most, from memory: hard ones of the literature
#: on the pallet loading problem (Bischoff and Dowsland, Morabito and Morales, Letchford and
#: Amaral).
PALLETS = [
    ((14, 10), (3, 2), 23),
    ((22, 16), (5, 3), 23),
    ((43, 26), (7, 3), 53),
    ((57, 34), (7, 4), 69),
    ((63, 44), (8, 5), 69),
    ((86, 82), (15, 11), 42),
    ((42, 31), (9, 4), 35),
]


@pytest.mark.parametrize(("pallet", "box", "most"), PALLETS)
def test_known_pallets_lie_between_what_is_found_and_the_bound(
    pallet: tuple[int, int], box: tuple[int, int], most: int
) -> None:
    tiles, region = both_ways(*box), FillRectangle(wide=pallet[0], high=pallet[1])
    spots = most_found(region, tiles)
    check(region, tiles, spots)
    assert len(spots) <= most <= at_most(region, tiles)
    assert len(spots) >= most - 1


def test_the_bound_of_barnes_is_below_that_of_the_area() -> None:
    # 42 · 31 = 1302 = 36 · 36 + 6, so 36 boxes of 9 × 4 have room by their area. 1 × 9 bars:
    # 42 = 4 · 9 + 6, 31 = 3 · 9 + 4, so at least min(6 · 4, 3 · 5) = 15 stay bare, and
    # (1302 - 15) // 36 = 35.
    assert barnes((42, 31), (9, 4)) == 35


def test_four_round_a_middle_lie_where_no_cut_goes_from_edge_to_edge() -> None:
    # 4 of 7 × 3 round a middle of 4 × 4 fill a square of 10: in rows 3, cut across 3.
    tiles, region = both_ways(7, 3), FillRectangle(wide=10, high=10)
    assert max(region.grid(tile) for tile in tiles) == 3
    assert len(most_found(region, tiles)) == fullest(10, 10, 7, 3) == 4


def test_large_tiles_are_bounded_by_more_than_their_area() -> None:
    # 60 × 55 in 100 × 100: by area 3, but any two meet, as each covers the middle.
    assert 100 * 100 // (60 * 55) == 3
    assert at_most(FillRectangle(wide=100, high=100), both_ways(60, 55)) == 1


@pytest.mark.parametrize("one", PUBLISHED, ids=lambda one: one["name"])
def test_no_bound_is_below_what_a_published_packing_holds(one: dict[str, object]) -> None:
    """Each packs all its items in a strip as long as said, so those of one size fit too."""
    items = [tuple(item) for item in one["items"]]  # type: ignore[attr-defined]
    width, fixed, turned = one["width"], one["height_as_they_are"], one["height_turned_at_will"]
    assert isinstance(width, int)
    assert isinstance(fixed, int)
    assert isinstance(turned, int)
    for (wide, high), count in Counter(items).items():
        assert (
            at_most(FillRectangle(wide=width, high=fixed), [CopyTile(wide=wide, high=high)])
            >= count
        )
    for size in {tuple(sorted(item)) for item in items}:
        count = sum(tuple(sorted(item)) == size for item in items)
        tiles, region = both_ways(*size), FillRectangle(wide=width, high=turned)
        most = at_most(region, tiles)
        assert most >= count
        if most < 40:  # to be quick
            spots = most_found(region, tiles)
            check(region, tiles, spots)
            assert len(spots) <= most


@given(st.integers(5, 400), st.integers(1, 400), st.integers(1, 400))
def test_in_no_scale_does_what_lies_side_by_side_measure_more_than_the_whole(
    whole: int, one: int, other: int
) -> None:
    """What makes a scale conservative (Fekete and Schepers, 2004)."""
    for small, large, most in scales(whole, (one, other)):
        for count in range(whole // one + 1):
            beside = (whole - count * one) // other
            assert count * small + beside * large <= most


@given(st.integers(0, 500), st.integers(1, 90), st.integers(1, 90))
def test_what_can_be_filled_is_the_largest_sum(length: int, one: int, other: int) -> None:
    sums = {
        a * one + b * other
        for a in range(length // one + 1)
        for b in range(length // other + 1)
        if a * one + b * other <= length
    }
    assert filled(length, (one, other)) == max(sums)


@given(
    st.integers(800, 4000),
    st.integers(800, 4000),
    st.integers(300, 1600),
    st.integers(300, 1600),
    st.tuples(*[st.integers(0, 300)] * 4),
)
@settings(max_examples=8)
def test_tiles_that_reach_out_lie_apart_and_no_more_than_the_bound(
    wide: int, high: int, one: int, other: int, out: tuple[int, int, int, int]
) -> None:
    tiles, region = both_ways(one, other, out), FillRectangle(wide=wide, high=high)
    spots = most_found(region, tiles)
    check(region, tiles, spots)
    assert max(region.grid(tile) for tile in tiles) <= len(spots) <= at_most(region, tiles)
    assert spots == most_found(region, tiles)
    if spots:
        wanted = laid(region, tiles, len(spots))
        assert wanted is not None
        check(region, tiles, wanted)
