"""Fabrics to have and what is fused to them, all needed before the hooping."""

from collections.abc import Iterator, Sequence

from paramgen.amounts.fused_interfacing import fused
from paramgen.drawings.primitives.paragraphs import fabric_name, listed
from paramgen.lengths import INCH, show, show_both, show_size_both
from paramgen.supplies.fabric_amount import FUSED, FabricTaken, amounts
from paramgen.supplies.supply import Supply
from paramgen.supplies.yards import yards
from paramgen.vocabulary.project import Fabric, Piece, Project
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english


def fabrics(project: Project) -> Iterator[Supply]:
    """What each fabric is, and how much its pieces take."""
    known = {one.role: one for one in project.fabrics}
    for amount in amounts(project.pieces, project.unit, trims=project.trims):
        said = _of_fabric(amount, known.get(amount.fabric), project)
        yield Supply(
            name=amount.fabric,
            sort="fabric",
            title=fabric_name(amount.fabric),
            amount=_length(amount, project.unit),
            note=" ".join(f"{one[:1].upper()}{one[1:]}." for one in said),
            length=amount.length,
            width=amount.width,
        )


def interfacings(project: Project) -> Iterator[Supply]:
    """What is fused to the pieces of a fabric."""
    for fabric in project.fabrics:
        pieces = fused(fabric, project)
        for amount in amounts(pieces, project.unit, FUSED):
            assert fabric.interfacing is not None
            yield Supply(
                name=fabric.role,
                sort="interfacing",
                title=fabric.interfacing.title,
                amount=_length(amount, project.unit),
                note=_of_interfacing(fabric, pieces, project),
                length=amount.length,
                width=amount.width,
            )


def _length(amount: FabricTaken, unit: Unit) -> str:
    return cloth_length(amount.length, amount.width, unit, narrow=amount.narrow)


def cloth_length(length: float, width: float, unit: Unit, *, narrow: bool) -> str:
    """Say how much to have of a fabric, in yards too, as shops cut them.

    Parameters
    ----------
    length, width : float
        mm.
    unit : Unit
        The person's.
    narrow : bool
        Whether it is bought by its length alone.

    Examples
    --------
    >>> cloth_length(228.6, 1016, Unit.INCH, narrow=False)
    '9 in (228.6 mm), 1/4 yd, of a width of 40 in'
    """
    shown = f"{show_both(length, unit)}, {yards(length)}"
    if narrow:
        return f"{shown}, {show_both(width, unit)} wide"
    return f"{shown}, of a width of {show(width, unit)}"


def _of_fabric(amount: FabricTaken, fabric: Fabric | None, project: Project) -> Iterator[str]:
    if fabric:
        told = f"{fabric.material.title}: {fabric.material.ask_for}"
        yield english().as_used(told, project.unit)
        if fabric.material.wash:
            yield "Wash and press it before you cut"
    of = f"{amount.pieces} pieces" if amount.pieces > 1 else "1 piece"
    if amount.narrow:
        yield of
        return
    pieces = [piece for piece in project.pieces if piece.fabric == amount.fabric]
    largest = max((piece.cut for piece in pieces), key=lambda cut: cut[0] * cut[1])
    size = show_size_both(*largest, project.unit)
    yield f"{of}, together {_area(amount.area, project.unit)}; the largest {size}"
    if amount.wide:
        yield "One is wider than the fabric: take a wider one"


def _area(area: float, unit: Unit) -> str:
    inches, metric = f"{area / INCH**2:.0f} sq in", f"{area / 100:.0f} cm²"
    return f"{inches} ({metric})" if unit is Unit.INCH else f"{metric} ({inches})"


def _of_interfacing(fabric: Fabric, pieces: Sequence[Piece], project: Project) -> str:
    """Which pieces it is for, and that it stays out of the seam, where it would only be bulk."""
    titles = list(dict.fromkeys(piece.title for piece in pieces))
    folded = {piece.name for piece in project.pieces if piece.creases}
    before = " before you fold them" if folded & {piece.name for piece in pieces} else ""
    return (
        f"For the {fabric_name(fabric.role)}: {listed(titles)}, in the sizes of the cut list: cut "
        "it to the seam line, not into the allowance, where it would only be thick. Fuse it to "
        f"the wrong side{before}."
    )
