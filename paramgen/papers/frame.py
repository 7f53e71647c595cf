"""What every sheet has: its heading, its picture, and its foot."""

from collections.abc import Sequence
from dataclasses import dataclass

from paramgen.drawings.boxes import Box
from paramgen.drawings.legend import Entry
from paramgen.drawings.paragraphs import Words, box_of_texts, paragraph
from paramgen.drawings.primitives import Drawing, Group, Item, Shape, Text
from paramgen.papers.foot import (
    BETWEEN,
    INCHES,
    LETTERS,
    MAP,
    Foot,
    Imprint,
    squares,
    strip,
    with_scale,
    with_squares,
)
from paramgen.papers.printing import Printing
from paramgen.papers.tiles import Tile, assembly_map

#: Longest piece of a roll that is printed as one sheet, mm; PDF readers take 5080 (ISO 32000).
LONGEST = 3000.0


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
        The other tiles, if it is a tile and the foot shows how they lie together.
    foot : Foot
        Test squares on one sheet of a document, the first; a short scale on all others.
    """

    heading: tuple[Words, ...]
    picture: tuple[Item, ...]
    bottom: float
    legend: tuple[Entry, ...]
    says: str
    joined: Joined | None = None
    foot: Foot = Foot.SCALE


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

    def room(
        self,
        heading: Sequence[Words],
        foot: Foot,
        legend: Sequence[Entry] = (),
        *,
        map_too: bool = False,
    ) -> Box:
        """Room for a picture between the heading and the foot, or beside the squares.

        Parameters
        ----------
        heading : sequence of Words
        foot : Foot
        legend : sequence of Entry
            All that the legend of such a sheet may list; a strip is as high as it needs.
        map_too : bool
            Whether the foot shows how tiles lie together.
        """
        below = self.below(heading)
        if foot is Foot.COLUMN:
            return Box(below.left, below.top, below.right - INCHES - BETWEEN, below.bottom)
        high = INCHES
        if foot is Foot.SCALE:
            high = strip(legend, self.inner, 0.0, map_too=map_too).height
        return Box(below.left, below.top, below.right, below.bottom - high - BETWEEN)

    def below(self, heading: Sequence[Words]) -> Box:
        """All of a sheet below the heading."""
        inner, texts = self.inner, self._heading(heading)
        top = box_of_texts(texts).bottom + BETWEEN / 2
        return Box(inner.left, top, inner.right, inner.bottom)

    def taken(self, foot: Foot, legend: Sequence[Entry]) -> tuple[Box, ...]:
        """What the foot takes of a sheet that ends at its margin."""
        if foot is Foot.SCALE:
            return (strip(legend, self.inner, self.inner.bottom),)
        return squares(foot, self.inner, self.inner.bottom)

    def _heading(self, heading: Sequence[Words]) -> tuple[Text, ...]:
        inner = self.inner
        return paragraph(heading, (inner.left, inner.top), LETTERS, inner.width)

    def sheet(self, leaf: Leaf, number: int, count: int, name: str) -> Drawing:
        """Put a sheet together."""
        inner, joined = self.inner, leaf.joined
        imprint = Imprint(self.subject, number, count, leaf.legend)
        bottom, height = inner.bottom, self.height
        band = strip(leaf.legend, inner, bottom, map_too=joined is not None)
        if self.printing.paper.height is None:
            high = band.height if leaf.foot is Foot.SCALE else INCHES
            bottom = leaf.bottom + BETWEEN + high
            height = bottom + self.height - inner.bottom
            band = Box(band.left, bottom - band.height, band.right, bottom)
        if leaf.foot is Foot.SCALE:
            foot = with_scale(self.printing, band, imprint, map_too=joined is not None)
            rest = Box(band.right - MAP, band.top, band.right, bottom)
        else:
            first, second = squares(leaf.foot, inner, bottom)
            foot = with_squares(self.printing, (first, second), imprint)
            rest = Box(second.right + BETWEEN, second.top, inner.right, bottom)
        plan: tuple[Item, ...] = ()
        if joined:
            plan = assembly_map(joined.view, joined.shapes, joined.tiles, joined.now, rest)
        return Drawing(
            f"{name}-{number}",
            f"{self.subject}, page {number} of {count}",
            leaf.says,
            Box(0.0, 0.0, self.width, height),
            1.0,
            (
                Group("heading", self._heading(leaf.heading)),
                Group("picture", leaf.picture),
                Group("foot", foot),
                Group("map", plan),
            ),
        )
