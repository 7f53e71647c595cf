import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.drawings.primitives.label_room import any_cross, crosses, spread
from paramgen.vocabulary.box import Box

places = st.floats(-400, 400)
heights = st.floats(1, 40)


def test_boxes_that_share_an_edge_do_not_overlap_and_one_that_reaches_in_does() -> None:
    assert not Box(0, 0, 2, 2).overlaps(Box(2, 0, 4, 2))
    assert Box(0, 0, 2, 2).overlaps(Box(1.9, 0, 4, 2))
    assert not Box(2, 0, 4, 2).overlaps(Box(0, 0, 2, 2))
    assert not Box(0, 0, 2, 2).overlaps(Box(0, 2, 2, 4))
    assert not Box(0, 2, 2, 4).overlaps(Box(0, 0, 2, 2))


def test_labels_with_room_stay_where_they_are_wanted() -> None:
    assert spread([10, 40], [4, 6], 0, 1) == [8, 37]


def test_two_labels_wanted_at_one_place_share_the_shift() -> None:
    # Heights 4, gap 1: tops t and t + 5, middles t + 2 and t + 7, mean 10 if t = 5.5.
    assert spread([10, 10], [4, 4], 0, 1) == pytest.approx([5.5, 10.5])


def test_no_label_lies_above_the_top_of_the_column() -> None:
    assert spread([-20, -10], [4, 4], 0, 1) == pytest.approx([0, 5])


@given(st.lists(st.tuples(places, heights), max_size=12), places, st.floats(0, 5))
def test_stacked_labels_keep_their_order_and_their_distance(
    labels: list[tuple[float, float]], top: float, gap: float
) -> None:
    wanted, tall = [w for w, _ in labels], [h for _, h in labels]
    tops = spread(wanted, tall, top, gap)
    assert all(t >= top for t in tops[:1])
    for i in range(len(tops) - 1):
        assert tops[i + 1] >= tops[i] + tall[i] + gap - 1e-6


@given(st.lists(st.tuples(places, heights), min_size=1, max_size=6))
def test_moving_all_labels_together_brings_them_no_nearer(
    labels: list[tuple[float, float]],
) -> None:
    # The stack that is nearest, in the sum of squares, is nearest among its own shifts.
    wanted, tall = [w for w, _ in labels], [h for _, h in labels]
    tops = spread(wanted, tall, -10_000, 1.0)

    def miss(shift: float) -> float:
        return sum((t + shift + h / 2 - w) ** 2 for t, h, w in zip(tops, tall, wanted, strict=True))

    assert miss(0.0) <= min(miss(0.5), miss(-0.5)) + 1e-6


def test_lines_cross_only_within_both() -> None:
    across = ((0.0, 0.0), (10.0, 10.0))
    assert crosses(across, ((0.0, 10.0), (10.0, 0.0)))
    assert not crosses(across, ((6.0, 4.0), (10.0, 0.0)))
    assert not crosses(((6.0, 4.0), (10.0, 0.0)), across)
    assert any_cross([across, ((20.0, 0.0), (30.0, 0.0)), ((0.0, 10.0), (10.0, 0.0))]) == (0, 2)
    assert any_cross([across]) is None
