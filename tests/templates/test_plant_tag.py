"""The raw-edge plant tag: its parts, its window, slot, strap and snap, at any size.

Cut sizes and places are checked against arithmetic shown beside them; how the layers lie is
common practice, no source.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import Asked, hooped, laid, layers, line, made_or_refused, piece, step_of
from told import mends, says

from paramgen.finished.all_findings import prove
from paramgen.finished.finished_thing import finish
from paramgen.finished.hardware import hardware
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import size
from paramgen.stitches.needle_points import SewnStep
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError, InputError, Severity
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Notion, Project
from paramgen.vocabulary.unit import Unit

TAG = find_recipe("plant-tag")


def tag(**asked: str | float) -> Project:
    """Lay a tag out, once for all tests that ask for the same."""
    return _tag(tuple(sorted(asked.items())))


@cache
def _tag(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(TAG, dict(asked))


def field(outline: Path) -> shapely.Polygon:
    return shapely.Polygon(outline.points)


def strings(project: Project, name: str) -> shapely.MultiLineString:
    paths = line(project, name).paths
    return shapely.MultiLineString(
        [np.vstack([one.points, one.points[:1]]) if one.closed else one.points for one in paths]
    )


def trimmed(project: Project) -> Path:
    outline = project.finish.trimmed
    assert outline is not None
    return outline


def notion(project: Project, sort: str) -> Notion:
    (found,) = (one for one in project.notions if one.sort == sort)
    return found


# The default tag is 100 × 95 mm with a strap of 77: 172 over all. Its label is A8, 74 × 52
# (ISO 216), with 1.5 at each side and 7 standing out: a window of 77 × 45, stitched 3.5
# inside the clear piece on three sides: 84 × 48.5.
@pytest.mark.parametrize(
    ("name", "hang", "cut"),
    [
        ("front", "strap", (120, 192)),  # 10 mm allowance all round
        ("back", "strap", (120, 192)),
        ("front", "hole", (120, 115)),
        ("back", "slot", (120, 115)),
        ("clear", "strap", (84, 49)),
        ("clear", "hole", (84, 49)),
    ],
)
def test_pieces_are_cut_to_the_arithmetic(name: str, hang: str, cut: tuple[float, float]) -> None:
    found = piece(tag(hang=hang), name)
    assert found.cut == found.folded == pytest.approx(cut)
    assert found.quantity == 1


def test_the_finished_outline_is_body_strap_and_neck() -> None:
    assert tag().finished == pytest.approx((100, 172))
    assert tag(hang="slot").finished == pytest.approx((100, 95))
    # Body less its four corners of radius 8; a strap 24 wide with a half round end; two
    # fillets of radius 8 where it runs into the body.
    square = 1 - math.pi / 4
    body = 100 * 95 - 4 * square * 8**2
    strap = 24 * (77 - 12) + math.pi * 12**2 / 2
    assert field(trimmed(tag())).area == pytest.approx(body + strap + 2 * square * 8**2, abs=0.5)
    assert field(trimmed(tag(hang="hole"))).area == pytest.approx(body, abs=0.5)


def test_the_last_line_runs_three_millimetres_inside_the_trimmed_edge() -> None:
    for hang in ("strap", "slot", "hole"):
        project = tag(hang=hang)
        edge = shapely.LinearRing(trimmed(project).points)
        sewn = strings(project, "seam").geoms[0]
        away = [edge.distance(shapely.Point(xy)) for xy in shapely.segmentize(sewn, 2).coords]
        assert away == pytest.approx([3] * len(away), abs=0.05)


def test_the_slot_is_cut_in_the_hoop_and_does_not_count_as_the_edge() -> None:
    project = tag()
    cuts = [step for step in project.steps if step.act is Act.TRIM]
    out = next(step.number for step in project.steps if step.act is Act.UNHOOP)
    assert [step.number < out for step in cuts] == [True, False]
    # 28 × 8, its middle 11 below the body, which begins at -86 + 77: at 2
    assert field(cuts[0].mark[0]).bounds == pytest.approx((-14, -2, 14, 6))
    # Nothing but a stake goes through a slot alone: 4 high, about -47.5 + 11.
    (slot, _) = (step for step in tag(hang="slot").steps if step.act is Act.TRIM)
    assert field(slot.mark[0]).bounds == pytest.approx((-14, -38.5, 14, -34.5))
    assert "stake or a strap of up to 26 mm" in slot.say
    assert trimmed(project) == cuts[1].mark[0]


def test_the_tack_down_of_the_front_is_trimmed_away() -> None:
    project = tag()
    tack = strings(project, "front-tack")
    assert tack.distance(field(trimmed(project))) == pytest.approx(2, abs=0.01)
    (front,) = layers(project, "front")
    assert field(front.outline).exterior.distance(tack) == pytest.approx(8, abs=0.01)


def test_front_and_back_lie_wrong_sides_together_with_the_window_on_top() -> None:
    found = [(one.piece, one.front, one.back) for one in sandwich(tag()).sheets]
    # From the back of the hoop to the front; True is a right side.
    assert found == [("back", False, True), ("front", True, False), ("clear", True, True)]
    (clear,) = layers(tag(), "clear")
    assert clear.clear
    assert not any(one.frays for step in tag().steps for one in step.layers)


WORK = [
    "sew place",
    "lay front",
    "tape",
    "sew front-tack",
    "remove tape",
    "sew window-place",
    "lay clear",
    "tape",
    "sew window-tack",
    "remove tape",
    "turn the hoop over",
    "lay back",
    "tape",
    "turn the hoop over",
    "sew slot-stitch",
    "sew seam",
    "trim",
    "take out of the hoop",
    "trim",
    "fit the snap or ring",
]


@pytest.mark.parametrize(
    ("hang", "work"),
    [
        ("strap", [*WORK, "fit the snap or ring"]),  # each half has a step of its own
        ("slot", WORK[:-1]),
        ("hole", [*WORK[:14], "sew seam", *WORK[17:]]),
    ],
)
def test_the_work_goes_on_in_the_order_that_works(hang: str, work: list[str]) -> None:
    found = []
    for step in tag(hang=hang).steps:
        if step.lines:
            found.append("sew " + ", ".join(one.name for one in step.lines))
        elif step.layers:
            found.append("lay " + ", ".join(one.piece for one in step.layers))
        else:
            found.append(str(step.act))
    assert found == work


def test_the_window_is_sewn_on_three_sides_before_the_back_is_laid() -> None:
    project = tag()
    assert step_of(project, "window-tack").number < step_of(project, "back").number
    one, other = line(project, "window-tack").paths
    assert not one.closed
    assert not other.closed
    # From the middle of the bottom both ways, 77 wide and 45 deep, and up to the mouth.
    (_, y1), (x0, _), (_, y0) = one.points
    (_, y2), (x3, _), (_, y3) = other.points
    assert (one.points[0][0], other.points[0][0]) == (0, 0)
    assert (x0, x3) == pytest.approx((-38.5, 38.5))
    assert (y1, y2) == pytest.approx((y0 + 45, y3 + 45))
    # The clear piece ends level with the open side, and 3.5 mm past the sewn ones at least.
    left, top, right, bottom = layers(project, "clear")[0].outline.bounds
    assert top == pytest.approx(y0)
    assert (x0 - left, right - x3) == pytest.approx((3.5, 3.5))
    assert 3.5 <= bottom - y1 <= 4.5


def test_the_window_lies_in_the_middle_between_fittings_and_bottom() -> None:
    # With nothing hung but an eyelet the window, the label that stands out 7 mm and the
    # eyelet's 14 + 7 leave 95 - 21 - 7 - 45 - 3.5 - 7 = 11.5, half of it above the window.
    sewn = strings(tag(hang="hole"), "window-tack")
    assert sewn.bounds[1] == pytest.approx(-47.5 + 21 + 7 + 11.5 / 2)


def test_the_ends_of_the_window_s_double_line_lie_where_nothing_pulls() -> None:
    # A double line begins and ends at the same place: the middle of the bottom, not the mouth.
    project = tag()
    bottom = strings(project, "window-tack").bounds[3]
    (step,) = (
        one for one in sew(project.steps)[0] if one.stop == step_of(project, "window-tack").stop
    )
    for run in step.runs:
        for at in (run.needles[0], run.needles[-1]):
            x, y = at / 10
            assert abs(x) <= 1
            assert y == pytest.approx(bottom, abs=0.06)


def test_the_halves_of_the_snap_meet_when_the_strap_is_folded_and_drawn_through_the_slot() -> None:
    project = tag()
    first, second = notion(project, "snap").halves
    # The strap begins at -86 and is round there with radius 12; the body begins at -9. The
    # slot is 11 below that and 8 high, its border 2.5 outside it, and the snap 7.5 below.
    assert first == pytest.approx((0, -86 + 12))
    assert second == pytest.approx((0, -9 + 11 + 4 + 2.5 + 7.5))
    assert list(hardware(finish(work_through(project)))) == []
    # 5 mm off, it is seen.
    apart = [one.code for one in hardware(finish(work_through(spoiled_snap())))]
    assert apart == ["halves-apart"]


def spoiled_snap() -> Project:
    """Fold the strap 2.5 mm too far up."""
    project = tag()
    (((ax, ay), (bx, by)),) = project.finish.folds
    wrong = ((ax, ay - 2.5), (bx, by - 2.5))
    return replace(project, finish=replace(project.finish, folds=(wrong,)))


def test_the_front_of_the_strap_meets_the_front_of_the_tag() -> None:
    # Bent back over the stem the front of the strap looks backwards; drawn forward through the
    # slot it looks down, and laid down on the tag backwards again, on to the tag's front. So the
    # cap is seen on the back of the strap, and the half that it meets on the front of the tag.
    assert notion(tag(), "snap").through == (("back", "front"), ("front", "back"))
    strap, on_tag = (step.say for step in tag().steps[-2:])
    assert "its cap on the back of the strap" in strap
    assert "12 mm" in strap  # half of a strap of 24, from its round end
    assert "its socket on the front" in strap
    assert "25 mm" in on_tag  # 11 + 4 + 2.5 to below the border of the slot, 7 + 0.5 clear of it
    assert notion(tag(hang="hole"), "ring").through == (("front", "back"),)


# --- What shows: common practice, no source ------------------------------------------------


@pytest.mark.parametrize("hang", ["strap", "slot", "hole"])
@pytest.mark.parametrize("tack_out", [1, 2, 4])
def test_the_outline_to_lay_by_is_trimmed_away_and_in_reach_of_every_edge(
    hang: str, tack_out: float
) -> None:
    project = laid(TAG, {"hang": hang, "tack_out": tack_out})
    place = strings(project, "place")
    assert field(trimmed(project)).distance(place) == pytest.approx(tack_out, abs=0.01)
    for name in ("front", "back"):
        (layer,) = layers(project, name)
        assert field(layer.outline).exterior.distance(place) >= 10 - tack_out - 0.01
    assert f"{tack_out} mm" in step_of(project, "place").say


def test_every_stitch_in_sight_is_meant_to_be_seen() -> None:
    project = tag()
    inside = field(trimmed(project))
    seen = {
        one.name: one.role
        for step in project.steps
        for one in step.lines
        if strings(project, one.name).intersection(inside).length > 0
    }
    # Beside top-stitching and the last line only the placement of the window, which that covers.
    assert seen.pop("window-place") is Role.PLACEMENT
    assert set(seen.values()) == {Role.TOP_STITCH, Role.SEAM}
    sewn, _ = sew(project.steps)
    marked, window = (
        holes(sewn, step_of(project, name).stop) for name in ("window-place", "window-tack")
    )
    assert marked
    assert marked <= window


def holes(sewn: Sequence[SewnStep], stop: int | None) -> set[tuple[int, int]]:
    """Needle points of a stop but for its ties, which lie between them on the line."""
    (step,) = (one for one in sewn if one.stop == stop)
    return {
        (int(x), int(y))
        for run in step.runs
        for x, y in run.needles[run.ties[0] : len(run.needles) - run.ties[1]]
    }


def test_a_strap_that_would_cover_the_window_is_told_and_the_remedies_work() -> None:
    # The round end of a strap of 50 reaches 25 past the snap, which lies 25 below the top; the
    # window begins 32 + 7 and half of 95 - 94.5 below it.
    asked: Asked = {"strap_width": 50, "strap_length": 120}
    (said,) = laid(TAG, asked).findings
    assert said.severity is Severity.DISAPPOINT
    assert "covers 10.8 mm" in says(said)
    assert "strap_width to at most 28.5 mm" in mends(said)  # 2 × (39.25 - 25)
    assert "at least 116.5 mm" in mends(said)  # 95 + 2 × 10.75
    assert laid(TAG, {**asked, "strap_width": 28.5}).findings == ()
    assert laid(TAG, {**asked, "height": 116.5}).findings == ()


#: From the top of the tag to its first half the strap is 77 - 12 long, and 25 - 11 of that lie
#: below the slot; the rest goes round the stem. Felt and vinyl are up to 2 mm thick, and the strap
#: is two layers of it: the circle is that of a stem and 4 mm.
@pytest.mark.parametrize(
    ("asked", "stem"),
    [
        ({}, (77 - 12 - 14) / math.pi - 4),
        ({"strap_length": 120}, (120 - 12 - 14) / math.pi - 4),
        # What a stem of 40 needs, in whole millimetres: π × 44 + 26 = 164.2.
        ({"stem": 40}, (165 - 12 - 14) / math.pi - 4),
    ],
)
def test_the_closed_strap_says_how_thick_a_stem_it_takes(
    asked: dict[str, float], stem: float
) -> None:
    said = laid(TAG, asked)
    assert f"up to about {math.floor(10 * stem) / 10:g} mm" in said.steps[-1].say
    assert stem >= asked.get("stem", 12)
    assert said.findings == ()


def test_a_strap_too_short_for_the_stem_is_told_and_the_remedies_work() -> None:
    asked: Asked = {"stem": 20, "strap_length": 90}
    (said,) = laid(TAG, asked).findings
    assert said.severity is Severity.DISAPPOINT
    assert "a stem of about 16.3 mm" in says(said)  # (90 - 26) / π - 4
    assert "at least 101.4 mm" in mends(said)  # π × 24 + 26
    assert laid(TAG, {**asked, "strap_length": 101.4}).findings == ()
    assert laid(TAG, {**asked, "stem": 16.3}).findings == ()


def test_the_slot_lets_the_strap_through_with_its_snap() -> None:
    # Two layers of up to 2 mm and a snap about as thick again (from memory), from 8 mm up.
    names = {one.name: one.value for one in tag().lengths}
    assert names["slot_height"] == 2 * (2 + 2)
    assert "without force" in tag().steps[-1].say


def test_every_fabric_is_said() -> None:
    assert {one.role: one.material.name for one in tag().fabrics} == {
        "outer": "felt-or-vinyl",
        "clear-vinyl": "clear-vinyl",
    }


def test_the_needle_is_told_before_the_first_stitch() -> None:
    first = next(step for step in tag().steps if step.lines)
    assert first.number == 1
    assert "vinyl" in first.say
    assert "needle" in first.say


def test_without_a_strap_there_is_no_snap_and_no_fold() -> None:
    for hang in ("slot", "hole"):
        project = tag(hang=hang)
        assert not any(one.sort == "snap" for one in project.notions)
        assert project.finish.folds == ()


def test_a_cord_is_short_and_says_why() -> None:
    project = tag(hang="hole")
    assert notion(project, "ring").at == ((0, -47.5 + 14),)
    (cord,) = (one for one in project.notions if one.name == "cord")
    assert cord.length == 200
    assert "small children" in project.steps[-1].say
    # Cords on toys for small children stay under 220 mm (toy safety standards, from memory).
    with pytest.raises(InputError, match="cord_length"):
        tag(hang="hole", cord_length="230")


def test_the_snap_says_that_it_is_a_small_part() -> None:
    assert "small children" in tag().steps[-2].say


@pytest.mark.parametrize("hang", ["strap", "slot", "hole"])
def test_the_rehearsal_has_nothing_to_say_of_the_tag_as_it_comes(hang: str) -> None:
    project = tag(hang=hang)
    assert prove(project, sew(project.steps)[0]).findings == ()


# --- At any size ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "hoop", "turned"),
    [
        # 100 × 172 and 2 mm round it for the tack-down: 104 wide, 176 high
        ({}, "130x180", False),
        ({}, "200x200", False),
        ({"hang": "slot"}, "100x100", None),
        (
            {"hang": "hole", "width": 70, "height": 70, "label_width": 45, "label_height": 30},
            "100x100",
            False,
        ),
        ({"strap_length": 200}, "360x350", False),
        ({"hang": "slot", "width": 330, "height": 330}, "360x350", False),
    ],
)
def test_it_fits_the_hoops_it_should(asked: Asked, hoop: str, turned: bool | None) -> None:
    if turned is None:
        with pytest.raises(CannotMakeError) as caught:
            hooped(TAG, asked, hoop)
        assert [one.code for one in caught.value.findings if one.stops] == ["hoop-exceeded"]
    else:
        assert hooped(TAG, asked, hoop).project.turned is turned


REFUSED = [
    ({"width": 90}, "does not fit on a tag 90 mm", "width", "98"),
    ({"width": 90}, "does not fit on a tag 90 mm", "label_width", "66"),
    # 32 for the fittings, 7 of the label, the window's 45 + 3.5 + 7
    ({"height": 90}, "below the fittings", "height", "94.5"),
    ({"height": 90}, "below the fittings", "label_height", "47.5"),
    ({"label_height": 22, "label_shows": 7}, "would fall out", "label_shows", "6.6"),
    ({"corner_radius": 30, "hang": "hole", "width": 60, "label_width": 20, "label_height": 24},
     "too round", "corner_radius", "25"),
    # The clear piece is 8 mm from the sides and 7 + 0.5 / 2 from the bottom: its corner touches
    # the last line where (r - 7.25) √2 = r - 3.
    ({"corner_radius": 20}, "clear piece reaches over", "corner_radius", "17.5"),
    # The border of the slot begins 6.5 below the top: (r - 6.5) √2 = r - 3 - 1.5.
    ({"corner_radius": 30, "width": 70, "label_width": 40, "hang": "slot"}, "slot reaches over",
     "corner_radius", "11.3"),
    ({"corner_radius": 8, "width": 56, "label_width": 30}, "between the corners", "width", "58"),
    ({"strap_width": 19}, "too near to the snap", "strap_width", "20"),
    ({"strap_length": 60}, "to go round a stem", "strap_length", "77"),
    ({"slot_length": 25}, "does not go through a slot", "slot_length", "26"),
    ({"hang": "slot", "slot_length": 60, "width": 70, "label_width": 45}, "with its border",
     "width", "77"),
    ({"slot_at": 8}, "too near to the last line", "slot_at", "11"),
    ({"hang": "hole", "hole_at": 8}, "too near to an eyelet", "hole_at", "10"),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "said", "name", "mended"), REFUSED)
def test_what_cannot_be_sewn_is_refused_and_its_remedy_works(
    asked: Asked, said: str, name: str, mended: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        laid(TAG, asked)
    stops = [one for one in caught.value.findings if one.stops]
    told = [one for one in stops if said in says(one)]
    assert told, stops
    assert f"{mended} mm" in mends(told[0])
    laid(TAG, {**asked, name: mended})


@st.composite
def orders(draw: st.DrawFn) -> dict[str, str | float]:
    """Draw anything within the recipe's limits."""

    def some(low: float, high: float) -> float:
        return round(draw(st.floats(low, high)), 1)

    wide, high = some(30, 200), some(30, 150)
    asked: dict[str, str | float] = {
        "hang": draw(st.sampled_from(["strap", "slot", "hole"])),
        "label_width": wide,
        "label_height": high,
        "width": some(40, 330),
        "height": some(40, 330),
    }
    if draw(st.booleans()):
        asked |= {"width": min(330, wide + some(20, 60)), "height": min(330, high + some(30, 90))}
    limits = {
        "label_ease": (1, 5),
        "label_shows": (5, 20),
        "allowance": (8, 30),
        "tack_out": (1, 4),
        "edge": (2, 5),
        "corner_radius": (2, 30),
        "window_margin": (6, 40),
        "window_stitch": (3.2, 6),
        "strap_width": (18, 50),
        "strap_length": (40, 250),
        "neck_radius": (3, 30),
        "slot_length": (10, 60),
        "slot_height": (2, 12),
        "stem": (3, 60),
        "slot_at": (8, 30),
        "hole_at": (8, 30),
        "hardware_clear": (5, 15),
    }
    for name in draw(st.lists(st.sampled_from(sorted(limits)), max_size=3, unique=True)):
        asked[name] = some(*limits[name])
    return asked


def coarse(asked: Asked) -> Project:
    return lay_out(size(TAG, asked, unit=Unit.MM), chord_error=COARSE)


some = settings(max_examples=25)


@given(orders())
@some
def test_within_its_limits_it_can_be_sewn_and_fitted_or_says_what_would_do(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse(asked))
    if project is None:
        return
    sewn, found = sew(project.steps)
    found = (*found, *prove(project, sewn).findings)
    assert [one for one in found if one.severity is Severity.CANNOT] == []


@given(orders())
@some
def test_the_label_goes_into_the_window_and_stands_out_clear_of_all_that_is_above(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse(asked))
    if project is None:
        return
    (held,) = project.holds
    left, mouth, right, bottom = strings(project, "window-tack").bounds
    width, height = held.size
    assert right - left >= width + 2
    label = shapely.box(-width / 2, bottom - height, width / 2, bottom)
    shows = mouth - (bottom - height)
    assert 5 - 1e-6 <= shows <= 0.3 * height + 1e-6
    # It lies within the last line, and clear of the slot's border and of snap or eyelet.
    assert field(project.seam).contains(label)
    if any(one.name == "slot-stitch" for one in project.lines):
        assert label.distance(strings(project, "slot-stitch")) >= 1
    for one in project.notions:
        for spot in (*one.halves, *one.at):
            assert label.distance(shapely.Point(spot)) >= one.clearance - 1e-6


@given(orders())
@some
def test_the_strap_goes_through_its_slot_and_round_something(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse({**asked, "hang": "strap"}))
    if project is None:
        return
    cut = next(step.mark[0] for step in project.steps if step.act is Act.TRIM)
    left, _, right, slot_low = cut.bounds
    outline = field(trimmed(project))
    (first, second) = notion(project, "snap").halves
    width = outline.intersection(shapely.LineString([(-400, first[1]), (400, first[1])])).length
    assert right - left >= width + 2 - 1e-6
    # From the fold down to the slot it goes round a stem at least 8 mm thick.
    fold = (first[1] + second[1]) / 2
    assert 2 * (slot_low - fold) >= math.pi * 8


@given(orders())
@some
def test_border_of_the_slot_and_clear_piece_stay_inside_the_last_line(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse(asked))
    if project is None:
        return
    seam = field(project.seam).buffer(0.05)
    if any(one.name == "slot-stitch" for one in project.lines):
        border = strings(project, "slot-stitch")
        assert seam.contains(border)
        assert seam.exterior.distance(border) >= 1.5
    (clear,) = layers(project, "clear")
    left, top, right, bottom = clear.outline.bounds
    # Cut sizes are rounded up to whole mm, half of it at each side.
    assert seam.contains(shapely.box(left + 0.5, top, right - 0.5, bottom - 1))
