"""The flap sleeve: its parts, its layers, the order of its work, what it holds, at any size.

Sizes are checked against arithmetic shown beside them; how it goes together is common practice,
no source.
"""

import re
from fractions import Fraction
from functools import cache
from itertools import product

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import Asked, hooped, laid, layers, line, piece, step_of
from told import cannot, mends, says
from work_order import work_order

from paramgen.finished.all_findings import prove
from paramgen.finished.finished_thing import finish
from paramgen.finished.flaps import FlapSide
from paramgen.finished.hardware_reach import places
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import conditions, size
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

SLEEVE = find_recipe("flap-sleeve")
#: An A6 notebook of 10 mm (ISO 216; its thickness: common practice, no source), the flap in one
#: curve. A flap of 0.35 · 165 = 57.75 is cut to the next mm.
NOTEBOOK: Asked = {}
#: Secateurs of 60 × 210 × 25 mm (common practice, no source), the flap to a point.
SECATEURS: Asked = {
    "width": 95,
    "body": 230,
    "flap": 72,
    "shape": "pointed",
    "thing_width": 60,
    "thing_height": 210,
    "thing_thickness": 25,
}


@cache
def _sleeve(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(SLEEVE, dict(asked))


def sleeve(asked: Asked = NOTEBOOK, **more: str | float) -> Project:
    """Lay a sleeve out, once for all tests that ask for the same."""
    return _sleeve(tuple(sorted({**asked, **more}.items())))


def said(asked: Asked, **more: str | float) -> list[Finding]:
    """What is found of its sizes alone."""
    return list(conditions(size(SLEEVE, {**asked, **more}, unit=Unit.MM)))


def found(asked: Asked, **more: str | float) -> tuple[Finding, ...]:
    sized = size(SLEEVE, {**asked, **more}, unit=Unit.MM)
    return prove(lay_out(sized, chord_error=COARSE)).findings


def value(name: str, asked: Asked, **more: str | float) -> float:
    sized = size(SLEEVE, {**asked, **more}, unit=Unit.MM)
    (one,) = (figure for figure in (*sized.sizes, *sized.lengths) if figure.name == name)
    return one.value


# --- Sizes -------------------------------------------------------------------------------


# Seam box: finished and 1 mm of turn of cloth all round, 130 + 2 by 165 + 58 + 2, and 95 + 2 by
# 230 + 72 + 2. Cut 10 past it. The front from the mouth, 6 below the fold of the flap, to 10 past
# the seam: 1 + 165 - 6 + 10 = 170 and 1 + 230 - 6 + 10 = 235, and twice that, as it is folded.
@pytest.mark.parametrize(
    ("asked", "seam", "cut", "front"),
    [
        (NOTEBOOK, (132, 225), (152, 245), (152, 340)),
        (SECATEURS, (97, 304), (117, 324), (117, 470)),
    ],
    ids=["notebook", "secateurs"],
)
def test_pieces_are_cut_to_the_arithmetic(
    asked: Asked, seam: tuple[float, float], cut: tuple[float, float], front: tuple[float, float]
) -> None:
    project = sleeve(asked)
    left, top, right, bottom = project.seam.bounds
    assert (right - left, bottom - top) == pytest.approx(seam)
    assert piece(project, "back-and-flap").cut == pytest.approx(cut)
    assert piece(project, "lining").cut == pytest.approx(cut)
    assert piece(project, "front").cut == pytest.approx(front)
    assert piece(project, "front").folded == pytest.approx((front[0], front[1] / 2))
    assert len(project.pieces) == 3


# The fold of the flap lies at 112.5 - 1 - 165 = -53.5 and 152 - 1 - 230 = -79, the mouth 6 below.
@pytest.mark.parametrize(
    ("asked", "mouth", "end"),
    [(NOTEBOOK, -47.5, 112.5 + 10), (SECATEURS, -73, 152 + 10)],
    ids=["notebook", "secateurs"],
)
def test_the_front_lies_from_the_mouth_past_the_bottom(
    asked: Asked, mouth: float, end: float
) -> None:
    project = sleeve(asked)
    (front,) = layers(project, "front")
    _, top, _, bottom = front.outline.bounds
    assert (top, bottom) == pytest.approx((mouth, end))
    (fold,) = front.folded_edges
    assert [y for _, y in fold] == pytest.approx([mouth, mouth])
    # A mark begins at the mouth at either side and runs 6 above it, where it is not covered.
    for mark in line(project, "mouth-marks").paths:
        assert mark.bounds[1::2] == pytest.approx((mouth - 6, mouth))


def test_the_first_seam_closes_three_sides_half_a_millimetre_outside_the_last() -> None:
    project = sleeve()
    (first,) = line(project, "first-seam").paths
    assert not first.closed
    assert first.bounds == pytest.approx((-66.5, -47.5, 66.5, 113))
    (last,) = line(project, "seam").paths
    assert last.bounds == pytest.approx((-66, -112.5, 66, 112.5))
    tack = line(project, "outer-tack").paths[0]
    assert tack.bounds == pytest.approx((-67.5, -114, 67.5, 114))


# min(90, seam width - 2 · (6 + 1) - 24): 132 - 38 = 94 and 97 - 38 = 59. At a width of 60 that
# leaves 24, less than 0.4 of the shortest side, 0.4 · 62 = 24.8: clear of the corners by 11.6.
@pytest.mark.parametrize(
    ("asked", "gap"),
    [
        (NOTEBOOK, 90),
        (SECATEURS, 59),
        ({"width": 60, "thing_width": 30, "shape": "straight"}, 24.8),
    ],
    ids=["notebook", "secateurs", "least"],
)
def test_the_gap_is_in_the_last_seam_alone_in_the_middle_of_the_bottom(
    asked: Asked, gap: float
) -> None:
    project = sleeve(asked)
    (last,) = line(project, "seam").paths
    ends = sorted((float(last.points[0][0]), float(last.points[-1][0])))
    assert ends == pytest.approx([-gap / 2, gap / 2])
    assert last.points[[0, -1], 1] == pytest.approx([project.seam.bounds[3]] * 2)


# 132 + 3 by 225 + 3, and 97 + 3 by 304 + 3: the seam and the tack-down 1.5 outside it. The marks
# lie inside the tack-down, so they ask for no more.
@pytest.mark.parametrize(
    ("asked", "hoop", "needs"),
    [(NOTEBOOK, "160x260", (135, 228)), (SECATEURS, "240x360", (100, 307))],
    ids=["notebook", "secateurs"],
)
def test_it_needs_no_more_of_the_hoop_than_seam_and_tack_down(
    asked: Asked, hoop: str, needs: tuple[float, float]
) -> None:
    extent = hooped(SLEEVE, asked, hoop).extent
    assert (extent.width, extent.height) == pytest.approx(needs, abs=0.2)


def test_a_tool_longer_than_the_hoop_lets_it_be_is_refused() -> None:
    # A trowel 35 thick: flap 12 + 35 + 4 + 6 + 10 = 67. In 360 mm the body is at most
    # 360 - 2 - 3 - 67 = 288, and what lies in it 288 - 3 - 4 - 17.5 = 263.5 long.
    trowel: Asked = {"shape": "straight", "thing_width": 60, "thing_thickness": 35, "flap": 67}
    assert value("flap_least", trowel) == pytest.approx(67)
    fits: Asked = {**trowel, "body": 288, "thing_height": 263.5}
    assert hooped(SLEEVE, fits, "240x360", search=False).extent.height <= 360
    with pytest.raises(CannotMakeError):
        hooped(SLEEVE, {**fits, "body": 289}, "240x360", search=False)
    assert [one for one in said(fits) if one.stops] == []
    for length in (264, 300):
        (one,) = (one for one in said({**fits, "thing_height": length}) if one.stops)
        assert "will not go into a sleeve" in says(one)


# --- The flap ----------------------------------------------------------------------------


def test_a_curved_flap_is_one_arc_as_high_as_asked() -> None:
    # Half a chord of 65 and a height of 58: (65² + 58²) / (2 · 58) = (4225 + 3364) / 116 = 65.42.
    finished = sleeve().finish.finished
    assert finished is not None
    arc = finished.points[finished.points[:, 1] < -53.5 - 1e-6]
    assert len(arc) > 50
    away = np.hypot(arc[:, 0], arc[:, 1] - (-111.5 + 65.42))
    assert away == pytest.approx(np.full(len(arc), 65.42), abs=0.01)


def test_a_curved_flap_higher_than_half_the_width_is_straight_below_a_half_circle() -> None:
    # 80 wide, 60 high: straight for 20, and a half circle of 40.
    project = sleeve(width=80, flap=60, thing_width=50)
    finished = project.finish.finished
    assert finished is not None
    tip = finished.bounds[1]
    top = finished.area & shapely.box(-40, tip, 40, tip + 40)
    assert top.area == pytest.approx(np.pi * 40**2 / 2, rel=1e-4)
    below = finished.area & shapely.box(-40, tip + 40, 40, tip + 60)
    assert below.area == pytest.approx(80 * 20)


def test_a_pointed_flap_is_blunt_by_4_and_no_sharper_than_60_degrees() -> None:
    finished = sleeve(SECATEURS).finish.finished
    assert finished is not None
    tip = finished.points[finished.points[:, 1] < -151 + 1e-6]
    assert sorted(tip[:, 0]) == pytest.approx([-2, 2])
    # 0.866 · 95 = 82.27
    assert [one for one in said(SECATEURS, flap=82) if one.stops] == []
    (one,) = (one for one in said(SECATEURS, flap=83) if one.stops)
    assert "sharper than 60 degrees" in says(one)
    assert mends(one).startswith("Set flap to at most 82.2 mm")


@settings(max_examples=40, deadline=None)
@given(width=st.integers(60, 330), thick=st.integers(0, 35))
def test_a_pointed_flap_is_as_long_as_its_own_slants_ask_for(width: int, thick: int) -> None:
    # The snap lies 12 from both slants: 12 / sin(atan(width / 2 / flap)) inside the tip. To the
    # mouth it is thickness + 4 + 6, and 10 below it: that depends on the flap, so it is solved.
    asked: Asked = {"shape": "pointed", "width": width, "thing_thickness": thick}
    flap = value("flap_least", asked)
    inside = 12 / np.sin(np.arctan(width / 2 / flap))
    assert flap == pytest.approx(inside + thick + 4 + 6 + 10)


# The snap lands flap - tip - thickness - 4 below the fold of the flap: 58 - 12 - 10 - 4 = 32, at
# -53.5 + 32 = -21.5; and with 12 / sin(atan(47.5 / 72)) = 21.79, 72 - 21.79 - 25 - 4 = 21.21, at
# -79 + 21.21 = -57.79.
@pytest.mark.parametrize(
    ("asked", "flap", "front"),
    [
        (NOTEBOOK, -111.5 + 12, -21.5),
        (SECATEURS, -151 + 21.79, -57.79),
    ],
    ids=["notebook", "secateurs"],
)
def test_the_snap_lands_where_the_flap_comes_to_lie_over_what_is_held(
    asked: Asked, flap: float, front: float
) -> None:
    (snap,) = (one for one in sleeve(asked).notions if one.name == "snap")
    assert [y for _, y in snap.halves] == pytest.approx([flap, front], abs=0.01)
    assert [x for x, _ in snap.halves] == [0, 0]


def test_a_flap_too_short_for_its_snap_is_refused_with_one_that_is_enough() -> None:
    # 12 + 10 + 4 + 6 + 10 = 42
    assert value("flap_least", NOTEBOOK) == pytest.approx(42)
    assert [one for one in said(NOTEBOOK, flap=42) if one.stops] == []
    one = next(one for one in said(NOTEBOOK, flap=41.9) if one.stops)
    assert mends(one).startswith("Set flap to at least 42 mm")


def test_a_thick_thing_under_a_straight_flap_is_told_of() -> None:
    (one,) = said(NOTEBOOK, shape="straight")
    assert one.severity is Severity.KNOW
    assert "about 5 mm" in says(one)  # half of 10
    assert said(NOTEBOOK, shape="straight", thing_thickness=9) == []


# --- What it holds -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("least", "less"),
    [
        # 105 + 10 + 4 + 2 · 3 = 125 wide; 148 + 10 / 2 + 4 + 3 = 160 high.
        ({"width": 125, "body": 160}, {"width": 124.9}),
        ({"width": 125, "body": 160}, {"body": 159.9}),
        # Lying: 148 + 10 + 4 + 6 = 168 wide; 105 + 5 + 4 + 3 = 117 high.
        ({"width": 168, "body": 117}, {"width": 167.9}),
        ({"width": 168, "body": 117}, {"body": 116.9}),
    ],
)
def test_a_notebook_goes_in_upright_or_lying_with_its_thickness_and_ease(
    least: Asked, less: Asked
) -> None:
    assert [one for one in said(least) if one.stops] == []
    (one,) = (one for one in said({**least, **less}) if one.stops)
    assert "will not go into a sleeve" in says(one)
    assert "125 mm" in mends(one)
    assert "160 mm" in mends(one)


@pytest.mark.parametrize("asked", [NOTEBOOK, SECATEURS], ids=["notebook", "secateurs"])
def test_the_examples_can_be_made_and_nothing_disappoints(asked: Asked) -> None:
    assert [one for one in found(asked) if one.severity is not Severity.KNOW] == []


@pytest.mark.parametrize(
    ("shape", "closing", "padding"),
    list(product(["curved", "straight", "pointed"], ["snap", "none"], ["none", "fleece"])),
)
def test_every_choice_can_be_made_at_its_least_and_at_its_largest(
    shape: str, closing: str, padding: str
) -> None:
    choice = {"shape": shape, "closing": closing, "padding": padding}
    # A point is no sharper than 60 degrees, so a small one is a little wider than any other.
    width = 65 if shape == "pointed" else 60
    thing = {"thing_width": 40, "thing_height": 45, "thing_thickness": 2}
    small: Asked = {**choice, **thing, "width": width, "body": 60}
    large: Asked = {**choice, "width": 330, "body": 330, "thing_width": 280, "thing_height": 300}
    for asked in (small, large):
        findings = found(asked)
        assert [one for one in findings if one.severity is not Severity.KNOW] == [], asked


# --- How it goes together ----------------------------------------------------------------

#: From the back of the hoop to the front, with the faces towards the front and the back.
STACK = [
    ("padding", "right", "right"),
    ("back-and-flap", "right", "wrong"),
    ("front", "wrong", "right"),
    ("front", "right", "wrong"),
    ("lining", "wrong", "right"),
]


def test_layers_lie_in_order_with_their_right_sides_as_they_must() -> None:
    names = {True: "right", False: "wrong"}
    sheets = sandwich(sleeve(padding="fleece")).sheets
    got = [(one.piece, names[one.front], names[one.back]) for one in sheets]
    assert got[1:] == STACK[1:]
    assert got[0][0] == "padding"


#: What is sewn, laid and done, in the order that alone works: the mouth edge-stitched before the
#: hooping, the outside closed before the lining is laid, the gap closed while the front still lies
#: on the back, the snap last.
WORK = [
    "fuse the interfacing",
    "fold",
    "edge-stitch",
    "sew place",
    "lay back-and-flap",
    "tape",
    "sew outer-tack, mouth-marks",
    "remove tape",
    "lay front",
    "tape",
    "sew first-seam",
    "remove tape",
    "lay lining",
    "tape",
    "sew seam",
    "take out of the hoop",
    "trim",
    "notch",
    "turn right side out",
    "sew by hand",
    "pull over",
    "finger-press",
    "press",
    "top-stitch",
    "fit the snap or ring",
    "fit the snap or ring",
]


def test_the_work_goes_on_in_the_order_that_works() -> None:
    assert work_order(sleeve()) == WORK


# There is no template of the interfacing: its shape is printed on the fit sheet alone, where each
# line is named by its stop.
@pytest.mark.parametrize("closing", ["snap", "none"])
def test_the_interfacing_is_traced_from_a_line_that_the_fit_sheet_has(closing: str) -> None:
    project = sleeve(closing=closing)
    (fusing,) = (step for step in project.steps if step.act is Act.FUSE)
    assert "Trace the seam outline of stop 1 from the fit sheet" in fusing.say
    assert "template" not in fusing.say
    (placing,) = (step for step in project.steps if step.stop == 1)
    (outline,) = (path for one in placing.lines for path in one.paths)
    assert placing.lines[0].title.startswith("seam outline")
    assert outline.line.hausdorff_distance(project.seam.line) == pytest.approx(0, abs=1e-6)


def test_choices_change_only_the_steps_that_they_are_about() -> None:
    def titles(**asked: str) -> set[str]:
        return {step.title for step in sleeve(NOTEBOOK, **asked).steps}

    assert titles(closing="none") - titles() == {"Fuse the interfacing"}
    assert titles(padding="fleece") >= titles()
    assert "Cut the point off" in titles(shape="pointed") - titles(shape="straight")
    acts = [step.act for step in sleeve(closing="none").steps]
    assert Act.FASTEN not in acts
    assert not any(one.sort == "snap" for one in sleeve(closing="none").notions)


def test_the_padding_is_held_before_the_outer_covers_it() -> None:
    project = sleeve(padding="fleece")
    assert step_of(project, "padding-tack").number < step_of(project, "back-and-flap").number
    # 1 inside the seam line
    left, _, right, bottom = piece(project, "padding").outline.bounds
    assert right - left == pytest.approx(130)
    (layer,) = layers(project, "padding")
    assert layer.outline.bounds[3] == pytest.approx(111.5)
    assert bottom > 0


def test_turned_over_the_front_lies_on_the_lining_and_the_snap_goes_through_it_alone() -> None:
    thing = finish(work_through(lay_out(size(SLEEVE, {}, unit=Unit.MM), chord_error=COARSE)))
    (flap,) = thing.flaps
    assert (flap.piece, flap.lies) == ("front", FlapSide.CLOSING)
    # From the front to the back: outer, lining, the room, the two halves of the front.
    assert [ply.sheet.piece for ply in thing.plies][::-1] == [
        "back-and-flap",
        "lining",
        "front",
        "front",
    ]
    on_flap, on_front = places(thing)
    assert (on_flap.side, on_flap.opening) == (Side.FRONT, "outside")
    assert (on_front.side, on_front.opening) == (Side.BACK, "mouth")
    assert {ply.sheet.piece for ply in on_front.pierced} == {"front"}
    # 32 below the fold of the flap, the mouth 6 below it.
    assert on_front.depth == pytest.approx(26)


def test_the_lining_is_sewn_to_the_front_before_that_is_turned_over() -> None:
    steps = sleeve().steps
    (sewn,) = (step for step in steps if step.act is Act.HAND_SEW)
    (over,) = (step for step in steps if step.act is Act.PULL_OVER)
    assert set(sewn.pieces) == {"lining", "front"}
    assert over.number == sewn.number + 1


def test_it_is_top_stitched_with_the_front_in_sight() -> None:
    (step,) = (step for step in sleeve().steps if step.act is Act.TOP_STITCH)
    assert step.seen_from is Side.BACK
    (mark,) = step.mark
    assert mark.bounds == pytest.approx((-62, -108.5, 62, 108.5))


# A snap 12 across lies 5 + 6 + 1 inside the tip, and past it the flap spends 10 on what is held and
# 4 more. It must land on the front: half of it less than 70 below the fold, as the bottom is.
@pytest.mark.parametrize("flap", [60, 75, 80, 85, 89, 95, 99, 150])
def test_the_patch_ends_where_the_front_does(flap: int) -> None:
    asked: Asked = {"width": 330, "body": 70, "flap": flap, "thing_height": 20}
    if flap - 12 - 14 + 6 > 70:
        with cannot("past the bottom of a sleeve 70 mm"):
            sleeve(asked)
        return
    (patches,) = (one for one in sleeve(asked).notions if one.name == "patches")
    (bottom,) = (one.outline.bounds[3] for one in patches.fused_to if one.piece == "front")
    assert bottom <= sleeve(asked).seam.bounds[3] - 1  # the seam is 1 outside the finished edge


# The front is folded, so that its raw edges come to lie up to a mark of the ruler past the back's.
def test_the_raw_edges_of_the_front_may_reach_past_those_of_the_back() -> None:
    (laying,) = (step for step in sleeve().steps if step.title == "Lay the front")
    assert "Its raw edges lie on those of the back" in laying.say
    assert laying.say.endswith(", or a little past them.")


# A ruler shows no less than a millimetre or 1/16 in.
@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("size_of", [(60, 90), (70, 90), (130, 165)])
@pytest.mark.parametrize("shape", ["curved", "pointed"])
def test_a_patch_at_the_fold_is_not_said_to_lie_less_than_a_mark_below(
    size_of: tuple[int, int], shape: str, unit: Unit
) -> None:
    width, body = size_of
    thing: Asked = {"thing_width": 40, "thing_height": 60, "thing_thickness": 3}
    asked = {**thing, "width": width, "body": body, "shape": shape}
    project = lay_out(size(SLEEVE, asked, unit=unit), chord_error=COARSE)
    (fusing,) = (step for step in project.steps if step.act is Act.FUSE)
    below = re.search(r"its upper edge ([0-9./ ]+) (?:mm|in)", fusing.say)
    if below is None:
        assert "its upper edge at the fold." in fusing.say
    else:
        said_below = sum(Fraction(one) for one in below[1].split())
        assert said_below >= (1 if unit is Unit.MM else Fraction(1, 16))


def test_a_patch_that_reaches_the_fold_is_laid_at_it() -> None:
    thing: Asked = {"thing_width": 40, "thing_height": 60, "thing_thickness": 3}
    (fusing,) = (one for one in sleeve(thing, width=60, body=90).steps if one.act is Act.FUSE)
    assert "its upper edge at the fold." in fusing.say
