"""What is told of a stitch file is what was stitched, whatever its kind."""

import hashlib
import math
from dataclasses import astuple
from itertools import pairwise

import decode_dst
import numpy as np
import pytest
from files_designs import designs
from hypothesis import given, settings
from hypothesis import strategies as st
from reading_files import (
    END,
    RIGHT_1,
    RIGHT_2,
    RIGHT_121,
    STAY,
    STEPS,
    STOP,
    UP_121,
    dst,
    hus,
    written,
)
from told import mends, says

from paramgen.reading.examine import read
from paramgen.reading.field_fits import exceeds, in_hoop, in_hoops
from paramgen.reading.nearest_holes import nearest_pair
from paramgen.reference.hoops import Hoop
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.box import Box

Place = tuple[int, int]


def runs_of(steps: list[SewnStep]) -> list[list[list[Place]]]:
    return [[[(x, y) for x, y in run.needles.tolist()] for run in s.runs] for s in steps]


def nearest(steps: list[list[list[Place]]]) -> float | None:
    """Of all pairs of places, those that no stitch joins; tried one by one."""
    runs = [run for each in steps for run in each]
    holes = sorted({place for run in runs for place in run})
    joined = {frozenset(pair) for run in runs for pair in pairwise(run)}
    away = [
        math.dist(one, two)
        for at, one in enumerate(holes)
        for two in holes[at + 1 :]
        if frozenset((one, two)) not in joined
    ]
    return min(away, default=None)


@given(designs())
@settings(max_examples=12)
def test_every_kind_is_read_to_the_numbers_of_its_needle_points(steps: list[SewnStep]) -> None:
    asked = runs_of(steps)
    runs = [run for each in asked for run in each]
    places = [place for run in runs for place in run]
    for name, data in written(steps).items():
        if name == "tag.jef" and any(
            one[-1] == two[0] for each in asked for one, two in pairwise(each)
        ):
            continue  # JEF has no cuts, so two runs that meet are one in it
        found = read(data, name)
        assert (found.kind, found.size) == (name.rpartition(".")[2], len(data))
        assert found.sha256 == hashlib.sha256(data).hexdigest()
        assert [stop.stitches for stop in found.stops] == [
            sum(len(run) - 1 for run in each) for each in asked
        ], name
        for stop, each in zip(found.stops, asked, strict=True):
            sewn = [place for run in each for place in run]
            assert np.round(stop.needles * 10, 6).tolist() == [list(place) for place in sewn]
            length = sum(math.dist(*pair) for run in each for pair in pairwise(run)) / 10
            assert stop.length == pytest.approx(length)
        across, along = zip(*places, strict=True)
        sides = min(across), min(along), max(across), max(along)
        assert astuple(found.extent) == pytest.approx([side / 10 for side in sides])
        stitches = [math.dist(*pair) / 10 for run in runs for pair in pairwise(run)]
        assert found.in_place == stitches.count(0)
        going = [length for length in stitches if length]
        assert (found.longest.length if found.longest else None) == (
            pytest.approx(max(going)) if going else None
        )
        assert (found.shortest.length if found.shortest else None) == (
            pytest.approx(min(going)) if going else None
        )
        apart = nearest(asked)
        if apart is None:
            assert found.closest is None
        else:
            assert found.closest is not None
            assert found.closest.distance == pytest.approx(apart / 10)
        away = [math.dist(one[-1], two[0]) / 10 for one, two in pairwise(runs)]
        assert found.moves == sum(1 for one in away if one)
        assert found.longest_move == pytest.approx(max(away, default=0.0))


@pytest.mark.parametrize(
    "name", ["tag.pes", "tag.vp3", "tag.xxx", "tag.csv", "tag.json", "tag.svg"]
)
def test_colours_are_those_asked_for_where_the_kind_keeps_them(name: str) -> None:
    found = read(written()[name], name)
    assert [stop.colour for stop in found.stops] == [each.colour for each in STEPS]
    assert found.exact_colours


@pytest.mark.parametrize("name", ["tag.dst", "tag.exp"])
def test_kinds_without_colours_have_none(name: str) -> None:
    assert read(written()[name], name).colours == ()


@pytest.mark.parametrize("name", ["tag-v1.pes", "tag.jef"])
def test_kinds_with_a_chart_have_a_colour_for_each_stop(name: str) -> None:
    found = read(written()[name], name)
    assert len(found.colours) == len(STEPS)
    assert not found.exact_colours


# A cut after each of the four runs. PES only has the cuts of later moves, VP3 one more at
# its end, and JEF none (`test_files_library.py` and the table it holds).
@pytest.mark.parametrize(
    ("name", "cuts"),
    [("tag.dst", 4), ("tag.exp", 4), ("tag.xxx", 4), ("tag.csv", 4), ("tag.json", 4),
     ("tag.svg", 4), ("tag.pes", 3), ("tag-v1.pes", 3), ("tag.vp3", 5), ("tag.jef", None)],
)  # fmt: skip
def test_cuts_are_those_in_the_file(name: str, cuts: int | None) -> None:
    assert read(written()[name], name).cuts == cuts


def test_whether_it_is_all_there_is_told() -> None:
    whole = {name: read(data, name).end.whole for name, data in written().items()}
    assert whole == {name: None if name == "tag.exp" else True for name in whole}


def test_a_dst_file_made_by_hand() -> None:
    # Needle points from the records: (1, 0), (122, 0), (122, 121 up); a stop; (124, 121),
    # (125, 121). In millimetres and y down.
    data = dst(RIGHT_1, RIGHT_121, UP_121, STOP, RIGHT_2, RIGHT_1, END)
    x = y = 0
    places = []
    for record in decode_dst.records(data):
        x, y = x + record.dx, y + record.dy
        places += [(x, y)] if record.kind == "stitch" else []
    assert places == [(1, 0), (122, 0), (122, 121), (124, 121), (125, 121)]

    found = read(data, "tag.dst")
    assert found.extent == Box(0.1, -12.1, 12.5, 0.0)
    assert (found.width, found.height) == pytest.approx((12.4, 12.1))
    assert [(stop.stitches, round(stop.length, 6)) for stop in found.stops] == [(2, 24.2), (1, 0.1)]
    assert found.stitches == 3
    assert found.longest is not None
    assert (found.longest.length, found.longest.stop, found.longest.number) == (12.1, 1, 1)
    assert (found.longest.start, found.longest.end) == ((0.1, 0.0), (12.2, 0.0))
    assert found.shortest is not None
    assert (found.shortest.length, found.shortest.stop, found.shortest.number) == (0.1, 2, 1)
    # (122, 121) and (124, 121): a stop lies between them, so they are no stitch.
    assert found.closest is not None
    assert found.closest.distance == 0.2
    assert found.closest.holes == ((12.2, -12.1), (12.4, -12.1))
    assert found.closest.stops == (1, 2)
    assert (found.moves, found.longest_move, found.cuts) == (1, 0.2, 0)


# Three moves in a row cut the thread, two do not (common practice, no source); after a stop
# it is cut already.
@pytest.mark.parametrize(
    ("between", "cuts"),
    [([STAY] * 2, 0), ([STAY] * 3, 1), ([STAY] * 7, 1), ([STOP, STAY, STAY, STAY], 0)],
)
def test_moves_in_a_row_that_cut(between: list[str], cuts: int) -> None:
    data = dst(RIGHT_121, RIGHT_121, *between, RIGHT_2, RIGHT_121, END)
    assert read(data, "tag.dst").cuts == cuts


def test_an_exp_file_made_by_hand() -> None:
    # 1 mm right, 1 mm up; a cut; 2 mm right without sewing; down there and 0.3 mm left; a stop;
    # in place. y is up in the file and down in what is told.
    data = bytes.fromhex("0A00 000A 80800700 80041400 0000 FD00 80010000 0000")
    found = read(data, "tag.exp")
    assert [stop.needles.tolist() for stop in found.stops] == [
        [[1.0, 0.0], [1.0, -1.0], [3.0, -1.0], [2.7, -1.0]],
        [[2.7, -1.0]],
    ]
    assert [stop.stitches for stop in found.stops] == [2, 0]
    assert (found.moves, found.longest_move, found.cuts, found.in_place) == (1, 2.0, 1, 0)


def test_a_hus_file_made_by_hand() -> None:
    found = read(hus([(10, 0), (0, 10), (0, 0), (-5, 0)]), "tag.hus")
    (stop,) = found.stops
    assert stop.needles.tolist() == [[1.0, 0.0], [1.0, -1.0], [1.0, -1.0], [0.5, -1.0]]
    assert (found.stitches, found.in_place) == (3, 1)


def test_a_stop_in_which_nothing_is_sewn_is_a_stop() -> None:
    found = read(dst(RIGHT_121, RIGHT_121, STOP, STOP, RIGHT_1, RIGHT_2, STOP, END), "tag.dst")
    assert [stop.stitches for stop in found.stops] == [1, 0, 1, 0]


def test_one_needle_point_is_no_stitch() -> None:
    found = read(dst(RIGHT_121, END), "tag.dst")
    assert (found.stitches, found.longest, found.shortest, found.closest) == (0, None, None, None)


@st.composite
def scattered(draw: st.DrawFn) -> tuple[list[Place], list[tuple[int, int]]]:
    """Different places, many of them near each other, and pairs of them."""
    spread = draw(st.sampled_from([3, 10, 60, 5000]))
    number = st.integers(-spread, spread)
    places = draw(st.lists(st.tuples(number, number), min_size=1, max_size=40, unique=True))
    each = st.integers(0, len(places) - 1)
    pairs = draw(st.lists(st.tuples(each, each), max_size=120))
    return places, [(one, two) for one, two in pairs if one != two]


@given(scattered())
@settings(max_examples=100)
def test_the_nearest_pair_is_that_of_all_pairs_tried(
    given_: tuple[list[Place], list[tuple[int, int]]],
) -> None:
    places, pairs = given_
    left_out = {frozenset(pair) for pair in pairs}
    away = {
        (one, two): math.dist(places[one], places[two])
        for two in range(len(places))
        for one in range(two)
        if frozenset((one, two)) not in left_out
    }
    found = nearest_pair(np.array(places), np.array(pairs, dtype=np.int64).reshape(-1, 2))
    if found is None:
        assert away == {}
    else:
        assert away[found] == min(away.values())


def test_a_nearer_pair_two_squares_apart_is_not_missed() -> None:
    # In squares of 4 the pair 7 apart lies in neighbours, and the one 6 apart, 3 and 9, does not.
    places = np.array([(0, 0), (7, 0), (3, 100), (9, 100)])
    assert nearest_pair(places, np.zeros((0, 2), dtype=np.int64)) == (2, 3)
    # In squares of 2 the pair 1.4 apart lies aslant of each other, and one 2 apart beside.
    places = np.array([(0, 0), (4, 3), (3, 4), (50, 50), (52, 50)])
    assert nearest_pair(places, np.zeros((0, 2), dtype=np.int64)) == (1, 2)


def from_corner(width: int, height: int) -> bytes:
    """A CSV file of one long stitch from corner to corner, tenths of a millimetre."""
    rows = [("STITCH", 0, 0), ("STITCH", width, height), ("END", width, height)]
    text = "".join(f'"*","{n}","{word}","{x}","{y}"\n' for n, (word, x, y) in enumerate(rows))
    return text.encode()


SMALL, LONG = Hoop("small", 100, 100), Hoop("long", 130, 180)


# In a field of 130 × 180 mm: 124 × 172 leaves 3 and 4 mm; lying the other way it fits only
# turned; 131 × 131 sticks out 0.5 mm at the left and right.
@pytest.mark.parametrize(
    ("size", "turned", "spare"),
    [
        ((1240, 1720), False, (3, 4)),
        ((1720, 1240), True, (3, 4)),
        ((1300, 1800), False, (0, 0)),
        ((1310, 1310), False, (-0.5, 24.5)),
    ],
)
def test_how_it_lies_in_a_hoop(
    size: tuple[int, int], turned: bool, spare: tuple[float, float]
) -> None:
    lies = in_hoop(read(from_corner(*size), "tag.csv"), LONG)
    assert (lies.turned, lies.takes) == (turned, min(spare) >= 0)
    assert lies.spare == pytest.approx(spare)


def test_what_exceeds_a_hoop_is_told_with_what_would_take_it() -> None:
    reading = read(from_corner(1720, 1240), "tag.csv")
    found = exceeds(reading, SMALL, [LONG, SMALL])
    assert found is not None
    # (172 - 100) / 2 = 36 and (124 - 100) / 2 = 12.
    assert "36 mm (1 7/16 in) too wide" in says(found)
    assert "12 mm (1/2 in) too high" in says(found)
    assert "The smallest listed hoop that takes it is long (turned by 90°)." in mends(found)
    assert found.amount == pytest.approx(36)
    assert exceeds(reading, LONG, [LONG, SMALL]) is None
    alone = exceeds(reading, SMALL, [SMALL])
    assert alone is not None
    assert "No listed hoop takes it." in mends(alone)


def test_hoops_are_told_the_smallest_first() -> None:
    lies = in_hoops(read(from_corner(1100, 1100), "tag.csv"), [LONG, SMALL])
    assert [(each.hoop.name, each.takes) for each in lies] == [("small", False), ("long", True)]
