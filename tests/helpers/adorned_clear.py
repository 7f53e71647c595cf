"""Whether needle points keep clear of everything on a panel, worked out anew from the project."""

import numpy as np
import shapely

from paramgen.embellishment import ground_limits
from paramgen.layout.turning_gaps import gaps_in
from paramgen.vocabulary.kinds import FinishWay
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Project

#: Half the diagonal of a step of the grid of stitch files, 0.1 mm, and a hair.
ROUNDED = 0.05 * 2**0.5 + 1e-3


def panel_of(project: Project, panel: str) -> shapely.Polygon:
    title = panel.lower()
    layers = [one for step in project.steps for one in step.layers if one.title == title]
    return shapely.Polygon(layers[0].outline.points)


def check_clear(project: Project, panel: str, points: FloatArray) -> None:
    """Needle points keep clear of everything there is, worked out anew."""
    spots = shapely.points(points)
    on = panel_of(project, panel)
    assert shapely.covers(on.buffer(-3.0, join_style="mitre"), spots).all()  # raw edges
    for step in project.steps:
        for layer in step.layers:
            if layer.slit:
                coil = next(one.coil or 0 for one in project.notions if one.name == layer.piece)
                away = shapely.distance(shapely.LineString(layer.slit), spots)
                assert away.min() >= coil / 2 + ground_limits.CLEAR_OF_COIL - ROUNDED
            if layer.title == panel and layer.folded_edges:
                for fold in layer.folded_edges:
                    away = shapely.distance(shapely.LineString(fold), spots)
                    assert away.min() >= ground_limits.CLEAR_OF_FOLD - ROUNDED
    for (ax, ay), (bx, by) in project.finish.folds:
        way = np.array([by - ay, ax - bx]) / np.hypot(bx - ax, by - ay)
        across = np.abs((points - (ax, ay)) @ way)
        assert across.min() >= ground_limits.CLEAR_OF_FINISHED_FOLD - ROUNDED
    for notion in project.notions:
        for spot in (*notion.halves, *notion.at):
            least = max((notion.width or 0) / 2 + 3.0, notion.clearance)
            assert shapely.distance(shapely.Point(spot), spots).min() >= least - ROUNDED
    seam = project.seam.area
    if project.finish.way is not FinishWay.TURNED:
        assert shapely.covers(seam.buffer(-4.0 + ROUNDED), spots).all()
    else:
        assert shapely.covers(seam.buffer(5.0 + ROUNDED, join_style="mitre"), spots).all()
        for gap in gaps_in(project, [project.seam]):  # its tab is folded in
            outside = ~shapely.covers(seam, spots)
            assert not (outside & shapely.dwithin(spots, gap.line, 5.0)).any()
