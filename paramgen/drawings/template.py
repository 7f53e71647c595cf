"""A piece as a template at full size."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.boxes import Box
from paramgen.drawings.legend import entries_for
from paramgen.drawings.marks import badge, badge_radius, double_arrow
from paramgen.drawings.outlines import area, box_of, straight, thinned
from paramgen.drawings.paragraphs import Words, box_of_texts, moved, paragraph, whole_lengths
from paramgen.drawings.primitives import Drawing, Item, Shape, Style, Text
from paramgen.drawings.sheet import LEAST_LETTERS, Sheet, composed
from paramgen.geometry.path import Point
from paramgen.layout.project import Crease, FoldKind, Piece
from paramgen.lengths import Unit, show_size_both

_FOLD_WORDS = {
    FoldKind.HALF: "fold in half",
    FoldKind.QUARTER: "fold in quarters",
    FoldKind.HEM: "turn the hem",
}

# Letters are read at true size: they grow a little with the piece, and no further.
_LETTERS_PER_SIZE, _MOST_LETTERS = 0.028, 4.0

# Parts of the piece's width and height at which room is looked for.
_TRIES = (0.12, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.88)
_ALONG_CREASE = (0.12, 0.25, 0.38, 0.5, 0.62, 0.75, 0.88)

# A grain arrow is so long a part of its side, if there is room, and no longer than this, mm.
_ARROW_PARTS, _MOST_ARROW = (0.6, 0.45, 0.3), 80.0


def piece_template(piece: Piece, unit: Unit) -> Drawing:
    """Draw a piece as it is cut, at true size, with all that is to be known of it.

    Parameters
    ----------
    piece : Piece
    unit : Unit
        The person's; the other is shown beside it.

    Returns
    -------
    Drawing
        Named after the piece. What does not fit on the piece is written below it.
    """
    (outline,) = thinned((piece.outline,))
    view = box_of((outline,))
    em = min(max(LEAST_LETTERS, _LETTERS_PER_SIZE * min(piece.cut)), _MOST_LETTERS)
    words = tuple(_words(piece, unit))
    creases = tuple(straight(crease.start, crease.end) for crease in piece.creases)
    room = _Room(area(outline), view, tuple(shapely.LineString(c.points) for c in creases), em)
    numbers, room = _fold_numbers(piece.creases, room)
    arrow, room = _grain_arrow(piece.grain, room)
    written, inside = words, _text(words, room)
    if not inside:
        written, inside = words[:1], _text(words[:1], room)
    picture: tuple[Item, ...] = (
        Shape(outline, Style.CUT_LINE),
        *(Shape(crease, Style.CREASE) for crease in creases),
        *arrow,
        *numbers,
        *inside,
    )
    return composed(
        Sheet(
            name=f"piece-{piece.name}",
            title=f"{piece.title}: template",
            description=" ".join(f"{line.text}." for line in words[1:]).replace("\u00a0", " "),
            heading=words[:1],
            above="",
            view=view,
            picture=picture,
            legend=entries_for(picture),
            letters=em,
            notes=() if written == words else words[1:],
        )
    )


def _words(piece: Piece, unit: Unit) -> Iterator[Words]:
    yield Words(piece.title, bold=True)
    yield Words(f"Cut {piece.quantity} from {piece.fabric}")
    yield Words(f"cut {whole_lengths(show_size_both(*piece.cut, unit))}")
    if piece.creases or piece.folded != piece.cut:
        yield Words(f"folded {whole_lengths(show_size_both(*piece.folded, unit))}")
    if piece.grain in ("width", "height"):
        yield Words(f"grain along the {piece.grain}")
    else:
        yield Words("grain in any direction")
    for how, creases in groupby(piece.creases, key=_fold_words):
        yield Words(f"{', '.join(str(crease.order) for crease in creases)}: {how}")


def _fold_words(crease: Crease) -> str:
    return f"{_FOLD_WORDS[crease.kind]}, {crease.towards}"


@dataclass(frozen=True)
class _Room:
    """What is free on a piece.

    Parameters
    ----------
    inside : area
        Of the piece.
    box : Box
        Round the piece.
    taken : tuple of shapes
        What is on it.
    em : float
        Size of letters; half of it is kept clear round everything.
    """

    inside: BaseGeometry
    box: Box
    taken: tuple[BaseGeometry, ...]
    em: float

    def free(self, box: Box) -> bool:
        shape = _shape(box.grown(0.5 * self.em))
        return self.inside.covers(shape) and not any(map(shape.intersects, self.taken))

    def without(self, box: Box) -> "_Room":
        return replace(self, taken=(*self.taken, _shape(box)))

    def find(self, width: float, height: float, near: Point = (0.5, 0.5)) -> Box | None:
        """Find room for something, as near as may be to a part of the piece's width and height."""
        places = [(fx, fy) for fx in _TRIES for fy in _TRIES]
        places.sort(key=lambda f: max(abs(f[0] - near[0]), abs(f[1] - near[1])))
        for fx, fy in places:
            x, y = self.box.left + fx * self.box.width, self.box.top + fy * self.box.height
            box = Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
            if self.free(box):
                return box
        return None


def _shape(box: Box) -> BaseGeometry:
    return shapely.box(box.left, box.top, box.right, box.bottom)


def _fold_numbers(creases: tuple[Crease, ...], room: _Room) -> tuple[tuple[Item, ...], _Room]:
    """Number every crease somewhere along it, clear of the other creases."""
    items: list[Item] = []
    em = room.em * 0.9
    for place, crease in enumerate(creases):
        words = str(crease.order)
        radius = badge_radius(words, em)
        others = [shape for i, shape in enumerate(room.taken) if i != place]
        for part in _ALONG_CREASE:
            x = crease.start[0] + part * (crease.end[0] - crease.start[0])
            y = crease.start[1] + part * (crease.end[1] - crease.start[1])
            box = Box(x - radius, y - radius, x + radius, y + radius)
            if not any(map(_shape(box).intersects, others)):
                items.extend(badge((x, y), words, em))
                room = room.without(box)
                break
    return tuple(items), room


def _grain_arrow(grain: str, room: _Room) -> tuple[tuple[Item, ...], _Room]:
    """Draw the grain towards one side of the piece, so that words find room in its middle."""
    along = grain == "width"
    if not along and grain != "height":
        return (), room
    size, thick = room.box.width if along else room.box.height, 0.8 * room.em
    for part in _ARROW_PARTS:
        length = min(part * size, _MOST_ARROW)
        if length < 3 * room.em:
            break
        box = (
            room.find(length, thick, (0.5, 0.8)) if along else room.find(thick, length, (0.8, 0.5))
        )
        if box:
            x, y = box.centre
            ends = ((box.left, y), (box.right, y)) if along else ((x, box.top), (x, box.bottom))
            return double_arrow(*ends, room.em), room.without(box)
    return (), room


def _text(words: tuple[Words, ...], room: _Room) -> tuple[Text, ...]:
    """Set words on the piece; nothing if there is no room for them."""
    for width in (room.box.width - 2 * room.em, 24 * room.em, 16 * room.em):
        if width < 6 * room.em:
            break
        texts = paragraph(words, (0.0, 0.0), room.em, width)
        size = box_of_texts(texts)
        box = room.find(size.width, size.height)
        if box:
            return tuple(moved(text, box.left, box.top) for text in texts)
    return ()
