"""The cloth that a kit is cut from: what is bought by the length or the piece, what is there."""

from enum import StrEnum

from paramgen.lengths import INCH
from paramgen.mats.outlines_to_nest import Mat
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Taken off each side of a cloth, mm: quilting cotton is 42 to 44 in wide and 40 to 42 in of it can
#: be used (from memory).
SELVEDGE = {Unit.MM: 25.0, Unit.INCH: INCH}
#: Taken off the end of a cloth when it is squared up, mm (common practice, no source).
SQUARING = {Unit.MM: 25.0, Unit.INCH: INCH}
#: A fat quarter and a fat eighth of a yard, across and along, mm: 22 × 18 in; 22 × 9 in, or as long
#: as half a fat quarter is.
FAT_QUARTER, FAT_EIGHTH = (22 * INCH, 18 * INCH), (22 * INCH, 9 * INCH)


class OneWay(StrEnum):
    """How a print that has an upper end runs on its cloth."""

    NO = "any way"
    ALONG = "one-way"
    ACROSS = "one-way across"


@dataclass(frozen=True, kw_only=True)
class ClothThere:
    """A cloth to cut from.

    Parameters
    ----------
    role : str
        What is cut from it: outer, lining, batting, interfacing, stabiliser.
    width : float
        From edge to edge, mm.
    length : float or None
        mm; None for what is bought by the length.
    pieces : int or None
        How many there are of this length; None for what is bought by the piece.
    bought : bool
        Whether it is yet to be bought.
    selvedges : int
        Sides that have a selvedge.
    one_way : OneWay
    called : str
        What it is sold as, in a few words; empty where its width says it.
    motif : (float, float) or None
        Repeat of the print across and along, mm, where pieces are centred on a motif.
    """

    role: str
    width: float
    length: float | None = None
    pieces: int | None = 1
    bought: bool = True
    selvedges: int = 2
    one_way: OneWay = OneWay.NO
    called: str = ""
    motif: tuple[float, float] | None = None


@dataclass(frozen=True, kw_only=True)
class Cutting:
    """How cloth is cut.

    Parameters
    ----------
    selvedge : float
        Taken off each side that has one, mm.
    squaring : float
        Taken off the end of each cloth, mm.
    layers : int
        Strips that are stacked and cut at once, at most.
    stages : int
        2: strips, then pieces; 3: pieces as wide may lie behind each other in a strip.
    shrinkage : float
        Part of a length that is lost in the wash, 0 to less than 1.
    mat : Mat or None
        That of a cutting machine, if one cuts the pieces from sheets.
    """

    selvedge: float
    squaring: float
    layers: int = 4
    stages: int = 2
    shrinkage: float = 0.0
    mat: Mat | None = None
