"""The clear pouch: its parts, its layers, its binding, what it holds, at any size.

Sizes are checked against arithmetic shown beside them; how it goes together is common practice,
no source.
"""

import math
from functools import cache

import pytest
import shapely
from layout_orders import Asked, hooped, laid, layers, line, piece
from told import mends, says

from paramgen.amounts.fused_interfacing import fused
from paramgen.finished.all_findings import prove
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.pockets import pockets_along
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.sheets import sandwich
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Act, Grain, Side
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

POUCH = find_recipe("clear-pouch")


@cache
def _pouch(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(POUCH, dict(asked))


def pouch(**asked: str | float) -> Project:
    """Lay a pouch out, once for all tests that ask for the same."""
    return _pouch(tuple(sorted(asked.items())))


@cache
def finished_of(project: Project) -> FinishedThing:
    return finish(work_through(project))


@cache
def thing() -> FinishedThing:
    return finish(work_through(pouch()))


def turned(**asked: str | float) -> Project:
    """A pouch that is turned, of the size of the worked example unless another is asked for."""
    return pouch(**{"edge": "turned", "width": 160, "height": 120, **asked})


def refused(**asked: str | float) -> tuple[str, str]:
    with pytest.raises(CannotMakeError) as problem:
        pouch(**asked)
    found = [one for one in problem.value.findings if one.stops]
    return says(found[0]), mends(found[0])


# 180 × 130: half is 65, the middle of the zip 30 below the top, at -35; folds 6.5 apart at -38.25
# and -31.75, those inside 1 farther. All is 10 past the edge: 200 wide. Folded in half 30 - 3.25 +
# 10 = 36.75, cut 73.5, and inside 35.75, 71.5. The band is 24 with 10.5 turned in at both edges,
# the one inside 23. The vinyl begins 1 past the fold of the band: 65 + 10 + 30.75 = 105.75.
@pytest.mark.parametrize(
    ("name", "cut"),
    [
        ("upper-strip", (200, 74)),
        ("upper-inside", (200, 72)),
        ("band", (200, 45)),
        ("band-inside", (200, 44)),
        ("vinyl", (200, 106)),
        ("back", (200, 150)),
        ("back-lining", (200, 150)),
        # 2 · (180 + 130) - 8 · 12 + 2 · 3.1416 · 12 + 80 = 679.4, and four times 8 and 2.
        ("binding", (680, 34)),
    ],
)
def test_pieces_are_cut_to_the_arithmetic(name: str, cut: tuple[float, float]) -> None:
    assert piece(pouch(), name).cut == pytest.approx(cut)


def test_the_zip_is_longer_than_the_cut_width_by_2_in() -> None:
    (zipped,) = (one for one in pouch().notions if one.name == "zip")
    assert zipped.length == pytest.approx(math.ceil(200 + 50.8))


def test_lines_run_where_they_hold_what_they_should() -> None:
    project = pouch()
    # 4 beside either fold; 2.5 inside the tape, which reaches 12.5 below -35; 3 above -31.75 + 24.
    along = [path.bounds for path in line(project, "fold-stitch").paths]
    assert [bounds[1] for bounds in along] == pytest.approx([-42.25, -27.75])
    along = [path.bounds for path in line(project, "band-stitch").paths]
    assert [bounds[1] for bounds in along] == pytest.approx([-25, -10.75])
    assert [bounds[2] for bounds in along] == pytest.approx([91.5, 91.5])
    # Tacked down 1.5 outside the edge; the last line 4 inside it.
    (last,) = line(project, "seam").paths
    assert last.bounds == pytest.approx((-86, -61, 86, 61), abs=0.01)
    tack = shapely.MultiLineString([path.points for path in line(project, "front-tack").paths])
    assert tack.bounds == pytest.approx((-91.5, -66.5, 91.5, 66.5), abs=0.01)


@pytest.mark.parametrize("gap", [5, 6.5, 8])
def test_both_bands_cover_the_edge_of_the_vinyl_and_the_line_that_it_is_laid_by(gap: float) -> None:
    project = pouch(coil_gap=gap)
    (vinyl,), (band,), (inside,) = (
        layers(project, name) for name in ("vinyl", "band", "band-inside")
    )
    (place,) = line(project, "vinyl-place").paths
    edge = vinyl.outline.box.top
    assert edge - band.outline.box.top == pytest.approx(1)
    assert place.bounds[1] - edge == pytest.approx(0.5)
    assert place.bounds[1] - inside.outline.box.top == pytest.approx(0.5)
    assert [says(one) for one in prove(project).findings if one.stops] == []


def test_the_needle_stays_away_from_the_edge_of_the_vinyl_and_from_itself() -> None:
    # Its edge lies 1 past the fold at -31.75, stitched at 4 and at -35 + 12.5 - 2.5 = -25.
    (vinyl,) = layers(pouch(), "vinyl")
    beside, held = (line(pouch(), name).paths for name in ("fold-stitch", "band-stitch"))
    inside = [paths.points[0, 1] - vinyl.outline.box.top for paths in (beside[1], held[0])]
    assert inside == pytest.approx([3, 5.75])
    assert all(one.stitch.length >= 3 for one in pouch().lines if one.name != "zip-tack"), [
        (one.name, one.stitch.length) for one in pouch().lines
    ]


def test_it_lies_in_the_hoop_from_back_to_front_as_it_should() -> None:
    # True is a right side. A hem and a leaf of what is folded show theirs on the hidden side.
    found: dict[str, tuple[bool, bool]] = {}
    for one in sandwich(pouch()).sheets:
        found.setdefault(one.piece, (one.front, one.back))
    assert list(found) == [
        "back",
        "back-lining",
        "band-inside",
        "upper-inside",
        "zip",
        "vinyl",
        "upper-strip",
        "band",
    ]
    assert found["back"] == (False, True)
    assert found["back-lining"] == (True, False)
    assert found["vinyl"] == (True, True)


def test_the_window_is_cleared_before_the_lining_hides_it() -> None:
    steps = pouch().steps
    (tear,) = (step for step in steps if step.act is Act.TEAR)
    assert tear.seen_from is Side.BACK
    window, coil = tear.mark
    # From the fold of the band to 1 inside the line 4 inside the edge, which goes through what is
    # left: 90 - 5 by 65 - 5; under the binding, 8. And between the folds inside.
    assert window.bounds == pytest.approx((-85, -7.75, 85, 60), abs=0.01)
    assert coil.bounds == pytest.approx((-91.5, -39.25, 91.5, -30.75), abs=0.01)
    covering = next(s.number for s in steps if any(o.piece == "back-lining" for o in s.layers))
    assert tear.number < covering


def test_the_lining_is_seen_through_the_window_within_the_binding() -> None:
    found = thing()
    lining = next(
        place for place, ply in enumerate(found.plies) if ply.sheet.piece == "back-lining"
    )
    assert found.plies[lining].sheet.front  # its right side
    # 180 - 2 · 8 by 65 + 7.75 - 8 = 64.75, less what the corners of 12 - 8 = 4 take.
    seen = found.seen[Side.FRONT][lining]
    # The ends of the binding meet within a hair in the middle of the bottom.
    window = (seen & shapely.box(-100, -7.75, 100, 100)).buffer(-0.1).buffer(0.1)
    assert window.bounds == pytest.approx((-82, -7.75, 82, 57), abs=0.01)


def test_the_binding_covers_both_faces_and_no_more_of_the_zip_than_its_ends() -> None:
    found = thing()
    first, last = found.plies[0], found.plies[-1]
    assert {first.sheet.piece, last.sheet.piece} == {"binding"}
    # 180 · 130 less its corners, and the same 8 inside.
    square = 4 - math.pi
    outer = 180 * 130 - square * 12**2
    inner = 164 * 114 - square * 4**2
    assert first.area.area == pytest.approx(outer - inner, rel=0.001)
    (slit,) = found.done.sandwich.slits
    assert float((slit.line & found.unbound).length) == pytest.approx(164)
    assert not any(one.code == "zip-covered" for one in prove(pouch()).findings)


def test_there_is_room_between_the_stitches_of_the_binding() -> None:
    # Sewn on 8 - 1 = 7 inside the edge: 180 - 14 = 166 by 130 - 14 = 116.
    (held,) = pouch().holds
    (pocket,) = pockets_along(thing(), held)
    assert pocket.area.bounds[0] >= -90
    marks = [step.mark[0] for step in pouch().steps if step.act is Act.BIND]
    assert [mark.box.width for mark in marks] == pytest.approx([166, 167])
    # 160 + 2 + 4 = 166; 112 + 4 = 116: no more.
    assert pouch(packet_width=160, packet_height=110)
    said, remedy = refused(packet_width=161, packet_height=110)
    assert "will not go between the edges" in said
    assert "181 mm" in remedy


@pytest.mark.parametrize("size", [(90, 96), (180, 130), (330, 330), (120, 330), (330, 96)], ids=str)
def test_it_is_sound_over_its_range(size: tuple[float, float]) -> None:
    width, height = size
    small = {"packet_width": min(width - 30, 108), "packet_height": min(height - 30, 82)}
    project = pouch(width=width, height=height, **small)
    assert [says(one) for one in prove(project).findings if one.stops] == []


def test_the_default_goes_into_the_hoop_of_160_by_260_turned() -> None:
    asked: Asked = {}
    assert hooped(POUCH, asked, "160x260", search=False).project.turned


def test_what_cannot_be_is_refused_with_what_can() -> None:
    # 30 + 3.25 + 24 + 8 + 30 = 95.25
    said, remedy = refused(height=96, band=25, packet_height=50)
    assert "of the window is left" in said
    assert "at least 96.3 mm" in remedy
    said, remedy = refused(corner_radius=7)
    assert "does not go round corners" in said
    assert "at least 8 mm" in remedy
    # 12.5 - 3.25 + 10 = 19.25
    said, remedy = refused(band=19, band_turn=8)
    assert "at least 19.3 mm" in remedy
    # The line that holds the vinyl lies 12.5 - 2.5 below the middle of the zip, the fold 3.25: it
    # is caught 3 inside its edge if 10 - 3.25 + 3 are turned in.
    said, remedy = refused(band_turn=9)
    assert "not caught by the stitching that holds the vinyl" in said
    assert "at least 9.8 mm" in remedy
    # And 2 from the line beside the fold, 4 from it: the fold 10 - 6 = 4 from the middle.
    said, remedy = refused(coil_gap=9)
    assert "leave no room" in said
    assert "coil_gap to at most 8 mm" in remedy
    assert "zip_tape to at least 26 mm" in remedy
    assert [says(one) for one in prove(pouch(band_turn=9.8)).findings if one.stops] == []
    assert [says(one) for one in prove(pouch(coil_gap=9, zip_tape=26)).findings if one.stops] == []
    # 8 + 12.5 + 2 = 22.5
    said, remedy = refused(zip_below_top=22, corner_radius=9)
    assert "at least 22.5 mm" in remedy


# 160 × 120 and 1 more at each side: half is 61, the zip 25 below the seam at -36, folds at -39.25
# and -32.75; 162 + 20 = 182 wide. 25 - 3.25 + 10 = 31.75, cut 63.5, inside 61.5; the vinyl
# 61 + 10 + 31.75 = 102.75; the backs 122 + 20 = 142; the zip 182 + 50.8 = 232.8.
def test_a_turned_one_is_cut_to_the_arithmetic() -> None:
    project = turned()
    cuts = {one.name: one.cut for one in project.pieces}
    assert cuts == {
        "upper-strip": pytest.approx((182, 64)),
        "upper-inside": pytest.approx((182, 62)),
        "band": pytest.approx((182, 45)),
        "band-inside": pytest.approx((182, 44)),
        "vinyl": pytest.approx((182, 103)),
        "back-lining": pytest.approx((182, 142)),
        "back": pytest.approx((182, 142)),
    }
    (zipped,) = (one for one in project.notions if one.name == "zip")
    assert zipped.length == pytest.approx(233)
    along = [path.bounds[1] for path in line(project, "fold-stitch").paths]
    assert along == pytest.approx([-43.25, -28.75])
    along = [path.bounds[1] for path in line(project, "band-stitch").paths]
    assert along == pytest.approx([-26, -11.75])


def test_only_thin_vinyl_on_a_large_pouch_is_turned() -> None:
    # 350 · 0.3 = 105 <= 120, and 350 · 0.4 = 140 > 120; 120 / 350 = 0.343.
    assert turned(vinyl_thickness=0.3)
    said, remedy = refused(edge="turned", width=160, height=120, vinyl_thickness=0.4)
    assert "cracks when" in said
    assert "Take edge=bound" in remedy
    assert "0.3 mm" in remedy
    assert turned(width=180, height=140, vinyl_thickness=0.4)
    # Never more than 0.4, however large.
    said, _ = refused(edge="turned", width=330, height=330, vinyl_thickness=0.5)
    assert "cracks when" in said


def test_it_is_turned_through_its_zip_and_has_its_right_sides_outside() -> None:
    done = work_through(turned())
    assert done.through_zip
    assert done.opens
    assert done.leaks == ()
    found = finish(done)
    order = list(dict.fromkeys(ply.sheet.piece for ply in found.plies))
    assert order == [
        "back",
        "back-lining",
        "band-inside",
        "upper-inside",
        "zip",
        "vinyl",
        "upper-strip",
        "band",
    ]
    back, lining = found.plies[:2]
    assert (back.sheet.back, back.sheet.front) == (True, False)
    assert (lining.sheet.back, lining.sheet.front) == (False, True)


def test_a_turned_one_holds_what_goes_through_its_zip() -> None:
    found = finish(work_through(turned()))
    (held,) = found.project.holds
    (pocket,) = pockets_along(found, held)
    assert pocket.through_zip
    assert pocket.opens
    assert pocket.area.bounds == pytest.approx((-80, -60, 80, 60), abs=0.01)
    # 160 = 154 + 2 + 4 and 120 = 114 + 2 + 4.
    assert turned(packet_width=154, packet_height=114)
    said, _ = refused(edge="turned", width=160, height=120, packet_width=155, packet_height=114)
    assert "will not go between the edges" in said


@pytest.mark.parametrize("size", [(114, 105), (160, 120), (330, 330), (120, 330)], ids=str)
def test_a_turned_one_is_sound_over_its_range(size: tuple[float, float]) -> None:
    width, height = size
    if height > 300 > width:
        width = 120  # 120 + 2 - 20 = 102 and 0.9 · 120 = 108: it does not go through its zip
        said, remedy = refused(edge="turned", width=width, height=height, packet_width=80)
        assert "does not go through its own zip" in said
        assert "at least" in remedy
        return
    small = {"packet_width": min(width - 20, 108), "packet_height": min(height - 20, 82)}
    project = turned(width=width, height=height, **small)
    assert [says(one) for one in prove(project).findings if one.stops] == []


def test_the_window_of_a_turned_one_is_cleared_before_it_is_turned() -> None:
    acts = [(step.act, step.title) for step in turned().steps]
    cleared = acts.index((Act.TEAR, "Clear the window"))
    turning = next(k for k, (act, _) in enumerate(acts) if act is Act.TURN)
    assert cleared < turning
    assert not any(act is Act.PRESS for act, _ in acts)  # no iron on vinyl


def test_in_inches_both_bands_are_caught_and_the_one_inside_does_not_show() -> None:
    # Inside 23 is 1 in of eighths, 25.4; with the 1 that it lies lower, 26.4, the band is 28.575.
    # 21 turned in is 22.225. Of the front 28.575 - 26.4 = 2.175 more hang below the line.
    project = laid(POUCH, {"width": 203.2, "height": 152.4}, Unit.INCH)
    assert piece(project, "band").cut[1] == pytest.approx(28.575 + 22.225)
    assert piece(project, "band-inside").cut[1] == pytest.approx(25.4 + 22.225)
    (band,), (inside,) = layers(project, "band"), layers(project, "band-inside")
    low = line(project, "band-stitch").paths[1].points[0, 1]
    assert band.outline.box.bottom - low == pytest.approx(5.175)
    assert inside.outline.box.bottom - low == pytest.approx(3)
    assert [says(one) for one in prove(project).findings if one.stops] == []
    found = finished_of(project)
    plies = zip(found.plies, found.seen[Side.FRONT], strict=True)
    assert "band-inside" not in {ply.sheet.piece for ply, seen in plies if not seen.is_empty}


def test_in_inches_the_remedy_for_edges_that_meet_is_enough() -> None:
    # Less turned in is no help: half of 25 - 6.5 + 1, 9.75, reaches past the line on the tape.
    asked = {"band": 20, "band_turn": 10}
    with pytest.raises(CannotMakeError) as problem:
        laid(POUCH, asked, Unit.INCH)
    (told,) = (one for one in problem.value.findings if one.stops)
    # 20 turned in is 22.225, and with 1 and 2 it is 25.225.
    assert mends(told).startswith("Set band to at least 25.3 mm")
    assert laid(POUCH, {**asked, "band": 25.3}, Unit.INCH)
    # In a band of 30 29 are 31.75 inside; less 2 nine eighths, 28.575, 14.2875 at each edge.
    with pytest.raises(CannotMakeError) as problem:
        laid(POUCH, {"band": 30, "band_turn": 15}, Unit.INCH)
    (told,) = (one for one in problem.value.findings if one.stops)
    assert "band_turn to at most 14.2 mm" in mends(told)
    assert laid(POUCH, {"band": 30, "band_turn": 14.2}, Unit.INCH)


def said_in(project: Project, title: str) -> str:
    (text,) = (step.say for step in project.steps if step.title == title)
    return text


@pytest.mark.parametrize(("edge", "free"), [("bound", 14), ("turned", 10)])
def test_interfacing_is_fused_where_the_cut_list_has_it(edge: str, free: float) -> None:
    # Bound, the last line lies 4 inside the edge, which is 10 inside the raw edges.
    project = pouch(edge=edge, width=160, height=120)
    for one in (one for fabric in project.fabrics for one in fused(fabric, project)):
        cut = piece(project, one.name).cut
        assert (cut[0] - one.cut[0]) / 2 == pytest.approx(free)
    said = said_in(project, "Fuse the interfacing")
    assert f"{free} mm" in said
    assert "160 mm" not in said


def test_what_is_turned_is_notched_through_its_overcast_stitches() -> None:
    # Overcast 1 to 5 outside the seam and trimmed at 6: V's that end before it would be 1 deep.
    said = said_in(turned(), "Notch the rounded corners")
    assert "through the overcast stitches, as far as 2 mm" in said
    assert "not into it" not in said


def test_the_tack_down_is_cut_off_only_where_the_edge_is_cut_inside_it() -> None:
    assert "cut off later" in said_in(pouch(), "Tack-down of the front")
    # 1.5 outside the seam, and trimmed 6 outside it.
    assert "stays in the allowance" in said_in(turned(), "Tack-down of the front")


def test_the_binding_is_cut_on_the_bias_and_sewn_with_stitches_that_do_not_perforate() -> None:
    assert piece(pouch(), "binding").grain is Grain.BIAS
    for title in ("Bind the back", "Bind the front"):
        said = said_in(pouch(), title)
        assert "stitches of at least 3 mm" in said or "stitches as long as before" in said
