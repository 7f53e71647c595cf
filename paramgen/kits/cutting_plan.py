"""A cutting plan: where every piece lies on its cloth, and the cuts in their order."""

from enum import StrEnum

from paramgen.vocabulary.frozen_data import dataclass

#: From where to where a cut goes, mm: x from the left edge of the usable width, y from the end of
#: the cloth.
CutPath = tuple[float, float, float, float]


class CutKind(StrEnum):
    """What a cut is for."""

    SQUARE = "square up"
    STRIP = "strip"
    SELVEDGE = "selvedge"
    CLEAR = "clear to the motif"
    PIECE = "piece"
    TRIM = "trim"


@dataclass(frozen=True, kw_only=True)
class PlacedPiece:
    """A piece where it lies.

    Parameters
    ----------
    piece, title : str
    x, y : float
        Of its corner nearest to the left edge and to the end of the cloth, mm.
    width, height : float
        Across and along the cloth, mm.
    turned : bool
        Whether its own width lies along the cloth.
    strip : int
        Number of its strip, from 1.
    by_template : bool
        Whether it is cut to shape by its template afterwards.
    """

    piece: str
    title: str
    x: float
    y: float
    width: float
    height: float
    turned: bool
    strip: int
    by_template: bool = False


@dataclass(frozen=True, kw_only=True)
class ClothCut:
    """One cut with the rotary cutter, through one layer or a stack of strips.

    Parameters
    ----------
    kind : CutKind
    ruler : float
        From the edge that was cut before, mm; of squaring up what is taken off, and of clearing to
        a motif the most that may be.
    lines : tuple of CutPath
        One for each layer.
    strips : tuple of int
        Numbers of the strips that it makes or goes through; empty when the cloth is squared up.
    folded : bool
        Whether it goes across cloth that lies folded selvedge to selvedge.
    from_motif : float or None
        Before the middle of the motifs that are next, mm; None where it is not measured so.
    """

    kind: CutKind
    ruler: float
    lines: tuple[CutPath, ...]
    strips: tuple[int, ...] = ()
    folded: bool = False
    from_motif: float | None = None

    @property
    def layers(self) -> int:
        """Thicknesses of cloth that it goes through at once."""
        return len(self.lines) * (2 if self.folded else 1)


@dataclass(frozen=True, kw_only=True)
class SheetPlan:
    """How one length of cloth is cut.

    Parameters
    ----------
    role, sort, title, called : str
        As the cloth's; `called` is what it is sold as, or empty.
    number : int
        Among the lengths of its role, from 1.
    sold_width : float
        From edge to edge and before it shrinks, mm.
    width : float
        Usable, mm.
    selvedges : (float, float)
        Left and right of that, mm.
    length : float
        That the plan takes, squaring up included, mm.
    bound : float
        No plan cut in such strips takes less, mm; 0 for what is there already.
    proven : bool
        Whether no such plan takes less of what is bought.
    there : float or None
        Length that there is, mm; None where it is bought by the length.
    bought : bool
    buy : float or None
        To buy as it is sold and before it shrinks, mm; None where it is not bought by the length.
    cuts : tuple of ClothCut
        In their order.
    placed : tuple of PlacedPiece
    motif : (float, float) or None
        Repeat of the print across and along, mm, where each piece is centred on a motif.
    """

    role: str
    sort: str
    title: str
    called: str
    number: int
    sold_width: float
    width: float
    selvedges: tuple[float, float]
    length: float
    bound: float
    proven: bool
    there: float | None
    bought: bool
    buy: float | None
    cuts: tuple[ClothCut, ...]
    placed: tuple[PlacedPiece, ...]
    motif: tuple[float, float] | None = None

    @property
    def used(self) -> float:
        """Part of the cloth that becomes pieces, edge to edge and as long as the plan, 0 to 1."""
        area = sum(one.width * one.height for one in self.placed)
        return area / (self.length * (self.width + sum(self.selvedges)))
