"""What is marked on a piece: numbers at its creases, the grain, and words where there is room."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, Text, Tone, flat
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, moved, paragraph
from paramgen.drawings.primitives.symbols import badge, badge_radius, double_arrow, fold_bracket
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.path import Path, Point

# Parts of the piece's width and height at which room is looked for.
_TRIES = (0.12, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.88)
_ALONG_CREASE = (0.12, 0.25, 0.38, 0.5, 0.62, 0.75, 0.88)

# Words take these widths where they find no room in one line, in ems; a name alone, which has
# no sizes that must not be broken, the narrow ones too.
_WIDTHS, _NARROW = (24.0, 16.0), (12.0, 8.0)

# A grain arrow is so long a part of its side, if there is room, and no longer than this, mm.
_ARROW_PARTS, _MOST_ARROW = (0.6, 0.45, 0.3), 80.0

# Width of a swatch, and its height with the room below it, in ems.
SWATCH = 5.0, 2.2


# The bracket of an edge on a fold takes this part of the edge, and no more than this, mm; it runs
# so many ems from the edge. Its words are set in one line or in two.
_BRACKET_PART, _MOST_BRACKET, _BRACKET_DEPTH = 0.6, 90.0, 1.6
_ON_FOLD = TextLine("lay on the fold of the fabric")
_ON_FOLD_WIDTHS = (18.0, 10.0)


@dataclass(frozen=True)
class MarkingPlace:
    """Where on a piece marks may go.

    Parameters
    ----------
    inside : area
        Of the piece, or of the part of it that is shown.
    box : Box
        Round the piece, or round that part.
    em : float
        Size of letters, mm.
    numbers : Box or None
        Where numbers of creases must lie; None for anywhere on their crease.
    """

    inside: BaseGeometry
    box: Box
    em: float
    numbers: Box | None = None


@dataclass(frozen=True)
class TemplateFold:
    """An edge of a template that is laid on a fold of the fabric.

    Parameters
    ----------
    edge : Path
        Straight.
    inwards : Point
        Direction from it to the inside of the template, of length 1.
    """

    edge: Path
    inwards: Point


@dataclass(frozen=True)
class PieceMarks:
    """What was marked.

    Parameters
    ----------
    items : tuple of DrawnItem
        From below to the top.
    written : int
        How many of the words found room on the piece: all, the first one, or none.
    """

    items: tuple[DrawnItem, ...]
    written: int


def marked(
    place: MarkingPlace,
    creases: Sequence[tuple[int, Path]],
    grain: Grain,
    words: tuple[TextLine, ...],
    others: Sequence[Path] = (),
    tones: Sequence[Tone] = (),
    fold: TemplateFold | None = None,
) -> PieceMarks:
    """Find room on a piece for all that is to be known of it.

    Parameters
    ----------
    place : MarkingPlace
    creases : sequence of (int, Path)
        Number and straight line of each.
    grain : Grain
    words : tuple of TextLine
        If all of them find no room, the first alone is tried.
    others : sequence of Path
        Lines to be kept clear of.
    tones : sequence of Tone
        Fabrics of which a swatch is put over the words.
    fold : TemplateFold or None
        The edge that is laid on a fold of the fabric.
    """
    shapely.prepare(place.inside)
    bracket = _bracket(fold, place.em) if fold else ()
    lines = tuple(crease for _, crease in creases)
    drawn = (shape.path for shape in bracket)
    taken = tuple(line.line for line in (*lines, *others, *drawn))
    room = _Room(place.inside, place.box, taken, place.em)
    numbers, room = _fold_numbers(creases, room, place.numbers)
    beside, room = _beside(fold, room) if fold else ((), room)
    arrow, room = _grain_arrow(grain, room)
    marks = (*bracket, *arrow, *numbers, *beside)
    for count in (len(words), 1):
        written = _text(words[:count], room, tones)
        if written:
            return PieceMarks((*marks, *written), count)
    return PieceMarks(marks, 0)


def spare(
    place: MarkingPlace, taken: Iterable[DrawnItem], width: float, height: float
) -> Box | None:
    """Find room on a piece for something more, clear of all that is marked on it."""
    shapes = tuple(
        _shape(item.box) if isinstance(item, Text) else item.path.line for item in flat(taken)
    )
    return _Room(place.inside, place.box, shapes, place.em).find(width, height)


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


def _bracket(fold: TemplateFold, em: float) -> tuple[Shape, ...]:
    """Bracket along the middle of an edge on a fold."""
    start, end = fold.edge.points
    length = float(np.hypot(*(end - start)))
    part = min(_BRACKET_PART, _MOST_BRACKET / length) / 2
    a, b = (tuple((start + (0.5 + way * part) * (end - start)).tolist()) for way in (-1.0, 1.0))
    return fold_bracket(a, b, fold.inwards, _BRACKET_DEPTH * em)


def _beside(fold: TemplateFold, room: _Room) -> tuple[tuple[Text, ...], _Room]:
    """Say at the bracket what it is, if there is room."""
    middle = fold.edge.points.mean(axis=0)
    box = room.box
    near = ((middle[0] - box.left) / box.width, (middle[1] - box.top) / box.height)
    for width in _ON_FOLD_WIDTHS:
        texts = paragraph((_ON_FOLD,), (0.0, 0.0), room.em, width * room.em)
        size = box_of_texts(texts)
        # Just within the bracket, in its middle; else wherever there is room near it.
        reach = _BRACKET_DEPTH * room.em + 0.7 * room.em
        ix, iy = fold.inwards
        x = middle[0] + ix * (reach + size.width / 2)
        y = middle[1] + iy * (reach + size.height / 2)
        exact = Box(
            x - size.width / 2, y - size.height / 2, x + size.width / 2, y + size.height / 2
        )
        found = exact if room.free(exact) else room.find(size.width, size.height, near)
        if found:
            return tuple(moved(one, found.left, found.top) for one in texts), room.without(found)
    return (), room


def _fold_numbers(
    creases: Sequence[tuple[int, Path]], room: _Room, within: Box | None
) -> tuple[tuple[DrawnItem, ...], _Room]:
    """Number every crease somewhere along it, clear of the other creases."""
    items: list[DrawnItem] = []
    em = room.em * 0.9
    for place, (order, crease) in enumerate(creases):
        words = str(order)
        radius = badge_radius(words, em)
        (ax, ay), (bx, by) = crease.points.tolist()
        others = [shape for i, shape in enumerate(room.taken) if i != place]
        for part in _ALONG_CREASE:
            x, y = ax + part * (bx - ax), ay + part * (by - ay)
            box = Box(x - radius, y - radius, x + radius, y + radius)
            if within and not within.holds(box):
                continue
            if not any(map(_shape(box).intersects, others)):
                items.extend(badge((x, y), words, em))
                room = room.without(box)
                break
    return tuple(items), room


def _grain_arrow(grain: Grain, room: _Room) -> tuple[tuple[DrawnItem, ...], _Room]:
    """Draw the grain towards one side of the piece, so that words find room in its middle."""
    if grain is Grain.ANY:
        return (), room
    across, upright = grain is not Grain.HEIGHT, grain is not Grain.WIDTH
    sides = [room.box.width] * across + [room.box.height] * upright
    thick = 0.8 * room.em
    for part in _ARROW_PARTS:
        length = min(part * min(sides), _MOST_ARROW)
        if length < 3 * room.em:
            break
        size = (length if across else thick, length if upright else thick)
        box = room.find(*size, (0.5 if across else 0.8, 0.5 if upright else 0.8))
        if box:
            x, y = box.centre
            start = (box.left if across else x, box.top if upright else y)
            end = (box.right if across else x, box.bottom if upright else y)
            return double_arrow(start, end, room.em), room.without(box)
    return (), room


def _text(words: tuple[TextLine, ...], room: _Room, tones: Sequence[Tone]) -> tuple[DrawnItem, ...]:
    """Set words on the piece, swatches over them; nothing if there is no room for them."""
    ems = (*_WIDTHS, *_NARROW) if len(words) == 1 else _WIDTHS
    high = SWATCH[1] * room.em if tones else 0.0
    wide = len(tones) * (SWATCH[0] + 0.5) * room.em
    for width in (room.box.width - 2 * room.em, *(one * room.em for one in ems)):
        if width < 6 * room.em:
            break
        texts = paragraph(words, (0.0, 0.0), room.em, width)
        size = box_of_texts(texts)
        box = room.find(max(size.width, wide), size.height + high)
        if box:
            shapes = swatches(tones, (box.left, box.top), room.em)
            return (*shapes, *(moved(text, box.left, box.top + high) for text in texts))
    return ()


def swatches(tones: Sequence[Tone], at: Point, em: float) -> Iterator[Shape]:
    """Draw swatches of fabrics side by side, from a corner at their top."""
    wide, high = SWATCH[0] * em, (SWATCH[1] - 0.4) * em
    for place, tone in enumerate(tones):
        left = at[0] + place * (wide + 0.5 * em)
        patch = rectangle(Box(left, at[1], left + wide, at[1] + high))
        yield Shape(patch, Style.SWATCH, tone=tone)
