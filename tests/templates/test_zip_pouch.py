"""The lined zip pouch: its parts, its layers, the order of its work, at any size.

Cut sizes are checked against arithmetic shown beside them; how the layers lie is common
practice, no source.
"""

from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import Asked, hooped, laid, layers, line, made_or_refused, piece, step_of
from told import mends, says

from paramgen.finished.all_findings import prove
from paramgen.layout.lay_out import lay_out
from paramgen.lengths import parse_length
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import Rehearsed, work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import size
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

POUCH = find_recipe("zip-pouch")
EIGHT_BY_FIVE: Asked = {"width": "8in", "height": "5in"}


def pouch(**asked: str | float) -> Project:
    """Lay a pouch out, once for all tests that ask for the same."""
    return _pouch(tuple(sorted(asked.items())))


@cache
def _pouch(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(POUCH, dict(asked))


@cache
def rehearsed(**asked: str) -> Rehearsed:
    return work_through(coarse(asked))


def coarse(asked: Asked) -> Project:
    return lay_out(size(POUCH, asked, unit=Unit.MM), chord_error=COARSE)


def field(outline: Path) -> shapely.Polygon:
    return shapely.Polygon(outline.points)


def strings(project: Project, name: str) -> shapely.MultiLineString:
    paths = line(project, name).paths
    return shapely.MultiLineString(
        [np.vstack([one.points, one.points[:1]]) if one.closed else one.points for one in paths]
    )


# The default pouch is 160 × 120 mm, with 1 mm turn of cloth a seam box of 162 × 122; with
# 10 mm allowance 182 × 142 mm cut. The zip is 25 mm below the top seam; the fronts end
# 6.5/2 from its middle, the linings 1 mm farther off. All is rounded up to whole mm folded,
# and then doubled.
@pytest.mark.parametrize(
    ("name", "cut", "folded"),
    [
        ("upper-front", (182, 64), (182, 32)),  # 25 - 3.25 + 10 = 31.75
        ("lower-front", (182, 208), (182, 104)),  # 122 - 25 - 3.25 + 10 = 103.75
        ("upper-lining", (182, 62), (182, 31)),  # 25 - 4.25 + 10 = 30.75
        ("lower-lining", (182, 206), (182, 103)),  # 122 - 25 - 4.25 + 10 = 102.75
        ("back", (182, 142), (182, 142)),
        ("back-lining", (182, 142), (182, 142)),
        ("loop", (84, 20), (42, 20)),  # 35 out of the seam and 7 past it
    ],
)
def test_pieces_are_cut_to_the_arithmetic(
    name: str, cut: tuple[float, float], folded: tuple[float, float]
) -> None:
    found = piece(pouch(), name)
    assert found.cut == pytest.approx(cut)
    assert found.folded == pytest.approx(folded)
    assert found.quantity == 1


# 8 × 5 in: a seam box of 203.2 + 2 by 127 + 2 mm, 225.2 × 149 cut, in eighths of an inch; what is
# folded is rounded up folded, on the eighth, and then doubled.
@pytest.mark.parametrize(
    ("name", "cut"),
    [
        ("upper-front", ("8 7/8", "2 1/2")),  # 2 × 31.75 = 63.5
        ("lower-front", ("8 7/8", "8 3/4")),  # 2 × (129 - 28.25 + 10) = 221.5
        ("upper-lining", ("8 7/8", "2 1/2")),  # 2 × 30.75 = 61.5
        ("lower-lining", ("8 7/8", "8 3/4")),  # 2 × (129 - 29.25 + 10) = 219.5
        ("back", ("8 7/8", "5 7/8")),
        ("back-lining", ("8 7/8", "5 7/8")),
    ],
)
def test_in_inches_pieces_are_cut_on_eighths(name: str, cut: tuple[str, str]) -> None:
    wanted = [parse_length(f"{size} in", name=name) for size in cut]
    project = laid(POUCH, EIGHT_BY_FIVE, Unit.INCH)
    assert piece(project, name).cut == pytest.approx(wanted)
    (found,) = (one for one in project.notions if one.sort == "zip")
    assert found.length == pytest.approx((10 + 7 / 8) * 25.4)  # 2 in more than 8 7/8


def test_there_are_no_other_pieces_and_the_loop_can_be_left_off() -> None:
    names = {one.name for one in pouch().pieces}
    assert len(names) == 7
    assert names - {one.name for one in pouch(loop="none").pieces} == {"loop"}
    assert not any("loop" in step.title.lower() for step in pouch(loop="none").steps)


def test_the_zip_is_two_inches_longer_than_the_cut_width() -> None:
    (found,) = (one for one in pouch().notions if one.sort == "zip")
    # 182 + 50.8 = 232.8, on the next whole mm; the closed tapes are 25 mm wide
    assert (found.length, found.width) == (233, 25)


def test_the_finished_size_is_as_asked_and_the_seam_a_turn_of_cloth_outside_it() -> None:
    project = pouch(width=200, height=140, turn_of_cloth=2)
    assert project.finished == pytest.approx((200, 140))
    assert project.seam.bounds == pytest.approx((-102, -72, 102, 72))


def test_rounded_corners_are_taken_off_the_seam() -> None:
    square, rounded = pouch(turn_of_cloth=0), pouch(turn_of_cloth=0, corners="rounded")
    # Rounding with radius 10 takes (4 - π) r² of the seam box.
    taken = field(square.seam).area - field(rounded.seam).area
    assert taken == pytest.approx((4 - np.pi) * 10**2, abs=0.01)


#: From the back of the hoop to the front, with the faces towards the front and the back.
#: A folded piece is two leaves with their right sides out.
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


def test_folds_lie_along_the_zip_and_the_loops_fold_lies_inside() -> None:
    project = pouch()
    zip_at = -61 + 25
    folds = {
        "upper-front": zip_at - 3.25,
        "lower-front": zip_at + 3.25,
        "upper-lining": zip_at - 4.25,
        "lower-lining": zip_at + 4.25,
    }
    for name, y in folds.items():
        (layer,) = layers(project, name)
        (fold,) = layer.folded_edges
        assert [at for _, at in fold] == pytest.approx([y, y])
    (loop,) = layers(project, "loop")
    (fold,) = loop.folded_edges
    # 35 mm of the loop stand out of the seam line at x = -81, into the pouch while it is sewn.
    assert [x for x, _ in fold] == pytest.approx([-46, -46])


def test_one_line_along_each_fold_holds_front_zip_and_lining() -> None:
    project = pouch()
    step = step_of(project, "fold-stitch")
    for name in ("upper-front", "lower-front", "upper-lining", "lower-lining", "zip"):
        assert step_of(project, name).number < step.number
        (layer,) = layers(project, name)
        assert strings(project, "fold-stitch").intersection(field(layer.outline)).length >= 162


#: What is laid, sewn and done to the hoop, in the order that alone works: the lining of the
#: front before its folds are stitched, the slider inside before the sides are, tape off before
#: a piece covers it, the outside closed and the zip freed before the back lining is laid, the
#: gap closed while the linings are outside.
WORK = [
    "fuse the interfacing",
    "sew zip-place, lining-place, frame",
    "lay zip",
    "tape zip",
    "sew zip-tack",
    "remove tape",
    "lay upper-front, lower-front",
    "tape",
    "turn the hoop over",
    "lay upper-lining, lower-lining",
    "tape",
    "turn the hoop over",
    "sew fold-stitch",
    "open the zip",
    "sew front-tack",
    "remove tape",
    "lay back",
    "tape",
    "sew first-seam, gap-seam",
    "remove tape",
    "turn the hoop over",
    "tear away the stabiliser",
    "lay back-lining",
    "tape",
    "turn the hoop over",
    "sew seam",
    "take out of the hoop",
    "trim",
    "clip",
    "turn right side out",
    "sew by hand",
    "turn right side out",
    "press",
]


def test_the_work_goes_on_in_the_order_that_works() -> None:
    found = []
    for step in pouch(loop="none").steps:
        if step.lines:
            found.append("sew " + ", ".join(one.name for one in step.lines))
        elif step.layers:
            found.append("lay " + ", ".join(one.piece for one in step.layers))
        else:
            found.append(str(step.act))
    assert found == [entry if entry != "tape zip" else "tape" for entry in WORK]


def test_the_loop_is_laid_on_the_fronts_and_its_tape_is_off_before_the_back_covers_it() -> None:
    project = pouch()
    loop, back = step_of(project, "loop").number, step_of(project, "back").number
    assert step_of(project, "front-tack").number < loop < back
    tack = step_of(project, "loop-tack").number
    off = next(
        step.number for step in project.steps if step.act is Act.UNTAPE and step.number > tack
    )
    assert loop < tack < off < back


def test_the_loop_lies_straight_on_the_front_and_stands_out() -> None:
    project = pouch()
    (loop,) = layers(project, "loop")
    _, top, _, bottom = loop.outline.bounds
    # 10.5 above the middle: zip at -36, 12.5 of its tape, 3 past it, and half of 20. In sight are
    # the fold at -32.75 and the tack-down 1.5 outside the seam line at -81.
    assert (top + bottom) / 2 == pytest.approx(-36 + 12.5 + 3 + 10)
    say = step_of(project, "loop").say
    assert "12.3 mm" in say  # 12.5 + 3 - 3.25
    assert "5.5 mm" in say  # 7 - 1.5
    sheets = [one.piece for one in sandwich(project).sheets]
    assert sheets[sheets.index("loop") - 1] == "lower-front"
    assert project.finish.stands_out == ("loop",)
    assert pouch(loop="none").finish.stands_out == ()


# --- The two seams: common practice, no source -------------------------------------------


@pytest.mark.parametrize(
    ("asked", "unit", "x", "y"), [({}, Unit.MM, 81, 61), (EIGHT_BY_FIVE, Unit.INCH, 102.6, 64.5)]
)
def test_the_first_seam_closes_the_outside_just_outside_the_last(
    asked: Asked, unit: Unit, x: float, y: float
) -> None:
    project = laid(POUCH, asked, unit)
    tack = strings(project, "front-tack")
    assert tack.bounds == pytest.approx((-x - 1.5, -y - 1.5, x + 1.5, y + 1.5))
    (first,) = line(project, "first-seam").paths
    assert first.closed
    assert first.bounds == pytest.approx((-x - 0.5, -y - 0.5, x + 0.5, y + 0.5))
    (last,) = line(project, "seam").paths
    assert last.bounds == pytest.approx((-x, -y, x, y))
    # 90 of a straight run of 162 or 205.2, clear of both corners by 12
    assert sorted([last.points[0][0], last.points[-1][0]]) == pytest.approx([-45, 45])
    zip_at = -y + 25
    (slit,) = (one.slit for one in layers(project, "zip"))
    assert slit is not None
    assert [at for _, at in slit] == pytest.approx([zip_at, zip_at])
    (loop,) = layers(project, "loop")
    assert (loop.outline.bounds[1] + loop.outline.bounds[3]) / 2 == pytest.approx(zip_at + 25.5)


def test_along_the_gap_the_outside_is_sewn_twice_and_past_both_its_ends() -> None:
    project = pouch()
    # 1 mm outside the seam line at 61, and 12 past either end of a gap of 90
    assert strings(project, "gap-seam").bounds == pytest.approx((-57, 62, 57, 62))
    assert step_of(project, "gap-seam") is step_of(project, "first-seam")
    # A gap 10 from the corner at 41 ends 31 from the middle: the run ends at the corner.
    near = laid(POUCH, {"width": 80, "packet_width": 50, "gap_clear": 10})
    assert strings(near, "gap-seam").bounds == pytest.approx((-41, 62, 41, 62))


def test_only_the_back_lining_is_laid_between_the_two_seams() -> None:
    project = pouch()
    first, last = step_of(project, "first-seam").number, step_of(project, "seam").number
    laid_between = [one.piece for step in project.steps[first : last - 1] for one in step.layers]
    assert laid_between == ["back-lining"]
    assert {one.piece for step in project.steps[last:] for one in step.layers} == set()


def test_the_gap_is_closed_by_hand_through_the_linings_while_they_are_outside() -> None:
    steps = pouch().steps
    (sewn,) = (step for step in steps if step.act is Act.HAND_SEW)
    assert set(sewn.pieces) == {"back-lining", "lower-lining"}
    turns = [step.number for step in steps if step.act is Act.TURN]
    assert turns == [sewn.number - 1, sewn.number + 1]
    assert not any(step.act is Act.TOP_STITCH for step in steps)


def test_the_interfacing_is_cut_to_the_seam_box_and_fused_before_the_hooping() -> None:
    project = pouch()
    (fuse,) = (step for step in project.steps if step.act is Act.FUSE)
    assert fuse.number < next(step.number for step in project.steps if step.lines)
    outer = {one.name for one in project.pieces if one.fabric == "outer"}
    assert set(fuse.pieces) == outer
    # 162 wide; of 122, from the seam to the fold: 25 - 3.25 = 21.75, 122 - 28.25 = 93.75
    assert fuse.say.count("162 mm") == 3
    assert all(height in fuse.say for height in ("122 mm", "21.8 mm", "93.8 mm"))
    fabrics = {one.role: one for one in project.fabrics}
    assert fabrics["outer"].interfacing is not None
    assert fabrics["lining"].interfacing is None
    assert set(fabrics) == {one.fabric for one in project.pieces}


@pytest.mark.parametrize("asked", [{}, {"allowance": 6, "tack_offset": 2.5}, {"height": 300}])
def test_both_ends_of_each_fold_are_taped_clear_of_coil_and_stitches(asked: Asked) -> None:
    project = laid(POUCH, asked)
    sides = pouch_sides(project)
    (slit,) = (one.slit for one in layers(project, "zip"))
    assert slit is not None
    coil = shapely.LineString(slit).buffer(4.5)  # a slider 9 mm wide (from memory)
    lines = shapely.union_all([strings(project, one.name) for one in project.lines])
    for names in (("upper-front", "lower-front"), ("upper-lining", "lower-lining")):
        (taped,) = (step for step in project.steps if step.taped == names)
        strips = shapely.union_all([field(strip) for strip in taped.tape])
        assert not strips.intersects(coil)
        assert not strips.intersects(lines)
        for name in names:
            (layer,) = layers(project, name)
            (((_, y), _),) = layer.folded_edges
            for x in sides:
                # so near that the end of the fold cannot lift, and the slider passes between
                assert strips.distance(shapely.Point(x, y)) == pytest.approx(2, abs=1e-6)
        # before the hoop is turned with them in it
        assert project.steps[taped.number].act is Act.FLIP


def pouch_sides(project: Project) -> tuple[float, float]:
    """Where the side edges of the fronts lie."""
    (front,) = layers(project, "lower-front")
    return front.outline.bounds[0], front.outline.bounds[2]


def test_the_lines_for_the_zip_stay_in_sight_beside_it_and_those_for_the_folds_along_them() -> None:
    project = pouch()
    (zip_layer,) = layers(project, "zip")
    assert field(zip_layer.outline).distance(strings(project, "zip-place")) == pytest.approx(1)
    for name in ("upper-lining", "lower-lining"):
        (layer,) = layers(project, name)
        along = strings(project, "lining-place").intersection(field(layer.outline).boundary)
        assert along.length == pytest.approx(162)


def test_every_stitch_in_sight_is_top_stitching() -> None:
    project = pouch()
    assert project.finish.finished is not None
    inside = field(project.finish.finished)
    fronts = step_of(project, "lower-front").number
    seen = [
        one.name
        for step in project.steps[fronts:]
        for one in step.lines
        if strings(project, one.name).intersection(inside).length > 0
    ]
    assert seen == ["fold-stitch"]
    assert line(project, "fold-stitch").role is Role.TOP_STITCH


def test_the_seam_leaves_its_gap_in_the_middle_of_the_bottom() -> None:
    # 162 wide less 12 at both ends is 138, more than the longest gap of 90 mm.
    (seam,) = line(pouch(), "seam").paths
    assert sorted([seam.points[0][0], seam.points[-1][0]]) == pytest.approx([-45, 45])
    assert [seam.points[0][1], seam.points[-1][1]] == pytest.approx([61, 61])
    # On a narrow pouch all that is clear of the corners: 82 - 2 × 12 = 58.
    (narrow,) = line(pouch(width=80, packet_width=60, packet_height=50), "seam").paths
    assert sorted([narrow.points[0][0], narrow.points[-1][0]]) == pytest.approx([-29, 29])


def test_it_is_trimmed_outside_the_seam_and_inside_what_was_cut() -> None:
    project = pouch(trim_allowance=4)
    (trim,) = (step for step in project.steps if step.act is Act.TRIM)
    assert trim.mark[0].bounds == pytest.approx((-85, -65, 85, 65))
    assert "the rest 4 mm" in trim.say


# Graded by 2 and 1 mm, so that the edges do not end in one ridge: common practice, no source.
@pytest.mark.parametrize(
    ("asked", "lining", "rest", "fronts"),
    [
        ({}, 7, 5, 4),
        ({"trim_allowance": 3}, 5, 3, 3),  # 3 is the least that a seam leaves
        ({"trim_allowance": 9}, 10, 9, 8),  # no more than the allowance of 10
    ],
)
def test_the_edges_are_graded_and_the_back_lining_is_left_whole_at_the_gap(
    asked: Asked, lining: int, rest: int, fronts: int
) -> None:
    (trim,) = (step for step in laid(POUCH, asked).steps if step.act is Act.TRIM)
    said = [
        trim.say.index(part)
        for part in (
            f"the back lining alone {lining} mm",
            "its whole 10 mm",
            f"the rest {rest} mm",
            f"the front linings to {fronts} mm",
        )
    ]
    assert said == sorted(said)


@pytest.mark.parametrize(
    ("asked", "most"),
    [
        ({}, "5 mm"),  # 10 - 1.5 leaves 8.5
        ({"allowance": 6, "trim_allowance": 5, "tack_offset": 2.5}, "3 mm"),  # 6 - 2.5 - 0.5
        ({"allowance": 6, "trim_allowance": 5, "tack_offset": 0.5}, "4 mm"),  # 6 - 1.5 - 0.5
    ],
)
def test_tape_keeps_clear_of_the_lines_outside_the_box(asked: Asked, most: str) -> None:
    project = laid(POUCH, {**asked, "seam_swing": 1.5})
    for name in ("upper-front", "upper-lining", "back", "back-lining"):
        (step,) = (step for step in project.steps if name in step.taped)
        assert f"more than {most}" in step.say


def test_the_rehearsal_only_says_that_the_layers_change_where_the_seams_cross_the_zip() -> None:
    # Two leaves of front and two of lining end on each side of the coil: four at once.
    found = prove(pouch(), sew(pouch().steps)[0]).findings
    assert [(one.severity, one.code, one.amount) for one in found] == [
        (Severity.KNOW, "thickness-jump", 4)
    ] * 2


# --- Turning ----------------------------------------------------------------------------


def faces(done: Rehearsed, *, outside: bool) -> dict[tuple[str, str, str], float]:
    """Area by piece, face and kind of face, of what shows or of what is hidden, in mm²."""
    found: dict[tuple[str, str, str], float] = {}
    spaces, plane = done.spaces, done.plane
    for node in range(1, len(spaces.face)):
        face = int(spaces.face[node])
        if not plane.within[face] or done.shows(node) is not outside:
            continue
        for sheet, side in ((spaces.below[node], "front"), (spaces.above[node], "back")):
            if sheet >= 0:
                one = done.sandwich.sheets[sheet]
                kind = "right" if getattr(one, side) else "wrong"
                key = (one.piece, side, kind)
                found[key] = found.get(key, 0.0) + plane.areas[face].area
    return found


def test_nothing_of_the_outside_opens_to_the_hidden_inside() -> None:
    assert rehearsed().leaks == ()
    assert rehearsed(corners="rounded", loop="none").leaks == ()


def test_what_shows_outside_and_in_the_pouch_are_right_sides_and_all_of_them() -> None:
    shown = faces(rehearsed(), outside=True)
    assert {kind for _, _, kind in shown} == {"right"}
    whole = 162 * 122
    assert shown["back", "back", "right"] == pytest.approx(whole)
    assert shown["back-lining", "front", "right"] == pytest.approx(whole)
    # Front and lining show but for what is sewn into the zip and lies at its folds.
    assert shown["lower-front", "front", "right"] >= 162 * (97 - 3.25)
    assert shown["upper-front", "front", "right"] >= 162 * (25 - 3.25)
    assert shown["lower-lining", "back", "right"] >= 162 * (97 - 4.25)
    assert shown["upper-lining", "back", "right"] >= 162 * (25 - 4.25)


def test_every_wrong_side_is_hidden() -> None:
    hidden = faces(rehearsed(), outside=False)
    whole = pytest.approx(162 * 122)
    assert hidden["back", "front", "wrong"] == whole
    assert hidden["back-lining", "back", "wrong"] == whole


# --- At any size ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "hoop", "turned"),
    [
        ({}, "200x200", False),
        # 162 × 122 and 1.5 mm round it for the tack-down: 165 wide, 125 high
        ({}, "130x180", True),
        ({"width": 200, "height": 150}, "200x300", True),
        ({"width": 330, "height": 330}, "360x350", False),
        ({"width": 90, "height": 70, "packet_width": 80, "packet_height": 60}, "100x100", False),
    ],
)
def test_it_fits_the_hoops_it_should(asked: Asked, hoop: str, turned: bool) -> None:
    assert hooped(POUCH, asked, hoop).project.turned is turned


def test_a_hoop_that_is_too_small_is_refused_with_what_would_do() -> None:
    with pytest.raises(CannotMakeError) as caught:
        hooped(POUCH, {}, "100x100")
    (finding,) = (one for one in caught.value.findings if one.stops)
    assert finding.code == "hoop-exceeded"
    assert "130x180" in mends(finding)


#: Asked, what is said, and a length that mends it, which the remedy names.
REFUSED = [
    # a packet of 114 × 83, 2 thick, with 4 of ease
    ({"width": 100, "height": 110}, "whichever way round", "width", "120"),
    ({"width": 120, "height": 88}, "whichever way round", "height", "89"),
    ({"gap_clear": 60, "width": 130}, "turning gap", "width", "168"),
    ({"zip_below_top": 15, "zip_tape": 28}, "reaches into the top seam", "zip_below_top", "16"),
    ({"zip_below_top": 110, "loop": "none"}, "too near to the bottom", "zip_below_top", "99.5"),
    ({"zip_tape": 18, "coil_gap": 10}, "not leave enough", "coil_gap", "8"),
    ({"corners": "rounded", "corner_radius": 13}, "at a corner", "corner_radius", "12.5"),
    ({"height": 90, "zip_below_top": 60}, "no room for a loop", "height", "98.5"),
    ({"loop_out": 60, "width": 80, "packet_width": 50}, "reaches across", "loop_out", "52"),
    ({"allowance": 6, "trim_allowance": 6}, "to trim to", "trim_allowance", "5"),
]


@pytest.mark.parametrize(("asked", "said", "name", "mended"), REFUSED)
def test_what_cannot_be_sewn_is_refused_and_its_remedy_works(
    asked: Asked, said: str, name: str, mended: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        laid(POUCH, asked)
    stops = [one for one in caught.value.findings if one.stops]
    told = [one for one in stops if said in says(one)]
    assert told, stops
    assert f"{mended} mm" in mends(told[0])
    laid(POUCH, {**asked, name: mended})


@pytest.mark.parametrize(
    ("asked", "severity", "needs", "enough"),
    [
        # 83 + 2 go through 0.95 × (width - 20) whatever the slider, from 109.5 wide; through
        # 0.95 × (width - 8) with the smallest, from 97.5.
        ({"width": 97, "height": 120}, Severity.CANNOT, 85, 109.5),
        ({"width": 98, "height": 120}, Severity.DISAPPOINT, 85, 109.5),
        # Of something thick the two smaller are height and thickness: 30 + 35 = 65.
        (
            {"width": 86, "packet_width": 30, "packet_height": 40, "packet_thickness": 35},
            Severity.DISAPPOINT,
            65,
            88.5,
        ),
    ],
)
def test_what_it_holds_goes_through_the_zip_or_that_is_said(
    asked: Asked, severity: Severity, needs: float, enough: float
) -> None:
    (found,) = narrow(asked)
    assert found.severity is severity
    assert found.amount == pytest.approx(needs - 0.95 * (float(asked["width"]) - 20), abs=0.1)
    assert narrow({**asked, "width": enough}) == []


def narrow(asked: Asked) -> list[Finding]:
    return [one for one in prove(laid(POUCH, asked)).findings if one.code == "mouth-narrow"]


@st.composite
def orders(draw: st.DrawFn) -> dict[str, str | float]:
    """Draw anything within the recipe's limits."""

    def some(low: float, high: float) -> float:
        return round(draw(st.floats(low, high)), 1)

    asked: dict[str, str | float] = {
        "width": some(80, 330),
        "height": some(70, 330),
        "corners": draw(st.sampled_from(["square", "rounded"])),
        "loop": draw(st.sampled_from(["ribbon", "none"])),
        "packet_width": some(20, 120),
        "packet_height": some(20, 90),
    }
    limits = {
        "allowance": (6, 30),
        "turn_of_cloth": (0, 5),
        "coil_gap": (5, 12),
        "lining_back": (0, 1),
        "zip_below_top": (15, 80),
        "zip_tape": (18, 40),
        "zip_spare": (25, 80),
        "tack_offset": (0.5, 2.5),
        "fold_stitch": (2.5, 5),
        "loop_width": (16, 40),
        "loop_out": (20, 60),
        "loop_past_seam": (6, 15),
        "corner_radius": (2, 30),
    }
    for name in draw(st.lists(st.sampled_from(sorted(limits)), max_size=3, unique=True)):
        asked[name] = some(*limits[name])
    return asked


some = settings(max_examples=8)


@given(orders())
@some
def test_within_its_limits_it_can_be_sewn_turned_and_used_or_says_what_would_do(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse(asked))
    if project is None:
        return
    sewn, found = sew(project.steps)
    found = (*found, *prove(project, sewn).findings)
    stops = [one for one in found if one.severity is Severity.CANNOT]
    # What it is to hold is asked apart from its size: it may be too large for the zip.
    assert {one.code for one in stops} <= {"mouth-narrow", "does-not-fit"}
    assert all(mends(one) for one in stops)


@given(orders())
@some
def test_the_slider_is_inside_before_any_line_crosses_the_zip(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse(asked))
    if project is None:
        return
    (zip_layer,) = layers(project, "zip")
    assert zip_layer.slit is not None
    slit = shapely.LineString(zip_layer.slit)
    laid_in = step_of(project, "zip").number
    (opened,) = (step.number for step in project.steps if step.act is Act.OPEN_ZIP)
    crossing = [
        step.number
        for step in project.steps
        if step.number > laid_in
        for one in step.lines
        if strings(project, one.name).intersects(slit)
    ]
    assert crossing == [step_of(project, name).number for name in ("first-seam", "seam")]
    assert laid_in < opened < crossing[0]
    # Before the seam at the sides the front is tacked as far as its folds: also only after.
    assert opened < step_of(project, "front-tack").number


@given(orders())
@some
def test_tack_downs_run_outside_the_seam_and_inside_every_cut_edge(
    asked: dict[str, str | float],
) -> None:
    project = made_or_refused(lambda: coarse(asked))
    if project is None:
        return
    seam = field(project.seam)
    (back,) = layers(project, "back")
    for one in project.lines:
        if one.role is Role.TACK_DOWN and one.name != "zip-tack":
            assert strings(project, one.name).distance(seam) >= 0.5 - 1e-6
            # 3 mm is the least a line keeps from a raw edge (common practice, no source).
            assert field(back.outline).exterior.distance(strings(project, one.name)) >= 3


def test_a_seam_that_crosses_a_wide_zip_does_not_count_as_sewn_along_it() -> None:
    # At both ends of an opening of 82 the last seam crosses a tape 28 wide: 56 in all, and more
    # than a third of the opening.
    asked: Asked = {"width": 80, "height": 70, "zip_tape": 28, "packet_width": 20}
    found = prove(laid(POUCH, {**asked, "packet_height": 20})).findings
    assert "coil-covered" not in {one.code for one in found}
