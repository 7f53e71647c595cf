"""How much fabric to have: pieces laid in rows across its usable width."""

from collections.abc import Collection, Mapping, Sequence

from paramgen.amounts.project_materials import cut_from
from paramgen.lengths import INCH, TOLERANCE, round_up
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.project import Piece
from paramgen.vocabulary.unit import Unit

#: Usable width of a fabric, mm. Quilting cotton: 42 to 44 in wide, 40 to 42 in of it usable
#: (from memory); 1 m where fabric is sold by the metre (common practice, no source).
USABLE = {Unit.MM: 1000.0, Unit.INCH: 40 * INCH}
#: The same of what is fused to fabric, which is sold narrower (common practice, no source).
FUSED = {Unit.MM: 500.0, Unit.INCH: 20 * INCH}
#: Lengths are rounded up to this, mm: 5 cm; 1/8 yd.
SOLD_BY = {Unit.MM: 50.0, Unit.INCH: 4.5 * INCH}
#: Kept between two pieces, mm.
BETWEEN = 5.0


@dataclass(frozen=True, kw_only=True)
class FabricTaken:
    """What the pieces of one fabric take.

    Parameters
    ----------
    fabric : str
    pieces : int
    area : float
        Of the pieces alone, mm².
    width : float
        Usable width reckoned with, mm; the width itself of what is narrow.
    length : float
        To have, mm, rounded up.
    wide : bool
        Whether a piece is wider than the fabric, either way round.
    narrow : bool
        Whether it is bought by its length alone and not cut from a width.
    """

    fabric: str
    pieces: int
    area: float
    width: float
    length: float
    wide: bool = False
    narrow: bool = False


def amounts(
    pieces: Sequence[Piece],
    unit: Unit,
    usable: Mapping[Unit, float] = USABLE,
    trims: Collection[str] = (),
) -> tuple[FabricTaken, ...]:
    """What each fabric of the pieces takes, in the order in which they name it.

    Parameters
    ----------
    usable : mapping of Unit to mm
        Its usable width.
    trims : collection of str
        The fabrics that are bought by their length.
    """
    fabrics = dict.fromkeys(piece.fabric for piece in pieces)
    return tuple(
        _amount(
            [p for p in pieces if p.fabric == name], name, unit, usable[unit], narrow=name in trims
        )
        for name in fabrics
    )


def _amount(
    pieces: Sequence[Piece], fabric: str, unit: Unit, usable: float, *, narrow: bool
) -> FabricTaken:
    count = sum(piece.quantity for piece in pieces)
    area = sum(piece.quantity * piece.cut[0] * piece.cut[1] for piece in pieces)
    if narrow:
        width = max(min(piece.cut) for piece in pieces)
        length = sum(piece.quantity * (max(piece.cut) + BETWEEN) for piece in pieces)
        return FabricTaken(
            fabric=fabric,
            pieces=count,
            area=area,
            width=width,
            length=round_up(length, SOLD_BY[unit]),
            narrow=True,
        )
    boxes = [_lying(piece, usable) for piece in pieces for _ in range(piece.quantity)]
    length = strip_length(boxes, usable)
    wide = any(across > usable for across, _ in boxes)
    return FabricTaken(
        fabric=fabric,
        pieces=count,
        area=area,
        width=usable,
        length=round_up(length, SOLD_BY[unit]),
        wide=wide,
    )


def _lying(piece: Piece, usable: float) -> tuple[float, float]:
    """Room across and along the fabric, the lengthwise grain along it."""
    width, height = cut_from(piece)
    if piece.grain is Grain.WIDTH:
        return height, width
    if piece.grain is Grain.ANY and height > width and height <= usable:
        return height, width
    return width, height


def strip_length(
    boxes: Sequence[tuple[float, float]], usable: float, between: float = BETWEEN
) -> float:
    """Length that boxes take, in rows across a strip, the longest first.

    Parameters
    ----------
    boxes : sequence of (across, along)
        mm.
    usable : float
        Width of the strip, mm. What is wider has a row of its own.
    between : float
        Kept between two boxes, mm.

    Examples
    --------
    >>> strip_length([(40, 10), (40, 20), (40, 30)], 100)
    45.0
    """
    rows: list[tuple[float, float]] = []  # taken across, length
    for across, along in sorted(boxes, key=lambda box: (-box[1], -box[0])):
        for place, (taken, length) in enumerate(rows):
            if taken + between + across <= usable + TOLERANCE:
                rows[place] = taken + between + across, length
                break
        else:
            rows.append((across, along))
    return sum(length for _, length in rows) + between * max(0, len(rows) - 1)
