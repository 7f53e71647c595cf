"""Pieces for a cutting machine: closed paths at true size, and nothing else."""

import math
from collections.abc import Sequence
from xml.etree import ElementTree as ET

import numpy as np

from paramgen.drawings.primitives.drawn_paths import box_of, thinned
from paramgen.papers.shelves import ShelfSpot, shelved
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray, Path
from paramgen.vocabulary.project import Piece

#: Pieces are laid side by side up to this width, mm: that of common cutting mats (12 in),
#: common practice, no source. A wider piece takes what it needs.
MAT = 300.0
_GAP = 5.0


def fabrics(pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Name every fabric of which there is something to cut, in the order of the pieces."""
    return tuple(dict.fromkeys(piece.fabric for piece in pieces if piece.quantity))


def cutting_layer(pieces: Sequence[Piece], fabric: str) -> str:
    """Write all pieces of a fabric as SVG, each as often as it is cut.

    Returns
    -------
    str
        One `svg` element in millimetres that holds one closed path for each piece to cut.
    """
    mine = [piece for piece in pieces if piece.fabric == fabric]
    outlines = [
        outline
        for piece, outline in zip(mine, thinned([one.outline for one in mine]), strict=True)
        for _ in range(piece.quantity)
    ]
    boxes = [box_of((outline,)) for outline in outlines]
    sizes = [(box.width, box.height) for box in boxes]
    spots = shelved(sizes, MAT - 2 * _GAP, math.inf, _GAP)
    laid = [
        Path(outlines[spot.index].points + _shift(spot, boxes[spot.index]), closed=True)
        for spot in spots
    ]
    around = box_of(laid)
    across, down = _number(around.right + _GAP), _number(around.bottom + _GAP)
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{across}mm",
            "height": f"{down}mm",
            "viewBox": f"0 0 {across} {down}",
            "fill": "none",
            "stroke": "#000000",
            "stroke-width": "0.1",
        },
    )
    for outline in laid:
        ET.SubElement(root, "path", {"d": _data(outline)})
    ET.indent(root)
    return ET.tostring(root, encoding="unicode") + "\n"


def _shift(spot: ShelfSpot, box: Box) -> FloatArray:
    return np.array([_GAP + spot.x - box.left, _GAP + spot.y - box.top])


def _data(outline: Path) -> str:
    return f"M {' L '.join(f'{_number(x)},{_number(y)}' for x, y in outline.points.tolist())} Z"


def _number(value: float) -> str:
    return f"{value:.3f}"
