"""Which way up a print lies on a piece as it is cut, so that it can be cut so."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely

from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.front_end.table_work import right_way_round
from paramgen.layout.piece_as_cut import to_cut
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Piece


class PrintAsCut(NamedTuple):
    """A print on a piece as it is cut, its right side looked at.

    Parameters
    ----------
    lies : Path
        Three points, as of a `Shape`; about the middle of the piece.
    others : int
        How many of the pieces alike need it another way up.
    """

    lies: Path
    others: int


def print_as_cut(hooped: Scene, piece: Piece) -> PrintAsCut | None:
    """How the print lies on a piece as it is cut; None where it is not known.

    On one sheet over all copies it lies as the copies do.
    """
    ways = list(_ways(hooped, piece)) if piece.over == 1 else []
    if not ways:
        return None
    others = sum(not np.allclose(_turn(one), _turn(ways[0]), atol=1e-6) for one in ways)
    return PrintAsCut(ways[0], piece.quantity * others // len(ways))


def _ways(hooped: Scene, piece: Piece) -> Iterator[Path]:
    """How it lies on each that is laid."""
    layers = hooped.thing.layers if hooped.thing else ()
    for number, layer in enumerate(layers):
        if layer.piece == piece.name and number in hooped.prints:
            laid = shapely.get_coordinates(hooped.prints[number])
            lies = Path(laid + np.array(to_cut(piece, layer)), closed=False)
            yield lies if right_way_round(lies) else lies.mirrored


def _turn(lies: Path) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.asarray(lies.points[1:] - lies.points[0])
