"""Strips by first fit, the highest pieces first: as people do by eye, and where choosing starts."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from paramgen.kits.strip_sizes import ChosenStrip, InStrip, SizeToCut, StripStock

_Lie = Callable[[Sequence[tuple[int, int]]], tuple[int, int]]


@dataclass
class _Row:
    stock: int
    height: int
    left: int
    pieces: list[InStrip] = field(default_factory=list)


def first_fit(sizes: Sequence[SizeToCut], stocks: Sequence[StripStock]) -> tuple[ChosenStrip, ...]:
    """Lay every piece in the first strip that has room; the best of the ways to turn them.

    Parameters
    ----------
    sizes : sequence of SizeToCut
        Each fits the last cloth in one way at least.
    stocks : sequence of StripStock
        In the order in which they are filled; the last is without end.
    """
    tried = (_filled(sizes, stocks, lie) for lie in (_low, _narrow, _given))
    return min(tried, key=lambda strips: length_taken(strips, stocks))


def length_taken(strips: Sequence[ChosenStrip], stocks: Sequence[StripStock]) -> int:
    """Length of all cloth that counts."""
    return sum(one.height for one in strips if stocks[one.stock].costs)


def _filled(
    sizes: Sequence[SizeToCut], stocks: Sequence[StripStock], lie: _Lie
) -> tuple[ChosenStrip, ...]:
    rows: list[_Row] = []
    left = [stock.length for stock in stocks]
    for along, across, piece in sorted(_laid(sizes, stocks, lie), reverse=True):
        row = next((r for r in rows if r.left >= across and r.height >= along), None)
        if row is None:
            place = next(
                place
                for place, stock in enumerate(stocks)
                if stock.takes(across, along) and _long_enough(left[place], along)
            )
            remaining = left[place]
            left[place] = None if remaining is None else remaining - along
            row = _Row(place, along, stocks[place].width)
            rows.append(row)
        row.left -= across
        row.pieces.append(piece)
    return tuple(ChosenStrip(row.stock, row.height, tuple(row.pieces)) for row in rows)


def _laid(
    sizes: Sequence[SizeToCut], stocks: Sequence[StripStock], lie: _Lie
) -> Iterator[tuple[int, int, InStrip]]:
    for place, size in enumerate(sizes):
        ways = [way for way in size.ways if stocks[-1].takes(*way)]
        across, along = lie(ways)
        turned = (across, along) != (size.across, size.along)
        for _ in range(size.count):
            yield along, across, InStrip(place, turned)


def _low(ways: Sequence[tuple[int, int]]) -> tuple[int, int]:
    return min(ways, key=lambda way: way[1])


def _narrow(ways: Sequence[tuple[int, int]]) -> tuple[int, int]:
    return min(ways)


def _given(ways: Sequence[tuple[int, int]]) -> tuple[int, int]:
    return ways[0]


def _long_enough(left: int | None, along: int) -> bool:
    return left is None or left >= along
