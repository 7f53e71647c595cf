"""What is cut: every piece, and the interfacing for those that it is fused to."""

from collections.abc import Iterator

from paramgen.amounts.fused_interfacing import fused
from paramgen.amounts.project_materials import by_template
from paramgen.drawings.primitives.paragraphs import fabric_name
from paramgen.lengths import INCH, show_size_both
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Piece, Project
from paramgen.vocabulary.unit import Unit

#: Marks that a ruler has, mm, and how near to one a size is on it.
RULED, ON_IT = (0.5, INCH / 16), 0.02


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


def _cut(piece: Piece, unit: Unit) -> str:
    size = _size(piece, unit)
    return f"{size} over all, by its template" if by_template(piece) else size


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
