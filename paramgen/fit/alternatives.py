"""Sizes near to those asked for that can be made, where these cannot."""

import math

from paramgen.budget import MOST_TERMS_TRIED
from paramgen.fit.remembered_checks import HOOP, RememberedChecks
from paramgen.fit.size_ranges import between, edge
from paramgen.lengths import MOST, TOLERANCE
from paramgen.making import Order
from paramgen.recipe.arithmetic_work import work_in
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.findings import Finding, Instead, Severity
from paramgen.works import AFRESH, Works

#: Places from a size to each of its limits where the recipe's numbers are asked: that costs little.
NUMBERS_ASKED = 24

#: What another size may mend, of what stops a project; all else is how it is put together, of
#: whatever size. Where anything else stops it, a refusal names no command to look for sizes.
OF_SIZE = frozenset(
    {
        "hoop-exceeded",
        "copies-exceeded",
        "file-exceeded",
        "recipe-condition",
        "shape-impossible",
        "does-not-fit",
        "does-not-stand",
        "bottom-shallow",
        "stitched-too-narrow",
        "mouth-narrow",
        "mouth-covered",
        "zip-covered",
        "zip-short",
        "fold-outside",
        "gap-short",
        "gap-on-corner",
        "stitch-near-hardware",
        "halves-apart",
        "hardware-out-of-reach",
        "needle-near-edge",
        "closed-too-thick",
        "embellishment-no-room",
    }
)

#: So often the rehearsal is asked for a size, each way: an answer must not be long in coming.
MOST_REHEARSED = 6


def sizes_instead(order: Order, works: Works = AFRESH) -> tuple[Instead, ...]:
    """Find for each size the value nearest to the one asked that works, the others as asked.

    Parameters
    ----------
    order : Order
        One that cannot be made.
    works : Works
        Keeps what was worked out.

    Returns
    -------
    tuple of Instead
        The one nearest to what was asked first; values are whole marks of what is shown. Nothing
        for a size of which no value that was tried works.
    """
    if work_in(order.recipe.file) > MOST_TERMS_TRIED:
        return ()
    asking = RememberedChecks(order, works=works)
    found: list[tuple[float, Instead]] = []
    for name, asked in asking.sizes({}).items():
        ends = [_Way(asking, name, by).nearest(asked) for by in (-1, 1)]
        values = [value for value in ends if value is not None]
        if values:
            best = min(values, key=lambda value: abs(value - asked))
            found.append((abs(best / asked - 1), Instead(((name, best),))))
    return tuple(one for _, one in sorted(found, key=lambda one: one[0]))


class _Way:
    """One size tried in whole marks, upwards (1) or downwards (-1)."""

    def __init__(self, asking: RememberedChecks, name: str, by: int) -> None:
        self._asking, self._name, self._by = asking, name, by
        self._mark = SHOWN_TO[asking.unit]
        self._before = asking.rehearsals

    def nearest(self, asked: float) -> float | None:
        """The value nearest to one that does not work; None if none was found."""
        entry = self._asking.order.recipe.file.sizes[self._name]
        whole = math.ceil if self._by > 0 else math.floor
        start = whole(asked / self._mark - self._by * TOLERANCE)
        limit = (
            math.floor((entry.most or MOST) / self._mark + TOLERANCE)
            if self._by > 0
            else math.ceil((entry.least or self._mark) / self._mark - TOLERANCE)
        )
        if (limit - start) * self._by < 0:
            return None
        # As large as another size is worth asking, too: some outlines are as high as wide.
        like = (round(value / self._mark) for value in self._asking.sizes({}).values())
        every = {start, *between(start, limit, NUMBERS_ASKED), *like, limit}
        low, high = sorted((start, limit))
        places = sorted((one for one in every if low <= one <= high), reverse=self._by < 0)
        able = [place for place in places if not self._numbers(place)]
        if not able:
            return None
        if able[0] != start:
            able.insert(0, edge(self._numbers, able[0], places[places.index(able[0]) - 1]))
        return self._found(able)

    def _found(self, able: list[int]) -> float | None:
        """The nearest that works at all, of places that the numbers allow."""
        place, last = able[0], able[-1]
        failed: list[tuple[int, float]] = []
        while reasons := self._whole(place):
            if self._enough:
                return None
            if reasons[0].code == HOOP and failed:
                # Too far: what works, if anything does, lies between.
                last = place
                place = (failed[-1][0] + last) // 2
            else:
                failed.append((place, max((one.amount or 0.0 for one in reasons), default=0.0)))
                further = [one for one in able if (one - place) * self._by > 0]
                aim = self._aimed(failed) if failed[-1][1] else (further or [last])[0]
                place = min(aim, last) if self._by > 0 else max(aim, last)
            if place in (last, failed[-1][0]) and last != able[-1]:
                return None
            if place == failed[-1][0]:
                return None
        return self._mm(edge(self._whole, place, failed[-1][0]) if failed else place)

    def _aimed(self, failed: list[tuple[int, float]]) -> int:
        """Where nothing should be lacking: by what the last place lacks, later by the last two."""
        place, lacks = failed[-1]
        before, lacked = failed[-2] if len(failed) > 1 else failed[-1]
        a_mark = abs((lacked - lacks) / (place - before)) if lacked > lacks else self._mark
        # An amount may go down slowly and then fast: no more than twice as far.
        a_mark = max(a_mark, self._mark / 2)
        return place + self._by * max(1, math.ceil(lacks / a_mark - TOLERANCE))

    @property
    def _enough(self) -> bool:
        return self._asking.rehearsals - self._before >= MOST_REHEARSED

    def _mm(self, place: int) -> float:
        return round(place * self._mark, 9)

    def _numbers(self, place: int) -> tuple[Finding, ...]:
        return self._asking.by_numbers({self._name: self._mm(place)})

    def _whole(self, place: int) -> tuple[Finding, ...]:
        """What speaks against a place; once enough were rehearsed, that too."""
        values, room = {self._name: self._mm(place)}, self._asking.order.room
        against = self._asking.by_numbers(values) or self._asking.by_field(values, room)
        if against:
            return against
        if self._enough:
            return (Finding("not-tried", Severity.CANNOT),)
        return self._asking.by_rehearsal(values)
