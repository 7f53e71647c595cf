"""The sizes nearest to those wished for that work.

Marks are asked from the wish outwards, and each before it is named: far from a slanted edge the
nearest mark is not beside the nearest place. What was refused says of others that they would be: of
a field, since larger sizes never need less of it, and of what is lacking, reckoned from neighbours.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from itertools import islice

import numpy as np
import numpy.typing as npt
import shapely

from paramgen.fit.region_columns import STRAIGHT
from paramgen.fit.remembered_checks import HOOP, RememberedChecks
from paramgen.fit.size_ranges import STEP, limits, mm, range_of
from paramgen.fit.size_regions import regions
from paramgen.hooping import FAR, Room
from paramgen.lengths import TOLERANCE
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.path import Point

#: A region is known to this, mm: where it bends between two columns, its boundary lies twice as
#: far off as it may in their middle.
SLACK = 2 * STRAIGHT * STEP

#: How many of the nearest marks are asked about, since some lie just outside of what works.
MOST_ASKED = 100

#: Of so many marks, the nearest first, the recipe's numbers are asked before the region is drawn.
MOST_NUMBERS = 4000

#: So many marks are stitched, and so many refused by the rehearsal, before the region is drawn.
MOST_STITCHED, MOST_REHEARSED = 60, 12

#: By so many marks sizes are changed to see how what they need of a field follows. How much a
#: rehearsal lacks has bends, and is looked at with one mark.
APART = 8

#: Of the marks that were reckoned to lack something, so many are asked about if nothing works.
SPREAD = 8

#: Marks finer than this, mm, are looked at round the nearest of marks so many times as coarse.
FINE, COARSER = 0.5, 16

#: Pairs of sizes, mm, n by 2; one pair; and n answers.
Pairs = npt.NDArray[np.float64]
Pair = npt.NDArray[np.float64]
Marked = npt.NDArray[np.bool_]

#: So often what is refused for the field is looked at for what its neighbours need.
MOST_FIELDS = 3

#: Which of some pairs may work.
Guess = Callable[[Pairs], Marked]

#: Marks from the wish to the end of the first ring that is looked at; each next is twice as far.
FIRST_RING = 64


def nearest_that_works(
    asking: RememberedChecks, first: str, second: str, wanted: Point, room: Room, mark: float
) -> Point | None:
    """Find the pair of sizes nearest to one wished for.

    Marks are asked about from the nearest outwards, fine ones round the nearest of coarse ones;
    where many are refused, the region that works is found first, and only its marks are asked
    about.

    Parameters
    ----------
    asking : RememberedChecks
    first, second : str
        Names of two sizes.
    wanted : Point
        What is wished for, mm.
    room : Room
    mark : float
        What is found lies on whole marks, mm, unless it is what is wished for.

    Returns
    -------
    Point or None
        By straight distance; None if nothing on whole marks works in this hoop.
    """

    def works(sizes: Point) -> bool:
        return not asking.against(dict(zip((first, second), sizes, strict=True)), room)

    if works(wanted):
        return wanted
    names = (first, second)
    with suppress(_TooManyError):
        if mark >= FINE:
            return _Outwards(asking, names, wanted, room, mark).nearest()
        about = _Outwards(asking, names, wanted, room, mark * COARSER).nearest()
        if about is not None:
            return _Outwards(asking, names, wanted, room, mark, about).nearest() or about
    (region,) = regions(asking, first, second, (room,)).hoops
    tried = islice(marks_in(region.area, wanted, mark), MOST_ASKED)
    return next((sizes for sizes in tried if works(sizes)), None)


class _TooManyError(Exception):
    """Too many marks were refused for asking about each."""


class _Outwards:
    """Marks asked about one by one, the nearest to a place first."""

    def __init__(
        self,
        asking: RememberedChecks,
        names: tuple[str, str],
        wanted: Point,
        room: Room,
        mark: float,
        about: Point | None = None,
    ) -> None:
        self._asking, self._names, self._room, self._mark = asking, names, room, mark
        self._wanted = np.array(wanted)
        self._numbers = self._stitched = self._rehearsed = 0
        self._limits = [[mm(place) for place in limits(asking, name)] for name in names]
        if about is not None:
            reach = 2 * COARSER * mark
            self._limits = [
                [max(least, at - reach), min(most, at + reach)]
                for (least, most), at in zip(self._limits, about, strict=True)
            ]
        #: Which pairs may work after all that was refused: of the field, and of what is lacking.
        self._fit: list[Guess] = []
        self._suffice: list[Guess] = []

    def nearest(self) -> Point | None:
        """The nearest that works; None if none of all does."""
        asked = self._asking.sizes({})
        self._fit += self._in_field(np.array([asked[name] for name in self._names]))
        lacking: list[Pair] = []
        for ring in self._rings():
            enough = _all(self._suffice, ring)
            lacking += [*ring[~enough][:: max(1, len(ring) // SPREAD)]]
            left = ring[enough]
            at = 0
            while at < len(left):
                pair = left[at]
                at += 1
                against = self._against(pair)
                if not against:
                    self._stop_if(self._works_nearer(pair))
                    return float(pair[0]), float(pair[1])
                guesses = self._guesses(pair, against[0])
                if guesses:
                    left, at = left[at:], 0
                    left = left[_all(guesses, left)]
        some = lacking[:: max(1, len(lacking) // SPREAD)]
        self._stop_if(any(not self._against(one) for one in some))
        return None

    def _rings(self) -> Iterator[Pairs]:
        """Whole marks within the limits that may lie in the field, the nearest first, in rings."""
        ends = [
            (np.ceil(least / self._mark - 1e-6), np.floor(most / self._mark + 1e-6))
            for least, most in self._limits
        ]
        corners = np.array([(x, y) for x in ends[0] for y in ends[1]]) * self._mark
        farthest = float(self._away(corners).max())
        inner, outer = -1.0, FIRST_RING * self._mark
        while inner < farthest:
            axes = []
            for (first, last), middle in zip(ends, self._wanted, strict=True):
                low = max(first, np.floor((middle - outer) / self._mark))
                high = min(last, np.ceil((middle + outer) / self._mark))
                axes.append(np.round(np.arange(low, high + 1) * self._mark, 9))
            pairs = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 2)
            away = self._away(pairs)
            here = (away > inner) & (away <= outer)
            here[here] = _all(self._fit, pairs[here])
            pairs, away = pairs[here], away[here]
            yield pairs[np.lexsort((pairs[:, 1], pairs[:, 0], away))]
            inner, outer = outer, 2 * outer

    def _works_nearer(self, at: Pair) -> bool:
        """Whether what was passed over works right beside what was found, and is nearer."""
        around = np.stack(np.meshgrid((-1, 0, 1), (-1, 0, 1)), axis=-1).reshape(-1, 2)
        beside = np.round(at + around * self._mark, 9)
        beside = beside[self._away(beside) < self._away(at[None])[0]]
        passed = beside[~_all([*self._fit, *self._suffice], beside)]
        return any(not self._against(one) for one in passed)

    def _against(self, at: Pair) -> tuple[Finding, ...]:
        """What speaks against a pair."""
        sizes = self._sizes(at)
        self._numbers += 1
        if against := self._asking.by_numbers(sizes):
            self._stop_if(self._numbers >= MOST_NUMBERS)
            return against
        self._stitched += 1
        if against := self._asking.by_field(sizes, self._room):
            self._stop_if(self._stitched >= MOST_STITCHED)
            return against
        if against := self._asking.by_rehearsal(sizes):
            self._rehearsed += 1
            self._stop_if(self._rehearsed >= MOST_REHEARSED)
        return against

    @staticmethod
    def _stop_if(enough: bool) -> None:
        if enough:
            raise _TooManyError

    def _away(self, pairs: Pairs) -> Pairs:
        return np.asarray(np.round(np.hypot(*(pairs - self._wanted).T), 6))

    def _sizes(self, at: Pair) -> dict[str, float]:
        return {name: float(value) for name, value in zip(self._names, at, strict=True)}

    def _guesses(self, at: Pair, reason: Finding) -> list[Guess]:
        """What is known of other pairs where one is refused; it is kept for those to come."""
        if reason.code == HOOP:
            # Larger sizes never need less of a field.
            guesses: list[Guess] = [lambda pairs: np.any(pairs < at - TOLERANCE, axis=1)]
            if len(self._fit) < MOST_FIELDS:
                guesses += self._in_field(at)
            self._fit += guesses
            return guesses
        if not reason.amount:
            return []
        lacks = self._plane(at, lambda one: self._lacks(one, reason), apart=1)
        if lacks is None:
            return []
        self._suffice.append(lambda pairs: lacks(pairs)[:, 0] <= FAR)
        return self._suffice[-1:]

    def _in_field(self, at: Pair) -> list[Guess]:
        """Which pairs may lie in the field, reckoned from what one and its neighbours need."""
        needs = self._plane(at, self._needs, apart=APART)
        return [lambda pairs: self._over(needs(pairs)) <= FAR] if needs else []

    def _needs(self, at: Pair) -> tuple[float, ...] | None:
        return self._asking.needs(self._sizes(at), turned=False)

    def _over(self, needs: Pairs) -> Pairs:
        """By how much stitches that need such fields stick out, the way round that is less."""
        over = [
            np.max((needs[:, ::-1] if turned else needs) - self._room.field, axis=1) / 2
            for turned in self._room.ways
        ]
        return np.asarray(np.min(over, axis=0))

    def _lacks(self, at: Pair, reason: Finding) -> tuple[float, ...] | None:
        """By how much a pair is refused for a reason; None if it is not."""
        sizes = self._sizes(at)
        if self._asking.by_numbers(sizes):
            return None
        reasons = self._asking.by_rehearsal(sizes)
        return next(
            ((one.amount,) for one in reasons if one.code == reason.code and one.amount), None
        )

    def _plane(
        self, at: Pair, value: Callable[[Pair], tuple[float, ...] | None], *, apart: int
    ) -> Callable[[Pairs], Pairs] | None:
        """A value reckoned from a place and its neighbours; None if too little is known."""
        here = value(at)
        if here is None:
            return None
        slopes = []
        for axis in np.eye(2) * apart * self._mark:
            # From a smaller pair, and where that has no value from a larger one.
            beside = ((by, value(at + by * axis)) for by in (-1, 1))
            slope = next(
                ((np.array(end) - here) / by for by, end in beside if end is not None), None
            )
            if slope is None:
                return None
            slopes.append(slope / (apart * self._mark))
        return lambda pairs: np.array(here) + (pairs - at) @ np.array(slopes)


def _all(guesses: Sequence[Guess], pairs: Pairs) -> Marked:
    """Which pairs may work by every one of some guesses."""
    may = np.full(len(pairs), True)
    for guess in guesses:
        may &= guess(pairs)
    return may


def nearest_alone(
    asking: RememberedChecks, name: str, wanted: float, room: Room, mark: float
) -> float | None:
    """Find the value of one size nearest to one wished for, the others as asked.

    Parameters
    ----------
    asking : RememberedChecks
    name : str
    wanted : float
        mm.
    room : Room
    mark : float
        What is found lies on a whole mark, mm, unless it is what is wished for.

    Returns
    -------
    float or None
        mm; None if nothing on a whole mark works in this hoop.
    """

    def works(value: float) -> bool:
        return not asking.against({name: value}, room)

    if works(wanted):
        return wanted
    found = range_of(asking, name, room)
    if found is None:
        return None
    ends = [(found.least.value, 0.0), (found.most.value, 0.0)]
    marks = marks_in(shapely.LineString(ends), (wanted, 0.0), mark)
    tried = islice((value for value, _ in marks), MOST_ASKED)
    return next((value for value in tried if works(value)), None)


def marks_in(area: shapely.Geometry, near: Point, mark: float) -> Iterator[Point]:
    """Whole marks in an area, the nearest to a place first, of equally near the smaller."""
    if shapely.is_empty(area):
        return
    left, low, right, high = shapely.bounds(area)
    across, up = (
        np.round(np.arange(np.ceil((start - SLACK) / mark), (end + SLACK) / mark) * mark, 9)
        for start, end in ((left, right), (low, high))
    )
    points = np.stack(np.meshgrid(across, up, indexing="ij"), axis=-1).reshape(-1, 2)
    shapely.prepare(area)
    points = points[shapely.dwithin(area, shapely.points(points), SLACK)]
    away = np.round(np.hypot(*(points - near).T), 6)
    for x, y in points[np.lexsort((points[:, 1], points[:, 0], away))]:
        yield float(x), float(y)
