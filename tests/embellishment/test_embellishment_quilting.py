"""Quilting on every panel of every recipe that takes it, at many sizes.

What is checked is worked out here from the project: the seam, the zip's coil, the folds, the snaps.
Distances are those of `ground_limits.py`, facts of the trade; where they bind is looked for here.
"""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from adorned import (
    PANELS,
    adorned,
    as_one,
    found_of,
    needles,
    own_lines,
    own_steps,
    recipe_with,
    sewn_stops,
)
from adorned_clear import ROUNDED, check_clear
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.embellishment.quilting_rows import rows
from paramgen.embellishment.quilting_stippling import stipple
from paramgen.finished.all_findings import prove
from paramgen.layout.lay_out import lay_out
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.unit import Unit

PATTERNS = ("parallel", "crossed", "diamond", "echo", "stippling")


@pytest.mark.parametrize("panel", PANELS, ids=" ".join)
@pytest.mark.parametrize("pattern", PATTERNS)
def test_it_keeps_clear_of_everything(panel: tuple[str, str], pattern: str) -> None:
    recipe, title = panel
    project = adorned(recipe, f"{title}=quilting:{pattern},8mm")
    if not own_lines(project, "quilting"):
        (found,) = [one for one in found_of(project) if one.stops]
        assert found.code == "embellishment-no-room"
        return
    points = needles(project, "quilting")
    check_clear(project, title, points)
    line = as_one(own_lines(project, "quilting"))
    assert shapely.distance(line, shapely.points(points)).max() <= ROUNDED


SIZES = st.tuples(st.floats(110, 190), st.floats(110, 190))


@settings(max_examples=25, deadline=None)
@given(
    SIZES,
    st.sampled_from(PATTERNS),
    st.sampled_from(["upright", "level", "diagonal"]),
    st.floats(5, 40),
)
def test_at_any_size_it_lies_on_the_panel_and_clear(
    sides: tuple[float, float], pattern: str, way: str, spacing: float
) -> None:
    width, height = (f"{side:.2f}" for side in sides)
    on = f"lower outer=quilting:{pattern},{way},{spacing:.2f}mm"
    project = adorned("fold-wallet", on, width=width, height=f"{float(height) + 60:.2f}")
    if own_lines(project, "quilting"):
        check_clear(project, "lower outer", needles(project, "quilting"))


@settings(max_examples=25, deadline=None)
@given(st.floats(60, 320), st.floats(4, 60), st.sampled_from([0.0, 45.0, 90.0, 30.0]))
def test_rows_are_just_so_far_apart_and_about_the_middle(
    side: float, spacing: float, angle: float
) -> None:
    sheet = shapely.box(-side / 2, -side / 2, side / 2, side / 2)
    found = rows(sheet, sheet, angle, spacing)
    turn = np.radians(angle)
    across = np.array([-np.sin(turn), np.cos(turn)])
    at = sorted({round(float(np.dot(one.start, across)), 6) for one in found})
    assert at == pytest.approx([-one for one in reversed(at)], abs=1e-5)  # as many on either side
    assert np.diff(at) == pytest.approx(spacing, abs=1e-5)
    # A row that would still be 6 mm long is there: how far out it can lie is arithmetic.
    if angle in (0.0, 90.0):
        assert len(at) == 2 * int((side / 2 + 1e-9) // spacing) + 1
    else:
        reach = (abs(np.sin(turn)) + abs(np.cos(turn))) * side / 2
        assert reach - at[-1] < spacing + 6.0


def test_spacing_stays_and_the_number_grows() -> None:
    counts = []
    for width in (108, 148, 188):
        project = adorned(
            "coaster", "top=quilting:upright,20mm", width=f"{width}mm", outline="square"
        )
        (line,) = own_lines(project, "quilting")
        rows_at = {round(float(x), 6) for path in line.paths for x in path.points[:, 0]}
        inside = sorted(x for x in rows_at if abs(x) < width / 2)
        assert np.diff(inside) == pytest.approx(20.0)
        counts.append(len(inside))
    # From the middle to the seam it is 54.5, 74.5 and 94.5 mm: rows at 0, 20, 40; to 60; to 80.
    assert counts == [5, 7, 9]


def test_rows_run_out_into_the_allowance_and_are_joined_there() -> None:
    project = adorned("coaster", "top=quilting:upright,10mm", outline="square")
    (line,) = own_lines(project, "quilting")
    seam = project.seam.area
    for path in line.paths:
        ways = shapely.LineString(path.points) - seam
        # Between its first and its last end a run leaves the seam only to come back beside it.
        parts = [one for one in shapely.get_parts(ways) if one.length > 1e-6]
        assert all(one.length <= 4 * 10.0 + 2 * 5.0 for one in parts)
    # 11 rows from -50 to 50; to and fro at the side away from the turning gap.
    assert len(line.paths) < 11


def test_of_raw_edges_nothing_runs_out() -> None:
    project = adorned("plant-tag", "front=quilting:crossed,12mm")
    points = needles(project, "quilting")
    assert shapely.covers(project.seam.area.buffer(-3.9), shapely.points(points)).all()


@pytest.mark.parametrize("pattern", ["parallel", "echo", "stippling"])
@pytest.mark.parametrize("panel", PANELS, ids=" ".join)
def test_no_line_crosses_itself_or_another(panel: tuple[str, str], pattern: str) -> None:
    recipe, title = panel
    project = adorned(recipe, f"{title}=quilting:{pattern},9mm")
    lines = [path.line for one in own_lines(project, "quilting") for path in one.paths]
    assert all(line.is_simple for line in lines)
    if not lines:
        assert [one.code for one in found_of(project)] == ["embellishment-no-room"]
        return
    tree = shapely.STRtree(lines)
    one, other = tree.query(lines, predicate="intersects")
    assert (one == other).all()


@settings(max_examples=20, deadline=None)
@given(st.floats(20, 200), st.floats(20, 200), st.floats(4, 30))
def test_stippling_never_crosses_itself_nor_piles_up(
    width: float, height: float, spacing: float
) -> None:
    sheet = shapely.box(0, 0, width, height)
    for path in stipple(sheet, spacing):
        assert path.closed
        assert path.line.is_simple
        assert sheet.covers(path.line)
        # Away from a place along the line it comes no nearer than 0.59 of the spacing: a field
        # that moves two places apart by 0.41 of what they lie apart leaves so much of it.
        ring = path.line.segmentize(spacing / 4)
        spots = [shapely.Point(one) for one in shapely.get_coordinates(ring)[:-1]]
        reach = np.asarray(shapely.line_locate_point(ring, spots))
        pairs = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=0.45 * spacing)
        along = np.abs(reach[pairs[0]] - reach[pairs[1]])
        along = np.minimum(along, ring.length - along)
        assert along.max(initial=0.0) < 1.6 * spacing


def test_echoes_lie_just_so_far_inside_each_other() -> None:
    project = adorned("coaster", "top=quilting:echo,8mm", outline="square", width="120mm")
    (line,) = own_lines(project, "quilting")
    # Seam 0.5 mm outside 60, the first echo 4 mm inside that, each next 8 mm further in.
    reach = sorted((float(path.points.max()) for path in line.paths), reverse=True)
    assert reach == pytest.approx([56.5 - 8 * number for number in range(len(reach))])
    assert len(reach) == 7  # 56.5, 48.5, ... 8.5: one of 0.5 mm would be a knot


def test_every_stitch_is_long_enough_and_tied() -> None:
    for recipe, title in PANELS:
        for pattern in PATTERNS:
            project = adorned(recipe, f"{title}=quilting:{pattern},10mm")
            for stop in sewn_stops(project, "quilting"):
                for run in stop.runs:
                    first, last = run.ties
                    assert min(first, last) > 0
                    inner = run.needles[first : len(run.needles) - last]
                    lengths = np.hypot(*np.diff(inner, axis=0).T) * 0.1
                    assert lengths.min() >= 0.4 - 1e-9


def test_its_stop_comes_once_the_panel_is_held_and_before_it_is_covered() -> None:
    for recipe, title in PANELS:
        project = adorned(recipe, f"{title}=quilting:parallel,10mm")
        (step,) = own_steps(project, "quilting")
        laid = next(
            one.number for one in project.steps if any(x.title == title for x in one.layers)
        )
        covers = [
            one.number
            for one in project.steps
            if one.number > step.number and (one.act in (Act.FLIP, Act.UNHOOP) or one.layers)
        ]
        held = [
            one.number
            for one in project.steps
            if laid < one.number < step.number
            and any(line.role in (Role.TACK_DOWN, Role.BASTING) for line in one.lines)
        ]
        assert held
        assert covers
        assert step.number < min(covers)
        assert [one.number for one in project.steps] == list(range(1, len(project.steps) + 1))
        stops = [one.stop for one in project.steps if one.stop is not None]
        assert stops == list(range(1, len(stops) + 1))
        colours = [one.colour for one in project.steps if one.stop is not None]
        assert all(a != b for a, b in pairwise(colours))


@pytest.mark.parametrize("panel", PANELS, ids=" ".join)
def test_the_rehearsal_finds_it_sound(panel: tuple[str, str]) -> None:
    recipe, title = panel
    sized = size(recipe_with(recipe, f"{title}=quilting:crossed,15mm"), {}, unit=Unit.MM)
    found = prove(lay_out(sized, chord_error=COARSE)).findings
    assert [one for one in found if one.stops] == []


def test_lines_that_all_but_touch_an_edge_leave_no_way_in() -> None:
    # Between a turn of the stippling and an edge lies a face of some hundred-thousandths of 1 mm².
    project = adorned("fold-wallet", "lower outer=quilting:stippling,8mm", width="133mm")
    assert [one.key for one in prove(project).findings if one.stops] == []
