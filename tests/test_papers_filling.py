"""Boxes on as few sheets as are found: nothing overlaps, nothing sticks out, few are turned."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.drawings.boxes import Box
from paramgen.papers.filling import Form, Laid, filled

ROOM = Box(10.0, 20.0, 200.0, 287.0)
SQUARES = (Box(10.0, 237.0, 60.0, 287.0), Box(64.0, 236.2, 114.8, 287.0))


def both_ways(width: float, height: float) -> list[Form]:
    return [Form(width, height), Form(height, width, turned=True)]


def sheets(laid: tuple[Laid, ...]) -> int:
    return len({one.sheet for one in laid})


sizes = st.lists(st.tuples(st.floats(2, 190), st.floats(2, 190)), max_size=12)


@settings(deadline=None, max_examples=60)
@given(sizes, st.floats(0, 8))
def test_boxes_lie_apart_in_their_room_and_clear_of_what_is_taken(
    pieces: list[tuple[float, float]], gap: float
) -> None:
    boxes = [both_ways(*size) for size in pieces]
    laid = filled(boxes, ROOM, [SQUARES], gap)
    assert sorted(one.index for one in laid) == list(range(len(pieces)))
    room = shapely.box(ROOM.left, ROOM.top, ROOM.right, ROOM.bottom).buffer(1e-5)
    taken = [(s, shapely.box(b.left, b.top, b.right, b.bottom))
             for s in range(sheets(laid)) for b in SQUARES]  # fmt: skip
    for one in laid:
        form = boxes[one.index][one.form]
        assert (one.box.width, one.box.height) == pytest.approx((form.width, form.height))
        box = shapely.box(one.box.left, one.box.top, one.box.right, one.box.bottom)
        assert room.covers(box)
        assert all(s != one.sheet or box.distance(other) >= gap - 1e-5 for s, other in taken)
        taken.append((one.sheet, box))
    # Every sheet is used, and a box that is turned was worth it.
    assert sheets(laid) == max((one.sheet + 1 for one in laid), default=0)
    if any(boxes[one.index][one.form].turned for one in laid):
        assert sheets(laid) < sheets(filled([forms[:1] for forms in boxes], ROOM, [SQUARES], gap))


def test_boxes_that_only_fit_turned_are_turned() -> None:
    (one,) = filled([both_ways(250, 60)], ROOM, [()], 4.0)
    assert (one.box.width, one.box.height) == (60, 250)


def test_a_sheet_of_another_kind_is_taken_where_the_usual_one_has_no_room() -> None:
    beside = (Box(149.2, 182.2, 199.2, 232.2), Box(149.2, 236.2, 200.0, 287.0))
    laid = filled([[Form(120, 240)], [Form(180, 100)]], ROOM, [SQUARES, beside], 4.0)
    assert {(one.index, one.kind) for one in laid} == {(0, 1), (1, 0)}


def test_guillotine_puzzle_with_a_known_best_is_filled_well() -> None:
    # C1P1 of Hopper and Turton, European Journal of Operational Research 128 (2001) 34-57: these
    # 16 boxes fill 20 × 20 without waste. On sheets of 20 × 24, a fifth more, one should do.
    items = [(2, 12), (7, 12), (8, 6), (3, 6), (3, 5), (5, 5), (3, 12), (3, 7), (5, 7), (2, 6),
             (3, 2), (4, 2), (3, 4), (4, 4), (9, 2), (11, 2)]  # fmt: skip
    room = Box(0.0, 0.0, 20.0, 24.0)
    assert sheets(filled([both_ways(*item) for item in items], room, [()], 0.0)) == 1
