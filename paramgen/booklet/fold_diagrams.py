"""Folding a piece, move by move, as little diagrams."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from paramgen.booklet.lettered_pictures import HEIGHT, LETTERS, LetteredPicture, pictured
from paramgen.drawings.primitives.drawn_paths import arrow_head, rectangle, straight
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Group, Shape, Style, Tone
from paramgen.drawings.primitives.paragraphs import listed
from paramgen.drawings.primitives.symbols import badge
from paramgen.lengths import show_both
from paramgen.papers.move_and_clip import moved
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Face, FoldKind
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Crease, Piece
from paramgen.vocabulary.unit import Unit

#: Room for the diagrams of one piece on paper, mm: three stand side by side.
WIDTH = 56.0
# No more diagrams of a piece stand side by side.
_ACROSS = 3
# Least room between two diagrams, in ems, and the height of the highest, for that of a picture.
_BETWEEN, _ROW = 2.5, 0.4
# Round all of them, in ems: it takes a number that stands at a corner.
_MARGIN = 1.2
# The head of an arrow, in ems; no longer than its arrow, but so long at least.
_HEAD, _LEAST_HEAD = 1.8, 0.9
# The middle of a number stays so far from the middle of the piece, where arrows run, in ems.
_NUMBER_CLEAR = 1.25

_STYLES = {"right": Style.RIGHT_SIDE, "wrong": Style.WRONG_SIDE}


@dataclass(frozen=True)
class FoldedPart:
    """A part of the piece that lies flat.

    Parameters
    ----------
    box : Box
    up : str
        The face towards the person.
    folds : tuple of str
        Its sides at which it is folded: of `left`, `right`, `top`, `bottom`.
    """

    box: Box
    up: Face
    folds: tuple[str, ...] = ()


@dataclass(frozen=True)
class FoldMove:
    """One fold, or two that are made alike.

    Parameters
    ----------
    before : tuple of FoldedPart
        From below to the top.
    creases : tuple of (Point, Point)
    arrows : tuple of (Point, Point)
        From the middle of what moves to where it comes to lie.
    says : str
    """

    before: tuple[FoldedPart, ...]
    creases: tuple[tuple[Point, Point], ...]
    arrows: tuple[tuple[Point, Point], ...]
    says: str


def folded_moves(piece: Piece, unit: Unit) -> tuple[tuple[FoldMove, ...], tuple[FoldedPart, ...]]:
    """Work out how a piece is folded.

    Parameters
    ----------
    piece : Piece
        A rectangle with creases.
    unit : Unit
        The person's.

    Returns
    -------
    moves : tuple of FoldMove
    after : tuple of FoldedPart
        How it lies in the end.
    """
    width, height = piece.cut
    out = piece.creases[0].towards == "right sides out"
    pile: tuple[FoldedPart, ...] = (
        FoldedPart(
            Box(-width / 2, -height / 2, width / 2, height / 2), Face.WRONG if out else Face.RIGHT
        ),
    )
    moves = []
    for _, group in groupby(piece.creases, key=lambda crease: crease.order):
        before, lines, arrows = pile, [], []
        lies = around(leaf.box for leaf in pile)
        creases = _within(list(group), lies)
        for crease in creases:
            pile, line, arrow = _fold(pile, crease)
            lines.append(line)
            arrows.append(arrow)
        if creases:
            moves.append(FoldMove(before, tuple(lines), tuple(arrows), _says(creases, lies, unit)))
    return tuple(moves), pile


def folding_picture(piece: Piece, unit: Unit, tone: Tone | None = None) -> LetteredPicture:
    """Draw a piece before each move and after the last, to be set on paper."""
    drawing = folding_drawing(piece, unit, tone)
    return pictured(drawing, 1 / drawing.scale)


def folding_drawing(piece: Piece, unit: Unit, tone: Tone | None = None) -> Drawing:
    """Draw a piece before each move and after the last, side by side, in rows where it is many."""
    moves, after = folded_moves(piece, unit)
    piles = [*(move.before for move in moves), after]
    boxes = [around(leaf.box for leaf in pile) for pile in piles]
    shrunk, places = _arranged(boxes)
    em = LETTERS / shrunk
    items: list[DrawnItem] = []
    for number, (move, (dx, dy)) in enumerate(zip(moves, places, strict=False), 1):
        shapes = (*_leaves(move.before, tone), *_marks(move, number, em))
        items.append(Group(f"move-{number}", moved(shapes, dx, dy), move.says))
    items.append(Group("folded", moved(_leaves(after, tone), *places[-1]), "Folded"))
    lie = [
        Box(box.left + dx, box.top + dy, box.right + dx, box.bottom + dy)
        for box, (dx, dy) in zip(boxes, places, strict=True)
    ]
    view = replace(around(lie), left=0.0).grown(_MARGIN * em)
    way = "From left to right" if len(boxes) <= _ACROSS else "Row by row, from left to right,"
    says = " ".join(f"{number}: {move.says}" for number, move in enumerate(moves, 1))
    return Drawing(
        name=f"folding-{piece.name}",
        title=f"Folding the {piece.title}",
        description=f"{way} the piece before each fold and, at the end, folded. {says}",
        box=view,
        scale=1 / shrunk,
        items=tuple(items),
    )


def _arranged(boxes: Sequence[Box]) -> tuple[float, list[Point]]:
    """How much smaller all of some diagrams are drawn, and by how much each is moved.

    No more than a few stand side by side; if there are more, as many in each row.
    """
    rows = math.ceil(len(boxes) / _ACROSS)
    across = math.ceil(len(boxes) / rows)
    in_rows = [boxes[first : first + across] for first in range(0, len(boxes), across)]
    lie = [around(row) for row in in_rows]
    between = _BETWEEN * LETTERS
    room = WIDTH - 2 * _MARGIN * LETTERS - (across - 1) * between
    shrunk = min(
        room / across / max(box.width for box in boxes),
        _ROW * HEIGHT / max(row.height for row in lie),
        (HEIGHT - (len(lie) - 1) * between) / sum(row.height for row in lie),
        1.0,
    )
    em = LETTERS / shrunk
    places: list[Point] = []
    y = lie[0].top
    for row, whole in zip(in_rows, lie, strict=True):
        x = row[0].left - _number_at(row[0], em)[0]
        for box in row:
            places.append((x - box.left, y - whole.top))
            x += box.width + _BETWEEN * em
        y += whole.height + _BETWEEN * em
    return shrunk, places


def _within(creases: list[Crease], box: Box) -> list[Crease]:
    """Creases that go through what is not yet folded away, each place once."""
    found = []
    for crease in creases:
        (ax, ay), (bx, by) = crease.start, crease.end
        x, y = (ax + bx) / 2, (ay + by) / 2
        upright = abs(bx - ax) < abs(by - ay)
        low, high, at = (box.left, box.right, x) if upright else (box.top, box.bottom, y)
        if low + 1e-6 < at < high - 1e-6:
            found.append(crease)
    one = found and found[0].kind is FoldKind.HALF
    return found[:1] if one else found


def _fold(
    pile: tuple[FoldedPart, ...], crease: Crease
) -> tuple[tuple[FoldedPart, ...], tuple[Point, Point], tuple[Point, Point]]:
    """Fold the smaller part of a pile over a crease, or the upper or left one of two halves."""
    (ax, ay), (bx, by) = crease.start, crease.end
    upright = abs(bx - ax) < abs(by - ay)
    box = around(leaf.box for leaf in pile)
    at = (ax + bx) / 2 if upright else (ay + by) / 2
    low, high = (box.left, box.right) if upright else (box.top, box.bottom)
    low_moves = _low_moves(at, low, high)
    stay: list[FoldedPart] = []
    over: list[FoldedPart] = []
    for leaf in pile:
        for part, is_low in _parts(leaf, at, upright=upright):
            (over if is_low == low_moves else stay).append(part)
    turned = [_turned(leaf, at, upright=upright) for leaf in over]
    x, y = box.centre
    far = (low + at) / 2 if low_moves else (high + at) / 2
    start, end = ((far, y), (2 * at - far, y)) if upright else ((x, far), (x, 2 * at - far))
    line = ((at, box.top), (at, box.bottom)) if upright else ((box.left, at), (box.right, at))
    return (*stay, *reversed(turned)), line, (start, end)


def _low_moves(at: float, low: float, high: float) -> bool:
    """Whether the upper or left part is folded over a crease: the smaller one, or of two halves."""
    return at - low <= high - at + 1e-6


def _parts(leaf: FoldedPart, at: float, *, upright: bool) -> Iterator[tuple[FoldedPart, bool]]:
    """Part a leaf at a crease, which is a fold of both parts; say which is the low one."""
    box = leaf.box
    low, high = (box.left, box.right) if upright else (box.top, box.bottom)
    first, last = ("left", "right") if upright else ("top", "bottom")
    if low < at - 1e-6:
        if high < at - 1e-6:
            yield leaf, True
        else:
            part = replace(box, right=at) if upright else replace(box, bottom=at)
            yield FoldedPart(part, leaf.up, _with(leaf.folds, last)), True
    if high > at + 1e-6:
        if low > at + 1e-6:
            yield leaf, False
        else:
            part = replace(box, left=at) if upright else replace(box, top=at)
            yield FoldedPart(part, leaf.up, _with(leaf.folds, first)), False


def _with(folds: tuple[str, ...], side: str) -> tuple[str, ...]:
    return folds if side in folds else (*folds, side)


def _turned(leaf: FoldedPart, at: float, *, upright: bool) -> FoldedPart:
    """Turn a leaf over about a crease."""
    pair = ("left", "right") if upright else ("top", "bottom")
    other = {pair[0]: pair[1], pair[1]: pair[0]}
    folds = tuple(other.get(side, side) for side in leaf.folds)
    return FoldedPart(_mirrored(leaf.box, at, upright=upright), leaf.up.other, folds)


def _mirrored(box: Box, at: float, *, upright: bool) -> Box:
    if upright:
        return Box(2 * at - box.right, box.top, 2 * at - box.left, box.bottom)
    return Box(box.left, 2 * at - box.bottom, box.right, 2 * at - box.top)


def _says(creases: list[Crease], lies: Box, unit: Unit) -> str:
    """Say how the creases are made in what lies so far folded in a box."""
    kind = creases[0].kind
    sides = creases[0].towards
    edges = listed(list(dict.fromkeys(_edge(one, lies) for one in creases)))
    if kind is FoldKind.HEM:
        turns = list(dict.fromkeys(show_both(_turn(one, lies), unit) for one in creases))
        return f"Turn {listed(turns)} in at the {edges} along the line and press."
    if kind is FoldKind.THIRDS:
        return f"Fold the {edges} third over along the line and press."
    if kind is FoldKind.QUARTER and len(creases) > 1:
        return "Fold both edges to the middle and press."
    (ax, ay), (bx, by) = creases[0].start, creases[0].end
    way = "left to right" if abs(bx - ax) < abs(by - ay) else "top to bottom"
    return f"Fold in half, {way}, {sides}, and press."


def _edge(crease: Crease, lies: Box) -> str:
    """The edge that is moved over a crease."""
    (ax, ay), (bx, by) = crease.start, crease.end
    if abs(bx - ax) < abs(by - ay):
        return "left" if _low_moves((ax + bx) / 2, lies.left, lies.right) else "right"
    return "top" if _low_moves((ay + by) / 2, lies.top, lies.bottom) else "bottom"


def _turn(crease: Crease, lies: Box) -> float:
    """How much is turned in along a crease: what lies beyond it at the nearer edge."""
    (ax, ay), (bx, by) = crease.start, crease.end
    if abs(bx - ax) < abs(by - ay):
        return min(ax - lies.left, lies.right - ax)
    return min(ay - lies.top, lies.bottom - ay)


def _leaves(pile: tuple[FoldedPart, ...], tone: Tone | None) -> tuple[Shape, ...]:
    return tuple(
        shape
        for leaf in pile
        for shape in (
            Shape(rectangle(leaf.box), _STYLES[leaf.up], tone=tone),
            Shape(rectangle(leaf.box), Style.RAW_EDGE),
            *(Shape(straight(*_side(leaf.box, side)), Style.FOLDED_EDGE) for side in leaf.folds),
        )
    )


def _side(box: Box, side: str) -> tuple[Point, Point]:
    x = box.left if side == "left" else box.right
    y = box.top if side == "top" else box.bottom
    if side in ("left", "right"):
        return (x, box.top), (x, box.bottom)
    return (box.left, y), (box.right, y)


def _marks(move: FoldMove, number: int, em: float) -> tuple[DrawnItem, ...]:
    box = around(leaf.box for leaf in move.before)
    items: list[DrawnItem] = [Shape(straight(*crease), Style.CREASE) for crease in move.creases]
    for start, end in move.arrows:
        items.append(Shape(straight(start, end), Style.GRAIN))
        head = min(_HEAD * em, max(math.dist(start, end), _LEAST_HEAD * em))
        items.append(Shape(arrow_head(end, start, head), Style.GRAIN))
    return (*items, *badge(_number_at(box, em), str(number), 0.8 * em))


def _number_at(lies: Box, em: float) -> Point:
    """Where the number of a move stands: at the corner of the piece, or beside a narrow one."""
    return min(lies.left, lies.centre[0] - _NUMBER_CLEAR * em), lies.top
