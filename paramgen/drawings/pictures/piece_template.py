"""A piece as a template at full size."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from paramgen.drawings.front_end.framed_picture import LEAST_LETTERS, FramedPicture, composed
from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.front_end.piece_marks import MarkingPlace, marked
from paramgen.drawings.front_end.print_as_cut import PrintAsCut
from paramgen.drawings.primitives.drawn_paths import box_of, straight, thinned
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Shape, Style, Tone
from paramgen.drawings.primitives.paragraphs import TextLine, fabric_name, listed
from paramgen.lengths import show_size_both, spaced, unbroken
from paramgen.vocabulary.kinds import FoldKind, Grain
from paramgen.vocabulary.project import Crease, Piece
from paramgen.vocabulary.unit import Unit

_FOLD_WORDS = {
    FoldKind.HALF: "fold in half",
    FoldKind.QUARTER: "fold in quarters",
    FoldKind.THIRDS: "fold in three",
    FoldKind.HEM: "turn the hem",
}

# Letters are read at true size: they grow a little with the piece, and no further.
_LETTERS_PER_SIZE, _MOST_LETTERS = 0.028, 4.0


def piece_template(
    piece: Piece,
    unit: Unit,
    tone: Tone | None = None,
    *,
    of: str = "",
    printed: PrintAsCut | None = None,
) -> Drawing:
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
    printed : PrintAsCut or None
        How the print of its fabric lies, which is shown pale.

    Returns
    -------
    Drawing
        Named after the piece. What does not fit on the piece is written below it.
    """
    (outline,) = thinned((piece.outline,))
    view = box_of((outline,))
    em = letters_on(piece.cut)
    words = (*template_words((piece,), unit), *_print_words(piece, printed))
    creases = tuple((one.order, straight(one.start, one.end)) for one in piece.creases)
    on_it = marked(
        MarkingPlace(outline.area, view, em),
        creases,
        piece.grain,
        words,
        tones=(tone,) if tone else (),
    )
    shown = (
        (Shape(outline, Style.PRINT_AS_CUT, tone=tone, print_at=printed.lies),) if printed else ()
    )
    picture: tuple[DrawnItem, ...] = (
        *shown,
        Shape(outline, Style.CUT_LINE),
        *(Shape(crease, Style.CREASE) for _, crease in creases),
        *on_it.items,
    )
    return composed(
        FramedPicture(
            name=f"piece-{piece.name}",
            title=f"{of}, {piece.title}: template" if of else f"{piece.title}: template",
            description=spaced(" ".join(f"{line.text}." for line in words[1:])),
            heading=(*((TextLine(of),) if of else ()), *words[:1]),
            above="",
            view=view,
            picture=picture,
            legend=entries_for(picture, unit=unit),
            letters=em,
            notes=() if on_it.written == len(words) else words[1:],
        )
    )


def _print_words(piece: Piece, printed: PrintAsCut | None) -> Iterator[TextLine]:
    """Say what of the print is shown, and how many need it another way up."""
    if printed:
        yield TextLine("print this way up, seen from its right side")
    if printed and printed.others:
        yield TextLine(f"{printed.others} of {piece.quantity} with the print the other way up")


def letters_on(size: tuple[float, float]) -> float:
    """Size of the letters on a piece of a size at true size, mm."""
    return min(max(LEAST_LETTERS, _LETTERS_PER_SIZE * min(size)), _MOST_LETTERS)


def template_words(
    pieces: Sequence[Piece], unit: Unit, *, half: bool = False
) -> Iterator[TextLine]:
    """All that is to be known of a template, its title first.

    Parameters
    ----------
    pieces : sequence of Piece
        Those that it serves: all have the same outline and the same marks.
    unit : Unit
        The person's; the other is shown beside it.
    half : bool
        Whether it is half of them, to be laid on a fold of the fabric.
    """
    piece = pieces[0]
    yield TextLine(shared_title([one.title for one in pieces]), bold=True)
    counts: dict[str, int] = {}
    for one in pieces:
        counts[one.fabric] = counts.get(one.fabric, 0) + one.quantity
    cut = ", ".join(f"{count} from {fabric_name(fabric)}" for fabric, count in counts.items())
    yield TextLine(f"Cut {cut}{', on a fold' if half else ''}")
    size = unbroken(show_size_both(*piece.cut, unit))
    yield TextLine(f"opened out {size}" if half else f"cut {size}")
    if piece.creases or piece.folded != piece.cut:
        yield TextLine(f"folded {unbroken(show_size_both(*piece.folded, unit))}")
    if piece.grain is Grain.BIAS:
        yield TextLine("cut on the bias, at 45° to the grain")
    elif piece.grain is not Grain.ANY:
        yield TextLine(f"grain along the {piece.grain}")
    else:
        yield TextLine("grain in any direction")
    for how, creases in groupby(piece.creases, key=_fold_words):
        yield TextLine(f"{', '.join(str(crease.order) for crease in creases)}: {how}")


def shared_title(titles: Sequence[str]) -> str:
    """Name several pieces, what all their titles end with once.

    >>> shared_title(["top, for all copies", "back, for all copies"])
    'top and back, for all copies'
    >>> shared_title(["front", "front lining"])
    'front and front lining'
    """
    parts = [title.partition(", ") for title in dict.fromkeys(titles)]
    if len(parts) > 1 and len({end for _, _, end in parts}) == 1:
        _, comma, end = parts[0]
        return f"{listed([start for start, _, _ in parts])}{comma}{end}"
    return listed(["".join(part) for part in parts])


def _fold_words(crease: Crease) -> str:
    return f"{_FOLD_WORDS[crease.kind]}, {crease.towards}"
