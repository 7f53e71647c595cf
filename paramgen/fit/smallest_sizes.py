"""The smallest sizes that work, in whole ruler marks, without regard to a hoop."""

import math
from collections.abc import Callable, Mapping, Sequence

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import at_limit, limits, mm
from paramgen.lengths import TOLERANCE, round_down, round_up
from paramgen.vocabulary.findings import Finding

#: Sizes by name, mm.
Sizes = dict[str, float]

#: How often all sizes are lowered in turn; they settle in two unless they hang together.
ROUNDS = 4

#: Parts of the way from most to least, between which sizes that work are looked for.
LOOKS = 6

#: How often the amount that is lacking is followed before halving takes over.
AIMS = 3


def smallest(
    asking: RememberedChecks, names: Sequence[str], thing: tuple[float, float]
) -> tuple[tuple[Sizes, ...], tuple[Finding, ...]]:
    """Find sizes of which none can be a mark smaller with the others as they are.

    From the largest sizes that the recipe makes, the first is lowered as far as it goes, then
    the next, and all again until nothing goes lower: the least width, and the least height for
    it. If the height can be lower yet where the width is at its most, the two can be had for
    one another, and the other end is found the same way.

    Parameters
    ----------
    asking : RememberedChecks
    names : sequence of str
        The sizes that may change; the others are as asked.
    thing : (width, height)
        What it holds, mm: a guess, and no more, of what the first two sizes come to.

    Returns
    -------
    found : tuple of sizes by name, mm
        One or two, on ruler marks; empty if nothing was found that works.
    against : tuple of Finding
        What speaks against the largest, if nothing was found.
    """
    if not names:
        against = asking.against({}, None)
        return ((), against) if against else (({},), ())
    mark = float(asking.sized.names["ruler_mark"])
    start = _start(asking, names, mark)
    if start is None:
        return (), asking.against(_most(asking, names, mark), None)
    about = dict(zip(asking.sizes({}), thing, strict=False))
    found = [_lowered(asking, names, start, about, mark)]
    last = names[-1]
    if len(names) > 1 and not asking.against({**start, last: less(found[0][last], mark)}, None):
        other = _lowered(asking, names[::-1], start, about, mark)
        found += [other] if other not in found else []
    return tuple(found), ()


def binding(asking: RememberedChecks, name: str, sizes: Mapping[str, float]) -> tuple[Finding, ...]:
    """What speaks against a size of one mark less, with the others as they are."""
    value = less(sizes[name], float(asking.sized.names["ruler_mark"]))
    least = mm(limits(asking, name)[0])
    if value < least - TOLERANCE:
        return (at_limit(name, least, "least"),)
    return asking.against({**sizes, name: value}, None)


def less(value: float, mark: float) -> float:
    """One mark less."""
    return round(value - mark, 9)


def _most(asking: RememberedChecks, names: Sequence[str], mark: float) -> Sizes:
    return {name: round_down(mm(limits(asking, name)[1]), mark) for name in names}


def _start(asking: RememberedChecks, names: Sequence[str], mark: float) -> Sizes | None:
    """Sizes that work: the most, the recipe's own, or what lies evenly between most and least."""
    own, most = asking.sizes({}), _most(asking, names, mark)
    least = {name: round_up(mm(limits(asking, name)[0]), mark) for name in names}
    tried = [most, {name: round_up(own[name], mark) for name in names}]
    for part in range(1, LOOKS):
        shares = {name: most[name] + (least[name] - most[name]) * part / LOOKS for name in names}
        tried.append({name: round_up(value, mark) for name, value in shares.items()})
    return next((values for values in tried if not asking.against(values, None)), None)


def _lowered(
    asking: RememberedChecks,
    names: Sequence[str],
    start: Sizes,
    about: Mapping[str, float],
    mark: float,
) -> Sizes:
    sizes = dict(start)
    for turn in range(ROUNDS):
        before = dict(sizes)
        for name in names:
            guess = less(sizes[name], mark) if turn else about.get(name, 0.0)
            sizes[name] = _lowest(asking, name, sizes, guess, mark)
        if sizes == before:
            break
    return sizes


def _lowest(
    asking: RememberedChecks, name: str, sizes: Mapping[str, float], guess: float, mark: float
) -> float:
    """The smallest of one size, with the others as they are."""

    def values(place: int) -> Sizes:
        return {**sizes, name: round(place * mark, 9)}

    high = round(sizes[name] / mark)
    low = math.ceil(mm(limits(asking, name)[0]) / mark - TOLERANCE)
    place = math.ceil(guess / mark - TOLERANCE)
    # The cheap part of the check first: it brings the dear one nearer.
    low = _first(lambda at: asking.by_numbers(values(at)), low, high, place, mark)
    place = _first(lambda at: asking.against(values(at), None), low, high, max(low, place), mark)
    return round(place * mark, 9)


def _first(
    against: Callable[[int], tuple[Finding, ...]], low: int, high: int, guess: int, mark: float
) -> int:
    """The lowest place that works, of those from a lowest to one that does.

    A guess is tried, then where the amounts that are lacking point to; after that the room
    between is halved. Next to what was aimed at, the end is close.
    """
    failing, aim, stride, aims = low - 1, guess, 1, AIMS
    while high - failing > 1:
        aimed = failing < aim < high
        place = aim if aimed else (failing + high) // 2
        reasons = against(place)
        if not reasons:
            high, aim = place, place - stride if aimed else low - 1
            stride *= 2
            continue
        failing, aim, stride = place, low - 1, 1
        lacking = max((one.amount or 0.0 for one in reasons), default=0.0)
        if lacking and aims:
            aim, aims = place + math.ceil(lacking / mark - TOLERANCE), aims - 1
    return high
