"""Cut sizes and fold lines: folding the piece along them gives its folded size."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from paramgen.layout.pieces import SizedFold, creases, cut_and_folded
from paramgen.vocabulary.kinds import Along, Edge, FoldKind
from paramgen.vocabulary.project import Crease

HALF, QUARTER, HEM = FoldKind.HALF, FoldKind.QUARTER, FoldKind.HEM
INCH = 25.4


def fold(
    kind: FoldKind, along: Along = Along.HEIGHT, turn: float = 0, take: float = 0
) -> SizedFold:
    return SizedFold(kind=kind, along=along, turn=turn, take=take)


def places(found: tuple[Crease, ...], along: str) -> list[tuple[float, int]]:
    """Place of each crease along a size, from the middle of the piece, and its order."""
    axis = 0 if along is Along.WIDTH else 1
    upright = [one for one in found if one.start[axis] == one.end[axis]]
    return sorted((one.start[axis], one.order) for one in upright)


class Paper:
    """A strip folded in thought: where each of many points of it has come to lie."""

    def __init__(self, size: float) -> None:
        self.size = size
        self.at: NDArray[np.float64] = np.linspace(0, size, 8_001)
        self.spread = self.at.copy()

    def lies(self, place: float) -> float:
        return float(np.interp(place, self.spread, self.at))

    def meets(self, line: float) -> int:
        """How many layers have a line across them, counted where they pass it."""
        away = self.at - line
        aside = np.sign(away[np.abs(away) > self.size * 1e-6])  # an edge on the line is not across
        return int((aside[1:] != aside[:-1]).sum())

    def turn_over(self, line: float, side: int) -> None:
        """Fold what lies beyond a line (side 1) or before it (-1) over onto the rest."""
        beyond = side * (self.at - line) > 0
        self.at = np.where(beyond, 2 * line - self.at, self.at)


def test_a_folded_size_is_half_a_quarter_or_less_a_hem() -> None:
    assert cut_and_folded((50, 40), (fold(HALF),), 1) == ((50, 80), (50, 40))
    assert cut_and_folded((50, 40), (fold(QUARTER),), 1) == ((50, 160), (50, 40))
    assert cut_and_folded((50, 40), (fold(HEM, turn=6),), 1) == ((50, 46), (50, 40))
    both = (fold(QUARTER, Along.WIDTH), fold(HALF))
    assert cut_and_folded((50, 40), both, 1) == ((200, 80), (50, 40))


def test_what_the_cloth_takes_is_cut_more() -> None:
    # 2 × 40 and 2 for the fold; 4 × 40 and 3 for the folds; 40, the hem's 6 and 1
    assert cut_and_folded((50, 40), (fold(HALF, take=2),), 1) == ((50, 82), (50, 40))
    assert cut_and_folded((50, 40), (fold(QUARTER, take=3),), 1) == ((50, 163), (50, 40))
    assert cut_and_folded((50, 40), (fold(HEM, turn=6, take=1),), 1) == ((50, 47), (50, 40))


def test_folds_of_one_size_follow_each_other() -> None:
    # hemmed by 10 and then folded in half: 2 × 40 + 10
    assert cut_and_folded((50, 40), (fold(HEM, turn=10), fold(HALF)), 1) == ((50, 90), (50, 40))
    # folded in half and then hemmed: 2 × (40 + 10)
    assert cut_and_folded((50, 40), (fold(HALF), fold(HEM, turn=10)), 1) == ((50, 100), (50, 40))


def test_the_folded_size_is_rounded_up_and_then_the_cut_size() -> None:
    # Common practice, no source: 1 7/8 in folded is 2 in on a ruler with quarters, cut 4 in.
    cut, folded = cut_and_folded((5 * INCH, 1.875 * INCH), (fold(HALF),), INCH / 4)
    assert (cut[1] / INCH, folded[1] / INCH) == pytest.approx((4, 2))
    # 2 × 2 in and 3 mm for the fold is 4.118 in, cut 4 1/4, so that it folds to 2.066 in.
    cut, folded = cut_and_folded((5 * INCH, 1.875 * INCH), (fold(HALF, take=3),), INCH / 4)
    assert cut[1] / INCH == pytest.approx(4.25)
    assert folded[1] == pytest.approx((4.25 * INCH - 3) / 2)


@given(
    st.floats(5, 300),
    st.floats(5, 300),
    st.sampled_from([1.0, 0.5, INCH / 8, INCH / 4]),
    st.lists(
        st.tuples(
            st.sampled_from([HALF, QUARTER, HEM]),
            st.sampled_from(Along),
            st.floats(0, 4),
        ),
        max_size=3,
    ),
)
@settings(max_examples=60)
def test_cut_sizes_are_the_least_on_a_mark_that_fold_to_at_least_what_is_wanted(
    width: float, height: float, mark: float, kinds: list[tuple[FoldKind, Along, float]]
) -> None:
    folds = tuple(fold(k, way, turn=8 if k is HEM else 0, take=take) for k, way, take in kinds)
    cut, folded = cut_and_folded((width, height), folds, mark)
    for wanted, flat, after, way in zip((width, height), cut, folded, Along, strict=True):
        layers = 1
        for one in folds:
            if one.along == way:
                layers *= {HALF: 2, QUARTER: 4, HEM: 1}[one.kind]
        assert flat / mark == pytest.approx(round(flat / mark))
        assert after >= wanted - 2e-6
        # No more than one mark folded, and one mark flat, too much.
        assert after < wanted + mark + mark / layers + 1e-6


def test_a_quarter_fold_has_lines_at_the_quarters_the_outer_ones_first() -> None:
    # 80 mm: edges to the middle along 20 and 60, then in half along 40; from the middle
    # of the piece -20, +20 and 0.
    found = creases((50, 80), (fold(QUARTER),))
    assert places(found, Along.HEIGHT) == [(-20, 1), (0, 2), (20, 1)]
    assert [one.kind for one in found] == [QUARTER] * 3


def test_lines_are_numbered_in_the_order_of_folding_and_run_right_across() -> None:
    # The tab: a quarter of its width, then half of its height.
    found = creases((76, 80), (fold(QUARTER, Along.WIDTH), fold(HALF)))
    assert places(found, Along.WIDTH) == [(-19, 1), (0, 2), (19, 1)]
    assert places(found, Along.HEIGHT) == [(0, 3)]
    assert [one.order for one in found] == [1, 1, 2, 3]
    for one in found:
        ends = {abs(one.start[0]), abs(one.end[0])}, {abs(one.start[1]), abs(one.end[1])}
        assert ends in (({38.0}, {0.0}), *(({abs(x)}, {40.0}) for x in (-19.0, 0.0)))


def test_a_fold_says_which_way_it_goes() -> None:
    inward = SizedFold(kind=HALF, along=Along.HEIGHT, towards="right sides in")
    assert [one.towards for one in creases((50, 80), (inward,))] == ["right sides in"]
    assert creases((50, 80), ()) == ()


def test_a_hem_is_turned_at_the_far_edge() -> None:
    # 90 cut, 10 turned in at the bottom: the line is 80 from the top, 35 below the middle.
    assert places(creases((50, 90), (fold(HEM, turn=10),)), Along.HEIGHT) == [(35, 1)]


@given(
    st.floats(40, 300),
    st.lists(st.sampled_from([HALF, QUARTER, HEM]), min_size=1, max_size=3),
    # Shares of the size, none of which brings a raw edge exactly on a later crease.
    st.sampled_from([0.07, 0.13, 0.23, 0.31, 0.37, 0.44]),
)
@settings(max_examples=60)
def test_folding_along_the_lines_in_their_order_gives_the_folded_size(
    size: float, kinds: list[FoldKind], share: float
) -> None:
    folds, left = [], size
    for kind in kinds:
        folds.append(fold(kind, turn=share * left if kind is HEM else 0))
        left = folds[-1].folded(left)
    found = places(creases((50, size), tuple(folds)), Along.HEIGHT)
    assert len(set(found)) == len(found)
    paper, order = Paper(size), 0
    extent = size
    for one in folds:
        moves = {
            HALF: [(extent / 2, 1)],
            HEM: [(extent - one.turn, 1)],
            # Both edges to the middle in one go, then in half.
            QUARTER: [(extent / 4, -1), (extent * 3 / 4, 1)],
        }[one.kind]
        order += 1
        now = [place + size / 2 for place, number in found if number == order]
        assert len(now) == sum(paper.meets(line) for line, _ in moves)
        for place in now:
            assert min(abs(paper.lies(place) - line) for line, _ in moves) < size * 1e-3
        for line, side in moves:
            paper.turn_over(line, side)
        if one.kind is QUARTER:
            order += 1
            now = [place + size / 2 for place, number in found if number == order]
            assert len(now) == paper.meets(extent / 2)
            for place in now:
                assert paper.lies(place) == pytest.approx(extent / 2, abs=size * 1e-3)
            paper.turn_over(extent / 2, 1)
            # Measured on from the middle line: which end comes first is our own choice.
            paper.at = extent / 2 - paper.at
        extent = float(paper.at.max())
        assert paper.at.min() == pytest.approx(0, abs=size * 1e-3)
    assert order == max(number for _, number in found)
    assert extent == pytest.approx(left, abs=size * 1e-3)


def test_a_fold_in_three_has_lines_at_its_outer_thirds_one_after_the_other() -> None:
    # 73 for 25, each outer third 1 less: 24, 25 and 24. From the middle -12.5 and 12.5.
    thirds = fold(FoldKind.THIRDS, take=-2)
    assert cut_and_folded((50, 25), (thirds,), 1) == ((50, 73), (50, 25))
    assert places(creases((50, 73), (thirds,)), Along.HEIGHT) == [(-12.5, 1), (12.5, 2)]


def test_hems_at_opposite_edges_lie_each_at_its_own() -> None:
    # 24 with 9 turned in at either edge: cut 42, lines 9 inside its edges.
    both = tuple(
        SizedFold(kind=HEM, along=Along.HEIGHT, turn=9, edge=edge)
        for edge in (Edge.TOP, Edge.BOTTOM)
    )
    assert cut_and_folded((50, 24), both, 1) == ((50, 42), (50, 24))
    assert places(creases((50, 42), both), Along.HEIGHT) == [(-12, 1), (12, 2)]


def test_a_later_fold_goes_through_a_hem_at_the_low_edge() -> None:
    # 70 with a hem of 10 at its top, then 60 in half: at 10 and at 40 from the top; a hem that
    # reaches past the middle has the second line too.
    low = SizedFold(kind=HEM, along=Along.HEIGHT, turn=10, edge=Edge.TOP)
    assert places(creases((50, 70), (low, fold(HALF))), Along.HEIGHT) == [(-25, 1), (5, 2)]
    deep = SizedFold(kind=HEM, along=Along.HEIGHT, turn=40, edge=Edge.TOP)
    # 100: turned in at 40, 60 are left, folded at 30 of them: at 70, and in the hem at 10.
    assert places(creases((50, 100), (deep, fold(HALF))), Along.HEIGHT) == [
        (-40, 2),
        (-10, 1),
        (20, 2),
    ]
