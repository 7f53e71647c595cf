"""The folding wallet's check values, and what must hold of it at every size.

The numbers are a worked example of the trade: common practice, no source. All are inches
here, as the example gives them; 1 in = 25.4 mm exactly.
"""

from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from layout_orders import HOOPS, INCH, WALLET, laid, layers, line, piece, step_of
from told import mends, says

from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.reference.hoops import find_hoop
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Line, Project
from paramgen.vocabulary.unit import Unit

CHECK = {
    "width": "4 1/2 in",
    "height": "7 in",
    "turn_of_cloth": "0",
    "side_allowance": "1/4 in",
    "end_allowance": "1/2 in",
    "outer_past_end": "3/4 in",
    "coil_gap": "1/4 in",
    "zip_below_top": "1 1/4 in",
    "pockets": "2",
    "front_depth": "2 in",
    "tab": "fabric",
    "tab_cut": "3 in",
    "trim_allowance": "1/8 in",
    "ruler_mark": "1/4 in",
    # What it holds is no part of the example: pockets are spread evenly, however much of a packet
    # they swallow; but the tab goes round it too.
    "most_stagger": "7 in",
    "packet_width": "4 in",
    "packet_thickness": "1/32 in",
}


@cache
def check(**changes: str) -> Project:
    return laid(WALLET, {**CHECK, **changes}, Unit.INCH)


def size_in(size: tuple[float, float]) -> list[float]:
    return [round(length / INCH, 6) for length in size]


def cord(paths: tuple[Path, ...]) -> shapely.MultiLineString:
    rings = [np.vstack([one.points, one.points[:1]]) if one.closed else one.points for one in paths]
    return shapely.MultiLineString(rings)


def field(outline: Path) -> shapely.Polygon:
    return shapely.Polygon(outline.points)


def length(project: Project, name: str) -> float:
    return next(one.value for one in (*project.sizes, *project.lengths) if one.name == name)


@pytest.mark.parametrize(
    ("name", "cut", "folded", "quantity"),
    [
        ("upper-outer", (5, 4), (5, 2), 1),
        ("lower-outer", (5, 13), (5, 6.5), 1),
        ("pouch-lining", (5, 4.5), (5, 4.5), 1),
        ("pocket[1]", (5, 5), (5, 2.5), 2),
        ("pocket[2]", (5, 6.5), (5, 3.25), 2),
        ("tab", (3, 3), (0.75, 1.5), 1),
        ("lining", (5, 8), (5, 8), 1),
    ],
)
def test_pieces_are_cut_and_folded_to_the_example(
    name: str, cut: tuple[float, float], folded: tuple[float, float], quantity: int
) -> None:
    found = piece(check(), name)
    assert size_in(found.cut) == list(cut)
    assert size_in(found.folded) == list(folded)
    assert found.quantity == quantity


def test_there_are_no_other_pieces() -> None:
    assert len(check().pieces) == 7


def test_the_zip_is_two_inches_longer_than_the_cut_width() -> None:
    # 4 1/2 + 2 × 1/4 = 5 in, and 2 in for its stops to lie well outside the seams
    (found,) = (one for one in check().notions if one.sort == "zip")
    assert found.length is not None
    assert found.length / INCH == pytest.approx(7)


def test_it_fits_a_hoop_of_130_by_180_the_way_it_is() -> None:
    room = Room(find_hoop("130x180", HOOPS), may_turn=False)
    made = make(Order(WALLET, CHECK, room, Unit.INCH), HOOPS)  # rehearsed too
    # The seam box is 114.3 × 177.8 mm; tack-downs run 1 mm outside it: 116.3 × 179.8. The seam's
    # zigzag swings outward no farther.
    assert (made.extent.width, made.extent.height) == pytest.approx((116.3, 179.8), abs=0.11)


def test_trimming_is_an_eighth_of_an_inch_outside_the_seam() -> None:
    project = check()
    (trim,) = (step for step in project.steps if step.act is Act.TRIM)
    (mark,) = trim.mark
    seam = project.seam.bounds
    assert np.abs(np.array(mark.bounds) - np.array(seam)) / INCH == pytest.approx([1 / 8] * 4)
    for point in shapely.get_coordinates(shapely.segmentize(field(mark), 5)):
        away = field(project.seam).distance(shapely.Point(point)) / INCH
        assert 0.125 - 1e-9 <= away <= 0.125 * 2**0.5 + 1e-9  # √2 at a sharp corner
    assert "1/8 in" in trim.say


def test_the_raw_ends_of_the_tab_lie_an_eighth_to_a_quarter_past_the_seam() -> None:
    project = check()
    (tab,) = layers(project, "tab")
    past = tab.outline.bounds[3] - project.seam.bounds[3]  # at the end away from the zip
    assert 1 / 8 <= past / INCH <= 1 / 4
    assert tab.plies == 8  # a quarter is four layers, folded over eight


def test_the_tab_may_be_set_from_an_eighth_to_a_quarter_and_no_farther() -> None:
    for asked, inches in (("1/8 in", 1 / 8), ("1/4 in", 1 / 4)):
        project = check(tab_past_seam=asked)
        (tab,) = layers(project, "tab")
        assert (tab.outline.bounds[3] - project.seam.bounds[3]) / INCH == pytest.approx(inches)
    for asked in ("1/16 in", "5/16 in"):
        with pytest.raises(InputError, match="tab_past_seam"):
            laid(WALLET, {**CHECK, "tab_past_seam": asked}, Unit.INCH)


@pytest.mark.parametrize(
    ("pockets", "stagger"),
    # half the height less the front pocket, shared out: (3 1/2 - 2) / pockets
    [("1", 1.5), ("2", 0.75), ("3", 0.5), ("4", 0.375)],
)
def test_pocket_mouths_are_staggered_evenly_and_the_last_keeps_one_step_from_the_fold(
    pockets: str, stagger: float
) -> None:
    project = check(pockets=pockets)
    _, top, _, bottom = project.seam.bounds
    count = int(pockets)
    for number in range(1, count + 1):
        upper, lower = layers(project, f"pocket[{number}]")
        depth = 2 + (number - 1) * stagger
        assert (upper.outline.bounds[3] - top) / INCH == pytest.approx(depth)
        assert (bottom - lower.outline.bounds[1]) / INCH == pytest.approx(depth)
    # The fold line is the middle of the seam box, y = 0.
    upper, lower = layers(project, f"pocket[{count}]")
    assert -upper.outline.bounds[3] / INCH == pytest.approx(stagger)
    assert lower.outline.bounds[1] / INCH == pytest.approx(stagger)


@pytest.mark.parametrize("pockets", ["2", "3", "4"])
def test_the_smaller_pocket_is_laid_first(pockets: str) -> None:
    project = check(pockets=pockets)
    steps = [step_of(project, f"pocket[{k}]").number for k in range(1, int(pockets) + 1)]
    areas = [
        field(layers(project, f"pocket[{k}]")[0].outline).area for k in range(1, int(pockets) + 1)
    ]
    assert steps == sorted(steps)
    assert areas == sorted(areas)
    assert areas[0] < areas[-1]


def test_pockets_and_their_folds_face_the_middle() -> None:
    upper, lower = layers(check(), "pocket[1]")
    assert all(y == pytest.approx(upper.outline.bounds[3]) for _, y in upper.folded_edges[0])
    assert all(y == pytest.approx(lower.outline.bounds[1]) for _, y in lower.folded_edges[0])


#: Lines inside the seam on purpose: they hold the zip and the fold beside it. In a short pouch
#: its floor is another.
MEANT_INSIDE = {"zip-tack", "fold-stitch"}


def test_a_tab_or_none() -> None:
    with_tab, without = check(tab="fabric"), check(tab="none")
    assert {one.name for one in with_tab.pieces} - {one.name for one in without.pieces} == {"tab"}
    assert {one.name for one in with_tab.notions} - {one.name for one in without.notions} == {
        "snap",
        "patch",
    }
    assert {one.name for one in with_tab.lines} - {one.name for one in without.lines} == {
        "tab-marks",
        "tab-tack",
    }
    # a patch fused behind the snap, the tab edge-stitched, laid, taped, tacked, its tape taken
    # off, and the snap fitted on the tab and on the wallet
    assert len(with_tab.steps) - len(without.steps) == 8
    assert [step.number for step in without.steps] == list(range(1, len(without.steps) + 1))
    stops = [step.stop for step in without.steps if step.stop]
    assert stops == list(range(1, len(stops) + 1))
    assert not any("tab" in step.title.lower() for step in without.steps)


def test_the_long_pouch_covers_both_halves() -> None:
    short, long = check(pouch="short"), check(pouch="long")
    (short_lining,), (long_lining,) = layers(short, "pouch-lining"), layers(long, "pouch-lining")
    assert short_lining.side == long_lining.side == "back"
    # 3 1/2 + 1/2 past the end, and 1/2 in (12 mm rounded up) past the fold line
    assert size_in(short_lining.outline.bounds[1::2]) == pytest.approx([-4, 0.5])
    # 3 1/2 in and 1/2 in past the end, at both ends: 8 in
    assert size_in(long_lining.outline.bounds[1::2]) == pytest.approx([-4, 4])
    assert size_in(piece(long, "pouch-lining").cut) == [5, 8]
    assert cord(line(long, "pouch-tack").paths).bounds[3] > long.seam.bounds[3]
    assert "pouch-floor" not in {one.name for one in long.lines}


def test_the_seam_leaves_its_gap_on_the_left_below_the_zip() -> None:
    project = check()
    (seam,) = line(project, "seam").paths
    (x0, y0), (x1, y1) = seam.points[0], seam.points[-1]
    left = project.seam.bounds[0]
    assert (x0, x1) == pytest.approx((left, left))
    # Below the zip there is 7 - 1 1/4 - 1/8 = 5 5/8 in = 142.875 mm of the side; 12 mm clear
    # at both ends leave 118.875, more than the longest gap of 90 mm, which is in its middle:
    # from 88.9 - 12 - (118.875 - 90)/2 = 62.4625 up to -27.5375.
    assert y0 == pytest.approx(-27.5375)
    assert y1 == pytest.approx(62.4625)
    assert cord((seam,)).length == pytest.approx(2 * (114.3 + 177.8) - 90)


def test_rounded_corners_are_rounded_on_every_line_round_the_seam() -> None:
    square, rounded = check(corners="square"), check(corners="rounded", corner_radius="1/2 in")
    assert len(square.seam.corners) == 4
    assert len(rounded.seam.corners) == 0
    # Rounding takes (4 - π) r² from the seam box.
    taken = (4 - np.pi) * 12.7**2
    assert field(square.seam).area - field(rounded.seam).area == pytest.approx(taken, abs=0.01)
    (trim,) = (step.mark[0] for step in rounded.steps if step.act is Act.TRIM)
    assert len(trim.corners) == 0
    assert line(rounded, "seam").paths[0].corners.tolist() == [
        0,
        len(line(rounded, "seam").paths[0].points) - 1,
    ]


def test_turn_of_cloth_moves_the_seam_and_not_the_finished_size() -> None:
    project = check(turn_of_cloth="1/16 in")
    assert size_in(project.finished) == [4.5, 7]
    left, top, right, bottom = project.seam.bounds
    # an eighth more each way: 4 5/8 × 7 1/8
    assert size_in((right - left, bottom - top)) == [4.625, 7.125]


def test_tack_downs_go_all_round_what_they_hold_but_for_the_openings() -> None:
    # In mm: the tack-downs are a box of 114.3 + 2 by 177.8 + 2, 1 mm outside the seam.
    project, across, down = check(), 116.3, 179.8
    # The outer pieces: all round, less the coil gap of 6.35 and 2 × 2 beside it, both sides.
    assert cord(line(project, "outer-tack").paths).length == pytest.approx(
        2 * (across + down) - 2 * (6.35 + 4)
    )
    # A pocket at each end: its mouth is open; the sides are its depth and 1 mm.
    # One line for all of a stack, along the largest.
    assert [one.length for one in line(project, "pocket-tack").paths] == pytest.approx(
        [across + 2 * (2.75 * INCH + 1)] * 2
    )
    # The pouch lining: from the top to half of the 12 mm past the fold line, less the zip
    # of 25 mm at both sides; its floor is a line of its own.
    held, floor = line(project, "pouch-tack"), line(project, "pouch-floor")
    assert floor.role is Role.TOP_STITCH  # it shows on the outside
    assert cord(held.paths).length + cord(floor.paths).length == pytest.approx(
        2 * (across + down / 2 + 6) - 2 * 25
    )


# --- What must hold at any size ---------------------------------------------------------


@st.composite
def wallets(draw: st.DrawFn) -> Project:
    """Draw a wallet of any size and choice that the recipe's conditions allow."""
    pockets = draw(st.integers(1, 4))
    front = draw(st.integers(40, 90))
    least = 2 * (front + 8 * pockets)
    asked: dict[str, str | float] = {
        "width": draw(st.integers(75, 330)),
        "height": draw(st.integers(max(130, least), 360)),
        "pockets": str(pockets),
        "front_depth": front,
        "pouch": draw(st.sampled_from(["short", "long"])),
        "tab": draw(st.sampled_from(["ribbon", "fabric", "none"])),
        "corners": draw(st.sampled_from(["square", "rounded"])),
        "coil_gap": draw(st.sampled_from([5, 6.5, 10])),
        "side_allowance": draw(st.sampled_from([5, 6.5, 10])),
        "end_allowance": draw(st.sampled_from([8, 12, 15])),
        "turn_of_cloth": draw(st.sampled_from([0, 0.4, 1, 2.3])),
    }
    return laid(WALLET, asked)


# A wallet is laid out as it is drawn: no clock is to judge that.
some = settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow])


@given(wallets())
@some
def test_tack_downs_run_outside_the_seam_and_inside_the_cut_edge_of_what_they_hold(
    project: Project,
) -> None:
    seam = field(project.seam)
    for one in project.lines:
        if one.role is not Role.TACK_DOWN or one.name in MEANT_INSIDE:
            continue
        held = _held_by(project, one)
        cloth = shapely.union_all([field(layer.outline) for layer in held])
        stitched = cord(one.paths)
        # 3 mm is what the recipe's conditions leave to the edge.
        reach = stitched.buffer(2.9, cap_style="flat")
        if one.name == "tab-tack":
            reach = stitched.buffer(0.9, cap_style="flat")  # its raw ends are close by
        assert cloth.buffer(1e-6).covers(reach.difference(_zip_way(project)))
        # The line behind the gap lies half a millimetre outside the seam: there it is the edge.
        least = {"tab-tack": 0.1, "closing": 0.5}.get(one.name, 1.0)
        assert stitched.distance(seam) >= least - 1e-6


def _zip_way(project: Project) -> shapely.Polygon:
    """Where the zip lies, which is not covered by the pieces it parts."""
    (zip_layer,) = layers(project, "zip")
    return field(zip_layer.outline)


def _held_by(project: Project, tack: Line) -> list[Layer]:
    names = {
        "outer-tack": ["upper-outer", "lower-outer"],
        "pouch-tack": ["pouch-lining"],
        "tab-tack": ["tab", "ribbon"],
        "pocket-tack": [one.name for one in project.pieces if one.name.startswith("pocket[")],
        "closing": ["lower-outer"],
    }[tack.name]
    held = [layer for name in names for layer in layers(project, name)]
    assert held, tack.name
    return held


@given(wallets())
@some
def test_nothing_is_stitched_inside_the_seam_but_what_holds_the_zip_and_ends_the_pouch(
    project: Project,
) -> None:
    laid_something = step_of(project, "zip").number
    inside = field(project.seam).buffer(-0.01)
    crossing = {
        one.name
        for step in project.steps
        if step.number > laid_something
        for one in step.lines
        if cord(one.paths).intersects(inside)
    }
    meant = MEANT_INSIDE | ({"pouch-floor"} if project.choices[0][2] == "short" else set())
    assert crossing == meant
    for name in MEANT_INSIDE:
        assert not cord(line(project, name).paths).intersects(_slit(project))
    if "pouch-floor" in crossing:
        _, above, _, below = cord(line(project, "pouch-floor").paths).bounds
        assert above == below
        assert 0 < below < layers(project, "pouch-lining")[0].outline.bounds[3]


def _slit(project: Project) -> shapely.LineString:
    (zip_layer,) = layers(project, "zip")
    assert zip_layer.slit is not None
    return shapely.LineString(zip_layer.slit)


@given(wallets())
@some
def test_the_slider_is_pulled_inside_before_the_first_line_across_the_zip(
    project: Project,
) -> None:
    zip_laid = step_of(project, "zip").number
    crossing = [
        step.number
        for step in project.steps
        if step.number > zip_laid
        and any(cord(one.paths).intersects(_slit(project)) for one in step.lines)
    ]
    (opened,) = (step.number for step in project.steps if step.act is Act.OPEN_ZIP)
    assert crossing
    assert zip_laid < opened < crossing[0]
    # The zip is 2 in longer than the cut width: an inch at each end, of which 10 mm are tape
    # beyond the stops. So the stops lie even outside the cut edges, by 15.4 mm.
    (x0, _), (x1, _) = _slit(project).coords
    cut = layers(project, "lining")[0].outline.bounds
    assert x0 <= cut[0] - 15.4 + 1e-6
    assert x1 >= cut[2] + 15.4 - 1e-6


@given(wallets())
@some
def test_the_pouch_tack_down_leaves_the_whole_zip_free(project: Project) -> None:
    assert not cord(line(project, "pouch-tack").paths).intersects(_zip_way(project).buffer(-1e-6))
    # Round but for that: a run above the zip, and below it one, or two that end at the floor.
    short = project.choices[0][2] == "short"
    assert len(line(project, "pouch-tack").paths) == (3 if short else 2)


@given(wallets())
@some
def test_the_folded_edges_at_the_coil_are_the_gap_apart_and_the_zip_lies_in_its_middle(
    project: Project,
) -> None:
    (upper,), (lower,) = layers(project, "upper-outer"), layers(project, "lower-outer")
    ((_, over), _), ((_, under), _) = upper.folded_edges[0], lower.folded_edges[0]
    assert under - over == pytest.approx(length(project, "coil_gap"))
    assert (under + over) / 2 == pytest.approx(_slit(project).bounds[1])
    assert over == pytest.approx(upper.outline.bounds[3])
    assert under == pytest.approx(lower.outline.bounds[1])
    top = project.seam.bounds[1]
    assert (under + over) / 2 - top == pytest.approx(length(project, "zip_below_top"))


@given(wallets())
@some
def test_raw_edges_that_the_seam_must_catch_lie_past_it_by_their_allowance(
    project: Project,
) -> None:
    side, end = length(project, "side_allowance"), length(project, "end_allowance")
    outer = length(project, "outer_past_end")
    tab = length(project, "tab_past_seam")
    seam = project.seam.bounds
    for step in project.steps:
        for layer in step.layers:
            bounds = layer.outline.bounds
            past = dict(
                zip(
                    ("left", "top", "right", "bottom"),
                    (seam[0] - bounds[0], seam[1] - bounds[1], bounds[2] - seam[2],
                     bounds[3] - seam[3]),
                    strict=True,
                )
            )  # fmt: skip
            if layer.piece == "zip":
                assert past["left"] >= side + 25.4 - 1e-6
                assert past["right"] >= side + 25.4 - 1e-6
                continue
            if layer.piece in ("tab", "ribbon"):
                assert past["bottom"] == pytest.approx(tab)
                continue
            wanted = {"left": side, "right": side}
            ends = _raw_ends(project, layer)
            wanted |= dict.fromkeys(ends, outer if "outer" in layer.piece else end)
            assert ends or layer.piece == "pouch-lining"
            for name, least in wanted.items():
                # and by no more than rounding up to a whole millimetre adds
                assert least - 1e-6 <= past[name] < least + 1 + 1e-6, (layer.piece, name)


def _raw_ends(project: Project, layer: Layer) -> set[str]:
    """Ends of the wallet that a layer runs out at; its other end is a fold or covered."""
    if layer.piece == "lining":
        return {"top", "bottom"}
    if layer.piece == "pouch-lining":
        return {"top", "bottom"} if project.choices[0][2] == "long" else {"top"}
    ((_, y), _) = layer.folded_edges[0]
    return {"top"} if y == pytest.approx(layer.outline.bounds[3]) else {"bottom"}


@given(wallets())
@some
def test_laid_pieces_are_as_large_as_their_folded_size_and_plies_follow_the_folds(
    project: Project,
) -> None:
    for one in project.pieces:
        found = layers(project, one.name)
        assert len(found) == one.quantity
        for layer in found:
            left, top, right, bottom = layer.outline.bounds
            assert (right - left, bottom - top) == pytest.approx(one.folded)
            cut, folded = one.cut[0] * one.cut[1], one.folded[0] * one.folded[1]
            assert layer.plies == pytest.approx(cut / folded)


@given(wallets())
@some
def test_cut_sizes_are_whole_ruler_marks_at_any_size(project: Project) -> None:
    for one in project.pieces:
        assert np.array(one.cut) == pytest.approx(np.round(one.cut))  # millimetres


@pytest.mark.parametrize(
    ("asked", "said", "remedy"),
    [
        # half of 110 mm is 55, with 1 mm turn of cloth 56; a front pocket for a packet of 76 is
        # 38 + 13 = 51 deep: two leave (56 - 51)/2 = 2.5, and 56 - 2 × 8 = 40 would do
        ({"height": "110"}, "2 pockets leave 2.5 mm", "a front pocket of at most 40 mm"),
        # (75 - 51)/4 = 6; 2 × (51 + 4 × 8 - 1) = 164
        ({"height": "148", "pockets": "4"}, "4 pockets leave 6 mm", "at least 164 mm"),
        ({"front_depth": "100"}, "the front pocket is 100 mm", "higher than 230 mm"),
        ({"zip_below_top": "80"}, "reaches over the fold line", "at most 71.5 mm"),
        ({"side_allowance": "5", "tack_offset": "2"}, "too near to the edge", "at least 5.5 mm"),
    ],
)
def test_what_cannot_be_sewn_is_refused_with_the_length_that_would_do(
    asked: dict[str, str], said: str, remedy: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        laid(WALLET, asked)
    stops = [one for one in caught.value.findings if one.stops]
    assert any(said in says(one) and remedy in mends(one) for one in stops), stops
