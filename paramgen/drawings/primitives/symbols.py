"""Small things that drawings are furnished with."""

import math
from collections.abc import Sequence

from paramgen.drawings.primitives.drawn_paths import arrow_head, circle, straight
from paramgen.drawings.primitives.items import Anchor, DrawnItem, Shape, Style, Text
from paramgen.drawings.primitives.lettering import BOLD, text_width
from paramgen.lengths import INCH
from paramgen.vocabulary.path import Point, path

_CHECK_MARKS = ((50.0, "5 cm at true size"), (2 * INCH, "2 in at true size"))


def badge(centre: Point, words: str, em: float, colour: str | None = None) -> tuple[DrawnItem, ...]:
    """Number in a ring, centred on a point."""
    return (
        Shape(circle(centre, badge_radius(words, em)), Style.BADGE, colour=colour),
        Text((centre[0], centre[1] + 0.35 * em), words, em, Anchor.MIDDLE, bold=True),
    )


def badge_radius(words: str, em: float) -> float:
    """Radius that a ring needs for its number, mm; the corners of the text's box are in it."""
    return max(0.95 * em, text_width(words, em) * BOLD / 2 + 0.2 * em)


def check_marks(at: Point, em: float) -> tuple[tuple[DrawnItem, ...], float]:
    """Draw two bars of known length from a corner at their top, and say where they end."""
    items: list[DrawnItem] = []
    x, y = at
    for length, caption in _CHECK_MARKS:
        y += 1.1 * em
        items.append(Shape(straight((x, y), (x + length, y)), Style.CHECK_MARK))
        items.extend(
            Shape(straight((end, y - 0.5 * em), (end, y + 0.5 * em)), Style.CHECK_MARK)
            for end in (x, x + length)
        )
        items.append(Text((x + length + 0.8 * em, y + 0.35 * em), caption, em))
        y += 0.6 * em
    return tuple(items), y


def check_marks_width(em: float) -> float:
    """How wide the bars with their captions are, mm."""
    return max(length + 0.8 * em + text_width(caption, em) for length, caption in _CHECK_MARKS)


def double_arrow(
    start: Point, end: Point, em: float, style: Style = Style.GRAIN
) -> tuple[DrawnItem, ...]:
    """Line with a head at both ends, as for the grain or a measure."""
    head = min(1.1 * em, math.dist(start, end) / 2)
    return (
        Shape(straight(start, end), style),
        Shape(arrow_head(start, end, head), style),
        Shape(arrow_head(end, start, head), style),
    )


def fold_bracket(start: Point, end: Point, inwards: Point, depth: float) -> tuple[Shape, ...]:
    """Bracket with a head at both ends that point at an edge to be laid on a fold of the fabric.

    Parameters
    ----------
    start, end : Point
        Where its heads touch the edge.
    inwards : Point
        Direction from the edge to the inside of the piece, of length 1.
    depth : float
        How far from the edge it runs, mm.
    """
    corners = [(x + depth * inwards[0], y + depth * inwards[1]) for x, y in (start, end)]
    head = min(0.6 * depth, math.dist(start, end) / 3)
    return (
        Shape(path((start, *corners, end), closed=False), Style.ON_FOLD),
        Shape(arrow_head(start, corners[0], head), Style.ON_FOLD),
        Shape(arrow_head(end, corners[1], head), Style.ON_FOLD),
    )


def arrow(start: Point, end: Point, em: float) -> tuple[DrawnItem, ...]:
    """Heavy arrow that shows which way something goes."""
    return bent_arrow((start, end), em)


def bent_arrow(way: Sequence[Point], em: float) -> tuple[DrawnItem, ...]:
    """Heavy arrow along a way of straight parts, its head at the end."""
    *_, (sx, sy), (ex, ey) = way
    head = 1.6 * em
    share = max(0.0, 1.0 - head / (math.dist((sx, sy), (ex, ey)) or head))
    neck = sx + share * (ex - sx), sy + share * (ey - sy)
    return (
        Shape(path((*way[:-1], neck), closed=False), Style.WAY),
        Shape(arrow_head((ex, ey), (sx, sy), head, wide=0.8), Style.WAY),
    )
