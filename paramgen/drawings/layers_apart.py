"""The layers at a place seen edge-on, those apart between which a hand goes in."""

from collections.abc import Iterable, Iterator

from paramgen.drawings.boxes import Box
from paramgen.drawings.facing import face_seen
from paramgen.drawings.labels import Label
from paramgen.drawings.marks import arrow
from paramgen.drawings.outlines import rectangle
from paramgen.drawings.paragraphs import Words
from paramgen.drawings.primitives import Group, Item, Shape, Style
from paramgen.drawings.sheet import Inset
from paramgen.finished.turning import Passage
from paramgen.layout.project import Layer, Side
from paramgen.rehearsal.sheets import Sheet as Cloth

# For the width of the picture: where the layers begin, how much shorter each is than the one above
# it, at most and all together, and how thick a sheet is.
_FROM, _SHORTER, _ALL_SHORTER, _THICK = 0.2, 0.08, 0.5, 0.022
# For the thickness of a sheet: its right side, the room between two sheets of a layer, between two
# layers, and where the hand goes in.
_FACE, _LEAVES, _LAYERS, _HAND = 0.25, 0.15, 0.7, 5.0
# How far the arrow reaches in between them, for the width of the picture.
_IN = 0.16
# Above the layers, in ems, for the heading.
_ABOVE = 3.0


def layers_apart(
    passage: Passage,
    laid: Iterable[Layer],
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
    view : Box
        Room of the picture above it.
    side : str
        The side that lies above: the one the person looks at.
    em : float
        Size of letters, mm.
    heading, reach_in : str
        What is shown, and what the hand does.
    """
    layers, before = passage.layers, passage.between
    plain = {n for n, one in enumerate(laid) if face_seen(one, "front") is None}
    if side == "front":
        layers, before = layers[::-1], len(layers) - before
    wide = view.width
    thick = _THICK * wide
    shorter = min(_SHORTER, _ALL_SHORTER / len(layers)) * wide
    left, y = view.left + _FROM * wide, view.bottom + _ABOVE * em
    items: list[Item] = []
    labels: list[Label] = []
    for place, layer in enumerate(layers):
        if place == before:
            y += (_HAND - _LAYERS) * thick
            middle = y - (_HAND * thick) / 2
            start, tip = (view.left + 0.02 * wide, middle), (left + _IN * wide, middle)
            items.append(Group("hand", arrow(start, tip, em), reach_in))
            pair = layers[place - 1][0].title, layer[0].title
            labels.append(
                Label(
                    tip,
                    (Words(reach_in, bold=True), Words(f"between {pair[0]} and {pair[1]}")),
                    on_line=True,
                )
            )
        top, right = y, view.right - place * shorter
        shapes: list[Item] = []
        for sheet in layer[::-1] if side == "front" else layer:
            shapes.extend(_edge_on(sheet, Box(left, y, right, y + thick), side, plain))
            y += (1.0 + _LEAVES) * thick
        y -= _LEAVES * thick
        items.append(Group(f"layer-{place + 1}", tuple(shapes), layer[0].title))
        at = right - shorter / 2, (top + y) / 2
        labels.append(Label(at, tuple(_words(layer))))
        y += _LAYERS * thick
    box = Box(view.left, view.bottom, view.right, y)
    return Inset(heading, box, tuple(items), tuple(labels))


def _words(layer: tuple[Cloth, ...]) -> Iterator[Words]:
    yield Words(layer[0].title, bold=True)
    if len(layer) > 1:
        yield Words("folded double" if layer[0].leaf in ("back", "front") else "with its hem")


def _edge_on(sheet: Cloth, box: Box, side: Side, plain: set[int]) -> Iterator[Shape]:
    """A sheet with its right side dark, the side one looks at above; batting has none."""
    above, below = (sheet.front, sheet.back) if side == "front" else (sheet.back, sheet.front)
    faced = sheet.layer not in plain
    face = _FACE * box.height
    yield from sheet_across(sheet.sort == "zip", above and faced, below and faced, box, face)


def sheet_across(
    zip_tape: bool, above: bool, below: bool, box: Box, face: float
) -> Iterator[Shape]:
    """A sheet cut across, its right sides dark.

    Parameters
    ----------
    zip_tape : bool
    above, below : bool
        Which of its faces are right sides.
    box : Box
    face : float
        How thick a right side is drawn, mm.
    """
    yield Shape(rectangle(box), Style.ZIP_TAPE if zip_tape else Style.SHEET)
    if above:
        yield Shape(rectangle(Box(box.left, box.top, box.right, box.top + face)), Style.RIGHT_FACE)
    if below:
        low = Box(box.left, box.bottom - face, box.right, box.bottom)
        yield Shape(rectangle(low), Style.RIGHT_FACE)
