"""The legend: what each style in a picture means."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from paramgen.drawings.primitives.drawn_paths import circle, rectangle, straight
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, Tone, flat
from paramgen.drawings.primitives.lettering import text_width
from paramgen.drawings.primitives.paragraphs import TextLine, paragraph
from paramgen.drawings.primitives.symbols import arrow, badge, double_arrow, fold_bracket
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point, path
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: In the order in which a legend lists them; what is not here needs no words.
CAPTIONS: Mapping[Style, str] = MappingProxyType(
    {
        Style.STITCHED_NOW: "stitched now",
        Style.STITCHED_BEFORE: "stitched before",
        Style.THREAD_NOW: "stitched now, stitch by stitch",
        Style.THREAD: "stitched before, stitch by stitch",
        Style.PATCH: "patch",
        Style.PLACEMENT: "placement line, now under the piece",
        Style.RIGHT_SIDE: "right side",
        Style.WRONG_SIDE: "wrong side",
        Style.NO_RIGHT_SIDE: "batting or the like",
        Style.SEE_THROUGH: "see-through piece",
        Style.RAW_EDGE: "raw edge",
        Style.FOLDED_EDGE: "folded edge",
        Style.ZIP_TAPE: "zip tape",
        Style.COIL: "zip coil",
        Style.SLIT: "zip, open",
        Style.SLIDER: "zip slider",
        Style.ZIP_STOP: "zip stop",
        Style.HIDDEN: "on the other side of the hoop",
        Style.HOLDING_TAPE: "tape that holds it",
        Style.TAPE_OFF: "tape to take off",
        Style.BY_HAND: "to do by hand",
        Style.GAP: "turning gap, left open",
        Style.CUT_AWAY: "cut away",
        Style.WAY: "the way it goes",
        Style.FLAP: "what is pulled over",
        Style.MEASURE: "measured, from an edge or a fold",
        Style.PIECE_OUTLINE: "outline of a piece",
        Style.CUT_LINE: "cut here",
        Style.CREASE: "fold here",
        Style.HELD: "thing it holds",
        Style.BEHIND: "thing it holds, where it is hidden",
        Style.HARDWARE: "snap, ring or the like",
        Style.CORD: "cord, drawn short",
        Style.CUT_OUT: "opening cut out",
        Style.PLACE: "the place",
        Style.SHEET: "sheet of fabric, cut across",
        Style.RIGHT_FACE: "its right side",
        Style.OUTSIDE: "hollow that opens to the outside once it is finished",
        Style.HIDDEN_INSIDE: "hidden inside once it is finished",
        Style.CROSSING: "stitches through the layers",
        Style.SWATCH: "fabric of a piece",
        Style.GRAIN: "grain, lengthwise",
        Style.ON_FOLD: "lay on a fold of the fabric",
        Style.CENTRE_MARK: "middle of an edge",
        Style.JOIN_LINE: "join papers here",
        Style.FIELD_EDGE: "edge of the hoop field",
        Style.HOOP_FIELD: "hoop field",
        Style.PLY_EDGES: "plies, seen from their edge",
    }
)

_SIDES = (
    Style.RIGHT_SIDE,
    Style.WRONG_SIDE,
    Style.NO_RIGHT_SIDE,
    Style.SEE_THROUGH,
    Style.ZIP_TAPE,
)
#: Areas that are of a fabric; what no words name otherwise is named by it alone.
_OF_A_CLOTH: Mapping[Style, str] = MappingProxyType(
    {
        Style.RIGHT_SIDE: "right side",
        Style.WRONG_SIDE: "wrong side",
        Style.NO_RIGHT_SIDE: "",
        Style.SEE_THROUGH: "see-through",
        Style.SHEET: "cut across",
        Style.SWATCH: "",
    }
)
_EDGED = (*_SIDES, Style.CUT_AWAY, Style.HIDDEN_INSIDE, Style.OUTSIDE)
_AREAS = (
    *_EDGED,
    Style.HOOP_FIELD,
    Style.HOLDING_TAPE,
    Style.SLIDER,
    Style.HELD,
    Style.CUT_OUT,
    Style.SHEET,
    Style.RIGHT_FACE,
    Style.SWATCH,
    Style.PATCH,
    Style.PLY_EDGES,
)

#: Width of a sample, in ems.
SAMPLE = 3.4

# In ems: room between a sample and its caption, widest caption.
_ROOM, _CAPTION = 0.8, 17.0


@dataclass(frozen=True, kw_only=True)
class LegendEntry:
    """One line of a legend: a sample of a style and what it means.

    Parameters
    ----------
    style : Style
    caption : str
    now : bool
    colour : str or None
        As for `Shape`.
    number : int or None
        A stop's number, in its ring.
    tone : Tone or None
        As for `Shape`.
    """

    style: Style
    caption: str
    now: bool = False
    colour: str | None = None
    number: int | None = None
    tone: Tone | None = None


def entries_for(
    items: Iterable[DrawnItem],
    captions: Mapping[Style, str] = MappingProxyType({}),
    unit: Unit = Unit.MM,
) -> tuple[LegendEntry, ...]:
    """List every style that a picture uses and that needs words.

    Parameters
    ----------
    items : iterable of DrawnItem
    captions : mapping of Style to str
        Words that take the place of those in `CAPTIONS`.
    unit : Unit
        The person's; which words are used goes by it.
    """
    order = list(CAPTIONS)
    used = {
        (
            order.index(shape.style),
            -1 if shape.tone is None else shape.tone.place,
            shape.now,
        ): shape
        for shape in flat(items)
        if isinstance(shape, Shape) and shape.style in CAPTIONS
    }
    entries: dict[str, LegendEntry] = {}
    for _, shape in sorted(used.items()):
        caption = _caption(shape, captions, unit)
        entry = LegendEntry(
            style=shape.style, caption=caption, now=shape.now, colour=shape.colour, tone=shape.tone
        )
        entries.setdefault(caption, entry)
    return tuple(entries.values())


def _caption(shape: Shape, captions: Mapping[Style, str], unit: Unit) -> str:
    """Name a style, and the fabric where it is the area of one."""
    caption = english().as_used(captions.get(shape.style, CAPTIONS[shape.style]), unit)
    if shape.tone is not None:
        side = _OF_A_CLOTH[shape.style]
        caption = f"{shape.tone.name}, {side}" if side else shape.tone.name
    return f"{caption}, laid now" if shape.now and shape.style in _SIDES else caption


def legend_block(
    entries: Sequence[LegendEntry], room: Box, em: float
) -> tuple[tuple[DrawnItem, ...], float]:
    """Lay entries out in columns of one width, row by row, from the top of the room.

    Returns
    -------
    items : tuple of DrawnItem
    bottom : float
        Where they end, mm.
    """
    if not entries:
        return (), room.top
    first = (SAMPLE + _ROOM) * em
    widest = max(text_width(entry.caption, em) for entry in entries)
    wanted = first + min(widest * 1.001, _CAPTION * em) + em
    columns = max(1, min(len(entries), int((room.width + em) / wanted)))
    pitch = (room.width + em) / columns
    items: list[DrawnItem] = []
    y = room.top
    for row in range(0, len(entries), columns):
        low = y
        for place, entry in enumerate(entries[row : row + columns]):
            x = room.left + place * pitch
            texts = paragraph((TextLine(entry.caption),), (x + first, y), em, pitch - first - em)
            items.extend(sample(entry, (x, y + 0.6 * em), em))
            items.extend(texts)
            low = max(low, y + 1.2 * em, *(text.box.bottom for text in texts))
        y = low + (0.7 if entries[row].number else 0.45) * em
    return tuple(items), y


def sample(entry: LegendEntry, at: Point, em: float) -> tuple[DrawnItem, ...]:
    """Draw a sample of a style, so many ems wide, its left end at a point."""
    x, y = at
    end = x + SAMPLE * em
    if entry.style in _AREAS:
        patch = rectangle(Box(x, y - 0.55 * em, end, y + 0.55 * em))
        edge = (Shape(patch, Style.RAW_EDGE, entry.now),) if entry.style in _EDGED else ()
        return (Shape(patch, entry.style, entry.now, tone=entry.tone), *edge)
    middle = x + SAMPLE / 2 * em
    if entry.style is Style.SLIT:  # pointed at both ends, as it lies open
        lens = [(x, y), (middle, y - 0.4 * em), (end, y), (middle, y + 0.4 * em)]
        return (Shape(path(lens, closed=True), entry.style),)
    if entry.style is Style.CENTRE_MARK:  # short, at the middles of edges, and not all along
        across = straight((middle - 0.5 * em, y), (middle + 0.5 * em, y))
        return (
            Shape(across, entry.style),
            Shape(straight((middle, y - 0.5 * em), (middle, y + 0.5 * em)), entry.style),
        )
    if entry.style is Style.HARDWARE:
        return (Shape(circle((middle, y), 0.55 * em), entry.style),)
    if entry.style in (Style.GRAIN, Style.MEASURE):
        return double_arrow((x, y), (end, y), em, entry.style)
    if entry.style is Style.ON_FOLD:
        return fold_bracket((x, y + 0.5 * em), (end, y + 0.5 * em), (0.0, -1.0), 0.9 * em)
    if entry.style is Style.WAY:
        return arrow((x, y), (end, y), em)
    line = Shape(straight((x, y), (end, y)), entry.style, entry.now, entry.colour)
    if entry.number is None:
        return (line,)
    return (line, *badge((middle, y), str(entry.number), 0.75 * em, entry.colour))
