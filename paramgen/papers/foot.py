"""What a sheet has at its foot: the test squares once in a document, else a short scale."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from paramgen.drawings.boxes import Box
from paramgen.drawings.legend import Entry, legend_block
from paramgen.drawings.lettering import BOLD, LINE_BELOW, PITCH, wrapped
from paramgen.drawings.marks import check_marks, check_marks_width
from paramgen.drawings.outlines import rectangle
from paramgen.drawings.paragraphs import Words, box_of_texts, paragraph
from paramgen.drawings.primitives import Item, Shape, Style, Text
from paramgen.lengths import INCH, Unit, show
from paramgen.papers.printing import SQUARE, Printing

#: Size of letters, mm.
LETTERS = 2.6
#: Least room between two things on a sheet, mm.
BETWEEN = 4.0
#: Side of the square of 2 in, mm.
INCHES = 2 * INCH
#: Room at the foot for a map of how sheets lie together, mm.
MAP = 26.0

#: What a sheet says that has nothing else on it.
SQUARES_ALONE = Words(
    "This sheet has the test squares alone: print and measure it before the others."
)

_INSIDE = 2.0
_MOST_LINES = 3
# Where a printer cuts something off, this much more margin is tried, mm.
_MORE = 4.0


class Foot(Enum):
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
    legend : sequence of Entry
    """

    subject: str
    number: int
    count: int
    legend: Sequence[Entry]


def squares(foot: Foot, inner: Box, bottom: float) -> tuple[Box, Box]:
    """Squares of 5 cm and of 2 in, standing on a line."""
    if foot is Foot.COLUMN:
        left = inner.right - INCHES
        second = Box(left, bottom - INCHES, inner.right, bottom)
        low = second.top - BETWEEN
        return Box(left, low - SQUARE, left + SQUARE, low), second
    first = Box(inner.left, bottom - SQUARE, inner.left + SQUARE, bottom)
    left = first.right + BETWEEN
    return first, Box(left, bottom - INCHES, left + INCHES, bottom)


def strip(legend: Sequence[Entry], inner: Box, bottom: float, *, map_too: bool = False) -> Box:
    """Room for a scale with its legend, as high as they need, across the foot of a sheet."""
    room = _legend_room(Box(inner.left, 0.0, inner.right, 0.0), map_too=map_too)
    high = max(check_marks((0.0, 0.0), LETTERS)[1], legend_block(legend, room, LETTERS)[1])
    high += PITCH * LETTERS
    return Box(inner.left, bottom - max(high, MAP if map_too else 0.0), inner.right, bottom)


def _legend_room(box: Box, *, map_too: bool) -> Box:
    """What a strip has beside the scale."""
    left = box.left + check_marks_width(LETTERS) + BETWEEN
    return Box(left, box.top, box.right - (MAP + BETWEEN if map_too else 0.0), box.bottom)


def with_squares(printing: Printing, boxes: tuple[Box, Box], imprint: Imprint) -> tuple[Item, ...]:
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
    more = show(printing.margin + _MORE, Unit.MM).replace("\u00a0", " ").replace(" ", "")
    words = (
        Words("5 cm", bold=True),
        Words("Print at 100 %, measure this first.", bold=True),
        Words(advice),
        Words(
            "If the printer cuts off lines or words near the edges of the paper, make them again "
            f"with --paper-margin {more}."
        ),
        Words(_page(printing, imprint)),
    )
    width = second.width - 2 * _INSIDE
    about = (Words("2 in", bold=True), *clipped(Words(imprint.subject), LETTERS, width))
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
) -> tuple[Item, ...]:
    """Draw bars of 5 cm and of 2 in, the legend, and what the papers are for."""
    marks, _ = check_marks((box.left, box.top), LETTERS)
    legend, _ = legend_block(imprint.legend, _legend_room(box, map_too=map_too), LETTERS)
    width = box.width - (MAP + BETWEEN if map_too else 0.0)
    line = Words(f"{_page(printing, imprint)}. {imprint.subject}")
    (words,) = clipped(line, LETTERS, width, lines=1)
    at = (box.left, box.bottom - LINE_BELOW * LETTERS)
    return (*marks, *legend, Text(at, words.text, LETTERS))


def _page(printing: Printing, imprint: Imprint) -> str:
    return f"Page {imprint.number} of {imprint.count}, {printing.paper.name}"


def clipped(line: Words, em: float, width: float, *, lines: int = _MOST_LINES) -> tuple[Words, ...]:
    """Break a line to a width and leave out what goes beyond so many lines."""
    broken = wrapped(line.text, em * (BOLD if line.bold else 1.0), width)
    kept = list(broken[:lines])
    if len(broken) > len(kept):
        kept[-1] = kept[-1][:-2].rstrip() + "…"
    return tuple(Words(one, line.bold) for one in kept)


def _inside(box: Box, words: Sequence[Words]) -> tuple[Text, ...]:
    return paragraph(
        words, (box.left + _INSIDE, box.top + _INSIDE), LETTERS, box.width - 2 * _INSIDE
    )
