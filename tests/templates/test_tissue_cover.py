"""The tissue cover: its pieces, its layers, its opening, what it holds, at any size.

Sizes are checked against arithmetic shown beside them; how it goes together is common practice,
no source.
"""

import re
from functools import cache
from itertools import product

import pytest
from finished_things import altered
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import Asked, hooped, laid, layers, line, piece
from told import mends, says
from work_order import work_order

from paramgen.drawings.pictures.finished_views import finished_sheets, front_of
from paramgen.finished.all_findings import prove
from paramgen.finished.finished_thing import finish
from paramgen.finished.flaps import FlapSide
from paramgen.finished.pockets import pockets_along
from paramgen.layout.lay_out import lay_out
from paramgen.ordering.things_to_hold import holding
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import conditions, size
from paramgen.solid.solid_of import solid_of
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

COVER = find_recipe("tissue-cover")
#: A packet of 110 × 55 × 25 mm, the folds meeting.
MEETING: Asked = {}
#: The same in inches, 5 1/2 × 3 1/2 in, the folds lapping by 12, nothing raw inside.
LAPPING: Asked = {"width": 139.7, "height": 88.9, "lap": 12, "inside": "enclosed"}
CHOICES = list(product(["overcast", "enclosed"], ["none", "strip"], [0, 12]))


@cache
def _cover(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(COVER, dict(asked))


def cover(asked: Asked = MEETING, **more: str | float) -> Project:
    """Lay a cover out, once for all tests that ask for the same."""
    return _cover(tuple(sorted({"thing_ease": 4.5, **asked, **more}.items())))


def said(asked: Asked, **more: str | float) -> list[Finding]:
    """What is found of its sizes alone."""
    return list(conditions(size(COVER, {**asked, **more}, unit=Unit.MM)))


def found(asked: Asked, recipe: Recipe = COVER) -> tuple[Finding, ...]:
    return prove(lay_out(size(recipe, asked, unit=Unit.MM), chord_error=COARSE)).findings


# --- Sizes -------------------------------------------------------------------------------


# Seam box 140 + 2 by 86 + 2, its half 44; back and inside 10 past it all round. Each front from
# the fold in the middle to 10 past the seam, 44 + 10 = 54, twice as it is folded.
def test_pieces_are_cut_to_the_arithmetic_where_the_folds_meet() -> None:
    project = cover()
    assert project.seam.bounds == pytest.approx((-71, -44, 71, 44))
    assert {one.name: one.cut for one in project.pieces} == {
        "back": pytest.approx((162, 108)),
        "upper-front": pytest.approx((162, 108)),
        "lower-front": pytest.approx((162, 108)),
        "inside": pytest.approx((162, 108)),
    }
    assert piece(project, "upper-front").folded == pytest.approx((162, 54))


# Seam box 141.7 by 90.9, its half 45.45. Back 161.7 by 110.9, to the next mm. The folds lie 6 off
# the middle: 6 + 45.45 + 10 = 61.45 deep, to the next mm 62, so that it can be measured
# folded, and twice that. The insides pass the middle by half of 30: 45.45 + 10 + 15 = 70.45, 71.
def test_pieces_are_cut_to_the_arithmetic_where_the_folds_lap() -> None:
    project = cover(LAPPING)
    assert {one.name: one.cut for one in project.pieces} == {
        "back": pytest.approx((162, 111)),
        "upper-front": pytest.approx((162, 124)),
        "lower-front": pytest.approx((162, 124)),
        "inside": pytest.approx((162, 142)),
    }
    assert piece(project, "inside").quantity == 2
    (upper,), (lower,) = layers(project, "upper-front"), layers(project, "lower-front")
    assert [y for _, y in upper.folded_edges[0]] == pytest.approx([6, 6])
    assert [y for _, y in lower.folded_edges[0]] == pytest.approx([-6, -6])


# A lip of 10 is folded to the next eighth of an inch, 12.7, from four times that.
def test_what_is_said_of_the_lip_is_as_wide_as_it_is() -> None:
    project = lay_out(size(COVER, {"lip": "strip"}, unit=Unit.INCH), chord_error=COARSE)
    assert piece(project, "lip").folded[1] == pytest.approx(12.7)
    assert piece(project, "lip").cut[1] == pytest.approx(50.8)
    (fold,) = (step for step in project.steps if step.title == "Fold the lip")
    assert "1/2 in" in fold.say


def test_marks_begin_at_the_folds_and_run_where_they_can_be_seen() -> None:
    project = cover(LAPPING)
    for mark in line(project, "upper-marks").paths:
        assert mark.bounds[1::2] == pytest.approx((6, 12))
    for mark in line(project, "lower-marks").paths:
        assert mark.bounds[1::2] == pytest.approx((-12, -6))
    assert "lower-marks" not in {one.name for one in cover().lines}


# The middle of a zigzag of 4 that begins 1 outside the seam lies 3 outside it: 74 and 47. The
# corner is cut off across, so the zigzag ends before that of the seam by 1 + 4 less 2.5: at 68.5
# and 41.5.
def test_the_overcast_zigzag_runs_along_every_side_and_ends_before_the_corners() -> None:
    project = cover()
    zigzag = line(project, "overcast")
    assert sorted(tuple(round(at, 3) for at in one.bounds) for one in zigzag.paths) == [
        (-74, -41.5, -74, 41.5),
        (-68.5, -47, 68.5, -47),
        (-68.5, 47, 68.5, 47),
        (74, -41.5, 74, 41.5),
    ]
    assert (zigzag.stitch.swing, zigzag.stitch.outward) == (4, False)
    (trim,) = (step.mark[0] for step in project.steps if step.act is Act.TRIM)
    assert trim.bounds == pytest.approx((-77, -50, 77, 50))  # 6 outside the seam
    assert "overcast" not in {one.name for one in cover(LAPPING).lines}


def test_the_seam_has_no_gap_and_is_sewn_again_past_the_opening() -> None:
    project = cover(LAPPING)
    assert [one.closed for one in line(project, "seam").paths] == [True]
    ends = line(project, "ends").paths
    # 10 past either fold, at -6 and 6
    assert [one.bounds[1::2] for one in ends] == [pytest.approx((-16, 16))] * 2


# 2 · (71 + 5) by 2 · (44 + 5): seam and zigzag; the marks ask for no more.
def test_it_needs_no_more_of_the_hoop_than_the_zigzag() -> None:
    extent = hooped(COVER, {}, "200x300").extent
    assert (extent.width, extent.height) == pytest.approx((152, 98), abs=0.2)
    assert hooped(COVER, {}, "130x180").project.turned


# --- What it holds -----------------------------------------------------------------------


def test_a_packet_goes_in_with_its_thickness_both_ways() -> None:
    # 110 + 25 + 5 = 140 and 55 + 25 + 5 = 85
    assert [one for one in said({"width": 140, "height": 85}) if one.stops] == []
    for less in ({"width": 139.9, "height": 86}, {"width": 140, "height": 84.9}):
        (one,) = (one for one in said(less) if one.stops)
        assert "will not go into a cover" in says(one)
        assert "140 mm" in mends(one)
        assert "85 mm" in mends(one)
    # across the opening, the other way round
    assert [one for one in said({"width": 85, "height": 140}) if one.stops] == []


def test_in_inches_it_lacks_a_third_of_a_millimetre_and_takes_less_ease() -> None:
    assert [one.stops for one in said(LAPPING)] == [True]  # 139.7 of 140
    assert said(LAPPING, thing_ease=4.5) == []


@pytest.mark.parametrize(("inside", "lip", "lap"), CHOICES)
def test_what_is_found_of_the_room_is_the_whole_finished_size(
    inside: str, lip: str, lap: int
) -> None:
    asked: Asked = {"inside": inside, "lip": lip, "lap": lap}
    project = lay_out(size(COVER, asked, unit=Unit.MM), chord_error=COARSE)
    thing = finish(work_through(project))
    (held,) = project.holds
    (room,) = pockets_along(thing, held)
    assert room.area.bounds == pytest.approx((-70, -43, 70, 43), abs=0.01)
    assert (room.opens, room.opens_within, room.through_zip) == (True, True, False)
    (packet,) = solid_of(thing).held
    # It lies in the middle, and goes in from the side where the fronts are.
    assert packet.outline.bounds == pytest.approx((-55, -27.5, 55, 27.5), abs=0.02)
    assert packet.side == -1


# --- How it goes together ----------------------------------------------------------------

#: From the back of the hoop to the front, with the faces towards the front and the back.
FRONTS = [
    ("upper-front", "wrong", "right"),
    ("upper-front", "right", "wrong"),
    ("lower-front", "wrong", "right"),
    ("lower-front", "right", "wrong"),
]
INSIDES = [("inside", "wrong", "right"), ("inside", "right", "wrong")]
BACK = ("back", "right", "wrong")


@pytest.mark.parametrize(
    ("inside", "stack"),
    [
        ("overcast", [INSIDES[0], BACK, *FRONTS]),
        ("enclosed", [BACK, *FRONTS, *INSIDES, *INSIDES]),
    ],
)
def test_layers_lie_in_order_with_their_right_sides_as_they_must(
    inside: str, stack: list[tuple[str, str, str]]
) -> None:
    names = {True: "right", False: "wrong"}
    sheets = sandwich(cover(inside=inside)).sheets
    assert [(one.piece, names[one.front], names[one.back]) for one in sheets] == stack


@pytest.mark.parametrize(
    ("inside", "rest"),
    [("overcast", ["inside", "back"]), ("enclosed", ["inside"] * 4 + ["back"])],
)
def test_finished_what_was_laid_first_is_outermost(inside: str, rest: list[str]) -> None:
    project = lay_out(size(COVER, {"inside": inside, "lap": 12}, unit=Unit.MM), chord_error=COARSE)
    done = work_through(project)
    thing = finish(done)
    fronts = ["upper-front", "upper-front", "lower-front", "lower-front"]
    assert [ply.sheet.piece for ply in thing.plies] == [*fronts, *rest]
    assert [flap.lies for flap in thing.flaps] == [FlapSide.CLOSING] * (
        2 if inside == "enclosed" else 0
    )
    # From the back nothing is seen but the fronts: the upper one whole, down to its fold at 6.
    seen = thing.seen[Side.BACK]
    assert seen[0].bounds == pytest.approx((-70, -43, 70, 6), abs=0.01)
    assert seen[2].bounds == pytest.approx((-70, 6, 70, 43), abs=0.01)
    assert [round(part.area) for part in seen[4:]] == [0] * len(rest)
    assert done.opens
    # The opening that it is turned through: that of the fronts, or that of the insides.
    (opening,) = done.opening
    at = 6 if inside == "overcast" else 15
    assert opening.bounds == pytest.approx((-71, at, 71, at), abs=0.01)
    assert done.lap == pytest.approx(12 if inside == "overcast" else 30)
    assert done.looked_into == (inside == "overcast")


# Pieces that lap by 20 hide what lies behind them (from memory), and by less they do not.
@pytest.mark.parametrize(("lap", "seen"), [(19.8, True), (19.95, True), (20, False), (20.5, False)])
def test_an_opening_is_looked_into_up_to_the_lap_that_hides(lap: float, seen: bool) -> None:
    done = work_through(cover(inside="overcast", lip="none", lap=lap))
    assert done.lap == pytest.approx(lap)
    assert done.looked_into is seen


def test_its_front_is_where_it_opens() -> None:
    for inside in ("overcast", "enclosed"):
        thing = finish(work_through(cover(inside=inside)))
        assert thing.outer is Side.BACK
        front, back = finished_sheets(thing)
        assert front_of([front, back]) is front
        shown = [[label.lines[0].text for label in view.labels] for view in (front, back)]
        assert {"upper front", "lower front"} <= set(shown[0])
        assert "back" in shown[1]
        # What is seen as it lay in the hoop is then its back, and no word calls that its front.
        assert ["front" in view.heading[-1].text for view in (front, back)] == [False, False]


WORK = [
    "fold",
    "sew place",
    "lay back",
    "tape",
    "turn the hoop over",
    "lay inside",
    "tape",
    "turn the hoop over",
    "sew back-tack, upper-marks",
    "remove tape",
    "lay upper-front",
    "tape",
    "lay lower-front",
    "tape",
    "sew seam, ends, overcast",
    "take out of the hoop",
    "trim",
    "clip",
    "turn right side out",
    "press",
    "put in what it holds",
]


def test_the_work_goes_on_in_the_order_that_works() -> None:
    assert work_order(cover()) == WORK


def test_enclosed_it_is_turned_twice_and_nothing_lies_on_the_back_of_the_hoop() -> None:
    acts = [step.act for step in cover(LAPPING).steps]
    assert acts.count(Act.TURN) == 1
    assert acts.index(Act.PULL_OVER) == acts.index(Act.TURN) + 1
    assert Act.FLIP not in acts
    assert not [step.title for step in cover(LAPPING).steps if "back of the hoop" in step.say]
    (off,) = (one for one in cover().steps if one.act is Act.UNTAPE)
    assert "on the back of the hoop too" in off.say
    assert all(one.side is Side.FRONT for step in cover(LAPPING).steps for one in step.layers)


# --- Every size and choice ---------------------------------------------------------------


@pytest.mark.parametrize(("inside", "lip", "lap"), CHOICES)
def test_every_choice_can_be_made_at_its_least_its_own_and_its_largest(
    inside: str, lip: str, lap: int
) -> None:
    choice: Asked = {"inside": inside, "lip": lip, "lap": lap}
    small = {"thing_width": 70, "thing_height": 50, "thing_thickness": 5}
    for sizes in ({"width": 80, "height": 60, **small}, {}, {"width": 330, "height": 330}):
        findings = found({**choice, **sizes})
        assert [one for one in findings if one.severity is not Severity.KNOW] == [], sizes


@settings(max_examples=15, deadline=None)
@given(
    width=st.integers(140, 330),
    height=st.integers(86, 330),
    lap=st.integers(0, 28),
    inside=st.sampled_from(["overcast", "enclosed"]),
)
def test_any_size_that_takes_the_packet_can_be_made(
    width: int, height: int, lap: int, inside: str
) -> None:
    asked: Asked = {"width": width, "height": height, "lap": lap, "inside": inside}
    assert [one for one in found(asked) if one.severity is not Severity.KNOW] == []


@pytest.mark.parametrize(
    ("asked", "told", "mended"),
    [
        # a third of 86
        ({"lap": 29}, "a lap of 29 mm", {"lap": 28.6}),
        # 86 / 2 - 20 = 23 below the middle at most; with a lap of 12 6 less
        ({"opens_below": 24}, "leaves less than 20 mm", {"opens_below": 23}),
        ({"opens_below": 20, "lap": 12}, "leaves less than 20 mm", {"opens_below": 17, "lap": 12}),
        # 1 + 4 and 3.5 for the tape
        ({"allowance": 8.4, "trim_allowance": 6}, "too narrow for the lines", {"allowance": 8.5}),
        # The zigzag ends 5 outside the seam; scissors keep 0.5 to 1.5 from it.
        ({"trim_allowance": 5.4}, "cut into a zigzag", {"trim_allowance": 6}),
        ({"trim_allowance": 6.6}, "frays past it", {"trim_allowance": 6}),
        # 9.5 wide, 5 stand out: of 4.5 the line 2 from the fold leaves 2.5; of 9 it leaves 2.
        ({"lip": "strip", "lip_shows": 5, "lip_width": 9}, None, {}),
    ],
)
def test_what_cannot_be_sewn_is_refused_and_just_its_remedy_is_enough(
    asked: Asked, told: str | None, mended: Asked
) -> None:
    stops = [one for one in said(asked) if one.stops]
    assert bool(stops) == (told is not None)
    assert all(told is not None and told in says(one) for one in stops)
    assert [one for one in said({**asked, **mended}) if one.stops] == []


def test_without_a_closing_piece_it_is_refused_and_not_made() -> None:
    text = 'between = ["back", "inside"]'
    once = text.replace('"inside"', '{ piece = "inside", when = "lap > 40" }')
    spoiled = altered("tissue-cover", text, once)
    with pytest.raises(Exception, match="closes-with-nothing"):
        found({"inside": "enclosed"}, spoiled)


# It is there for a packet: the last that is done is to put that in.
@pytest.mark.parametrize("inside", ["overcast", "enclosed"])
def test_at_last_the_packet_is_put_in(inside: str) -> None:
    assert "Slip what it is to hold in through the opening" in cover(inside=inside).steps[-1].say


# A person may ask for several: what is said of one is not said of those.
def test_the_last_step_is_right_for_one_and_for_several() -> None:
    one, several = (holding(COVER, {}, Unit.MM, text) for text in ("bank card", "4 bank cards"))
    says_of_one, says_of_several = (
        lay_out(size(*asked, unit=Unit.MM), chord_error=COARSE).steps[-1].say
        for asked in (one, several)
    )
    assert says_of_one == says_of_several
    assert "bank card" not in says_of_several


def test_the_lip_is_held_with_clips_and_sewn_on_a_sewing_machine() -> None:
    (sewn,) = (step for step in cover(lip="strip").steps if step.title.startswith("Stitch the lip"))
    assert sewn.act is Act.EDGE_STITCH
    assert "hold it with clips" in sewn.say
    assert not re.search(r"\bpins?\b|by hand", sewn.say)


# A lip 10 deep shows 4 past the fold of the upper front: the opening is lapped by that and the lap.
@pytest.mark.parametrize(("lip", "more"), [("none", 0), ("strip", 4)])
@pytest.mark.parametrize("lap", [12, 16, 20, 24])
def test_who_looks_in_sees_nothing_where_the_opening_is_lapped_by_20(
    lip: str, more: int, lap: int
) -> None:
    done = work_through(cover(inside="overcast", lip=lip, lap=lap, height=190))
    assert done.lap == pytest.approx(lap + more, abs=0.01)
    assert done.looked_into is (lap + more < 20)
