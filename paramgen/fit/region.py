"""Which pairs of two sizes work, as a region: in any hoop, and in each that is asked about."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import shapely

from paramgen.fit.asking import Asking, Reason
from paramgen.fit.column import Column, area, corners, on_line
from paramgen.fit.in_field import Field
from paramgen.fit.ranges import Search, between, edge, limits, mm, range_of
from paramgen.geometry.path import Point
from paramgen.hooping import Room

#: Columns that a region is first looked at in, from the least to the most of a size.
FIRST_LOOKS = 3

#: Most columns a region is made of.
MOST_COLUMNS = 40

#: A boundary that changes by more than so many steps between two columns may jump there.
JUMP = 50

#: Both sizes in whole steps.
Place = tuple[int, int]


@dataclass(frozen=True)
class Side:
    """A stretch of a region's boundary along which one thing binds.

    Parameters
    ----------
    points : tuple of Point
        (first size, second size), mm; two or more.
    binds : Reason
    """

    points: tuple[Point, ...]
    binds: Reason


@dataclass(frozen=True)
class Region:
    """The pairs of sizes that work.

    Parameters
    ----------
    room : Room or None
        None for no hoop in particular.
    area : shapely geometry
        (first size, second size), mm: polygons, or lines where one follows from the other;
        empty where nothing works.
    """

    room: Room | None
    area: shapely.Geometry


@dataclass(frozen=True)
class Regions:
    """A recipe's regions.

    Parameters
    ----------
    first, second : str
        The two sizes.
    asked : Point
        Where the sizes asked for lie, mm.
    whole : Region
        Without regard to any hoop.
    sides : tuple of Side
        What binds along its boundary.
    hoops : tuple of Region
        For each hoop asked about, in their order.
    """

    first: str
    second: str
    asked: Point
    whole: Region
    sides: tuple[Side, ...]
    hoops: tuple[Region, ...]


def regions(asking: Asking, first: str, second: str, rooms: Sequence[Room]) -> Regions:
    """Find which pairs of two sizes work, the others as asked.

    Parameters
    ----------
    asking : Asking
    first, second : str
        Names of two sizes.
    rooms : sequence of Room
        Hoops to find the part for that fits them.

    Returns
    -------
    Regions
        Boundaries are found column by column to `STEP`, and are straight in between where a
        column tried in the middle says so.
    """
    trace = _Trace(asking, first, second)
    runs = trace.runs()
    asked = asking.sizes({})

    def in_room(room: Room) -> shapely.Geometry:
        fields = [Field(asking, first, second, room, turned) for turned in room.ways]
        return shapely.union_all([field.part(run) for field in fields for run in runs])

    return Regions(
        first,
        second,
        (asked[first], asked[second]),
        Region(None, shapely.union_all([area(run) for run in runs])),
        tuple(side for run in runs for side in trace.sides(run) if len(set(side.points)) > 1),
        tuple(Region(room, in_room(room)) for room in rooms),
    )


@dataclass(frozen=True)
class _Trace:
    asking: Asking
    first: str
    second: str

    def search(self, at: int) -> Search:
        return Search(self.asking, self.second, None, {self.first: mm(at)})

    def column(self, at: int, guess: Column | None = None) -> Column | None:
        """Where the second size works at a value of the first, by a guess if that holds."""
        if guess is not None and (guessed := self._guessed(at, guess)) is not None:
            return guessed
        found = range_of(self.asking, self.second, None, {self.first: mm(at)})
        if found is None:
            return None
        return Column(at, *(round(end.value / mm(1)) for end in (found.least, found.most)))

    def _guessed(self, at: int, guess: Column) -> Column | None:
        """The column round a guess, if both ends of that work."""
        against = self.search(at).whole
        if against(guess.least) or against(guess.most):
            return None
        low, high = limits(self.asking, self.second)
        least, most = guess.least, guess.most
        if least > low and not against(least - 1):
            least = edge(against, least, low)
        if most < high and not against(most + 1):
            most = edge(against, most, high)
        return Column(at, least, most)

    def runs(self) -> list[list[Column]]:
        """Columns that the region is straight between, parted where nothing works."""
        low, high = limits(self.asking, self.first)
        asked = round(self.asking.sizes({})[self.first] / mm(1))
        places = sorted({low, *between(low, high, FIRST_LOOKS), high, min(max(asked, low), high)})
        found: dict[int, Column | None] = {}
        for place in places:
            found[place] = self.column(place, _last(found))
        for place in places:
            # Where one size follows from the other, what works is met by chance or on the line.
            beside = _beside(found, place)
            if found[place] is None and beside is not None:
                found[place] = self._guessed(place, on_line(*beside, place))
        for left, right in pairwise(places):
            self._between(found, left, right)
        in_order = (column for _, column in sorted(found.items()))
        parts = groupby(in_order, key=lambda column: column is None)
        runs = ([column for column in part if column is not None] for _, part in parts)
        return [corners(run) for run in runs if run]

    def _between(self, found: dict[int, Column | None], left: int, right: int) -> None:
        """Look between two columns until the boundary is known."""
        if right - left <= 1 or len(found) >= MOST_COLUMNS:
            return
        one, other = found[left], found[right]
        middle = (left + right) // 2
        if one is not None and other is not None:
            guess = on_line(one, other, middle)
            here = self.column(middle, guess)
            if here is not None and not here.differs(guess):
                found[middle] = here
                return
        elif one is None and other is None:
            return
        jump = self._jump(left, one, right, other)
        if jump is None:
            last = one or other
            assert last is not None
            half = (last.least + last.most) // 2
            found[middle] = self.column(middle, Column(middle, half, half))
            jump = (middle, middle)
        for place, beside in zip(jump, (one, other), strict=True):
            if place not in found:
                found[place] = self.column(place, beside)
        self._between(found, left, jump[0])
        self._between(found, jump[1], right)

    def _jump(
        self, left: int, one: Column | None, right: int, other: Column | None
    ) -> tuple[int, int] | None:
        """The two neighbouring places between which an end of the columns jumps, if one does."""
        for column, facing, towards in ((one, other, right), (other, one, left)):
            if column is None:
                continue
            for height in (column.least, column.most):
                if facing is not None and facing.least - JUMP <= height <= facing.most + JUMP:
                    continue
                across = Search(self.asking, self.first, None, {self.second: mm(height)})
                place = edge(across.whole, column.at, towards)
                if place in (left, right):
                    continue
                return (place, place + 1) if towards == right else (place - 1, place)
        return None

    def sides(self, columns: Sequence[Column]) -> Iterator[Side]:
        """What binds along the boundary of a run of columns."""
        for by in (-1, 1):
            ends = [(column.at, column.least if by < 0 else column.most) for column in columns]
            stretch: list[Place] = []
            last: Reason | None = None
            for one, other in pairwise(ends):
                reason = self._binds(one, other, by)
                if last is None or reason.about != last.about:
                    if last is not None:
                        yield _side(stretch, last)
                    stretch, last = [one], reason
                stretch.append(other)
            if last is not None:
                yield _side(stretch, last)
        for column, towards in ((columns[0], -1), (columns[-1], 1)):
            upright = ((column.at, column.least), (column.at, column.most))
            yield _side(upright, self._stops_first(*upright, column.at, towards))

    def _binds(self, one: Place, other: Place, by: int) -> Reason:
        """What binds between two ends of columns, the least (by -1) or the most (by 1)."""
        if other[0] - one[0] == 1 and abs(other[1] - one[1]) > JUMP:
            narrower = (other[1] - one[1]) * by < 0
            return self._stops_first(one, other, *((one[0], 1) if narrower else (other[0], -1)))
        first, last = (self._stops_second(place, by) for place in (one, other))
        if first.about == last.about:
            return first
        return self._stops_second(((one[0] + other[0]) // 2, (one[1] + other[1]) // 2), by)

    def _stops_second(self, place: Place, by: int) -> Reason:
        return self.search(place[0]).end(place[1], by).binds[0]

    def _stops_first(self, one: Place, other: Place, at: int, towards: int) -> Reason:
        """What stops the first size half-way up between two places."""
        values = {self.second: mm((one[1] + other[1]) // 2)}
        return Search(self.asking, self.first, None, values).end(at, towards).binds[0]


def _side(places: Sequence[Place], binds: Reason) -> Side:
    return Side(tuple((mm(x), mm(y)) for x, y in places), binds)


def _last(found: dict[int, Column | None]) -> Column | None:
    return next((column for column in reversed(found.values()) if column is not None), None)


def _beside(found: dict[int, Column | None], at: int) -> tuple[Column, Column] | None:
    """The columns nearest to a place on either side, if there are such."""
    columns = [column for _, column in sorted(found.items()) if column is not None]
    left = [column for column in columns if column.at < at]
    right = [column for column in columns if column.at > at]
    return (left[-1], right[0]) if left and right else None
