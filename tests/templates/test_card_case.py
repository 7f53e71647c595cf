"""The card case: its worked examples, the order of its work, what goes in, what must hold.

How it goes together and the examples' sizes: common practice, no source; their arithmetic is shown.
A bank card is 85.60 × 53.98 × 0.76 mm (ISO/IEC 7810, ID-1), a 50 euro note 140 × 77 mm (Decision
ECB/2003/4), a US note 155.956 × 66.294 mm (US Bureau of Engraving and Printing).
"""

import re
from dataclasses import replace
from functools import cache

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import hooped, laid, layers, line, made_or_refused, piece, step_of
from told import mends, says

from paramgen.finished.all_findings import prove
from paramgen.finished.bulk import body_thickness
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.hardware_reach import places
from paramgen.finished.held_things import contents
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.solid.solid_of import solid_of
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

CASE = find_recipe("card-case")
#: 194 × 96 mm, three slots a side, a tab; closed it is taken to be 11 mm thick.
A = {"width": "194mm", "height": "96mm", "closed_least": "11mm", "closed_most": "11mm"}
#: 8 × 3 5/8 in, two slots a side, an elastic, for US notes; cut to whole millimetres.
B = {
    "width": "8in",
    "height": "3 5/8in",
    "slots": "2",
    "closing": "elastic",
    "note_width": "155.956mm",
    "note_height": "66.294mm",
    "ruler_mark": "1mm",
}


@cache
def case(unit: Unit = Unit.MM, **asked: str) -> Project:
    return laid(CASE, asked, unit)


@cache
def finished(**asked: str) -> FinishedThing:
    return finish(work_through(lay_out(size(CASE, asked, unit=Unit.MM), chord_error=COARSE)))


def values(**asked: str) -> dict[str, float]:
    return dict(size(CASE, asked, unit=Unit.MM).names)


def strings(project: Project, name: str) -> shapely.MultiLineString:
    return shapely.MultiLineString([one.points for one in line(project, name).paths])


def level(project: Project, name: str) -> float:
    """The height of a line that runs straight across, mm."""
    _, top, _, bottom = strings(project, name).bounds
    assert top == pytest.approx(bottom)
    return round(top, 3)


def spread(project: Project, name: str) -> tuple[float, float]:
    """Top and bottom of a laid piece, mm."""
    (layer,) = layers(project, name)
    _, top, _, bottom = layer.outline.bounds
    return round(top, 3), round(bottom, 3)


# --- The first example ------------------------------------------------------------------
# Seam box 196 × 98, so side and bottom seams lie 98 and 49 from the middle. A slot is as deep as a
# card less 9 that stand out, 53.98 - 9 = 44.98, in whole mm 45. Floors lie 3, 15 and 27 above the
# finished bottom edge at y = 48, mouths 45 higher.


@pytest.mark.parametrize(
    ("name", "cut"),
    [
        # 196 + 2 × 10 = 216 wide. From the note mouth, 88 above the bottom edge, past the bottom
        # seam: 88 + 1 + 10, and a hem of 15.
        ("panel", (216, 114)),
        ("panel-lining", (216, 114)),
        ("slot[1]", (216, 71)),  # 48 + 1 + 10, and a hem of 12
        ("slot[2]", (216, 63)),  # 45 + 6 below its floor, and a hem of 12
        ("slot[3]", (216, 63)),
        ("note-lining", (216, 118)),  # 98 + 2 × 10
        ("outer", (216, 118)),
        # 2 (E + 1 + 7), E = 16 + 11 + 2 + 10 = 39 from the edge to the tab's end
        ("tab", (94, 20)),
    ],
)
def test_pieces_are_cut_to_the_first_example(name: str, cut: tuple[float, float]) -> None:
    assert piece(case(**A), name).cut == pytest.approx(cut)


def test_hems_are_turned_in_twice_at_the_edge_that_lies_at_the_top() -> None:
    # Turned in twice by 7.5: lines 7.5 and 15 below the top of the panel as it is cut.
    panel = piece(case(), "panel")
    assert sorted(one.start[1] for one in panel.creases) == pytest.approx(
        [-panel.cut[1] / 2 + 7.5, -panel.cut[1] / 2 + 15]
    )
    # Folded double a slot has no hem, and its fold lies in its middle.
    assert [one.start[1] for one in piece(case(layers="double"), "slot[1]").creases] == [0.0]


def test_floors_mouths_and_raw_edges_lie_where_the_first_example_has_them() -> None:
    project = case(**A)
    assert [level(project, f"slot-floor[{k}]") for k in (2, 3)] == [33, 21]
    assert spread(project, "slot[1]") == (0, 59)  # 10 past the bottom seam at 49
    assert spread(project, "slot[2]") == (-12, 39)
    assert spread(project, "slot[3]") == (-24, 27)
    assert spread(project, "panel") == spread(project, "panel-lining") == (-40, 59)
    assert level(project, "note-mouth-place") == -40
    assert level(project, "mouth-stitch") == -37
    # Upright lines 10 apart, from outside the bottom seam to the highest mouth and no farther.
    assert strings(project, "dividers").bounds == pytest.approx((-5, -24, 5, 50.5))


def test_stabiliser_is_cut_away_between_the_note_mouth_and_the_top_seam() -> None:
    (cut,) = (step for step in case(**A).steps if step.act is Act.TEAR)
    assert cut.mark[0].bounds == pytest.approx((-98, -48, 98, -40))
    assert cut.seen_from is Side.BACK


def test_the_tab_and_its_snap_lie_where_the_first_example_has_them() -> None:
    project = case(**A)
    (tab,) = layers(project, "tab")
    # Raw ends 7 past the right seam at 98, the fold 47 inward of them; 28 below the top edge.
    assert tab.outline.bounds == pytest.approx((58, -30, 105, -10))
    (snap,) = (one for one in project.notions if one.sort == "snap")
    first, second = snap.halves
    assert first == pytest.approx((97 + 39 - 10, -20))
    assert second == pytest.approx((-97 + 16, -20))


def test_it_is_as_thick_closed_as_the_first_example_reckons_it() -> None:
    # With plies of 0.3: 2 (4 + 3) of them, six cards of 0.76 and notes of 1.1 on both sides of the
    # fold; at the edge every ply twice, and two of ribbon. The medium interfacing of the outer,
    # at most 0.3 a layer, comes on top.
    names = values()
    assert names["empty_most"] == pytest.approx(14 * 0.3 + 2 * 0.3)
    assert names["closed_most"] == pytest.approx(
        max(4.2 + 6 * 0.76 + 2.2 + 0.6, 28 * 0.3 + 4 * 0.3 + 2 * 0.5)
    )


def test_the_first_example_goes_in_160_by_260_turned_and_not_in_200_by_200() -> None:
    # Marks lie inside the tack-downs, 1.5 outside the seam box: 196 + 3 by 98 + 3, and no more.
    there = hooped(CASE, A, "160x260")
    assert there.project.turned
    assert (there.extent.width, there.extent.height) == pytest.approx((101, 199), abs=0.2)
    with pytest.raises(CannotMakeError):
        hooped(CASE, {**A, "width": "199mm"}, "200x200", search=False)


def test_what_the_first_example_holds_goes_in() -> None:
    names = values(**A)
    assert names["slot_room"] == (194 - 2 * 3 - 10) / 2 == 89
    assert names["card_takes"] == pytest.approx(85.6 + 0.76 + 2.2)  # 88.56
    # The highest card ends 27 + 53.98 above the edge, below the stitching at the top at 93.
    assert not [one for one in case(**A).findings if one.stops]
    assert not list(contents(finished(**A)))


# --- The second example -----------------------------------------------------------------
# 203.2 × 92.075 mm, seam box 205.2 × 94.075; the bottom edge lies at y = 46.0375.


@pytest.mark.parametrize(
    ("name", "cut"),
    [
        ("panel", (226, 111)),  # 225.2; 84.075 + 11 + 15 = 110.075
        ("slot[1]", (226, 71)),
        ("slot[2]", (226, 63)),
        ("note-lining", (226, 115)),  # 114.075
        ("outer", (226, 115)),
    ],
)
def test_pieces_are_cut_to_the_second_example(name: str, cut: tuple[float, float]) -> None:
    assert piece(case(**B), name).cut == pytest.approx(cut)


def test_the_elastic_lies_as_in_the_second_example() -> None:
    project = case(**B)
    (elastic,) = (one for one in project.notions if one.name == "elastic")
    assert elastic.length == 111  # 94.075 + 2 × 8 = 110.075
    (layer,) = layers(project, "elastic")
    assert layer.outline.box.centre == pytest.approx((101.6 - 20, 0))
    # It goes round a case 92 high and, with plies of 0.3 and the outer interfaced, 8 to 9 thick:
    # (92.1 + 2 × 8) / 92.1 = 1.17, between the 1.1 and 1.4 that hold well.
    names = values(**B)
    assert names["stretch_least"] < 1.17 < names["stretch_most"] < 1.4
    assert level(project, "slot-floor[2]") == pytest.approx(31.0375, abs=1e-3)
    assert spread(project, "slot[1]")[0] == pytest.approx(-1.9625, abs=1e-3)


# --- The order of the work ----------------------------------------------------------------


@pytest.mark.parametrize("closing", ["snap", "elastic", "none"])
@pytest.mark.parametrize("slots", ["1", "2", "3", "4"])
def test_the_highest_slot_is_laid_first_and_the_outer_last(slots: str, closing: str) -> None:
    project = case(slots=slots, closing=closing)
    order = [one.piece for step in project.steps for one in step.layers]
    highest_first = [f"slot[{k}]" for k in range(int(slots), 0, -1)]
    strap = {"snap": ["tab"], "elastic": ["elastic"], "none": []}[closing]
    assert order == ["panel", *highest_first, "panel-lining", *strap, "note-lining", "outer"]


def test_the_upright_lines_are_stitched_before_what_they_must_not_go_through() -> None:
    project = case()
    parted = step_of(project, "dividers").number
    assert all(parted < step_of(project, name).number for name in ("note-lining", "outer"))
    assert all(parted > step_of(project, f"slot[{k}]").number for k in (1, 2, 3))


def test_the_mark_of_each_mouth_is_stitched_on_the_slot_that_it_is_seen_on() -> None:
    project = case(slots="4")
    for k in (1, 2, 3):
        laid_above = step_of(project, f"slot[{k + 1}]").number
        assert laid_above < step_of(project, f"slot-marks[{k}]").number
        assert step_of(project, f"slot-marks[{k}]").number < step_of(project, f"slot[{k}]").number


@pytest.mark.parametrize("closing", ["snap", "elastic", "none"])
def test_the_steps_speak_of_what_it_is_closed_with_alone(closing: str) -> None:
    said = " ".join(f"{step.title} {step.say}" for step in case(closing=closing).steps).lower()
    words = {"snap": r"\b(snap|tab)\b", "elastic": r"\belastic\b"}
    assert {one for one, word in words.items() if re.search(word, said)} == {closing} - {"none"}


# --- The finished thing -------------------------------------------------------------------


@pytest.mark.parametrize("layers", ["single", "double"])
@pytest.mark.parametrize("slots", ["1", "2", "3", "4"])
def test_a_card_goes_into_every_slot_and_can_be_gripped(slots: str, layers: str) -> None:
    thing = finished(slots=slots, layers=layers, closing="none")
    (card, notes) = thing.project.holds
    every = [replace(card, against=f"slot[{k}]") for k in range(1, int(slots) + 1)]
    project = replace(thing.project, holds=(*every, notes))
    assert not list(contents(replace(thing, done=replace(thing.done, project=project))))


def test_a_case_too_narrow_for_its_cards_is_refused_and_the_remedy_is_enough() -> None:
    with pytest.raises(CannotMakeError) as refused:
        case(width="192mm")
    (told,) = (one for one in refused.value.findings if one.stops)
    # 2 × (85.6 + 0.76 + 2.2 + 3) + 10 = 193.12
    assert "193.2 mm" in mends(told)
    assert not [one for one in case(width="193.2mm").findings if one.stops]
    assert not list(contents(finished(width="193.2mm")))


def test_the_outer_is_outside_when_it_is_folded() -> None:
    thing = finished()
    assert thing.outer is Side.BACK
    assert thing.plies[0].sheet.piece == "outer"
    lies = {flap.piece: flap.lies.words for flap in thing.flaps}
    assert lies == {"tab": "stands out"}
    (elastic,) = finished(closing="elastic").flaps
    assert (elastic.piece, elastic.lies.words) == ("elastic", "closing side")


def test_the_snap_goes_through_outer_and_note_lining_alone_and_is_reached_from_the_mouth() -> None:
    _, second = places(finished())
    assert [ply.sheet.piece for ply in second.pierced] == ["outer", "note-lining"]
    # The mouth of the notes lies 8 below the top edge, the snap 28.
    assert second.opening == "mouth"
    assert second.depth == pytest.approx(28 - 8)


def test_notes_are_as_thick_again_when_they_are_folded_with_the_case() -> None:
    # 10 mm of notes more, on both sides of the fold: 20 mm.
    thin, thick = (
        body_thickness(finished(closing="none", note_thickness=one)) for one in ("0mm", "10mm")
    )
    assert [full - none for none, full in zip(thin, thick, strict=True)] == pytest.approx([20, 20])


def test_as_a_solid_the_tab_goes_round_the_left_half_and_lies_on_the_outer() -> None:
    left, right, tab = solid_of(finished()).panels
    assert (left.parent, right.parent, tab.parent) == (None, 0, 1)
    assert right.hinge is not None
    assert tab.hinge is not None
    # Nothing lies between the halves; the tab has the left one between itself and the right one.
    assert right.hinge.between == ()
    assert tab.hinge.between == (0,)


# --- At any size --------------------------------------------------------------------------

SIZES = st.fixed_dictionaries(
    {
        "width": st.integers(1500, 3300).map(lambda tenths: f"{tenths / 10}mm"),
        "height": st.integers(700, 2000).map(lambda tenths: f"{tenths / 10}mm"),
        "slots": st.sampled_from(["1", "2", "3", "4"]),
        "closing": st.sampled_from(["snap", "elastic", "none"]),
        "layers": st.sampled_from(["single", "double"]),
        "card_height": st.sampled_from(["40mm", "53.98mm", "88.9mm"]),
        "card_width": st.sampled_from(["40mm", "63.5mm", "85.6mm"]),
        "note_height": st.sampled_from(["55mm", "77mm"]),
        "note_width": st.sampled_from(["105mm", "140mm"]),
        "edge_stitch": st.sampled_from(["2mm", "3mm", "5mm"]),
        "turn_of_cloth": st.sampled_from(["0mm", "1mm", "2mm"]),
        "allowance": st.sampled_from(["7mm", "10mm", "20mm"]),
    }
)


@given(SIZES)
@settings(max_examples=25, deadline=None)
def test_what_the_recipe_does_not_refuse_is_sound(asked: dict[str, str]) -> None:
    project = made_or_refused(lambda: lay_out(size(CASE, asked, unit=Unit.MM), chord_error=COARSE))
    if project is None or any(one.stops for one in project.findings):
        return
    sewn, _ = sew(project.steps)
    found = [one for one in prove(project, sewn).findings if one.stops]
    assert not found, [says(one) for one in found]
