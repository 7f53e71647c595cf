"""Labels in a column beside the picture, each with a line to what it is about."""

from collections.abc import Sequence

from paramgen.drawings.primitives.drawn_paths import arrow_head, circle, straight
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, Text
from paramgen.drawings.primitives.label_room import any_cross, spread
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, moved, paragraph
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point


@dataclass(frozen=True)
class Label:
    """Words beside the picture with a line that leads to what they are about.

    Parameters
    ----------
    at : Point
        Where the line leads.
    lines : tuple of TextLine
    on_line : bool
        Whether it points at a line, with an arrow; else at an area, with a dot. (The
        ends of leader lines as in ISO 128, from memory.)
    drop : float
        How much lower than its point the label would best be, mm.
    """

    at: Point
    lines: tuple[TextLine, ...]
    on_line: bool = False
    drop: float = 0.0


def labelled(
    labels: Sequence[Label], column: Box, em: float
) -> tuple[tuple[DrawnItem, ...], float]:
    """Stack labels in a column, with leaders that do not cross; say how low it comes."""
    if not labels:
        return (), column.top
    order = sorted(
        range(len(labels)), key=lambda i: (labels[i].at[1] + labels[i].drop, labels[i].at[0], i)
    )
    for _ in range(len(labels) ** 2):
        blocks = _stacked([labels[i] for i in order], column, em)
        leaders = [
            (_leader_start(block, column, em), labels[i].at)
            for i, block in zip(order, blocks, strict=True)
        ]
        crossing = any_cross(leaders)
        if crossing is None:
            break
        first, second = crossing
        order[first], order[second] = order[second], order[first]
    items: list[DrawnItem] = []
    for (start, at), i in zip(leaders, order, strict=True):
        items.append(Shape(straight(start, at), Style.LEADER))
        head = arrow_head(at, start, 1.1 * em) if labels[i].on_line else circle(at, 0.3 * em)
        items.append(Shape(head, Style.DOT))
    texts = [text for block in blocks for text in block]
    return (*items, *texts), box_of_texts(texts).bottom


def _stacked(labels: Sequence[Label], column: Box, em: float) -> list[tuple[Text, ...]]:
    blocks = [paragraph(label.lines, (column.left, 0.0), em, column.width) for label in labels]
    heights = [box_of_texts(block).bottom for block in blocks]
    tops = spread([label.at[1] + label.drop for label in labels], heights, column.top, 0.8 * em)
    return [
        tuple(moved(text, 0.0, top) for text in block)
        for block, top in zip(blocks, tops, strict=True)
    ]


def _leader_start(block: Sequence[Text], column: Box, em: float) -> Point:
    return column.left - 0.4 * em, block[0].at[1] - 0.35 * em
