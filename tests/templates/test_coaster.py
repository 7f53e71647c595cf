"""Turned flat goods in all their outlines: size, turning gap, padding."""

import math
from functools import cache
from itertools import product

import numpy as np
import pytest
import shapely
from geometry_shapes import curve_error, distances, middles
from layout_orders import COASTER, laid, layers, line, piece
from told import mends, says

from paramgen.finished.all_findings import prove
from paramgen.vocabulary.findings import CannotMakeError, Severity
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Project

#: Asked, and the finished width and height that come of it.
OUTLINES = [
    ({"outline": "square", "width": 90}, (90, 90)),
    ({"outline": "square", "width": 330}, (330, 330)),
    ({"outline": "rectangle", "width": 140, "height": 95}, (140, 95)),
    ({"outline": "rectangle", "width": 80, "height": 200}, (80, 200)),
    ({"outline": "rounded", "width": 108}, (108, 108)),
    ({"outline": "rounded", "width": 90, "height": 160, "corner_radius": 25}, (90, 160)),
    ({"outline": "round", "width": 50}, (50, 50)),
    ({"outline": "round", "width": 108}, (108, 108)),
    ({"outline": "oval", "width": 150, "height": 90}, (150, 90)),
    ({"outline": "oval", "width": 70, "height": 120}, (70, 120)),
    # Corner to corner across the middle is the width of a polygon with an even number of
    # sides that has a flat one below; from flat to flat a hexagon has cos 30° of it.
    ({"outline": "polygon", "sides": "6", "width": 120}, (120, 120 * math.cos(math.pi / 6))),
    # An octagon stands on a flat side and has flat sides at the left and right.
    (
        {"outline": "polygon", "sides": "8", "width": 200},
        (200 * math.cos(math.pi / 8), 200 * math.cos(math.pi / 8)),
    ),
    # A triangle: side 150 sin 60°, as high as r + r/2
    ({"outline": "polygon", "sides": "3", "width": 150}, (150 * math.sin(math.pi / 3), 112.5)),
    # A pentagon: widest 150 sin 72°, as high as r + r cos 36°
    (
        {"outline": "polygon", "sides": "5", "width": 150},
        (150 * math.sin(math.radians(72)), 75 * (1 + math.cos(math.pi / 5))),
    ),
]
every_one = pytest.mark.parametrize(
    ("asked", "finished", "padding"),
    [(asked, size, padded) for (asked, size), padded in product(OUTLINES, ("batting", "none"))],
)


def field(outline: Path) -> shapely.Polygon:
    return shapely.Polygon(outline.points)


def coaster(asked: dict[str, str | float]) -> Project:
    """Lay a coaster out, once for all tests that ask for the same."""
    return _coaster(tuple(asked.items()))


@cache
def _coaster(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(COASTER, dict(asked))


def gap_of(project: Project) -> tuple[float, Path, Path]:
    """Length of the turning gap along the seam, and the lines it lies between."""
    (seam,) = line(project, "seam").paths
    return project.seam.length - seam.length, seam, project.seam


@every_one
def test_the_finished_size_is_as_asked(
    asked: dict[str, str | float], finished: tuple[float, float], padding: str
) -> None:
    project = coaster({**asked, "padding": padding})
    assert project.finished == pytest.approx(finished)
    # Of an outline with a curve or square corners the seam is the turn of cloth larger all
    # round; at the corners of a polygon the mitre takes it farther.
    left, top, right, bottom = project.seam.bounds
    assert right - left >= finished[0] + 1 - 1e-6
    assert bottom - top >= finished[1] + 1 - 1e-6
    # Without turn of cloth the seam is the finished outline; with it, 0.5 mm outside that.
    bare = coaster({**asked, "padding": padding, "turn_of_cloth": 0}).seam
    away = distances(middles(project.seam), bare)
    assert away == pytest.approx(np.full(len(away), 0.5), abs=1e-3)


@every_one
def test_top_and_back_lie_past_the_seam_by_the_allowance_on_every_side(
    asked: dict[str, str | float], finished: tuple[float, float], padding: str
) -> None:
    project = coaster({**asked, "padding": padding})
    seam = np.array(project.seam.bounds)
    curved = asked["outline"] in ("rounded", "round", "oval")
    for name, up in (("top", "right"), ("back", "wrong")):
        # The size asked, 0.5 mm of turn of cloth and 12 of allowance on either side, to the next
        # whole millimetre and no farther; at the corners of a polygon the mitre reaches farther.
        over = np.array(piece(project, name).cut) - finished - 2 * (0.5 + 12)
        assert over.min() >= -1e-6
        assert over.max() < 1 or asked["outline"] == "polygon"
        (layer,) = layers(project, name)
        past = (np.array(layer.outline.bounds) - seam) * [-1, -1, 1, 1]
        # What is drawn beside a curve reaches past it, as its chords meet in corners: by so little
        # that the seam seems to come nearer to the edge, and the allowance of the curve is whole.
        assert past.min() >= 12 - (1e-5 if curved else 1e-6)
        assert past.max() < 12 + 0.5 + 1e-6  # up to a whole millimetre, half on each side
        assert (layer.side, layer.up) == ("front", up)


@every_one
def test_batting_lies_inside_the_seam_and_is_held_inside_its_own_edge(
    asked: dict[str, str | float], finished: tuple[float, float], padding: str
) -> None:
    project = coaster({**asked, "padding": padding})
    if padding == "none":
        assert "batting" not in {one.name for one in project.pieces}
        assert "batting-tack" not in {one.name for one in project.lines}
        return
    (layer,) = layers(project, "batting")
    seam, pad = field(project.seam), field(layer.outline)
    assert seam.covers(pad)
    assert seam.exterior.distance(pad) == pytest.approx(1, abs=1e-3)
    (hold,) = line(project, "batting-tack").paths
    held = shapely.LinearRing(hold.points)
    assert pad.covers(held)
    assert pad.exterior.distance(held) == pytest.approx(4, abs=1e-3)


@every_one
def test_the_top_is_tacked_outside_the_seam_and_inside_its_edge(
    asked: dict[str, str | float], finished: tuple[float, float], padding: str
) -> None:
    project = coaster({**asked, "padding": padding})
    (tack,) = line(project, "top-tack").paths
    ring = shapely.LinearRing(tack.points)
    assert field(project.seam).distance(ring) == pytest.approx(2, abs=1e-3)
    (top,) = layers(project, "top")
    assert field(top.outline).buffer(-5).covers(ring)
    (trim,) = (step.mark[0] for step in project.steps if step.act is Act.TRIM)
    assert field(project.seam).distance(shapely.LinearRing(trim.points)) == pytest.approx(
        3.2, abs=1e-3
    )


@every_one
def test_the_turning_gap_lies_on_a_straight_run_or_on_the_flattest_of_a_curve(
    asked: dict[str, str | float], finished: tuple[float, float], padding: str
) -> None:
    project = coaster({**asked, "padding": padding})
    gap, seam, whole = gap_of(project)
    # The line starts where the gap ends.
    (x0, y0), (x1, y1) = seam.points[-1], seam.points[0]
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    _, _, right, bottom = whole.bounds
    on_side = finished[1] > finished[0] and asked["outline"] != "polygon"
    if asked["outline"] in ("round", "oval"):
        assert middle[1 if on_side else 0] == pytest.approx(0, abs=0.3)
        assert abs(x0) > right / 2 if on_side else y0 > bottom / 2
        return
    assert math.hypot(x1 - x0, y1 - y0) == pytest.approx(gap)
    if on_side:
        assert (abs(middle[0]), middle[1]) == pytest.approx((right, 0))
    else:
        assert middle == pytest.approx((0, bottom))
    # Clear of the nearest corners, or of where they begin to round, by 10 mm; of the blunt ones of
    # a polygon of five sides and more by 6.
    clear = 6 if asked["outline"] == "polygon" and int(asked["sides"]) >= 5 else 10
    corners = whole.points[np.hypot(*(whole.points - middle).T) > 1e-6]
    assert np.hypot(*(corners - [x0, y0]).T).min() >= clear - 1e-6
    assert np.hypot(*(corners - [x1, y1]).T).min() >= clear - 1e-6
    assert "gap-near-corner" not in {one.code for one in prove(project).findings}


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        # Straight: the longest side less 10 mm at both ends, at most 65.
        ({"outline": "square", "width": 80}, 60),
        ({"outline": "square", "width": 108}, 65),
        ({"outline": "square", "width": 108, "gap_most": 80}, 80),
        ({"outline": "rectangle", "width": 60, "height": 82}, 62),
        # less the corners too: 108 - 2 × 20 - 20 = 48
        ({"outline": "rounded", "width": 108, "corner_radius": 20}, 48),
        # Curved: half the larger size, at most 65.
        ({"outline": "round", "width": 90}, 45),
        ({"outline": "oval", "width": 100, "height": 60}, 50),
        ({"outline": "oval", "width": 60, "height": 160}, 65),
        # A hexagon's side is half its width, and its corners are blunt: 108 / 2 - 12
        ({"outline": "polygon", "sides": "6", "width": 108}, 42),
        # 330 sin(180°/12) = 85.41; less 12 is 73.41, at most 65
        ({"outline": "polygon", "sides": "12", "width": 330}, 65),
        # A triangle's corners are sharp: 150 sin 60° = 129.90, less 20 at most 65; of 90 less 20
        ({"outline": "polygon", "sides": "3", "width": 90}, 90 * math.sin(math.pi / 3) - 20),
    ],
)
def test_the_gap_is_as_long_as_the_side_allows(
    asked: dict[str, str | float], wanted: float
) -> None:
    gap, _, _ = gap_of(laid(COASTER, asked))
    assert gap == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("sides", range(3, 13))
def test_a_polygon_s_side_is_the_width_times_the_sine_of_half_its_angle(sides: int) -> None:
    # A side of a regular polygon with n corners on a circle of diameter D spans the angle
    # 360°/n at the middle; half of it is (D/2) sin(180°/n).
    project = laid(
        COASTER, {"outline": "polygon", "sides": str(sides), "width": 330, "turn_of_cloth": 0}
    )
    side = 330 * math.sin(math.pi / sides)
    assert np.hypot(*project.seam.chords.T) == pytest.approx(np.full(sides, side))
    assert len(project.seam.corners) == sides


def test_a_round_one_is_cut_and_trimmed_round() -> None:
    project = laid(COASTER, {"outline": "round", "width": 100})
    # Seam: 100 + 2 × 0.5; batting 1 mm inside it: a disc of 99.
    batting = piece(project, "batting")
    assert batting.cut == pytest.approx((99, 99))
    area = shapely.Polygon(batting.outline.points).area
    assert area == pytest.approx(math.pi * 49.5**2, abs=curve_error(math.pi * 99))
    assert project.seam.length == pytest.approx(math.pi * 101, abs=0.01)


def test_rounded_corners_have_the_radius_asked() -> None:
    # Rounding takes (4 - π) r² from the area; the seam is the finished outline without turn
    # of cloth.
    project = coaster({"width": 120, "height": 90, "corner_radius": 18, "turn_of_cloth": 0})
    assert field(project.seam).area == pytest.approx(120 * 90 - (4 - math.pi) * 18**2, abs=0.01)
    assert len(project.seam.corners) == 0


def test_every_line_but_the_seam_runs_all_round() -> None:
    for one in laid(COASTER, {}).lines:
        assert [path.closed for path in one.paths] == [one.role is not Role.SEAM]


@pytest.mark.parametrize("outline", ["square", "round"])
def test_a_height_that_reads_like_the_width_is_the_same(outline: str) -> None:
    # 4 5/8 in is 117.475 mm, which a person reads as 117.5.
    assert coaster({"outline": outline, "width": "4 5/8 in", "height": 117.5}).findings == ()


def test_a_polygon_says_how_high_it_is_where_a_height_was_asked_for() -> None:
    # A hexagon of 90 from corner to corner is 90 cos 30° = 77.94 from side to side.
    assert coaster({"outline": "polygon", "width": 90}).findings == ()
    (told,) = coaster({"outline": "polygon", "width": 90, "height": 90}).findings
    assert told.severity is Severity.KNOW
    assert says(told) == (
        "height 90 mm (3 9/16 in) is asked for; finished it is 77.9 mm (3 1/16 in) high"
    )


def test_an_oval_that_is_a_circle_says_so() -> None:
    (told,) = coaster({"outline": "oval", "width": 90}).findings
    assert told.severity is Severity.KNOW
    assert "90 mm (3 9/16 in): a circle" in says(told)
    assert coaster({"outline": "oval", "width": 90, "height": 80}).findings == ()
    assert coaster({"outline": "round", "width": 90}).findings == ()


@pytest.mark.parametrize(
    ("asked", "said", "remedy"),
    [
        (
            {"outline": "polygon", "width": 90, "height": 100},
            "a regular polygon has one size, its width from corner to opposite corner, 90 mm",
            "Leave height out",
        ),
        (
            {"outline": "square", "width": 90, "height": 100},
            "as high as it is wide; 90 mm",
            "Leave height out",
        ),
        # radius 52: 2 × 52 > 108 - 10; at most 108/2 - 5 = 49
        ({"corner_radius": 52}, "corners of radius 52 mm", "at most 49 mm"),
        # A side of 75 sin 15° = 19.41 has, less 12, no room for 0.4 of it. On the seam, 0.5
        # outside it, it is 2 × 0.5 tan 15° = 0.27 longer: one of (12 + 0.4 × 0.27) / 0.6 has, and
        # 20.18 / sin 15° is 77.97.
        (
            {"outline": "polygon", "sides": "12", "width": 75},
            "a straight side of 19.4 mm",
            "at least 78 mm",
        ),
        # 60 - 2 × (20 + 10) is nothing; (60 + 0.4 × 1) / 0.6 is 100.67, less than 50 + 60.
        ({"width": 60, "corner_radius": 20}, "a straight side of 20 mm", "at least 100.7 mm"),
        # Of 109, less 2 × 20 and 2 × 15, 39 are left, and 0.4 × (105 + 1) are 42.4;
        # (70 + 0.4 × 1) / 0.6 is 117.33.
        (
            {"width": 109, "height": 105, "corner_radius": 20, "gap_clear": 15},
            "no room for a turning gap of 42.4 mm",
            "at least 117.4 mm",
        ),
        ({"allowance": 5, "tack_offset": 2.5}, "too near to the edge", "at least 6 mm"),
        ({"trim_allowance": 12}, "no fabric 12 mm", "at most 11 mm"),
        # Folded in 4 mm inside the seam line, it is caught 2 mm farther in, and 2 past that.
        ({"allowance": 7, "turn_of_cloth": 4}, "is not caught", "at least 8 mm"),
    ],
)
def test_what_cannot_be_sewn_is_refused_with_what_would_do(
    asked: dict[str, str | float], said: str, remedy: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        laid(COASTER, asked)
    stops = [one for one in caught.value.findings if one.stops]
    assert any(said in says(one) and remedy in mends(one) for one in stops), stops


@pytest.mark.parametrize(
    ("asked", "mended"),
    [
        ({"outline": "polygon", "sides": "12", "width": 75}, {"width": 78}),
        ({"width": 60, "corner_radius": 20}, {"width": 100.7}),
        ({"width": 109, "height": 105, "corner_radius": 20, "gap_clear": 15}, {"width": 117.4}),
        ({"allowance": 5, "tack_offset": 2.5}, {"allowance": 6}),
        ({"trim_allowance": 12}, {"trim_allowance": 11}),
        ({"allowance": 7, "turn_of_cloth": 4}, {"allowance": 8}),
    ],
)
def test_just_what_a_remedy_names_is_enough(
    asked: dict[str, str | float], mended: dict[str, str | float]
) -> None:
    project = laid(COASTER, {**asked, **mended})
    assert [one.code for one in prove(project).findings if one.stops] == []


# --- What hands do: common practice, no source --------------------------------------------


@pytest.mark.parametrize(
    ("outline", "act"),
    [
        ("square", Act.CLIP),
        ("rectangle", Act.CLIP),
        ("polygon", Act.CLIP),
        ("rounded", Act.NOTCH),
        ("round", Act.NOTCH),
        ("oval", Act.NOTCH),
    ],
)
def test_corners_are_cut_off_and_outward_curves_notched(outline: str, act: Act) -> None:
    (step,) = (
        one for one in coaster({"outline": outline}).steps if one.act in (Act.CLIP, Act.NOTCH)
    )
    assert step.act is act
    assert ("V's" in step.say) == (act is Act.NOTCH)


@pytest.mark.parametrize("padding", ["batting", "none"])
def test_what_is_laid_is_taped_and_then_stitched_before_anything_else_is_laid(
    padding: str,
) -> None:
    steps = [one for one in coaster({"padding": padding}).steps if one.layers or one.tape]
    assert [one.act for one in steps] == [Act.LAY, Act.TAPE] * (3 if padding == "batting" else 2)
    for lay, tape in zip(steps[::2], steps[1::2], strict=True):
        assert tape.taped == tuple(one.piece for one in lay.layers)


def test_at_the_gap_a_tab_stays_and_the_top_stitching_catches_it() -> None:
    project = coaster({})
    (trim,) = (one for one in project.steps if one.act is Act.TRIM)
    assert "leave a tab of 9 mm" in trim.say
    # 12 mm trimmed, of 20: 3 more
    (wide,) = (
        one
        for one in laid(COASTER, {"allowance": 20, "trim_allowance": 12}).steps
        if one.act is Act.TRIM
    )
    assert "leave a tab of 15 mm" in wide.say
    (last,) = (one for one in project.steps if one.act is Act.TOP_STITCH)
    finished = project.finish.finished
    assert finished is not None
    # 2 mm inside the finished edge, 2.5 inside the seam line: of the 9 folded in it catches 6.5.
    assert last.mark[0].bounds == pytest.approx(
        [at - math.copysign(2, at) for at in finished.bounds]
    )
    acts = [one.act for one in project.steps]
    assert acts.index(Act.PRESS) == acts.index(Act.TOP_STITCH) - 1


def test_every_fabric_is_said() -> None:
    project = coaster({})
    assert {one.role: one.material.name for one in project.fabrics} == {
        "top": "quilting-cotton",
        "back": "quilting-cotton",
        "batting": "batting",
    }


# A corner's allowance reaches its width times tan(half the turn) along the next side, once it is
# folded over: 3.2 mm at a square corner, 1.8 at a hexagon's. How much clear of it: from memory.
@pytest.mark.parametrize(
    ("asked", "short"),
    [
        # The seam's side is 61; less a gap of 60 - 12 = 48, half of the rest is 6.5, of 10.
        ({"outline": "square", "width": 60, "gap_clear": 6}, [3.5]),
        # of a hexagon 60 + 2 × 0.5 tan 30° = 60.58; less 48, 6.29 are left at either end, of 5
        ({"outline": "polygon", "sides": "6", "width": 120, "gap_clear": 6}, []),
    ],
)
def test_a_gap_may_end_nearer_to_a_blunt_corner(
    asked: dict[str, str | float], short: list[float]
) -> None:
    found = prove(laid(COASTER, asked)).findings
    near = [one.amount for one in found if one.code == "gap-near-corner"]
    assert near == pytest.approx(short, abs=1e-3)
