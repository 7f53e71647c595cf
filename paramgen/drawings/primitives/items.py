"""What is drawn, and nothing about how it is written out."""

from collections.abc import Iterable, Iterator
from enum import StrEnum

from paramgen.drawings.primitives.lettering import BOLD, LINE_ABOVE, LINE_BELOW, text_width
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.cloth import Cloth
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Path, Point


class Style(StrEnum):
    """What a shape means; how it looks is for `looks` to say."""

    HOOP_FIELD = "hoop field"
    RIGHT_SIDE = "right side"
    WRONG_SIDE = "wrong side"
    NO_RIGHT_SIDE = "batting"
    SEE_THROUGH = "see-through piece"
    ZIP_TAPE = "zip tape"
    COIL = "zip coil"
    SLIT = "zip, open"
    SLIDER = "slider"
    ZIP_STOP = "zip stop"
    RAW_EDGE = "raw edge"
    FOLDED_EDGE = "folded edge"
    HIDDEN = "hidden"
    HOLDING_TAPE = "holding tape"
    TAPE_OFF = "tape taken off"
    PLACEMENT = "placement line under the piece"
    STITCHED_BEFORE = "stitched before"
    STITCHED_NOW = "stitched now"
    THREAD = "each stitch of what was sewn as drawn"
    THREAD_NOW = "each stitch of what is sewn as drawn now"
    PATCH = "patch on a panel"
    BY_HAND = "by hand"
    GAP = "turning gap"
    CUT_AWAY = "cut away"
    WAY = "way it goes"
    FLAP = "flap that is pulled over"
    MEASURE = "measure"
    PIECE_OUTLINE = "outline of a piece"
    CUT_LINE = "cut line"
    CREASE = "crease"
    SWATCH = "swatch of a fabric"
    PRINT_AS_CUT = "print of a piece as it is cut"
    GRAIN = "grain"
    ON_FOLD = "edge that lies on a fold of the fabric"
    CENTRE_MARK = "centre mark"
    JOIN_LINE = "line along which two papers are joined"
    FIELD_EDGE = "edge of the hoop field"
    HELD = "thing it holds"
    BEHIND = "lies behind"
    CORD = "cord"
    HARDWARE = "snap, ring or the like"
    CUT_OUT = "opening cut out"
    PLACE = "place of a finding"
    SHEET = "sheet cut across"
    TITLE_GROUND = "ground of a title on a sheet cut across"
    RIGHT_FACE = "right side of a sheet cut across"
    HIDDEN_INSIDE = "hidden inside"
    OUTSIDE = "hollow that turns out or opens"
    CROSSING = "stitches through the layers"
    CHECK_MARK = "check mark"
    LEADER = "leader"
    DOT = "dot"
    BADGE = "badge"
    NO_REGION = "sizes that do not work"
    REGION = "sizes that work in some hoop"
    REGION_1 = "sizes that work, first tint"
    REGION_2 = "sizes that work, second tint"
    REGION_3 = "sizes that work, third tint"
    REGION_4 = "sizes that work, fourth tint"
    REGION_5 = "sizes that work, fifth tint"
    REGION_6 = "sizes that work, sixth tint"
    REGION_7 = "sizes that work, seventh tint"
    REGION_8 = "sizes that work, eighth tint"
    BOUND = "edge of all that works"
    BOUND_1 = "edge of sizes that work, first dash"
    BOUND_2 = "edge of sizes that work, second dash"
    BOUND_3 = "edge of sizes that work, third dash"
    BOUND_4 = "edge of sizes that work, fourth dash"
    RULER = "ruler along an edge"
    ASKED = "sizes asked for"
    PLY_EDGES = "plies seen from their edge"
    PLY_EDGE = "where one ply ends and the next begins"
    FACE_EDGE = "edge of a face"


class Anchor(StrEnum):
    """Which point of a text lies at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Tone:
    """A fabric by the part it has in a project: what it is told by is the same in all pictures.

    Parameters
    ----------
    place : int
        From 0, unlike that of any other fabric of the project; its tone and pattern go by it.
    name : str
        For the person.
    faced : bool
        Whether it has a right side; batting has none, and is dotted in all pictures.
    cloth : Cloth or None
        What it looks like, if the person said it.
    faded : bool
        Whether it was laid before what is laid now, and steps back behind that.
    """

    place: int
    name: str
    faced: bool = True
    cloth: Cloth | None = None
    faded: bool = False


@dataclass(frozen=True)
class Shape:
    """A line, or the area within a closed one: its style's look says which.

    Parameters
    ----------
    path : Path
        In millimetres, x right and y down.
    style : Style
    now : bool
        Whether it belongs to what is done now, and stands out.
    colour : str or None
        `#rrggbb` of a stop, where that takes the place of the look's own stroke.
    tone : Tone or None
        The fabric that an area is of.
    print_at : Path or None
        How the print of that fabric lies, by three points: a corner of a repeat, 1 mm to the right
        of it as the print is looked at, and 1 mm below it. Where the print is seen from behind,
        they are mirrored. None where it is not known: no print is then drawn.
    """

    path: Path
    style: Style
    now: bool = False
    colour: str | None = None
    tone: Tone | None = None
    print_at: Path | None = None


@dataclass(frozen=True)
class Text:
    """One line of text.

    Parameters
    ----------
    at : Point
        Where its baseline starts, has its middle or ends, mm.
    words : str
    size : float
        Of the letters, mm: the em of the font.
    anchor : Anchor
    bold : bool
    """

    at: Point
    words: str
    size: float
    anchor: Anchor = Anchor.START
    bold: bool = False

    @property
    def box(self) -> Box:
        """The room it takes, reckoned generously."""
        width = text_width(self.words, self.size) * (BOLD if self.bold else 1.0)
        left = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[self.anchor]
        x, y = self.at
        return Box(
            x - left, y - LINE_ABOVE * self.size, x - left + width, y + LINE_BELOW * self.size
        )


@dataclass(frozen=True)
class Group:
    """Shapes and texts that belong together.

    Parameters
    ----------
    name : str
        Unlike that of any other group in the drawing.
    items : tuple of Shape, Text or Group
        In the order in which they are drawn, the last on top.
    title : str
        For a person who points at it or has it read out; empty if there is none.
    """

    name: str
    items: tuple["DrawnItem", ...]
    title: str = ""


DrawnItem = Shape | Text | Group


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """A picture at true size.

    Parameters
    ----------
    name : str
        Short; lower case with hyphens. It sets apart what is named in it, so that
        several drawings can stand in one page.
    title, description : str
        What a screen reader says.
    box : Box
        All of it, mm.
    scale : float
        How many times bolder than at hand size its lines, dashes and hatching are, so
        that a large drawing can be read when it is shown small.
    items : tuple of Shape, Text or Group
    """

    name: str
    title: str
    description: str
    box: Box
    scale: float
    items: tuple[DrawnItem, ...]

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Every shape, in the order drawn."""
        return tuple(item for item in flat(self.items) if isinstance(item, Shape))

    @property
    def texts(self) -> tuple[Text, ...]:
        """Every text, in the order drawn."""
        return tuple(item for item in flat(self.items) if isinstance(item, Text))


def flat(items: Iterable[DrawnItem]) -> Iterator[Shape | Text]:
    """Go through shapes and texts in the order drawn, into the groups."""
    for item in items:
        if isinstance(item, Group):
            yield from flat(item.items)
        else:
            yield item
