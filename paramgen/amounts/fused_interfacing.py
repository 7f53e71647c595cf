"""Interfacing for the pieces of a fabric, cut to the seam line as they lie folded."""

from dataclasses import replace

import shapely

from paramgen.layout.copies_apart import seams
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.project import Fabric, Piece, Project


def fused(fabric: Fabric, project: Project) -> tuple[Piece, ...]:
    """Interfacing for the pieces of a fabric that it is fused to, cut to the seam line.

    It is as they lie folded: of a piece that is folded it lies on the half that shows. Of one sheet
    over all copies it is one sheet too, that reaches over all seams.
    """
    if fabric.interfacing is None:
        return ()
    return tuple(
        replace(piece, cut=size, folded=size, creases=())
        for piece in project.pieces
        if piece.fabric == fabric.role and project.fused(piece)
        for size in [_within_seam(piece, project)]
    )


def _within_seam(piece: Piece, project: Project) -> tuple[float, float]:
    """Size of what of a piece lies within the seam line, the project's own way round."""
    laid = (layer for step in project.steps for layer in step.layers)
    layer = next((layer for layer in laid if layer.piece == piece.name), None)
    inside = shapely.union_all([one.area for one in seams(project)])
    within = (
        layer.outline.area & (inside if piece.over > 1 else project.seam.area) if layer else None
    )
    if within is None or within.is_empty:
        return piece.folded
    box = Box(*within.bounds)
    size = round(box.width, 6), round(box.height, 6)
    return size[::-1] if project.turned else size
