"""The largest and the smallest of two sizes at once that work in a hoop."""

import math
from collections.abc import Iterator
from itertools import islice

import numpy as np
import shapely

from paramgen.fit.nearest_sizes import SLACK
from paramgen.fit.remembered_checks import RememberedChecks, TriedEnoughError
from paramgen.fit.size_ranges import edge, limits, mm
from paramgen.fit.size_regions import regions
from paramgen.hooping import Room, largest, largest_together
from paramgen.lengths import MOST, TOLERANCE, round_up
from paramgen.making import resizing
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point

#: So many sizes are rehearsed at most while all sizes that work are looked for: of a wallet each
#: takes up to a third of a second.
MOST_SURVEYED = 80

#: So many more, hoop by hoop, from the best that was found.
MOST_SETTLING = 16

#: How many marks at the boundary are asked about, and how many of them by the numbers alone.
MOST_ASKED, MOST_NUMBERS = 60, 600

#: What is found may lie so many marks inside of what works.
INSIDE = 4


@dataclass(frozen=True)
class Both:
    """Both sizes, or none.

    Parameters
    ----------
    values : dict of name to mm, or None
        Whole marks of what is shown; a size that follows from the other may be left out. None
        if nothing that was tried works.
    tried : int
        How many sizes were rehearsed, where the search was ended by that; else 0.
    """

    values: dict[str, float] | None
    tried: int = 0


def largest_both(asking: RememberedChecks, room: Room) -> Both:
    """Find the largest of both sizes, by their product.

    Parameters
    ----------
    asking : RememberedChecks
    room : Room
    """
    sized = asking.sized
    together = largest_together(sized, room, resizing(asking.order, sized), asking.works)
    if together and not asking.against(together, room):
        return Both(together)
    first, second, *_ = asking.sizes({})
    entries = asking.order.recipe.file.sizes
    least = [entries[name].least or 0.0 for name in (first, second)]
    if all(room.over((least[turned], least[not turned])) != (0.0, 0.0) for turned in room.ways):
        return Both(None)  # nothing needs less than its own size
    if alike := _alike(asking, first, second, room):
        return Both(alike)
    return _Looking(asking, room, first, second, by=1).found()


def smallest_both(asking: RememberedChecks, room: Room) -> Both:
    """Find the smallest of both sizes, by their product.

    Parameters
    ----------
    asking : RememberedChecks
    room : Room
    """
    first, second, *_ = asking.sizes({})
    mark = SHOWN_TO[asking.unit]
    least = {name: round_up(mm(limits(asking, name)[0]), mark) for name in (first, second)}
    if not asking.against(least, room):
        return Both(least)
    return _Looking(asking, room, first, second, by=-1).found()


def _alike(
    asking: RememberedChecks, first: str, second: str, room: Room
) -> dict[str, float] | None:
    """The largest of both sizes where the recipe's numbers want them alike; else None."""
    entries, mark = asking.order.recipe.file.sizes, SHOWN_TO[asking.unit]
    low = max(entries[name].least or mark for name in (first, second))
    high = min(entries[name].most or MOST for name in (first, second))

    def found(turned: bool) -> float:
        return largest(
            low,
            high,
            lambda value: asking.excess({first: value, second: value}, room, turned=turned),
            step=mark,
        )

    best = max(found(turned) for turned in room.ways)
    pair = {first: best, second: best}
    others = [{**pair, name: best - mark} for name in pair]
    if not best or asking.against(pair, room) or not all(map(asking.by_numbers, others)):
        return None
    return pair


@dataclass(frozen=True)
class _Looking:
    """Looks for both sizes in a region, the largest (by 1) or the smallest (by -1)."""

    asking: RememberedChecks
    room: Room
    first: str
    second: str
    by: int

    def found(self) -> Both:
        asking = self.asking
        tried = 0
        pair: dict[str, float] | None = None
        try:
            # Of all hoops together: what is surveyed for one is known for the next.
            with asking.at_most(MOST_SURVEYED):
                area = regions(asking, self.first, self.second, (self.room,)).hoops[0].area
                pair = self._at_boundary(area)
        except TriedEnoughError:
            tried, pair = asking.rehearsals, self._best_known()
        if pair is not None:
            with asking.at_most(asking.rehearsals + MOST_SETTLING):
                pair = self._settled(pair, None if tried else INSIDE)
        return Both(pair, tried and asking.rehearsals)

    @property
    def _mark(self) -> float:
        return SHOWN_TO[self.asking.unit]

    def _merit(self, pair: Point) -> tuple[float, float]:
        """The less the better; of equal areas the squarer."""
        return -self.by * round(pair[0] * pair[1], 6), abs(pair[0] - pair[1])

    def _at_boundary(self, area: shapely.Geometry) -> dict[str, float] | None:
        """The best pair of marks at the boundary of a region that works."""
        close = sorted(self._marks(area, -SLACK), key=self._merit)
        able = (one for one in islice(close, MOST_NUMBERS) if not self._numbers(one))
        for one in islice(able, MOST_ASKED):
            if not self.asking.against(self._pair(one), self.room):
                return self._pair(one)
        inside = sorted(self._marks(area, SLACK), key=self._merit)
        for one in islice(inside, MOST_ASKED):
            if not self.asking.against(self._pair(one), self.room):
                return self._pair(one)
        return None

    def _marks(self, area: shapely.Geometry, inside: float) -> Iterator[Point]:
        """Marks from so far inside the boundary on, across which one size is at its end."""
        if shapely.is_empty(area):
            return
        mark = self._mark
        left, low, right, high = shapely.bounds(area)
        xs = np.arange(math.ceil((left - SLACK) / mark), (right + SLACK) / mark) * mark
        strips = shapely.box(xs - SLACK, low - 1, xs + SLACK, high + 1)
        ends = shapely.bounds(shapely.intersection(strips, area))[:, 1 if self.by < 0 else 3]
        for x, end in zip(xs, ends, strict=True):
            if np.isnan(end):
                continue
            start = (end - self.by * inside) / mark
            whole = math.ceil(start - TOLERANCE) if self.by < 0 else math.floor(start + TOLERANCE)
            for place in range(INSIDE + 1):
                y = (whole - self.by * place) * mark
                yield round(float(x), 9), round(float(y), 9)

    def _pair(self, at: Point) -> dict[str, float]:
        return {self.first: at[0], self.second: at[1]}

    def _numbers(self, at: Point) -> tuple[Finding, ...]:
        return self.asking.by_numbers(self._pair(at))

    def _best_known(self) -> dict[str, float] | None:
        """The best of all sizes that the rehearsal let pass and the field takes."""
        known = [(one[self.first], one[self.second]) for one in self.asking.sound()]
        for one in sorted(known, key=self._merit):
            if not self.asking.by_field(self._pair(one), self.room):
                return self._pair(one)
        return None

    def _settled(self, pair: dict[str, float], reach: int | None) -> dict[str, float]:
        """A pair from which neither size goes further, as far as that may be asked."""
        best = self._on_marks(pair)
        for name in (self.first, self.second, self.first):
            best = self._moved(best, name, reach)
        return best

    def _on_marks(self, pair: dict[str, float]) -> dict[str, float]:
        mark = self._mark
        whole = math.ceil if self.by < 0 else math.floor
        found = {
            name: round(whole(value / mark + self.by * TOLERANCE) * mark, 9)
            for name, value in pair.items()
        }
        return pair if self._refused(found) else found

    def _moved(self, pair: dict[str, float], name: str, reach: int | None) -> dict[str, float]:
        """A pair with one size as far as it goes, with the other as it is."""
        best, mark = pair, self._mark
        start = round(pair[name] / mark)
        least, most = (mm(end) / mark for end in limits(self.asking, name))
        end = math.floor(most + TOLERANCE) if self.by > 0 else math.ceil(least - TOLERANCE)
        if reach is not None:
            end = min(end, start + reach) if self.by > 0 else max(end, start - reach)

        def against(place: int) -> tuple[Finding, ...]:
            nonlocal best
            other = {**pair, name: round(place * mark, 9)}
            reasons = self._refused(other)
            if not reasons and (other[name] - best[name]) * self.by > 0:
                best = other
            return reasons

        if (end - start) * self.by > 0:
            edge(against, start, end)
        return best

    def _refused(self, pair: dict[str, float]) -> tuple[Finding, ...]:
        """What speaks against a pair; what may be rehearsed no more is not taken."""
        try:
            return self.asking.against(pair, self.room)
        except TriedEnoughError:
            return (Finding("not-tried", Severity.CANNOT),)
