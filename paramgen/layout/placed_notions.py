"""A tape over an edge lies on the finished thing, a patch of interfacing on its piece."""

from collections.abc import Iterable, Mapping

import numpy as np
import shapely

from paramgen.geometry.outlines import ShapeError
from paramgen.layout.name_scope import as_named
from paramgen.layout.piece_as_cut import to_cut
from paramgen.vocabulary.facts import Mm
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Layer, Notion, Piece

#: A tape of less than this is none, mm².
_NOTHING = 0.01
#: Nor has it an edge that is shorter than this, mm.
_NO_EDGE = 0.01
#: A patch may stick out so far, mm: an outline of a curve is laid out in chords.
_CHORDS = 0.1


def check_tape(notion: Notion, finished: Path) -> None:
    """See that a tape over an edge has a place, and that something lies in it.

    Parameters
    ----------
    notion : Notion
    finished : Path
        The finished edge.

    Raises
    ------
    ShapeError
        If its four points do not go round an area, or it lies beside the finished thing.
    """
    if not notion.over_edge:
        return
    if not _goes_round(notion.over_edge):
        raise ShapeError("tape-of-no-area", name=as_named(notion.name))
    tape = shapely.Polygon(notion.over_edge)
    if (tape & finished.area).area <= _NOTHING:
        away = float(tape.distance(finished.area))
        raise ShapeError("tape-beside-it", name=as_named(notion.name), away=Mm(away))


def _goes_round(points: Iterable[Point]) -> bool:
    ring = shapely.LinearRing(list(points))
    sides = np.hypot(*np.diff(shapely.get_coordinates(ring), axis=0).T)
    area = shapely.Polygon(ring)
    return bool(sides.min() > _NO_EDGE and area.is_valid and area.area > _NOTHING)


def check_patches(notion: Notion, pieces: Mapping[str, Piece], layers: Iterable[Layer]) -> None:
    """See that every patch of interfacing lies on the piece that it is fused to.

    Parameters
    ----------
    notion : Notion
    pieces : mapping of name to Piece
    layers : iterable of Layer
        As they are laid in the hoop.

    Raises
    ------
    ShapeError
        If one sticks out of its piece as that is cut.
    """
    lying = {layer.piece: layer for layer in reversed(tuple(layers))}
    for patch in notion.fused_to:
        if patch.piece not in lying or patch.piece not in pieces:
            continue
        piece = pieces[patch.piece]
        there = shapely.points(patch.outline.points + np.array(to_cut(piece, lying[patch.piece])))
        out = float(shapely.distance(there, piece.outline.area).max())
        if out > _CHORDS:
            raise ShapeError(
                "patch-past-its-piece",
                name=as_named(notion.name),
                piece=as_named(patch.piece),
                out=Mm(out),
            )
