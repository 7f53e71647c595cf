"""Pieces of a cloth nested on the mats of a cutting machine, and the sheets that go on the mats."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from paramgen.amounts.project_materials import ClothToCut, PieceToCut
from paramgen.amounts.shapes_to_cut import outline_of
from paramgen.geometry.outlines import rectangle
from paramgen.kits.cloth_there import OneWay
from paramgen.mats.nest import goes_on, nest
from paramgen.mats.outlines_to_nest import Mat, MatPlan, NestedMat, OutlineToNest
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

#: What is cut on a mat: stabiliser is hooped whole, trims are cut to length.
ON_MATS = ("fabric", "interfacing", "batting")


@dataclass(frozen=True, kw_only=True)
class ClothOnMats:
    """A cloth and its mats.

    Parameters
    ----------
    role, sort, title : str
        Of the cloth.
    plan : MatPlan
        Its pieces are named by their places in `pieces`.
    pieces : tuple of PieceToCut
    by_hand : tuple of PieceToCut
        Those of them that are too large for the mat.
    """

    role: str
    sort: str
    title: str
    plan: MatPlan
    pieces: tuple[PieceToCut, ...]
    by_hand: tuple[PieceToCut, ...] = ()

    def place(self, name: str) -> int:
        """The place in `pieces` of what a nested one is: titles may stand for several sizes."""
        return int(name.partition(".")[0])

    def piece(self, name: str) -> PieceToCut:
        """The piece that a nested one is."""
        return self.pieces[self.place(name)]


def on_mats(
    cloth: ClothToCut,
    mat: Mat,
    one_way: OneWay,
    unit: Unit,
    go_on: Callable[[], bool] = lambda: True,
) -> tuple[ClothOnMats, ClothToCut]:
    """Nest a cloth's pieces.

    Parameters
    ----------
    cloth : ClothToCut
    mat : Mat
        The lengthwise grain runs along its height.
    one_way : OneWay
        How its print runs.
    unit : Unit
        The person's.
    go_on : callable
        Asked before each further try.

    Returns
    -------
    laid : ClothOnMats
    sheets : ClothToCut
        The cloth in the sheets that are laid on the mats, and what is cut by hand. All of it
        lies as the print does, whichever way that runs.
    """
    outlines = [tuple(_outlines(piece, place, one_way)) for place, piece in enumerate(cloth.pieces)]
    small = [all(goes_on(one, mat) for one in several) for several in outlines]
    fitting = [one for fits, each in zip(small, outlines, strict=True) if fits for one in each]
    plan = nest(fitting, mat, go_on, unit)
    by_hand = tuple(piece for fits, piece in zip(small, cloth.pieces, strict=True) if not fits)
    laid = ClothOnMats(
        role=cloth.role,
        sort=cloth.sort,
        title=cloth.title,
        plan=plan,
        pieces=cloth.pieces,
        by_hand=by_hand,
    )
    held = (_held(piece, one_way) for piece in by_hand)
    return laid, replace(cloth, pieces=(*_sheets(laid), *held))


def _outlines(piece: PieceToCut, place: int, one_way: OneWay) -> Iterator[OutlineToNest]:
    width, height = piece.cut
    box = rectangle(-width / 2, -height / 2, width / 2, height / 2)
    shapes = [(outline_of(corners), count) for corners, count in piece.shapes] or [(box, 1)]
    among = sum(count for _, count in shapes)
    for number, (outline, count) in enumerate(shapes):
        yield OutlineToNest(
            name=f"{place}.{number}",
            outline=outline,
            quantity=piece.quantity * count // among,
            turns=_turns(piece.grain, one_way),
        )


def _turns(grain: Grain, one_way: OneWay) -> tuple[int, ...]:
    """How a piece may be turned: as its grain and the print allow."""
    if one_way is not OneWay.NO:
        return (0,) if one_way is OneWay.ALONG else (90,)
    ways = {Grain.HEIGHT: (0, 180), Grain.WIDTH: (90, 270)}
    return ways.get(grain, (0, 90, 180, 270))


def _held(piece: PieceToCut, one_way: OneWay) -> PieceToCut:
    """A piece that lies as the print does, by its grain."""
    grain = {OneWay.NO: piece.grain, OneWay.ALONG: Grain.HEIGHT, OneWay.ACROSS: Grain.WIDTH}
    return replace(piece, grain=grain[one_way])


def sheet_size(mat: Mat, one: NestedMat) -> tuple[float, float]:
    """Width and height of the cloth that is laid in the upper left corner of a mat, mm."""
    _, _, right, bottom = one.used
    return round(right + mat.edge, 2), round(bottom + mat.edge, 2)


def _sheets(laid: ClothOnMats) -> Iterator[PieceToCut]:
    for number, (one, times) in enumerate(laid.plan.mats, 1):
        yield PieceToCut(
            name=f"mat-{number}",
            title=f"sheet for mat {number}",
            quantity=times,
            cut=sheet_size(laid.plan.mat, one),
            grain=Grain.HEIGHT,
        )
