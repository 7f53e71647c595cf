"""In which order and which way round the runs of a step are sewn, so that travel is least.

Every run can be sewn in one or more *ways* (from either end, or from one of several
corners), each with the needle's first and last point. Moves are measured from the last
point of a run to the first point of the next.

The order is the best there is up to nine runs in a step (Held and Karp, 1962); past that a bounded
search finds one that is never worse than the order given.
"""

from collections.abc import Sequence
from functools import cached_property, lru_cache
from itertools import pairwise

import numpy as np

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, IntArray

#: Up to this many runs every order is weighed (Held and Karp, J. SIAM 10, 1962).
EXACT_RUNS = 9

#: Travels that differ by less than this are the same.
_SAME = 1e-6

#: Bound the work past the exact search: moves weighed in starting tours, runs in all the
#: tours that are improved, and pairs of runs weighed while one of them is improved.
_STARTING_MOVES = 1_000_000
_IMPROVED_RUNS = 60
_WEIGHED_PAIRS = 300_000


@dataclass(frozen=True, eq=False)
class RunWays:
    """All the ways of all the runs of one step.

    Parameters
    ----------
    run : array of int, shape (w,)
        Which run each way sews, from 0, rising.
    entry, leave : array of float, shape (w, 2)
        First and last needle point of each way.
    """

    run: IntArray
    entry: FloatArray
    leave: FloatArray

    @cached_property
    def moves(self) -> FloatArray:
        """Length of the move from each way to each other way, shape (w, w)."""
        apart = self.leave[:, None, :] - self.entry[None, :, :]
        return np.hypot(apart[..., 0], apart[..., 1])

    @cached_property
    def with_nowhere(self) -> tuple[FloatArray, IntArray]:
        """Moves and turned ways with one way more, to and from which there is no move."""
        return np.pad(self.moves, (0, 1)), np.append(self.turned, len(self.run))

    @cached_property
    def turned(self) -> IntArray:
        """The way to sew the same run when a tour is turned round, shape (w,).

        The one that begins nearest to where this one ends and ends nearest to where it
        begins: from the other end, or the same way if a run ends where it begins.
        """
        other_run = self.run[:, None] != self.run
        turned: IntArray = np.where(other_run, np.inf, self.moves + self.moves.T).argmin(axis=1)
        return turned


def least_travel(ways: RunWays, place: FloatArray) -> list[int]:
    """Choose an order of the runs, and a way for each.

    Parameters
    ----------
    ways : RunWays
        At least one for every run.
    place : array of float, shape (2,)
        Where the needle is before the step.

    Returns
    -------
    list of int
        One way for each run, in sewing order. The moves between them are as short
        together as can be with up to `EXACT_RUNS` runs; past that, short, and never
        longer than those of the runs in the order and the first way given. Of equals,
        the one that starts nearest to `place`; of those, the one given first.
    """
    if ways.run[-1] < EXACT_RUNS:
        return _exact(ways, place)
    return by_improving(ways, place)


def travel(ways: RunWays, tour: Sequence[int] | IntArray) -> float:
    """Total length of the moves between the runs of a tour."""
    return float(ways.moves[tour[:-1], tour[1:]].sum())


def _exact(ways: RunWays, place: FloatArray) -> list[int]:
    """Work out from the end how much is still to be moved after each set of runs sewn."""
    runs = int(ways.run[-1]) + 1
    bit = 1 << ways.run
    way = np.arange(len(bit))
    # rest[w, s]: what is left after the set of runs s, whose last was sewn by way w.
    rest = np.full((len(bit), 1 << runs), np.inf)
    rest[:, -1] = 0.0
    for sewn in _sets_by_size(runs):
        ahead = rest[way[:, None], sewn | bit[:, None]]
        ahead[(sewn & bit[:, None]) != 0] = np.inf
        rest[:, sewn] = (ways.moves.T[:, :, None] + ahead[:, None, :]).min(axis=0)

    tour = [_nearest(rest[way, bit], ways.entry, place)]
    sewn_now = int(bit[tour[0]])
    while len(tour) < runs:
        left = ways.moves[tour[-1]] + rest[way, sewn_now | bit]
        left[(sewn_now & bit) != 0] = np.inf
        tour.append(int((left <= left.min() + _SAME).argmax()))
        sewn_now |= int(bit[tour[-1]])
    return tour


@lru_cache(maxsize=EXACT_RUNS)
def _sets_by_size(runs: int) -> list[IntArray]:
    """Sets of runs as bits, by their size: from all but one down to one."""
    sets = np.arange(1, 1 << runs)
    sizes = np.array([int(each).bit_count() for each in sets])
    return [sets[sizes == size] for size in range(runs - 1, 0, -1)]


def _nearest(total: FloatArray, entry: FloatArray, place: FloatArray) -> int:
    """Of the tours with the least total, find the first of those that start nearest."""
    apart = entry - place
    near = np.hypot(apart[:, 0], apart[:, 1])
    near[total > total.min() + _SAME] = np.inf
    return int((near <= near.min() + _SAME).argmax())


def by_improving(ways: RunWays, place: FloatArray) -> list[int]:
    """Start a tour from every way, improve the best and the given one, keep the best.

    Parameters and result are those of `least_travel`.
    """
    runs = int(ways.run[-1]) + 1
    started = _to_the_nearest(ways)
    total = ways.moves[started[:, :-1], started[:, 1:]].sum(axis=1)
    best = np.argsort(total, kind="stable")[: max(1, _IMPROVED_RUNS // runs)]
    given = np.searchsorted(ways.run, np.arange(runs))
    begun = [_best_ways(ways, tour) for tour in (given, *started[best])]
    # Several starts come to the same order, from which the same is found.
    tours = [_improved(ways, tour) for tour in {one.tobytes(): one for one in begun}.values()]
    tours += [ways.turned[tour[::-1]] for tour in tours]
    total = np.array([travel(ways, tour) for tour in tours])
    entry = ways.entry[[tour[0] for tour in tours]]
    return [int(way) for way in tours[_nearest(total, entry, place)]]


def _to_the_nearest(ways: RunWays) -> IntArray:
    """From each way, or from some if there are many, go on to the nearest: a tour a row."""
    count = len(ways.run)
    apart = -(-count * count * int(ways.run[-1]) // _STARTING_MOVES)
    tours = [np.arange(0, count, max(1, apart))]
    away = np.where(ways.run[tours[0]][:, None] == ways.run, np.inf, 0.0)
    for _ in range(int(ways.run[-1])):
        tours.append((ways.moves[tours[-1]] + away).argmin(axis=1))
        away[ways.run[tours[-1]][:, None] == ways.run] = np.inf
    return np.stack(tours, axis=1)


def _improved(ways: RunWays, tour: IntArray) -> IntArray:
    """Turn stretches round, move stretches elsewhere and change ways while it shortens."""
    # A way with no move to or from any other stands before the start and after the end.
    nowhere = len(ways.run)
    moves, turned = ways.with_nowhere
    for _ in range(1 + _WEIGHED_PAIRS // len(tour) ** 2):
        framed = FramedTour(moves, turned, np.concatenate([[nowhere], tour, [nowhere]]))
        changes = [framed.turn()]
        changes += [framed.shift(length) for length in range(1, min(4, len(tour)))]
        saved, changed = max(changes, key=lambda change: change[0])
        if saved <= _SAME:
            break
        tour = changed[1:-1]
    return _best_ways(ways, tour)


def _best_ways(ways: RunWays, tour: IntArray) -> IntArray:
    """Choose anew the way of each run of a tour, its order being fixed."""
    bounds = np.searchsorted(ways.run, np.arange(ways.run[-1] + 2))
    options = [slice(bounds[run], bounds[run + 1]) for run in ways.run[tour]]
    cost = np.zeros(options[0].stop - options[0].start)
    before_best = []
    for before, after in pairwise(options):
        total = cost[:, None] + ways.moves[before, after]
        before_best.append(total.argmin(axis=0))
        cost = total.min(axis=0)
    choice = int(cost.argmin())
    best = [options[-1].start + choice]
    for option, source in zip(options[-2::-1], before_best[::-1], strict=True):
        choice = int(source[choice])
        best.append(option.start + choice)
    return np.array(best[::-1])


class FramedTour:
    """A tour framed by a way that is nowhere, and the best changes to it.

    Each change is given with what it saves.
    """

    def __init__(self, moves: FloatArray, turned: IntArray, tour: IntArray) -> None:
        self.moves, self.tour, self.back = moves, tour, turned[tour]
        self.ahead = moves[tour[:-1], tour[1:]]
        # Running total of what the moves save when they are made backwards.
        saved = self.ahead - moves[self.back[1:], self.back[:-1]]
        self.inside = np.concatenate([[0.0], np.cumsum(saved)])
        # Moves from each run of the tour to each other, sewn as it is or turned round.
        self.on_on = moves[tour[:, None], tour]
        self.on_back = moves[tour[:, None], self.back]
        self.back_on = moves[self.back[:, None], tour]

    def turn(self) -> tuple[float, IntArray]:
        """Sew the stretch that saves most the other way round."""
        ahead, inside = self.ahead, self.inside[1:-1]
        saved = (ahead[:-1] - inside)[:, None] + (ahead[1:] + inside)
        saved -= self.on_back[:-2, 1:-1]
        saved -= self.back_on[1:-1, 2:]
        saved = np.triu(saved)
        first, last = divmod(int(saved.argmax()), len(saved))
        stretch = slice(first + 1, last + 2)
        parts = (self.tour[: stretch.start], self.back[stretch][::-1], self.tour[stretch.stop :])
        return float(saved.max()), np.concatenate(parts)

    def shift(self, length: int) -> tuple[float, IntArray]:
        """Sew the stretch of so many runs that saves most at another time."""
        tour, ahead, inside = self.tour, self.ahead, self.inside
        first = np.arange(1, len(tour) - length)
        last = first + length - 1
        left = ahead[first - 1] + ahead[last] - self.on_on[first - 1, last + 1]
        forth = self.on_on[:-1, first].T + self.on_on[last, 1:]
        round_ = self.on_back[:-1, last].T + self.back_on[first, 1:]
        round_ -= (inside[last] - inside[first])[:, None]
        saved = left[:, None] + ahead - np.minimum(forth, round_)
        gap = np.arange(len(ahead))
        saved[(gap >= first[:, None] - 1) & (gap <= last[:, None])] = 0.0

        which, gap_at = divmod(int(saved.argmax()), len(ahead))
        stretch = slice(int(first[which]), int(last[which]) + 1)
        straight = forth[which, gap_at] <= round_[which, gap_at]
        moved = tour[stretch] if straight else self.back[stretch][::-1]
        rest = np.concatenate([tour[: stretch.start], tour[stretch.stop :]])
        at = gap_at + 1 if gap_at < stretch.start else gap_at + 1 - length
        return float(saved.max()), np.concatenate([rest[:at], moved, rest[at:]])
