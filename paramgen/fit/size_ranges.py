"""From which size to which a project can be made, found by asking the whole check.

An edge is aimed at by the amount that a finding says is lacking, and halved where that leads
nowhere: exact whatever the amounts, in at most some 25 checks (`edge`).
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field

from paramgen.fit.remembered_checks import LIMIT, RememberedChecks
from paramgen.hooping import FAR, Room, largest
from paramgen.lengths import MOST, TOLERANCE
from paramgen.vocabulary.facts import Mm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass

#: Sizes are found to this, mm.
STEP = 0.1

#: Places from least to most where a size that works is looked for, if the one asked does not.
LOOKS = 32

#: Places inside a range where one that does not work would part it.
PROBES = 3

#: Places inside a range where the recipe's numbers are asked, which costs little.
NUMBERS_ASKED = 16

#: How often the amount that is lacking is followed before halving takes over.
AIMS = 4


#: What speaks against a place; empty if it works.
RangeLimit = Callable[[int], tuple[Finding, ...]]


@dataclass(frozen=True)
class RangeEnd:
    """One end of a range.

    Parameters
    ----------
    value : float
        The last size that works, mm.
    binds : tuple of Finding
        What speaks against the next tenth of a millimetre.
    others : mapping of name to mm
        The other sizes it works with where they are free; empty where they are as asked.
    """

    value: float
    binds: tuple[Finding, ...]
    others: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class SizeRange:
    """The sizes that work: both ends do, and so did all that were tried between them.

    Parameters
    ----------
    name : str
    least, most : RangeEnd
    """

    name: str
    least: RangeEnd
    most: RangeEnd


def range_of(
    asking: RememberedChecks,
    name: str,
    room: Room | None,
    fixed: Mapping[str, float] | None = None,
    *,
    within: SizeRange | None = None,
    probes: int = PROBES,
) -> SizeRange | None:
    """Find from where to where a size works.

    Parameters
    ----------
    asking : RememberedChecks
    name : str
        The size.
    room : Room or None
        None for no hoop in particular.
    fixed : mapping of name to mm
        Other sizes, where they are not as asked.
    within : SizeRange or None
        What was found for no hoop in particular, and need not be found again.
    probes : int
        So many places inside are tried: one that does not work parts the range.

    Returns
    -------
    SizeRange or None
        The range that the size asked for lies in, else one near it; None if no size was found
        that works.
    """
    search = SizeSearch(asking, name, room, dict(fixed or {}))
    if within is not None and (inside := search.inside(within)) is not None:
        first, last = _down(within.least.value), _down(within.most.value)
        last = search.largest_in_field(inside, last)
        first = edge(search.first, inside, edge(search.unfit, inside, first))
        last = edge(search.first, inside, last)
        return SizeRange(name, search.end(first, -1), search.end(last, 1))
    inside = search.inside()
    if inside is None:
        return None
    first, last = limits(asking, name)
    first, last = edge(search.numbers, inside, first), edge(search.numbers, inside, last)
    first, last = _round(search.numbers, inside, first, last, NUMBERS_ASKED)
    first, last = edge(search.unfit, inside, first), search.largest_in_field(inside, last)
    first, last = edge(search.first, inside, first), edge(search.first, inside, last)
    first, last = _round(search.first, inside, first, last, probes)
    return SizeRange(name, search.end(first, -1), search.end(last, 1))


def _round(against: RangeLimit, inside: int, first: int, last: int, count: int) -> tuple[int, int]:
    """The part round a place, of a range both ends of which work, as far as inner places do."""
    for place in between(first, last, count):
        if against(place):
            if place > inside:
                return first, edge(against, inside, place)
            first = edge(against, inside, place)
    return first, last


def limits(asking: RememberedChecks, name: str) -> tuple[int, int]:
    """Least and most of a size that its recipe knows, in whole steps."""
    entry = asking.order.recipe.file.sizes[name]
    least = STEP if entry.least is None else entry.least
    most = MOST if entry.most is None else entry.most
    return math.ceil(least / STEP - TOLERANCE), _down(most)


@dataclass(frozen=True)
class SizeSearch:
    """One size tried in whole steps, which are its places."""

    asking: RememberedChecks
    name: str
    room: Room | None
    others: Mapping[str, float]

    def values(self, place: int) -> dict[str, float]:
        """All sizes that are given, at a place."""
        return {**self.others, self.name: mm(place)}

    def numbers(self, place: int) -> tuple[Finding, ...]:
        """What the recipe's numbers say against a place."""
        return self.asking.by_numbers(self.values(place))

    def unfit(self, place: int) -> tuple[Finding, ...]:
        """What its numbers, shapes and the field say against a place."""
        return self.numbers(place) or self.asking.by_field(self.values(place), self.room)

    def whole(self, place: int) -> tuple[Finding, ...]:
        """What the whole check says against a place."""
        return self.asking.against(self.values(place), self.room)

    def first(self, place: int) -> tuple[Finding, ...]:
        """Something that the whole check says against a place, if it says anything."""
        return self.asking.first_against(self.values(place), self.room)

    def inside(self, within: SizeRange | None = None) -> int | None:
        """A place that works: the one asked for, or one near it; None if none was found."""
        asked = _down(self.asking.sizes(self.others)[self.name])
        if within is None:
            first, last = limits(self.asking, self.name)
            place = nearest(self.numbers, asked, first, last, LOOKS)
        else:
            first, last = _down(within.least.value), _down(within.most.value)
            place = min(max(asked, first), last)
        if place is None:
            return None
        if self.unfit(place):
            first, last = edge(self.numbers, place, first), edge(self.numbers, place, last)
            place = last = self.largest_in_field(first, last)
            if self.unfit(place):
                return None
        return nearest(self.first, place, first, last, LOOKS // 4)

    def largest_in_field(self, first: int, last: int) -> int:
        """The last place whose stitches lie in the field; the first if none does."""
        if self.room is None:
            return edge(self.unfit, first, last)
        room = self.room

        def found(turned: bool) -> int:
            def excess(value: float) -> float | None:
                values = {**self.others, self.name: value}
                return self.asking.excess(values, room, turned=turned)

            if (excess(mm(first)) or 0.0) > FAR:
                return first  # larger sizes never need less of a field
            return _down(largest(mm(first), mm(last), excess, step=STEP))

        return max(first, *(found(turned) for turned in room.ways))

    def end(self, place: int, by: int) -> RangeEnd:
        """The end of a range, and what binds there."""
        least, most = limits(self.asking, self.name)
        while least <= place + by <= most:
            if binds := self.whole(place + by):
                return RangeEnd(mm(place), binds)
            place += by
        limit = at_limit(self.name, mm(place), "least" if by < 0 else "most")
        return RangeEnd(mm(place), (limit,))


def at_limit(name: str, limit: float, which: str) -> Finding:
    """Find that the recipe makes nothing below the least, or above the most, of a size."""
    known = facts(size=Name("size", name, name), limit=Mm(limit))
    return Finding(LIMIT, Severity.CANNOT, known, variant=which)


def mm(place: int) -> float:
    """A whole number of steps in millimetres."""
    return round(place * STEP, 9)


def steps(value: float) -> int:
    """The nearest whole number of steps to a length in millimetres."""
    return round(value / STEP)


def _down(value: float) -> int:
    return math.floor(value / STEP + TOLERANCE)


def edge(against: RangeLimit, inside: int, limit: int) -> int:
    """The last place that works, from one that does towards a limit, as far as was tried."""
    if inside == limit or not (reasons := against(limit)):
        return limit
    towards = 1 if limit > inside else -1
    failed = [(limit, _lacking(reasons))]
    aims, stride = AIMS, 0
    while (apart := abs(failed[-1][0] - inside)) > 1:
        ahead, aimed = stride, False
        if not ahead and aims and (aim := _aim(failed, towards)) is not None:
            # Where less is lacking than that, the end may be right here.
            ahead, aimed = max(1, (aim - inside) * towards), True
            aims -= 1
        if not 0 < ahead < apart:
            ahead, aimed, stride = apart // 2, False, 0
        place = inside + towards * ahead
        if reasons := against(place):
            failed.append((place, _lacking(reasons)))
            stride = 0
        else:
            inside = place
            # What was aimed at lies at the end or just inside it.
            aims, stride = (0, 1) if aimed else (aims, 2 * stride)
    return inside


def _aim(failed: list[tuple[int, float]], towards: int) -> int | None:
    """Where nothing should be lacking: by what the last place lacks, later by the last two."""
    place, lacks = failed[-1]
    if not lacks:
        return None
    if len(failed) > 1 and failed[-2][1] == lacks:
        return None  # it does not follow from this size
    before, lacked = failed[-2] if len(failed) > 2 else failed[-1]
    a_step = abs((lacked - lacks) / (before - place)) if lacked > lacks else 1.0
    return place - towards * math.ceil(lacks / a_step - TOLERANCE)


def _lacking(reasons: tuple[Finding, ...]) -> float:
    """About how many steps are lacking or too many; 0 where it is not known."""
    return max((one.amount or 0.0 for one in reasons), default=0.0) / STEP


def between(first: int, last: int, count: int) -> Iterator[int]:
    """Places evenly between two."""
    for part in range(1, count + 1):
        yield first + (last - first) * part // (count + 1)


def nearest(against: RangeLimit, start: int, first: int, last: int, count: int) -> int | None:
    """The place nearest to a start that works, of those tried from first to last."""
    if first <= start <= last and not against(start):
        return start
    tried = {first, last, *between(first, last, count)}
    nearest_first = sorted(tried, key=lambda place: (abs(place - start), place))
    return next((place for place in nearest_first if not against(place)), None)
