"""The boxed pouch: its parts, its flat work, the seams across its corners, what stands in it.

Cut sizes and places are checked against arithmetic shown beside them; how it goes together is
common practice, no source; what corners make of a flat bag is geometry of cloth that does not
stretch.
"""

from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import Asked, hooped, laid, layers, line, made_or_refused, piece
from told import mends, says

from paramgen.amounts.fused_interfacing import fused
from paramgen.finished.all_findings import Proven, prove
from paramgen.finished.bulk import by_hand
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.pockets import pockets_along
from paramgen.finished.proof import proof
from paramgen.finished.standing_room import cut_out_by, room_of_all, room_place, standing_room
from paramgen.layout.lay_out import lay_out
from paramgen.lengths import parse_length
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import size
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

POUCH = find_recipe("boxed-pouch")
#: 160 × 110 × 60, sewn across; and 120 × 90 × 50, cut out.
ACROSS: Asked = {"box": "across"}
CUT_OUT: Asked = {
    "box": "cut-out",
    "width": 120,
    "height": 90,
    "depth": 50,
    "tin_width": 110,
    "tin_height": 60,
    "tin_depth": 45,
}


@cache
def _laid(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return lay_out(size(POUCH, dict(asked), unit=Unit.MM), chord_error=COARSE)


def pouch(asked: Asked = ACROSS, **more: str | float) -> Project:
    """Lay a pouch out, once for all tests that ask for the same."""
    return _laid(tuple(sorted({**asked, **more}.items())))


def turned_out(asked: Asked = ACROSS, **more: str | float) -> FinishedThing:
    return finish(work_through(pouch(asked, **more)))


def proven(asked: Asked = ACROSS, **more: str | float) -> Proven:
    project = pouch(asked, **more)
    return prove(project, sew(project.steps)[0])


def paths(project: Project, name: str) -> list[list[tuple[float, float]]]:
    return [
        [(float(x), float(y)) for x, y in one.points.round(3)] for one in line(project, name).paths
    ]


# --- Pieces ------------------------------------------------------------------------------

# Flat it is 160 + 60 = 220 by 110 + 30 = 140, and 120 + 50 = 170 by 90 + 25 = 115; the seam box is
# 1 mm larger all round and 10 are cut past it. The zip lies 25 below the top seam, the hems 3.25
# from its middle and those of the linings 4.25; a hem takes 15.
CUT = [
    (ACROSS, "upper-front", (242, 47), (242, 32)),  # 25 - 3.25 + 10 + 15 = 46.75
    (ACROSS, "lower-front", (242, 139), (242, 124)),  # 142 - 25 - 3.25 + 25 = 138.75
    (ACROSS, "upper-lining", (242, 46), (242, 31)),  # 25 - 4.25 + 25 = 45.75
    (ACROSS, "lower-lining", (242, 138), (242, 123)),  # 142 - 25 - 4.25 + 25 = 137.75
    (ACROSS, "back", (242, 162), (242, 162)),
    (ACROSS, "back-lining", (242, 162), (242, 162)),
    (CUT_OUT, "upper-front", (192, 47), (192, 32)),
    (CUT_OUT, "lower-front", (192, 114), (192, 99)),  # 117 - 25 - 3.25 + 25 = 113.75
    (CUT_OUT, "upper-lining", (192, 46), (192, 31)),
    (CUT_OUT, "lower-lining", (192, 113), (192, 98)),  # 117 - 25 - 4.25 + 25 = 112.75
    (CUT_OUT, "back", (192, 137), (192, 137)),
    (CUT_OUT, "back-lining", (192, 137), (192, 137)),
    (CUT_OUT, "binding", (30, 70), (7.5, 70)),  # in four; 50 + 20
]


@pytest.mark.parametrize(("asked", "name", "cut", "folded"), CUT)
def test_pieces_are_cut_to_the_arithmetic(
    asked: Asked, name: str, cut: tuple[float, float], folded: tuple[float, float]
) -> None:
    found = piece(pouch(asked), name)
    assert found.cut == pytest.approx(cut)
    assert found.folded == pytest.approx(folded)
    assert found.quantity == (2 if name == "binding" else 1)


# 242.8 × 162 mm cut for 6 1/4 × 4 3/8 × 2 3/8 in, in eighths of an inch: flat 158.75 + 60.325 by
# 111.125 + 30.1625, and 22 more each way; a hem is added to what is rounded up folded.
@pytest.mark.parametrize(
    ("name", "cut"),
    [
        ("back", ("9 1/2", "6 1/2")),  # 241.075, 163.2875
        ("upper-front", ("9 1/2", None)),
    ],
)
def test_in_inches_pieces_are_cut_on_eighths(name: str, cut: tuple[str, str | None]) -> None:
    asked: Asked = {"width": "6 1/4 in", "height": "4 3/8 in", "depth": "2 3/8 in"}
    found = piece(laid(POUCH, asked, Unit.INCH), name).cut
    for has, wanted in zip(found, cut, strict=True):
        if wanted is not None:
            assert has == pytest.approx(parse_length(f"{wanted} in", name=name))


def test_a_binding_is_rounded_up_as_it_is_cut_and_not_four_times_over() -> None:
    # 30 and 50 + 20 = 70: 9.45 and 22.05 eighths of an inch. Folded in four, it is never measured.
    found = piece(laid(POUCH, {**CUT_OUT}, Unit.INCH), "binding")
    assert found.cut == pytest.approx([10 * 25.4 / 8, 23 * 25.4 / 8])
    assert found.folded == pytest.approx([10 * 25.4 / 32, 23 * 25.4 / 8])


def test_interfacing_is_had_for_what_it_is_fused_to() -> None:
    project = pouch(CUT_OUT)
    (step,) = (one for one in project.steps if one.act is Act.FUSE)
    had = [piece.name for one in project.fabrics for piece in fused(one, project)]
    assert sorted(had) == sorted(step.pieces)
    assert "binding" not in had


@pytest.mark.parametrize(("asked", "long"), [(ACROSS, 293), (CUT_OUT, 243)])
def test_the_zip_is_two_inches_longer_than_the_cut_width(asked: Asked, long: int) -> None:
    # 242 + 50.8 = 292.8 and 192 + 50.8 = 242.8, on the next whole mm
    (found,) = (one for one in pouch(asked).notions if one.sort == "zip")
    assert (found.length, found.width) == (long, 25)


def test_choices_change_only_what_they_are_about() -> None:
    names = {one.name for one in pouch(CUT_OUT).pieces}
    assert names - {one.name for one in pouch().pieces} == {"binding"}
    assert {one.name for one in pouch().pieces} - {
        one.name for one in pouch(loop="none").pieces
    } == {"loop"}
    titles = {step.title for step in pouch(CUT_OUT).steps}
    assert titles - {step.title for step in pouch().steps} == {
        "Fold the bindings",
        "Cut the corners out",
        "Bind the corners",
    }


# --- The flat work -----------------------------------------------------------------------


def test_the_finished_size_is_as_asked_and_the_flat_work_larger_by_the_depth() -> None:
    project = pouch()
    assert project.finished == pytest.approx((160, 110))
    assert project.depth == 60
    # a seam box of 222 × 142
    assert project.seam.bounds == pytest.approx((-111, -71, 111, 71))
    assert project.finish.finished is not None
    assert project.finish.finished.bounds == pytest.approx((-110, -70, 110, 70))
    # without a square of 30 at both ends of the bottom
    assert project.finish.finished.area.area == pytest.approx(220 * 140 - 2 * 30**2)


@pytest.mark.parametrize(
    ("asked", "folds", "linings"),
    [
        (ACROSS, (-49.25, -42.75), (-50.25, -41.75)),  # -71 + 25 = -46
        (CUT_OUT, (-36.75, -30.25), (-37.75, -29.25)),  # -58.5 + 25 = -33.5
    ],
)
def test_the_hems_lie_along_the_zip(
    asked: Asked, folds: tuple[float, float], linings: tuple[float, float]
) -> None:
    project = pouch(asked)
    names = ("upper-front", "lower-front", "upper-lining", "lower-lining")
    for name, y in zip(names, (*folds, *linings), strict=True):
        (layer,) = layers(project, name)
        (fold,) = layer.folded_edges
        assert [at for _, at in fold] == pytest.approx([y, y])


def test_both_seams_go_all_round_where_the_corners_are_sewn_across() -> None:
    project = pouch()
    (first,) = line(project, "first-seam").paths
    assert first.closed
    assert first.bounds == pytest.approx((-111.5, -71.5, 111.5, 71.5))
    (last,) = line(project, "seam").paths
    assert last.bounds == pytest.approx((-111, -71, 111, 71))
    # min(90, 222 - 60 - 24 = 138)
    assert sorted([last.points[0][0], last.points[-1][0]]) == pytest.approx([-45, 45])


def test_cut_out_the_seams_end_at_the_raw_edge_of_the_corners() -> None:
    # Seam box 172 × 117; box lines at x = 86 - 25 = 61 and y = 58.5 - 25 = 33.5, raw edges 7 past
    # them, at 68 and 40.5.
    project = pouch(CUT_OUT)
    first = paths(project, "first-seam")
    ends = {tuple(np.round(one, 2)) for path in first for one in (path[0], path[-1])}
    assert ends == {(-68.0, 59.0), (68.0, 59.0), (-86.5, 40.5), (86.5, 40.5)}
    last = {tuple(np.round(one, 2)) for p in paths(project, "seam") for one in (p[0], p[-1])}
    # The gap parts the bottom one: min(90, 172 - 50 - 24 = 98).
    assert last == {
        (-68.0, 58.5),
        (68.0, 58.5),
        (-86.0, 40.5),
        (86.0, 40.5),
        (-45.0, 58.5),
        (45.0, 58.5),
    }
    # The mark lies 1 mm in the waste.
    assert {point[1] for p in paths(project, "cut-mark") for point in p[:2]} == {41.5}


def test_the_squares_that_are_cut_out_are_as_large_as_the_arithmetic_asks() -> None:
    project = pouch(CUT_OUT)
    trims = [step for step in project.steps if step.act is Act.TRIM]
    assert [step.title for step in trims] == ["Trim", "Cut the corners out"]
    whole, cut = (step.mark[0].area for step in trims)
    # 18 from the seam lines, and 5 outside them
    assert whole.area - cut.area == pytest.approx(2 * 23**2)
    assert project.finish.trimmed is not None
    assert project.finish.trimmed.area.equals(cut)
    assert "18 mm" in trims[1].say
    assert cut_out_by(turned_out(CUT_OUT)) == pytest.approx(7)
    assert cut_out_by(turned_out()) is None


# Laid side seam on bottom seam, the edge of the cut is straight, its legs end to end, and folded
# where the square had its corner. The folds run away from it at 45 degrees: so far inside the edge
# the corner is twice as much wider, and there it is sewn. No edge that is turned lies across the
# depth, as the bottom seam lies flat in its middle: the turn of cloth takes nothing of it. A square
# that is cut 1 mm too large makes the pouch 2 mm deeper, and one too small 2 mm less deep.
@pytest.mark.parametrize("turn_of_cloth", [0, 1, 3])
@pytest.mark.parametrize(("depth", "past"), [(50, 7), (50, 12), (61.5, 6)])
def test_a_corner_that_is_cut_out_is_as_deep_as_asked(
    turn_of_cloth: float, depth: float, past: float
) -> None:
    more = {"turn_of_cloth": turn_of_cloth, "box_allowance": past, "depth": depth}
    project = pouch({**CUT_OUT, **more})
    assert project.finish.trimmed is not None
    # The seam lines that end at the square, and its corner: that of the outline nearest the middle.
    side, bottom = (120 + depth) / 2 + turn_of_cloth, (90 + depth / 2) / 2 + turn_of_cloth
    x, y = min(np.abs(project.finish.trimmed.points), key=lambda at: float(at @ at))
    assert side - x == pytest.approx(bottom - y)
    assert (side - x) + (bottom - y) + 2 * past == pytest.approx(depth)


def test_the_seams_across_lie_half_the_depth_from_the_tip_and_are_as_long_as_the_depth() -> None:
    boxed = pouch().finish.boxed
    assert boxed is not None
    for (ax, ay), (bx, by), (cx, cy) in boxed.seams:
        side = 1 if ax > 0 else -1
        # 111 - 30 and 71 - 30
        assert (ax, ay) == pytest.approx((81 * side, 71))
        assert (bx, by) == pytest.approx((81 * side, 41))
        assert (cx, cy) == pytest.approx((111 * side, 41))
        # Opened, one half lies on the front and one on the back: twice this together, less nothing.
        assert np.hypot(ax - bx, ay - by) + np.hypot(cx - bx, cy - by) == pytest.approx(60)
    (step,) = (step for step in pouch().steps if step.act is Act.BOX)
    assert "60 mm" in step.say
    assert "30 mm" in step.say
    (step,) = (step for step in pouch(CUT_OUT).steps if step.act is Act.BOX)
    assert "36 mm" in step.say  # 50 - 2 × 7
    assert "50 mm" in step.say


@pytest.mark.parametrize(
    ("asked", "hoop", "turned"),
    [
        # 222 × 142 and 1.5 round it for the tack-down: 225 × 145
        (ACROSS, "180x300", True),
        # 175 × 120
        (CUT_OUT, "130x180", True),
    ],
)
def test_it_fits_the_hoops_it_should(asked: Asked, hoop: str, turned: bool) -> None:
    assert hooped(POUCH, asked, hoop).project.turned is turned


# --- How it goes together -----------------------------------------------------------------

#: From the back of the hoop to the front, with the faces towards the front and the back. A hem is
#: turned to the wrong side.
STACK = [
    ("back-lining", "right", "wrong"),
    ("lower-lining", "wrong", "right"),
    ("lower-lining", "right", "wrong"),
    ("upper-lining", "wrong", "right"),
    ("upper-lining", "right", "wrong"),
    ("zip", "right", "right"),
    ("zip", "right", "right"),
    ("upper-front", "wrong", "right"),
    ("upper-front", "right", "wrong"),
    ("lower-front", "wrong", "right"),
    ("lower-front", "right", "wrong"),
    ("loop", "right", "right"),
    ("loop", "right", "right"),
    ("back", "wrong", "right"),
]


def test_layers_lie_in_order_with_their_right_sides_as_they_must() -> None:
    names = {True: "right", False: "wrong"}
    found = [(one.piece, names[one.front], names[one.back]) for one in sandwich(pouch()).sheets]
    assert found == STACK


#: What is done once it is out of the hoop, in the order that alone works: the gap closed while its
#: bottom is flat, the corners while the lining is outside.
AFTER = {
    "across": [Act.TRIM, Act.CLIP, Act.TURN, Act.HAND_SEW, Act.BOX, Act.TURN, Act.PRESS],
    "cut-out": [
        Act.TRIM,
        Act.CLIP,
        Act.TRIM,
        Act.TURN,
        Act.HAND_SEW,
        Act.BOX,
        Act.BIND,
        Act.TURN,
        Act.PRESS,
    ],
}


@pytest.mark.parametrize("box", AFTER)
def test_the_corners_are_sewn_across_between_the_two_turnings(box: str) -> None:
    steps = pouch({"box": box}).steps
    out = next(step.number for step in steps if step.act is Act.UNHOOP)
    assert [step.act for step in steps[out:]] == AFTER[box]


def test_turned_out_front_and_back_are_outside_and_the_linings_round_the_room() -> None:
    for asked in (ACROSS, CUT_OUT):
        thing = turned_out(asked, loop="none")
        assert thing.done.leaks == ()
        pieces = [ply.sheet.piece for ply in thing.plies]
        assert pieces[0] == "back"
        assert pieces[1] == "back-lining"
        assert room_place(thing) == 2
        assert "front" in pieces[-1]


def test_only_right_sides_show_and_nothing_disappoints() -> None:
    for asked, loop in product((ACROSS, CUT_OUT), ("ribbon", "none")):
        found = proven(asked, loop=loop).findings
        assert [one for one in found if one.severity is not Severity.KNOW] == []


def test_twelve_layers_lie_beside_the_seams_that_meet_in_a_corner() -> None:
    # On one side of them twice front and lining or twice back and lining, 4, and with these the
    # allowances of both seams, 4 + 4.
    for asked in (ACROSS, CUT_OUT):
        thing = turned_out(asked)
        box = next(step.number for step in thing.project.steps if step.act is Act.BOX)
        (under,) = (one for one in by_hand(thing) if one.step == box)
        assert under.plies == 12


def test_a_corner_is_bound_through_its_layers_and_four_of_the_binding() -> None:
    thing = turned_out(CUT_OUT)
    (step,) = (one.number for one in thing.project.steps if one.act is Act.BIND)
    (box,) = (one for one in by_hand(thing) if thing.project.steps[one.step - 1].act is Act.BOX)
    (bound,) = (one for one in by_hand(thing) if one.step == step)
    assert bound.plies == 12 + 4
    # Quilting cotton without interfacing, 0.15 to 0.3 mm a layer: shared/materials.toml.
    assert bound.thick == pytest.approx((box.thick[0] + 4 * 0.15, box.thick[1] + 4 * 0.3))


# --- How it stands and what it holds ------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "wide", "high", "deep"), [(ACROSS, 160, 110, 60), (CUT_OUT, 120, 90, 50)]
)
def test_it_stands_on_its_bottom_and_its_walls_lean(
    asked: Asked, wide: float, high: float, deep: float
) -> None:
    room = standing_room(turned_out(asked))
    assert room is not None
    assert (room.width, room.height, room.depth) == pytest.approx((wide, high, deep))
    assert room.stands == pytest.approx(np.sqrt(high**2 - deep**2 / 4))
    # The wall reaches from the width of the bottom to that of the flat bag.
    assert room.wall.area == pytest.approx((wide + wide + deep) / 2 * high)
    assert room.half_bottom.area == pytest.approx(wide * deep / 2)
    assert sum(one.area for one in room.half_sides) == pytest.approx(deep / 2 * high)


def test_the_tin_stands_in_it_and_that_is_told() -> None:
    # 150 + 4 ≤ 160 and 55 + 4 ≤ 60; √(75² + 2.5²) + 27.5 + 4 = 106.5 ≤ 110; and through the zip
    # 55 + 75 = 130 ≤ 0.95 · 202.
    thing = turned_out()
    (room,) = proof(thing).rooms
    assert (room.width, room.height, room.depth, room.opens) == pytest.approx((160, 110, 60, "zip"))
    (held,) = thing.project.holds
    (pocket,) = pockets_along(thing, held)
    stands = room_of_all(thing, pocket)
    assert stands is not None
    needs = np.hypot(75, 2.5) + 27.5
    assert stands.lacks(held) == pytest.approx((-6, needs + 4 - 110, -1))
    # As deep, the same shape grows until it is as wide or as high as there is room for.
    up = np.sqrt((110 - 4 - 27.5) ** 2 - 2.5**2)
    largest = min(156 / 150, up / 75)
    (takes,) = proof(thing).takes
    assert (takes.width, takes.height) == pytest.approx((150 * largest, 75 * largest), abs=0.01)


def test_a_tin_too_large_for_its_room_is_found_where_no_condition_asks() -> None:
    # The recipe's own conditions refuse before: without them the finished thing does.
    file = POUCH.file.model_copy(update={"conditions": []})
    bare = replace(POUCH, file=file)
    for asked, code in (
        ({"tin_depth": 57}, "bottom-shallow"),  # 57 + 4 > 60
        ({"tin_width": 157}, "does-not-stand"),  # 157 + 4 > 160
        ({"tin_height": 79}, "does-not-stand"),  # √(79² + 2.5²) + 31.5 > 110
    ):
        project = lay_out(size(bare, asked, unit=Unit.MM), chord_error=COARSE)
        assert [one.code for one in prove(project).findings if one.stops] == [code]


#: Asked, what is said, and a length that mends it, which the remedy names.
REFUSED = [
    ({"depth": 58.9}, "does not stand on a bottom", "depth", "59"),  # 55 + 4
    ({"width": 154.9}, "whichever way round", "width", "155"),  # 150 + 4 + 1
    # √(75² + 2.5²) + 27.5 + 4 = 106.54
    ({"height": 106.5}, "whichever way round", "height", "106.6"),
    # 15 + 5 + 3.25 + 1
    ({"zip_below_top": 24}, "reaches into the top seam", "zip_below_top", "24.3"),
    # 142 - 30 - 12.5 - 10
    ({"zip_below_top": 90, "loop": "none"}, "too near to the bottom", "zip_below_top", "89.5"),
    # 20 / 2 < 7 + 5
    ({"depth": 23, "box": "cut-out", "tin_depth": 10}, "nothing to cut out", "depth", "24"),
    ({"gap_clear": 60}, "turning gap", "width", "168"),  # 50 + 120 - 2
    # The flat work, 60 + 20 + 2 by 60 + 10 + 2, is turned through 0.4 of its 72 mm: 28.8 + 40 - 2.
    (
        {
            "width": 60,
            "height": 60,
            "depth": 20,
            "gap_clear": 20,
            "loop": "none",
            "tin_width": 40,
            "tin_height": 30,
            "tin_depth": 10,
        },
        "turning gap",
        "width",
        "66.8",
    ),
    # 25 + 12.5 + 3 + 20 + 5 - 2
    (
        {"height": 62, "tin_depth": 5, "depth": 20, "tin_height": 30, "tin_width": 40},
        "no room for a loop",
        "height",
        "63.5",
    ),
]


@pytest.mark.parametrize(("asked", "said", "name", "mended"), REFUSED)
def test_what_cannot_be_sewn_is_refused_and_its_remedy_works(
    asked: Asked, said: str, name: str, mended: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        laid(POUCH, asked)
    stops = [one for one in caught.value.findings if one.stops]
    told = [one for one in stops if said in says(one)]
    assert told, [says(one) for one in stops]
    assert f"{mended} mm" in mends(told[0])
    laid(POUCH, {**asked, name: mended})


@pytest.mark.parametrize("box", ["across", "cut-out"])
@pytest.mark.parametrize(
    "asked",
    [
        {"width": 54, "height": 60, "depth": 24, "tin_width": 30, "tin_height": 20, "tin_depth": 8},
        {"width": 250, "height": 250, "depth": 100},
        {"width": 250, "height": 60, "depth": 24, "tin_depth": 15, "tin_height": 40},
        {"width": 72, "height": 250, "depth": 100, "tin_width": 50, "tin_height": 60},
    ],
)
def test_at_its_ends_it_can_be_made_and_nothing_disappoints(asked: Asked, box: str) -> None:
    found = proven({**asked, "box": box, "loop": "none"}).findings
    assert [one for one in found if one.severity is not Severity.KNOW] == []


# --- At any size --------------------------------------------------------------------------


@st.composite
def orders(draw: st.DrawFn) -> dict[str, str | float]:
    """Draw anything within the recipe's limits."""

    def some(low: float, high: float) -> float:
        return round(draw(st.floats(low, high)), 1)

    asked: dict[str, str | float] = {
        "width": some(50, 250),
        "height": some(60, 250),
        "depth": some(20, 100),
        "box": draw(st.sampled_from(["across", "cut-out"])),
        "loop": draw(st.sampled_from(["ribbon", "none"])),
        "tin_width": some(20, 60),
        "tin_height": some(10, 50),
        "tin_depth": some(0, 40),
    }
    limits = {
        "allowance": (6, 30),
        "trim_allowance": (3, 20),
        "turn_of_cloth": (0, 5),
        "hem": (10, 16),
        "coil_gap": (5, 12),
        "lining_back": (0, 1),
        "zip_below_top": (15, 80),
        "zip_tape": (18, 40),
        "tack_offset": (0.5, 2.5),
        "fold_stitch": (2.5, 5),
        "box_allowance": (6, 12),
        "loop_width": (16, 40),
        "loop_out": (20, 60),
        "gap_clear": (10, 30),
    }
    for name in draw(st.lists(st.sampled_from(sorted(limits)), max_size=3, unique=True)):
        asked[name] = some(*limits[name])
    return asked


@given(orders())
@settings(max_examples=12, deadline=None)
def test_within_its_limits_it_can_be_sewn_turned_and_used_or_says_what_would_do(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: lay_out(size(POUCH, asked, unit=Unit.MM), chord_error=COARSE))
    if project is None:
        return
    sewn, found = sew(project.steps)
    found = (*found, *prove(project, sewn).findings)
    stops = [one for one in found if one.severity is Severity.CANNOT]
    # What it is to hold is asked apart from its size: it may be too large for the zip.
    assert {one.code for one in stops} <= {"mouth-narrow", "does-not-stand"}
    assert all(mends(one) for one in stops)
    assert shapely.is_valid(project.seam.area)
