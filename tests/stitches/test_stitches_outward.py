"""A seam's zigzag has its inner points on the seam line and swings outside it alone.

So it must be in cloth (common practice, no source): swung to both sides it would sew the
finished edge narrower by half its width, and its thread would show there.
"""

import math
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from layout_orders import COASTER, Asked, recipe_of, stitched, trial
from stitches_shapes import NOISE, Floats, hits, needles_mm, polyline, step
from stitches_shapes import line as line_with
from stitches_shapes import stitch as how
from told import mends, says

from paramgen.sizing import size
from paramgen.stitches.needle_points import Run
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Line
from paramgen.vocabulary.unit import Unit
from paramgen.works import stitch

#: A needle point is rounded to the grid of 0.1 mm in x and in y: by half its diagonal, 0.071 mm.
ROUNDED = 0.11

RECIPE = """
format = 1
title = "Row marker"
summary = "A marker for a row of seedlings."
sizes.width = {{ means = "finished width", default = "80mm", least = "20mm", most = "300mm" }}
sizes.height = {{ means = "finished height", default = "40mm", least = "20mm", most = "300mm" }}
finish = {{ way = "raw edge", finished = "seam", seam = "seam" }}

[outlines.seam]
{outline}

[pieces.front]
title = "front"
fabric = "felt"
around = "seam"
past = "5"

[lines.seam]
title = "seam"
role = "seam"
along = "seam"
{gaps}

[[steps]]
title = "Lay the front"
lay = [{{ piece = "front", side = "front", up = "right" }}]
say = "Lay the felt, to be {{width}} by {{height}}."

[[steps]]
title = "Seam"
stitch = ["seam"]
say = "Stitch it."
"""

#: Outlines of 20 × 20 mm or more: what lies to one side of an edge is not near another.
OUTLINES = (
    'shape = "rectangle"\nwidth = "width"\nheight = "height"',
    'shape = "rectangle"\nwidth = "width"\nheight = "height"\nrounded = "min(width, height) / 3"',
    'shape = "rectangle"\nwidth = "width"\nheight = "height"\ncut = "min(width, height) / 4"',
    # No slimmer than 1 : 5: the ends of slimmer ones are as good as corners.
    'shape = "oval"\nwidth = "max(width, height / 5)"\nheight = "max(height, width / 5)"',
    'shape = "regular polygon"\nsides = "3 + height % 6 // 1"\nacross = "width + height"',
    # One that runs anticlockwise as written, one with a square notch, one with a sharp one.
    'shape = "polygon"\npoints = [["0", "0"], ["0", "height"], ["width", "height"]]',
    (
        'shape = "polygon"\npoints = [["0", "0"], ["width", "0"], ["width", "height / 2"], '
        '["width / 2", "height / 2"], ["width / 2", "height"], ["0", "height"]]'
    ),
    (
        'shape = "polygon"\npoints = [["0", "0"], ["width", "0"], ["width", "height"], '
        '["0", "height"], ["width / 2", "height / 2"]]'
    ),
    # Round below, with a hollow at the top.
    (
        'shape = "path"\nstart = ["-width / 2", "0"]\nthen = [{ through = ["0", "5"], to = '
        '["width / 2", "0"] }, ["width / 2", "height"], { through = ["0", "height + width / 2"], '
        'to = ["-width / 2", "height"] }]'
    ),
)
GAPS = (
    "",
    'gaps = [{ on = "flattest", length = "9" }]',
    (
        'gaps = [{ on = "flattest", length = "9" }]\nclear_of = ["window"]\n[outlines.window]\n'
        'shape = "oval"\nwidth = "width / 3"\nheight = "2 * height"'
    ),
)


def beyond(outline: Path, points: Floats) -> Floats:
    """How far points lie outside an outline, mm; negative inside."""
    ring = shapely.Polygon(outline.points)
    away = shapely.distance(ring.exterior, shapely.points(points))
    return np.where(shapely.contains_xy(ring, points[:, 0], points[:, 1]), -away, away)


def is_outside_alone(outline: Path, points: Floats, swing: float) -> None:
    out = beyond(outline, points)
    assert out.min() >= -ROUNDED
    assert out.max() <= swing + ROUNDED
    assert out.max() >= swing - ROUNDED
    # Neither pass leaves the line for good: half of the zigzag lies on it too.
    assert (np.abs(out) <= ROUNDED).mean() > 0.5


def sewn_from(seam: Line, place: tuple[float, float]) -> Run:
    """Sew one path after a small triangle at a place, so that it begins there."""
    x, y = place
    corner = polyline([(x, y), (x + 1, y), (x, y + 1)], closed=True).path
    before = replace(seam, stitch=how(StitchKind.RUN), paths=(corner,))
    (_, sewn), findings = sew([step(before, number=1), step(seam, number=2)])
    assert findings == ()
    (run,) = sewn.runs
    return run


@settings(max_examples=120)
@given(
    st.sampled_from(OUTLINES),
    st.sampled_from(GAPS),
    st.booleans(),
    st.floats(35, 150),
    st.floats(35, 150),
    st.floats(0.8, 4),
)
# A notch of 2 · atan(35 / 150) = 26°, narrower than the first swing is steep.
@example(OUTLINES[7], "", False, 150.0, 35.0, 4.0)
def test_every_needle_point_of_a_seam_is_on_its_line_or_outside_it(
    outline: str, gaps: str, turned: bool, width: float, height: float, swing: float
) -> None:
    recipe = recipe_of(RECIPE.format(outline=outline, gaps=gaps))
    asked = {"width": width, "height": height, "seam_swing": swing}
    made = stitch(size(recipe, asked, unit=Unit.MM), turned=turned)
    needles = np.concatenate([needles_mm(run) for run in made.sewn[0].runs])
    is_outside_alone(made.project.seam, needles, swing)


@settings(max_examples=40)
@given(st.sampled_from(OUTLINES), st.sampled_from(GAPS[1:]), st.booleans(), st.integers(0, 3))
def test_a_seam_sewn_from_its_other_end_swings_to_the_same_side(
    outline: str, gaps: str, turned: bool, which: int
) -> None:
    recipe = recipe_of(RECIPE.format(outline=outline, gaps=gaps))
    project = stitch(size(recipe, {"width": 90, "height": 60}, unit=Unit.MM), turned=turned).project
    (seam,) = project.lines
    paths = seam.paths
    seam = replace(seam, paths=(paths[which % len(paths)],))
    ends = [tuple(seam.paths[0].points[at].tolist()) for at in (0, -1)]
    holes = []
    for end in ends:
        run = sewn_from(seam, end)
        first = needles_mm(run)[run.ties[0]]
        assert math.dist(first, end) <= ROUNDED
        is_outside_alone(project.seam, needles_mm(run), seam.stitch.swing)
        holes.append({tuple(hole) for hole in run.needles[run.ties[0] :].tolist()})
    # Each has a back-stitch of its own at the far end, and a tie.
    assert len(holes[0] ^ holes[1]) <= 4


def test_out_and_back_on_the_line_between_corners() -> None:
    """5 mm in advances of 1.2 mm or less: 5 of them, and as it must come back, 6 of 5 / 6 mm."""
    seam = line_of(polyline([(0, 0), (5, 0)]).path, spacing=1.2)
    run = sewn_from(seam, (5, 0))
    zigzag = needles_mm(run)[: -run.ties[1]][-6:]
    x = [5 / 6, 10 / 6, 15 / 6, 20 / 6, 25 / 6, 5]
    exact = np.stack([x, [-2.0, 0, -2, 0, -2, 0]], axis=1)
    assert np.abs(zigzag - exact).max() <= 0.05 + NOISE


def test_in_a_notch_it_goes_no_further_than_the_other_edge() -> None:
    """Edges of 25 mm that run 3 : 4 to the axis meet in an angle whose tangent is 24/7. The first
    swing, 0.5 mm from its corner, reaches the other edge after 0.5 · 24/7 = 1.71 mm, at 0.5 /
    (7/25) = 1.79 mm from the corner: x 1.43 mm, y 1.07 mm. The next, at 1.5 mm, has 5.14 mm."""
    apart = polyline([(20, -15), (0, 0), (20, 15)]).path
    found = needles_mm(sewn_from(line_of(apart, swing=4, spacing=0.5), (20, 15)))
    for y in (-1.07, 1.07):
        assert hits(found, (1.43, y)).any()
    # 1.5 mm along and 4 mm aside: 1.2 + 2.4, 0.9 - 3.2.
    for y in (-2.3, 2.3):
        assert hits(found, (3.6, y)).any()
    assert found[:, 0].min() >= -0.05


def test_the_swing_said_to_be_enough_for_a_seam_is() -> None:
    """0.2 mm on and 0.3 mm aside are 0.36 mm; 0.5 mm aside alone are enough on any grid."""
    path = polyline([(0, 0), (10, 0)]).path
    _, (found,) = sew([step(line_of(path, swing=0.3, spacing=0.2))])
    assert found.code == "zigzag-too-narrow"
    assert "a swing of 0.5 mm or more" in mends(found)
    assert found.amount == pytest.approx(0.2)
    _, found_then = sew([step(line_of(path, swing=0.5, spacing=0.2))])
    assert found_then == ()


def line_of(path: Path, swing: float = 2, spacing: float = 1) -> Line:
    return line_with(how(StitchKind.SEAM, swing=swing, spacing=spacing), path)


@pytest.mark.parametrize("swing", [0.8, 1.5, 3.0, 4.0])
def test_the_hoop_must_have_room_for_the_swing_or_the_tack_down(swing: float) -> None:
    """The seam box of a coaster is 0.5 mm outside its size, its tack-down 2 mm outside that."""
    asked: Asked = {"outline": "rectangle", "width": 120, "height": 90, "seam_swing": swing}
    more = 2 * 0.5 + 2 * max(swing, 2)
    assert stitched(COASTER, asked).needs == pytest.approx((120 + more, 90 + more))


# --- Lines that follow no outline -------------------------------------------------------

RIGHT = '[["40", "-15"], ["40", "15"]]'
UP = '[["40", "15"], ["40", "-15"]]'
#: In the allowance, 2 mm outside the seam line, round its corner.
ROUND = '[["-10", "22"], ["40", "22"], { through = ["41.4", "21.4"], to = ["42", "20"] }]'
INSIDE = '[["38", "-15"], ["38", "15"]]'
ACROSS = '[["30", "0"], ["50", "0"]]'
TURNS_IN = '[["40", "-15"], ["40", "10"], ["38", "10"]]'


@pytest.mark.parametrize(
    "table",
    ['run = [{ of = "finished", edge = "right" }]', f"points = [{RIGHT}]", f"points = [{UP}]"],
)
def test_an_open_seam_on_the_seam_line_swings_away_from_the_work(table: str) -> None:
    """The right edge of a tag 80 mm wide, however its points are given."""
    seam = trial(f'role = "seam"\n{table}')
    x = needles_mm(sewn_from(seam, (40, 0)))[:, 0]
    assert (x.min(), x.max()) == pytest.approx((40, 41.5))


@pytest.mark.parametrize(
    ("points", "outward"),
    [
        (RIGHT, True),
        (UP, True),
        (ROUND, True),
        (f"{UP}, {ROUND}", True),
        (INSIDE, False),
        (ACROSS, False),
        (TURNS_IN, False),
        (f"{UP}, {ACROSS}", False),
    ],
)
def test_where_the_outside_cannot_be_told_a_seam_swings_to_both_sides(
    points: str, outward: bool
) -> None:
    seam = trial(f'role = "seam"\npoints = [{points}]')
    assert seam.stitch.outward is outward
    ring = shapely.box(-40, -20, 40, 20)
    needles = np.concatenate(
        [needles_mm(sewn_from(replace(seam, paths=(one,)), (0, 0))) for one in seam.paths]
    )
    away = [shapely.LineString(one.points) for one in seam.paths]
    off = np.min([shapely.distance(one, shapely.points(needles)) for one in away], axis=0)
    assert off.max() == pytest.approx(1.5 if outward else 0.75, abs=ROUNDED)
    if outward:
        assert shapely.distance(ring, shapely.points(needles[off > ROUNDED])).min() > 1


def test_a_recipe_may_say_which_way_a_zigzag_swings() -> None:
    for stitch_key, said, outward in (
        ("seam", None, True),
        ("seam", "both sides", False),
        ("zigzag", None, False),
        ("zigzag", "both sides", False),
        ("zigzag", "outside", True),
    ):
        table = f'along = "finished"\nstitch = "{stitch_key}"'
        table += f'\nswing_to = "{said}"' if said else ""
        assert trial(table).stitch.outward is outward


def test_an_outside_that_is_asked_for_and_cannot_be_told_is_refused() -> None:
    with pytest.raises(CannotMakeError) as refused:
        trial(f'stitch = "zigzag"\nswing_to = "outside"\npoints = [{INSIDE}]')
    (finding,) = refused.value.findings
    assert re.match(r"line `trial`: .* no telling which side that is", says(finding))


def test_a_satin_edge_outside_a_line_ends_on_it() -> None:
    """A close zigzag along a rectangle of 80 × 40 mm, 3 mm wide: it reaches 3 mm out, not in."""
    edge = trial(
        'along = "finished"\nstitch = "zigzag"\nswing_to = "outside"\nswing = "3"\nspacing = "0.4"'
    )
    needles = needles_mm(sewn_from(edge, (40, 20)))
    ring = shapely.box(-40, -20, 40, 20)
    away = shapely.distance(ring, shapely.points(needles))
    inside = shapely.contains(ring, shapely.points(needles))
    assert not inside.any()
    assert away.max() == pytest.approx(3)
