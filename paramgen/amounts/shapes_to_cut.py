"""The shapes of pieces that are cut by their templates, as they are seen on cloth right side up."""

from collections import Counter

import numpy as np
import shapely

from paramgen.vocabulary.kinds import Face
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import Piece, Project

#: Corners of an outline, mm, about the middle of its box.
Corners = tuple[tuple[float, float], ...]

#: Nothing cuts finer, mm.
FINE = 0.01


def shapes_to_cut(piece: Piece, project: Project) -> tuple[tuple[Corners, int], ...]:
    """Each shape of a piece, and how many of the piece have it.

    An outline is as it is seen from the front of the hoop: what lies there wrong side up is cut
    mirrored where cloth lies right side up. One that mirrors itself has one shape.
    """
    shape = piece.outline.area
    mirrored = piece.outline.mirrored
    if shape.symmetric_difference(mirrored.area).area < 1e-3 * shape.area:
        return ((_corners(piece.outline), piece.quantity),)
    ups = Counter(
        layer.up
        for step in project.steps
        for layer in step.layers
        if layer.piece == piece.name and not layer.two_sided and not layer.faceless
    )
    wrong = min(ups[Face.WRONG], piece.quantity)
    found = [(piece.outline, piece.quantity - wrong), (mirrored, wrong)]
    return tuple((_corners(outline), count) for outline, count in found if count)


def outline_of(corners: Corners) -> Path:
    """The shape as a path."""
    return path(corners, closed=True)


def _corners(outline: Path) -> Corners:
    thin = shapely.get_coordinates(shapely.simplify(shapely.LinearRing(outline.points), FINE))[:-1]
    return tuple((float(x), float(y)) for x, y in np.round(thin, 3))
