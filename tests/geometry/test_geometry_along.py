"""Places along a path: edges, parts, gaps, flattest runs, what lies inside."""

import math

import numpy as np
import pytest
import shapely
from geometry_shapes import area, box, convex, moved
from hypothesis import given, settings
from hypothesis import strategies as st
from told import no_shape

from paramgen.geometry.along_path import (
    Span,
    common,
    corners_out,
    edge,
    flattest,
    inside,
    part,
    point_at,
    points_at,
    straight_runs,
    without,
)
from paramgen.geometry.offset import clockwise, offset
from paramgen.geometry.outlines import ShapeError, arc_through, oval, rectangle, regular_polygon
from paramgen.vocabulary.kinds import Edge
from paramgen.vocabulary.path import Path, Point, path, quarter_turn

#: From its top left corner clockwise: top to 100, right to 160, bottom to 260, left to 320.
BOX = box(100, 60)
NAMES = ("top", "right", "bottom", "left")


def ends(outline: Path, span: Span) -> tuple[Point, Point]:
    return point_at(outline, span[0]), point_at(outline, span[1])


def middle(outline: Path, span: Span) -> Point:
    return point_at(outline, (span[0] + span[1]) / 2)


def test_places_are_lengths_from_the_start_and_go_on_round() -> None:
    assert point_at(BOX, 130) == pytest.approx((50, 0))
    assert points_at(BOX, np.array([0, 320, 370, -10])) == pytest.approx(
        np.array([(-50, -30), (-50, -30), (0, -30), (-50, -20)])
    )


def test_a_part_runs_between_its_places_round_the_corners_on_its_way() -> None:
    assert part(BOX, 90, 170).points.tolist() == [[40, -30], [50, -30], [50, 30], [40, 30]]
    assert part(BOX, 310, 330).points.tolist() == [[-50, -20], [-50, -30], [-40, -30]]
    assert part(BOX, -10, 10).points.tolist() == [[-50, -20], [-50, -30], [-40, -30]]


@given(convex(), st.floats(-2, 2), st.floats(0.01, 1))
@settings(max_examples=40)
def test_a_part_is_as_long_as_asked_and_lies_on_the_path(
    outline: Path, start: float, share: float
) -> None:
    whole = outline.length
    piece = part(outline, start * whole, (start + share) * whole)
    assert piece.length == pytest.approx(share * whole)
    assert tuple(piece.points[0]) == pytest.approx(point_at(outline, start * whole), abs=1e-6)
    assert not piece.closed
    ring = shapely.LinearRing(outline.points)
    assert shapely.distance(shapely.points(piece.points), ring).max() < 1e-6


def test_a_gap_leaves_one_open_line_from_its_end_round_to_its_start() -> None:
    (left,) = without(BOX, [(20, 50)])
    assert tuple(left.points[0]) == (0, -30)
    assert tuple(left.points[-1]) == (-30, -30)
    assert left.length == pytest.approx(320 - 30)


def test_a_gap_across_the_start_takes_its_length_from_both_sides_of_it() -> None:
    (left,) = without(BOX, [(310, 335)])
    assert tuple(left.points[0]) == (-35, -30)
    assert tuple(left.points[-1]) == (-50, -20)
    assert left.length == pytest.approx(320 - 25)


def test_gaps_that_overlap_are_one() -> None:
    one, two = without(BOX, [(40, 60), (20, 50), (200, 210)])
    assert one.length == pytest.approx(200 - 60)
    assert two.length == pytest.approx(320 - 210 + 20)


def test_a_gap_across_the_start_joins_gaps_behind_the_start() -> None:
    # From 310 over the start to 345 - 320 = 25, past the gap from 10 to 20.
    (left,) = without(BOX, [(10, 20), (310, 345)])
    assert left.length == pytest.approx(310 - 25)
    assert tuple(left.points[0]) == pytest.approx((-25, -30))


def test_no_gap_leaves_the_outline_closed() -> None:
    assert without(BOX, []) == (BOX,)


@pytest.mark.parametrize("gaps", [[(0, 320)], [(5, 400)], [(0, 170), (160, 330)]])
def test_gaps_that_leave_nothing_are_refused(gaps: list[Span]) -> None:
    with no_shape("leave nothing"):
        without(BOX, gaps)


@given(
    convex(),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0.02, 0.3)), min_size=1, max_size=4),
)
@settings(max_examples=60)
def test_gaps_take_exactly_their_length(outline: Path, gaps: list[tuple[float, float]]) -> None:
    # Counted apart: on 2000 places round, those in no gap.
    whole = outline.length
    spans = [(start * whole, (start + share) * whole) for start, share in gaps]
    place = (np.arange(2000) + 0.5) / 2000
    open_at = np.zeros(2000, dtype=bool)
    for start, share in gaps:
        open_at |= (place - start) % 1 < share
    if open_at.all():
        return
    kept = without(outline, spans)
    total = sum(one.length for one in kept)
    assert total == pytest.approx((~open_at).mean() * whole, abs=whole * 2 * len(gaps) / 2000)
    if len(gaps) == 1:
        assert total == pytest.approx(whole - gaps[0][1] * whole)


@pytest.mark.parametrize(
    ("name", "start", "end"),
    [
        ("top", (-50, -30), (50, -30)),
        ("right", (50, -30), (50, 30)),
        ("bottom", (50, 30), (-50, 30)),
        ("left", (-50, 30), (-50, -30)),
    ],
)
def test_edges_are_named_as_they_lie_with_y_down(name: str, start: Point, end: Point) -> None:
    assert ends(BOX, edge(BOX, name)) == pytest.approx(np.array([start, end]))


@pytest.mark.parametrize("name", NAMES)
def test_an_edge_of_a_rounded_rectangle_ends_where_its_corners_begin(name: str) -> None:
    rounded = rectangle(-50, -30, 50, 30, rounded=8)
    start, end = edge(rounded, name)
    assert end - start == pytest.approx(84 if name in ("top", "bottom") else 44)


def test_the_longest_of_several_edges_that_face_one_way_is_meant() -> None:
    # A step at the top: 20 wide, then 80 wide and lower.
    corners = [(0, 0), (20, 0), (20, 10), (100, 10), (100, 50), (0, 50)]
    stepped = path(corners, closed=True)
    assert ends(stepped, edge(stepped, "top")) == pytest.approx(np.array([(20, 10), (100, 10)]))


@pytest.mark.parametrize("outline", [oval((0, 0), 100, 100), oval((0, 0), 330, 60)])
@pytest.mark.parametrize("name", NAMES)
def test_a_curve_has_no_straight_edge(outline: Path, name: str) -> None:
    with no_shape(f"no straight edge at the {name}"):
        edge(outline, name)


def test_a_triangle_has_one_named_edge() -> None:
    triangle = regular_polygon((0, 0), 3, 100)
    start, end = edge(triangle, "bottom")
    assert end - start == pytest.approx(100 * math.sin(math.radians(60)))
    with no_shape("at the top"):
        edge(triangle, "top")


@given(st.sampled_from(NAMES), st.floats(-90, 90), st.floats(-90, 90), st.floats(0, 12))
@settings(max_examples=30)
def test_a_quarter_turn_turns_the_names_of_edges_with_it(
    name: str, dx: float, dy: float, radius: float
) -> None:
    outline = moved(rectangle(-50, -30, 50, 30, rounded=round(radius)), dx, dy)
    turned = Path(quarter_turn(outline.points), True)
    following = NAMES[(NAMES.index(name) + 1) % 4]
    there = quarter_turn(np.array(ends(outline, edge(outline, name))))
    assert np.array(ends(turned, edge(turned, following))) == pytest.approx(there)


@pytest.mark.parametrize(
    ("outline", "wanted"),
    [
        (box(100, 100), (0, 50)),  # the lowest of four equal sides
        (box(100, 60), (0, 30)),
        (rectangle(-50, -50, 50, 50, rounded=15), (0, 50)),
        (oval((0, 0), 108, 108), (0, 54)),  # every place is as flat: the lowest
        (oval((0, 0), 74.6, 50), (0, 25)),  # lower of the two flat sides
        (oval((5, 9), 160, 60), (5, 39)),
        (regular_polygon((0, 0), 3, 120), (0, 30)),  # r cos 60° below the middle
        (regular_polygon((0, 0), 8, 200), (0, 100 * math.cos(math.pi / 8))),
    ],
)
def test_the_flattest_run_is_the_middle_of_the_lowest_flat_side(
    outline: Path, wanted: Point
) -> None:
    span = flattest(outline, 25, clear=5)
    assert span[1] - span[0] == pytest.approx(25)
    assert middle(outline, span) == pytest.approx(wanted, abs=0.13)


@given(st.floats(50, 330), st.floats(50, 330), st.floats(0.1, 0.45))
@settings(max_examples=40)
def test_the_flattest_run_of_an_oval_is_the_middle_of_a_flat_side_and_the_lower_one(
    width: float, height: float, share: float
) -> None:
    outline = oval((0, 0), width, height)
    span = flattest(outline, share * max(width, height), clear=10)
    x, y = middle(outline, span)
    if width > height + 2:
        assert (x, y) == pytest.approx((0, height / 2), abs=0.3)
    if height > width + 2:
        assert (abs(x), y) == pytest.approx((width / 2, 0), abs=0.3)


def test_a_taller_outline_has_its_flattest_run_on_a_side() -> None:
    outline = rectangle(-30, -50, 30, 50, rounded=10)
    x, y = middle(outline, flattest(outline, 25, clear=10))
    assert (abs(x), y) == pytest.approx((30, 0))


def test_a_straight_run_is_taken_only_if_it_has_room_for_the_clearance_too() -> None:
    # The straight bottom, 26 long, stands between sharp corners; the rest is gently bent.
    left = arc_through((-13, 30), (-30, -15), (0, -60))
    right = arc_through((0, -60), (30, -15), (13, 30))
    outline = clockwise(path(np.concatenate([left, right]), closed=True))
    assert middle(outline, flattest(outline, 25, clear=0)) == pytest.approx((0, 30))
    _, y = middle(outline, flattest(outline, 25, clear=10))
    assert y < 20


def test_a_gap_as_long_as_the_line_is_refused() -> None:
    with no_shape(r"320 mm .* is no shorter than the line, which is 320 mm"):
        flattest(BOX, 320, clear=0)


def test_straight_runs_join_chords_in_one_direction() -> None:
    broken = path([(-50, -30), (0, -30), (50, -30), (50, 30), (-50, 30)], closed=True)
    assert sorted(end - start for start, end in straight_runs(broken)) == pytest.approx(
        [60, 60, 100, 100]
    )


@given(
    convex(),
    convex(),
    st.floats(-100, 100),
    st.floats(-100, 100),
    st.booleans(),
)
@settings(max_examples=60)
def test_what_is_inside_and_what_is_outside_make_the_whole_line(
    line: Path, region: Path, dx: float, dy: float, closed: bool
) -> None:
    line = Path(moved(line, dx, dy).points, closed)
    within, outside = inside(line, region), inside(line, region, keep_outside=True)
    assert math.fsum(one.length for one in (*within, *outside)) == pytest.approx(line.length)
    field = shapely.Polygon(region.points)
    for one in within:
        assert field.buffer(1e-6).covers(shapely.LineString(one.points))
    for one in outside:
        assert not field.buffer(-1e-6).intersects(shapely.LineString(one.points))


def test_parts_inside_keep_the_direction_and_order_of_the_line() -> None:
    # The right half of the box, from the middle of the top round to that of the bottom;
    # outside it, from the middle of the bottom over the start to the middle of the top.
    (kept,) = inside(BOX, path([(0, -99), (99, -99), (99, 99), (0, 99)], closed=True))
    assert kept.points.tolist() == [[0, -30], [50, -30], [50, 30], [0, 30]]
    (rest,) = inside(
        BOX, path([(0, -99), (99, -99), (99, 99), (0, 99)], closed=True), keep_outside=True
    )
    assert rest.points.tolist() == [[0, 30], [-50, 30], [-50, -30], [0, -30]]
    across = path([(-60, 0), (60, 0)], closed=False)
    bars = [inside(across, moved(box(20, 20), x, 0)) for x in (-30, 30)]
    assert [one.points.tolist() for (one,) in bars] == [[[-40, 0], [-20, 0]], [[20, 0], [40, 0]]]
    gaps = inside(across, box(20, 20), keep_outside=True)
    assert [one.points.tolist() for one in gaps] == [[[-60, 0], [-10, 0]], [[10, 0], [60, 0]]]


def test_a_line_all_inside_stays_closed_and_one_all_outside_is_gone() -> None:
    assert inside(BOX, offset(BOX, 5)) == (BOX,)
    assert inside(BOX, offset(BOX, 5), keep_outside=True) == ()
    assert inside(BOX, moved(BOX, 500, 0)) == ()
    assert inside(BOX, moved(BOX, 500, 0), keep_outside=True) == (BOX,)


def test_a_region_that_only_touches_a_line_does_not_part_it() -> None:
    # The diamond touches the line in one point at its lower corner; the box cuts its end.
    line = path([(-50, 0), (50, 0)], closed=False)
    diamond = path([(0, 0), (-10, -10), (0, -20), (10, -10)], closed=True)
    assert [one.length for one in inside(line, diamond, keep_outside=True)] == [100]
    hooked = path([(0, 0), (-10, -10), (0, -20), (10, -10), (40, -10), (40, 9), (60, 9),
                   (60, -20), (0, -30), (-20, -10)], closed=True)  # fmt: skip
    assert len(inside(line, hooked, keep_outside=True)) == 1


@given(convex(), convex(), st.floats(-40, 40), st.floats(-40, 40))
@settings(max_examples=30)
def test_the_common_part_is_in_both_and_the_same_either_way(
    one: Path, other: Path, dx: float, dy: float
) -> None:
    other = moved(other, dx, dy)
    try:
        both = common(one, other)
    except ShapeError:
        assert (
            not shapely.Polygon(one.points)
            .buffer(-0.01)
            .intersects(shapely.Polygon(other.points).buffer(-0.01))
        )
        return
    assert area(both) == pytest.approx(area(common(other, one)))
    for whole in (one, other):
        assert shapely.Polygon(whole.points).buffer(1e-6).covers(shapely.Polygon(both.points))
        assert area(both) <= area(whole) + 1e-6


def test_the_common_part_of_two_boxes() -> None:
    # 100 × 60 and the same moved by 30, 20: 70 × 40 are in both.
    both = common(BOX, moved(BOX, 30, 20))
    assert both.bounds == pytest.approx((-20, -10, 50, 30))
    assert area(both) == pytest.approx(2800)
    with no_shape("do not overlap"):
        common(BOX, moved(BOX, 100, 0))


def test_a_closed_path_of_one_point_has_that_point_at_every_place() -> None:
    point = path([(2, 3)], closed=True)
    assert points_at(point, np.array([0.0, 5.0])).tolist() == [[2, 3], [2, 3]]
    assert part(point, 0, 0).points.tolist() == [[2, 3]]


@pytest.mark.parametrize(("spot", "within"), [((1, 1), True), ((9, 9), False)])
def test_a_point_is_either_inside_or_outside(spot: Point, within: bool) -> None:
    point, sheet = path([spot], closed=False), rectangle(0, 0, 4, 3)
    assert (len(inside(point, sheet)), len(inside(point, sheet, keep_outside=True))) == (
        within,
        not within,
    )


def test_an_edge_that_touches_elsewhere_is_no_part_of_what_is_common() -> None:
    # The hook's arm is 0 to 2 down, of which the sheet takes 1 to 2 between 0 and 4; its other
    # edge, at x = 4 from 2 to 4 down, is where the hook's other arm begins.
    hook = path([(0, 0), (6, 0), (6, 4), (4, 4), (4, 2), (0, 2)], closed=True)
    assert common(hook, rectangle(0, 1, 4, 4)).bounds == (0, 1, 4, 2)


@given(st.sampled_from(Edge), st.floats(20, 300), st.floats(20, 300), st.floats(0.5, 9.5))
def test_two_squares_come_off_the_ends_of_an_edge(
    edge: Edge, width: float, height: float, by: float
) -> None:
    whole = rectangle(-3, 5, width - 3, height + 5)
    left = corners_out(whole, edge, by)
    assert area(left) == pytest.approx(width * height - 2 * by**2)
    assert left.box == whole.box
    # What comes off lies at that edge, at both its ends alike.
    off = whole.area - left.area
    pieces = sorted(shapely.get_parts(off), key=lambda one: one.bounds)
    assert [one.area for one in pieces] == pytest.approx([by**2] * 2)
    away = {Edge.TOP: (0, -1), Edge.BOTTOM: (0, 1), Edge.LEFT: (-1, 0), Edge.RIGHT: (1, 0)}[edge]
    middle, all_of_it = np.array(off.centroid.coords[0]), np.array(whole.box.centre)
    assert (middle - all_of_it) @ away > 0
    assert abs((middle - all_of_it) @ away[::-1]) < 1e-6


@pytest.mark.parametrize("by", [0, -1, 10, 11])
def test_corners_that_leave_nothing_between_them_are_not_cut_out(by: float) -> None:
    with pytest.raises(ShapeError, match="no-corners-to-cut-out"):
        corners_out(rectangle(0, 0, 20, 30), Edge.TOP, by)


def test_round_corners_are_none_to_cut_out() -> None:
    with pytest.raises(ShapeError, match="no-corners-to-cut-out"):
        corners_out(rectangle(0, 0, 20, 30, rounded=2), Edge.TOP, 5)
    # At the other end of it they are square.
    half = rectangle(0, 0, 20, 30, rounded=2).area | shapely.box(0, 15, 20, 30)
    kept = path(shapely.get_coordinates(half.boundary), closed=True)
    assert area(corners_out(kept, Edge.BOTTOM, 5)) == pytest.approx(area(kept) - 50)
