"""What is cut: every piece, and the interfacing for those that it is fused to."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from paramgen.drawings.primitives.paragraphs import fabric_name
from paramgen.layout.copies_apart import seams
from paramgen.lengths import INCH, show_size_both
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.project import Fabric, Piece, Project
from paramgen.vocabulary.unit import Unit

#: Marks that a ruler has, mm, and how near to one a size is on it.
RULED, ON_IT = (0.5, INCH / 16), 0.02
#: A piece fills its rectangle if no more than this is cut away from it, mm².
FILLED = 1.0


@dataclass(frozen=True)
class CutRow:
    """One line of the cut list; the sizes are in both units.

    Parameters
    ----------
    title, fabric : str
    quantity : int
        How many to cut, and so how many boxes to tick.
    cut : str
    folded : str
        Empty if it is not folded.
    """

    title: str
    fabric: str
    quantity: int
    cut: str
    folded: str


def cut_list(project: Project) -> Iterator[CutRow]:
    """List what is cut, the pieces first."""
    for piece in project.pieces:
        folded = show_size_both(*piece.folded, project.unit) if piece.creases else ""
        cut = _cut(piece, project.unit)
        yield CutRow(piece.title, fabric_name(piece.fabric), piece.quantity, cut, folded)
    for fabric in project.fabrics:
        for piece in fused(fabric, project):
            assert fabric.interfacing is not None
            cut, title = _size(piece, project.unit), f"interfacing for the {piece.title}"
            yield CutRow(title, fabric.interfacing.title, piece.quantity, cut, "")


def fused(fabric: Fabric, project: Project) -> tuple[Piece, ...]:
    """Interfacing for the pieces of a fabric, cut to the seam line as they lie folded.

    Of a piece that is folded it lies on the half that shows; of one sheet over all copies it is
    one sheet too, that reaches over all seams.
    """
    if fabric.interfacing is None:
        return ()
    return tuple(
        replace(piece, cut=size, folded=size, creases=())
        for piece in project.pieces
        if piece.fabric == fabric.role
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


def _cut(piece: Piece, unit: Unit) -> str:
    width, height = piece.cut
    if float(piece.outline.area.area) > width * height - FILLED:
        return _size(piece, unit)
    return f"{_size(piece, unit)} over all, by its template"


def _size(piece: Piece, unit: Unit) -> str:
    """Size as cut; what no ruler has is said to the half millimetre."""
    width, height = piece.cut
    if _on_a_ruler(width) and _on_a_ruler(height):
        return show_size_both(width, height, unit)
    half = RULED[0]
    near = (round(width / half) * half, round(height / half) * half)
    return f"about {show_size_both(*near, unit)}"


def _on_a_ruler(length: float) -> bool:
    return any(abs(length - round(length / mark) * mark) <= ON_IT for mark in RULED)
