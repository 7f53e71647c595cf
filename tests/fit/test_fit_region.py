"""Regions of two sizes, held to scans of a grid by `make` and to exact polygons."""

import numpy as np
import pytest
import shapely
from fit_flat import LEAST, MOST, asking, field, flat
from fit_scanned import ROOMS, SLACK, at_odds, found, makes, scan
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from told import says

from paramgen.fit.remembered_checks import HOOP, LIMIT
from paramgen.fit.size_regions import regions
from paramgen.hooping import Room
from paramgen.reference.hoops import Hoop, listed

HOOPS = listed()


def test_a_coaster_that_must_be_oblong_has_two_stretches_of_heights_for_one_width() -> None:
    # Near the diagonal a straight side has no room for the turning gap beside round corners: for
    # one width there are two stretches of heights that work.
    one = found("coaster", {}, ROOMS[:1])
    places = scan((56, 91, 3), (56, 91, 3))
    assert not at_odds(one.hoops[0], "coaster", {}, places)
    assert shapely.contains(one.whole.area, shapely.Point(76, 55))
    assert not shapely.contains(one.whole.area, shapely.Point(76, 72))
    assert shapely.contains(one.whole.area, shapely.Point(76, 85))


@pytest.mark.parametrize("outline", ["round", "polygon"])
def test_what_is_as_high_as_it_is_wide_works_along_a_line(outline: str) -> None:
    asked: dict[str, str | float] = {"outline": outline}
    one = found("coaster", asked, ROOMS[1:3])
    for region in (one.whole, *one.hoops):
        left, low, right, high = shapely.bounds(region.area)
        assert (left, right) == (low, high)
        assert shapely.equals(region.area, shapely.LineString([(left, left), (right, right)]))
        room = region.room or Room(Hoop("vast", 900, 900))
        for size, works in ((left, True), (right, True), (left - 0.1, False), (right + 0.1, False)):
            value = round(size, 9)
            assert makes("coaster", asked, room, value, value) is works
        # 108 is asked for, and is not as high as wide with any other.
        assert not makes("coaster", asked, room, 108, 110)


# From here on the region is arithmetic: see fit_flat.py.

SQUARE = shapely.box(LEAST, LEAST, MOST, MOST)


def below(*points: tuple[float, float]) -> shapely.Geometry:
    return shapely.Polygon(points)


#: What conditions leave of all sizes.
EXACT = {
    "slanted": (("height >= 20 + width / 2",), below((20, 30), (300, 170), (300, 300), (20, 300))),
    "falling": (("height <= 300 - width",), below((20, 20), (280, 20), (20, 280))),
    "rising and falling": (
        ("height >= width", "height <= 320 - width"),
        below((20, 20), (160, 160), (20, 300)),
    ),
    "L-shaped": (
        ("width >= 60 or height >= 100",),
        below((60, 20), (300, 20), (300, 300), (20, 300), (20, 100), (60, 100)),
    ),
    "L-shaped above": (
        ("width <= 200 or height <= 100",),
        below((20, 20), (300, 20), (300, 100), (200, 100), (200, 300), (20, 300)),
    ),
    "stairs": (
        ("width >= 60 or height >= 100", "width <= 200 or height <= 180"),
        below(
            (60, 20), (300, 20), (300, 180), (200, 180), (200, 300), (20, 300), (20, 100), (60, 100)
        ),
    ),
    "parted": (
        ("abs(width - 150) >= 40",),
        shapely.union(shapely.box(20, 20, 110, 300), shapely.box(190, 20, 300, 300)),
    ),
    "a band": (
        ("abs(height - width) <= 30",),
        below((20, 20), (50, 20), (300, 270), (300, 300), (270, 300), (20, 50)),
    ),
    "two bands": (
        ("abs(height - 160) >= 40",),
        shapely.union(shapely.box(20, 20, 300, 120), shapely.box(20, 200, 300, 300)),
    ),
    "a notch": (
        ("abs(height - 160) >= 40 - (width - 20) / 4",),
        below((20, 20), (300, 20), (300, 300), (20, 300), (20, 200), (180, 160), (20, 120)),
    ),
    "a hole": (
        ("abs(height - 160) >= 60 or abs(width - 160) >= 60",),
        shapely.difference(shapely.box(20, 20, 300, 300), shapely.box(100, 100, 220, 220)),
    ),
}


def in_field(area: shapely.Geometry, room: Room) -> shapely.Geometry:
    """What of an area is no larger than a field: the stitches lie on the edges of the flat."""
    across, down = room.field
    upright, turned = shapely.box(0, 0, across, down), shapely.box(0, 0, down, across)
    both = shapely.union(upright, turned) if room.may_turn else upright
    return shapely.intersection(area, both)


def apart(one: shapely.Geometry, other: shapely.Geometry) -> float:
    """Area of what belongs to one and not to the other, mm²; 0 where both are empty."""
    if shapely.is_empty(one) or shapely.is_empty(other):
        return 0.0 if shapely.is_empty(one) and shapely.is_empty(other) else np.inf
    # Slivers of a few steps are no part of it.
    grown = shapely.difference(one, shapely.buffer(other, SLACK))
    lost = shapely.difference(other, shapely.buffer(one, SLACK))
    return float(shapely.area(grown) + shapely.area(lost))


FIELDS = [
    field(100, 140),
    field(100, 140, may_turn=False),
    field(140, 100, may_turn=False),
    field(200, 200),
    field(130, 290),
    field(15, 400),
]


@pytest.mark.parametrize("shape", EXACT)
def test_a_region_is_the_exact_polygon_and_its_part_in_each_field(shape: str) -> None:
    conditions, exact = EXACT[shape]
    one = regions(asking(flat(*conditions)), "width", "height", FIELDS)
    assert apart(one.whole.area, exact) == 0
    for region, room in zip(one.hoops, FIELDS, strict=True):
        assert region.room == room
        assert apart(region.area, in_field(exact, room)) == 0, room


@settings(
    max_examples=10,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)
@given(
    rise=st.integers(-20, 20),
    start=st.integers(-50, 300),
    across=st.integers(25, 320),
    down=st.integers(25, 320),
    may_turn=st.booleans(),
    above=st.booleans(),
    width=st.integers(20, 300),
)
def test_any_straight_boundary_is_met_in_any_field(
    rise: int, start: int, across: int, down: int, may_turn: bool, above: bool, width: int
) -> None:
    sign = ">=" if above else "<="
    one = asking(flat(f"height {sign} {start} + width * {rise} / 10"), {"width": width})
    line = [(x, start + x * rise / 10) for x in (0.0, 400.0)]
    far = 2000.0 if above else -2000.0
    side = shapely.Polygon([*line, (400, far), (0, far)])
    exact = shapely.intersection(SQUARE, side)
    # A corner smaller than what lies between two looks may be missed.
    if shapely.is_empty(exact) or shapely.area(exact) < 3000:
        return
    room = field(across, down, may_turn=may_turn)
    two = regions(one, "width", "height", (room,))
    assert apart(two.whole.area, exact) == 0
    assert apart(two.hoops[0].area, in_field(exact, room)) == 0


@pytest.mark.parametrize("start", range(25, 285, 13))
def test_a_band_that_the_numbers_forbid_is_found_wherever_it_lies(start: int) -> None:
    # Numbers are asked every 64th of 280 mm: what is wider than 4.4 mm cannot lie between.
    one = regions(asking(flat(f"width <= {start} or width >= {start + 5}")), "width", "height", ())
    exact = shapely.difference(SQUARE, shapely.box(start, LEAST, start + 5, MOST))
    assert apart(one.whole.area, exact) == 0


def test_columns_that_lie_in_line_are_not_looked_between() -> None:
    asked = asking(flat())
    regions(asked, "width", "height", ())
    # First at both limits, 20 and 300 mm, at the three quarters between, and at 80 mm, which is
    # asked for. 160 mm is half-way from 90 to 230, and 230 from 160 to 300; but 80 mm is near
    # 90: what lies on either side of it is looked at, half-way from 20 and half-way to 90.
    assert {sizes["width"] for sizes in asked.sound()} == {20, 50, 80, 85, 90, 160, 230, 300}


def test_each_edge_names_what_binds_there() -> None:
    conditions, exact = EXACT["stairs"]
    one = regions(asking(flat(*conditions)), "width", "height", ())
    by_text: dict[str, list[shapely.Geometry]] = {}
    for side in one.sides:
        by_text.setdefault(says(side.binds), []).append(shapely.LineString(side.points))
    edges = {
        "(1) does not hold": [[(20, 100), (60, 100), (60, 20)]],
        "(2) does not hold": [[(200, 300), (200, 180), (300, 180)]],
        "the recipe makes no width below 20 mm (13/16 in)": [[(20, 100), (20, 300)]],
        "the recipe makes no width above 300 mm (11 13/16 in)": [[(300, 20), (300, 180)]],
        "the recipe makes no height below 20 mm (13/16 in)": [[(60, 20), (300, 20)]],
        "the recipe makes no height above 300 mm (11 13/16 in)": [[(20, 300), (200, 300)]],
    }
    assert set(by_text) == set(edges)
    for text, (line,) in edges.items():
        told = shapely.union_all(by_text[text])
        assert shapely.hausdorff_distance(told, shapely.LineString(line), densify=0.05) < SLACK, (
            text
        )
    # Together they are the whole boundary.
    whole = shapely.union_all([shapely.LineString(side.points) for side in one.sides])
    assert shapely.hausdorff_distance(whole, shapely.boundary(exact), densify=0.05) < SLACK


def test_two_conditions_on_one_side_are_two_edges() -> None:
    # They cross at width 120: 20 + 120 / 2 = 80.
    of = flat("height >= 20 + width / 2", "height >= 80", says=("too flat", "too low"))
    one = regions(asking(of), "width", "height", ())
    lines = {"too low": [(20, 80), (120, 80)], "too flat": [(120, 80), (300, 170)]}
    for text, line in lines.items():
        (side,) = (side for side in one.sides if says(side.binds) == text)
        told = shapely.LineString(side.points)
        assert shapely.hausdorff_distance(told, shapely.LineString(line)) < SLACK


def test_the_codes_of_limits_and_conditions_are_told_apart() -> None:
    one = regions(asking(flat("width >= 50")), "width", "height", (field(100, 100),))
    codes = {side.binds.code for side in one.sides}
    assert codes == {LIMIT, "recipe-condition"}
    assert HOOP not in codes


def test_the_place_asked_for_is_told_and_need_not_work() -> None:
    one = regions(asking(flat("width >= 50"), {"width": 30}), "width", "height", ())
    assert one.asked == (30.0, 60.0)
    assert shapely.distance(one.whole.area, shapely.Point(one.asked)) == 50 - 30


def test_nothing_works_where_nothing_does() -> None:
    one = regions(asking(flat("width >= 301")), "width", "height", (field(100, 100),))
    assert shapely.is_empty(one.whole.area)
    assert shapely.is_empty(one.hoops[0].area)
    assert not one.sides


def test_the_sizes_may_be_asked_about_the_other_way_round() -> None:
    conditions, exact = EXACT["slanted"]
    one = regions(asking(flat(*conditions)), "height", "width", (field(100, 140),))
    mirrored = shapely.transform(exact, lambda points: points[:, ::-1])
    assert apart(one.whole.area, mirrored) == 0
    room = field(100, 140)
    there = shapely.transform(in_field(exact, room), lambda points: points[:, ::-1])
    assert apart(one.hoops[0].area, there) == 0
