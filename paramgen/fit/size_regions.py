"""Which pairs of two sizes work, as a region: in any hoop, and in each that is asked about."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise

import shapely

from paramgen.fit.region_columns import ColumnSlice, RegionColumn, area, chains, corners, on_line
from paramgen.fit.region_in_field import HoopField
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import SizeSearch, between, edge, limits, mm, steps
from paramgen.fit.working_stretches import LOOKS, NUMBERS_ASKED, stretches
from paramgen.hooping import Room
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point

#: Slices that a region is first looked at in, from the least to the most of a size.
FIRST_LOOKS = 3

#: Most slices a region is made of.
MOST_SLICES = 60

#: A boundary that changes by more than so many steps between two columns may jump there.
JUMP = 50

#: Both sizes in whole steps.
RegionCorner = tuple[int, int]


@dataclass(frozen=True)
class RegionSide:
    """A stretch of a region's boundary along which one thing binds.

    Parameters
    ----------
    points : tuple of Point
        (first size, second size), mm; two or more.
    binds : Finding
    """

    points: tuple[Point, ...]
    binds: Finding


@dataclass(frozen=True)
class SizeRegion:
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


@dataclass(frozen=True, kw_only=True)
class SizeRegions:
    """A recipe's regions.

    Parameters
    ----------
    first, second : str
        The two sizes.
    asked : Point
        Where the sizes asked for lie, mm.
    whole : SizeRegion
        Without regard to any hoop.
    sides : tuple of RegionSide
        What binds along its boundary.
    hoops : tuple of SizeRegion
        For each hoop asked about, in their order.
    """

    first: str
    second: str
    asked: Point
    whole: SizeRegion
    sides: tuple[RegionSide, ...]
    hoops: tuple[SizeRegion, ...]


def regions(
    asking: RememberedChecks, first: str, second: str, rooms: Sequence[Room]
) -> SizeRegions:
    """Find which pairs of two sizes work, the others as asked.

    Parameters
    ----------
    asking : RememberedChecks
    first, second : str
        Names of two sizes.
    rooms : sequence of Room
        Hoops to find the part for that fits them.

    Returns
    -------
    SizeRegions
        Boundaries are found column by column to `STEP`, and are straight in between where a
        column tried between says so. What parts them there is found where the recipe's numbers
        say it at one of many places; what only the rehearsal finds between columns can be missed.
    """
    trace = _Trace(asking, first, second)
    slices = trace.slices()
    whole, links = chains(slices)
    runs = [corners(chain) for chain in whole]
    parts = [*runs, *links]
    asked = asking.sizes({})

    def in_room(room: Room) -> shapely.Geometry:
        fields = [HoopField(asking, first, second, room, turned) for turned in room.ways]
        return shapely.union_all([field.part(part) for field in fields for part in parts])

    return SizeRegions(
        first=first,
        second=second,
        asked=(asked[first], asked[second]),
        whole=SizeRegion(None, shapely.union_all([area(part) for part in parts])),
        sides=tuple(side for side in trace.sides(slices, runs) if len(set(side.points)) > 1),
        hoops=tuple(SizeRegion(room, in_room(room)) for room in rooms),
    )


@dataclass(frozen=True)
class _Trace:
    asking: RememberedChecks
    first: str
    second: str

    def search(self, at: int) -> SizeSearch:
        return SizeSearch(self.asking, self.second, None, {self.first: mm(at)})

    def slice(self, at: int, *guesses: Sequence[RegionColumn]) -> ColumnSlice:
        """Where the second size works at a value of the first."""
        known = [one for guess in guesses for one in guess]
        ends = [(one.least, one.most) for one in known]
        # What works a step aside says well enough where to look.
        looks = 0 if any(abs(one.at - at) == 1 for one in known) else LOOKS
        found = stretches(self.search(at), ends, looks=looks)
        return tuple(RegionColumn(at, *ends) for ends in found)

    def slices(self) -> list[ColumnSlice]:
        """Slices that the region is straight between, from the least of the first size up."""
        low, high = limits(self.asking, self.first)
        asked = steps(self.asking.sizes({})[self.first])
        places = sorted({low, *between(low, high, FIRST_LOOKS), high, min(max(asked, low), high)})
        found: dict[int, ColumnSlice] = {}
        for place in places:
            found[place] = self.slice(place, *list(found.values())[-1:])
        straight = {
            stretch
            for left, middle, right in zip(places, places[1:], places[2:], strict=False)
            if 4 * min(middle - left, right - middle) >= right - left
            and _in_line(found[left], found[middle], found[right])
            for stretch in ((left, middle), (middle, right))
            if not self._parted(found, *stretch)
        }
        for left, right in pairwise(places):
            if (left, right) not in straight:
                self._between(found, left, right)
        return [part for _, part in sorted(found.items())]

    def _between(
        self, found: dict[int, ColumnSlice], left: int, right: int, bend: int | None = None
    ) -> None:
        """Look between two slices until the boundary is known.

        Where it only bends at one of them, they are halved: along a curve the next step would stop
        an end again, and again the next.
        """
        if right - left <= 1 or len(found) >= MOST_SLICES:
            return
        one, other = found[left], found[right]
        middle = (left + right) // 2
        parted = self._parted(found, left, right)
        if len(one) == len(other) and not parted:
            guess = [on_line(*pair, middle) for pair in zip(one, other, strict=True)]
            found[middle] = here = self.slice(middle, guess)
            if _in_line(one, here, other) or not (guess or here):
                return
        curved = bend in (left, right)
        jump: tuple[int, ...] = ()
        if not parted and not (curved and one and other):
            jump = self._jump(found, left, right, _middles if curved else _ends)
        for place in parted or jump or (middle,):
            if place not in found:
                # Of two neighbours, the one that works says where to look at the other.
                near = (found[at] for at in (place - 1, place + 1) if at in found)
                found[place] = self.slice(place, one, other, *near)
        if jump and not _leaps(*(found[place] for place in jump)):
            bend = jump[1]
        for pair in pairwise(sorted(place for place in found if left <= place <= right)):
            self._between(found, *pair, bend)

    def _parted(self, found: Mapping[int, ColumnSlice], left: int, right: int) -> tuple[int, ...]:
        """Where the recipe's numbers part two slices with as many columns, if they do.

        The last place before that and the next, on either side.
        """
        one, other = found[left], found[right]
        if len(one) != len(other) or right - left <= 1:
            return ()
        low, high = limits(self.asking, self.first)
        stride = max(1, (high - low) // NUMBERS_ASKED)
        for column, facing in zip(one, other, strict=True):

            def against(
                at: int, column: RegionColumn = column, facing: RegionColumn = facing
            ) -> tuple[Finding, ...]:
                here = on_line(column, facing, at)
                return self.search(at).numbers((here.least + here.most) // 2)

            for place in range(left + stride, right, stride):
                if against(place):
                    last, first = edge(against, left, place), edge(against, right, place)
                    return last, last + 1, first, first - 1
        return ()

    def _jump(
        self,
        found: Mapping[int, ColumnSlice],
        left: int,
        right: int,
        heights: Callable[[ColumnSlice], list[int]],
    ) -> tuple[int, ...]:
        """Where what works at some heights stops: the last place before that, and the next."""
        for at, towards in ((left, right), (right, left)):
            for height in heights(found[at]):
                facing = found[towards]
                if any(part.least - JUMP <= height <= part.most + JUMP for part in facing):
                    continue
                across = SizeSearch(self.asking, self.first, None, {self.second: mm(height)})
                place = edge(across.first, at, towards)
                if place not in (left, right):
                    return place, place + (1 if towards == right else -1)
        return ()

    def sides(
        self, slices: Sequence[ColumnSlice], runs: Sequence[Sequence[RegionColumn]]
    ) -> Iterator[RegionSide]:
        """What binds along the boundary of chains of columns."""
        places = [part[0].at if part else None for part in slices]
        for columns in runs:
            yield from self._along(columns)
            for column, by in ((columns[0], -1), (columns[-1], 1)):
                index = places.index(column.at) + by
                beyond = slices[index] if 0 <= index < len(slices) else ()
                for upright in _uncovered(column, beyond):
                    yield _side(upright, self._stops_first(*upright, column.at, by))

    def _along(self, columns: Sequence[RegionColumn]) -> Iterator[RegionSide]:
        """What binds below and above a chain."""
        for by in (-1, 1):
            ends = [(column.at, column.least if by < 0 else column.most) for column in columns]
            stretch: list[RegionCorner] = []
            last: Finding | None = None
            for one, other in pairwise(ends):
                reason = self._binds(one, other, by)
                if last is None or reason.about != last.about:
                    if last is not None:
                        yield _side(stretch, last)
                    stretch, last = [one], reason
                stretch.append(other)
            if last is not None:
                yield _side(stretch, last)

    def _binds(self, one: RegionCorner, other: RegionCorner, by: int) -> Finding:
        """What binds between two ends of columns, the least (by -1) or the most (by 1)."""
        if other[0] - one[0] == 1 and abs(other[1] - one[1]) > JUMP:
            narrower = (other[1] - one[1]) * by < 0
            return self._stops_first(one, other, *((one[0], 1) if narrower else (other[0], -1)))
        first, last = (self._stops_second(place, by) for place in (one, other))
        if first.about == last.about:
            return first
        return self._stops_second(((one[0] + other[0]) // 2, (one[1] + other[1]) // 2), by)

    def _stops_second(self, place: RegionCorner, by: int) -> Finding:
        return self.search(place[0]).end(place[1], by).binds[0]

    def _stops_first(
        self, one: RegionCorner, other: RegionCorner, at: int, towards: int
    ) -> Finding:
        """What stops the first size half-way up between two places."""
        values = {self.second: mm((one[1] + other[1]) // 2)}
        return SizeSearch(self.asking, self.first, None, values).end(at, towards).binds[0]


def _in_line(left: ColumnSlice, middle: ColumnSlice, right: ColumnSlice) -> bool:
    """Whether the columns of a slice, if it has any, lie in line with those on both sides."""
    return 0 < len(left) == len(middle) == len(right) and not any(
        on_line(one, other, here.at).differs(here)
        for one, here, other in zip(left, middle, right, strict=True)
    )


def _ends(columns: ColumnSlice) -> list[int]:
    return [height for column in columns for height in (column.least, column.most)]


def _middles(columns: ColumnSlice) -> list[int]:
    return [(column.least + column.most) // 2 for column in columns]


def _leaps(one: ColumnSlice, other: ColumnSlice) -> bool:
    """Whether the boundary leaps between two neighbouring slices, and does not only bend there."""
    return len(one) != len(other) or any(
        max(abs(here.least - there.least), abs(here.most - there.most)) > JUMP
        for here, there in zip(one, other, strict=True)
    )


def _side(places: Sequence[RegionCorner], binds: Finding) -> RegionSide:
    return RegionSide(tuple((mm(x), mm(y)) for x, y in places), binds)


def _uncovered(
    column: RegionColumn, beyond: ColumnSlice
) -> Iterator[tuple[RegionCorner, RegionCorner]]:
    """The parts of a column beyond which nothing works."""
    least = column.least
    for other in beyond:
        if other.least > least and least <= column.most:
            yield (column.at, least), (column.at, min(column.most, other.least))
        least = max(least, other.most)
    if least < column.most or not beyond:
        yield (column.at, least), (column.at, column.most)
