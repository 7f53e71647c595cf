"""All stretches of a size that work, where others lie between that do not.

The numbers are asked at many places, the whole check at the ends and in the middle of what they
leave. What is smaller than lies between two places asked may be missed.
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from paramgen.fit.size_ranges import RangeLimit, SizeSearch, between, edge, limits, steps

#: Places from least to most where the recipe's numbers are asked, which costs little.
NUMBERS_ASKED = 64

#: Places of a stretch where the whole check is asked, if it says no at its ends and its middle.
LOOKS = 8

#: Both ends of a stretch, in whole steps.
WorkingStretch = tuple[int, int]


def stretches(
    search: SizeSearch, guesses: Iterable[WorkingStretch] = (), *, looks: int = LOOKS
) -> tuple[WorkingStretch, ...]:
    """Find every stretch of a size that works, the smallest sizes first.

    Parameters
    ----------
    search : SizeSearch
    guesses : iterable of (int, int)
        Where stretches may end, in whole steps: what holds of them costs little.
    looks : int
        Places where the whole check is asked of a stretch, if it says no wherever it was asked.

    Returns
    -------
    tuple of (int, int)
        First and last place of each, in whole steps; a stretch between two places that were
        asked can be missed.
    """
    least, most = limits(search.asking, search.name)
    # Where one size follows from the other, it may be the only one that works.
    follows = steps(search.asking.sizes(search.others)[search.name])
    guessed = sorted(guesses)
    # Each end and what lies just beyond it, and the middle of what lies between two ends.
    ends = {place for low, high in guessed for place in (low - 1, low, high, high + 1)}
    both = sorted(end for guess in guessed for end in guess)
    ends |= {(one + other) // 2 for one, other in pairwise(both)}
    every = {least, *between(least, most, NUMBERS_ASKED), most, follows, *ends}
    found: list[WorkingStretch] = []
    able = (one for one in every if least <= one <= most)
    for first, last in _runs(search.numbers, able):
        inner = {place for place in ends if first <= place <= last}
        tried = {first, last, *(inner or {(first + last) // 2})}
        if all(map(search.first, tried)):
            tried |= {*between(first, last, looks)}
        found += _runs(search.first, tried)
    return tuple(found)


def _runs(against: RangeLimit, places: Iterable[int]) -> Iterator[WorkingStretch]:
    """Stretches between places that work, each as far as it goes towards one that does not."""
    in_order = sorted(places)
    works = [not against(place) for place in in_order]
    start: int | None = in_order[0] if works[0] else None
    for (one, works_one), (other, works_other) in pairwise(zip(in_order, works, strict=True)):
        if works_one and not works_other:
            assert start is not None
            yield start, edge(against, one, other)
            start = None
        elif works_other and not works_one:
            start = edge(against, other, one)
    if start is not None:
        yield start, in_order[-1]
