"""One sheet over all copies in a hooping: which pieces, how near copies lie, and what is said.

The rule: between the lines that two copies are trimmed along lie 3 mm for a cut, and so between
their seams two trim allowances and a cut; at a turning gap the allowance stays. What copies have
for themselves, batting or a window, keeps clear of that too.
"""

import math

import pytest
import shapely
from attack_recipes import GOOD
from copies_made import LARGE, made, several, sized_as
from copies_sheets import (
    CUT,
    HOOPS,
    ROUND,
    TAG,
    Asked,
    areas,
    box,
    box_of,
    keep_apart,
    sheet_steps,
    sheets_of,
)
from flat_recipe import flat_text
from told import mends, says

from paramgen.copies.copy_tiles import FillRectangle
from paramgen.copies.most_copies import most_copies, ways_of
from paramgen.copies.nesting import NestingShape, ShapeTurn, convex_parts, nested
from paramgen.copies.shape_bounds import most_shapes
from paramgen.copies.shared_sheets import sheet_pieces
from paramgen.hooping import Room
from paramgen.layout.copies_apart import first_of
from paramgen.layout.lay_out import lay_out
from paramgen.making import Order, make
from paramgen.plan.write_plan import plan
from paramgen.recipe.read_recipe import Recipe, read_recipe
from paramgen.reference.hoops import RIM, Hoop, find_hoop
from paramgen.sizing import size
from paramgen.supplies.cut_list import cut_list
from paramgen.supplies.fabric_amount import amounts
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.unit import Unit

# --- Which pieces ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("recipe", "asked", "names"),
    [
        # Batting is cut to its outline, and lies inside the trim line.
        ("coaster", {}, {"top", "back"}),
        ("coaster", {"padding": "none"}, {"top", "back"}),
        # The window is not trimmed.
        ("plant-tag", {}, {"front", "back"}),
        # Folded pieces, a loop and a zip stay as they are; what is laid over all of these is not.
        ("zip-pouch", {}, {"back", "back-lining"}),
        ("fold-wallet", {}, {"lining"}),
    ],
)
def test_pieces_that_are_trimmed_after_the_seam_are_one_sheet(
    recipe: str, asked: Asked, names: set[str]
) -> None:
    assert sheet_pieces(lay_out(sized_as(recipe, asked))) == names


# --- How near -------------------------------------------------------------------------------


def test_two_round_coasters_of_4_in_lie_in_the_field_of_6_by_10_in() -> None:
    # Finished 101.6 across, half a millimetre more on every side at the seam: 102.6, trimmed 3.2
    # outside it: 109. The outermost stitches run 2 outside the seam: 106.6, in a field of
    # 160 × 260. Two side by side would need 109 + 3 + 106.6 = 218.6 and so lie one below the
    # other; for three 2 · 112 + 106.6 = 330.6 is too much. Middles lie within 53.4 × 153.4, whose
    # diagonal is 162.4: any two more than 112 apart leave no room for a third, by the middle of
    # the box: halves of it are 53.4 × 76.7, their diagonal 93.5 < 112.
    hoop = find_hoop("6x10in", HOOPS)
    most = most_copies(sized_as("coaster", ROUND), Room(hoop))
    assert (most.count, most.bound) == (2, 2)
    project = several("coaster", "most", hoop, ROUND).project
    upper, lower = areas(project)
    assert box_of(upper) == pytest.approx((109.0, 109.0), abs=0.01)
    assert upper.distance(lower) >= CUT - 1e-6
    assert not any(where.turned or where.half for where in project.placed)
    # Each for itself, with its tape, one takes 109 + 2 · (12 - 3.2) + 2 · 17 of 260: one alone.
    assert several("coaster", "most", hoop, ROUND, singly=True).project.copies == 1


def test_coasters_lie_two_trim_allowances_and_a_cut_from_seam_to_seam() -> None:
    # Seam 109 square: 109 + 3.2 + 3 + 3.2 = 118.4 from copy to copy where no gap is. Stitches
    # reach 2 beyond the seam, 113. A zigzag swings 2 outward at the most: no more. So two side by
    # side need 113 + 118.4 = 231.4 and three 349.8.
    for wide, columns in ((231.4, 2), (231.2, 1), (349.8, 3), (349.6, 2)):
        most = most_copies(sized_as("coaster"), Room(Hoop("a", wide, 113.0), may_turn=False))
        assert most.count == columns, wide
    # At the gap, in the middle of the bottom, the whole allowance stays: 12 instead of 3.2. One
    # below the other: 113 + 118.4 + 8.8 = 240.2. Half-turned the upper one has its gap at its
    # top, and both gaps lie outside: 113 + 118.4 = 231.4.
    for high, rows in ((240.2, 2), (231.4, 2), (231.2, 1), (358.6, 3), (358.4, 2)):
        most = most_copies(sized_as("coaster"), Room(Hoop("a", 113.0, high), may_turn=False))
        assert most.count == rows, high
    hoop = Hoop("a", 113.0, 240.0)
    halves = several("coaster", 2, hoop, may_turn=False).project
    assert [where.half for where in halves.placed] in ([False, True], [True, False])
    straight = several("coaster", 2, Hoop("a", 113.0, 240.2), may_turn=False).project
    assert not any(where.half for where in straight.placed)


def test_tags_lie_head_to_tail_where_more_of_them_have_room_so() -> None:
    # 60 wide, with a strap 24 wide: two with their straps beside each other take less than two
    # side by side. Tack-downs run 2 outside the edge that is trimmed along and 3 apart, from tag
    # to tag 60 + 2 · 2 + 3 = 67 side by side; head to tail, strap beside strap, 24 + 67 - 24 or so.
    hoop = find_hoop("130x180", HOOPS)
    project = several("plant-tag", "most", hoop, TAG).project
    assert project.copies == 2
    assert sorted(where.half for where in project.placed) == [False, True]
    assert not project.placed[0].half
    (told,) = (one for one in project.findings if one.code == "half-turned")
    assert "1 of 2 copies is turned by 180°" in says(told)


def test_a_sheet_with_a_grain_has_no_copies_across_it() -> None:
    for hoop in (LARGE, find_hoop("200x300", HOOPS)):
        for recipe in ("coaster", "zip-pouch"):
            try:
                project = several(recipe, "most", hoop, search=False).project
            except CannotMakeError:
                continue
            if sheets_of(project):
                assert len({where.turned for where in project.placed}) == 1


@pytest.mark.parametrize(
    "wish",
    [("plant-tag", dict(TAG)), ("coaster", {"outline": "oval", "width": 120, "height": 75})],
)
def test_copies_on_sheets_keep_apart_and_in_the_field_and_under_the_sheets(
    wish: tuple[str, Asked],
) -> None:
    keep_apart(wish, LARGE)


# --- The search and its bound -----------------------------------------------------------------


def test_what_is_said_to_be_most_is_never_less_than_what_is_found() -> None:
    wanted: tuple[Asked, ...] = (ROUND, {"outline": "polygon", "width": 70}, {"width": 85})
    for asked in wanted:
        ways, _ = ways_of(sized_as("coaster", asked))
        assert ways.shape is not None
        for hoop in HOOPS[-3:]:
            field = FillRectangle(wide=round(hoop.width * 10), high=round(hoop.height * 10))
            bound = most_shapes(field, ways.shape)
            assert len(nested(field, ways.shape, bound=1000)) <= bound


#: Circles, and the radius with which so many lie in a square of side 1: the best packings known,
#: from memory (proven ones up to 30: Markót and Csendes, SIAM Journal on Optimization 16, 2005,
#: 193-219).
CIRCLES = (
    (2, 0.292893),
    (3, 0.254333),
    (4, 0.25),
    (5, 0.207106),
    (7, 0.174457),
    (10, 0.148204),
    (13, 0.133993),
    (30, 0.091671),
)


@pytest.mark.parametrize(("count", "radius"), CIRCLES)
def test_known_packings_of_circles_are_within_the_bound(count: int, radius: float) -> None:
    across = 1000.0 / count  # of a circle, in tenths of a millimetre
    area = shapely.Point(0.0, 0.0).buffer(across / 2, quad_segs=64)
    shape = NestingShape(area, (ShapeTurn(0, 0, 0, 0, 0),), ((0,),))
    # Of such a circle only the middle must lie in the field.
    side = math.floor(across / 2 / radius - across) + 1
    field = FillRectangle(wide=side, high=side)
    assert most_shapes(field, shape) >= count
    # Never fewer than in rows, with less than half a millimetre lost to rounding.
    rows = math.floor(side / (across + 5.0)) + 1
    assert rows**2 <= len(nested(field, shape, bound=1000)) <= most_shapes(field, shape)


def test_convex_parts_cover_a_shape_and_little_more() -> None:
    wanted: tuple[tuple[str, Asked], ...] = (
        ("plant-tag", TAG),
        ("coaster", ROUND),
        ("fold-wallet", {}),
    )
    for recipe, asks in wanted:
        ways, _ = ways_of(sized_as(recipe, asks))
        assert ways.shape is not None
        area = ways.shape.area
        parts = convex_parts(area)
        assert all(one.convex_hull.area == pytest.approx(one.area) for one in parts)
        assert shapely.union_all(parts).covers(area)
        # A hair more all round, in tenths of a millimetre.
        assert shapely.union_all(parts).area <= area.area + 6 * area.length


def test_most_circles_are_no_more_than_a_box_holds() -> None:
    # Oler's inequality is sharp for a row: a box as long as two circles, no wider than one, has
    # two, and so do known ones: in a square of side 2 circles of diameter 1 are at most 4.
    ways, _ = ways_of(sized_as("coaster", {**ROUND, "padding": "none"}), may_turn=False)
    assert ways.shape is not None
    (first, *_) = ways.shape.ways
    for count in (1, 2, 3):
        wide = first.wide + (count - 1) * 1121  # 109 + 3 across, and a tenth
        field = FillRectangle(wide=wide, high=first.high)
        assert most_shapes(field, ways.shape) == count


# --- What a person gets -----------------------------------------------------------------------


def test_a_sheet_is_one_piece_to_cut_and_to_buy() -> None:
    hoop = find_hoop("6x10in", HOOPS)
    project = made("coaster", 2, ROUND, hoop).project
    (batting, top, back) = project.pieces
    assert [one.quantity for one in (batting, top, back)] == [2, 1, 1]
    # 102.6 + 2 · 12 = 126.6 wide as for one, on whole millimetres 127, 12.2 past the seam. So from
    # middle to middle 102.6, a trim allowance of 3.2, 3 for a cut, and at the gap those 12.2.
    assert top.cut[0] == 127
    first, second = (where.move[1] for where in project.placed)
    assert second - first == pytest.approx(102.6 + 3.2 + 3 + 12.2, abs=0.15)
    assert top.cut[1] == math.ceil(127 + second - first - 1e-6)
    assert top.title == "top, one sheet for both copies"
    rows = {row.title: row for row in cut_list(project)}
    assert rows["top, one sheet for both copies"].quantity == 1
    cloth = {one.fabric: one for one in amounts(project.pieces, Unit.MM)}
    assert cloth["top"].area == pytest.approx(top.cut[0] * top.cut[1])
    assert cloth["top"].pieces == 1


def test_a_sheet_is_laid_once_and_taped_round_its_edges_alone() -> None:
    project = made("coaster", 9).project
    for step in sheet_steps(project, Act.LAY):
        (sheet,) = step.layers
        wide, high = box(sheet.outline.points)
        assert f"one sheet over all 9 copies, {wide:g} × {high:g} mm" in step.say
        assert "Do this for all" not in step.say
    taped = sheet_steps(project, Act.TAPE)
    assert len(taped) == 2
    for step, laid in zip(taped, sheet_steps(project, Act.LAY), strict=True):
        edge = laid.layers[0].outline.area.boundary
        assert all(strip.area.intersects(edge) for strip in step.tape)
        # One strip for each 120 mm of an edge, or part of it: 361 · 371 or so has 4 at each.
        wide, high = box(laid.layers[0].outline.points)
        assert len(step.tape) == 2 * (math.ceil(wide / 120) + math.ceil(high / 120))
    (out,) = (step for step in project.steps if step.act is Act.UNHOOP)
    assert "cut them apart where there is most room between their seams" in out.say
    assert "clear of what they are trimmed along and what is left at the turning gap" in out.say
    # A flag's whole top stays open: nothing is left there to be folded in.
    flags = made("bunting-flag", 2).project
    (out,) = (step for step in flags.steps if step.act is Act.UNHOOP)
    assert out.say.endswith("clear of what they are trimmed along.")


def test_tape_of_batting_is_cut_short_where_the_next_copy_is_near() -> None:
    project = made("coaster", 9).project
    (step,) = (one for one in project.steps if one.title == "Tape the batting")
    assert "Cut a strip short" in step.say
    # Strips are 12 wide and 20 long as torn; between two trim lines 3 apart one ends in the middle:
    # 3 on the batting, and from its edge 1 + 3.2 + 1.5.
    assert max(max(box(strip.points)) for strip in step.tape) == pytest.approx(20.0)
    shortest = min(min(box(strip.points)) for strip in step.tape)
    assert shortest == pytest.approx(3 + 1 + 3.2 + 1.5, abs=0.1)
    alone = made("coaster", 1).project
    assert "Cut a strip short" not in next(
        one.say for one in alone.steps if one.title == "Tape the batting"
    )


def test_turned_copies_share_a_sheet_the_projects_own_way_round() -> None:
    project = made("plant-tag", 3, {}, find_hoop("200x300", HOOPS)).project
    assert project.turned
    front = next(one for one in project.pieces if one.name == "front")
    (layer,) = next(iter(sheet_steps(project, Act.LAY))).layers
    wide, high = box(layer.outline.points)
    assert front.cut == (high, wide)


def test_the_plan_says_what_is_one_sheet_and_who_lies_half_turned() -> None:
    whole = made("plant-tag", 3, {}, find_hoop("200x300", HOOPS))
    said = plan(whole, {}, [])
    assert [one.half_turned for one in said.copies] == [w.half for w in whole.project.placed]
    assert {one.name: one.over for one in said.pieces} == {"front": 3, "clear": 1, "back": 3}
    assert [(one.piece, one.over_all) for one in said.layers] == [
        ("front", True),
        *[("clear", False)] * 3,
        ("back", True),
    ]
    alone = plan(made("plant-tag", 1), {}, [])
    assert not any(one.over_all for one in alone.layers)


def test_what_is_proven_of_one_of_many_is_what_is_proven_of_one() -> None:
    one, many = made("plant-tag", 1), made("plant-tag", 7)
    for mine, theirs in (
        (one.proof.hollows, many.proof.hollows),
        (one.proof.shows, many.proof.shows),
    ):
        assert [vars(a) for a in mine] == [vars(b) for b in theirs]
    assert one.proof.thickness == many.proof.thickness


def test_out_of_the_hoop_the_first_copy_has_a_piece_of_its_own() -> None:
    alone, many = several("coaster", 1).project, several("coaster", 9).project
    first = first_of(many)
    for one, other in zip(alone.steps, first.steps, strict=True):
        assert len(one.layers) == len(other.layers)
        for mine, theirs in zip(one.layers, other.layers, strict=True):
            assert sorted(box(mine.outline.points)) == pytest.approx(
                sorted(box(theirs.outline.points))
            )


# --- Asking for it, and refusing -----------------------------------------------------------------


def test_nothing_is_a_sheet_where_it_is_not_wanted() -> None:
    project = several("coaster", 4, singly=True).project
    assert not sheets_of(project)
    assert not any(step.over_all for step in project.steps)


def test_more_that_fit_without_a_sheet_are_laid_without() -> None:
    # A sheet with a grain has no copies across; pieces for each may lie either way.
    for hoop in (LARGE, find_hoop("200x300", HOOPS)):
        for recipe in ("coaster", "zip-pouch"):
            sized = size(sized_as(recipe).recipe, {}, unit=Unit.MM)
            both = most_copies(sized, Room(hoop)).count
            assert both >= most_copies(sized, Room(hoop), singly=True).count


def test_a_sheet_reaches_no_farther_than_it_can_be_taped() -> None:
    # The field, and RIM on every side. An allowance of 60 with tape 17 beyond it,
    # less the 2 that stitches reach beyond the seam, is 75 past the field at most.
    hoop = Hoop("a", 113.0, 250.0)
    with pytest.raises(CannotMakeError) as caught:
        several("coaster", 2, hoop, {"allowance": 60})
    stopping = [one for one in caught.value.findings if one.stops]
    assert {one.code for one in stopping} == {"sheet-beyond-rim"}
    for found in stopping:
        assert found.amount is not None
        assert 75 - RIM - 1 <= found.amount <= 75 - RIM + 1
        assert "--singly" in mends(found)
    assert several("coaster", 2, hoop, {"allowance": 20}).project.copies == 2


# --- What a recipe may say ------------------------------------------------------------------------


def with_key(recipe: str, piece: str, value: str) -> Recipe:
    """A shipped recipe that says of one of its pieces whether it is one sheet."""
    text = flat_text(recipe)
    table = f"[pieces.{piece}]\n"
    assert table in text
    text = text.replace(table, f"{table}one_sheet = {value}\n")
    return read_recipe(text, name=recipe, source=f"{recipe}.toml")


def test_a_recipe_says_that_a_piece_is_no_sheet() -> None:
    sized = size(with_key("coaster", "back", "false"), {}, unit=Unit.MM)
    assert sheet_pieces(lay_out(sized)) == {"top"}


def test_a_piece_that_is_not_trimmed_cannot_be_one_sheet() -> None:
    recipe = with_key("plant-tag", "clear", "true")
    alone = size(recipe, {}, unit=Unit.MM)
    with pytest.raises(CannotMakeError) as caught:
        ways_of(alone)
    (found,) = caught.value.findings
    assert found.code == "sheet-not-trimmed"
    assert "clear window" in says(found)
    assert ways_of(alone, singly=True)


@pytest.mark.parametrize(
    ("recipe", "piece"), [("zip-pouch", "upper-front"), ("coaster", "batting")]
)
def test_a_piece_that_is_folded_or_cut_to_an_outline_is_no_sheet_by_its_form(
    recipe: str, piece: str
) -> None:
    with pytest.raises(InputError) as caught:
        with_key(recipe, piece, "true")
    (fault,) = caught.value.faults
    assert "one sheet over all copies" in str(fault)


def test_tape_on_what_is_not_laid_yet_is_no_failure_of_a_sheet_over_all_copies() -> None:
    first = GOOD.index('[[steps]]\ntitle = "Lay the front"')
    text = GOOD[:first] + GOOD[GOOD.index("[[steps]]", first + 1) :]
    recipe = read_recipe(text, name="marker", source="marker.toml")
    room = Room(Hoop("1000x1000", 1000.0, 1000.0))
    with pytest.raises(CannotMakeError) as caught:
        make(Order(recipe, {}, room, copies=5))
    assert [one.code for one in caught.value.findings if one.stops] == ["taped-before-laid"]
