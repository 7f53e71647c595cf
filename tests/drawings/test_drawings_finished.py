"""The finished thing as it is drawn, against arithmetic on the recipes' declared sizes."""

from dataclasses import replace
from functools import lru_cache

import pytest
import shapely
from drawings_read import clipped, of_style, overlapping, words
from finished_things import altered, empty, seen, worked
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.framed_picture import composed
from paramgen.drawings.pictures.finished_views import finished, finished_sheets
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style
from paramgen.finished.bulk import thickness_at
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.proof import proof
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.unit import Unit

#: Without turn of cloth the finished edge is the seam line, as the rehearsal has it: 124 × 172,
#: halves of 86, two pockets of 54 and 54 + (86 − 54) / 2 = 70.
#: A tab of 84 mm is folded to 42, of which 5 mm lie past the seam line.
FLAT = {"turn_of_cloth": "0mm", "front_depth": "54mm", "most_stagger": "30mm", "tab_cut": "84mm"}
CASED = {"top": "casing"}
RIGHT, HELD = Style.RIGHT_SIDE, Style.HELD


def views(done: FinishedThing) -> dict[str, Drawing]:
    return {drawing.name.removeprefix("finished-"): drawing for drawing in finished(done)}


@lru_cache
def wallet() -> FinishedThing:
    return worked("fold-wallet", FLAT)


@lru_cache
def wallet_views() -> dict[str, Drawing]:
    return views(empty(wallet()))


def test_what_folds_is_drawn_open_from_both_sides_and_closed_what_does_not_from_both_sides() -> (
    None
):
    assert list(wallet_views()) == ["outside", "inside", "front", "back"]
    assert list(views(worked("coaster"))) == ["front", "back"]
    assert list(views(worked("plant-tag"))) == ["front", "back"]  # folds, and is not turned


def test_outside_as_much_of_each_piece_is_seen_as_the_rehearsal_shows() -> None:
    shown = {(one.piece, one.face): one.area for one in proof(wallet()).shows}
    outside = seen(wallet_views()["outside"])
    for piece in ("upper-outer", "lower-outer"):
        title = piece.replace("-", " ")
        assert outside[title, RIGHT].area == pytest.approx(shown[piece, Side.FRONT], abs=0.01)
    # Of the zip only the gap: 6.5 mm between the folds, over 124 mm.
    assert outside["coil zip", Style.ZIP_TAPE].area == pytest.approx(6.5 * 124, abs=0.01)


def test_inside_the_pockets_cover_each_other_and_the_lining_in_reverse() -> None:
    shown = {(one.piece, one.face): one.area for one in proof(wallet()).shows}
    inside = seen(wallet_views()["inside"])
    assert inside["pocket 1", RIGHT].area == pytest.approx(shown["pocket[1]", Side.BACK], abs=0.01)
    assert inside["pocket 1", RIGHT].area == pytest.approx(2 * 124 * 54, abs=0.01)
    assert inside["pocket 2", RIGHT].area == pytest.approx(2 * 124 * (70 - 54), abs=0.01)
    assert inside["lining", RIGHT].area == pytest.approx(124 * (172 - 2 * 70), abs=0.01)


def test_from_each_end_the_first_pocket_is_in_front() -> None:
    done = empty(
        worked(
            "fold-wallet",
            {"pockets": 3, "height": "220mm", "front_depth": "54mm", "most_stagger": "30mm"},
        )
    )
    inside = seen(views(done)["inside"])
    for end in (-1, 1):
        from_the_end = [
            title
            for y in range(110, -1, -1)
            for (title, _), room in inside.items()
            if room.contains(shapely.Point(30.3, end * (y + 0.3)))
        ]
        assert list(dict.fromkeys(from_the_end)) == ["pocket 1", "pocket 2", "pocket 3", "lining"]


# The folds meet in the middle, or lap by 12 mm: then the upper one lies 6 mm below it. The line is
# 2 mm above the upper fold, from edge to edge of 140 mm.
@pytest.mark.parametrize(("lap", "fold"), [("0mm", 0), ("12mm", 6)])
@pytest.mark.parametrize("inside", ["overcast", "enclosed"])
def test_what_was_sewn_together_before_the_hooping_shows_its_line(
    inside: str, lap: str, fold: float
) -> None:
    drawn = views(worked("tissue-cover", {"lip": "strip", "inside": inside, "lap": lap}))
    (line,) = of_style(drawn["front"], Style.STITCHED_BEFORE)
    assert line.path.bounds == pytest.approx((-70, fold - 2, 70, fold - 2))
    assert of_style(drawn["back"], Style.STITCHED_BEFORE) == []
    without = views(worked("tissue-cover", {"inside": inside, "lap": lap}))
    assert of_style(without["front"], Style.STITCHED_BEFORE) == []


# 160 high when closed and the flap 60: without turn of cloth the bottom lies (160 + 60) / 2 = 110
# below the middle, the flap folds at 110 − 160 = −50, the mouth lies 6 below that, and the line 3
# below the mouth, from edge to edge of 130 mm.
def test_what_was_stitched_along_a_fold_before_the_hooping_shows_its_line() -> None:
    asked = {"turn_of_cloth": "0mm", "body": "160mm", "flap": "60mm"}
    across = {
        name: [
            b for line in of_style(one, Style.STITCHED_BEFORE) if (b := line.path.bounds)[1] == b[3]
        ]
        for name, one in views(worked("flap-sleeve", asked)).items()
    }
    line = pytest.approx((-65, -41, 65, -41))
    # From outside the back covers it, open and closed.
    assert across == {"outside": [], "inside": [line], "front": [line], "back": []}


def test_the_hem_of_a_slot_shows_its_line_close_to_its_inner_edge() -> None:
    inside = views(empty(worked("card-case", {"slot_hem": "7mm"})))["inside"]
    across = [line.path.bounds for line in of_style(inside, Style.STITCHED_BEFORE)]
    for number in (1, 2, 3):
        left, mouth, right, _ = seen(inside)[f"slot {number}", RIGHT].bounds
        line = (left, mouth + 7 - 1.5, right, mouth + 7 - 1.5)
        assert any(bounds == pytest.approx(line) for bounds in across)


# 12 wide folded, its fold 1 above the raw top that lies 11 up in it. Half of what lies between two
# flags is shown of it past 90 / 2, at least 5 and at most 15; so far goes its line, 2 up.
@pytest.mark.parametrize(("space", "past"), [("0mm", 5), ("20mm", 10), ("300mm", 15)])
def test_a_tape_over_the_edge_covers_it_on_both_faces_and_runs_on(space: str, past: float) -> None:
    drawn = views(worked("bunting-flag", {"space": space}))
    for name in ("front", "back"):
        (room,) = (room for (title, _), room in seen(drawn[name]).items() if "tape" in title)
        assert room.bounds == pytest.approx((-45 - past, -12, 45 + past, 0))
        assert of_style(drawn[name], Style.RAW_EDGE) == []
        assert words(drawn[name], "labels").count("double-fold tape runs on at both ends") == 1
        assert "double-fold tape" in words(drawn[name], "legend")
        (line,) = of_style(drawn[name], Style.STITCHED_BEFORE)
        assert line.path.bounds == pytest.approx((-45 - past, -2, 45 + past, -2))
        assert clipped(drawn[name]) == []
    assert not any(
        "tape" in name for name, _ in seen(views(worked("bunting-flag", CASED))["front"])
    )


# 19 wide and stitched 2 inside either edge, at 9.5 − 2; from the finished edge at 86 to the fold
# at 123, as below.
def test_a_tab_that_stands_out_shows_the_stitching_along_its_sides() -> None:
    done = worked("fold-wallet", {**FLAT, "tab": "fabric", "edge_stitch": "2mm"})
    for view in ("outside", "inside"):
        lines = of_style(views(done)[view], Style.STITCHED_BEFORE)
        sides = sorted(b for line in lines if (b := line.path.bounds)[3] > 87)
        expected = [(x, 86, x, 123) for x in (-7.5, 7.5)]
        assert sides == [pytest.approx(one, abs=0.01) for one in expected]


@pytest.mark.parametrize("view", ["outside", "inside"])
def test_the_tab_is_mirrored_about_the_seam_that_holds_it(view: str) -> None:
    # 19 mm wide; folded 42 mm high with its raw ends 5 mm past the seam line at 86: it stands out
    # 42 − 5 = 37 mm, to 123.
    room = seen(wallet_views()[view])["tab", RIGHT]
    assert room.bounds == pytest.approx((-9.5, 86.0, 9.5, 123.0), abs=0.01)
    # The snap lies 10 mm inside the folded end, at 113.
    rings = [shape.path.area for shape in of_style(wallet_views()[view], Style.HARDWARE)]
    assert any(ring.distance(shapely.Point(0, 113)) == 0 for ring in rings)
    # Its other half lies on the outside only.
    assert len(rings) == (2 if view == "outside" else 1)


def test_the_loop_of_the_pouch_is_mirrored_about_the_edge_that_holds_it() -> None:
    done = worked("zip-pouch")
    left = done.project.seam.bounds[0]
    laid = max(sheet.area.bounds[2] for sheet in done.done.sandwich.sheets if sheet.piece == "loop")
    drawn = views(done)
    front, back = (seen(drawn[name])["loop", RIGHT].bounds for name in ("front", "back"))
    # About the finished edge, 1 mm turn of cloth inside the seam line.
    assert front[0] == pytest.approx(2 * (left + 1.0) - laid, abs=0.01)
    # From the back left and right change places.
    assert back[2] == pytest.approx(-front[0], abs=0.01)


def test_a_thing_stands_out_of_its_pocket_by_its_height_less_the_depth_that_holds_it() -> None:
    done = worked("fold-wallet", {"turn_of_cloth": "0mm", "front_depth": "50mm"})
    (packet,) = done.project.holds
    width, height = packet.size
    inside = views(done)["inside"]
    (drawn,) = (room for (_, style), room in seen(inside).items() if style is Style.HELD)
    # The mouth lies 50 mm above the seam line at 172 / 2 = 86, at 36. It is top-stitched 2 mm
    # inside the edge, and half of a packet 2 mm thick, 1 mm, is lost at the closed end.
    held = 50 - 2 - 1
    assert drawn.bounds[3] == pytest.approx(36.0, abs=0.02)
    assert drawn.bounds[3] - drawn.bounds[1] == pytest.approx(height - held, abs=0.02)
    assert drawn.bounds[2] - drawn.bounds[0] == pytest.approx(width, abs=0.02)
    # What is held is dashed.
    hidden = [shape.path.bounds for shape in of_style(inside, Style.BEHIND)]
    assert max(bounds[3] for bounds in hidden) == pytest.approx(36.0 + held, abs=0.02)
    assert min(bounds[1] for bounds in hidden) == pytest.approx(36.0, abs=0.02)
    assert f"stands out {height - held:g} mm" in words(inside, "labels")
    # From the outside all of it is hidden.
    outside = views(done)["outside"]
    assert not of_style(outside, Style.HELD)
    assert of_style(outside, Style.BEHIND)


@pytest.mark.parametrize("height", ["120mm", "90mm"])  # the thing ends below the zip, or above it
def test_a_thing_in_a_zipped_pouch_lies_wholly_inside(height: str) -> None:
    front = views(worked("zip-pouch", {"height": height}))["front"]
    assert not of_style(front, Style.HELD)
    assert of_style(front, Style.BEHIND)
    assert "lies wholly inside" in words(front, "labels")


def test_the_finished_edge_lies_inside_the_seam_line_by_the_turn_of_cloth() -> None:
    done = empty(worked("fold-wallet", {"turn_of_cloth": "2mm", "tab": "none"}))
    outline = shapely.union_all(list(seen(views(done)["outside"]).values()))
    assert outline.bounds == pytest.approx((-62.0, -86.0, 62.0, 86.0), abs=0.01)


def test_closed_the_zip_half_is_in_front_under_the_tab_and_the_other_behind() -> None:
    front, back = seen(wallet_views()["front"]), seen(wallet_views()["back"])
    # Half of 172 is 86; the tab comes over the upper edge. Its half of the snap lies 10 mm inside
    # its folded end, and meets the other half.
    (snap,) = (notion for notion in wallet().project.notions if notion.halves)
    end = snap.halves[1][1] + 10.0
    assert front["tab", RIGHT].bounds == pytest.approx((-9.5, -86.0, 9.5, end), abs=0.01)
    # Of its 37 mm the rest has gone round the closed thickness, and 1 to 3 mm more.
    least, most = thickness_at(wallet(), (0.0, -86.0))
    assert least + 1.0 <= 37.0 - (end + 86.0) <= most + 3.0
    (ring,) = of_style(wallet_views()["front"], Style.HARDWARE)
    assert ring.path.area.centroid.distance(shapely.Point(snap.halves[1])) < 0.01
    assert {title for title, _ in front} == {"upper outer", "lower outer", "coil zip", "tab"}
    assert {title for title, _ in back} == {"lower outer"}
    assert back["lower outer", RIGHT].area == pytest.approx(124 * 86, abs=0.01)
    assert len(of_style(wallet_views()["front"], Style.HARDWARE)) == 1  # the other is under it
    assert "124 × 86 mm" in words(wallet_views()["front"], "heading")


def test_without_hardware_what_goes_round_the_edge_is_shorter_by_the_thickness() -> None:
    done = empty(wallet())
    # The half without the tab goes behind the other, and the tab then over that one's edge at 86.
    folds = (done.project.finish.folds[0], ((-1.0, 86.0), (1.0, 86.0)))
    finish = replace(done.project.finish, folds=folds)
    project = replace(done.project, notions=(), finish=finish)
    bare = replace(done, done=replace(done.done, project=project))
    thick = sum(thickness_at(bare, (0.0, 86.0))) / 2
    # 37 mm, less the thickness and the middle of 1 to 3 mm more.
    high = seen(views(bare)["front"])["tab", RIGHT].bounds[1]
    assert high == pytest.approx(86.0 - 37.0 + thick + 2.0, abs=0.01)


def test_top_stitching_is_seen_on_the_closed_thing_but_not_on_the_tab_over_it() -> None:
    front, back = wallet_views()["front"], wallet_views()["back"]
    # Stitched 2 mm inside the edge at −86 and at ±62.
    for drawing in (front, back):
        whole = shapely.union_all([s.path.line for s in of_style(drawing, Style.STITCHED_BEFORE)])
        for spot in ((40.0, -84.0), (-60.0, -70.0), (60.0, -70.0)):
            assert whole.distance(shapely.Point(spot)) < 0.05
    tab = seen(front)["tab", RIGHT].buffer(-0.1)
    lines = [s.path.line for s in of_style(front, Style.STITCHED_BEFORE)]
    # What lies under the tab is painted before it.
    (picture,) = (g for g in front.items if isinstance(g, Group) and g.name == "picture")
    over = [g for g in picture.items if isinstance(g, Group) and g.title == "tab"]
    assert lines
    assert not any(
        shape.style is Style.STITCHED_BEFORE and shape.path.line.intersects(tab)
        for group in over
        for shape in group.items
        if isinstance(shape, Shape)
    )


def test_a_side_that_should_not_show_is_drawn_as_it_would() -> None:
    good = 'lay = [{ piece = "lining", side = "front", up = "wrong"'
    done = empty(worked(altered("fold-wallet", good, good.replace("wrong", "right"))))
    inside = seen(views(done)["inside"])
    assert ("lining", Style.WRONG_SIDE) in inside
    assert ("lining", RIGHT) not in inside
    assert not of_style(wallet_views()["inside"], Style.WRONG_SIDE)


def test_either_piece_may_be_the_closing_one() -> None:
    turned = altered("coaster", 'between = ["top", "back"]', 'between = ["back", "top"]')
    drawn = views(worked(turned))
    assert {title for title, _ in seen(drawn["front"])} == {"back"}
    assert {title for title, _ in seen(drawn["back"])} == {"top"}
    assert not of_style(drawn["front"], Style.WRONG_SIDE)
    assert not of_style(drawn["back"], Style.WRONG_SIDE)


def test_raw_edge_goods_are_drawn_as_layered_with_what_is_cut_out_of_them() -> None:
    done = worked("plant-tag", {"hang": "slot"})
    drawn = views(done)
    assert {title for title, style in seen(drawn["front"]) if style is RIGHT} == {"front"}
    assert {title for title, style in seen(drawn["back"])} == {"back"}
    assert of_style(drawn["front"], Style.SEE_THROUGH)
    assert not of_style(drawn["back"], Style.SEE_THROUGH)
    for drawing in drawn.values():
        (hole,) = of_style(drawing, Style.CUT_OUT)
        left, top, right, bottom = hole.path.bounds
        # The slot is as long as a strap of 24 mm and 4 mm more, and 4 mm high.
        assert (right - left, bottom - top) == pytest.approx((28.0, 4.0), abs=0.01)


def test_an_eyelet_goes_through_to_the_back() -> None:
    for drawing in views(worked("plant-tag", {"hang": "hole"})).values():
        assert len(of_style(drawing, Style.HARDWARE)) == 1


def test_halves_through_every_layer_are_seen_from_both_sides_and_told_apart() -> None:
    # Both halves of the strap's snap go through front and back.
    for drawing in views(worked("plant-tag", {"hang": "strap"})).values():
        assert len(of_style(drawing, Style.HARDWARE)) == 2
        assert "one half, through back and front" in words(drawing, "labels")
        assert "one half, through front and back" in words(drawing, "labels")
    # Of the wallet's one goes through the tab, and one through the upper outer piece alone.
    outside, inside = (words(wallet_views()[view], "labels") for view in ("outside", "inside"))
    assert "one half, on the tab" in outside
    assert "one half, on the upper outer" in outside
    assert "one half, on the tab" in inside
    assert "one half, on the upper outer" not in inside


def test_stitches_are_seen_where_what_they_go_through_is() -> None:
    # On the outside: beside both folds, and the line that holds the pouch lining, which goes
    # through the lower outer piece. On the inside all these lie behind lining and pockets. What
    # is top-stitched in the end, 2 mm inside the edge at −86, goes through everything.
    outside, inside = (
        {
            round(shape.path.bounds[1], 2)
            for shape in of_style(wallet_views()[view], Style.STITCHED_BEFORE)
        }
        for view in ("outside", "inside")
    )
    # The zip lies at −86 + 36 = −50; folds 3.25 mm from it, stitched 2 mm farther; the pouch
    # lining is stitched at half of the 12 mm it reaches past the fold line.
    assert outside == {-84.0, -55.25, -44.75, 6.0}
    assert inside == {-84.0}


@settings(max_examples=4)
@given(
    st.integers(130, 330),
    st.integers(180, 360),
    st.integers(1, 4),
    st.sampled_from(["short", "long"]),
    st.sampled_from(["square", "rounded"]),
)
def test_whatever_the_size_each_side_is_covered_once(
    width: int, height: int, pockets: int, pouch: str, corners: str
) -> None:
    asked: dict[str, str | float] = {"width": width, "height": height, "pockets": pockets}
    choices = {"pouch": pouch, "corners": corners, "front_depth": "40mm"}
    done = empty(worked("fold-wallet", {**asked, **choices}))
    whole = done.project.seam.area.buffer(-1.0, join_style="mitre").area  # turn of cloth
    for name, drawing in views(done).items():
        if name in ("outside", "inside"):
            total = sum(room.area for (title, _), room in seen(drawing).items() if title != "tab")
            assert total == pytest.approx(whole, rel=1e-4)


@pytest.mark.parametrize(
    ("name", "asked", "unit"),
    [
        ("fold-wallet", {"pockets": 4, "height": 300, "width": 200}, Unit.INCH),
        ("fold-wallet", {"pockets": 1, "tab": "none", "width": 116, "height": 170}, Unit.MM),
        ("fold-wallet", {"width": 330, "height": 360, "pouch": "long"}, Unit.MM),
        ("coaster", {"width": 50, "corner_radius": "2mm", "padding": "none"}, Unit.INCH),
        ("coaster", {"outline": "oval", "width": 330, "height": 200}, Unit.MM),
        ("zip-pouch", {}, Unit.INCH),
        ("zip-pouch", {"width": 330, "height": 330}, Unit.MM),
        ("plant-tag", {}, Unit.INCH),
        ("plant-tag", {"hang": "slot", "width": 330, "height": 330}, Unit.MM),
    ],
)
def test_no_text_overlaps_another_or_is_clipped(
    name: str, asked: dict[str, str | float], unit: Unit
) -> None:
    for drawing in finished(worked(name, asked, unit)):
        assert overlapping(drawing) == []
        assert clipped(drawing) == []
        for shape in drawing.shapes:
            left, top, right, bottom = shape.path.bounds
            assert drawing.box.left <= left <= right <= drawing.box.right
            assert drawing.box.top <= top <= bottom <= drawing.box.bottom


def test_the_size_is_told_in_both_units_and_the_same_thing_gives_the_same_bytes() -> None:
    drawing = wallet_views()["outside"]
    assert "124 × 172 mm (4 7/8 × 6 3/4 in)" in words(drawing, "heading")
    again = views(empty(worked("fold-wallet", FLAT)))
    for name, one in wallet_views().items():
        assert to_svg(one) == to_svg(again[name])
        assert one.title
        assert one.description


def test_top_stitching_shows_on_both_sides_but_not_on_what_lies_over_it() -> None:
    # Finished 108 × 108, stitched 2 mm inside the edge.
    for drawing in views(worked("coaster")).values():
        (line,) = of_style(drawing, Style.STITCHED_BEFORE)
        assert line.path.bounds == pytest.approx((-52, -52, 52, 52), abs=0.02)
    done = worked("fold-wallet")
    inside = views(done)["inside"]
    held = shapely.union_all([room for (_, look), room in seen(inside).items() if look is HELD])
    assert held.area > 0.0
    (marks,) = (step.mark for step in done.project.steps if step.act is Act.TOP_STITCH)
    drawn = [shape.path.line for shape in of_style(inside, Style.STITCHED_BEFORE)]
    all_round = [mark.line for mark in marks]
    near = shapely.union_all(all_round).buffer(0.05)
    top_stitched = [line for line in drawn if near.covers(line)]
    assert top_stitched
    assert all((line & held.buffer(-0.1)).length == 0.0 for line in top_stitched)


@pytest.mark.parametrize("view", ["front", "back"])
def test_a_label_of_a_piece_points_at_what_is_seen_of_it(view: str) -> None:
    # The paper label covers all of the front but a frame round it, and a strip above.
    asked: dict[str, str | float] = {
        "hang": "hole", "width": 330, "height": 330, "label_width": 300, "label_height": 280,
    }  # fmt: skip
    done = worked("plant-tag", asked)
    (sheet,) = (one for one in finished_sheets(done) if one.name == f"finished-{view}")
    shown = {title: room for (title, _), room in seen(composed(sheet)).items()}
    pointed = [label for label in sheet.labels if label.lines[0].text == view]
    assert len(pointed) == 1
    for label in pointed:
        assert shown[view].contains(shapely.Point(label.at))


@lru_cache
def sleeve_views() -> dict[str, Drawing]:
    return views(worked("flap-sleeve"))


def test_the_front_of_what_a_flap_closes_is_where_the_flap_lies() -> None:
    front, back = (seen(sleeve_views()[name]) for name in ("front", "back"))
    assert {title for title, _ in back} == {"back and flap"}
    # The flap, drawn out over the notebook: 58 high, and 14 of that spent on the way round it.
    flap = front["back and flap", RIGHT].bounds
    assert flap[3] - flap[1] == pytest.approx(58 - 14, abs=0.1)
    assert front["front", RIGHT].area > 130 * 100


def test_a_half_that_goes_through_the_front_alone_is_drawn_on_the_front_alone() -> None:
    rings = {
        name: [shape.path.box for shape in of_style(drawing, Style.HARDWARE)]
        for name, drawing in sleeve_views().items()
    }
    middles = {name: [(box.top + box.bottom) / 2 for box in boxes] for name, boxes in rings.items()}
    # On the flap 12 below its tip, at -111.5 + 12, from both sides; on the front at -21.5.
    assert sorted(middles["inside"]) == pytest.approx([-99.5, -21.5], abs=0.1)
    assert middles["outside"] == pytest.approx([-99.5], abs=0.1)
    assert len(middles["front"]) == 1
    assert middles["back"] == []


def test_the_front_of_a_closed_book_is_its_right_half_seen_from_outside() -> None:
    # Common practice, no source: a book is read from left to right, so seen from its front it
    # opens at the right. The loop is caught at the open edge of the back and stands out there.
    closed = views(worked("notebook-cover"))
    loops = {name: seen(closed[name])["pen loop", RIGHT].bounds for name in ("front", "back")}
    assert loops["front"][0] >= 230 / 4 - 1.0
    assert loops["back"][2] <= 1.0 - 230 / 4
