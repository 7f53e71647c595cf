"""Appliqué: the order of its work, its patch, its satin over the raw edge, own shapes."""

import numpy as np
import pytest
import shapely
from adorned import PANELS, adorned, found_of, needles, own_lines, own_steps, sewn_stops
from adorned_clear import check_clear

from paramgen.embellishment.applique_outline import LEAST_EDGE, applique_lines
from paramgen.embellishment.satin_column import Satin
from paramgen.geometry.outlines import rectangle
from paramgen.rehearsal.rehearsal_limits import CROWD, CROWD_WITHIN
from paramgen.vocabulary.facts import MmByMm
from paramgen.vocabulary.kinds import Act, Role, StitchKind
from paramgen.vocabulary.project import Project, Step
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said


def patch_on(asked: str, recipe: str = "fold-wallet", panel: str = "lower outer") -> Project:
    return adorned(recipe, f"{panel}=applique:{asked}")


def of_the_patch(project: Project) -> list[Step]:
    """Its steps, from the placement line to the edge."""
    own = own_steps(project, "applique")
    return list(project.steps[own[0].number - 1 : own[-1].number])


def test_it_is_placed_laid_taped_held_trimmed_and_edged_in_that_order() -> None:
    # The order of the work in any sewing book (common practice, no source).
    steps = of_the_patch(patch_on("heart,40mm"))
    assert [step.act for step in steps] == [
        Act.STITCH,
        Act.LAY,
        Act.TAPE,
        Act.STITCH,
        Act.UNTAPE,
        Act.TRIM,
        Act.STITCH,
    ]
    roles = [line.role for step in steps for line in step.lines]
    assert roles == [Role.PLACEMENT, Role.TACK_DOWN, Role.TOP_STITCH]


def test_the_patch_is_cut_large_enough_to_be_held_while_it_is_stitched_down() -> None:
    # 40 mm, an edge of 3.5 and 0.3 for the pull: 43.8 stitched; 12 mm more all round, 67.8, up to
    # the next 5 mm.
    project = patch_on("rectangle,40mm,height 30mm")
    (piece,) = [one for one in project.pieces if one.fabric == "patch"]
    assert piece.cut == (70.0, 60.0)
    (layer,) = [one for step in of_the_patch(project) for one in step.layers]
    assert layer.outline.area.contains(layer.cut_back.area if layer.cut_back else None)
    assert "patch" in [one.role for one in project.fabrics]


def test_its_satin_covers_the_raw_edge_and_the_tack_down() -> None:
    # Half of 3.8 mm to either side of the outline; the tack-down lies 1 mm inside, the raw edge,
    # cut 1 mm outside that, on the outline.
    project = patch_on("rectangle,40mm,height 30mm")
    placement, tack, edge = own_lines(project, "applique")
    (outline,), (held,) = placement.paths, tack.paths
    assert held.box.width == pytest.approx(outline.box.width - 2.0)
    points = np.concatenate([path.points for path in edge.paths])
    ring = outline.line
    inside = np.asarray(shapely.contains_xy(outline.area, *points.T))
    away = np.asarray(shapely.distance(shapely.points(points), ring))
    assert away[~inside].max() == pytest.approx(1.9 * 2**0.5, abs=1e-3)  # the tip of a mitre
    assert away[inside].max() == pytest.approx(1.9, abs=1e-3)
    band = shapely.MultiLineString([path.line for path in edge.paths]).buffer(0.25)
    assert band.buffer(0.05).covers(held.line)
    assert band.buffer(0.05).covers(ring)


@pytest.mark.parametrize(
    "shape", ["oval", "rectangle", "triangle", "star", "heart", "leaf", "drop"]
)
def test_needle_points_of_all_its_lines_together_do_not_cut_the_cloth(shape: str) -> None:
    project = patch_on(f"{shape},38mm")
    points = needles(project, "applique")
    spots = list(shapely.get_parts(shapely.MultiPoint(points)))
    close = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=CROWD_WITHIN)
    ties = sum(sum(run.ties) for step in sewn_stops(project, "applique") for run in step.runs)
    assert (np.bincount(close[0]) >= CROWD).sum() <= 4 * ties


@pytest.mark.parametrize(("recipe", "panel"), PANELS)
def test_it_keeps_clear_of_everything_on_any_panel(recipe: str, panel: str) -> None:
    project = patch_on("drop,14mm", recipe, panel)
    if any(one.stops for one in found_of(project)):
        (found,) = [one for one in found_of(project) if one.stops]
        assert found.code == "embellishment-no-room"
        has, needs = dict(found.facts).get("has"), dict(found.facts)["needs"]
        assert isinstance(needs, MmByMm)
        assert has is None or (isinstance(has, MmByMm) and has.width < needs.width)
        return
    check_clear(project, panel, needles(project, "applique"))


def test_the_edge_is_sewn_as_it_is_drawn() -> None:
    project = patch_on("oval,40mm")
    edge = own_lines(project, "applique")[-1]
    assert edge.stitch.kind is StitchKind.AS_DRAWN
    (path,) = edge.paths
    (stop,) = [one for one in sewn_stops(project, "applique") if len(one.runs[0].needles) > 300]
    first, last = stop.runs[0].ties
    sewn = stop.runs[0].needles[first : len(stop.runs[0].needles) - last] * 0.1
    assert len(sewn) == len(path.points)
    off = np.minimum(
        np.abs(sewn - path.points).max(axis=1), np.abs(sewn - path.points[::-1]).max(axis=1)
    )
    assert off.max() <= 0.05 + 1e-6


def test_a_shape_of_ones_own_may_have_a_hole() -> None:
    project = patch_on('"M0 0H40V40H0Z M12 12H28V28H12Z",width 50mm')
    edge = own_lines(project, "applique")[-1]
    assert len(edge.paths) == 2
    assert not [one for one in found_of(project) if one.stops]


@pytest.mark.parametrize(
    ("data", "said_of_it"),
    [
        ("M0 0 H40", "is not closed"),
        ("M0 0 L1", "ends where `L` takes another number"),
        ("<svg onload=alert(1)>", "`<` is no command"),
        ("M0 0 L40 40 L40 0 L0 40 Z", "the outline crosses itself"),
        ("M0 0 H40 V1 H0 Z", "nothing is left"),
        ("M0 0" + "A 50 50 0 1 1 0 1 A 50 50 0 1 1 0 0" * 90 + "Z", "stitched"),
    ],
)
def test_a_shape_that_cannot_be_is_told(data: str, said_of_it: str) -> None:
    project = patch_on(f'"{data}",width 40mm')
    (found,) = [one for one in found_of(project) if one.stops]
    assert said_of_it in " ".join(said(found, Unit.MM))


def test_two_patches_on_one_panel_have_names_of_their_own_and_keep_apart() -> None:
    on = "lower outer=applique:heart,30mm,left;lower outer=applique:heart,30mm,left"
    project = adorned("fold-wallet", on)
    pieces = [one for one in project.pieces if one.fabric == "patch"]
    assert [one.title for one in pieces] == ["heart patch", "heart patch 2"]
    laid = [layer.piece for step in project.steps for layer in step.layers if layer.cut_back]
    assert laid == [one.name for one in pieces]
    edges = [one for one in own_lines(project, "applique") if one.role is Role.TOP_STITCH]
    shapes = [shapely.MultiLineString([one.line for one in line.paths]) for line in edges]
    assert shapes[0].distance(shapes[1]) >= 3.0 - 1e-6


def test_the_narrowest_edge_still_covers_the_tack_down() -> None:
    # 1 mm to the tack-down and 0.5 past it, to either side: 3 mm.
    assert pytest.approx(3.0) == LEAST_EDGE
    lines = applique_lines((rectangle(-20, -20, 20, 20),), Satin(width=LEAST_EDGE, pull=0.0))
    inner = 20 - LEAST_EDGE / 2
    assert lines.tack_down[0].box.right > inner + 0.49
