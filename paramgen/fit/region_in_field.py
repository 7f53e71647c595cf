"""The part of a region whose stitches lie in a hoop's field.

Pairs of columns are cut on the ground that larger sizes never need less of a field.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import shapely

from paramgen.fit.region_columns import STRAIGHT, RegionColumn, area, on_line
from paramgen.fit.remembered_checks import HOOP, RememberedChecks
from paramgen.fit.size_ranges import edge, mm
from paramgen.hooping import Room
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass

#: Columns nearer to each other than so many steps are not looked between.
NEAR = 50

#: Most columns between two of the region's.
MOST_COLUMNS = 40

#: Across and down the hoop.
AXES = (0, 1)


@dataclass(frozen=True)
class HoopField:
    """A hoop's field, and which way round the project lies in it.

    Larger sizes never need less of a field: what fits is looked for on that ground.

    Parameters
    ----------
    asking : RememberedChecks
    first, second : str
        Names of two sizes.
    room : Room
    turned : bool
    """

    asking: RememberedChecks
    first: str
    second: str
    room: Room
    turned: bool

    def part(self, columns: Sequence[RegionColumn]) -> shapely.Geometry:
        """The part in the field of a region that is straight between its columns."""
        pairs = tuple(pairwise(columns)) or tuple((one, one) for one in columns)
        return shapely.union_all([self._between(one, other) for one, other in pairs])

    def _between(self, one: RegionColumn, other: RegionColumn) -> shapely.Geometry:
        fits = self._fitting(one, other, lambda column: column.least)
        if fits is None:
            return shapely.GeometryCollection()
        first, last = (on_line(one, other, at) for at in fits)
        # Between these the field does not cut the region at all.
        uncut = self._fitting(first, last, lambda column: column.most) or ()
        places = sorted({*fits, *uncut})
        found = {at: self._cut(on_line(one, other, at)) for at in places}
        for left, right in pairwise(places):
            self._bent(found, one, other, found[left], found[right])
        return area([column for _, column in sorted(found.items())])

    def _fitting(
        self, one: RegionColumn, other: RegionColumn, height: Callable[[RegionColumn], int]
    ) -> tuple[int, int] | None:
        """First and last place between two columns where a height on them fits, if any does."""
        low, high = one.at, other.at
        for axis in AXES:

            def against(at: int, axis: int = axis) -> tuple[Finding, ...]:
                return self._against(at, height(on_line(one, other, at)), (axis,))

            if not against(low):
                high = edge(against, low, high)
            elif not against(high):
                low = edge(against, high, low)
            else:
                return None
        return low, high

    def _cut(self, column: RegionColumn) -> RegionColumn:
        """The part of a column in the field, if its least is."""

        def against(height: int) -> tuple[Finding, ...]:
            return self._against(column.at, height, AXES)

        return replace(column, most=edge(against, column.least, column.most))

    def _bent(
        self,
        found: dict[int, RegionColumn],
        one: RegionColumn,
        other: RegionColumn,
        left: RegionColumn,
        right: RegionColumn,
    ) -> None:
        """Add columns where the field does not cut the region in a line."""
        if right.at - left.at < NEAR or len(found) >= MOST_COLUMNS:
            return
        middle = (left.at + right.at) // 2
        here = self._cut(on_line(one, other, middle))
        if abs(here.most - on_line(left, right, middle).most) > STRAIGHT:
            found[middle] = here
            self._bent(found, one, other, left, here)
            self._bent(found, one, other, here, right)

    def _against(self, at: int, height: int, axes: tuple[int, ...]) -> tuple[Finding, ...]:
        """What sticks out at a place, or next to it where nothing can be stitched there."""
        # A straight boundary may run so far outside of what works.
        nearby = sorted(range(-STRAIGHT, STRAIGHT + 1), key=lambda by: (abs(by), -by))
        for by in nearby:
            values = {self.first: mm(at), self.second: mm(height + by)}
            needs = self.asking.needs(values, turned=self.turned)
            if needs is not None:
                over = max(self.room.over(needs)[axis] for axis in axes)
                return (Finding(HOOP, Severity.CANNOT, amount=2 * over),) if over else ()
        return (Finding(HOOP, Severity.CANNOT),)
