"""The pictures of the work once it is out of its hoop, against arithmetic on declared sizes."""

import math
import re
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from itertools import combinations

import numpy as np
import pytest
import shapely
from drawings_read import clipped, of_style, overlapping, words
from finished_things import recipe, seen, worked
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.over_edge import tapes
from paramgen.drawings.front_end.scene import Scene, State, hooped
from paramgen.drawings.front_end.trimming import (
    corner_cuts,
    curve_notches,
    curve_snips,
    inward_corner_snips,
    point_cuts,
)
from paramgen.drawings.front_end.work_turned_out import shown_state
from paramgen.drawings.pictures.finished_views import finished
from paramgen.drawings.pictures.step import step_picture
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, flat
from paramgen.finished.finished_thing import turn_of_cloth
from paramgen.layout.lay_out import lay_out, shifted
from paramgen.lengths import show
from paramgen.sizing import size
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.path import path
from paramgen.vocabulary.project import Layer, Step
from paramgen.vocabulary.unit import Unit

Asked = Mapping[str, str | float]
RIGHT = Style.RIGHT_SIDE
MOVE = (3.0, -5.0)
#: A ribbon of 84 mm: folded 42, of which 5 mm lie past the seam line.
TAB: Asked = {"tab_cut": "84mm"}

#: Recipes with every kind of end they have.
ENDS: tuple[tuple[str, Asked], ...] = (
    ("fold-wallet", {}),
    ("fold-wallet", {"pockets": 4, "width": 200, "height": 300, "pouch": "long"}),
    ("fold-wallet", {"pockets": 1, "tab": "none", "corners": "rounded"}),
    ("fold-wallet", {"width": 330, "height": 360}),
    ("zip-pouch", {}),
    ("zip-pouch", {"loop": "none", "corners": "rounded", "width": 330, "height": 330}),
    ("plant-tag", {}),
    ("plant-tag", {"hang": "slot"}),
    ("plant-tag", {"hang": "hole", "width": 330, "height": 330}),
    ("coaster", {}),
    ("coaster", {"outline": "square", "width": 50, "padding": "none"}),
    ("coaster", {"outline": "round", "padding": "none"}),
    ("coaster", {"outline": "oval", "width": 330, "height": 200}),
    ("fold-wallet", {"tab": "fabric", "layers": "single"}),
    ("coaster", {"outline": "polygon", "sides": 3, "width": 110}),
    ("coaster", {"outline": "polygon", "sides": 12, "width": 300}),
    ("flap-sleeve", {}),
    ("flap-sleeve", {"shape": "pointed", "padding": "fleece", "width": 330, "body": 330}),
)


def scene(name: str, asked: Asked, *, turned: bool = False, unit: Unit = Unit.MM) -> Scene:
    """A project in a hoop that just takes it, moved a little to be told from what is not."""
    sized = size(recipe(name), asked, unit=unit)
    project = shifted(lay_out(sized, turned=turned), *MOVE)
    return hooped(project, "hoop", 420.0, 420.0, worked(name, asked, unit), MOVE)


@lru_cache
def wallet(turned: bool) -> Scene:
    return scene("fold-wallet", TAB, turned=turned)


def after_the_hoop(one: Scene) -> tuple[Step, ...]:
    return one.project.steps[one.number_of(Act.UNHOOP) or 0 :]


def drawn(one: Scene, act: Act, place: int = -1) -> Drawing:
    steps = [step for step in after_the_hoop(one) if step.act is act]
    return step_picture(one, steps[place].number)


@lru_cache
def ending(end: int, turned: bool) -> Scene:
    """One of the ends; in inches where it lies turned."""
    name, asked = ENDS[end]
    return scene(name, asked, turned=turned, unit=Unit.INCH if turned else Unit.MM)


@lru_cache
def pictures(end: int, turned: bool) -> tuple[tuple[Step, Drawing], ...]:
    one = ending(end, turned)
    return tuple((step, step_picture(one, step.number)) for step in after_the_hoop(one))


def sewn_gap(one: Scene) -> float:
    """Length of the seam line less what the last seam stitches of it."""
    *_, last = [line for line in one.project.lines if line.role is Role.SEAM]
    return one.course.length - sum(path.length for path in last.paths)


def closing(one: Scene) -> Act:
    """What closes the gap once it is turned."""
    acts = [step.act for step in one.project.steps]
    return Act.HAND_SEW if Act.HAND_SEW in acts else Act.TOP_STITCH


def centre(shape: Shape) -> tuple[float, float]:
    left, top, right, bottom = shape.path.bounds
    return (left + right) / 2, (top + bottom) / 2


@pytest.mark.parametrize("end", range(len(ENDS)))
def test_the_stabiliser_is_torn_at_the_stitching_farthest_out(end: int) -> None:
    one = ending(end, False)
    drawing = step_picture(one, one.number_of(Act.UNHOOP) or 0)
    assert "tear it away outside this line" in words(drawing, "labels")
    drawn = [shape for shape in flat(drawing.items) if isinstance(shape, Shape)]
    tips = [shapely.Point(shape.path.points[-1]) for shape in drawn if shape.style is Style.LEADER]
    stitched = [path for line in one.project.lines for path in line.paths]

    def farthest_out(tip: shapely.Point) -> bool:
        on_a_line = any(path.line.dwithin(tip, 0.01) for path in stitched)
        return on_a_line and not any(path.area.buffer(-0.02).contains(tip) for path in stitched)

    assert any(farthest_out(tip) for tip in tips)


def test_what_is_torn_out_of_a_marked_place_is_told_and_the_rest_torn_outside_the_seam() -> None:
    # A turned pouch with a window keeps stabiliser there until its seam is sewn.
    one = scene("clear-pouch", {"edge": "turned", "width": 160, "height": 120})
    drawing = step_picture(one, one.number_of(Act.UNHOOP) or 0)
    assert "tear it away outside this line" in words(drawing, "labels")
    tearing = drawn(one, Act.TEAR)
    assert "tear away the stabiliser" in words(tearing, "labels")
    (step,) = (step for step in after_the_hoop(one) if step.act is Act.TEAR)
    shown = [shape for shape in flat(tearing.items) if isinstance(shape, Shape)]
    (tip,) = (shapely.Point(one.path.points[-1]) for one in shown if one.style is Style.LEADER)
    left, top, right, bottom = step.mark[0].bounds
    mirrored = shapely.box(-right, top, -left, bottom)  # seen from the back
    assert mirrored.boundary.dwithin(tip, 0.05)


@pytest.mark.parametrize("turned", [False, True])
def test_a_strap_is_drawn_over_the_edge_that_it_lies_along(turned: bool) -> None:
    one = scene("card-case", {"closing": "elastic", "width": 200, "height": 96}, turned=turned)
    drawing = drawn(one, Act.PULL_OVER)
    shapes = [shape for shape in flat(drawing.items[:1]) if isinstance(shape, Shape)]
    (strap,) = (shape for shape in shapes if shape.style is Style.FLAP)
    assert "pull over this edge" in words(drawing, "labels")
    assert "its mouth" not in words(drawing, "labels")
    tips = [shape.path.bounds for shape in shapes if shape.style is Style.WAY]
    far = [max(bounds[k] for bounds in tips) for k in (2, 3)]
    # 8 wide, its middle 20 inside the right edge, which lies at the bottom where it is turned.
    along, edge = (1, MOVE[1] + 100) if turned else (0, MOVE[0] + 100)
    low, high = strap.path.bounds[along], strap.path.bounds[along + 2]
    assert (low + high) / 2 == pytest.approx(edge - 20, abs=0.1)
    assert far[along] > edge


# --- Every picture ----------------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("end", range(len(ENDS)))
def test_every_step_after_the_hoop_shows_what_is_done_and_more_than_an_outline(
    end: int, turned: bool
) -> None:
    told = {
        Act.TRIM: {Style.CUT_AWAY, Style.BY_HAND},
        Act.CLIP: {Style.CUT_LINE},
        Act.NOTCH: {Style.CUT_LINE},
        Act.TURN: {Style.WAY},
        Act.HAND_SEW: {Style.GAP, Style.WAY},
        Act.PULL_OVER: {Style.FLAP, Style.WAY},
        Act.TEAR: {Style.SLIT, Style.WAY},
        Act.FINGER_PRESS: set(),
        Act.PRESS: set(),
        Act.TOP_STITCH: {Style.BY_HAND},
        Act.FASTEN: {Style.HARDWARE, Style.MEASURE},
    }
    plain = {Style.RIGHT_SIDE, Style.FOLDED_EDGE, Style.RAW_EDGE, Style.WRONG_SIDE}
    for step, drawing in pictures(end, turned):
        shapes = [shape for shape in flat(drawing.items[:1]) if isinstance(shape, Shape)]
        styles, tones = ({getattr(one, kind) for one in shapes} for kind in ("style", "tone"))
        assert told[step.act] <= styles, step.title
        # Where nothing else is to be seen, fabrics that have come to lie next to each other are.
        assert styles - plain or len(tones - {None}) > 1, step.title
        assert words(drawing, "labels"), step.title
        assert "Hoop" not in words(drawing, "heading")
        assert not of_style(drawing, Style.HOOP_FIELD)


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("end", range(len(ENDS)))
def test_texts_lie_apart_and_all_that_is_drawn_within_the_picture(end: int, turned: bool) -> None:
    for _, drawing in pictures(end, turned):
        assert overlapping(drawing) == []
        assert clipped(drawing) == []
        for shape in drawing.shapes:
            left, top, right, bottom = shape.path.bounds
            assert drawing.box.left <= left <= right <= drawing.box.right
            assert drawing.box.top <= top <= bottom <= drawing.box.bottom


def test_how_the_work_lies_is_said_at_every_step() -> None:
    one = scene("zip-pouch", {})
    said = [words(step_picture(one, step.number), "heading") for step in after_the_hoop(one)]
    # Trim and clip it, turned over as the words say; turn it; close the gap and pull it through
    # lining out; press.
    for heading in said[:2]:
        assert "inside out, turned over like a page: left and right change places" in heading
    assert "inside out, seen from the front" in said[2]
    for heading in said[3:5]:
        assert "The lining outside, turned over like a page: left and right change" in heading
    assert "Right side out, seen from the front" in said[5]


# --- Cut away ---------------------------------------------------------------------------


def test_what_lies_outside_the_trim_line_is_drawn_as_cut_away() -> None:
    one = wallet(turned=False)
    (trimming,) = (step for step in after_the_hoop(one) if step.act is Act.TRIM)
    drawing = step_picture(one, trimming.number)
    waste = shapely.union_all([shape.path.area for shape in of_style(drawing, Style.CUT_AWAY)])
    laid = [layer.outline.area for step in one.project.steps for layer in step.layers]
    assert waste.symmetric_difference(shapely.union_all(laid)).area < 1.0
    # What is kept is painted over it, wrong side of the lining up.
    kept = of_style(drawing, Style.WRONG_SIDE)[-1].path.area
    within = trimming.mark[0].area
    assert (within - kept).area < 0.1
    # Along the gap, and 2 mm past its ends, all of the end allowance is left of the lining.
    (gap,) = one.gaps
    (lining,) = (layer for layer in trimming_layers(one) if layer.piece == "lining")
    left = one.course.bounds[0] - lining.outline.bounds[0]
    wide = left - 3.2
    assert (kept - within).area == pytest.approx((gap.length + 2 * 2.0) * wide, rel=0.01)
    # The recipe trims 3.2 mm outside the seam line.
    assert "3.2 mm (1/8 in) outside the seam line" in words(drawing, "labels")


def trimming_layers(one: Scene) -> list[Layer]:
    return [layer for step in one.project.steps for layer in step.layers]


@pytest.mark.parametrize("outline", ["square", "round", "polygon"])
def test_the_line_to_cut_along_steps_out_round_what_is_left_at_the_gap(outline: str) -> None:
    one = scene("coaster", {"outline": outline})
    line = of_style(drawing := drawn(one, Act.TRIM), Style.BY_HAND)
    (gap,) = one.gaps
    whole = shapely.union_all([layer.outline.area for layer in trimming_layers(one)])
    # It goes from the edge of what lies there round the work to that edge again.
    (cut,) = line
    for end in (cut.path.points[0], cut.path.points[-1]):
        assert whole.boundary.distance(shapely.Point(end)) < 0.05
    # Beside the middle of the gap no line is cut, neither here nor in the next pictures.
    middle = gap.line.interpolate(0.5, normalized=True)
    assert cut.path.line.distance(middle) > gap.length / 2
    out = middle.buffer(5.0) - one.course.area
    for act in (Act.TRIM, Act.NOTCH, Act.CLIP, Act.TURN):
        if any(step.act is act for step in after_the_hoop(one)):
            kept = of_style(drawn(one, act), Style.WRONG_SIDE)[-1].path.area
            assert (out - kept).area < 0.1, act
    assert "leave this, as the step says" in words(drawing, "labels")


def test_what_was_trimmed_before_is_not_cut_along_again() -> None:
    one = scene("boxed-pouch", {"box": "cut-out"})
    trim, corners = (step for step in after_the_hoop(one) if step.act is Act.TRIM)
    drawing = step_picture(one, corners.number)
    lines = [shape.path.line for shape in of_style(drawing, Style.BY_HAND)]
    # Two squares of 60 / 2 - 7 = 23 from the seam lines, trimmed 5 outside them: 28 on each side.
    assert sum(line.length for line in lines) == pytest.approx(4 * 28, abs=1.0)
    told = "leave this, as the step says"
    assert told in words(step_picture(one, trim.number), "labels")
    assert told not in words(drawing, "labels")


def test_a_corner_that_is_cut_out_has_its_edge_outside_the_seam_across_it() -> None:
    one = scene("boxed-pouch", {"box": "cut-out"})
    (across,) = (step for step in one.project.steps if step.act is Act.BOX)
    pile, boxed = one.pile(across), one.project.finish.boxed
    assert pile is not None
    assert boxed is not None
    notches = pile.room.boundary - pile.room.envelope.boundary.buffer(0.1)
    # Cut out 7 outside the seam, which lies 1 outside the finished edge, in a right angle.
    for _, corner, _ in boxed.folds:
        assert notches.distance(shapely.Point(corner)) == pytest.approx(8 * math.sqrt(2))
    # It is seen from the back, and raw there.
    raw = of_style(step_picture(one, across.number), Style.RAW_EDGE)
    seen_so = shapely.transform(notches, lambda points: points * (-1, 1))
    for edge in shapely.get_parts(seen_so):
        assert any(shape.path.line.buffer(0.1).covers(edge) for shape in raw)


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize(
    ("name", "asked", "act"),
    [
        ("coaster", {"outline": "square"}, Act.CLIP),
        ("zip-pouch", {"corners": "square"}, Act.CLIP),
        ("fold-wallet", {"corners": "square"}, Act.CLIP),
        ("fold-wallet", {"corners": "rounded"}, Act.NOTCH),
        ("bunting-flag", {}, Act.CLIP),
        ("bunting-flag", {"shape": "swallowtail"}, Act.CLIP),
    ],
)
def test_words_and_picture_give_one_figure_for_one_cut(
    name: str, asked: Asked, act: Act, unit: Unit
) -> None:
    one = scene(name, asked, unit=unit)
    (step,) = (step for step in one.project.steps if step.act is act)
    # 2 mm is nearest to 1/16 in of a ruler, 1.6 mm: common practice, no source.
    close = {Unit.MM: "2 mm (1/16 in)", Unit.INCH: "1/16 in (2 mm)"}[unit]
    assert f"{close} from the stitching" in step.say
    assert f"{close} from the stitching" in words(drawn(one, act), "labels")


@pytest.mark.parametrize("sides", [3, 4, 6, 12])
@pytest.mark.parametrize("allowance", [3.0, 8.0])
def test_corners_are_cut_off_close_to_the_stitching_and_not_through_it(
    sides: int, allowance: float
) -> None:
    angle = np.arange(sides) * 2 * np.pi / sides
    seam = path(np.stack([np.cos(angle), np.sin(angle)], axis=1) * 60, closed=True)
    room = seam.area.buffer(allowance, join_style="mitre")
    cuts = corner_cuts(seam, room)
    assert len(cuts) == sides
    tips = shapely.union_all([cut.tip for cut in cuts])
    for cut in cuts:
        (start, end) = cut.line.points[[0, -1]]
        # 2 mm from the stitching; half way where that leaves less than 1 mm to cut off.
        assert cut.line.line.distance(seam.area) == pytest.approx(cut.clear)
        assert cut.clear == pytest.approx(2.0)
        assert room.boundary.distance(shapely.Point(start)) < 1e-6
        assert room.boundary.distance(shapely.Point(end)) < 1e-6
    for corner in shapely.get_coordinates(room.exterior)[:-1]:
        assert tips.dwithin(shapely.Point(corner), 1e-6)
    assert not tips.intersects(seam.area)
    assert curve_snips(seam, room, shapely.Point()) == ()


@settings(max_examples=15)
@given(st.floats(4, 150), st.floats(3, 10))
def test_curves_are_snipped_every_quarter_to_half_inch_close_to_the_stitching(
    radius: float, allowance: float
) -> None:
    # Common practice: a clip every 1/4 to 1/2 in, 6.35 to 12.7 mm.
    count = math.ceil(2 * math.pi * math.sqrt(radius / 2 / 1e-4))
    angle = np.linspace(0, 2 * np.pi, count, endpoint=False)
    seam = path(np.stack([np.cos(angle), np.sin(angle)], axis=1) * radius, closed=True)
    clips = curve_snips(seam, seam.area.buffer(allowance), shapely.Point())
    ends = [sorted(np.hypot(*clip.points[[0, -1]].T)) for clip in clips]
    for near, far in ends:
        # To 1 mm from the stitching: common practice, no source.
        assert near == pytest.approx(radius + 1.0, abs=0.02)
        assert far == pytest.approx(radius + allowance, abs=0.02)
    assert 6.0 <= 2 * math.pi * radius / len(clips) <= 12.7
    assert corner_cuts(seam, seam.area.buffer(allowance)) == ()


@settings(max_examples=15)
@given(st.floats(4, 150), st.floats(3, 10))
def test_curves_that_turn_outwards_are_notched_as_the_recipes_say_to_2_mm_from_the_stitching(
    radius: float, allowance: float
) -> None:
    # Common practice, no source.
    count = math.ceil(2 * math.pi * math.sqrt(radius / 2 / 1e-4))
    angle = np.linspace(0, 2 * np.pi, count, endpoint=False)
    seam = path(np.stack([np.cos(angle), np.sin(angle)], axis=1) * radius, closed=True)
    room = seam.area.buffer(allowance)
    notches = curve_notches(seam, room, shapely.Point())
    for notch in notches:
        assert len(notch.line.points) == 3  # a V
        first, point, last = np.hypot(*notch.line.points.T)
        assert point == pytest.approx(radius + 2.0, abs=0.02)
        assert (first, last) == pytest.approx((radius + allowance,) * 2, abs=0.05)
        assert notch.tip.area > 0.0
    # Round a large curve about 15 mm apart; round a small corner, a quarter of it, two or three.
    apart = 2 * math.pi * radius / len(notches)
    assert apart <= 15.0
    if radius >= 25.0:
        assert apart >= 13.0
    elif radius >= 10.0:
        assert 2.0 <= 2 * math.pi * radius / 4 / apart <= 3.0
    assert curve_snips(seam, room, shapely.Point(), inward_only=True) == ()
    # None meets the next.
    tips = shapely.union_all([notch.tip for notch in notches])
    assert len(shapely.get_parts(tips)) == len(notches)


def test_what_turns_inwards_is_snipped_and_neither_notched_nor_cut_off() -> None:
    # A square of 80 mm with half a disc of 15 mm cut out of its top side.
    angle = np.linspace(np.pi, 0, 200)
    bay = np.stack([np.cos(angle) * 15.0, np.sin(angle) * 15.0 - 40.0], axis=1)
    corners = [(40.0, -40.0), (40.0, 40.0), (-40.0, 40.0), (-40.0, -40.0)]
    seam = path(np.vstack([bay, corners]), closed=True)
    room = seam.area.buffer(5.0, join_style="mitre")
    snips = curve_snips(seam, room, shapely.Point(), inward_only=True)
    # π × 15 = 47.1 mm: four of at most 12 mm.
    assert len(snips) == 4
    for snip in snips:
        assert snip.line.distance(seam.area) == pytest.approx(1.0, abs=0.02)
        assert np.hypot(*(snip.points - (0.0, -40.0)).T).max() < 15.0
    assert curve_notches(seam, room, shapely.Point()) == ()
    # The ends of the bay are corners that turn outwards, and so are those of the square.
    assert len(corner_cuts(seam, room)) == 6
    assert inward_corner_snips(seam, room) == ()


def test_a_corner_that_turns_inwards_is_snipped_to_1_mm() -> None:
    seam = path([(0, 0), (40, 0), (40, 20), (20, 20), (20, 40), (0, 40)], closed=True)
    room = seam.area.buffer(5.0, join_style="mitre")
    (snip,) = inward_corner_snips(seam, room)
    ends = sorted(np.hypot(*(snip.points - (20.0, 20.0)).T))
    # Along the diagonal the raw edge lies 5 × √2 away.
    assert ends == pytest.approx([1.0, 5.0 * math.sqrt(2.0)])
    assert len(corner_cuts(seam, room)) == 5


# A tip of 45°, blunt by 4 mm: cut straight across 2 mm from it, and a sliver from either side of
# what is left, neither into the other: common practice, no source.
def test_a_blunt_point_is_cut_off_straight_across_and_a_sliver_from_either_side() -> None:
    wide = 2.0 + 80.0 * math.tan(math.radians(22.5))
    seam = path([(-wide, -80), (wide, -80), (2, 0), (-2, 0)], closed=True)
    room = seam.area.buffer(6.0, join_style="mitre")
    (point,) = point_cuts(seam, room)
    assert point.across.line.points[:, 1] == pytest.approx([2.0, 2.0])
    assert len(point.slivers) == 2
    tips = [point.across.tip, *(cut.tip for cut in point.slivers)]
    for tip in tips:
        assert tip.area > 1.0
        assert tip.distance(seam.area) == pytest.approx(2.0, abs=1e-6)
    for one, other in combinations(tips, 2):
        assert (one & other).area == pytest.approx(0.0, abs=1e-6)
    # The corners of the other side are corners, and these two are not.
    assert len(corner_cuts(seam, room)) == 2
    # Two that lie 10 mm apart are no point.
    blunt = path([(-wide, -80), (wide, -80), (5, 0), (-5, 0)], closed=True)
    assert point_cuts(blunt, blunt.area.buffer(6.0)) == ()
    assert len(corner_cuts(blunt, blunt.area.buffer(6.0, join_style="mitre"))) == 4


@pytest.mark.parametrize(
    ("name", "asked", "told"),
    [
        ("bunting-flag", {}, "cut the point off straight across"),
        ("bunting-flag", {"shape": "swallowtail"}, "cut both points off straight across"),
        ("flap-sleeve", {"shape": "pointed"}, "cut off both corners"),
    ],
)
def test_words_and_picture_cut_points_alike(name: str, asked: Asked, told: str) -> None:
    one = scene(name, asked)
    said = words(drawn(one, Act.CLIP), "labels")
    assert told in said
    assert "then a sliver from either side" in said
    (step,) = (step for step in one.project.steps if step.act is Act.CLIP)
    assert "straight across at" in step.say
    assert "sliver" in step.say


def test_rounded_corners_are_notched_at_the_curves_alone_and_not_at_the_gap() -> None:
    one = scene("coaster", {"outline": "rounded", "corner_radius": "20mm"})
    drawing = drawn(one, Act.NOTCH)
    notches = of_style(drawing, Style.CUT_LINE)
    # Two or three at each corner, as the recipe says.
    assert len(notches) == 4 * 3
    assert "cut out 12 notches 2 mm (1/16 in) from the stitching" in words(drawing, "labels")
    left, top, right, bottom = one.course.bounds
    for notch in notches:
        x, y = centre(notch)
        assert min(x - left, right - x) < 20.5
        assert min(y - top, bottom - y) < 20.5
    disc = scene("coaster", {"outline": "round"})
    gaps = shapely.union_all([gap.line for gap in disc.gaps])
    seam = disc.course.line
    for notch in of_style(drawn(disc, Act.NOTCH), Style.CUT_LINE):
        foot = seam.interpolate(seam.project(shapely.Point(notch.path.points[1])))
        assert foot.distance(gaps) > 0.4


def test_what_was_notched_is_gone_from_the_next_picture() -> None:
    one = scene("coaster", {"outline": "round"})
    (notching,) = (step for step in one.project.steps if step.act is Act.NOTCH)
    tips = shapely.union_all([notch.tip for notch in one.cuts(notching).notches])
    kept = of_style(drawn(one, Act.TURN), Style.WRONG_SIDE)[-1].path.area
    assert tips.area > 0.0
    assert (kept & tips).area == pytest.approx(0.0, abs=1e-6)


# --- The gap ----------------------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("end", [i for i, (name, _) in enumerate(ENDS) if name != "plant-tag"])
def test_the_gap_is_drawn_and_told_as_long_as_the_seam_leaves_it(end: int, turned: bool) -> None:
    one = ending(end, turned)
    gap = sewn_gap(one)
    last = closing(one)
    for act in (Act.TRIM, Act.TURN, last):
        drawing = drawn(one, act, 0)
        assert f"turning gap {show(gap, one.project.unit)}" in words(drawing, "labels")
        (shape,) = of_style(drawing, Style.GAP)
        if act is last:
            # On the finished edge, which a curve takes inwards by the turn of cloth.
            assert shape.path.length == pytest.approx(gap, rel=0.03)
        else:
            assert shape.path.length == pytest.approx(gap, abs=0.1)


def test_the_arrow_goes_out_through_the_gap_to_turn_it_and_in_to_fold_its_edges() -> None:
    one = wallet(turned=False)
    left = one.course.bounds[0]
    for act, out in ((Act.TURN, True), (Act.HAND_SEW, False)):
        shaft, head = of_style(drawn(one, act, 0), Style.WAY)
        tail, tip = shaft.path.points[0], head.path.points[0]
        assert (tip[0] < left < tail[0]) if out else (tail[0] < left < tip[0] + 2.0)
        # In the middle of the gap.
        (gap,) = one.gaps
        assert tip[1] == pytest.approx((gap.bounds[1] + gap.bounds[3]) / 2)


# --- Turned out -------------------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
def test_turned_out_it_shows_as_much_of_each_piece_as_the_finished_thing_does(
    turned: bool,
) -> None:
    one = wallet(turned)
    (outside,) = (d for d in finished(worked("fold-wallet")) if d.name == "finished-outside")
    there = {key: room.area for key, room in seen(outside).items() if key[1] is not Style.HELD}
    here = {key: room.area for key, room in seen(drawn(one, Act.PRESS)).items()}
    assert here == pytest.approx(there, rel=1e-6)
    assert {title for title, _ in here} == {"upper outer", "lower outer", "coil zip", "tab"}


@pytest.mark.parametrize("turned", [False, True])
def test_the_tab_swings_out_where_the_bottom_lies_in_the_hoop(turned: bool) -> None:
    # 19 mm wide; 42 − 5 = 37 mm long within the seam line. The finished edge lies at half of 172
    # below the middle, and the turn of cloth takes 1 mm: it stands out 36. Turned by 90° clockwise
    # the bottom is left.
    room = seen(drawn(wallet(turned), Act.TOP_STITCH))["tab", RIGHT]
    left, top, right, bottom = room.bounds
    x, y = MOVE
    if turned:
        assert (top, bottom) == pytest.approx((-9.5 + y, 9.5 + y), abs=0.01)
        assert left == pytest.approx(-86 - 36 + x, abs=0.01)
        assert right == pytest.approx(-86 + x, abs=0.01)
    else:
        assert (left, right) == pytest.approx((-9.5 + x, 9.5 + x), abs=0.01)
        assert top == pytest.approx(86 + y, abs=0.01)
        assert bottom == pytest.approx(86 + 36 + y, abs=0.01)


# A book goes in behind the flaps, which lie on the lining; a packet between the fronts, which are
# outside, while what it lies against is seen from neither side.
@pytest.mark.parametrize(
    ("name", "asked", "named", "not_named"),
    [
        ("notebook-cover", {}, ["lining", "flap"], "outer"),
        ("tissue-cover", {"inside": "enclosed"}, ["upper front", "lower front"], "inside"),
    ],
)
def test_what_it_holds_is_put_in_from_the_side_with_the_mouths(
    name: str, asked: Asked, named: list[str], not_named: str
) -> None:
    labels = words(drawn(scene(name, asked), Act.PUT_IN), "labels")
    assert all(title in labels for title in named)
    assert not_named not in labels


def test_a_pouch_shows_its_linings_until_it_is_pulled_through_its_zip() -> None:
    one = scene("zip-pouch", {})
    linings = {"upper front lining", "lower front lining", "coil zip"}
    assert {title for title, _ in seen(drawn(one, Act.HAND_SEW))} == linings
    through = drawn(one, Act.TURN, 1)
    assert {title for title, _ in seen(through)} == linings
    assert of_style(through, Style.SLIT)
    shown = {title for title, _ in seen(drawn(one, Act.PRESS))}
    assert shown == {"upper front", "lower front", "coil zip", "loop"}
    states = [one.state(step) for step in after_the_hoop(one)]
    assert states.count(State.TO_THE_LINING) == 2


# As in the pictures of what is finished: 12 by 90 and 10 more at either side.
@pytest.mark.parametrize("unit", [Unit.MM, Unit.INCH])
@pytest.mark.parametrize("turned", [False, True])
def test_a_tape_is_drawn_over_the_edge_in_the_step_that_sews_it_on(
    turned: bool, unit: Unit
) -> None:
    one = scene("bunting-flag", {"width": "90mm", "length": "110mm"}, turned=turned, unit=unit)
    press, sew = drawn(one, Act.PRESS), drawn(one, Act.TOP_STITCH)
    assert not any("tape" in title for title, _ in seen(press))
    ((_, room),) = ((title, room) for (title, _), room in seen(sew).items() if "tape" in title)
    left, top, right, bottom = room.bounds
    assert sorted((right - left, bottom - top)) == pytest.approx([12, 110])
    (line,) = of_style(sew, Style.BY_HAND)
    assert line.path.line.length == pytest.approx(110)
    # Label and legend call it alike, and not by what is to be bought of it.
    assert "double-fold tape folded over the edge" in words(sew, "labels")
    assert "double-fold tape" in words(sew, "legend")
    assert not any("for a string" in words(sew, part) for part in ("labels", "legend"))
    # What lies in it is not drawn as open any more.
    assert of_style(press, Style.GAP)
    assert of_style(sew, Style.GAP) == []
    assert overlapping(sew) == []
    assert clipped(sew) == []


def test_a_tape_that_no_step_sews_on_is_there_in_the_end_alone() -> None:
    project = scene("bunting-flag", {}).project
    never = replace(
        project, steps=tuple(one for one in project.steps if one.act is not Act.TOP_STITCH)
    )
    assert [list(tapes(never, step)) for step in never.steps] == [[]] * len(never.steps)
    assert [one.name for one in tapes(never)] == ["folded-tape"]


def test_pockets_of_the_other_side_and_batting_are_dashed_when_it_is_pressed() -> None:
    # Two mouths of each of two pockets.
    one = wallet(turned=False)
    assert len(of_style(drawn(one, Act.PRESS), Style.HIDDEN)) == 4
    assert "pocket 1 and pocket 2 on the other side" in words(drawn(one, Act.PRESS), "labels")
    padded, bare = scene("coaster", {}), scene("coaster", {"padding": "none"})
    assert "batting inside" in words(drawn(padded, Act.PRESS), "labels")
    assert not of_style(drawn(bare, Act.PRESS), Style.HIDDEN)


@pytest.mark.parametrize("sides", [3, 5, 6, 12])
def test_the_line_to_top_stitch_is_so_far_from_the_edge_as_the_recipe_says(sides: int) -> None:
    # The recipe draws it 2 mm inside the finished edge, which lies 0.5 mm inside the seam.
    one = scene("coaster", {"outline": "polygon", "sides": sides, "width": 150})
    assert "2 mm (1/16 in) from the edge" in words(drawn(one, Act.TOP_STITCH), "labels")
    assert turn_of_cloth(one.project) == pytest.approx(0.5, abs=1e-3)


# --- Fitted -----------------------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("width", [124, 330])
def test_each_half_of_a_snap_lies_on_its_piece_where_the_plan_has_it(
    turned: bool, width: int
) -> None:
    one = scene("fold-wallet", {"width": width, "height": 200, **TAB}, turned=turned)
    # The half on the tab is set first, and is there when the other is set.
    first, drawing = drawn(one, Act.FASTEN, 0), drawn(one, Act.FASTEN)
    rings = of_style(drawing, Style.HARDWARE)
    assert [centre(ring) for ring in of_style(first, Style.HARDWARE)] == [centre(rings[0])]
    (snap,) = (notion for notion in one.project.notions if notion.halves)
    assert [centre(ring) for ring in rings] == pytest.approx(np.array(snap.halves), abs=1e-6)
    rooms = seen(drawing)
    on_tab, on_wallet = (ring.path.area for ring in rings)
    assert rooms["tab", RIGHT].contains(on_tab)
    assert rooms["upper outer", RIGHT].contains(on_wallet)
    # 10 mm inside the folded end; the other half where the plan has it below the edge at −100.
    told, told_first = words(drawing, "labels"), words(first, "labels")
    end, edge = ("left", "right") if turned else ("bottom", "top")
    assert f"10 mm (3/8 in) from the {end} edge of the tab" in told_first
    assert "of the tab" not in told
    x, y = (a - b for a, b in zip(snap.halves[1], MOVE, strict=True))
    down = 100 - x if turned else y + 100
    assert re.search(rf"{re.escape(show(down, Unit.MM))} \([^)]*\) from the {edge} edge", told)
    assert "in the middle, 9.5 mm (3/8 in) from either side of the tab" in told_first


def test_an_opening_is_an_edge_to_measure_from_and_a_cord_goes_through_an_eyelet() -> None:
    strap = drawn(scene("plant-tag", {}), Act.FASTEN)
    (slot,) = of_style(strap, Style.CUT_OUT)
    *_, below = of_style(strap, Style.HARDWARE)
    away = centre(below)[1] - slot.path.bounds[3]
    told = words(strap, "labels")
    assert re.search(f"{re.escape(show(away, Unit.MM))} \\([^)]*\\) from the opening", told)
    hole = drawn(scene("plant-tag", {"hang": "hole", "cord_length": "150mm"}), Act.FASTEN)
    (ring,), (cord,) = of_style(hole, Style.HARDWARE), of_style(hole, Style.CORD)
    assert cord.path.line.distance(shapely.Point(centre(ring))) < 1e-6
    # 150 / 25.4 × 16 = 94.5 sixteenths of an inch, less a little: 94 of them.
    said = words(hole, "labels")
    assert "round cord 2 to 3 mm thick 150 mm (5 7/8 in), knotted into a loop" in said
    # 14 mm below the top, as the recipe has it; half of 100 mm from the sides.
    assert "14 mm (9/16 in) from the top edge in the middle, 50 mm" in words(hole, "labels")


def test_measures_run_from_the_middle_of_a_half_to_the_edge() -> None:
    one = wallet(turned=False)
    drawings = [drawn(one, Act.FASTEN, place) for place in (0, 1)]
    shafts = [s for d in drawings for s in of_style(d, Style.MEASURE) if not s.path.closed]
    (snap,) = (notion for notion in one.project.notions if notion.halves)
    down = snap.halves[1][1] - MOVE[1] + 86  # below the edge, at half of 172
    found = sorted(shaft.path.length for shaft in shafts)
    assert found == pytest.approx(sorted([10.0, down]), abs=1e-3)


# A casing of pi · 5 / 2 + 4, 12 deep to the next mm: it lies 12 down the back from the upper fold,
# and is stitched 10 below that fold, 2 inside its lower one. Folded to the back twice, it shows the
# front's fabric there, and no edge is open any more.
def test_a_casing_is_stitched_as_it_lies_turned_over_to_the_back() -> None:
    casing: Asked = {"top": "casing", "shape": "half-round"}
    one = scene("bunting-flag", casing)
    folding, stitching = drawn(one, Act.FOLD), drawn(one, Act.TOP_STITCH)
    assert "open edge" in words(folding, "labels")
    assert "fold here" in words(folding, "labels")
    assert of_style(folding, Style.GAP)
    assert "open edge" not in words(stitching, "labels")
    assert of_style(stitching, Style.GAP) == []
    assert shown_state(one, closing_step(one)).startswith("Right side out, folded, turned over")
    upper = MOVE[1]
    (line,) = of_style(stitching, Style.BY_HAND)
    assert line.path.points[:, 1] == pytest.approx([upper + 10, upper + 10])
    whole = shapely.union_all([one.path.area for one in of_style(stitching, RIGHT)])
    assert whole.bounds[1::2] == pytest.approx((upper, upper + 110))
    folds = shapely.union_all([one.path.line for one in of_style(stitching, Style.FOLDED_EDGE)])
    for y in (upper, upper + 12):
        across = shapely.LineString([(MOVE[0] - 40, y), (MOVE[0] + 40, y)])
        assert (folds & across.buffer(0.05, cap_style="flat")).length > 70
    # The finished thing has that line on its front and on the casing.
    for name in ("finished-front", "finished-back"):
        (view,) = (d for d in finished(worked("bunting-flag", casing)) if d.name == name)
        (sewn,) = of_style(view, Style.STITCHED_BEFORE)
        assert sewn.path.box.top == pytest.approx(10)


# A tape of 12 takes 11 of the flag, to its fold: the raw top goes in there and is never turned in.
def test_the_top_of_a_flag_is_drawn_raw_and_its_other_edges_turned_in() -> None:
    # Before the tape covers it, and moved by MOVE.
    front = drawn(scene("bunting-flag", {}), Act.PRESS)
    (raw,) = of_style(front, Style.RAW_EDGE)
    dx, dy = MOVE
    assert raw.path.bounds == pytest.approx((-45 + dx, -9 + dy, 45 + dx, -9 + dy), abs=0.1)
    turned = shapely.union_all([one.path.line for one in of_style(front, Style.FOLDED_EDGE)])
    assert turned.distance(shapely.Point(dx, -9 + dy)) > 40
    # Both sides, 9 and from there sqrt(43² + 110²) long, and the blunt point.
    assert turned.length == pytest.approx(2 * (9 + math.hypot(43, 110)) + 4, abs=0.5)


def closing_step(one: Scene) -> Step:
    (step,) = (step for step in one.project.steps if step.act is Act.TOP_STITCH)
    return step


# Without a trim a strip ends at its folds, 66 from the middle: its rivet at 48 lies 18 from its end
# and half of 25 from its sides. Of two layers cut out 76 from the middle it lies at 64, 12 inside.
@pytest.mark.parametrize(
    ("asked", "end", "side"),
    [
        ({}, "18 mm (11/16 in)", "12.5 mm"),
        ({"make": "raw", "length": 75}, "12 mm (1/2 in)", "12.5 mm"),
    ],
)
def test_a_rivet_is_measured_from_an_edge_that_can_be_measured_from(
    asked: Asked, end: str, side: str
) -> None:
    one = scene("key-fob", {"ends": "rivet", **asked})
    told = words(drawn(one, Act.FASTEN), "labels")
    assert f"{end} from the top edge in the middle, {side}" in told
    assert f"{end} from the bottom edge" in told
    assert "14 mm (9/16 in) from the fold" in told
    # Four places, two rivets.
    assert told.count("its hole in this half; both meet when it is folded") == 4


def test_a_clamp_takes_both_ends_and_its_ring_hangs_in_an_eye() -> None:
    drawing = drawn(scene("key-fob", {}), Act.FASTEN)
    assert words(drawing, "labels").count("takes this end and the other together") == 2
    # A ring of 30 inside and 2 thick: 34 across, and round. The eye is 6 wide.
    last = max(shape.path.bounds[3] for shape in of_style(drawing, Style.HARDWARE))
    under = [s.path.area for s in of_style(drawing, Style.HARDWARE) if s.path.bounds[3] > last - 40]
    ring = shapely.union_all([part for part in under if part.area < 34 * 34 * math.pi / 4 / 4])
    left, _, right, bottom = ring.bounds
    assert right - left == pytest.approx(34, abs=0.1)
    middle = shapely.Point((left + right) / 2, bottom - 17)
    assert not ring.intersects(middle.buffer(14.9))
    assert ring.dwithin(middle.buffer(15), 0.1)


def test_what_is_sewn_by_hand_along_a_line_says_so_there() -> None:
    told = words(drawn(scene("key-fob", {"ends": "stitched"}), Act.HAND_SEW), "labels")
    assert "sew here by hand" in told


# A strip as long as the finished size open and flat, its ends lapped by 20 in the middle of the
# back: folded it is half as long as what is left. The box stays 3 inside the ends of the lap and
# the sides of a strip 25 wide, the cross joins its corners. The ring is 30 wide inside, 2 thick.
@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("length", ["35mm", "65mm", "170mm"])
def test_ends_are_lapped_where_they_are_sewn_once_the_ring_is_in_its_fold(
    length: str, turned: bool
) -> None:
    one = scene("key-fob", {"make": "four", "ends": "stitched", "length": length}, turned=turned)
    after = after_the_hoop(one)
    drawing = step_picture(one, after[-1].number)
    flat_long = max(one.project.finished)
    cloth = shapely.union_all([s.path.area for s in of_style(drawing, RIGHT)])
    # Turned over like a page it is mirrored: what was moved by 3 to the right lies to the left.
    middle = np.array((-MOVE[0], MOVE[1]))
    sizes = (25, (flat_long - 20) / 2)
    assert extent_of(cloth) == pytest.approx(sizes[::-1] if turned else sizes)
    assert shapely.get_coordinates(cloth.centroid)[0] == pytest.approx(middle)
    lines = shapely.union_all([s.path.line for s in of_style(drawing, Style.BY_HAND)])
    box = (25 - 2 * 3, 20 - 2 * 3)
    assert extent_of(lines) == pytest.approx(box[::-1] if turned else box)
    assert shapely.get_coordinates(lines.envelope.centroid)[0] == pytest.approx(middle)
    assert lines.length == pytest.approx(2 * sum(box) + 2 * math.hypot(*box))
    ring = shapely.union_all([s.path.area for s in of_style(drawing, Style.HARDWARE)])
    assert max(extent_of(ring)) == pytest.approx(30 + 2 * 2, abs=0.1)
    assert ring.distance(cloth) == pytest.approx(0, abs=0.01)
    told = words(drawing, "heading")
    assert "Out of the hoop, folded, turned over like a page" in told
    # Drawn through the ring it lies flat still.
    (flat_cloth,) = of_style(step_picture(one, after[-2].number), RIGHT)
    assert max(extent_of(flat_cloth.path.area)) == pytest.approx(flat_long)


def test_what_is_sewn_before_the_ring_is_in_its_fold_is_drawn_flat() -> None:
    one = scene("key-fob", {"make": "four", "ends": "stitched"})
    *before, ring, lap = one.project.steps
    steps = (*before, replace(lap, number=ring.number), replace(ring, number=lap.number))
    swapped = replace(one, project=replace(one.project, steps=steps))
    (cloth,) = of_style(step_picture(swapped, ring.number), RIGHT)
    assert max(extent_of(cloth.path.area)) == pytest.approx(max(one.project.finished))


def extent_of(shape: BaseGeometry) -> tuple[float, float]:
    left, top, right, bottom = shape.bounds
    return right - left, bottom - top


def test_groups_are_named_apart_so_that_pictures_can_stand_in_one_page() -> None:
    for end in range(len(ENDS)):
        for _, drawing in pictures(end, False):
            (group,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
            names = [item.name for item in group.items if isinstance(item, Group)]
            assert len(names) == len(set(names))


def test_a_half_is_seen_from_where_it_is_set_and_measured_from_the_nearest_fold() -> None:
    one = scene("flap-sleeve", {})
    steps = [step for step in one.project.steps if step.act is Act.FASTEN]
    on_flap, on_front = (step_picture(one, step.number) for step in steps)
    assert "12 mm (1/2 in) from the top edge" in words(on_flap, "labels")
    assert "32 mm (1 1/4 in) from the fold" in words(on_front, "labels")
    assert "seen from the front" in words(on_flap, "heading")
    assert "turned over like a page" in words(on_front, "heading")
    # So is a line of top-stitching, where the recipe says from which side.
    assert "turned over like a page" in words(drawn(one, Act.TOP_STITCH), "heading")
