"""Order and direction of runs, against every order and direction there is."""

import math
from itertools import pairwise, permutations, product
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.stitches.travel import (
    EXACT_RUNS,
    FramedTour,
    RunWays,
    by_improving,
    least_travel,
    travel,
)
from paramgen.vocabulary.path import FloatArray

Point = tuple[int, int]

points = st.tuples(st.integers(-900, 900), st.integers(-900, 900))
#: The ways of one run: from either end, or a loop from one or more of its corners.
runs = st.one_of(
    st.tuples(points, points).map(lambda ends: [ends, ends[::-1]]),
    st.lists(points, min_size=1, max_size=4).map(lambda corners: [(at, at) for at in corners]),
)


def ways(some: list[list[tuple[Point, Point]]]) -> RunWays:
    flat = [(run, way) for run, each in enumerate(some) for way in each]
    return RunWays(
        np.array([run for run, _ in flat]),
        np.array([way[0] for _, way in flat], dtype=float),
        np.array([way[1] for _, way in flat], dtype=float),
    )


def moved(tour: list[tuple[Point, Point]]) -> float:
    return sum(math.dist(one[1], two[0]) for one, two in pairwise(tour))


def sewn(some: list[list[tuple[Point, Point]]], tour: list[int]) -> list[tuple[Point, Point]]:
    flat = [(run, way) for run, each in enumerate(some) for way in each]
    assert sorted(flat[way][0] for way in tour) == list(range(len(some)))
    return [flat[way][1] for way in tour]


def every_tour(some: list[list[tuple[Point, Point]]]) -> list[list[tuple[Point, Point]]]:
    return [list(tour) for order in permutations(some) for tour in product(*order)]


def at(place: Point) -> FloatArray:
    return np.array(place, dtype=float)


@settings(max_examples=60)
@given(st.lists(runs, min_size=1, max_size=4), points)
def test_travel_is_the_least_of_all_orders_and_directions(
    some: list[list[tuple[Point, Point]]], place: Point
) -> None:
    tours = every_tour(some)
    least = min(map(moved, tours))
    nearest = min(math.dist(place, tour[0][0]) for tour in tours if moved(tour) < least + 1e-6)
    tour = sewn(some, least_travel(ways(some), at(place)))
    assert moved(tour) == pytest.approx(least, abs=1e-6)
    assert math.dist(place, tour[0][0]) == pytest.approx(nearest, abs=1e-6)


@settings(max_examples=5)
@given(st.lists(st.tuples(points, points), min_size=5, max_size=5), points)
def test_travel_is_the_least_with_five_open_runs(
    some: list[tuple[Point, Point]], place: Point
) -> None:
    both = [[ends, ends[::-1]] for ends in some]
    tour = sewn(both, least_travel(ways(both), at(place)))
    assert moved(tour) == pytest.approx(min(map(moved, every_tour(both))), abs=1e-6)


@settings(max_examples=40)
@given(st.integers(0, 2**32 - 1), st.sampled_from([2, 6, 9]))
def test_runs_that_follow_one_another_are_sewn_as_one(seed: int, count: int) -> None:
    """A chain of runs can be sewn with no move but the gaps it was broken by."""
    rng = np.random.default_rng(seed)
    corners = [(60 * k, 10 * (k % 2)) for k in range(count + 1)]
    chain = [(corners[k], corners[k + 1]) for k in range(count)]
    both = [[ends, ends[::-1]] if rng.random() < 0.5 else [ends[::-1], ends] for ends in chain]
    shuffled = [both[k] for k in rng.permutation(count)]
    assert travel(ways(shuffled), least_travel(ways(shuffled), at((0, 0)))) == 0


def test_equal_tours_start_near_the_needle() -> None:
    both = [[((0, 0), (100, 0)), ((100, 0), (0, 0))]]
    assert least_travel(ways(both), at((90, 10))) == [1]
    assert least_travel(ways(both), at((10, 10))) == [0]


def test_equal_tours_keep_the_given_order() -> None:
    """Three loops at one place: nothing tells their orders apart."""
    loops = [[((5, 5), (5, 5))]] * 3
    assert least_travel(ways(loops), at((0, 0))) == [0, 1, 2]
    both = [[((0, 0), (0, 0)), ((0, 0), (0, 0))]] * 2
    assert least_travel(ways(both), at((0, 0))) == [0, 2]


def scattered(rng: np.random.Generator, count: int) -> list[list[tuple[Point, Point]]]:
    """Runs up to 40 mm long in a field of 120 mm; about a third of them loops."""
    some: list[list[tuple[Point, Point]]] = []
    for _ in range(count):
        x, y, dx, dy = (int(value) for value in rng.integers(-600, 600, 4))
        ends = ((x, y), (x + dx // 3, y + dy // 3))
        some.append([ends, ends[::-1]] if rng.random() < 0.7 else [(at, at) for at in ends])
    return some


def test_the_heuristic_is_near_the_exact_search_on_nine_runs() -> None:
    """40 scattered steps of open and closed runs, the same ones every time."""
    rng = np.random.default_rng(7)
    ratios = []
    for _ in range(40):
        some = scattered(rng, EXACT_RUNS)
        exact = moved(sewn(some, least_travel(ways(some), at((0, 0)))))
        found = moved(sewn(some, by_improving(ways(some), at((0, 0)))))
        assert found >= exact - 1e-6
        ratios.append(found / exact)
    assert max(ratios) <= 1.15
    assert np.mean(ratios) <= 1.02


@settings(max_examples=20)
@given(st.lists(runs, min_size=10, max_size=30), points)
def test_many_runs_never_travel_farther_than_in_the_given_order(
    some: list[list[tuple[Point, Point]]], place: Point
) -> None:
    tour = sewn(some, least_travel(ways(some), at(place)))
    assert moved(tour) <= moved([each[0] for each in some]) + 1e-6
    assert tour == sewn(some, least_travel(ways(some), at(place)))


def test_a_tour_turned_round_sews_each_run_from_its_other_end() -> None:
    """An open run, one that comes back to its end, and a loop."""
    some = [
        [((0, 0), (50, 0)), ((50, 0), (0, 0))],
        [((7, 90), (8, 90)), ((67, 90), (68, 90))],
        [((5, 5), (5, 5))],
    ]
    assert ways(some).turned.tolist() == [1, 0, 2, 3, 4]


def test_an_order_that_is_already_good_is_never_made_worse() -> None:
    """The best that shuffling the runs 4 times brings is given as the order, and kept."""
    rng = np.random.default_rng(0)
    some = scattered(rng, 40)
    best = min(
        (
            sewn(shuffled, least_travel(ways(shuffled), at((0, 0))))
            for shuffled in ([some[k] for k in rng.permutation(40)] for _ in range(4))
        ),
        key=moved,
    )
    given = [[way, way[::-1]] for way in best]
    assert moved(sewn(given, least_travel(ways(given), at((0, 0))))) <= moved(best) + 1e-6


@settings(max_examples=40)
@given(
    # Two ways that are not quite each other turned round.
    st.lists(st.lists(st.tuples(points, points), min_size=2, max_size=2), min_size=4, max_size=9),
    st.randoms(use_true_random=False),
)
def test_a_change_to_a_tour_saves_what_it_says(
    some: list[list[tuple[Point, Point]]], chance: Random
) -> None:
    each = ways(some)
    nowhere = len(each.run)
    tour = [chance.choice(np.flatnonzero(each.run == run).tolist()) for run in range(len(some))]
    chance.shuffle(tour)
    framed = FramedTour(
        np.pad(each.moves, (0, 1)),
        np.append(each.turned, nowhere),
        np.array([nowhere, *tour, nowhere]),
    )
    for saved, changed in [framed.turn(), *(framed.shift(length) for length in (1, 2, 3))]:
        assert saved >= 0
        if saved > 0:
            after = moved(sewn(some, changed[1:-1].tolist()))
            assert moved(sewn(some, tour)) - after == pytest.approx(saved, abs=1e-6)


def test_rows_of_quilting_are_sewn_to_and_fro() -> None:
    """40 rows, 6 mm apart: with every other one turned round, 39 moves of 6 mm."""
    rows = [((-500, 60 * k), (500, 60 * k)) for k in range(40)]
    mixed = [rows[k * 7 % 40] for k in range(40)]
    both = [[ends, ends[::-1]] for ends in mixed]
    assert travel(ways(both), least_travel(ways(both), at((0, 0)))) == pytest.approx(39 * 60)


def test_very_many_runs_are_put_in_a_fair_order() -> None:
    """300 short runs: less than a quarter of the travel in the given order."""
    rng = np.random.default_rng(3)
    some: list[list[tuple[Point, Point]]] = []
    for _ in range(300):
        x, y = (int(value) for value in rng.integers(-900, 900, 2))
        some.append([((x, y), (x + 20, y)), ((x + 20, y), (x, y))])
    tour = sewn(some, least_travel(ways(some), at((0, 0))))
    assert moved(tour) < moved([each[0] for each in some]) / 4
