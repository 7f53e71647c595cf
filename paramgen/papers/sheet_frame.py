"""What every sheet has: its heading, its picture, and its foot."""

from collections.abc import Sequence

from paramgen.drawings.front_end.legend import LegendEntry
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Group, Shape, Text
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, paragraph
from paramgen.papers.joined_sheets import PictureTile, assembly_map
from paramgen.papers.printing import Printing
from paramgen.papers.sheet_foot import (
    BETWEEN,
    INCHES,
    LETTERS,
    MAP,
    Imprint,
    SheetFoot,
    squares,
    strip,
    with_scale,
    with_squares,
)
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass

#: Longest piece of a roll that is printed as one sheet, mm; PDF readers take 5080 (ISO 32000).
LONGEST = 3000.0


@dataclass(frozen=True)
class JoinedTiles:
    """The tiles that a sheet is one of.

    Parameters
    ----------
    view : Box
        All of the picture.
    shapes : tuple of Shape
        Its outline.
    tiles : tuple of PictureTile
    now : PictureTile
    """

    view: Box
    shapes: tuple[Shape, ...]
    tiles: tuple[PictureTile, ...]
    now: PictureTile


@dataclass(frozen=True, kw_only=True)
class UnnumberedSheet:
    """A sheet before it is numbered.

    Parameters
    ----------
    heading : tuple of TextLine
    picture : tuple of DrawnItem
        Where it is on the sheet, mm.
    bottom : float
        How low the picture comes, mm.
    legend : tuple of LegendEntry
    says : str
        What a screen reader says of the picture.
    joined : JoinedTiles or None
        The other tiles, if it is a tile and the foot shows how they lie together.
    foot : SheetFoot
        Test squares on one sheet of a document, the first; a short scale on all others.
    """

    heading: tuple[TextLine, ...]
    picture: tuple[DrawnItem, ...]
    bottom: float
    legend: tuple[LegendEntry, ...]
    says: str
    joined: JoinedTiles | None = None
    foot: SheetFoot = SheetFoot.SCALE


@dataclass(frozen=True)
class SheetFrame:
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
        heading: Sequence[TextLine],
        foot: SheetFoot,
        legend: Sequence[LegendEntry] = (),
        *,
        map_too: bool = False,
    ) -> Box:
        """Room for a picture between the heading and the foot, or beside the squares.

        Parameters
        ----------
        heading : sequence of TextLine
        foot : SheetFoot
        legend : sequence of LegendEntry
            All that the legend of such a sheet may list; a strip is as high as it needs.
        map_too : bool
            Whether the foot shows how tiles lie together.
        """
        below = self.below(heading)
        if foot is SheetFoot.COLUMN:
            return Box(below.left, below.top, below.right - INCHES - BETWEEN, below.bottom)
        high = INCHES
        if foot is SheetFoot.SCALE:
            high = strip(legend, self.inner, 0.0, map_too=map_too).height
        return Box(below.left, below.top, below.right, below.bottom - high - BETWEEN)

    def below(self, heading: Sequence[TextLine]) -> Box:
        """All of a sheet below the heading."""
        inner, texts = self.inner, self._heading(heading)
        top = box_of_texts(texts).bottom + BETWEEN / 2
        return Box(inner.left, top, inner.right, inner.bottom)

    def taken(self, foot: SheetFoot, legend: Sequence[LegendEntry]) -> tuple[Box, ...]:
        """What the foot takes of a sheet that ends at its margin."""
        if foot is SheetFoot.SCALE:
            return (strip(legend, self.inner, self.inner.bottom),)
        return squares(foot, self.inner, self.inner.bottom)

    def _heading(self, heading: Sequence[TextLine]) -> tuple[Text, ...]:
        inner = self.inner
        return paragraph(heading, (inner.left, inner.top), LETTERS, inner.width)

    def sheet(self, leaf: UnnumberedSheet, number: int, count: int, name: str) -> Drawing:
        """Put a sheet together."""
        inner, joined = self.inner, leaf.joined
        imprint = Imprint(self.subject, number, count, leaf.legend)
        bottom, height = inner.bottom, self.height
        band = strip(leaf.legend, inner, bottom, map_too=joined is not None)
        if self.printing.paper.height is None:
            high = band.height if leaf.foot is SheetFoot.SCALE else INCHES
            bottom = leaf.bottom + BETWEEN + high
            height = bottom + self.height - inner.bottom
            band = Box(band.left, bottom - band.height, band.right, bottom)
        if leaf.foot is SheetFoot.SCALE:
            foot = with_scale(self.printing, band, imprint, map_too=joined is not None)
            rest = Box(band.right - MAP, band.top, band.right, bottom)
        else:
            first, second = squares(leaf.foot, inner, bottom)
            foot = with_squares(self.printing, (first, second), imprint)
            rest = Box(second.right + BETWEEN, second.top, inner.right, bottom)
        plan: tuple[DrawnItem, ...] = ()
        if joined:
            plan = assembly_map(joined.view, joined.shapes, joined.tiles, joined.now, rest)
        return Drawing(
            name=f"{name}-{number}",
            title=f"{self.subject}, page {number} of {count}",
            description=leaf.says,
            box=Box(0.0, 0.0, self.width, height),
            scale=1.0,
            items=(
                Group("heading", self._heading(leaf.heading)),
                Group("picture", leaf.picture),
                Group("foot", foot),
                Group("map", plan),
            ),
        )
