"""Columns that a region of two sizes is made of: where the second works at one first size.

Between two values of the first size the region is straight if one between says so; else the
place is looked for where an end stops, which is where a boundary leaps or bends, or they are
halved. Columns go on in one another where there are as many, and part or meet where there are not.
"""

from collections.abc import Sequence
from itertools import pairwise

import shapely

from paramgen.fit.size_ranges import mm
from paramgen.vocabulary.frozen_data import dataclass

#: A boundary that leaves the straight line by no more than so many steps is straight: as much
#: as rounding both to whole steps may make of it.
STRAIGHT = 1


@dataclass(frozen=True)
class RegionColumn:
    """A stretch in which the second size works, at one value of the first.

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

    def overlaps(self, other: "RegionColumn") -> bool:
        """Whether some second size works at both."""
        return max(self.least, other.least) <= min(self.most, other.most)

    def differs(self, other: "RegionColumn") -> bool:
        """Whether an end lies elsewhere, by more than what counts as straight."""
        return max(abs(self.least - other.least), abs(self.most - other.most)) > STRAIGHT


#: All columns at one value of the first size, the smallest second sizes first.
ColumnSlice = tuple[RegionColumn, ...]


def chains(
    slices: Sequence[ColumnSlice],
) -> tuple[list[list[RegionColumn]], list[list[RegionColumn]]]:
    """Columns that hang together from slice to slice.

    Returns
    -------
    chains : list of list of RegionColumn
        Where two slices have as many columns, each goes on in the one that takes its turn.
    links : list of list of RegionColumn
        Two each, that overlap where columns part or meet between two slices.
    """
    done: list[list[RegionColumn]] = []
    links: list[list[RegionColumn]] = []
    going: list[list[RegionColumn]] = []
    before: ColumnSlice = ()
    for here in slices:
        if len(before) != len(here):
            links += ([one, other] for one in before for other in here if one.overlaps(other))
            done += going
            going = [[] for _ in here]
        for chain, column in zip(going, here, strict=True):
            chain.append(column)
        before = here
    return [*done, *going], links


def on_line(one: RegionColumn, other: RegionColumn, at: int) -> RegionColumn:
    """The column at a place if the boundary is straight between two others."""
    if one.at == other.at:
        return one
    part = (at - one.at) / (other.at - one.at)
    least = round(one.least + part * (other.least - one.least))
    return RegionColumn(at, least, max(least, round(one.most + part * (other.most - one.most))))


def corners(columns: Sequence[RegionColumn]) -> list[RegionColumn]:
    """Leave out columns that lie in line with their neighbours."""
    kept: list[RegionColumn] = []
    for index, column in enumerate(columns):
        inner = kept and index + 1 < len(columns)
        if not inner or on_line(kept[-1], columns[index + 1], column.at).differs(column):
            kept.append(column)
    return kept


def area(columns: Sequence[RegionColumn]) -> shapely.Geometry:
    """What columns enclose: polygons, or lines where they have no height or no width."""
    ends = [[(mm(one.at), mm(height)) for height in (one.least, one.most)] for one in columns]
    if len(ends) == 1:
        low, high = ends[0]
        return shapely.Point(low) if low == high else shapely.LineString(ends[0])
    parts = []
    for (low, high), (next_low, next_high) in pairwise(ends):
        flat = low == high and next_low == next_high
        ring = [low, next_low, next_high, high]
        parts.append(shapely.LineString([low, next_low]) if flat else shapely.Polygon(ring))
    return shapely.union_all(parts)
