"""The order in which people cut: square up, strips, strips stacked, pieces from them, trims."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from paramgen.kits.cutting_plan import ClothCut, CutKind, PlacedPiece
from paramgen.lengths import INCH, TOLERANCE
from paramgen.vocabulary.frozen_data import dataclass

#: Cloth that is wider is folded to be cut across: long rulers are 24 in (common practice, no
#: source).
LONG_RULER = 24 * INCH


@dataclass(frozen=True)
class LaidStrip:
    """A strip where it lies: its height and its pieces from left to right, mm."""

    number: int
    y: float
    height: float
    pieces: tuple[PlacedPiece, ...]

    @property
    def like(self) -> tuple[tuple[float, float, float], ...]:
        """Equal for strips that can be stacked and cut at once."""
        sizes = ((round(one.x, 6), one.width, one.height) for one in self.pieces)
        return ((self.height, 0.0, 0.0), *sizes)


def cuts_of(
    strips: Sequence[LaidStrip],
    width: float,
    selvedges: tuple[float, float],
    squaring: float,
    sheet: float | None,
    layers: int,
) -> tuple[ClothCut, ...]:
    """The cuts of one length of cloth.

    Parameters
    ----------
    strips : sequence of LaidStrip
        In the order in which they lie; room before one is cut off first, to clear to a motif.
    width : float
        Usable, mm.
    selvedges : (float, float)
        Left and right of that, mm.
    squaring : float
        Taken off the end, mm.
    sheet : float or None
        Length of the cloth, mm, if it may end with the last strip.
    layers : int
        Strips cut at once, at most.
    """
    return tuple(_cuts(strips, width, selvedges, squaring, sheet, layers))


def _cuts(
    strips: Sequence[LaidStrip],
    width: float,
    selvedges: tuple[float, float],
    squaring: float,
    sheet: float | None,
    layers: int,
) -> Iterator[ClothCut]:
    left, right = -selvedges[0], width + selvedges[1]
    folded = layers > 1 and right - left > LONG_RULER
    if squaring > TOLERANCE:
        line = (left, squaring, right, squaring)
        yield ClothCut(kind=CutKind.SQUARE, ruler=squaring, lines=(line,), folded=folded)
    before = squaring
    for one in strips:
        if one.y - before > TOLERANCE:
            yield ClothCut(
                kind=CutKind.CLEAR,
                ruler=one.y - before,
                lines=((left, one.y, right, one.y),),
                strips=(one.number,),
                folded=folded,
                from_motif=one.height / 2,
            )
        end = before = one.y + one.height
        if sheet is None or end < sheet - TOLERANCE:
            line = (left, end, right, end)
            yield ClothCut(
                kind=CutKind.STRIP,
                ruler=one.height,
                lines=(line,),
                strips=(one.number,),
                folded=folded,
            )
    for _, like in groupby(strips, key=lambda one: one.like):
        alike = list(like)
        for start in range(0, len(alike), layers):
            yield from _stack(alike[start : start + layers], left, right)


def _stack(stack: Sequence[LaidStrip], left: float, right: float) -> Iterator[ClothCut]:
    """Cut a stack of strips that are alike, from its left end on."""
    numbers = tuple(one.number for one in stack)

    def down(x: float) -> tuple[tuple[float, float, float, float], ...]:
        return tuple((x, one.y, x, one.y + one.height) for one in stack)

    pieces = stack[0].pieces
    if left < -TOLERANCE:
        yield ClothCut(kind=CutKind.SELVEDGE, ruler=-left, lines=down(0.0), strips=numbers)
    before = 0.0
    for piece in pieces:
        if piece.x < before - TOLERANCE:  # behind another in its column
            continue
        if piece.x - before > TOLERANCE:
            yield ClothCut(
                kind=CutKind.CLEAR,
                ruler=piece.x - before,
                lines=down(piece.x),
                strips=numbers,
                from_motif=piece.width / 2,
            )
        end = before = piece.x + piece.width
        if end < right - TOLERANCE:
            yield ClothCut(kind=CutKind.PIECE, ruler=piece.width, lines=down(end), strips=numbers)
    yield from _along(stack, numbers)


def _along(stack: Sequence[LaidStrip], numbers: tuple[int, ...]) -> Iterator[ClothCut]:
    """Cut the columns of a stack to their pieces, each from its upper end on."""
    strip, column = stack[0], -1.0
    before = strip.y
    for place, piece in enumerate(strip.pieces):
        if piece.x > column + TOLERANCE:
            column, before = piece.x, strip.y
        same = [one.pieces[place] for one in stack]
        if piece.y - before > TOLERANCE:
            yield ClothCut(
                kind=CutKind.CLEAR,
                ruler=piece.y - before,
                lines=tuple((p.x, p.y, p.x + p.width, p.y) for p in same),
                strips=numbers,
                from_motif=piece.height / 2,
            )
        before = piece.y + piece.height
        if before < strip.y + strip.height - TOLERANCE:
            ends = [(p, p.y + p.height) for p in same]
            yield ClothCut(
                kind=CutKind.TRIM,
                ruler=piece.height,
                lines=tuple((p.x, end, p.x + p.width, end) for p, end in ends),
                strips=numbers,
            )
