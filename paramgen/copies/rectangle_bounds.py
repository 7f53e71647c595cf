"""How many tiles could at most lie in a field, some of them upright and some turned.

Every bound holds for any way of laying them along the axes without overlap. The least of
them is given:

- tiles of one kind alone: as many as in rows, which is exact (`FillRectangle.grid`);
- area: no more than the field has room for, once it is cut down to what sums of widths and
  heights can fill;
- Barnes (Discrete Mathematics 26, 1979, 93-100): m × n tiles are made of 1 × n bars, and of
  1 × m bars, of which a p × q box leaves at least min(r s, (n - r)(n - s)) bare, r and s
  being what is left over when p and q are divided by n;
- conservative scales (Fekete and Schepers, Mathematical Methods of Operations Research 60,
  2004, 311-329): widths and heights measured anew so that what lies side by side never
  measures more than the whole; then areas in the new measures must find room too.
"""

import math
from collections.abc import Iterator, Sequence

from paramgen.copies.copy_tiles import CopyTile, FillRectangle

#: Parts up to which a side is shared out in a conservative scale.
_PARTS = 12


def at_most(field: FillRectangle, tiles: Sequence[CopyTile]) -> int:
    """No more tiles than this lie in a field.

    Parameters
    ----------
    field : FillRectangle
    tiles : sequence of CopyTile
        One kind, or two that are each other turned by 90° but for how far they reach out.

    Examples
    --------
    >>> tiles = [CopyTile(wide=2, high=3), CopyTile(wide=3, high=2)]
    >>> at_most(FillRectangle(wide=5, high=5), tiles), at_most(FillRectangle(wide=1, high=9), tiles)
    (4, 0)
    """
    alone = [field.grid(tile) for tile in tiles]
    if len(set(tiles)) == 1:
        return alone[0]
    if not any(alone):
        return 0
    first, second = tiles
    box = _box(field, tiles)
    areas = set(_areas(box, first, second))
    mixed = max(upright + _beside(upright, areas, alone[1]) for upright in range(alone[0] + 1))
    return max(*alone, min(mixed, barnes(box, (first.wide, first.high))))


def _box(field: FillRectangle, tiles: Sequence[CopyTile]) -> tuple[int, int]:
    """A box in which all tiles lie: the field and the most that any tile reaches out of it.

    Tiles can be pushed to the left and to the top until each lies against others or the edge,
    so that more than the largest sum of their sides is never filled.
    """
    wide = field.wide + max(one.left for one in tiles) + max(one.right for one in tiles)
    high = field.high + max(one.top for one in tiles) + max(one.bottom for one in tiles)
    sides = tiles[0].wide, tiles[0].high
    return filled(wide, sides), filled(high, sides)


def filled(length: int, sides: tuple[int, int]) -> int:
    """The largest sum of whole numbers of two lengths that is not more than a length.

    Examples
    --------
    >>> filled(10, (3, 4)), filled(11, (4, 6)), filled(2, (3, 4))  # 3 + 3 + 4, 4 + 6
    (10, 10, 0)
    """
    one, other = sides
    return max(
        (count * one + (length - count * one) // other * other)
        for count in range(max(0, length) // one + 1)
    )


def barnes(box: tuple[int, int], tile: tuple[int, int]) -> int:
    """Bound of Barnes for tiles that may lie either way, all lengths whole.

    Examples
    --------
    In 5 by 5, of 2 by 3, one square stays bare at least, and 24 / 6 is 4, which a pinwheel reaches:

    >>> barnes((5, 5), (2, 3)), barnes((0, 5), (2, 3))
    (4, 0)
    """
    part = math.gcd(*tile)
    p, q = (side // part for side in box)
    sides = [side // part for side in tile]
    bare = 0
    for side in sides:
        r, s = p % side, q % side
        bare = max(bare, min(r * s, (side - r) * (side - s)))
    return (p * q - bare) // (sides[0] * sides[1])


# --- Conservative scales ------------------------------------------------------------------

#: What an upright and a turned tile measure, and what the whole box does.
Areas = tuple[int, int, int]


def _areas(box: tuple[int, int], first: CopyTile, second: CopyTile) -> Iterator[Areas]:
    """What both kinds of tile measure in every pair of scales."""
    across = list(scales(box[0], (first.wide, second.wide)))
    down = list(scales(box[1], (first.high, second.high)))
    for wide_0, wide_1, wide in across:
        for high_0, high_1, high in down:
            yield wide_0 * high_0, wide_1 * high_1, wide * high


def scales(whole: int, sides: tuple[int, int]) -> Iterator[Areas]:
    """Measure two sides anew, each with what the whole then measures.

    However many of the sides lie side by side within the whole: their new measures do not
    come to more than that of the whole.
    """
    one, other = sides
    if min(sides) > whole or whole <= 0:
        return
    yield one, other, whole
    for parts in range(2, min(_PARTS, whole // min(sides) + 1) + 1):
        yield _shared(one, whole, parts), _shared(other, whole, parts), whole * (parts - 1)
    for least in dict.fromkeys(whole - side + 1 for side in sides):
        if 0 < least <= whole // 2:
            yield _coarse(one, whole, least), _coarse(other, whole, least), whole


def _shared(side: int, whole: int, parts: int) -> int:
    """A side in whole parts, one part less counted; exact multiples as they are.

    The function u(k) of Fekete and Schepers, k = parts - 1, times k times the whole.
    """
    if side * parts % whole == 0:
        return side * (parts - 1)
    return side * parts // whole * whole


def _coarse(side: int, whole: int, least: int) -> int:
    """All of the whole for a side that leaves no room for the least; nothing for less than it.

    The function U(e) of Fekete and Schepers, e the least.
    """
    if side > whole - least:
        return whole
    return side if side >= least else 0


def _beside(upright: int, areas: set[Areas], most: int) -> int:
    """How many turned tiles could at most lie beside so many upright ones."""
    for area, turned, whole in areas:
        left = whole - upright * area
        if left < 0:
            return -upright  # not even the upright ones
        if turned:
            most = min(most, left // turned)
    return most
