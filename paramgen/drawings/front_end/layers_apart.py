"""The layers at a place seen edge-on, those apart between which a hand goes in."""

from collections.abc import Iterable, Iterator, Mapping

from paramgen.drawings.front_end.facing_sides import face_seen
from paramgen.drawings.front_end.framed_picture import Inset
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.sheets_across import fold_across, sheet_across
from paramgen.drawings.primitives.items import DrawnItem, Group, Tone
from paramgen.drawings.primitives.lettering import PITCH
from paramgen.drawings.primitives.paragraphs import TextLine, listed, paragraph
from paramgen.drawings.primitives.symbols import bent_arrow
from paramgen.finished.turning_passage import Passage
from paramgen.rehearsal.sheets import Sheet as Cloth
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Leaf, Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Layer

# For the width of the picture: where the layers begin, how much shorter each is than the one above
# it, at most and all together, and how thick a sheet is.
_FROM, _SHORTER, _ALL_SHORTER, _THICK = 0.2, 0.08, 0.5, 0.022
# For the thickness of a sheet: its right side, the room between two sheets of a layer, between two
# layers, and where the hand goes in.
_FACE, _LEAVES, _LAYERS, _HAND = 0.25, 0.15, 0.7, 5.0
# What lies in there only partly, or farther in, begins at so much of its length, and a hem takes so
# much of it.
_PARTLY, _HEM = 0.55, 0.18
# A slit that the hand goes through, for the width, and how far above it comes from, in ems.
_SLIT, _DOWN = 0.075, 2.5
# How far the arrow reaches in, for the width of the picture; where some layers lie farther in,
# past where those begin.
_IN, _ON = 0.16, 0.03
# Above the layers, in ems, for the heading.
_ABOVE = 3.0


def layers_apart(
    passage: Passage,
    laid: Iterable[Layer],
    tones: Mapping[str, Tone],
    view: Box,
    side: Side,
    em: float,
    *,
    heading: str,
    reach_in: str,
) -> Inset:
    """Draw the layers where a hand goes in, below another picture.

    Parameters
    ----------
    passage : Passage
    laid : iterable of Layer
        Every layer, numbered as sheets number theirs.
    tones : mapping of str to Tone
        What each fabric is told by.
    view : Box
        Room of the picture above it.
    side : str
        The side that lies above: the one the person looks at.
    em : float
        Size of letters, mm.
    heading, reach_in : str
        What is shown, and what the hand does.
    """
    every = tuple(laid)
    plain = {n for n, one in enumerate(every) if face_seen(one, Side.FRONT) is None}
    told = tuple(None if one.slit else tones[one.fabric] for one in every)
    count = len(passage.layers)
    order = range(count)[::-1] if side is Side.FRONT else range(count)
    before = count - passage.between if side is Side.FRONT else passage.between
    beyond = passage.beyond[::-1] if side is Side.FRONT else passage.beyond
    wide = view.width
    thick = _THICK * wide
    shorter = min(_SHORTER, _ALL_SHORTER / count) * wide
    heading += _beyond_named(passage, beyond)
    # A heading that takes more lines than one pushes all of it down.
    more = len(paragraph((TextLine(heading),), (0.0, 0.0), em, wide)) - 1
    left, y = view.left + _FROM * wide, view.bottom + (_ABOVE + PITCH * more) * em
    items: list[DrawnItem] = []
    labels: list[Label] = []
    look = _Look(side, thick, plain, told)
    # Through a slit: it is passed between the layers in front of the hand and those beyond it.
    slit = left - _SLIT * wide if beyond else left
    if beyond:
        y += _DOWN * em
    head = y
    rights = [view.right - place * shorter for place in range(count)]
    short = passage.partly | passage.farther
    starts = [
        left + _PARTLY * (right - left) if number in short else left
        for number, right in zip(order, rights, strict=True)
    ]
    on = [starts[order.index(number)] for number in passage.farther]
    reach = max(on) + _ON * wide if on else left + _IN * wide
    for place, number in enumerate(order):
        layer, start = passage.layers[number], starts[place]
        if place == before:
            y += (_HAND - _LAYERS) * thick
            middle = y - (_HAND * thick) / 2
            tip = reach, middle
            way: list[Point] = [(view.left + 0.02 * wide, middle), tip]
            if beyond:
                down = (slit + left) / 2
                way = [(down, head - _DOWN * em), (down, middle), tip]
            items.append(Group("hand", bent_arrow(way, em), reach_in))
            said = (TextLine(reach_in, bold=True), *_ways_in(passage, side))
            labels.append(Label(tip, said, on_line=True))
        top, right = y, rights[place]
        if beyond and place >= before:  # what lies under the slit goes on beyond it
            start = view.left
        shapes, y = _layer(layer, Box(start, y, right, y), passage, look)
        items.append(Group(f"layer-{number + 1}", shapes, layer[0].title))
        if beyond and place < min(before, len(beyond)):
            other, _ = _layer(beyond[place], Box(view.left, top, slit, top), passage, look, end=1)
            items.append(Group(f"beyond-{place + 1}", other, beyond[place][0].title))
        at = right - shorter / 2, (top + y) / 2
        labels.append(Label(at, tuple(_words(passage, number))))
        y += _LAYERS * thick
    box = Box(view.left, view.bottom, view.right, y)
    return Inset(heading, box, tuple(items), tuple(labels))


@dataclass(frozen=True)
class _Look:
    """How sheets are drawn.

    Parameters
    ----------
    side : str
        The side that lies above.
    thick : float
        Of a sheet, mm.
    plain : set of int
        Layers that have no right side.
    tones : tuple of Tone or None
        What each layer's fabric is told by; None for the tape of a zip.
    """

    side: Side
    thick: float
    plain: set[int]
    tones: tuple[Tone | None, ...]

    def faces(self, sheet: Cloth) -> tuple[bool, bool]:
        """Whether its face above and that below are right sides; batting has none."""
        above, below = sheet.front, sheet.back
        above, below = (above, below) if self.side is Side.FRONT else (below, above)
        faced = sheet.layer not in self.plain
        return above and faced, below and faced


def _beyond_named(passage: Passage, beyond: Iterable[tuple[Cloth, ...]]) -> str:
    """What of a heading names the layers that lie beyond a slit alone."""
    here = {layer[0].title for layer in passage.layers}
    across = [title for layer in beyond if (title := layer[0].title) not in here]
    return f"; at the left {listed(across)}" if across else ""


def _ways_in(passage: Passage, side: Side) -> Iterator[TextLine]:
    """Name what the hand goes in between and goes on between, that which is drawn above first."""
    ways = [("", (passage.behind, passage.in_front))]
    if passage.on_between:
        ways.append(("and on ", passage.on_between))
    for first, (behind, before) in ways:
        above, below = (before, behind) if side is Side.FRONT else (behind, before)
        yield TextLine(f"{first}between {above} and {below}")


def _words(passage: Passage, number: int) -> Iterator[TextLine]:
    layer = passage.layers[number]
    yield TextLine(layer[0].title, bold=True)
    if len(layer) > 1:
        yield TextLine("folded double" if layer[0].folded else "with its hem")
    if number in passage.partly:
        yield TextLine("lies in part of this")
    if number in passage.farther:
        yield TextLine("begins farther in")


def _layer(
    layer: tuple[Cloth, ...], at: Box, passage: Passage, look: _Look, end: int | None = None
) -> tuple[tuple[DrawnItem, ...], float]:
    """Draw the sheets of a layer from a height down, and say where they end.

    Two sheets are joined by a fold: where the hand comes from at the left, else at the right.
    """
    thick, y = look.thick, at.top
    sheets = layer[::-1] if look.side is Side.FRONT else layer
    inner = _LEAVES * thick / 2
    outer = inner + thick
    joined = len(layer) == 2 and bool(layer[0].folds)
    main = next((one for one in layer if one.leaf is not Leaf.HEM), layer[0])
    if joined and end is None:
        end = 0 if passage.folded_behind(main) else 1
    shapes: list[DrawnItem] = []
    for sheet in sheets:
        left = at.left + (outer if joined and end == 0 else 0.0)
        right = at.right - (outer if joined and end == 1 else 0.0)
        if sheet.leaf is Leaf.HEM:  # it is turned in by much less than the piece is deep
            deep = _HEM * (right - left)
            left, right = (left, left + deep) if end == 0 else (right - deep, right)
        box = Box(left, y, right, y + thick)
        faces = look.faces(sheet)
        shapes.extend(sheet_across(look.tones[sheet.layer], *faces, box, _FACE * thick))
        y += (1.0 + _LEAVES) * thick
    y -= _LEAVES * thick
    if joined and end is not None:
        middle = (at.left + outer if end == 0 else at.right - outer, (at.top + y) / 2)
        faces = look.faces(sheets[0])
        tone = look.tones[sheets[0].layer]
        shapes.extend(fold_across(tone, middle, (inner, outer), end, faces, _FACE * thick))
    return tuple(shapes), y
