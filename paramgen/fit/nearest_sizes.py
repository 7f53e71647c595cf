"""The sizes nearest to those wished for that work."""

from collections.abc import Callable, Iterator
from itertools import islice

import numpy as np
import numpy.typing as npt
import shapely

from paramgen.fit.region_columns import STRAIGHT
from paramgen.fit.remembered_checks import HOOP, RefusalReason, RememberedChecks
from paramgen.fit.size_ranges import STEP, limits, mm, range_of
from paramgen.fit.size_regions import regions
from paramgen.hooping import FAR, Room
from paramgen.lengths import TOLERANCE
from paramgen.vocabulary.path import Point

#: A region is known to this, mm: where it bends between two columns, its boundary lies twice as
#: far off as it may in their middle.
SLACK = 2 * STRAIGHT * STEP

#: How many of the nearest marks are asked about, since some lie just outside of what works.
MOST_ASKED = 100

#: Of so many marks, the nearest first, the recipe's numbers are asked before the region is drawn.
MOST_NUMBERS = 4000

#: So many marks are stitched, and so many refused by the rehearsal, before the region is drawn.
MOST_STITCHED, MOST_REHEARSED = 60, 8

#: By so many marks sizes are changed to see how what they need of a field follows. How much a
#: rehearsal lacks has bends, and is looked at with one mark.
APART = 8

#: Of the marks that were reckoned to lack something, so many are asked about if nothing works.
SPREAD = 8

#: Pairs of sizes, mm, n by 2; one pair; and n answers.
Pairs = npt.NDArray[np.float64]
Pair = npt.NDArray[np.float64]
Marked = npt.NDArray[np.bool_]


def nearest_that_works(
    asking: RememberedChecks, first: str, second: str, wanted: Point, room: Room, mark: float
) -> Point | None:
    """Find the pair of sizes nearest to one wished for.

    Marks are asked about from the nearest outwards; where many are refused, the region that
    works is found first, and only its marks are asked about.

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
    outwards = _Outwards(asking, (first, second), wanted, room, mark)
    try:
        return outwards.nearest()
    except _TooManyError:
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
    ) -> None:
        self._asking, self._names, self._room, self._mark = asking, names, room, mark
        self._wanted = np.array(wanted)
        self._numbers = self._stitched = self._rehearsed = 0

    def nearest(self) -> Point | None:
        """The nearest that works; None if none of all does."""
        left = self._in_order(self._every())
        lacking = too_large = left[:0]  # reckoned to be so, and not asked about
        while len(left):
            at, left = left[0], left[1:]
            against = self._against(at)
            if not against:
                passed = np.vstack([lacking, too_large])
                self._stop_if(self._works_nearer(at, passed))
                return float(at[0]), float(at[1])
            may = self._may_work(at, against[0], left)
            if against[0].code == HOOP:
                too_large = np.vstack([too_large, left[~may]])
                # Larger sizes never need less of a field.
                may &= np.any(left < at - TOLERANCE, axis=1)
            else:
                lacking = np.vstack([lacking, left[~may]])
            left = left[may]
        spread = lacking[:: max(1, len(lacking) // SPREAD)]
        self._stop_if(any(not self._against(one) for one in spread))
        return None

    def _works_nearer(self, at: Pair, passed: Pairs) -> bool:
        """Whether what was passed over works right beside what was found, and is nearer."""
        nearer = self._away(passed) < self._away(at[None])[0]
        beside = np.max(np.abs(passed - at), axis=1) < 1.5 * self._mark
        return any(not self._against(one) for one in passed[nearer & beside])

    def _against(self, at: Pair) -> tuple[RefusalReason, ...]:
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

    def _every(self) -> Pairs:
        """All whole marks within the recipe's limits."""
        axes = []
        for name in self._names:
            least, most = (mm(place) for place in limits(self._asking, name))
            first, last = np.ceil(least / self._mark - 1e-6), np.floor(most / self._mark + 1e-6)
            axes.append(np.round(np.arange(first, last + 1) * self._mark, 9))
        return np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 2)

    def _in_order(self, pairs: Pairs) -> Pairs:
        return pairs[np.lexsort((pairs[:, 1], pairs[:, 0], self._away(pairs)))]

    def _away(self, pairs: Pairs) -> Pairs:
        return np.asarray(np.round(np.hypot(*(pairs - self._wanted).T), 6))

    def _sizes(self, at: Pair) -> dict[str, float]:
        return {name: float(value) for name, value in zip(self._names, at, strict=True)}

    def _may_work(self, at: Pair, reason: RefusalReason, pairs: Pairs) -> Marked:
        """Which pairs may work, reckoned from how far a pair and its neighbours are refused."""
        if reason.code == HOOP:
            plane = self._plane(
                at, lambda one: self._asking.needs(self._sizes(one), turned=False), apart=APART
            )
            if plane is None:
                return np.full(len(pairs), True)
            about = plane(pairs)
            over = [
                np.max((about[:, ::-1] if turned else about) - self._room.field, axis=1) / 2
                for turned in self._room.ways
            ]
            return np.asarray(np.min(over, axis=0) <= FAR)
        plane = (
            self._plane(at, lambda one: self._lacks(one, reason), apart=1)
            if reason.amount
            else None
        )
        if plane is None:
            return np.full(len(pairs), True)
        return np.asarray(plane(pairs)[:, 0] <= FAR)

    def _lacks(self, at: Pair, reason: RefusalReason) -> tuple[float, ...] | None:
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
