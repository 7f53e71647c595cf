"""Strips: against every way tried, published optima, and what no plan can do better than.

`tests/specimens/packing/` has published instances, each with its source and proven optima. Those of
cutting stock have just our rules, so their optima are ours. Those of strips packed with any
guillotine cuts allow more than two stages and a trim: no plan of ours is shorter, and where one is
as short as theirs it is proven by theirs.
"""

import json
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from documents import ROOT
from hypothesis import given, settings
from hypothesis import strategies as st
from strips_tried import least_length, least_length_in_columns

from paramgen.kits.first_fit import first_fit, length_taken
from paramgen.kits.strip_choice import choose_strips
from paramgen.kits.strip_sizes import SizeToCut, StripsChosen, StripStock

PUBLISHED = sorted((ROOT / "tests/specimens/packing").glob("*.json"))
IN_STRIPS = [one for one in PUBLISHED if "cutting_stock" not in one.name]
IN_ONE_DIRECTION = [one for one in PUBLISHED if "cutting_stock" in one.name]


def seconds(many: float) -> Callable[[], float]:
    until = time.perf_counter() + many
    return lambda: until - time.perf_counter()


def sizes_of(items: list[list[int]], *, turns: bool) -> list[SizeToCut]:
    counted = Counter((across, along) for across, along in items)
    return [
        SizeToCut(across=across, along=along, count=many, turns=turns)
        for (across, along), many in counted.items()
    ]


def check(sizes: list[SizeToCut], stocks: list[StripStock], found: StripsChosen) -> None:
    """Whether strips hold every piece, on their cloth."""
    cut: Counter[int] = Counter()
    taken = [0] * len(stocks)
    for strip in found.strips:
        columns = [[sizes[p.size].ways[p.turned] for p in one.column] for one in strip.pieces]
        assert sum(column[0][0] for column in columns) <= stocks[strip.stock].width
        assert all(len({across for across, _ in column}) == 1 for column in columns)
        assert stocks[strip.stock].behind or all(len(column) == 1 for column in columns)
        assert strip.height == max(sum(along for _, along in column) for column in columns)
        cut.update(p.size for one in strip.pieces for p in one.column)
        taken[strip.stock] += strip.height
    assert cut == {at: size.count for at, size in enumerate(sizes)}
    for stock, length in zip(stocks, taken, strict=True):
        assert stock.length is None or length <= stock.length
    assert found.length == sum(t for t, stock in zip(taken, stocks, strict=True) if stock.costs)
    assert found.bound <= found.length


def told(file: Path) -> dict[str, Any]:
    known: dict[str, Any] = json.loads(file.read_text("utf-8"))
    return known


@pytest.mark.parametrize("file", IN_ONE_DIRECTION, ids=lambda one: one.stem)
def test_the_published_optima_in_one_direction_are_ours(file: Path) -> None:
    known = told(file)
    sizes = [SizeToCut(across=long, along=1, count=many) for long, many in known["items"]]
    stocks = [StripStock(width=known["stock_length"])]
    found = choose_strips(sizes, stocks, seconds(20))
    check(sizes, stocks, found)
    assert (found.length, found.bound) == (known["optimum_rolls"], known["optimum_rolls"])


@pytest.mark.parametrize("turns", [False, True])
@pytest.mark.parametrize("file", IN_STRIPS, ids=lambda one: one.stem)
def test_no_plan_is_shorter_than_the_published_optimum(file: Path, turns: bool) -> None:
    known = told(file)
    way = "rotation_90_allowed" if turns else "fixed_orientation"
    least = known[f"optimum_height_guillotine_{way}"]
    sizes = sizes_of(known["items"], turns=turns)
    stocks = [StripStock(width=known["strip_width"])]
    found = choose_strips(sizes, stocks, seconds(2))
    check(sizes, stocks, found)
    assert found.length >= least
    assert found.length <= length_taken(first_fit(sizes, stocks), stocks)


@pytest.mark.parametrize("name", ["SCP5", "SCP6", "SCP10", "ngcut7_strip"])
def test_where_two_stages_are_enough_the_published_optima_are_ours(name: str) -> None:
    known = told(next(one for one in IN_STRIPS if one.stem == name))
    sizes = sizes_of(known["items"], turns=True)
    found = choose_strips(sizes, [StripStock(width=known["strip_width"])], seconds(5))
    least = known["optimum_height_guillotine_rotation_90_allowed"]
    assert (found.length, found.bound) == (least, least)


narrow = st.lists(
    st.tuples(st.integers(1, 5), st.integers(1, 9), st.booleans()), min_size=1, max_size=6
)
few = st.lists(
    st.tuples(st.integers(1, 9), st.integers(1, 9), st.booleans()), min_size=1, max_size=6
)


@settings(deadline=None, max_examples=200)
@given(few, st.integers(9, 16))
def test_few_pieces_are_cut_as_short_as_any_way_tried(
    pieces: list[tuple[int, int, bool]], width: int
) -> None:
    counted = Counter(pieces)
    sizes = [
        SizeToCut(across=across, along=along, count=many, turns=turns)
        for (across, along, turns), many in counted.items()
    ]
    stocks = [StripStock(width=width)]
    found = choose_strips(sizes, stocks, seconds(20))
    check(sizes, stocks, found)
    assert found.proven
    assert found.length == least_length(pieces, width)


@settings(deadline=None, max_examples=200)
@given(
    st.lists(st.tuples(st.integers(1, 5), st.integers(1, 9), st.booleans()), max_size=6, min_size=1)
)
def test_in_three_stages_too_few_pieces_are_cut_as_short_as_any_way_tried(
    pieces: list[tuple[int, int, bool]],
) -> None:
    width = 9
    counted = Counter(pieces)
    sizes = [
        SizeToCut(across=across, along=along, count=many, turns=turns)
        for (across, along, turns), many in counted.items()
    ]
    stocks = [StripStock(width=width, behind=True)]
    found = choose_strips(sizes, stocks, seconds(20))
    check(sizes, stocks, found)
    assert found.length == least_length_in_columns(pieces, width)
    assert found.proven
    assert found.length <= choose_strips(sizes, [StripStock(width=width)], seconds(20)).length


def test_two_low_pieces_lie_behind_each_other_beside_a_high_one() -> None:
    # 60 × 100 and two of 40 × 50 in a width of 100: in strips of pieces 100 + 50, with two of 40
    # side by side in the second; behind each other beside the high one 100.
    sizes = [SizeToCut(across=60, along=100, count=1), SizeToCut(across=40, along=50, count=2)]
    lengths = [
        choose_strips(sizes, [StripStock(width=100, behind=behind)], seconds(2)).length
        for behind in (False, True)
    ]
    assert lengths == [150, 100]


@settings(deadline=None, max_examples=100)
@given(few, st.lists(st.tuples(st.integers(3, 12), st.integers(2, 20)), max_size=2), st.data())
def test_what_is_there_is_used_and_what_is_bought_is_never_less_than_the_bound(
    pieces: list[tuple[int, int, bool]], there: list[tuple[int, int]], data: st.DataObject
) -> None:
    counts = data.draw(st.lists(st.integers(1, 8), min_size=len(pieces), max_size=len(pieces)))
    sizes = [
        SizeToCut(across=across, along=along, count=many, turns=turns)
        for (across, along, turns), many in zip(pieces, counts, strict=True)
    ]
    stocks = [StripStock(width=w, length=long, costs=False) for w, long in there]
    stocks.append(StripStock(width=14))
    found = choose_strips(sizes, stocks, seconds(1))
    check(sizes, stocks, found)
    alone = choose_strips(sizes, stocks[-1:], seconds(1))
    assert found.bound <= alone.length
    assert found.length <= alone.length or not found.proven
    first = choose_strips(sizes, stocks, seconds(0))
    check(sizes, stocks, first)
    assert found.bound <= found.length <= first.length
    assert first.bound <= found.length


def test_without_time_there_is_what_first_fit_gives_and_a_bound() -> None:
    known = told(next(one for one in PUBLISHED if one.name == "C1P1.json"))
    sizes = sizes_of(known["items"], turns=False)
    stocks = [StripStock(width=known["strip_width"])]
    found = choose_strips(sizes, stocks, seconds(0))
    assert found.length == length_taken(first_fit(sizes, stocks), stocks)
    assert found.bound == known["area_lower_bound"]


def test_nothing_to_cut_takes_nothing() -> None:
    assert choose_strips([], [StripStock(width=9)], seconds(1)) == StripsChosen((), 0, 0)
