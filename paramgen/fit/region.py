"""Which pairs of two sizes work, as a region: in any hoop, and in each that is asked about."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely

from paramgen.fit.asking import Asking, Reason
from paramgen.fit.ranges import End, Search, between, edge, limits, mm, range_of
from paramgen.geometry.path import Point
from paramgen.hooping import Room, largest

#: Columns that a region is first looked at in, from the least to the most of a size.
FIRST_LOOKS = 6

#: Most columns a region is made of.
MOST_COLUMNS = 40

#: A boundary that leaves the straight line by no more than so many steps is straight.
STRAIGHT = 2

#: A boundary that changes by more than so many steps between two columns may jump there.
JUMP = 50


@dataclass(frozen=True)
class Column:
    """Where the second size works, at one value of the first.

    Parameters
    ----------
    at : int
        The first size, in whole steps.
    least, most : int
        The second size, in whole steps.
    """

    at: int
    least: int
    most: int


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
    columns = trace.columns()
    asked = asking.sizes({})
    return Regions(
        first,
        second,
        (asked[first], asked[second]),
        Region(None, _area(columns)),
        tuple(side for side in trace.sides(columns) if len(set(side.points)) > 1),
        tuple(Region(room, trace.in_room(columns, room)) for room in rooms),
    )


@dataclass(frozen=True)
class _Trace:
    asking: Asking
    first: str
    second: str

    def search(self, at: int, room: Room | None = None) -> Search:
        return Search(self.asking, self.second, room, {self.first: mm(at)})

    def column(self, at: int, guess: Column | None = None) -> Column | None:
        """Where the second size works at a value of the first, by a guess if that holds."""
        against = self.search(at).whole
        if guess is not None and not against(guess.least) and not against(guess.most):
            low, high = limits(self.asking, self.second)
            least, most = guess.least, guess.most
            if least > low and not against(least - 1):
                least = edge(against, least, low)
            if most < high and not against(most + 1):
                most = edge(against, most, high)
            return Column(at, least, most)
        found = range_of(self.asking, self.second, None, {self.first: mm(at)})
        if found is None:
            return None
        return Column(at, *(round(end.value / mm(1)) for end in (found.least, found.most)))

    def columns(self) -> list[Column]:
        """Columns that the region is straight between."""
        low, high = limits(self.asking, self.first)
        asked = round(self.asking.sizes({})[self.first] / mm(1))
        places = sorted({low, *between(low, high, FIRST_LOOKS), high, min(max(asked, low), high)})
        found: dict[int, Column | None] = {}
        for place in places:
            found[place] = self.column(place, _last(found))
        for left, right in pairwise(places):
            self._between(found, left, right)
        return _corners([column for _, column in sorted(found.items()) if column is not None])

    def _between(self, found: dict[int, Column | None], left: int, right: int) -> None:
        """Look between two columns until the boundary is known."""
        if right - left <= 1 or len(found) >= MOST_COLUMNS:
            return
        one, other = found[left], found[right]
        if one is None and other is None:
            return
        jump = self._jump(left, one, right, other)
        if jump is not None:
            for place, guess in ((jump[0], one), (jump[1], other)):
                if place not in found:
                    found[place] = self.column(place, guess)
            self._between(found, left, jump[0])
            self._between(found, jump[1], right)
            return
        if one is None or other is None:
            return
        middle = (left + right) // 2
        guess = _on_line(one, other, middle)
        found[middle] = here = self.column(middle, guess)
        if here is None or max(abs(here.least - guess.least), abs(here.most - guess.most)) > (
            STRAIGHT
        ):
            self._between(found, left, middle)
            self._between(found, middle, right)

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
        """What binds along the boundary."""
        for by, name in ((-1, "least"), (1, "most")):
            stretch: list[Point] = []
            reason: Reason | None = None
            for column in columns:
                place = getattr(column, name)
                end: End = self.search(column.at).end(place, by)
                point = (mm(column.at), mm(place))
                if reason is not None and end.binds[0].code != reason.code:
                    yield Side(tuple(stretch), reason)
                    stretch = stretch[-1:]
                reason = end.binds[0]
                stretch.append(point)
            if reason is not None:
                yield Side(tuple(stretch), reason)
        for column, by in ((columns[0], -1), (columns[-1], 1)) if columns else ():
            middle = (column.least + column.most) // 2
            across = Search(self.asking, self.first, None, {self.second: mm(middle)})
            ends = tuple((mm(column.at), mm(one)) for one in (column.least, column.most))
            yield Side(ends, across.end(column.at, by).binds[0])

    def in_room(self, columns: Sequence[Column], room: Room) -> shapely.Geometry:
        """The part of the region that lies in a hoop, either way round."""
        return shapely.union_all([self._one_way(columns, room, way) for way in room.ways])

    def _one_way(self, columns: Sequence[Column], room: Room, turned: bool) -> shapely.Geometry:
        kept: list[Column] = []
        before: Column | None = None
        for column in columns:
            part = self._in_field(column, room, turned)
            if part is None and before is not None and kept:
                last = self._last_fitting(before, column, room, turned)
                part = self._in_field(last, room, turned)
                if part is not None:
                    kept.append(part)
                break
            if part is not None:
                kept.append(part)
            before = column
        found = {column.at: column for column in kept}
        for one, other in pairwise(kept):
            self._bent(found, one, other, lambda column: self._in_field(column, room, turned))
        return _area([column for _, column in sorted(found.items())])

    def _bent(
        self,
        found: dict[int, Column],
        one: Column,
        other: Column,
        part: Callable[[Column], Column | None],
    ) -> None:
        """Add what lies between two columns where the field does not cut them in a line."""
        middle = (one.at + other.at) // 2
        if other.at - one.at < JUMP or len(found) >= MOST_COLUMNS:
            return
        guess = _on_line(one, other, middle)
        here = part(guess)
        if here is not None and abs(here.most - guess.most) <= STRAIGHT:
            return
        if here is not None:
            found[middle] = here
            self._bent(found, one, here, part)
            self._bent(found, here, other, part)

    def _in_field(self, column: Column, room: Room, turned: bool) -> Column | None:
        """The part of a column whose stitches lie in a field."""

        def excess(value: float) -> float | None:
            values = {self.first: mm(column.at), self.second: value}
            return self.asking.excess(values, room, turned=turned)

        most = largest(mm(column.least), mm(column.most), excess, step=mm(1))
        return Column(column.at, column.least, round(most / mm(1))) if most else None

    def _last_fitting(self, one: Column, other: Column, room: Room, turned: bool) -> Column:
        """The last column between two that lies in a field at its least."""

        def excess(value: float) -> float | None:
            here = _on_line(one, other, round(value / mm(1)))
            values = {self.first: value, self.second: mm(here.least)}
            return self.asking.excess(values, room, turned=turned)

        last = largest(mm(one.at), mm(other.at), excess, step=mm(1))
        return _on_line(one, other, round(last / mm(1)) or one.at)


def _last(found: dict[int, Column | None]) -> Column | None:
    return next((column for column in reversed(found.values()) if column is not None), None)


def _on_line(one: Column, other: Column, at: int) -> Column:
    """The column at a place if the boundary is straight between two others."""
    part = (at - one.at) / (other.at - one.at)
    least = round(one.least + part * (other.least - one.least))
    return Column(at, least, max(least, round(one.most + part * (other.most - one.most))))


def _corners(columns: Sequence[Column]) -> list[Column]:
    """Leave out columns that lie in line with their neighbours."""
    kept: list[Column] = []
    for index, column in enumerate(columns):
        if kept and index + 1 < len(columns):
            guess = _on_line(kept[-1], columns[index + 1], column.at)
            if max(abs(guess.least - column.least), abs(guess.most - column.most)) <= STRAIGHT:
                continue
        kept.append(column)
    return kept


def _area(columns: Sequence[Column]) -> shapely.Geometry:
    """What columns enclose: polygons, or lines where they have no height."""
    parts = []
    for one, other in pairwise(columns):
        corners = [(c.at, c.least) for c in (one, other)] + [(c.at, c.most) for c in (other, one)]
        ring = [(mm(x), mm(y)) for x, y in corners]
        flat = one.least == one.most and other.least == other.most
        parts.append(shapely.LineString(ring[:2]) if flat else shapely.Polygon(ring))
    if len(columns) == 1:
        (only,) = columns
        parts.append(
            shapely.LineString([(mm(only.at), mm(only.least)), (mm(only.at), mm(only.most))])
        )
    return shapely.union_all(parts)
