"""The strip that is worth most at given values of its pieces, for every height at once.

A strip is filled like a bag that holds so much width: worked out on a grid of the width, piece by
piece in the order of their heights, so that one pass prices the strips of all heights.
"""

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from paramgen.kits.strip_sizes import InStrip, SizeToCut, StripStock
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: The grid has no more cells: where sizes have no larger common measure they are rounded to it, up
#: for strips and down for what no strip can be worth more than.
MOST_CELLS = 20_000
#: No more columns of pieces behind each other are thought of.
MOST_COLUMNS = 300
#: Values that differ by less are the same.
HAIR = 1e-9


@dataclass(frozen=True, kw_only=True)
class PieceLaid:
    """A size as it lies in a strip: its place among the sizes, and turned or not.

    Others may lie behind it; `along` is the length of all.
    """

    size: int
    turned: bool
    across: int
    along: int
    most: int
    behind: tuple[InStrip, ...] = ()

    @property
    def as_piece(self) -> InStrip:
        """As a strip holds it."""
        return InStrip(self.size, self.turned, self.behind)

    @property
    def held(self) -> Counter[int]:
        """How many of each size it holds."""
        return Counter(one.size for one in self.as_piece.column)

    def worth(self, values: FloatArray) -> float:
        """What its pieces are worth together."""
        return float(sum(values[one.size] for one in self.as_piece.column))


@dataclass(frozen=True)
class StripPattern:
    """What a strip holds: how many of each way that pieces lie, by place among them."""

    stock: int
    height: int
    counts: tuple[tuple[int, int], ...]


class StripPricer:
    """Prices strips of one cloth.

    Parameters
    ----------
    place : int
        Of the cloth.
    sizes : sequence of SizeToCut
    stock : StripStock
    """

    def __init__(self, place: int, sizes: Sequence[SizeToCut], stock: StripStock) -> None:
        self.place, self.width = place, stock.width
        single = list(_ways(sizes, stock))
        columns, self.every_way = _columns(single, sizes, stock) if stock.behind else ([], True)
        self.laid = sorted(
            [*single, *columns], key=lambda one: (one.along, one.across, one.as_piece)
        )
        step = math.gcd(*(one.across for one in self.laid)) or max(1, stock.width)
        self.exact = stock.width // step <= MOST_CELLS
        step = step if self.exact else -(-stock.width // MOST_CELLS)
        self.cells, self._step = stock.width // step, step
        self._up = [-(-one.across // step) for one in self.laid]
        self._down = [one.across // step for one in self.laid]

    def most_worth(self, values: FloatArray) -> dict[int, float]:
        """By height what no strip is worth more than."""
        tables = self._tables(values, self._down)
        return {one.along: float(table[-1]) for one, table in zip(self.laid, tables, strict=True)}

    def best(self, values: FloatArray) -> Iterator[tuple[StripPattern, float]]:
        """For every height the strip that is worth most, and its worth."""
        tables = self._tables(values, self._up)
        last = {one.along: at for at, one in enumerate(self.laid)}
        for height, at in last.items():
            counts = self._traced(values, tables, at)
            if counts:
                worth = sum(self.laid[one].worth(values) * count for one, count in counts)
                top = max(self.laid[one].along for one, _ in counts)
                yield StripPattern(self.place, min(height, top), counts), float(worth)

    def worth_at_least(
        self,
        values: FloatArray,
        needs: Mapping[int, float],
        most: int,
        left: Callable[[], float],
    ) -> tuple[list[StripPattern], bool]:
        """Every full strip whose pieces are worth so much.

        Parameters
        ----------
        values : FloatArray
            Of the sizes.
        needs : mapping of height to float
            What a strip of it must be worth.
        most : int
            No more are listed.
        left : callable
            Seconds left.

        Returns
        -------
        list of StripPattern
        bool
            Whether these are all.
        """
        found: list[StripPattern] = []
        tables = self._tables(values, self._down)
        for height in dict.fromkeys(one.along for one in self.laid):
            top = max(at for at, one in enumerate(self.laid) if one.along == height)
            for counts in self._full(values, tables, top, needs[height] - HAIR):
                if any(self.laid[at].along == height for at, _ in counts):
                    found.append(StripPattern(self.place, height, counts))
                if len(found) > most:
                    return found[:most], False
            if left() <= 0:
                return found, False
        return found, True

    def _full(
        self, values: FloatArray, tables: Sequence[FloatArray], top: int, need: float
    ) -> Iterator[tuple[tuple[int, int], ...]]:
        """Strips of pieces up to a place that are worth enough and have no room for another."""
        counts = [0] * (top + 1)

        def deeper(at: int, room: int, worth: float) -> Iterator[tuple[tuple[int, int], ...]]:
            if at < 0:
                full = all(
                    counts[one] == self.laid[one].most or self.laid[one].across > room
                    for one in range(top + 1)
                )
                if full and worth >= need:
                    yield tuple((one, count) for one, count in enumerate(counts) if count)
                return
            if worth + tables[at][room // self._step] < need:
                return
            weight, value = self.laid[at].across, self.laid[at].worth(values)
            for count in range(min(self.laid[at].most, room // weight), -1, -1):
                counts[at] = count
                yield from deeper(at - 1, room - count * weight, worth + count * value)
            counts[at] = 0

        yield from deeper(top, self.width, 0.0)

    def _tables(self, values: FloatArray, weights: Sequence[int]) -> list[FloatArray]:
        """For each piece: most worth in every width of those up to it."""
        tables = []
        table = np.zeros(self.cells + 1)
        for one, weight in zip(self.laid, weights, strict=True):
            value, left, part = one.worth(values), one.most, 1
            table = table.copy()
            while left > 0 and value > HAIR:
                many = min(part, left)
                wide = many * weight
                if wide <= self.cells:
                    table[wide:] = np.maximum(
                        table[wide:], table[: self.cells + 1 - wide] + many * value
                    )
                left, part = left - many, part * 2
            tables.append(table)
        return tables

    def _traced(
        self, values: FloatArray, tables: Sequence[FloatArray], top: int
    ) -> tuple[tuple[int, int], ...]:
        room, counts = self.cells, []
        for at in range(top, -1, -1):
            before = tables[at - 1] if at else np.zeros(self.cells + 1)
            worth, weight = float(tables[at][room]), self._up[at]
            value = self.laid[at].worth(values)
            most = min(self.laid[at].most, room // weight)
            count = next(
                (
                    count
                    for count in range(most + 1)
                    if before[room - count * weight] + count * value >= worth - HAIR
                ),
                0,
            )
            if count:
                counts.append((at, count))
                room -= count * weight
        return tuple(sorted(counts))


def _ways(sizes: Sequence[SizeToCut], stock: StripStock) -> Iterator[PieceLaid]:
    for place, size in enumerate(sizes):
        for turned, (across, along) in enumerate(size.ways):
            if stock.takes(across, along) and size.count:
                most = min(size.count, stock.width // across)
                yield PieceLaid(
                    size=place, turned=bool(turned), across=across, along=along, most=most
                )


def _columns(
    single: Sequence[PieceLaid], sizes: Sequence[SizeToCut], stock: StripStock
) -> tuple[list[PieceLaid], bool]:
    """Pieces as wide, behind each other, no higher than the highest; and whether these are all."""
    found: list[PieceLaid] = []
    highest = max((one.along for one in single), default=0)
    for across in dict.fromkeys(one.across for one in single):
        alike = [one for one in single if one.across == across]
        for column in _stacked(alike, highest, len(alike) - 1):
            held = Counter(one.size for one in column)
            most = min(sizes[place].count // many for place, many in held.items())
            if most < 1:
                continue
            if len(found) == MOST_COLUMNS:
                return found, False
            first, *behind = column
            found.append(
                PieceLaid(
                    size=first.size,
                    turned=first.turned,
                    across=across,
                    along=sum(one.along for one in column),
                    most=min(most, stock.width // across),
                    behind=tuple(one.as_piece for one in behind),
                )
            )
    return found, True


def _stacked(
    alike: Sequence[PieceLaid], room: int, last: int, begun: tuple[PieceLaid, ...] = ()
) -> Iterator[tuple[PieceLaid, ...]]:
    """Two or more that fit into a room, each choice once: later ones stand no later in the list."""
    for at in range(last, -1, -1):
        one = alike[at]
        if one.along <= room:
            column = (*begun, one)
            if len(column) > 1:
                yield column
            yield from _stacked(alike, room - one.along, at, column)
