"""Edge lines: on the panel, evenly divided, and all corners alike."""

import math

import numpy as np
import pytest
import shapely
from adorned import PANELS, adorned, as_one, found_of, needles, own_lines
from adorned_clear import ROUNDED, check_clear
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.embellishment.edge_along_ring import along_ring, repeats_on
from paramgen.embellishment.edge_patterns import EDGE_PATTERNS
from paramgen.geometry.outlines import rectangle
from paramgen.vocabulary.path import FloatArray


@pytest.mark.parametrize("panel", PANELS, ids=" ".join)
@pytest.mark.parametrize("pattern", EDGE_PATTERNS)
def test_it_keeps_clear_of_everything(panel: tuple[str, str], pattern: str) -> None:
    recipe, title = panel
    project = adorned(recipe, f"{title}=edge:{pattern},6mm")
    if not own_lines(project, "edge-line"):
        (found,) = [one for one in found_of(project) if one.stops]
        assert found.code == "embellishment-no-room"
        return
    points = needles(project, "edge-line")
    check_clear(project, title, points)
    assert shapely.covers(project.seam.area.buffer(-3.9), shapely.points(points)).all()
    line = as_one(own_lines(project, "edge-line"))
    assert shapely.distance(line, shapely.points(points)).max() <= ROUNDED


def quarter_turned(points: FloatArray) -> FloatArray:
    return np.stack([-points[:, 1], points[:, 0]], axis=1)


@pytest.mark.parametrize("pattern", EDGE_PATTERNS)
@pytest.mark.parametrize("width", ["80mm", "108mm", "133mm"])
def test_all_corners_of_a_square_are_alike(pattern: str, width: str) -> None:
    project = adorned("coaster", f"top=edge:{pattern}", outline="square", width=width)
    (line,) = own_lines(project, "edge-line")
    (path,) = line.paths
    assert path.closed
    turned = shapely.points(quarter_turned(path.points))
    assert shapely.distance(path.line, turned).max() < 1e-3


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(["scallop", "wave", "feather", "blanket"]),
    st.floats(30, 250),
    st.floats(30, 250),
    st.floats(4, 20),
)
def test_a_whole_number_of_repeats_fills_each_side(
    pattern: str, width: float, height: float, repeat: float
) -> None:
    ring = rectangle(0, 0, width, height)
    room = shapely.box(-50, -50, width + 50, height + 50)
    how = EDGE_PATTERNS[pattern]
    lines, number = along_ring(ring, how, repeat, how.deep * repeat, room)
    sides = [repeats_on(side, repeat, pair=how.pair) for side in (width, height)]
    assert number == 2 * sum(sides)
    for side, many in zip((width, height), sides, strict=True):
        # As near to what is wished as whole numbers come; by twos where they alternate.
        by = 2 if how.pair else 1
        assert many % by == 0
        assert many == by or abs(side / many - repeat) <= abs(side / (many - by) - repeat) + 1e-9
        assert abs(side / many - repeat) <= abs(side / (many + by) - repeat) + repeat / 2
    (line,) = lines
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    assert max(line.line.distance(shapely.Point(one)) for one in corners) < 1e-6


def test_scallops_are_arcs_of_a_circle() -> None:
    # Chord 12 and rise 3: radius (12² / 4 + 3²) / (2 × 3) = 7.5.
    points = EDGE_PATTERNS["scallop"].drawn(12.0, 3.0, 0)
    assert np.hypot(points[:, 0] - 6.0, points[:, 1] + 4.5) == pytest.approx(7.5)
    assert points[:, 1].max() == pytest.approx(3.0, abs=1e-3)


def test_a_wave_is_a_sine() -> None:
    points = EDGE_PATTERNS["wave"].drawn(12.0, 2.0, 0)
    assert points[:, 1] == pytest.approx(2.0 * np.sin(2 * math.pi * points[:, 0] / 12.0))


def test_barbs_of_a_feather_lie_back_by_turns() -> None:
    one, other = (EDGE_PATTERNS["feather"].drawn(6.0, 2.0, number) for number in (0, 1))
    assert one[2].tolist() == pytest.approx([1.0, 2.0])  # back from 3 by 2, and 2 out: 45°
    assert other[2].tolist() == pytest.approx([1.0, -2.0])


def test_repeats_stay_and_their_number_grows() -> None:
    lengths = []
    for width in ("108mm", "208mm"):
        project = adorned("coaster", "top=edge:scallop,10mm", outline="square", width=width)
        (line,) = own_lines(project, "edge-line")
        lengths.append(len(line.paths[0].corners))
    # A side is the finished width and 1 mm, less 4 mm and the rise of 3 mm at both ends: 95 and
    # 195 mm. 95 / 10 is halfway, and rounds up to 10; 195 / 10 to 20.
    assert lengths == [4 * 10, 4 * 20]


def test_it_leaves_off_at_a_snap() -> None:
    project = adorned("fold-wallet", "upper outer=edge:scallop,6mm")
    (line,) = own_lines(project, "edge-line")
    assert not any(path.closed for path in line.paths)


def test_quilting_goes_round_it() -> None:
    project = adorned("coaster", "top=quilting:level,8mm; top=edge:blanket", outline="square")
    quilting, edge = own_lines(project, "quilting"), own_lines(project, "edge-line")
    away = as_one(quilting).distance(as_one(edge))
    assert away >= 3.0 - 1e-6
    # Asked for first, it is stitched first.
    steps = [step.title for step in project.steps]
    assert steps.index("Quilt the top") < steps.index("Edge line on the top")
