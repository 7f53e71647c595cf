"""The materials of a project: cloths with their pieces, notions, stabiliser, tape."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal, cast

import numpy as np

from paramgen.amounts.fused_interfacing import fused
from paramgen.amounts.shapes_to_cut import Corners, shapes_to_cut
from paramgen.making import Made
from paramgen.reference.hoops import RIM
from paramgen.rehearsal.rehearsal_limits import sheets_for
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain, NotionSort
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Fabric, Piece, Project

#: A piece fills its rectangle if no more than this is cut away from it, mm².
FILLED = 1.0
#: A strip of tape as it is torn from the roll, mm (common practice, no source).
TORN = 60.0

ClothSort = Literal["fabric", "batting", "interfacing", "trim", "stabiliser"]


@dataclass(frozen=True, kw_only=True)
class PieceToCut:
    """A piece as it is cut.

    Parameters
    ----------
    name, title : str
    quantity : int
    cut : (width, height)
        Of the rectangle it is cut as or from, mm.
    grain : Grain
        The size that the lengthwise grain runs along; `any` for one that may be turned.
    by_template : bool
        Whether its rectangle is cut to shape by its template.
    shapes : tuple of (corners, int)
        The shapes that it is cut to as they are seen on cloth right side up, and how many of each
        there are among so many; empty for one that fills its rectangle.
    """

    name: str
    title: str
    quantity: int
    cut: tuple[float, float]
    grain: Grain
    by_template: bool = False
    shapes: tuple[tuple[Corners, int], ...] = ()


@dataclass(frozen=True, kw_only=True)
class ClothToCut:
    """A cloth and all that is cut from it.

    Parameters
    ----------
    role : str
        What it is in the project: outer, lining; of interfacing, the fabric it is fused to.
    sort : str
    title : str
        What it is, for the person; empty where the recipe does not say.
    wash : bool
        Whether it is washed before it is cut.
    pieces : tuple of PieceToCut
    """

    role: str
    sort: ClothSort
    title: str
    wash: bool
    pieces: tuple[PieceToCut, ...]


@dataclass(frozen=True, kw_only=True)
class NotionToHave:
    """Zips, hardware and whatever else is counted.

    Parameters
    ----------
    name, title : str
    sort : NotionSort
    quantity : int
    length, width : float or None
        Of each, at least, mm.
    coil : float or None
        Width of a zip's coil, mm.
    """

    name: str
    title: str
    sort: NotionSort
    quantity: int
    length: float | None
    width: float | None
    coil: float | None = None


@dataclass(frozen=True, kw_only=True)
class StabiliserSheets:
    """Sheets of stabiliser that are hooped.

    Parameters
    ----------
    hoop : str
    title : str
        What the recipe calls it; empty where it leaves that to the reference data.
    size : (width, height)
        Least of one sheet, mm: the field and the rim all round.
    sheets : int
    """

    hoop: str
    title: str
    size: tuple[float, float]
    sheets: int


@dataclass(frozen=True, kw_only=True)
class TapeToHold:
    """Tape that holds what is laid.

    Parameters
    ----------
    width : float
        mm.
    length : float
        Of all strips together as they are torn, mm.
    strips : int
    """

    width: float
    length: float
    strips: int


@dataclass(frozen=True, kw_only=True)
class Materials:
    """All that is taken, for as many projects as it was summed over.

    Parameters
    ----------
    cloths : tuple of ClothToCut
    notions : tuple of NotionToHave
    stabiliser : tuple of StabiliserSheets
    tape : tuple of TapeToHold
    """

    cloths: tuple[ClothToCut, ...]
    notions: tuple[NotionToHave, ...]
    stabiliser: tuple[StabiliserSheets, ...]
    tape: tuple[TapeToHold, ...]


def materials(made: Made) -> Materials:
    """Say what one hooping takes, all its copies together."""
    project = made.project
    tape = tape_of(project)
    return Materials(
        cloths=(*cloths_of(project), *_interfacings(project)),
        notions=tuple(
            NotionToHave(
                name=one.name,
                title=one.title,
                sort=one.sort,
                quantity=one.quantity,
                length=one.length,
                width=one.width,
                coil=one.coil,
            )
            for one in project.notions
            if not one.fills_hoop
        ),
        stabiliser=(stabiliser_of(made),),
        tape=() if tape is None else (tape,),
    )


def stabiliser_of(made: Made) -> StabiliserSheets:
    """Sheets for one hooping: as large as the field with the rim, as many as the stitches want."""
    hoop = made.room.hoop
    own = next((notion for notion in made.project.notions if notion.fills_hoop), None)
    return StabiliserSheets(
        hoop=hoop.name,
        title=own.title if own else "",
        size=(hoop.width + 2 * RIM, hoop.height + 2 * RIM),
        sheets=sheets_for(sum(step.stitch_count for step in made.sewn)),
    )


def tape_of(project: Project) -> TapeToHold | None:
    """Tape for one hooping; None where nothing is taped."""
    boxes = [strip.box for step in project.steps for strip in step.tape]
    if not boxes:
        return None
    sides = [sorted((box.width, box.height)) for box in boxes]
    return TapeToHold(
        width=max(short for short, _ in sides),
        length=sum(max(long, TORN) for _, long in sides),
        strips=len(sides),
    )


def by_template(piece: Piece) -> bool:
    """Whether a piece is cut to shape by its template, and does not fill its rectangle."""
    width, height = piece.cut
    return float(piece.outline.area.area) <= width * height - FILLED


def cloths_of(project: Project) -> Iterator[ClothToCut]:
    """Fabrics, batting and trims of a project with their pieces."""
    known = {one.role: one for one in project.fabrics}
    for role in dict.fromkeys(piece.fabric for piece in project.pieces):
        pieces = [piece for piece in project.pieces if piece.fabric == role]
        fabric = known.get(role)
        yield ClothToCut(
            role=role,
            sort=_sort(role, fabric, project),
            title=fabric.material.title if fabric else "",
            wash=fabric.material.wash if fabric else False,
            pieces=tuple(_to_cut(piece, project, shaped=by_template(piece)) for piece in pieces),
        )


def _sort(role: str, fabric: Fabric | None, project: Project) -> ClothSort:
    if role in project.trims:
        return "trim"
    return cast(ClothSort, fabric.material.sort) if fabric else "fabric"


def _interfacings(project: Project) -> Iterator[ClothToCut]:
    for fabric in project.fabrics:
        if pieces := fused(fabric, project):
            assert fabric.interfacing is not None
            yield ClothToCut(
                role=fabric.role,
                sort="interfacing",
                title=fabric.interfacing.title,
                wash=False,
                pieces=tuple(_to_cut(piece, project, shaped=False) for piece in pieces),
            )


def _to_cut(piece: Piece, project: Project, *, shaped: bool) -> PieceToCut:
    if piece.grain is Grain.BIAS:
        # At 45° on its square, any side of which may lie along the cloth.
        piece = replace(
            piece, cut=cut_from(piece), outline=_slanted(piece.outline), grain=Grain.ANY
        )
        shaped = True
    return PieceToCut(
        name=piece.name,
        title=piece.title,
        quantity=piece.quantity,
        cut=piece.cut,
        grain=piece.grain,
        by_template=shaped,
        shapes=shapes_to_cut(piece, project) if shaped else (),
    )


def _slanted(outline: Path) -> Path:
    """An outline turned by 45°."""
    half = math.cos(math.pi / 4)
    return Path(outline.points @ np.array([[half, half], [-half, half]]), outline.closed)


def cut_from(piece: Piece) -> tuple[float, float]:
    """Width and height of the rectangle that a piece is cut as, or cut from on the bias, mm.

    At 45° a strip takes a square: along its side lie its length and its width, each times the
    cosine of 45°.
    """
    width, height = piece.cut
    if piece.grain is not Grain.BIAS:
        return width, height
    side = (width + height) * math.cos(math.pi / 4)
    return side, side
