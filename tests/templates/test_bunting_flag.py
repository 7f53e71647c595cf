"""The bunting flag: its shapes, its open top, its copies under one sheet, at any size.

Sizes are checked against arithmetic shown beside them; how it goes together is common practice,
no source.
"""

import math
from functools import cache
from itertools import combinations, pairwise, product

import numpy as np
import pytest
import shapely
from finished_things import altered
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import Asked, laid, layers, line, piece
from stitches_shapes import needles_mm
from told import mends, says
from work_order import work_order

from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.finished.all_findings import prove
from paramgen.finished.finished_thing import finish, turn_of_cloth
from paramgen.hooping import Room
from paramgen.layout.lay_out import lay_out
from paramgen.making import Order, make
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import conditions, size
from paramgen.solid.solid_of import solid_of
from paramgen.supplies.all_supplies import supplies
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit
from paramgen.works import stitch

FLAG = find_recipe("bunting-flag")
HOOPS = listed()
SHAPES = ["triangle", "swallowtail", "half-round", "pennant"]
#: A V of 40 and a cord of 5 mm.
FORKED: Asked = {"shape": "swallowtail", "width": 80, "length": 140, "notch": 40, "top": "casing"}
ROUND: Asked = {"shape": "half-round", "width": 110, "length": 40}


@cache
def _flag(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(FLAG, dict(asked))


def flag(**asked: str | float) -> Project:
    """Lay a flag out, once for all tests that ask for the same."""
    return _flag(tuple(sorted(asked.items())))


def said(asked: Asked) -> list[Finding]:
    """What is found of its sizes alone."""
    return list(conditions(size(FLAG, asked, unit=Unit.MM)))


def found(asked: Asked, recipe: Recipe = FLAG) -> tuple[Finding, ...]:
    return prove(lay_out(size(recipe, asked, unit=Unit.MM), chord_error=COARSE)).findings


# --- Shapes ------------------------------------------------------------------------------


# The raw top lies 12 - 1 = 11 above the tape's lower edge and the seam ends 1 below it, at -10. The
# sides are moved out by 1, to 46; so is the point, 4 wide and 110 below, to 111.
def test_the_seam_of_a_triangle_ends_in_the_tape_and_reaches_past_its_point() -> None:
    project = flag()
    assert project.seam.bounds == pytest.approx((-46, -10, 46, 111))
    finished = project.finish.finished
    assert finished is not None
    tip = finished.points[finished.points[:, 1] > 110 - 1e-6]
    assert sorted(tip[:, 0]) == pytest.approx([-2, 2])
    # 12 past the seam all round: 92 + 24 by 121 + 24
    assert piece(project, "front").cut == pytest.approx((116, 145))
    assert piece(project, "back").cut == pytest.approx((116, 145))


# A casing of pi · 5 / 2 + 4 = 11.85 is 12 deep, and 8 are turned in: the raw top lies 20 above the
# fold, the seam ends at -19. The slants run from the middle of the V, 100 below the top, to 4
# inside the corners: 36 across and 40 down. Moved out by 1 the V's corner lies
# sqrt(36² + 40²) / 36 lower.
def test_the_seam_of_a_swallowtail_ends_above_the_casing_and_keeps_its_inner_corner() -> None:
    project = flag(**FORKED)
    assert project.seam.bounds == pytest.approx((-41, -19, 41, 141))
    (inner,) = project.seam.points[np.abs(project.seam.points[:, 0]) < 1e-6]
    assert inner[1] == pytest.approx(100 + math.hypot(36, 40) / 36)
    # Sewn again for about 10 along either slant, in shorter stitches.
    again = line(project, "corner")
    (path,) = again.paths
    assert path.length == pytest.approx(20, abs=1.5)
    assert again.stitch.length == 1.5


# (55² + 40²) / (2 · 40) = 4625 / 80 = 57.81
def test_a_flat_half_round_is_one_arc_from_corner_to_corner() -> None:
    finished = flag(**ROUND).finish.finished
    assert finished is not None
    arc = finished.points[finished.points[:, 1] > -1e-6]
    away = np.hypot(arc[:, 0], arc[:, 1] - (40 - 57.81))
    assert away == pytest.approx(np.full(len(arc), 57.81), abs=0.02)


def test_a_long_half_round_is_straight_above_a_half_circle() -> None:
    finished = flag(shape="half-round", width=90, length=110).finish.finished
    assert finished is not None
    below = finished.area & shapely.box(-45, 65, 45, 110)
    assert below.area == pytest.approx(math.pi * 45**2 / 2, rel=1e-4)
    assert (finished.area & shapely.box(-45, 0, 45, 65)).area == pytest.approx(90 * 65)


@pytest.mark.parametrize(("shape", "length"), [*product(SHAPES, [60, 110]), ("half-round", 40)])
def test_what_is_turned_over_to_the_casing_lies_on_the_flag(shape: str, length: int) -> None:
    finished = flag(shape=shape, length=length, top="casing").finish.finished
    assert finished is not None
    above = finished.area & shapely.box(-100, -100, 100, 0)
    turned = shapely.affinity.scale(above, 1, -1, origin=(0, 0))
    assert turned.area > 17 * 80  # 18 deep, and nearly as wide as the flag
    assert (turned - finished.area.buffer(0.02)).area == pytest.approx(0, abs=0.01)


# --- The open top ------------------------------------------------------------------------


@pytest.mark.parametrize("asked", [{}, FORKED, ROUND], ids=["triangle", "swallowtail", "round"])
def test_the_seam_leaves_the_whole_top_open_and_nothing_else(asked: Asked) -> None:
    project = flag(**asked)
    sewn = [path for one in project.lines if one.role is Role.SEAM for path in one.paths]
    assert not any(path.closed for path in sewn)
    left, top, right, _ = project.seam.bounds
    open_run = project.seam.line - shapely.union_all([path.line for path in sewn]).buffer(1e-3)
    assert open_run.bounds == pytest.approx((left, top, right, top), abs=0.01)
    assert open_run.length == pytest.approx(right - left, abs=0.01)


# The snip goes straight into the inner corner, to 1 from it, through an allowance of 6: no thread
# of a seam may lie across it, or it is cut (common practice, no source). The deepest V is half as
# deep as the flag is long, and 0.866 of its width.
@pytest.mark.parametrize("asked", [FORKED, {"width": 50, "length": 90, "notch": 43}, {}])
def test_no_zigzag_lies_across_the_snip_into_the_inner_corner(asked: Asked) -> None:
    made = stitch(size(FLAG, {**asked, "shape": "swallowtail"}, unit=Unit.MM))
    (corner,) = made.project.seam.points[np.abs(made.project.seam.points[:, 0]) < 1e-6]
    runs = [shapely.LineString(needles_mm(run)) for run in made.sewn[-1].runs]
    snip = shapely.LineString([corner + np.array((0, 0.9)), corner + np.array((0, 7))])
    assert all(run.distance(snip) > 0.3 for run in runs)
    # And it is sewn there, twice.
    beside = shapely.Point(corner).buffer(3)
    again = sum(
        shapely.length(shapely.LineString(two) & beside)
        for run in runs
        for two in pairwise(shapely.get_coordinates(run))
    )
    assert again == pytest.approx(2 * 2 * 3, abs=1)


def test_it_is_trimmed_1_above_the_seam_at_the_top_and_6_outside_it_elsewhere() -> None:
    project = flag()
    (trim,) = (step.mark[0] for step in project.steps if step.act is Act.TRIM)
    assert trim.bounds == pytest.approx((-52, -11, 52, 117), abs=0.01)
    below = shapely.LineString(project.seam.points[1:]) & shapely.box(-60, 0, 60, 120)
    assert trim.line.distance(below) == pytest.approx(6, abs=0.01)


def test_tape_and_casing_are_stitched_where_the_top_lies_in_them() -> None:
    (tape,) = (step for step in flag().steps if step.act is Act.TOP_STITCH)
    assert [one.bounds for one in tape.mark] == [pytest.approx((-45, -2, 45, -2))]
    steps = flag(**FORKED).steps
    (turned,) = (step for step in steps if step.act is Act.FOLD)
    assert [one.bounds[1] for one in turned.mark] == pytest.approx([-12, 0])
    (casing,) = (step for step in steps if step.act is Act.TOP_STITCH)
    # 2 above the lower fold, which comes to lie 12 below the upper one
    assert [one.bounds for one in casing.mark] == [pytest.approx((-40, 10, 40, 10))]


# What is asked for is what hangs: 11 more go into the tape, or 20 over to a casing.
@pytest.mark.parametrize("asked", [{}, {"top": "casing"}, ROUND], ids=["tape", "casing", "round"])
def test_the_finished_size_is_that_of_what_hangs(asked: Asked) -> None:
    project = flag(**asked)
    size_asked = (asked.get("width", 90), asked.get("length", 110))
    assert project.finished == pytest.approx(size_asked)
    assert project.finish.finished is not None
    assert project.finish.finished.box.height > project.finished[1] + 8
    # What turning takes from each edge is still 1.
    assert turn_of_cloth(project) == pytest.approx(1, abs=0.05)
    views = {
        one.name: one.heading[1].text for one in finished_sheets(finish(work_through(project)))
    }
    assert not any("open and flat" in text for text in views.values())


def test_an_open_top_is_no_gap_too_near_to_a_corner_but_nearly_all_of_it_is() -> None:
    assert found({}) == ()
    whole = 'when = "shape != \'swallowtail\'"\nalong = "seam"\ngaps = [{ edge = "top" }]'
    nearly = altered("bunting-flag", whole, whole.replace(" }", ', length = "width" }'))
    assert "gap-near-corner" in {one.code for one in found({}, nearly)}


def test_a_top_that_nothing_holds_in_the_end_is_told_of() -> None:
    mark = 'mark = [{ of = "in-tape", edge = "bottom" }]\n'
    when = "when = \"top == 'tape' and flags > 1\"\n"
    text = f'{when}do = "top-stitch"\n{mark}more_layers = "4"'
    loose = altered("bunting-flag", text, f'{when}do = "fold"\n{mark}')
    assert "gap-not-closed" in {one.code for one in found({}, loose)}
    assert found({"top": "casing"}, loose) == ()


def test_the_casing_is_a_fold_of_the_finished_flag_and_the_tape_is_none() -> None:
    solid = [
        solid_of(finish(work_through(lay_out(size(FLAG, asked, unit=Unit.MM)))))
        for asked in ({}, FORKED)
    ]
    # Turned in twice: 12 deep (pi · 5 / 2 + 4, to the next mm), and 6 of what was trimmed within.
    assert [len(one.panels) for one in solid] == [1, 3]
    deep = sorted(one.outline.bounds[1::2] for one in solid[1].panels[1:])
    assert deep == [pytest.approx((-18, -12), abs=0.01), pytest.approx((-12, 0), abs=0.01)]


# --- Several at once ---------------------------------------------------------------------


# Head to tail in a row: half of the seam's top 46.08, of a slant whose tangent is 45 / 110, and 14
# of lane across it; 46.08 + 14 / cos 22.25° = 61.21. floor((300 - 14 - 92.16) / 61.21) + 1 = 4.
def test_four_triangles_lie_head_to_tail_under_one_sheet_of_each_layer() -> None:
    made = make(Order(FLAG, {}, Room(find_hoop("180x300", HOOPS)), copies=4))
    project = made.project
    assert project.copies == 4
    assert {one.over for one in project.pieces} == {4}
    assert {one.quantity for one in project.pieces} == {1}
    assert any(one.half for one in project.placed)
    assert "half-turned" in {one.code for one in project.findings}
    (sheet,) = layers(project, "front")
    cover = sheet.outline.area
    (trim,) = (step for step in project.steps if step.act is Act.TRIM)
    assert len(trim.mark) == 4
    assert all(cover.covers(one.area) for one in trim.mark)
    # between trim lines room for the scissors
    apart = [one.area.distance(other.area) for one, other in combinations(trim.mark, 2)]
    assert min(apart) == pytest.approx(3, abs=0.6)


# 82 and a lane of 14, which is here 2 · 6 + 3: floor((300 - 15 - 82) / 97) + 1 = 3.
def test_three_swallowtails_lie_in_a_hoop_of_200_by_300() -> None:
    made = make(Order(FLAG, FORKED, Room(find_hoop("200x300", HOOPS)), copies="most"))
    assert made.project.copies == 3


# 24 · 250 + 23 · 300 + 2 · 2000 = 16 900: it comes off a roll.
def test_a_string_is_as_long_as_its_flags_ask_for() -> None:
    long = flag(flags="24", width=250, space=300, tail=2000)
    (tape,) = (one for one in long.notions if one.name == "folded-tape")
    assert tape.length == 16_900


# 4 · 90 + 3 · 20 + 2 · 300 = 1020, however many one hooping gives.
def test_one_tape_is_bought_for_a_string() -> None:
    (tape,) = (one for one in flag(flags=4).notions if one.name == "folded-tape")
    assert (tape.quantity, tape.length, tape.once) == (1, 1020, True)
    made = make(Order(FLAG, {"flags": "4"}, Room(find_hoop("180x300", HOOPS)), copies=2))
    (tape,) = (one for one in made.project.notions if one.name == "folded-tape")
    assert (tape.quantity, tape.length) == (1, 1020)
    assert {one.name for one in flag(**FORKED).notions} >= {"cord"}
    bought = {one.name: one for one in supplies(made)}
    # It is bought beside the stabiliser, whose size follows from the hoop.
    assert "1020 mm" in bought["folded-tape"].amount
    assert bought["stabiliser"].title.startswith("light tear-away")


# --- How it goes together ----------------------------------------------------------------

WORK = [
    "sew place",
    "lay front",
    "tape",
    "sew front-tack",
    "remove tape",
    "lay back",
    "tape",
    "sew seam",
    "take out of the hoop",
    "trim",
    "clip",
    "turn right side out",
    "press",
    "top-stitch",
]


def test_the_work_goes_on_in_the_order_that_works() -> None:
    assert work_order(flag()) == WORK


def test_points_are_cut_curves_notched_and_the_inner_corner_clipped() -> None:
    acts = {
        shape: [step.act for step in flag(shape=shape).steps if step.act in (Act.CLIP, Act.NOTCH)]
        for shape in SHAPES
    }
    assert acts.pop("half-round") == [Act.NOTCH]
    assert set(map(tuple, acts.values())) == {(Act.CLIP,)}
    (clip,) = (step for step in flag(**FORKED).steps if step.act is Act.CLIP)
    assert "inner corner" in clip.say


# --- What the steps say ------------------------------------------------------------------


@pytest.mark.parametrize("top", ["tape", "casing"])
def test_a_string_is_put_together_once_however_many_copies_there_are(top: str) -> None:
    room = Room(find_hoop("180x300", HOOPS))
    steps = make(Order(FLAG, {"top": top}, room, copies=2)).project.steps
    said = steps[-1].say
    assert "When all 9 flags of the string" in said
    before, _, string = said.partition("When all 9 flags")
    # A casing is stitched in each flag, a tape sewn to all of them at once.
    assert before.endswith("Do this for both copies. " if top == "casing" else "")
    assert "copies" not in string
    assert steps[-2].say.endswith("Do this for both copies.")
    assert "hoop again" in steps[0].say
    assert "as many flags as the string takes: 9." in steps[0].say
    alone = flag(top=top).steps[-1].say
    assert alone == said.replace("Do this for both copies. ", "")


@pytest.mark.parametrize("top", ["tape", "casing"])
def test_a_string_of_one_flag_is_told_of_as_one(top: str) -> None:
    project = flag(top=top, flags="1")
    last = project.steps[-1].say
    assert not any(words in last for words in ("all 1", "flags", "between two", "apart"))
    assert work_order(project) == work_order(flag(top=top))
    assert not any("string of 1" in one.title for one in project.notions)


# The seam ends 1 below the raw top and the tack-down lies 1.5 outside the seam: 0.5 above the cut.
# A length on a ruler in inches, 1/16 in or 1.6 mm above the seam, would lie past it.
def test_the_top_is_cut_below_the_tack_down_so_that_nothing_holds_the_stabiliser() -> None:
    for unit in Unit:
        project = lay_out(size(FLAG, {}, unit=unit))
        (trim,) = (step for step in project.steps if step.act is Act.TRIM)
        assert "below the line of the tack-down" in trim.say
        assert "above the ends of the seam" in trim.say
        assert "1/16" not in trim.say
        (tack,) = line(project, "front-tack").paths
        cut = trim.mark[0].bounds[1]
        assert tack.bounds[1] == pytest.approx(cut - 0.5, abs=0.01)
        assert project.seam.bounds[1] == pytest.approx(cut + 1, abs=0.01)


def test_what_holds_the_flags_in_the_tape_is_on_the_list() -> None:
    made = make(Order(FLAG, {}, Room(find_hoop("180x300", HOOPS))))
    assert "and pin" not in made.project.steps[-1].say
    assert "clips" in made.project.steps[-1].say
    assert "clips" in {one.title for one in supplies(made)}


# --- Every size and choice ---------------------------------------------------------------


@pytest.mark.parametrize(("shape", "top"), list(product(SHAPES, ["tape", "casing"])))
def test_every_choice_can_be_made_at_its_least_its_own_and_its_largest(
    shape: str, top: str
) -> None:
    choice: Asked = {"shape": shape, "top": top}
    for sizes in ({"width": 50, "length": 40}, {}, {"width": 250, "length": 330}):
        findings = found({**choice, **sizes})
        assert [one for one in findings if one.severity is not Severity.KNOW] == [], sizes


@settings(max_examples=30, deadline=None)
@given(
    width=st.integers(50, 250),
    length=st.integers(40, 330),
    shape=st.sampled_from(SHAPES),
    top=st.sampled_from(["tape", "casing"]),
)
def test_any_size_is_made_or_refused_by_its_own_conditions(
    width: int, length: int, shape: str, top: str
) -> None:
    asked: Asked = {"width": width, "length": length, "shape": shape, "top": top}
    if any(one.stops for one in said(asked)):
        return
    assert [one for one in found(asked) if one.severity is not Severity.KNOW] == []


@pytest.mark.parametrize(
    ("asked", "told", "mended"),
    [
        # A tip of 30 degrees: half of the width / tan 15° = 1.866 · 60 = 111.96
        ({"width": 60, "length": 112}, "too slender", {"length": 111.9}),
        ({"shape": "half-round", "width": 50, "length": 201}, "too slender", {"length": 200}),
        ({"shape": "pennant", "width": 50, "length": 201}, "too slender", {"length": 200}),
        # 200 - 1.866 · 50 = 106.7
        (
            {"shape": "pennant", "width": 50, "length": 200, "shoulder": 106},
            "sharper than 30 degrees",
            {"shoulder": 106.7},
        ),
        ({"shape": "pennant", "shoulder": 101}, "leaves nothing", {"shoulder": 100}),
        # half of 110; 0.866 · 60 = 51.96
        ({"shape": "swallowtail", "notch": 56}, "too slender to be turned", {"notch": 55}),
        (
            {"shape": "swallowtail", "width": 60, "length": 150, "notch": 52},
            "too slender to be turned",
            {"notch": 51.9},
        ),
        ({"allowance": 9, "trim_allowance": 9}, "too narrow", {"allowance": 10}),
    ],
)
def test_what_cannot_be_sewn_is_refused_and_just_its_remedy_is_enough(
    asked: Asked, told: str, mended: Asked
) -> None:
    (one,) = (one for one in said(asked) if one.stops)
    assert told in says(one)
    (of,) = mended.values()
    assert f"{of} mm" in mends(one)
    assert [one for one in said({**asked, **mended}) if one.stops] == []
