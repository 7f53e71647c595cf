"""The pictures of what hands do, against arithmetic on the recipes' declared sizes."""

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import pytest
import shapely
from booklets import made_as, said_of
from drawings_read import clipped, of_style, overlapping, words
from finished_things import altered, recipe, seen, sewn, worked
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.scene import Scene, State, hooped
from paramgen.drawings.pictures.section import turned_runs, turned_section
from paramgen.drawings.pictures.step import step_picture, step_sheet
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, Text, flat
from paramgen.finished.finished_thing import finish
from paramgen.finished.turning_passage import through_gap
from paramgen.layout.lay_out import lay_out, shifted
from paramgen.pack.pack_files import contents
from paramgen.sizing import size
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.unit import Unit

Asked = Mapping[str, str | float]
RIGHT = Style.RIGHT_SIDE
MOVE = (3.0, -5.0)
#: Seam line 126 × 174 mm, finished 124 × 172; pockets 54 and 54 + (87 − 54) / 2 = 70.5 deep; the
#: tab folded to 42, of which 5 mm lie past the seam line.
WALLET: Asked = {"front_depth": "54mm", "most_stagger": "30mm", "tab_cut": "84mm"}

#: Recipes with every kind of preparation and of turning.
KINDS: tuple[tuple[str, Asked], ...] = (
    ("fold-wallet", {}),
    ("fold-wallet", {"layers": "single", "tab": "fabric", "corners": "rounded"}),
    ("fold-wallet", {"pockets": 4, "width": 330, "height": 360, "pouch": "long"}),
    ("fold-wallet", {"pockets": 1, "tab": "none"}),
    ("zip-pouch", {}),
    ("zip-pouch", {"loop": "none", "corners": "rounded", "width": 330, "height": 330}),
    ("coaster", {}),
    ("coaster", {"outline": "round", "padding": "none", "width": 60}),
)
_HANDS = (Act.FUSE, Act.EDGE_STITCH, Act.FOLD, Act.TURN, Act.PULL_OVER, Act.HAND_SEW)


@lru_cache
def made(kind: int, turned: bool) -> Scene:
    name, asked = KINDS[kind]
    return scene(name, asked, turned=turned, unit=Unit.INCH if turned else Unit.MM)


def scene(name: str, asked: Asked, *, turned: bool = False, unit: Unit = Unit.MM) -> Scene:
    """A project in a hoop that just takes it, moved a little to be told from what is not."""
    sized = size(recipe(name), asked, unit=unit)
    project = shifted(lay_out(sized, turned=turned), *MOVE)
    return hooped(project, "hoop", 420.0, 420.0, worked(name, asked, unit), MOVE)


@lru_cache
def wallet(turned: bool = False) -> Scene:
    return scene("fold-wallet", WALLET, turned=turned)


@lru_cache
def pouch() -> Scene:
    return scene("zip-pouch", {})


def drawn(one: Scene, act: Act, place: int = 0) -> Drawing:
    steps = [step for step in one.project.steps if step.act is act]
    return step_picture(one, steps[place].number)


def inset(drawing: Drawing) -> Group:
    (group,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "inset")
    return group


def layers(drawing: Drawing) -> list[tuple[str, list[Shape]]]:
    """Layers of the inset from the top, each with its shapes; the hand by its own name."""
    groups = [g for g in inset(drawing).items if isinstance(g, Group)]
    shown = [(g.title or g.name, [s for s in g.items if isinstance(s, Shape)]) for g in groups]
    return sorted(shown, key=lambda one: one[1][0].path.bounds[1])


def extent(shape: Shape) -> tuple[float, float]:
    left, top, right, bottom = shape.path.bounds
    return right - left, bottom - top


# --- Every picture ----------------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("kind", range(len(KINDS)))
def test_no_text_overlaps_another_and_all_that_is_drawn_lies_within_the_picture(
    kind: int, turned: bool
) -> None:
    one = made(kind, turned)
    for step in one.project.steps:
        if step.act not in _HANDS:
            continue
        drawing = step_picture(one, step.number)
        assert overlapping(drawing) == []
        assert clipped(drawing) == []
        for shape in drawing.shapes:
            left, top, right, bottom = shape.path.bounds
            assert drawing.box.left <= left <= right <= drawing.box.right
            assert drawing.box.top <= top <= bottom <= drawing.box.bottom
        assert to_svg(drawing) == to_svg(step_picture(one, step.number))


# --- On the table -----------------------------------------------------------------------


def test_before_the_hooping_no_hoop_is_drawn_or_spoken_of() -> None:
    for one in (wallet(), pouch()):
        for step in one.project.steps:
            if one.state(step) is State.BEFORE_HOOPING:
                drawing = step_picture(one, step.number)
                assert not of_style(drawing, Style.HOOP_FIELD)
                assert "Hoop" not in words(drawing, "heading")
                assert "On the table, before anything is hooped." in words(drawing, "heading")
                assert "On the table" in drawing.description
    # Once the first line is stitched there is a hoop.
    states = [wallet().state(step) for step in wallet().project.steps]
    first = next(step.number for step in wallet().project.steps if step.lines)
    assert set(states[: first - 1]) == {State.BEFORE_HOOPING}
    assert State.BEFORE_HOOPING not in states[first - 1 :]


@pytest.mark.parametrize("turned", [False, True])
def test_interfacing_lies_on_the_wrong_side_within_the_seam_box_on_the_half_that_shows(
    turned: bool,
) -> None:
    drawing = drawn(scene("zip-pouch", {}, turned=turned), Act.FUSE)
    # Finished 160 × 120, so the seam box is 162 × 122; the zip lies 25 below its top at −61, the
    # folds 3.25 from it: 25 − 3.25 and 122 − 25 − 3.25.
    fused = of_style(drawing, Style.NO_RIGHT_SIDE)
    assert [extent(one) for one in fused] == [
        pytest.approx((162.0, 21.75), abs=0.01),
        pytest.approx((162.0, 93.75), abs=0.01),
        pytest.approx((162.0, 122.0), abs=0.01),
    ]
    # Cut 162 and twice 10 wide, 64, 208 and 142 high.
    pieces = of_style(drawing, Style.WRONG_SIDE)
    assert [extent(one)[0] for one in pieces] == pytest.approx([182] * 3)
    assert [extent(one)[1] for one in pieces] == pytest.approx([64, 208, 142])
    # On the upper front it ends at the fold from above, on the lower front from below.
    folds = [shape.path.bounds[1] for shape in of_style(drawing, Style.CREASE)]
    assert fused[0].path.bounds[3] == pytest.approx(folds[0], abs=0.01)
    assert fused[1].path.bounds[1] == pytest.approx(folds[1], abs=0.01)
    assert "interfacing 162 × 122 mm" in words(drawing, "labels")
    assert "wrong side towards you" in words(drawing, "labels")


# In the hoop, seen from the front, both are to have a patch from 10 to 40 right of the middle. The
# outer lies there wrong side up, and is fused as it lies: 10 to 40 right of it. The panel lies
# right side up and is turned over for it like a page: 10 to 40 left of it. However the project lies
# in its hoop, pieces are cut and fused its own way round.
@pytest.mark.parametrize("turned", [False, True])
def test_what_lies_wrong_side_up_in_the_hoop_is_fused_as_it_lies_there(turned: bool) -> None:
    spot = '[["10", "20"], ["40", "20"], ["40", "40"], ["10", "40"]]'
    one = altered(
        "card-case",
        '[[steps]]\ntitle = "Fuse the interfacing"\ndo = "fuse the interfacing"\n'
        'pieces = ["outer"]\n',
        f'[outlines.spot]\nshape = "polygon"\npoints = {spot}\n\n'
        '[[steps]]\ntitle = "Fuse the interfacing"\ndo = "fuse the interfacing"\n'
        'pieces = ["outer", "panel"]\nmark = ["spot"]\n',
    )
    thing = worked(one)
    project = lay_out(size(one, {}, unit=Unit.MM), turned=turned)
    drawing = drawn(hooped(project, "hoop", 420.0, 420.0, thing), Act.FUSE)
    (picture,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
    across = {}
    for piece in picture.items:
        assert isinstance(piece, Group)
        by_style = {one.style: one.path.box for one in piece.items if isinstance(one, Shape)}
        fused, middle = by_style[Style.NO_RIGHT_SIDE], by_style[Style.WRONG_SIDE].centre[0]
        across[piece.title] = fused.left - middle, fused.right - middle
    assert across["outer"] == pytest.approx((10, 40))
    assert across["slot panel"] == pytest.approx((-40, -10))


@pytest.mark.parametrize("turned", [False, True])
def test_interfacing_of_a_piece_with_a_hem_ends_at_the_line_it_is_turned_in_along(
    turned: bool,
) -> None:
    drawing = drawn(scene("boxed-pouch", {}, turned=turned), Act.FUSE)
    upper, lower, upper_lining, lower_lining = of_style(drawing, Style.CREASE)
    fused = [one.path.bounds for one in of_style(drawing, Style.NO_RIGHT_SIDE)]
    for place, crease in ((0, upper), (2, upper_lining)):  # its bottom is turned in
        assert fused[place][3] == pytest.approx(crease.path.bounds[1], abs=0.01)
    for place, crease in ((1, lower), (3, lower_lining)):  # its top
        assert fused[place][1] == pytest.approx(crease.path.bounds[1], abs=0.01)


def test_a_binding_lies_on_the_table_as_it_is_cut_and_folded_in_four() -> None:
    drawing = drawn(scene("boxed-pouch", {"box": "cut-out"}), Act.FOLD)
    (flat,), (folded,) = of_style(drawing, Style.WRONG_SIDE), of_style(drawing, Style.RIGHT_SIDE)
    # 30 wide and 60 + 20 long; in four it is 7.5 wide.
    assert extent(flat) == pytest.approx((30, 80))
    assert extent(folded) == pytest.approx((7.5, 80))
    left = flat.path.bounds[0]
    lines = sorted(line.path.bounds[0] - left for line in of_style(drawing, Style.CREASE))
    assert lines == pytest.approx([7.5, 15, 22.5])
    edges = sorted(line.path.bounds[0] for line in of_style(drawing, Style.FOLDED_EDGE))
    assert edges == pytest.approx([folded.path.bounds[0], folded.path.bounds[2]])


@pytest.mark.parametrize(("act", "named"), [(Act.FUSE, ("top",)), (Act.FOLD, ()), (Act.PRESS, ())])
def test_a_table_is_bare_where_nothing_lies_on_it(act: Act, named: tuple[str, ...]) -> None:
    # A coaster is folded nowhere; and what a step names may not be there with the choices made.
    one = scene("coaster", {})
    first = replace(one.project.steps[0], act=act, lines=(), stop=None, pieces=named)
    gone = tuple(piece for piece in one.project.pieces if piece.name not in named)
    steps = (first, *(replace(s, number=s.number + 1) for s in one.project.steps))
    project = replace(one.project, pieces=gone, steps=steps)
    drawing = step_picture(hooped(project, "hoop", 420.0, 420.0), 1)
    (picture,) = (g for g in drawing.items if isinstance(g, Group) and g.name.endswith("picture"))
    assert picture.items == ()
    assert "On the table, before anything is hooped." in words(drawing, "heading")
    assert words(drawing, "labels") == ""
    assert clipped(drawing) == []


# The snap lies 12 inside the tip of a flap of 60, and its patch is twice that, 24. Over a notebook
# 10 thick, and 4 for the way round, the flap reaches 60 - 12 - 10 - 4 = 34 down the front, and
# empty 60 - 12 - 1 = 47: that patch is 13 longer. The mouth lies 6 below the fold of the flap, so
# its upper edge 34 - 6 - 12 = 16 below it. The seam line lies 1 outside the tip, but for chords.
@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("unit", [Unit.MM, Unit.INCH])
def test_patches_behind_a_snap_are_drawn_on_the_interfacing(turned: bool, unit: Unit) -> None:
    asked: Asked = {
        "width": "130mm", "body": "165mm", "flap": "60mm", "snap_from_edge": "12mm",
        "snap_across": "10mm", "edge_stitch": "3mm",
    }  # fmt: skip
    drawing = drawn(scene("flap-sleeve", asked, turned=turned, unit=unit), Act.FUSE)
    back, flap_patch, front, front_patch = of_style(drawing, Style.NO_RIGHT_SIDE)
    (crease,) = of_style(drawing, Style.CREASE)
    assert extent(flap_patch) == pytest.approx((24, 24))
    assert flap_patch.path.box.centre[1] - back.path.box.top == pytest.approx(12 + 1, abs=0.01)
    assert extent(front_patch) == pytest.approx((24, 37))
    assert front_patch.path.box.top - crease.path.box.top == pytest.approx(16)
    for interfacing, patch in ((back, flap_patch), (front, front_patch)):
        assert patch.path.box.centre[0] == pytest.approx(interfacing.path.box.centre[0])
    told = words(drawing, "labels")
    for said in ("from the edge of the interfacing to its middle", "from the fold line"):
        assert said in told
    assert told.count("patch of interfacing") == 2
    assert overlapping(drawing) == []
    assert clipped(drawing) == []
    without = drawn(scene("flap-sleeve", {"closing": "none"}), Act.FUSE)
    assert len(of_style(without, Style.NO_RIGHT_SIDE)) == 2


# Under a flap of 43 that goes round 2 + 4, the snap 12 inside its tip lands 43 - 12 - 6 = 25 down,
# 19 below the mouth; a snap 16 inside it 21 down, 15 below, and half of its patch is no more.
def test_a_patch_that_reaches_the_fold_is_said_to() -> None:
    asked: Asked = {
        "width": "90mm", "body": "90mm", "flap": "43mm", "thing_width": "50mm",
        "thing_height": "60mm", "thing_thickness": "2mm", "snap_from_edge": "16mm",
    }  # fmt: skip
    drawing = drawn(scene("flap-sleeve", asked), Act.FUSE)
    (crease,), (*_, patch) = of_style(drawing, Style.CREASE), of_style(drawing, Style.NO_RIGHT_SIDE)
    assert extent(patch)[0] == pytest.approx(2 * 15)
    assert patch.path.box.top == pytest.approx(crease.path.box.top)
    assert "up to the fold line" in words(drawing, "labels")
    assert clipped(drawing) == []


def test_a_patch_is_as_large_as_the_recipe_says_with_the_snap_in_its_middle() -> None:
    drawing = drawn(wallet(), Act.FUSE)
    (patch,), (ring,) = (
        of_style(drawing, style) for style in (Style.NO_RIGHT_SIDE, Style.HARDWARE)
    )
    # Twice as wide as the snap, 12 across.
    assert extent(patch) == pytest.approx((24, 24))
    assert patch.path.box.centre == pytest.approx(ring.path.box.centre)


def test_a_patch_is_shown_where_the_snap_will_pierce_the_piece() -> None:
    one = wallet()
    drawing = drawn(one, Act.FUSE)
    (crease,) = of_style(drawing, Style.CREASE)
    (ring,) = of_style(drawing, Style.HARDWARE)
    (snap,) = (notion for notion in one.project.notions if notion.halves)
    # The fold of the upper outer lies at −87 + 36 − 3.25 in the hoop.
    above = -54.25 - (snap.halves[1][1] - MOVE[1])
    left, top, right, bottom = ring.path.bounds
    assert crease.path.bounds[1] - (top + bottom) / 2 == pytest.approx(above, abs=0.01)
    # In the middle of its width.
    low, _, high, _ = crease.path.bounds
    assert (left + right) / 2 == pytest.approx((low + high) / 2, abs=0.01)
    assert "in the middle of the width" in words(drawing, "labels")


def test_a_tab_is_stitched_along_both_sides_so_far_inside_them() -> None:
    drawing = drawn(scene("fold-wallet", {**WALLET, "tab": "fabric"}), Act.EDGE_STITCH)
    # 19 mm wide and 42 high, stitched 2 mm inside: two lines 15 mm apart.
    first, second = sorted(s.path.bounds for s in of_style(drawing, Style.BY_HAND))
    assert second[0] - first[0] == pytest.approx(19 - 2 * 2)
    assert first[3] - first[1] == pytest.approx(42)
    (tab,) = of_style(drawing, RIGHT)
    assert first[0] - tab.path.bounds[0] == pytest.approx(2)
    assert "edge-stitch here 2 mm (1/16 in) inside the edge" in words(drawing, "labels")


def test_the_mouth_of_a_sleeve_is_stitched_so_far_below_its_fold() -> None:
    drawing = drawn(scene("flap-sleeve", {"mouth_stitch": "4mm"}), Act.EDGE_STITCH)
    (fold,), (line,) = of_style(drawing, Style.FOLDED_EDGE), of_style(drawing, Style.BY_HAND)
    assert line.path.bounds[1] - fold.path.bounds[1] == pytest.approx(4)
    # 130 mm wide, 1 mm of turn of cloth and 10 mm of allowance on each side.
    assert line.path.bounds[2] - line.path.bounds[0] == pytest.approx(130 + 2 * 11)
    assert "edge-stitch here 4 mm (3/16 in) inside the edge" in words(drawing, "labels")


def test_a_hem_is_stitched_close_to_its_inner_edge() -> None:
    asked: Asked = {**WALLET, "layers": "single", "pocket_hem": "12mm"}
    drawing = drawn(scene("fold-wallet", asked), Act.EDGE_STITCH)
    folds, lines = of_style(drawing, Style.FOLDED_EDGE), of_style(drawing, Style.BY_HAND)
    assert len(folds) == len(lines) == 4  # of two pockets, each laid with its mouth either way
    for fold, line in zip(folds, lines, strict=True):
        # 12 mm from the fold, 1.5 mm less.
        away = fold.path.bounds[1] - line.path.bounds[1]
        assert abs(away) == pytest.approx(12 - 1.5, abs=0.01)


# The lip, 10 mm wide or to the next 1/8 in 12.7 mm, shows 4 mm past the fold of the upper front and
# is held 2 mm above that. The line is as long as the cover is wide, with 1 mm of turn of cloth and
# 10 mm of allowance at each side: 162 mm; or 352 mm, which goes into 111 eighths of an inch.
@pytest.mark.parametrize(
    ("asked", "lip_deep", "long", "turned", "unit"),
    [
        ({}, 10, 162, False, Unit.MM),
        ({"inside": "enclosed", "lap": 12}, 10, 162, True, Unit.MM),
        ({"width": 330, "height": 330}, 12.7, 111 * 25.4 / 8, False, Unit.INCH),
    ],
)
def test_what_is_sewn_together_before_the_hooping_lies_on_each_other_as_it_is_laid(
    asked: Asked, lip_deep: float, long: float, turned: bool, unit: Unit
) -> None:
    one = scene("tissue-cover", {"lip": "strip", **asked}, turned=turned, unit=unit)
    drawing = drawn(one, Act.EDGE_STITCH)
    front, lip = (shape.path.bounds for shape in of_style(drawing, RIGHT))
    (fold,), (line,) = of_style(drawing, Style.HIDDEN), of_style(drawing, Style.BY_HAND)
    assert fold.path.bounds[1] == pytest.approx(front[3])  # the upper front ends at its fold
    assert (lip[1] - front[3], lip[3] - front[3]) == pytest.approx((4 - lip_deep, 4))
    assert line.path.bounds[1] - front[3] == pytest.approx(-2)
    assert extent(line) == pytest.approx((long, 0))
    told = words(drawing, "labels")
    assert "stitch them together here" in told
    assert ("1/16 in (2 mm)" if unit is Unit.INCH else "2 mm (1/16 in)") in told
    assert "from the fold of the upper front" in told
    assert overlapping(drawing) == []
    assert clipped(drawing) == []


def test_what_is_sewn_together_and_not_marked_lies_side_by_side() -> None:
    one = scene("tissue-cover", {"lip": "strip"})
    steps = tuple(replace(s, mark=()) if s.act is Act.EDGE_STITCH else s for s in one.project.steps)
    unmarked = replace(one.project, steps=steps)
    drawing = drawn(hooped(unmarked, "hoop", 420.0, 420.0), Act.EDGE_STITCH)
    front, lip = (shape.path.bounds for shape in of_style(drawing, RIGHT))
    assert lip[1] > front[3]
    assert of_style(drawing, Style.BY_HAND) == []


# The upper fold lies in the middle, the line 2 mm above it, and the scene is moved by MOVE. Where
# the folds meet nothing is laid over it.
def test_what_was_sewn_together_lies_in_the_hoop_with_its_line() -> None:
    one, at = scene("tissue-cover", {"lip": "strip"}), -2 + MOVE[1]
    hoop_steps = [step for step in one.project.steps if one.state(step) is State.IN_THE_HOOP]
    laid = next(step.number for step in hoop_steps if "lip" in {on.piece for on in step.layers})
    shown = {
        step.number
        for step in hoop_steps
        for line in of_style(step_picture(one, step.number), Style.STITCHED_BEFORE)
        if line.path.bounds[1::2] == pytest.approx((at, at))
    }
    assert shown == {step.number for step in hoop_steps if step.number >= laid}


# The sides of the tab are stitched 2 mm inside, 19 − 2 · 2 = 15 apart, whichever way it lies in the
# hoop; from the step that lays it up to the one that lays a pocket over it.
@pytest.mark.parametrize("turned", [False, True])
def test_what_was_edge_stitched_lies_in_the_hoop_with_its_lines(turned: bool) -> None:
    one = scene("fold-wallet", {**WALLET, "tab": "fabric"}, turned=turned)
    (laid,) = (s for s in one.project.steps if "tab" in {on.piece for on in s.layers})
    (layer,) = (on for on in laid.layers if on.piece == "tab")
    room = layer.outline.area
    lines = [
        line.path.bounds
        for line in of_style(step_picture(one, laid.number), Style.STITCHED_BEFORE)
        if room.covers(line.path.line) and line.path.line.length < 50
    ]
    assert len(lines) == 2
    first, second = sorted(lines)
    across, along = (1, 0) if turned else (0, 1)
    assert second[across] - first[across] == pytest.approx(15)
    assert first[along + 2] - first[along] == pytest.approx(42)


def test_what_is_folded_lies_folded_and_ribbon_waits_until_it_is_laid() -> None:
    # A fold that names no pieces is of all there are before the hooping.
    named = 'do = "fold"\npieces = ["upper-outer"]\n'
    project = lay_out(size(altered("fold-wallet", named, 'do = "fold"\n'), WALLET, unit=Unit.MM))
    drawing = drawn(hooped(project, "hoop", 420.0, 420.0), Act.FOLD)
    pieces = [piece for piece in project.pieces if piece.fabric in ("outer", "pocket")]
    shown = {
        title: sorted(extent_of(part) for part in shapely.get_parts(room))
        for (title, _), room in seen(drawing).items()
    }
    # One of the two of each pocket is laid with its mouth one way, one the other way.
    assert {piece.title: piece.quantity for piece in pieces} == {
        title: len(sizes) for title, sizes in shown.items()
    }
    for piece in pieces:
        assert shown[piece.title] == [pytest.approx(piece.folded)] * piece.quantity
    assert len(of_style(drawing, Style.FOLDED_EDGE)) == sum(piece.quantity for piece in pieces)


def test_a_fold_that_names_its_pieces_shows_these_alone() -> None:
    one = wallet()
    shown = [{title for title, _ in seen(drawn(one, Act.FOLD, place))} for place in range(4)]
    assert shown == [{"upper outer"}, {"lower outer"}, {"pocket 1"}, {"pocket 2"}]


def extent_of(room: BaseGeometry) -> tuple[float, float]:
    left, top, right, bottom = room.bounds
    return right - left, bottom - top


# --- Where the hand goes in -------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
def test_the_hand_goes_in_between_the_last_pocket_and_the_lining(turned: bool) -> None:
    drawing = drawn(wallet(turned), Act.TURN)
    order = [title for title, _ in layers(drawing)]
    # From the front of the hoop, where the gap is held by its closing line but for the lining.
    assert order == ["lining", "reach in here", "pocket 2", "pocket 1", "tab", "lower outer"]
    assert "reach in here between lining and pocket 2" in words(drawing, "inset")
    # One leaf of lining, two of all the rest.
    leaves = [
        sum(s.style is Style.SHEET and len(s.path.points) == 4 for s in shapes)
        for _, shapes in layers(drawing)
    ]
    assert leaves == [1, 0, 2, 2, 2, 2]


def round_ends(drawing: Drawing) -> dict[str, str]:
    """Where each layer of the inset is folded."""
    found = {}
    for title, shapes in layers(drawing):
        sheets = [s.path.bounds for s in shapes if s.style is Style.SHEET]
        rings = [s for s in shapes if s.style is Style.SHEET and len(s.path.points) > 4]
        for ring in rings:
            at_left = ring.path.bounds[0] == min(b[0] for b in sheets)
            found[title] = "left" if at_left else "right"
    return found


def test_a_fold_joins_its_leaves_where_the_hand_comes_from_or_at_the_other_end() -> None:
    # At a mouth: the pockets' own. The lower outer piece is folded at the zip, above the mouth of
    # the lower pockets. The tab points away from the edge that holds it, towards the mouth.
    assert round_ends(drawn(wallet(), Act.PULL_OVER)) == {
        "pocket 2": "left", "pocket 1": "left", "tab": "left", "lower outer": "left",
    }  # fmt: skip
    # At the gap in the side all mouths lie aside, and all raw edges at the hand.
    at_gap = round_ends(drawn(wallet(), Act.TURN))
    assert at_gap == dict.fromkeys(("pocket 2", "pocket 1", "tab", "lower outer"), "right")
    # Both sides of a zip are folded at its slit.
    ends = round_ends(drawn(pouch(), Act.TURN, 1))
    assert ends == {
        "lower front lining": "left", "lower front": "left", "loop": "right",
        "upper front lining": "right", "upper front": "right",
    }  # fmt: skip


def test_a_hem_is_joined_to_its_piece_at_the_mouth() -> None:
    one = scene("fold-wallet", {**WALLET, "layers": "single", "pocket_hem": "12mm"})
    drawing = drawn(one, Act.PULL_OVER)
    assert round_ends(drawing)["pocket 1"] == "left"
    assert "pocket 1 with its hem" in words(drawing, "inset")


def test_the_way_through_a_zip_goes_down_between_its_two_sides() -> None:
    drawing = drawn(pouch(), Act.TURN, 1)
    shown = dict(layers(drawing))
    shaft, head = shown["reach in through the zip"]
    (x, above), (_, low), _ = shaft.path.points.tolist()
    for left, right in (
        ("upper front lining", "lower front lining"), ("upper front", "lower front"),
    ):  # fmt: skip
        assert max(s.path.bounds[2] for s in shown[left]) < x
        assert x < min(s.path.bounds[0] for s in shown[right])
        assert above < min(s.path.bounds[1] for s in shown[right])
        assert max(s.path.bounds[3] for s in shown[right]) < low
    assert low < min(s.path.bounds[1] for s in shown["back"])
    # What lies under the slit goes on beyond it.
    assert min(s.path.bounds[0] for s in shown["back"]) < x
    assert head.path.points[0][1] == pytest.approx(low)


def test_a_tab_lies_in_there_over_a_part_of_the_length_alone() -> None:
    for act in (Act.TURN, Act.PULL_OVER):
        drawing = drawn(wallet(), act)
        order = [title for title, _ in layers(drawing)]
        between = order[order.index("pocket 1") : order.index("lower outer") + 1]
        assert [title for title in between if title != "reach in here"] == [
            "pocket 1", "tab", "lower outer",
        ]  # fmt: skip
        shown = {title: [s.path.bounds for s in shapes] for title, shapes in layers(drawing)}
        starts = {title: min(b[0] for b in boxes) for title, boxes in shown.items()}
        assert starts["tab"] > starts["lower outer"]
        assert "lies in part of this" in words(drawing, "inset")


def test_the_arrow_lies_apart_from_the_layers_on_either_side() -> None:
    for drawing in (
        drawn(wallet(), Act.TURN),
        drawn(pouch(), Act.TURN),
    ):
        shown = layers(drawing)
        place = next(i for i, (_, shapes) in enumerate(shown) if shapes[0].style is Style.WAY)
        arrow = [s.path.bounds for s in shown[place][1]]
        above = max(s.path.bounds[3] for s in shown[place - 1][1])
        below = min(s.path.bounds[1] for s in shown[place + 1][1])
        assert above < min(b[1] for b in arrow) < max(b[3] for b in arrow) < below
        # It comes from outside the edges and ends between the layers.
        edge = shown[place + 1][1][0].path.bounds[0]
        assert min(b[0] for b in arrow) < edge < max(b[2] for b in arrow)


def test_what_is_lined_is_entered_between_its_linings_and_then_through_its_zip() -> None:
    first, second = drawn(pouch(), Act.TURN, 0), drawn(pouch(), Act.TURN, 1)
    assert [title for title, _ in layers(first)] == [
        "back", "loop", "lower front", "lower front lining", "reach in here", "back lining",
    ]  # fmt: skip
    assert "between lower front lining and back lining" in words(first, "inset")
    # The lining outside, looked at from the side of the zip.
    beyond = ("upper front lining", "upper front")
    order = [title for title, _ in layers(second) if title not in beyond]
    # The zip's two tapes lie side by side; the way in comes from above all of them.
    assert order == [
        "reach in through the zip", "lower front lining", "coil zip", "coil zip", "lower front",
        "loop", "back", "back lining",
    ]  # fmt: skip
    assert "at the left upper front lining and upper front" in words(second, "inset")
    assert "between lower front and back" in words(second, "inset")


# All slots have their mouths towards the gap at the top, and the panel with them ends short of it:
# at the gap lie the outer and the note lining alone, and the hand goes on over the slots.
@pytest.mark.parametrize("layers_of_slot", ["single", "double"])
@pytest.mark.parametrize("slots", [1, 4])
@pytest.mark.parametrize("unit", [Unit.MM, Unit.INCH])
def test_what_lies_farther_in_on_the_way_of_the_hand_is_drawn_and_named(
    slots: int, layers_of_slot: str, unit: Unit
) -> None:
    asked: Asked = {"slots": slots, "layers": layers_of_slot, "closing": "none"}
    drawing = drawn(scene("card-case", asked, unit=unit), Act.TURN)
    titles = [f"slot {number}" for number in range(1, slots + 1)]
    shown = layers(drawing)
    assert [title for title, _ in shown] == [
        "outer", "reach in here", *titles, "slot panel", "panel lining", "note lining",
    ]  # fmt: skip
    told = words(drawing, "inset")
    assert "between outer and note lining and on between outer and slot 1" in told
    assert told.count("begins farther in") == slots + 2
    starts = {title: min(s.path.bounds[0] for s in shapes) for title, shapes in shown}
    farther = [starts[title] for title in (*titles, "slot panel", "panel lining")]
    assert min(farther) > max(starts["outer"], starts["note lining"])
    assert max(s.path.bounds[2] for s in dict(shown)["reach in here"]) > max(farther)
    assert set(round_ends(drawing).values()) == {"left"}
    assert overlapping(drawing) == []
    assert clipped(drawing) == []


def test_right_sides_lie_together_where_the_hand_goes_in() -> None:
    drawing = drawn(scene("coaster", {}), Act.TURN)
    (_, back), _, (_, top) = layers(drawing)
    sheet, face = (next(s for s in back if s.style is style) for style in FACES)
    assert face.path.bounds[3] == pytest.approx(sheet.path.bounds[3])
    sheet, face = (next(s for s in top if s.style is style) for style in FACES)
    assert face.path.bounds[1] == pytest.approx(sheet.path.bounds[1])


FACES = (Style.SHEET, Style.RIGHT_FACE)


def test_nothing_is_to_be_entered_where_no_gap_is_left() -> None:
    assert through_gap(sewn("plant-tag")) is None


# --- Pulled over ------------------------------------------------------------------------


@pytest.mark.parametrize("turned", [False, True])
def test_each_flap_is_outlined_where_it_lies_and_an_arrow_goes_over_its_edge(turned: bool) -> None:
    drawing = drawn(wallet(turned), Act.PULL_OVER)
    x, y = MOVE
    flaps = [one.path.bounds for one in of_style(drawing, Style.FLAP)]
    # Mouths 54 and 70.5 from the seam line at 87, the edge at 86 and 62: turned by 90° clockwise
    # the top is right.
    ends = sorted((b[0] - x, b[2] - x) if turned else (b[1] - y, b[3] - y) for b in flaps)
    expected = [(-86, -33), (-86, -16.5), (16.5, 86), (33, 86)]
    assert ends == [pytest.approx(end, abs=0.01) for end in sorted(expected)]
    tips = [s.path.points[0] for s in of_style(drawing, Style.WAY) if s.path.closed]
    along = sorted(tip[0] - x if turned else tip[1] - y for tip in tips)
    assert len(along) == 2
    assert along[0] < -86 < 86 < along[1]
    said = words(drawing, "labels")
    assert said.count("pull over this edge pocket 1 and pocket 2, to the other side") == 2
    assert said.count("reach in between lower outer and pocket 1") == 2
    assert said.count("its mouth") == 4
    # From below the lower pockets the tab is reached as well, which stays there.
    assert [title for title, _ in layers(drawing)][:5] == [
        "pocket 2", "pocket 1", "reach in here", "tab", "lower outer",
    ]  # fmt: skip


def test_pieces_that_are_laid_with_their_folds_at_either_side_lie_so_on_the_table() -> None:
    one = wallet()
    fold = next(s for s in one.project.steps if s.act is Act.FOLD and "pocket[1]" in s.pieces)
    drawing = step_picture(one, fold.number)
    laid = [layer for s in one.project.steps for layer in s.layers if layer.piece == "pocket[1]"]
    # One is laid at either end, its mouth towards the middle.
    assert sorted(layer.folded_edges[0][0][1] > 0.0 for layer in laid) == [False, True]
    lies = of_style(drawing, Style.RIGHT_SIDE)
    folds = of_style(drawing, Style.FOLDED_EDGE)
    assert len(lies) == len(folds) == 2
    middles = [shape.path.bounds for shape in lies]
    ways = {
        at.path.bounds[1] > (top + bottom) / 2
        for (left, top, right, bottom), at in zip(middles, folds, strict=True)
    }
    assert ways == {False, True}
    told = words(drawing, "labels")
    for edge in ("top", "bottom"):
        assert f"one lies so folded edge at the {edge}" in told
    assert "pieces alike" not in told


def test_until_they_are_pulled_over_pockets_cover_zip_and_tab_and_then_neither() -> None:
    one = wallet()
    before = {title for title, _ in seen(drawn(one, Act.HAND_SEW))}
    # The zip, at −51, and the tab, up to 50, lie under pockets of 70.5 mm.
    assert before == {"pocket 2", "lower outer"}
    # What has come where is looked at from the side that it was pulled over to; then the outside.
    acts = (Act.FINGER_PRESS, Act.PRESS)
    first, last = (step for step in one.project.steps if step.act in acts)
    over, outside = (step_picture(one, step.number) for step in (first, last))
    assert {title for title, _ in seen(over)} == {"pocket 1", "pocket 2", "lining", "tab"}
    assert {title for title, _ in seen(outside)} == {
        "upper outer",
        "lower outer",
        "coil zip",
        "tab",
    }
    for act in (Act.HAND_SEW, Act.PULL_OVER):
        assert "pocket 1 and pocket 2 still in front, seen from the front" in words(
            drawn(one, act), "heading"
        )
    assert "pocket 1 and pocket 2 on this side, turned over like a page" in words(over, "heading")


def test_an_arrow_shows_which_way_the_slider_is_pulled() -> None:
    one = wallet()
    (zipped,) = (layer for step in one.project.steps for layer in step.layers if layer.slit)
    assert zipped.slit
    (left, y), (right, _) = zipped.slit
    picture = drawn(one, Act.OPEN_ZIP)
    shaft, head = of_style(picture, Style.WAY)
    # It lies at the right when it is shut, and is pulled to the middle.
    from_, to = shaft.path.points[0], head.path.area.centroid
    assert (left + right) / 2 < to.x < from_[0] < right
    assert abs(from_[1] - y) < 15.0


def test_what_is_turned_over_to_be_trimmed_is_seen_from_there() -> None:
    # The back lining was laid last, on the back of the hoop: its wrong side lies uppermost.
    one = pouch()
    for act in (Act.TRIM, Act.CLIP):
        picture = drawn(one, act)
        assert "turned over like a page" in words(picture, "heading")
        assert "lies as it did" not in words(picture, "heading")
        # All of it, but for what others are cut larger by, up to the next mark of a ruler.
        rooms = seen(picture)
        last = rooms["Lay the back lining", Style.WRONG_SIDE]
        assert last.area > 0.99 * shapely.union_all(list(rooms.values())).area


def test_what_stands_out_lies_trapped_until_the_flaps_over_it_are_pulled_over() -> None:
    done = sewn("fold-wallet", WALLET)
    tab = {ply.sheet.piece: ply.area.bounds for ply in finish(done, pulled_over=False).plies}[
        "ribbon"
    ]
    # Its fold lies 42 − 5 = 37 mm within the seam line at 87.
    assert (tab[1], tab[3]) == pytest.approx((50.0, 86.0), abs=0.01)


# --- Sewn by hand -----------------------------------------------------------------------


def test_the_edges_that_are_sewn_to_each_other_are_named_at_the_gap() -> None:
    # The gap lies in the middle of a side: the mouths of pocket 2 are 16.5 mm from the middle.
    told = words(drawn(wallet(), Act.HAND_SEW), "labels")
    assert "sew by hand: lining to lower outer and pocket 2" in told
    # Of 260 mm the mouth of the one pocket, 54 mm deep, is 130 − 54 = 76 mm from the middle, beyond
    # the gap.
    shallow = scene("fold-wallet", {**WALLET, "height": 260, "pockets": 1})
    told = words(drawn(shallow, Act.HAND_SEW), "labels")
    assert re.search(r"lining to lower outer\b(?! and)", told)
    told = words(drawn(pouch(), Act.HAND_SEW), "labels")
    assert "sew by hand: back lining to lower front lining" in told


def test_a_gap_sewn_by_hand_is_closed_from_then_on() -> None:
    for one in (wallet(), pouch()):
        steps = one.project.steps
        sewn_by_hand = next(step.number for step in steps if step.act is Act.HAND_SEW)
        for step in steps[sewn_by_hand:]:
            assert not of_style(step_picture(one, step.number), Style.GAP)


# --- The section through the finished thing ---------------------------------------------


def test_what_stands_out_of_a_section_leaves_it_between_the_sheets_it_is_sewn_between() -> None:
    thing = worked("notebook-cover", {})
    # Across the loop, in the middle of the height: 230 wide, which stands out 16.7 at the left.
    laid = turned_runs(thing, shapely.LineString([(-140.0, 0.0), (140.0, 0.0)]))
    levels: dict[str, list[int]] = {}
    for run in sorted(laid, key=lambda one: one.level):
        levels.setdefault(thing.done.sandwich.sheets[run.sheet].title, []).append(run.level)
    # It was laid on the outer, and the flaps over it are pulled over to the lining.
    (lining,), (outer,) = levels["lining"], levels["outer"]
    assert levels["pen loop"] == [lining, outer]
    assert max(levels["flap"]) < lining


def test_the_finished_wallet_has_its_pockets_behind_the_lining_and_its_tab_past_the_edge() -> None:
    thing = worked("fold-wallet", WALLET)
    line = shapely.LineString([(0.0, -86.0), (0.0, 140.0)])
    laid = turned_runs(thing, line)
    titles = [thing.done.sandwich.sheets[run.sheet].title for run in laid]
    # 10 mm above the lower edge at 172, off the tab's own end: from the inside outwards.
    here = sorted((run.level, title) for run, title in zip(laid, titles, strict=True)
                  if run.start < 160 < run.end)  # fmt: skip
    assert [title for _, title in here] == [
        *["pocket 1"] * 2, *["pocket 2"] * 2, "lining", *["lower outer"] * 2,
    ]  # fmt: skip
    # Mouths: 54 and 70.5 less the turn of cloth from both edges.
    mouths = {round(at, 1) for run, title in zip(laid, titles, strict=True)
              for at in (run.start, run.end) if title.startswith("pocket")}  # fmt: skip
    assert mouths == {0.0, 53.0, 69.5, 172 - 69.5, 172 - 53.0, 172.0}
    # 42 − 5 − 1 = 36 mm past the edge.
    assert {round(run.end, 1) for run, t in zip(laid, titles, strict=True) if t == "tab"} == {208.0}


def test_its_picture_has_every_fold_the_seams_and_hollows_that_one_can_reach_into() -> None:
    thing = worked("fold-wallet", WALLET)
    drawing = turned_section(thing)
    assert drawing is not None
    assert drawing.name == "finished-turned-section"
    folds = [s for s in of_style(drawing, Style.SHEET) if len(s.path.points) > 4]
    assert len(folds) == 2 + 2 * 2 + 1  # outer pieces, pockets at both ends, the tab
    assert words(drawing, "picture").count("seam") == 2
    assert "open and flat" in words(drawing, "heading")
    assert "the outside above" in words(drawing, "heading")
    # In the pockets: pocket 1 to its mouth, pocket 2 to its; in the pouch from the top seam to its
    # floor at 6, but for the zip's own leaves, and so on: at least as much as the pockets.
    opened = sum(extent(s)[0] for s in of_style(drawing, Style.OUTSIDE))
    assert opened > 2 * (53.0 + 69.5)


def test_a_coaster_shows_its_right_sides_outside_and_where_its_gap_was() -> None:
    drawing = turned_section(worked("coaster"))
    assert drawing is not None
    sheets = sorted(of_style(drawing, Style.SHEET), key=lambda s: s.path.bounds[1])
    first, last = sorted(of_style(drawing, Style.RIGHT_FACE), key=lambda s: s.path.bounds[1])
    assert len(sheets) == 3
    assert first.path.bounds[1] == pytest.approx(sheets[0].path.bounds[1])
    assert last.path.bounds[3] == pytest.approx(sheets[-1].path.bounds[3])
    # Finished 108 mm.
    assert extent(sheets[0])[0] == pytest.approx(108.0, abs=0.01)
    # The gap is in the middle of the bottom.
    assert "turning gap, closed" in words(drawing, "picture")
    assert not of_style(drawing, Style.OUTSIDE)


def test_what_is_not_turned_has_no_such_section() -> None:
    assert turned_section(worked("plant-tag")) is None


def test_it_lies_in_the_folder_and_in_the_booklet_beside_the_one_in_the_hoop() -> None:
    for name, expected in (("coaster", True), ("plant-tag", False)):
        one = made_as({}, name, "130x180", Unit.MM)
        files = contents(one, (), papers=False)
        assert "finished/section.svg" in files
        assert ("finished/turned-section.svg" in files) is expected
        titles = [picture.title for picture in said_of(one).finished]
        assert ("Section through the finished thing" in titles) is expected


@settings(max_examples=8)
@given(
    st.integers(120, 330),
    st.integers(170, 360),
    st.integers(1, 4),
    st.sampled_from(["ribbon", "fabric", "none"]),
    st.sampled_from(list(Unit)),
)
def test_no_text_of_it_overlaps_another_or_is_clipped_at_any_size(
    width: int, height: int, pockets: int, tab: str, unit: Unit
) -> None:
    asked: Asked = {"width": width, "height": height, "pockets": pockets, "tab": tab}
    drawing = turned_section(worked("fold-wallet", {**asked, "front_depth": "40mm"}, unit))
    assert drawing is not None
    assert overlapping(drawing) == []
    assert clipped(drawing) == []
    # No label's line runs through a title.
    leaders = [
        s.path for item in drawing.items if isinstance(item, Group) and item.name == "labels"
        for s in flat(item.items) if isinstance(s, Shape) and s.style is Style.LEADER
    ]  # fmt: skip
    titles = next(
        g for item in drawing.items if isinstance(item, Group)
        for g in item.items if isinstance(g, Group) and g.name == "titles"
    )  # fmt: skip
    for text in titles.items:
        if not isinstance(text, Shape | Group):
            box = text.box.grown(-0.2 * text.size)
            room = shapely.box(box.left, box.top, box.right, box.bottom)
            assert not any(crosses(leader, room) for leader in leaders), text.words


def crosses(leader: Path, room: BaseGeometry) -> bool:
    return bool(leader.line.intersects(room))


def test_labels_of_the_inset_are_told_to_who_cannot_see_it() -> None:
    one = wallet()
    (step,) = (step for step in one.project.steps if step.act is Act.TURN)
    assert "reach in here, between lining and pocket 2." in step_sheet(one, step.number).description


@pytest.mark.parametrize("act_at", [0, 1])
@pytest.mark.parametrize("asked", [{}, {"width": 200, "height": 120}])
def test_the_arrow_of_the_inset_keeps_clear_of_its_heading(asked: Asked, act_at: int) -> None:
    for turned in (False, True):
        one = scene("zip-pouch", asked, turned=turned)
        group = inset(drawn(one, Act.TURN, act_at))
        texts = [item for item in group.items if isinstance(item, Text)]
        heading = [text for text in texts if text.box.left == pytest.approx(texts[0].box.left)]
        (hand,) = (g for g in group.items if isinstance(g, Group) and g.name == "hand")
        highest = min(s.path.bounds[1] for s in hand.items if isinstance(s, Shape))
        assert highest > max(text.box.bottom for text in heading)


@pytest.mark.parametrize("turned", [False, True])
def test_the_top_of_a_picture_out_of_the_hoop_is_that_of_the_work(turned: bool) -> None:
    one = scene("zip-pouch", {}, turned=turned)
    # Turned by 90° clockwise its top is at the right, and from the back at the left.
    for act, side in ((Act.CLIP, "left"), (Act.PRESS, "right")):
        told = words(drawn(one, act), "heading")
        assert (f"the top of it is at the {side}" in told) == turned
        assert told.endswith(" top") != turned
