import dataclasses
from collections.abc import Callable, Sequence
from itertools import combinations, pairwise
from xml.etree.ElementTree import fromstring

import numpy as np
import pytest
import shapely
from drawings_read import clipped, of_style, overlapping, words
from hypothesis import given, settings
from hypothesis import strategies as st
from told import reason, says

from paramgen.drawings.back_end.contrast import luminance
from paramgen.drawings.back_end.looks import look_of
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.pictures.region_chart import region
from paramgen.drawings.primitives.drawn_paths import box_of
from paramgen.drawings.primitives.edge_ruler import marks, step_for
from paramgen.drawings.primitives.free_spots import deep_in, farthest_first, first_free
from paramgen.drawings.primitives.items import Anchor, Drawing, Group, Shape, Style, Text, flat
from paramgen.fit.size_regions import RegionSide, SizeRegion, SizeRegions
from paramgen.hooping import Room
from paramgen.lengths import parse_length
from paramgen.reference.hoops import Hoop
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Mm
from paramgen.vocabulary.path import FloatArray, Point
from paramgen.vocabulary.unit import Unit

#: Reads places of a drawing back as sizes in mm.
Reader = Callable[[FloatArray], FloatArray]

UNITS = st.sampled_from(Unit)


def hoop(width: float, height: float) -> Room:
    return Room(Hoop(f"{width:g}x{height:g}", width, height))


def either_way(width: float, height: float, least: Point) -> shapely.Geometry:
    """Sizes from the least up to a field's, as it lies or turned."""
    ways = ((width, height), (height, width))
    return shapely.union_all(
        [shapely.box(*least, *way) for way in ways if way[0] > least[0] and way[1] > least[1]]
    )


def hand_made(
    fields: Sequence[Point], asked: Point, least: Point = (60.0, 50.0), most: Point = (330.0, 300.0)
) -> SizeRegions:
    (left, low), (right, high) = least, most
    whole = shapely.box(left, low, right, high)
    sides = (
        RegionSide(((left, low), (right, low)), reason("a label does not go into the pocket")),
        RegionSide(((left, high), (right, high)), reason("the recipe makes none higher")),
        RegionSide(((left, low), (left, high)), reason("the zip is wider than that")),
        RegionSide(((right, low), (right, high)), reason("the recipe makes none wider")),
    )
    hoops = tuple(
        SizeRegion(hoop(*field), shapely.intersection(either_way(*field, least), whole))
        for field in fields
    )
    return SizeRegions(
        first="width",
        second="height",
        asked=asked,
        whole=SizeRegion(None, whole),
        sides=sides,
        hoops=hoops,
    )


FIELDS = ((40.0, 40.0), (100.0, 140.0), (150.0, 250.0), (200.0, 200.0))
#: The first takes nothing; the last two cross each other.
SLEEVE = hand_made(FIELDS, (120.0, 90.0))


@st.composite
def made_by_hand(draw: st.DrawFn) -> SizeRegions:
    def length(least: float, most: float) -> float:
        return draw(st.integers(round(least * 10), round(most * 10))) / 10

    least = (length(1, 300), length(1, 300))
    most = (least[0] + length(0.1, 300), least[1] + length(0.1, 300))
    fields = [(length(1, 400), length(1, 400)) for _ in range(draw(st.integers(0, 8)))]
    return hand_made(fields, (length(1, 600), length(1, 600)), least, most)


def group(drawing: Drawing, name: str) -> Group:
    (found,) = (item for item in flat_groups(drawing.items) if item.name == name)
    return found


def flat_groups(items: Sequence[object]) -> list[Group]:
    groups = [item for item in items if isinstance(item, Group)]
    return [one for item in groups for one in (item, *flat_groups(item.items))]


def texts(drawing: Drawing, name: str) -> list[Text]:
    return [item for item in flat(group(drawing, name).items) if isinstance(item, Text)]


def plates(drawing: Drawing, name: str) -> dict[str, Box]:
    """Plates of a group with what is written on them."""
    shapes = [item for item in flat(group(drawing, name).items) if isinstance(item, Shape)]
    boxes = [box_of([one.path]) for one in shapes if one.style is Style.BADGE]
    return dict(zip((text.words for text in texts(drawing, name)), boxes, strict=True))


def numbers_along(drawing: Drawing, unit: Unit, axis: int) -> list[tuple[float, float]]:
    """Where each number of a ruler lies, and the length in mm that it says."""
    anchor = (Anchor.MIDDLE, Anchor.END)[axis]
    found = [text for text in texts(drawing, "rulers") if text.anchor is anchor]
    # The middle of a number lies 0.35 em above its baseline.
    lift = 0.35 * found[0].size if axis else 0.0
    return [
        (text.at[axis] - lift, parse_length(f"{text.words} {unit}", zero=True)) for text in found
    ]


def reader(drawing: Drawing, unit: Unit) -> Reader:
    """Read sizes off the rulers, as a person would."""
    rulers = [sorted(numbers_along(drawing, unit, axis)) for axis in (0, 1)]

    def read(points: FloatArray) -> FloatArray:
        columns = []
        for ruler, places in zip(rulers, points.T, strict=True):
            (start, least), (end, most) = ruler[0], ruler[-1]
            columns.append(least + (places - start) / (end - start) * (most - least))
        return np.stack(columns, axis=1)

    return read


def drawn_area(drawing: Drawing, number: int, unit: Unit) -> shapely.Geometry:
    """What is shaded for a hoop, in sizes."""
    read = reader(drawing, unit)
    shapes = flat(group(drawing, f"region-{number}").items)
    return shapely.union_all(
        [shapely.Polygon(read(one.path.points)) for one in shapes if isinstance(one, Shape)]
    )


def apart(one: shapely.Geometry, other: shapely.Geometry) -> float:
    return float(shapely.area(shapely.symmetric_difference(one, other)))


@settings(max_examples=25)
@given(made_by_hand(), UNITS)
def test_each_hoop_that_takes_something_is_shaded_once_where_it_does(
    found: SizeRegions, unit: Unit
) -> None:
    drawing = region(found, unit, "Tool sleeve")
    shaded = [one.name for one in flat_groups(drawing.items) if one.name.startswith("region-")]
    some = [k for k, one in enumerate(found.hoops, 1) if not shapely.is_empty(one.area)]
    assert sorted(shaded) == sorted(f"region-{number}" for number in some)
    for number in some:
        area = found.hoops[number - 1].area
        assert apart(drawn_area(drawing, number, unit), area) <= 1e-6 * max(1, shapely.area(area))


@settings(max_examples=25)
@given(made_by_hand(), UNITS)
def test_nothing_is_clipped_and_no_words_or_numbers_lie_on_others(
    found: SizeRegions, unit: Unit
) -> None:
    drawing = region(found, unit, "Tool sleeve")
    assert clipped(drawing) == []
    assert overlapping(drawing) == []
    every = [
        box for name in ("edges", "asked", "numbers") for box in plates(drawing, name).values()
    ]
    (plot,) = of_style(drawing, Style.NO_REGION)
    assert all(box_of([plot.path]).holds(box) for box in every)
    assert not [pair for pair in combinations(every, 2) if pair[0].overlaps(pair[1])]
    assert len(every) == len(found.sides) + 1 + sum(
        not shapely.is_empty(one.area) for one in found.hoops
    )
    for shape in drawing.shapes:
        assert drawing.box.holds(box_of([shape.path]))


@settings(max_examples=25)
@given(made_by_hand(), UNITS)
def test_the_mark_lies_where_the_sizes_asked_for_are(found: SizeRegions, unit: Unit) -> None:
    drawing = region(found, unit, "Tool sleeve")
    (mark,) = (
        item
        for item in flat(group(drawing, "asked").items)
        if isinstance(item, Shape) and item.style is Style.ASKED
    )
    middle = np.array([box_of([mark.path]).centre])
    assert reader(drawing, unit)(middle)[0] == pytest.approx(found.asked, abs=1e-6)


@settings(max_examples=25)
@given(made_by_hand(), UNITS)
def test_both_rulers_have_one_scale_and_heights_go_up(found: SizeRegions, unit: Unit) -> None:
    drawing = region(found, unit, "Tool sleeve")
    for axis, way in ((0, 1), (1, -1)):
        along = sorted(numbers_along(drawing, unit, axis), key=lambda pair: pair[1])
        assert len(along) >= 2
        for (at, low), (then, high) in pairwise(along):
            assert (then - at) * way > 0
            scale = (then - at) * way / (high - low)
            assert scale == pytest.approx(_scale(drawing, unit), rel=1e-9)


def _scale(drawing: Drawing, unit: Unit) -> float:
    (at, low), (then, high) = sorted(numbers_along(drawing, unit, 0))[:2]
    return (then - at) / (high - low)


def test_inches_lie_where_their_millimetres_do() -> None:
    # 4 in is 101.6 mm (international yard and pound agreement, 1959).
    by_mm, by_inch = (
        {round(mm, 6): at for at, mm in numbers_along(region(SLEEVE, unit, "Tool sleeve"), unit, 0)}
        for unit in (Unit.MM, Unit.INCH)
    )
    scale = (by_mm[200.0] - by_mm[100.0]) / 100.0
    assert by_inch[101.6] == pytest.approx(by_mm[100.0] + 1.6 * scale)


@given(st.floats(0, 500), st.floats(1, 500), UNITS, st.floats(0.01, 5))
def test_ruler_numbers_are_evenly_apart_with_room_between(
    low: float, span: float, unit: Unit, scale: float
) -> None:
    step = step_for(low, low + span, unit, scale, 2.6)
    found = marks(low, low + span, step, unit)
    assert all(low - 1e-5 <= mark.at <= low + span + 1e-5 for mark in found)
    numbered = [mark for mark in found if mark.number]
    for one, other in pairwise(numbered):
        assert other.at - one.at == pytest.approx(step.length)
        boxes = [
            Text((mark.at * scale, 0.0), mark.number, 2.6, Anchor.MIDDLE).box
            for mark in (one, other)
        ]
        assert not boxes[0].grown(0.5).overlaps(boxes[1].grown(0.5))
    for mark in numbered:
        assert parse_length(f"{mark.number} {unit}", zero=True) == pytest.approx(mark.at, abs=1e-6)


def test_each_edge_has_its_letter_at_its_middle_and_its_words_below() -> None:
    drawing = region(SLEEVE, Unit.MM, "Tool sleeve")
    read, put = reader(drawing, Unit.MM), plates(drawing, "edges")
    assert list(put) == ["A", "B", "C", "D"]
    for letter, side in zip(put, SLEEVE.sides, strict=True):
        middle = np.mean(side.points, axis=0)
        assert read(np.array([put[letter].centre]))[0] == pytest.approx(middle, abs=1e-6)
        assert f"{letter} {says(side.binds)}" in words(drawing, "binding")


def test_a_letter_moves_along_its_edge_from_what_lies_in_the_middle_of_it() -> None:
    found = dataclasses.replace(SLEEVE, asked=(60.0, 175.0))  # the middle of the left edge
    drawing = region(found, Unit.MM, "Tool sleeve")
    ((x, y),) = reader(drawing, Unit.MM)(np.array([plates(drawing, "edges")["C"].centre]))
    assert x == pytest.approx(60.0)
    assert 5.0 < abs(y - 175.0) < 60.0


def test_edges_where_the_same_binds_have_the_same_letter() -> None:
    one, other, *rest = SLEEVE.sides
    same = dataclasses.replace(other, binds=one.binds)
    drawing = region(dataclasses.replace(SLEEVE, sides=(one, same, *rest)), Unit.MM, "")
    assert [text.words for text in texts(drawing, "edges")] == ["A", "A", "B", "C"]
    assert words(drawing, "binding").count(says(one.binds)) == 1


def test_what_binds_has_one_letter_on_an_edge_whatever_its_numbers() -> None:
    # The lower edge in three stretches, with other numbers in each; where they touch the first
    # lacks a step, as one that is found column by column may.
    stretches = tuple(
        RegionSide(((a, 50.0), (b, 50.0)), reason("the gap is ", Mm(a), "; it needs ", Mm(a + 10)))
        for a, b in ((60.0, 99.9), (100.0, 200.0), (200.0, 330.0))
    )
    drawing = region(dataclasses.replace(SLEEVE, sides=stretches), Unit.MM, "")
    assert [text.words for text in texts(drawing, "edges")] == ["A"]
    said = words(drawing, "binding").replace("\u00a0", " ")
    assert (
        "the gap is 60 mm (2 3/8 in); it needs 70 mm (2 3/4 in) (the numbers differ along the edge)"
        in said
    )
    # Apart from each other each has its letter.
    parted = dataclasses.replace(SLEEVE, sides=(stretches[0], stretches[2]))
    assert [text.words for text in texts(region(parted, Unit.MM, ""), "edges")] == ["A", "A"]


def test_each_long_edge_has_a_letter_where_the_same_binds_round_a_corner() -> None:
    # The left and the lower edge, and between them a step of 20 mm.
    corners = ((60.0, 300.0), (60.0, 70.0), (80.0, 70.0), (80.0, 50.0), (330.0, 50.0))
    whole = shapely.box(60, 50, 330, 300) - shapely.box(60, 50, 80, 70)
    found = dataclasses.replace(
        SLEEVE,
        whole=SizeRegion(None, whole),
        sides=tuple(RegionSide(pair, SLEEVE.sides[0].binds) for pair in pairwise(corners)),
    )
    drawing = region(found, Unit.MM, "")
    assert [text.words for text in texts(drawing, "edges")] == ["A", "A"]
    boxes = [
        box_of([one.path])
        for one in flat(group(drawing, "edges").items)
        if isinstance(one, Shape) and one.style is Style.BADGE
    ]
    middles = reader(drawing, Unit.MM)(np.array([box.centre for box in boxes]))
    assert middles == pytest.approx(np.array([(60.0, 185.0), (205.0, 50.0)]))


def sizes_of(drawing: Drawing, box: Box) -> shapely.Geometry:
    """What a box covers, in sizes."""
    corners = np.array([(box.left, box.bottom), (box.right, box.top)])
    return shapely.box(*reader(drawing, Unit.MM)(corners).ravel())


NOTCHES = {
    "in an edge": ((191.0, 50.0), (191.0, 66.0), (199.0, 66.0), (199.0, 50.0)),
    # As where a gap is too short for both sides.
    "in a corner": ((60.0, 70.0), (94.0, 84.0), (80.0, 50.0)),
}


def notched(corners: Sequence[Point]) -> tuple[SizeRegions, shapely.Geometry]:
    """A region with a notch, and the notch as far as a straight line across its mouth."""
    cut = shapely.Polygon(corners if len(corners) > 3 else (*corners, (60.0, 50.0)))
    whole = SizeRegion(None, shapely.difference(SLEEVE.whole.area, cut))
    sides = (RegionSide(tuple(corners), reason("the gap is too short")),)
    return dataclasses.replace(SLEEVE, whole=whole, sides=sides), shapely.Polygon(corners)


@pytest.mark.parametrize("corners", NOTCHES.values(), ids=NOTCHES)
def test_a_letter_leaves_a_notch_to_be_seen(corners: Sequence[Point]) -> None:
    found, notch = notched(corners)
    drawing = region(found, Unit.MM, "")
    plate = sizes_of(drawing, plates(drawing, "edges")["A"])
    assert shapely.distance(plate, found.whole.area) >= 3.0
    # The plate may just reach into the mouth.
    assert shapely.area(shapely.intersection(plate, notch)) <= 0.02 * shapely.area(notch)


@pytest.mark.parametrize("corners", NOTCHES.values(), ids=NOTCHES)
def test_the_leader_of_a_letter_runs_in_what_does_not_work(corners: Sequence[Point]) -> None:
    found, _ = notched(corners)
    drawing = region(dataclasses.replace(found, hoops=()), Unit.MM, "")
    read = reader(drawing, Unit.MM)
    ends = [
        read(one.path.points)
        for one in flat(group(drawing, "leaders").items)
        if isinstance(one, Shape) and one.style is Style.LEADER
    ]
    # Of two leaders one is that of what was asked for.
    (leader,) = (end for end in ends if end[0] != pytest.approx(np.array(found.asked)))
    start, line = shapely.Point(leader[0]), shapely.LineString(leader)
    assert shapely.distance(start, shapely.LineString(corners)) <= 1e-6
    assert shapely.length(shapely.intersection(line, found.whole.area)) <= 1e-6


def test_a_letter_stays_on_its_edge_where_no_leader_goes_past_what_works() -> None:
    # So narrow and so slanted that no leader from its end leaves it.
    found, _ = notched(((191.0, 50.0), (221.0, 110.0), (222.0, 110.0), (194.0, 50.0)))
    drawing = region(found, Unit.MM, "")
    assert shapely.intersects(sizes_of(drawing, plates(drawing, "edges")["A"]), found.whole.area)


def test_a_number_leaves_a_notch_to_be_seen() -> None:
    found, notch = notched(NOTCHES["in a corner"])
    small = shapely.intersection(shapely.box(60, 50, 105, 95), found.whole.area)
    drawing = region(
        dataclasses.replace(found, hoops=(SizeRegion(hoop(9, 9), small),)), Unit.MM, ""
    )
    assert not shapely.intersects(sizes_of(drawing, plates(drawing, "numbers")["1"]), notch)


def test_more_than_26_edges_still_have_letters_of_their_own() -> None:
    ends = np.linspace(60.0, 330.0, 31)
    sides = tuple(
        RegionSide(((a, 50.0), (b, 50.0)), reason(f"too low for {k}"))
        for k, (a, b) in enumerate(pairwise(ends))
    )
    drawing = region(dataclasses.replace(SLEEVE, sides=sides), Unit.MM, "")
    written = [text.words for text in texts(drawing, "edges")]
    assert written[24:28] == ["Y", "Z", "A2", "B2"]
    assert len(set(written)) == 30


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        # A field of 100 × 140 takes 120 × 90 turned by 90°; that of 40 × 40 takes nothing.
        ((120.0, 90.0), "inside regions 2, 3, 4"),
        ((190.0, 190.0), "inside region 4"),
        ((300.0, 290.0), "outside the region of every hoop"),
        ((350.0, 290.0), "nothing works there"),
    ],
)
def test_it_says_where_the_sizes_asked_for_lie(asked: Point, said: str) -> None:
    drawing = region(dataclasses.replace(SLEEVE, asked=asked), Unit.MM, "")
    assert f"width {asked[0]:g} mm" in words(drawing, "key")
    assert said in words(drawing, "key")
    assert said in drawing.description


def test_the_legend_tells_each_hoop_and_the_sizes_in_it() -> None:
    key = words(region(SLEEVE, Unit.MM, ""), "key")
    assert "1 hoop 40x40, field 40 × 40 mm nothing works" in key
    # 60 mm is 2.362 in, so the mark above is 2 3/8; 140 mm is 5.512 in, below it is 5 1/2;
    # 50 mm is 1.969 in, which 2 in is above.
    assert (
        "2 hoop 100x140, field 100 × 140 mm"
        " width 60 to 140 mm (2 3/8 to 5 1/2 in)"
        " height 50 to 140 mm (2 to 5 1/2 in)"
    ) in key


def test_a_range_between_two_ruler_marks_is_called_about_the_nearest() -> None:
    # 60.1 mm is 2.366 in: 2 3/8 is nearest, and is 60.325 mm, above the range.
    found = hand_made([], (60.0, 60.0), (60.1, 50.0), (60.2, 300.0))
    assert "width about 2 3/8 in (60.1 to 60.2 mm)" in words(region(found, Unit.INCH, ""), "key")


def test_a_hoop_that_takes_nothing_has_no_number_in_the_plot() -> None:
    drawing = region(SLEEVE, Unit.MM, "")
    assert sorted(plates(drawing, "numbers")) == ["2", "3", "4"]


def test_a_number_lies_where_only_its_hoop_is_seen() -> None:
    drawing = region(SLEEVE, Unit.MM, "")
    read = reader(drawing, Unit.MM)
    for number, smaller in ((2, ()), (4, (2,)), (3, (2, 4))):
        box = plates(drawing, "numbers")[str(number)]
        corners = np.array([(box.left, box.top), (box.right, box.bottom)])
        seen = shapely.difference(
            SLEEVE.hoops[number - 1].area,
            shapely.union_all([SLEEVE.hoops[one - 1].area for one in smaller]),
        )
        assert shapely.covers(seen, shapely.box(*read(corners).ravel()).normalize())


def test_a_number_keeps_off_a_smaller_region_in_the_far_corner_of_its_own() -> None:
    large, small = shapely.box(60, 50, 300, 280), shapely.box(200, 150, 300, 280)
    found = dataclasses.replace(
        SLEEVE, hoops=(SizeRegion(hoop(300, 280), large), SizeRegion(hoop(9, 9), small))
    )
    drawing = region(found, Unit.MM, "")
    box = plates(drawing, "numbers")["1"]
    corners = np.array([(box.left, box.top), (box.right, box.bottom)])
    place = shapely.box(*reader(drawing, Unit.MM)(corners).ravel())
    assert shapely.covers(shapely.difference(large, small), place)


def test_edges_lie_on_every_shading_so_that_regions_that_cross_stay_whole() -> None:
    shapes = [
        item
        for item in flat(group(region(SLEEVE, Unit.MM, ""), "picture").items)
        if isinstance(item, Shape)
    ]
    tints = [k for k, one in enumerate(shapes) if one.style.name.startswith("REGION")]
    edges = [k for k, one in enumerate(shapes) if one.style.name.startswith("BOUND")]
    assert max(tints) < min(edges)
    assert len(edges) == 3 + 1


def test_a_smaller_region_lies_on_a_larger_one_whatever_the_order_of_the_hoops() -> None:
    for found in (SLEEVE, dataclasses.replace(SLEEVE, hoops=SLEEVE.hoops[::-1])):
        drawing = region(found, Unit.MM, "")
        drawn = [one.name for one in group(drawing, "picture").items if isinstance(one, Group)]
        areas = [
            float(shapely.area(found.hoops[int(name.removeprefix("region-")) - 1].area))
            for name in drawn
        ]
        assert areas == sorted(areas, reverse=True)
        assert len(areas) == 3


def test_hoops_next_to_each_other_differ_in_lightness_and_in_dash() -> None:
    tints = [Style[f"REGION_{k}"] for k in range(1, 9)]
    lightness = [luminance(look_of(tint).fill or "") for tint in tints]
    assert lightness == sorted(lightness)
    assert len({look_of(Style[f"BOUND_{k}"]).dash for k in range(1, 5)}) == 4
    shaded = [
        {
            item.style
            for item in flat(group(region(SLEEVE, Unit.MM, ""), f"region-{k}").items)
            if isinstance(item, Shape)
        }
        for k in (2, 3, 4)
    ]
    assert shaded == [{tint} for tint in tints[1:4]]


@pytest.fixture
def round_goods() -> SizeRegions:
    """As high as wide: only lines, one within another."""
    lines = [shapely.LineString([(50, 50), (most, most)]) for most in (95, 125, 330)]
    jointed = shapely.MultiLineString([[(50, 50), (125, 125)], [(125, 125), (125.1, 125.1)]])
    sides = (RegionSide(((50.0, 50.0), (330.0, 330.0)), reason("it is as high as it is wide")),)
    hoops = tuple(SizeRegion(hoop(9, 9), line) for line in (lines[0], jointed))
    return SizeRegions(
        first="width",
        second="height",
        asked=(108.0, 108.0),
        whole=SizeRegion(None, lines[2]),
        sides=sides,
        hoops=hoops,
    )


def test_a_line_is_drawn_wide_enough_to_be_seen(round_goods: SizeRegions) -> None:
    drawing = region(round_goods, Unit.MM, "")
    assert "what works is a line" in words(drawing, "heading")
    read = reader(drawing, Unit.MM)
    for number, most in ((1, 95.0), (2, 125.1)):
        (shape,) = flat(group(drawing, f"region-{number}").items)
        assert isinstance(shape, Shape)
        band = shapely.Polygon(shape.path.points)
        # A band about the line: as wide for both, to be seen, and ending where the line ends.
        assert shapely.area(band) / (shapely.length(band) / 2) > 2.0
        sizes = shapely.Polygon(read(shape.path.points))
        middle = shapely.LineString([(50.0, 50.0), (most, most)])
        assert shapely.covers(shapely.buffer(sizes, 1e-6), middle)
        assert not shapely.intersects(sizes, shapely.Point(most + 0.1, most + 0.1))
    assert len(of_style(drawing, Style.BOUND)) == 1
    assert sorted(plates(drawing, "numbers")) == ["1", "2"]
    assert not clipped(drawing)
    assert not overlapping(drawing)


def covered_dots(drawing: Drawing) -> list[str]:
    """NamesInTurn of the groups of what lies where a leader starts."""
    dots = [shapely.Polygon(one.path.points) for one in drawing.shapes if one.style is Style.DOT]
    return [
        name
        for name in ("edges", "asked", "numbers")
        for one in flat(group(drawing, name).items)
        if isinstance(one, Shape) and one.style is Style.BADGE
        if shapely.intersects(shapely.Polygon(one.path.points), dots).any()
    ]


def test_leaders_lie_below_all_that_is_written() -> None:
    drawing = region(SLEEVE, Unit.MM, "")
    names = [item.name for item in drawing.items if isinstance(item, Group)]
    assert names.index("picture") < names.index("leaders") < names.index("edges")
    assert {one.style for one in drawing.shapes if one.style in (Style.DOT, Style.LEADER)} == {
        one.style
        for name in ("leaders", "picture")
        for one in flat(group(drawing, name).items)
        if isinstance(one, Shape) and one.style in (Style.DOT, Style.LEADER)
    }


def test_nothing_lies_where_a_leader_starts(round_goods: SizeRegions) -> None:
    # The mark's plate and the letter would lie on the ends of the lines.
    for most in (108.0, 112.0, 190.0, 192.0):
        line = shapely.LineString([(50, 50), (most, most)])
        found = dataclasses.replace(round_goods, hoops=(SizeRegion(hoop(9, 9), line),) * 3)
        drawing = region(found, Unit.MM, "")
        assert [one.style for one in drawing.shapes].count(Style.DOT) >= 3
        assert covered_dots(drawing) == []


@pytest.mark.parametrize("only", [shapely.Point(60, 60), shapely.LineString([(60, 60), (60, 60)])])
def test_a_region_of_one_pair_of_sizes_is_seen(
    round_goods: SizeRegions, only: shapely.Geometry
) -> None:
    found = dataclasses.replace(
        round_goods, hoops=(SizeRegion(hoop(9, 9), only),), whole=SizeRegion(None, only), sides=()
    )
    drawing = region(found, Unit.MM, "")
    assert shapely.covers(drawn_area(drawing, 1, Unit.MM), shapely.Point(60.0, 60.0))
    assert list(plates(drawing, "numbers")) == ["1"]


def test_where_nothing_works_it_says_so_and_still_shows_what_was_asked() -> None:
    nothing = shapely.GeometryCollection()
    found = SizeRegions(
        first="width",
        second="height",
        asked=(120.0, 90.0),
        whole=SizeRegion(None, nothing),
        sides=(),
        hoops=(),
    )
    drawing = region(found, Unit.MM, "Tool sleeve")
    assert "Nothing works, in whatever hoop." in words(drawing, "heading")
    assert list(plates(drawing, "asked")) == ["asked for"]
    assert not clipped(drawing)
    assert not overlapping(drawing)


def test_names_of_sizes_are_written_as_words_and_long_ones_are_broken() -> None:
    found = dataclasses.replace(SLEEVE, first="pocket_depth", second="reach_of_the_flap_" * 5)
    drawing = region(found, Unit.MM, "Tool sleeve " * 9)
    assert "pocket depth, mm" in words(drawing, "rulers")
    assert not clipped(drawing)
    assert not overlapping(drawing)


def test_the_whole_region_is_outlined() -> None:
    drawing = region(SLEEVE, Unit.MM, "")
    (edge,) = of_style(drawing, Style.BOUND)
    outlined = shapely.Polygon(reader(drawing, Unit.MM)(edge.path.points))
    assert apart(outlined, SLEEVE.whole.area) <= 1e-6


def test_all_that_it_shows_can_be_read_out() -> None:
    drawing = region(SLEEVE, Unit.MM, "Tool sleeve")
    root = fromstring(to_svg(drawing))
    title, said = (
        root.findtext(f"{{http://www.w3.org/2000/svg}}{tag}") for tag in ("title", "desc")
    )
    assert title == "Tool sleeve: width and height that work"
    assert said is not None
    for side in SLEEVE.sides:
        assert says(side.binds) in said
    for one in SLEEVE.hoops:
        assert one.room is not None
        assert f"hoop {one.room.hoop.name}" in said


def test_the_same_regions_give_the_same_bytes_and_others_do_not() -> None:
    again = hand_made(FIELDS, (120.0, 90.0))
    first = to_svg(region(SLEEVE, Unit.MM, "Tool sleeve"))
    assert to_svg(region(again, Unit.MM, "Tool sleeve")) == first
    moved = dataclasses.replace(SLEEVE, asked=(120.0, 90.1))
    assert to_svg(region(moved, Unit.MM, "Tool sleeve")) != first


def test_a_spot_is_free_of_what_is_there_and_so_is_the_line_to_it() -> None:
    spots = np.array([(0.0, 0.0), (10.0, 0.0), (0.0, 10.0), (99.0, 0.0)])
    there, room = [shapely.box(4, -1, 6, 1)], Box(-20, -20, 20, 20)
    assert first_free(spots, (2, 2), room, there) == (0.0, 0.0)
    assert first_free(spots[1:], (2, 2), room, there) == (10.0, 0.0)
    assert first_free(spots[1:], (2, 2), room, there, (0.0, 0.0)) == (0.0, 10.0)
    assert first_free(spots[3:], (2, 2), room, there) is None


def test_spots_deep_in_an_area_are_clear_of_its_edge() -> None:
    spots = farthest_first(deep_in(shapely.box(0, 0, 10, 10), 2.0, 1.0), (1.0, -1.0))
    assert spots[0] == pytest.approx((8.0, 2.0))
    assert len(deep_in(shapely.box(0, 0, 3, 10), 2.0, 1.0)) == 0
