"""What a sheet has at its foot: the test squares once in a document, else a short scale."""

from collections.abc import Sequence
from enum import Enum

from paramgen.drawings.front_end.legend import LegendEntry, legend_block
from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, Text
from paramgen.drawings.primitives.lettering import BOLD, LINE_BELOW, PITCH, wrapped
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, paragraph
from paramgen.drawings.primitives.symbols import check_marks, check_marks_width
from paramgen.lengths import INCH, show
from paramgen.papers.printing import SQUARE, Printing
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Size of letters, mm.
LETTERS = 2.6
#: Least room between two things on a sheet, mm.
BETWEEN = 4.0
#: Side of the square of 2 in, mm.
INCHES = 2 * INCH
#: Room at the foot for a map of how sheets lie together, mm.
MAP = 26.0

#: What a sheet says that has nothing else on it.
SQUARES_ALONE = TextLine(
    "This sheet has the test squares alone: print and measure it before the others."
)

_INSIDE = 2.0
_MOST_LINES = 3
# Where a printer cuts something off, this much more margin is tried, mm.
_MORE = 4.0


class SheetFoot(Enum):
    """What a sheet has at its foot."""

    SQUARES = "test squares side by side"
    COLUMN = "test squares one over the other, at the right"
    SCALE = "a short scale"


@dataclass(frozen=True)
class Imprint:
    """What stands at the foot of a sheet besides measures.

    Parameters
    ----------
    subject : str
        What the papers are for.
    number, count : int
        Of the page, and of all.
    legend : sequence of LegendEntry
    """

    subject: str
    number: int
    count: int
    legend: Sequence[LegendEntry]


def squares(foot: SheetFoot, inner: Box, bottom: float) -> tuple[Box, Box]:
    """Squares of 5 cm and of 2 in, standing on a line."""
    if foot is SheetFoot.COLUMN:
        left = inner.right - INCHES
        second = Box(left, bottom - INCHES, inner.right, bottom)
        low = second.top - BETWEEN
        return Box(left, low - SQUARE, left + SQUARE, low), second
    first = Box(inner.left, bottom - SQUARE, inner.left + SQUARE, bottom)
    left = first.right + BETWEEN
    return first, Box(left, bottom - INCHES, left + INCHES, bottom)


def strip(
    legend: Sequence[LegendEntry], inner: Box, bottom: float, *, map_too: bool = False
) -> Box:
    """Room for a scale with its legend, as high as they need, across the foot of a sheet."""
    room = _legend_room(Box(inner.left, 0.0, inner.right, 0.0), map_too=map_too)
    high = max(check_marks((0.0, 0.0), LETTERS)[1], legend_block(legend, room, LETTERS)[1])
    high += PITCH * LETTERS
    return Box(inner.left, bottom - max(high, MAP if map_too else 0.0), inner.right, bottom)


def _legend_room(box: Box, *, map_too: bool) -> Box:
    """What a strip has beside the scale."""
    left = box.left + check_marks_width(LETTERS) + BETWEEN
    return Box(left, box.top, box.right - (MAP + BETWEEN if map_too else 0.0), box.bottom)


def with_squares(
    printing: Printing, boxes: tuple[Box, Box], imprint: Imprint
) -> tuple[DrawnItem, ...]:
    """Draw both squares, how to measure them, what the papers are for, and the legend."""
    first, second = boxes
    across, down = (show(side, Unit.MM) for side in printing.square)
    if printing.corrected:
        advice = (
            f"Corrected for a printer that prints 5 cm as {across} across and {down} down: "
            "every side must now measure 5 cm."
        )
    else:
        advice = (
            "Every side must measure 5 cm. If one comes out as 49.5 mm, make the papers "
            "again with --printed 49.5mm."
        )
    more = show(printing.margin + _MORE, Unit.MM).replace(" ", "")
    words = (
        TextLine("5 cm", bold=True),
        TextLine("Print at 100 %, measure this first.", bold=True),
        TextLine(advice),
        TextLine(
            "If the printer cuts off lines or words near the edges of the paper, make them again "
            f"with --paper-margin {more}."
        ),
        TextLine(_page(printing, imprint)),
    )
    width = second.width - 2 * _INSIDE
    about = (TextLine("2 in", bold=True), *clipped(TextLine(imprint.subject), LETTERS, width))
    texts = _inside(second, about)
    low = box_of_texts(texts).bottom + 1.5
    room = Box(second.left + _INSIDE, low, second.right - _INSIDE, second.bottom)
    legend, _ = legend_block(imprint.legend, room, LETTERS)
    return (
        Shape(rectangle(first), Style.CHECK_MARK),
        *_inside(first, words),
        Shape(rectangle(second), Style.CHECK_MARK),
        *texts,
        *legend,
    )


def with_scale(
    printing: Printing, box: Box, imprint: Imprint, *, map_too: bool = False
) -> tuple[DrawnItem, ...]:
    """Draw bars of 5 cm and of 2 in, the legend, and what the papers are for."""
    marks, _ = check_marks((box.left, box.top), LETTERS)
    legend, _ = legend_block(imprint.legend, _legend_room(box, map_too=map_too), LETTERS)
    width = box.width - (MAP + BETWEEN if map_too else 0.0)
    line = TextLine(f"{_page(printing, imprint)}. {imprint.subject}")
    (words,) = clipped(line, LETTERS, width, lines=1)
    at = (box.left, box.bottom - LINE_BELOW * LETTERS)
    return (*marks, *legend, Text(at, words.text, LETTERS))


def _page(printing: Printing, imprint: Imprint) -> str:
    return f"Page {imprint.number} of {imprint.count}, {printing.paper.name}"


def clipped(
    line: TextLine, em: float, width: float, *, lines: int = _MOST_LINES
) -> tuple[TextLine, ...]:
    """Break a line to a width and leave out what goes beyond so many lines."""
    broken = wrapped(line.text, em * (BOLD if line.bold else 1.0), width)
    kept = list(broken[:lines])
    if len(broken) > len(kept):
        kept[-1] = kept[-1][:-2].rstrip() + "…"
    return tuple(TextLine(one, line.bold) for one in kept)


def _inside(box: Box, words: Sequence[TextLine]) -> tuple[Text, ...]:
    return paragraph(
        words, (box.left + _INSIDE, box.top + _INSIDE), LETTERS, box.width - 2 * _INSIDE
    )
