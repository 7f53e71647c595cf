"""What every sheet has: its heading, the test squares, and what they are for."""

from collections.abc import Sequence
from dataclasses import dataclass

from paramgen.drawings.boxes import Box
from paramgen.drawings.legend import Entry, legend_block
from paramgen.drawings.lettering import BOLD, wrapped
from paramgen.drawings.outlines import rectangle
from paramgen.drawings.paragraphs import Words, box_of_texts, paragraph
from paramgen.drawings.primitives import Drawing, Group, Item, Shape, Style, Text
from paramgen.lengths import INCH, Unit, show
from paramgen.papers.printing import SQUARE, Printing
from paramgen.papers.tiles import Tile, assembly_map

#: Longest piece of a roll that is printed as one sheet, mm; PDF readers take 5080 (ISO 32000).
LONGEST = 3000.0
#: Size of letters, mm.
LETTERS = 2.6

_INCHES = 2 * INCH
_BETWEEN = 4.0
_INSIDE = 2.0
_MOST_LINES = 3


@dataclass(frozen=True)
class Joined:
    """The tiles that a sheet is one of.

    Parameters
    ----------
    view : Box
        All of the picture.
    shapes : tuple of Shape
        Its outline.
    tiles : tuple of Tile
    now : Tile
    """

    view: Box
    shapes: tuple[Shape, ...]
    tiles: tuple[Tile, ...]
    now: Tile


@dataclass(frozen=True)
class Leaf:
    """A sheet before it is numbered.

    Parameters
    ----------
    heading : tuple of Words
    picture : tuple of Item
        Where it is on the sheet, mm.
    bottom : float
        How low the picture comes, mm.
    legend : tuple of Entry
    says : str
        What a screen reader says of the picture.
    joined : Joined or None
        The other tiles, if it is a tile.
    beside : bool
        Whether the test squares stand one over the other at the right, not side by side.
    """

    heading: tuple[Words, ...]
    picture: tuple[Item, ...]
    bottom: float
    legend: tuple[Entry, ...]
    says: str
    joined: Joined | None = None
    beside: bool = False


@dataclass(frozen=True)
class Frame:
    """What a sheet has round its picture. All lengths are as they come out of the printer.

    Parameters
    ----------
    printing : Printing
    subject : str
        What the papers are for.
    """

    printing: Printing
    subject: str

    @property
    def width(self) -> float:
        """Of a sheet, mm."""
        return self.printing.paper.width / self.printing.stretch[0]

    @property
    def height(self) -> float:
        """Of a sheet, mm; of the longest on a roll."""
        return (self.printing.paper.height or LONGEST) / self.printing.stretch[1]

    @property
    def inner(self) -> Box:
        """Within the margins."""
        across, down = (self.printing.margin / one for one in self.printing.stretch)
        return Box(across, down, self.width - across, self.height - down)

    def room(self, heading: Sequence[Words], *, beside: bool = False) -> Box:
        """Room for a picture between the heading and the test squares, or beside these."""
        inner, texts = self.inner, self._heading(heading)
        top = box_of_texts(texts).bottom + _BETWEEN / 2
        if beside:
            return Box(inner.left, top, inner.right - _INCHES - _BETWEEN, inner.bottom)
        return Box(inner.left, top, inner.right, inner.bottom - _INCHES - _BETWEEN)

    def below(self, heading: Sequence[Words]) -> Box:
        """All of a sheet below the heading; on a roll, the room for a picture."""
        room = self.room(heading)
        if self.printing.paper.height is None:
            return room
        return Box(room.left, room.top, room.right, self.inner.bottom)

    def squares(self, bottom: float, *, beside: bool = False) -> tuple[Box, Box]:
        """Squares of 5 cm and of 2 in, standing on a line."""
        inner = self.inner
        if beside:
            left = inner.right - _INCHES
            second = Box(left, bottom - _INCHES, inner.right, bottom)
            low = second.top - _BETWEEN
            return Box(left, low - SQUARE, left + SQUARE, low), second
        first = Box(inner.left, bottom - SQUARE, inner.left + SQUARE, bottom)
        left = first.right + _BETWEEN
        return first, Box(left, bottom - _INCHES, left + _INCHES, bottom)

    def _heading(self, heading: Sequence[Words]) -> tuple[Text, ...]:
        inner = self.inner
        return paragraph(heading, (inner.left, inner.top), LETTERS, inner.width)

    def sheet(self, leaf: Leaf, number: int, count: int, name: str) -> Drawing:
        """Put a sheet together."""
        inner = self.inner
        if self.printing.paper.height is None:
            bottom = leaf.bottom + _BETWEEN + _INCHES
            height = bottom + self.height - inner.bottom
        else:
            bottom, height = inner.bottom, self.height
        first, second = self.squares(bottom, beside=leaf.beside)
        rest = Box(second.right + _BETWEEN, second.top, inner.right, bottom)
        joined = leaf.joined
        plan = (
            assembly_map(joined.view, joined.shapes, joined.tiles, joined.now, rest)
            if joined
            else ()
        )
        return Drawing(
            f"{name}-{number}",
            f"{self.subject}, page {number} of {count}",
            leaf.says,
            Box(0.0, 0.0, self.width, height),
            1.0,
            (
                Group("heading", self._heading(leaf.heading)),
                Group("picture", leaf.picture),
                Group("squares", (*self._first(first, number, count), *self._second(second, leaf))),
                Group("map", plan),
            ),
        )

    def _first(self, box: Box, number: int, count: int) -> tuple[Item, ...]:
        """Square of 5 cm, and how to measure it."""
        across, down = (show(side, Unit.MM) for side in self.printing.square)
        if self.printing.corrected:
            advice = (
                f"Corrected for a printer that prints 5 cm as {across} across and {down} down: "
                "every side must now measure 5 cm."
            )
        else:
            advice = (
                "Every side must measure 5 cm. If one comes out as 49.5 mm, make the papers "
                "again with --printed 49.5mm."
            )
        words = (
            Words("5 cm", bold=True),
            Words("Print at 100 %, measure this first.", bold=True),
            Words(advice),
            Words(f"Page {number} of {count}, {self.printing.paper.name}"),
        )
        return (Shape(rectangle(box), Style.CHECK_MARK), *_inside(box, words))

    def _second(self, box: Box, leaf: Leaf) -> tuple[Item, ...]:
        """Square of 2 in, what the papers are for, and the legend."""
        width = box.width - 2 * _INSIDE
        words = (Words("2 in", bold=True), *clipped(Words(self.subject), LETTERS, width))
        texts = _inside(box, words)
        low = box_of_texts(texts).bottom + 1.5
        room = Box(box.left + _INSIDE, low, box.right - _INSIDE, box.bottom)
        legend, _ = legend_block(leaf.legend, room, LETTERS)
        return (Shape(rectangle(box), Style.CHECK_MARK), *texts, *legend)


def clipped(line: Words, em: float, width: float) -> tuple[Words, ...]:
    """Break a line to a width and leave out what goes beyond three lines."""
    lines = wrapped(line.text, em * (BOLD if line.bold else 1.0), width)
    kept = list(lines[:_MOST_LINES])
    if len(lines) > len(kept):
        kept[-1] = kept[-1][:-2].rstrip() + "…"
    return tuple(Words(one, line.bold) for one in kept)


def _inside(box: Box, words: Sequence[Words]) -> tuple[Text, ...]:
    return paragraph(
        words, (box.left + _INSIDE, box.top + _INSIDE), LETTERS, box.width - 2 * _INSIDE
    )
