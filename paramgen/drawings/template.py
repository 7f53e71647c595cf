"""A piece as a template at full size."""

from collections.abc import Iterator
from itertools import groupby

from paramgen.drawings.legend import entries_for
from paramgen.drawings.marking import Place, marked
from paramgen.drawings.outlines import box_of, straight, thinned
from paramgen.drawings.paragraphs import Words, fabric_name, whole_lengths
from paramgen.drawings.primitives import Drawing, Item, Shape, Style, Tone
from paramgen.drawings.sheet import LEAST_LETTERS, Sheet, composed
from paramgen.layout.project import Crease, FoldKind, Piece
from paramgen.lengths import Unit, show_size_both

_FOLD_WORDS = {
    FoldKind.HALF: "fold in half",
    FoldKind.QUARTER: "fold in quarters",
    FoldKind.HEM: "turn the hem",
}

# Letters are read at true size: they grow a little with the piece, and no further.
_LETTERS_PER_SIZE, _MOST_LETTERS = 0.028, 4.0


def piece_template(piece: Piece, unit: Unit, tone: Tone | None = None, *, of: str = "") -> Drawing:
    """Draw a piece as it is cut, at true size, with all that is to be known of it.

    Parameters
    ----------
    piece : Piece
    unit : Unit
        The person's; the other is shown beside it.
    tone : Tone or None
        What its fabric is told by in all pictures.
    of : str
        What the person calls the project that it is a piece of; empty for none.

    Returns
    -------
    Drawing
        Named after the piece. What does not fit on the piece is written below it.
    """
    (outline,) = thinned((piece.outline,))
    view = box_of((outline,))
    em = letters_on(piece)
    words = tuple(piece_words(piece, unit))
    creases = tuple((one.order, straight(one.start, one.end)) for one in piece.creases)
    on_it = marked(
        Place(outline.area, view, em), creases, piece.grain, words, tones=(tone,) if tone else ()
    )
    picture: tuple[Item, ...] = (
        Shape(outline, Style.CUT_LINE),
        *(Shape(crease, Style.CREASE) for _, crease in creases),
        *on_it.items,
    )
    return composed(
        Sheet(
            name=f"piece-{piece.name}",
            title=f"{of}, {piece.title}: template" if of else f"{piece.title}: template",
            description=" ".join(f"{line.text}." for line in words[1:]).replace("\u00a0", " "),
            heading=(*((Words(of),) if of else ()), *words[:1]),
            above="",
            view=view,
            picture=picture,
            legend=entries_for(picture),
            letters=em,
            notes=() if on_it.written == len(words) else words[1:],
        )
    )


def letters_on(piece: Piece) -> float:
    """Size of the letters on a piece at true size, mm."""
    return min(max(LEAST_LETTERS, _LETTERS_PER_SIZE * min(piece.cut)), _MOST_LETTERS)


def piece_words(piece: Piece, unit: Unit) -> Iterator[Words]:
    """All that is to be known of a piece, its title first."""
    yield Words(piece.title, bold=True)
    yield Words(f"Cut {piece.quantity} from {fabric_name(piece.fabric)}")
    yield Words(f"cut {whole_lengths(show_size_both(*piece.cut, unit))}")
    if piece.creases or piece.folded != piece.cut:
        yield Words(f"folded {whole_lengths(show_size_both(*piece.folded, unit))}")
    if piece.grain in ("width", "height"):
        yield Words(f"grain along the {piece.grain}")
    else:
        yield Words("grain in any direction")
    for how, creases in groupby(piece.creases, key=_fold_words):
        yield Words(f"{', '.join(str(crease.order) for crease in creases)}: {how}")


def _fold_words(crease: Crease) -> str:
    return f"{_FOLD_WORDS[crease.kind]}, {crease.towards}"
