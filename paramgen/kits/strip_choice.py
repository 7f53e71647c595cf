"""Which strips to cut: cutting stock, by strips that pay for themselves and then in whole numbers.

Gilmore and Gomory, Operations Research 9 (1961) 849-859 and 13 (1965) 94-120: a linear programme
asks only for strips that are worth more than they cost, so it never sees the others; its value is a
bound that no plan beats. Of whole strips the best among those found is taken. Where that leaves a
difference, every strip that a better plan could use is listed (none costs more over its worth than
the difference) and the choice is made among all of these, which proves it.

What is high needs high strips: pieces that are at least so high need so many strips at least that
are as high, whatever else lies in them. That is cutting stock in one direction, asked for each
height, and each answer is a row of the programme: without them the bound would be weak, as a
fraction of a high strip would do for low pieces.
"""

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import field, replace

import highspy
import numpy as np

from paramgen.kits.fewer_trims import with_fewer_trims
from paramgen.kits.first_fit import first_fit, length_taken
from paramgen.kits.strip_pricing import StripPattern, StripPricer
from paramgen.kits.strip_sizes import ChosenStrip, InStrip, SizeToCut, StripsChosen, StripStock
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: Seconds left to think; nought or less asks for what there is.
SecondsLeft = Callable[[], float]
#: So many strips at most are listed to choose among.
_MOST_LISTED = 30_000
#: The linear programme is asked no more often.
_MOST_ROUNDS = 500
#: A bound is rounded up to whole units unless it lies so little above one.
_ABOVE = 1e-6
#: Part of the time that is kept when what rounding leaves is chosen anew.
_FOR_THE_REST = 0.6


@dataclass
class _Search:
    """What is known by now.

    Parameters
    ----------
    unit : int
        Common measure of all heights: costs are counted in it.
    bound : int
        In those units.
    high : tuple of (int, int)
        Heights, and how many strips at least are as high.
    patterns : dict of StripPattern
        Strips found by now, as an ordered set.
    counts : dict of StripPattern to float
        How many of each the linear programme takes.
    """

    sizes: Sequence[SizeToCut]
    stocks: Sequence[StripStock]
    pricers: Sequence[StripPricer]
    unit: int
    left: SecondsLeft
    best: tuple[ChosenStrip, ...]
    bound: int
    high: tuple[tuple[int, int], ...] = ()
    patterns: dict[StripPattern, None] = field(default_factory=dict)
    counts: dict[StripPattern, float] = field(default_factory=dict)

    @property
    def cost(self) -> int:
        return length_taken(self.best, self.stocks) // self.unit

    @property
    def done(self) -> bool:
        return self.cost <= self.bound or self.left() <= 0

    def better(self, strips: tuple[ChosenStrip, ...]) -> None:
        if length_taken(strips, self.stocks) < length_taken(self.best, self.stocks):
            self.best = strips


def choose_strips(
    sizes: Sequence[SizeToCut], stocks: Sequence[StripStock], left: SecondsLeft
) -> StripsChosen:
    """Choose strips that hold every piece and take the least length.

    Parameters
    ----------
    sizes : sequence of SizeToCut
        Each fits the last cloth in one way at least.
    stocks : sequence of StripStock
        The last is without end; the others are used as far as they help.
    left : callable
        Seconds left. Without any, what first fit gives.
    """
    if not any(size.count for size in sizes):
        return StripsChosen((), 0, 0)
    search = _begun(sizes, stocks, left)
    if not search.done and len({along for one in sizes for _, along in one.ways}) > 1:
        search.high = tuple(_high_strips(search))
        if search.high and all(stock.costs for stock in stocks):
            search.bound = max(search.bound, _length_of_high(search))
    if not search.done:
        values = _priced(search)
        _rounded(search)
        if not search.done:
            _whole(search, search.patterns)
        if not search.done:
            _proved(search, values)
    tidy = with_fewer_trims(search.best, sizes, stocks)
    strips = tuple(sorted(tidy, key=lambda one: (one.stock, -one.height, one.pieces)))
    length = length_taken(strips, stocks)
    return StripsChosen(strips, length, min(length, search.bound * search.unit))


def _begun(sizes: Sequence[SizeToCut], stocks: Sequence[StripStock], left: SecondsLeft) -> _Search:
    """A search that knows what first fit gives, and what the area takes."""
    search = _Search(
        sizes=sizes,
        stocks=stocks,
        pricers=[StripPricer(at, sizes, stock) for at, stock in enumerate(stocks)],
        unit=math.gcd(*(along for size in sizes if size.count for _, along in size.ways)),
        left=left,
        best=first_fit(sizes, stocks),
        bound=0,
    )
    search.bound = _area_bound(search)
    return search


def _area_bound(search: _Search) -> int:
    """What the area alone takes, where no other cloth is there."""
    area = sum(one.across * one.along * one.count for one in search.sizes)
    there = sum(one.width * (one.length or 0) for one in search.stocks if not one.costs)
    return max(0, -(-(area - there) // (search.stocks[-1].width * search.unit)))


def _high_strips(search: _Search) -> Iterator[tuple[int, int]]:
    """For each height how many strips at least are as high, the highest first."""
    widest = max(stock.width for stock in search.stocks)
    lying = [
        (min(across for across, _ in one.ways), min(along for _, along in one.ways), one.count)
        for one in search.sizes
        if one.count
    ]
    highest = max(along for one in search.sizes if one.count for _, along in one.ways)
    behind = any(stock.behind for stock in search.stocks)
    for height in sorted({along for _, along, _ in lying}, reverse=True):
        if behind and 2 * height <= highest:  # two of them may lie behind each other
            return
        among = [
            SizeToCut(across=across, along=1, count=count)
            for across, along, count in lying
            if along >= height
        ]
        one_way = _begun(among, [StripStock(width=widest)], search.left)
        if not one_way.done:
            _priced(one_way)
        yield height, min(one_way.bound, one_way.cost)


def _length_of_high(search: _Search) -> int:
    """Length of as many strips of each height as there are at least."""
    lower = [*(height for height, _ in search.high[1:]), 0]
    steps = zip(search.high, lower, strict=True)
    return sum((height - below) * count for (height, count), below in steps) // search.unit


@dataclass(frozen=True)
class _Values:
    """What the linear programme says that pieces and heights are worth, in units of length.

    Parameters
    ----------
    sizes : FloatArray
    high : FloatArray
        Of a strip as high as each height of the search.
    scarce : FloatArray
        What a unit of each cloth's length is worth beyond its cost.
    """

    sizes: FloatArray
    high: FloatArray
    scarce: FloatArray

    def of_height(self, height: int, search: _Search) -> float:
        """What a strip of a height is worth for that alone."""
        pairs = zip(search.high, self.high, strict=True)
        return sum(float(worth) for (high, _), worth in pairs if height >= high)

    def total(self, search: _Search) -> float:
        """What all that must be cut is worth."""
        sizes = zip(self.sizes, search.sizes, strict=True)
        high = zip(self.high, search.high, strict=True)
        return sum(float(v) * one.count for v, one in sizes) + sum(
            float(v) * n for v, (_, n) in high
        )

    def lowered(self, by: float) -> "_Values":
        """All worth less."""
        return _Values(self.sizes * by, self.high * by, self.scarce)


def _priced(search: _Search) -> _Values:
    """Solve the linear programme; the values at its end."""
    for strip in search.best:
        search.patterns[_pattern_of(strip, search)] = None
    stocks = search.stocks
    values = _Values(np.zeros(len(search.sizes)), np.zeros(len(search.high)), np.zeros(len(stocks)))
    for _ in range(_MOST_ROUNDS):
        if search.left() <= 0:
            break
        values = _dual_values(search)
        before = len(search.patterns)
        for at, pricer in enumerate(search.pricers):
            rate = (1.0 if stocks[at].costs else 0.0) + values.scarce[at]
            for pattern, worth in pricer.best(values.sizes):
                worth_it = worth + values.of_height(pattern.height, search)
                if worth_it > pattern.height / search.unit * rate + _ABOVE:
                    search.patterns[pattern] = None
        search.bound = max(search.bound, _bound(search, values))
        if len(search.patterns) == before:
            break
    return values


def _bound(search: _Search, values: _Values) -> int:
    """What no plan beats, of any values: they are made sound first."""
    if not all(pricer.every_way for pricer in search.pricers):
        return 0
    _, total, _ = _sound(search, values)
    return math.ceil(total - _ABOVE)


def _sound(search: _Search, values: _Values) -> tuple[_Values, float, list[float]]:
    """Make values sound: no strip is worth more than it costs.

    Farley, Operations Research 38 (1990) 922-923: values are lowered until no strip of the cloth
    without end is worth more than it costs; what strips of the others are worth more is paid for
    each unit of their length.

    Returns
    -------
    _Values
    float
        What no plan beats.
    list of float
        What a unit of each cloth's length costs, and is worth beyond that.
    """
    unit, last = search.unit, len(search.stocks) - 1
    worths = [
        {
            height: (worth + values.of_height(height, search)) * unit / height
            for height, worth in pricer.most_worth(values.sizes).items()
        }
        for pricer in search.pricers
    ]
    by = 1 / max([1.0, *worths[last].values()])
    lowered = values.lowered(by)
    total = lowered.total(search)
    rates = []
    for place, (stock, worth_of) in enumerate(zip(search.stocks, worths, strict=True)):
        cost = 1.0 if stock.costs else 0.0
        most = max((worth * by for worth in worth_of.values()), default=0.0)
        rates.append(max(cost, most) if place < last else cost)
        total -= (rates[-1] - cost) * ((stock.length or 0) // unit)
    return lowered, total, rates


def _dual_values(search: _Search) -> _Values:
    """What the programme over the strips found so far says that all is worth."""
    model = _model(search, search.patterns, whole=False)
    model.run()
    search.counts = dict(zip(search.patterns, model.getSolution().col_value, strict=True))
    dual = np.array(model.getSolution().row_dual)
    many, high = len(search.sizes), len(search.sizes) + len(search.high)
    sizes, heights = np.maximum(dual[:many], 0.0), np.maximum(dual[many:high], 0.0)
    return _Values(sizes, heights, np.maximum(-dual[high:], 0.0))


def _model(
    search: _Search, patterns: Iterable[StripPattern], *, whole: bool, below: int | None = None
) -> highspy.Highs:
    """The programme over some strips: every size covered, no cloth taken beyond its length."""
    model = highspy.Highs()  # type: ignore[no-untyped-call]
    model.silent()
    model.setOptionValue("threads", 1)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("time_limit", max(0.05, search.left()))
    many = len(search.sizes)
    empty = np.array([], dtype=np.int32), np.array([], dtype=np.float64)
    for size in search.sizes:
        model.addRow(float(size.count), highspy.kHighsInf, 0, *empty)
    for _, count in search.high:
        model.addRow(float(count), highspy.kHighsInf, 0, *empty)
    first = many + len(search.high)
    for stock in search.stocks:
        most = highspy.kHighsInf if stock.length is None else stock.length // search.unit
        model.addRow(-highspy.kHighsInf, float(most), 0, *empty)
    if below is not None:
        model.addRow(-highspy.kHighsInf, float(below), 0, *empty)
    for at, pattern in enumerate(patterns):
        high = pattern.height // search.unit
        cost = float(high) if search.stocks[pattern.stock].costs else 0.0
        held: dict[int, float] = {}
        for place, count in pattern.counts:
            for row, many_in in search.pricers[pattern.stock].laid[place].held.items():
                held[row] = held.get(row, 0.0) + count * many_in
        most = max(-(-search.sizes[row].count // int(count)) for row, count in held.items())
        for place, (height, _) in enumerate(search.high):
            if pattern.height >= height:
                held[many + place] = 1.0
        held[first + pattern.stock] = float(high)
        if below is not None and cost:
            held[first + len(search.stocks)] = cost
        rows = np.array(sorted(held), dtype=np.int32)
        amounts = np.array([held[row] for row in sorted(held)], dtype=np.float64)
        model.addCol(
            cost, 0.0, float(most) if whole else highspy.kHighsInf, len(rows), rows, amounts
        )
        if whole:
            model.changeColIntegrality(at, highspy.HighsVarType.kInteger)
    return model


def _rounded(search: _Search) -> None:
    """Take the whole part of what the linear programme takes, and choose anew for the rest."""
    whole = {pattern: int(count + _ABOVE) for pattern, count in search.counts.items()}
    taken = _strips(search, list(whole), list(whole.values()))
    if not taken:
        return
    cut = Counter(one.size for strip in taken for piece in strip.pieces for one in piece.column)
    sizes = [replace(one, count=one.count - cut[at]) for at, one in enumerate(search.sizes)]
    stocks = [
        stock
        if stock.length is None
        else replace(stock, length=stock.length - sum(s.height for s in taken if s.stock == at))
        for at, stock in enumerate(search.stocks)
    ]
    until = search.left() * _FOR_THE_REST
    rest = choose_strips(sizes, stocks, lambda: search.left() - until)
    search.better((*taken, *rest.strips))


def _whole(search: _Search, patterns: Iterable[StripPattern], below: int | None = None) -> bool:
    """Choose whole strips among some; whether it is proven that no such choice is shorter."""
    patterns = list(patterns)
    model = _model(search, patterns, whole=True, below=below)
    model.setOptionValue("objective_target", float(search.bound))
    model.run()
    status = model.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return True
    values = np.array(model.getSolution().col_value)
    if len(values) == len(patterns) and model.getInfo().primal_solution_status == 2:
        counts = np.rint(values).astype(int)
        search.better(_strips(search, patterns, counts))
    if below is not None:
        least = model.getInfo().mip_dual_bound
        if math.isfinite(least):
            search.bound = max(search.bound, min(below + 1, math.ceil(least - _ABOVE)))
    return bool(status == highspy.HighsModelStatus.kOptimal)


def _proved(search: _Search, values: _Values) -> None:
    """List every strip that a better choice could use, and choose among them."""
    if not all(pricer.every_way for pricer in search.pricers):
        return
    values, total, rates = _sound(search, values)
    slack = search.cost - 1 - total
    if slack < -_ABOVE:
        search.bound = max(search.bound, search.cost)
        return
    listed: dict[StripPattern, None] = dict.fromkeys(search.patterns)
    whole = True
    for pricer, rate in zip(search.pricers, rates, strict=True):
        needs = {
            one.along: one.along / search.unit * rate - slack - values.of_height(one.along, search)
            for one in pricer.laid
        }
        found, every = pricer.worth_at_least(values.sizes, needs, _MOST_LISTED, search.left)
        whole = whole and every
        listed.update(dict.fromkeys(found))
    before, cost = search.bound, search.cost
    if search.left() <= 0:
        return
    none_better = _whole(search, listed, below=cost - 1)
    if not whole:
        search.bound = before
    elif none_better:
        search.bound = max(search.bound, search.cost)


def _pattern_of(strip: ChosenStrip, search: _Search) -> StripPattern:
    laid = search.pricers[strip.stock].laid
    places = {one.as_piece: at for at, one in enumerate(laid)}
    counts: dict[int, int] = {}
    for piece in strip.pieces:
        at = places[piece]
        counts[at] = counts.get(at, 0) + 1
    return StripPattern(strip.stock, strip.height, tuple(sorted(counts.items())))


def _strips(
    search: _Search, patterns: Sequence[StripPattern], counts: Sequence[int]
) -> tuple[ChosenStrip, ...]:
    """Strips as they are chosen, without what would be cut more often than asked."""
    lacking = [size.count for size in search.sizes]
    strips = []
    chosen = [(p, n) for p, n in zip(patterns, counts, strict=True) if n > 0]
    # What costs nothing is filled first; of the others the highest may become lower.
    chosen.sort(key=lambda one: (search.stocks[one[0].stock].costs, one[0].height, one[0].counts))
    for pattern, count in chosen:
        laid = search.pricers[pattern.stock].laid
        for _ in range(int(count)):
            pieces, height = [], 0
            for place, many in pattern.counts:
                for _ in range(many):
                    column = []
                    for one in laid[place].as_piece.column:
                        if lacking[one.size]:
                            lacking[one.size] -= 1
                            column.append(one)
                    if column:
                        first, *behind = column
                        pieces.append(InStrip(first.size, first.turned, tuple(behind)))
                        ways = (search.sizes[one.size].ways[one.turned] for one in column)
                        height = max(height, sum(along for _, along in ways))
            if pieces:
                strips.append(ChosenStrip(pattern.stock, height, tuple(pieces)))
    return tuple(strips)
