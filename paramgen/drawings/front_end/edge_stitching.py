"""Where a piece is stitched along its folded edges or its hem before the hooping, as it lies."""

from collections.abc import Iterator, Sequence

import numpy as np

from paramgen.layout.piece_as_cut import upright
from paramgen.vocabulary.kinds import Act, FoldKind
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Layer, Piece, Project

#: A hem is stitched so far inside its inner edge, mm: close to it, common practice, no source.
_CLOSE = 1.5


def edge_stitched(project: Project, layer: Layer) -> Iterator[Path]:
    """Lines that are there in a layer when it is laid; none unless a step stitches them."""
    steps = [step for step in project.steps if step.act is Act.EDGE_STITCH]
    if any(layer.piece in step.pieces for step in steps):
        (piece,) = (one for one in project.pieces if one.name == layer.piece)
        yield from edge_stitching(piece, layer, turned=project.turned)


def edge_stitching(piece: Piece, layer: Layer, *, turned: bool = False) -> Iterator[Path]:
    """Lines along the folded edges of a layer, or along its hem.

    What is folded in four is stitched along the edges that those folds make, not along the fold
    across.

    Parameters
    ----------
    piece : Piece
    layer : Layer
        The piece as it lies.
    turned : bool
        Whether the layer lies turned, which the piece as cut never does.
    """
    if piece.edge_stitched is None:
        for hem in layer.hems:
            box = hem.outline.box
            deep = box.width if upright(*hem.fold) else box.height
            yield from _inside(layer, (hem.fold,), deep - _CLOSE)
        return
    quarters = [crease for crease in piece.creases if crease.kind is FoldKind.QUARTER]
    ways = [upright(crease.start, crease.end) != turned for crease in quarters]
    edges = [edge for edge in layer.folded_edges if not ways or upright(*edge) in ways]
    yield from _inside(layer, edges, piece.edge_stitched)


def _inside(layer: Layer, edges: Sequence[tuple[Point, Point]], by: float) -> Iterator[Path]:
    """Lines so far inside edges of a layer."""
    for start, end in edges:
        away = np.array(layer.outline.box.centre) - (np.array(start) + np.array(end)) / 2
        # Only the part of the way to the middle that is across the edge.
        across = away * ((1.0, 0.0) if upright(start, end) else (0.0, 1.0))
        inward = across / (np.hypot(*across) or 1.0) * by
        yield Path(np.array([start, end]) + inward, closed=False)
