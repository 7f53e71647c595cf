"""Boxes on as few sheets as are found: nothing overlaps, nothing sticks out, few are turned."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.papers.sheet_filling import BoxForm, FilledSheets, SheetRoom, filled
from paramgen.vocabulary.box import Box

ROOM = Box(10.0, 20.0, 200.0, 287.0)
SQUARES = (Box(10.0, 237.0, 60.0, 287.0), Box(64.0, 236.2, 114.8, 287.0))
STRIP = (Box(10.0, 272.0, 200.0, 287.0),)
USUAL = SheetRoom([SQUARES], STRIP)
EMPTY = SheetRoom([()], ())


def both_ways(width: float, height: float) -> list[BoxForm]:
    return [BoxForm(width, height), BoxForm(height, width, turned=True)]


def found(boxes: list[list[BoxForm]], room: Box, sheets: SheetRoom, gap: float) -> FilledSheets:
    way = filled(boxes, room, sheets, gap)
    assert way is not None
    return way


sizes = st.lists(st.tuples(st.floats(2, 190), st.floats(2, 190)), max_size=12)


@settings(max_examples=60)
@given(sizes, st.floats(0, 8))
def test_boxes_lie_apart_in_their_room_and_clear_of_what_is_taken(
    pieces: list[tuple[float, float]], gap: float
) -> None:
    boxes = [both_ways(*size) for size in pieces]
    way = found(boxes, ROOM, USUAL, gap)
    laid = way.laid
    assert sorted(one.index for one in laid) == list(range(len(pieces)))
    room = shapely.box(ROOM.left, ROOM.top, ROOM.right, ROOM.bottom).buffer(1e-5)
    taken = [(s, shapely.box(b.left, b.top, b.right, b.bottom))
             for s in range(way.count) for b in (STRIP if s else SQUARES)]  # fmt: skip
    for one in laid:
        form = boxes[one.index][one.form]
        assert (one.box.width, one.box.height) == pytest.approx((form.width, form.height))
        box = shapely.box(one.box.left, one.box.top, one.box.right, one.box.bottom)
        assert room.covers(box)
        assert all(s != one.sheet or box.distance(other) >= gap - 1e-5 for s, other in taken)
        taken.append((one.sheet, box))
    # Every sheet but the first is used, and a box that is turned was worth it.
    assert {*range(1, way.count)} <= {one.sheet for one in laid} <= {*range(way.count)}
    assert way.turned == sum(boxes[one.index][one.form].turned for one in laid)
    if way.turned:
        upright = filled([forms[:1] for forms in boxes], ROOM, USUAL, gap)
        assert upright is None or way.count < upright.count


def test_boxes_that_only_fit_turned_are_turned() -> None:
    (one,) = found([both_ways(250, 60)], ROOM, EMPTY, 4.0).laid
    assert (one.box.width, one.box.height) == (60, 250)


BESIDE = (Box(149.2, 182.2, 199.2, 232.2), Box(149.2, 236.2, 200.0, 287.0))


def test_the_squares_stand_otherwise_where_that_saves_a_sheet() -> None:
    # 240 mm do not go above squares that take 51 of 267 mm, but 120 mm go beside them.
    way = found([[BoxForm(120, 240)]], ROOM, SheetRoom([SQUARES, BESIDE], STRIP), 4.0)
    assert (way.count, way.first) == (1, 1)
    assert found([[BoxForm(120, 240)]], ROOM, USUAL, 4.0).count == 2


def test_what_has_no_room_on_the_first_sheet_lies_on_the_next() -> None:
    way = found([[BoxForm(180, 240)]], ROOM, SheetRoom([SQUARES, BESIDE], STRIP), 4.0)
    assert (way.count, [one.sheet for one in way.laid]) == (2, [1])
    assert filled([[BoxForm(180, 260)]], ROOM, SheetRoom([SQUARES, BESIDE], STRIP), 4.0) is None


def test_guillotine_puzzle_with_a_known_best_is_filled_well() -> None:
    # C1P1 of Hopper and Turton, European Journal of Operational Research 128 (2001) 34-57: these
    # 16 boxes fill 20 × 20 without waste. On sheets of 20 × 24, a fifth more, one should do.
    items = [(2, 12), (7, 12), (8, 6), (3, 6), (3, 5), (5, 5), (3, 12), (3, 7), (5, 7), (2, 6),
             (3, 2), (4, 2), (3, 4), (4, 4), (9, 2), (11, 2)]  # fmt: skip
    room = Box(0.0, 0.0, 20.0, 24.0)
    assert found([both_ways(*item) for item in items], room, EMPTY, 0.0).count == 1
