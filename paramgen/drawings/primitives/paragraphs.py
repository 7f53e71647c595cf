"""Lines of text, broken to a width and set one under the other."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from paramgen.drawings.primitives.items import Text
from paramgen.drawings.primitives.lettering import BOLD, LINE_ABOVE, PITCH, wrapped
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point


@dataclass(frozen=True)
class TextLine:
    """A line of text before it is broken and placed."""

    text: str
    bold: bool = False


def fabric_name(fabric: str) -> str:
    """Name of a fabric for the person: `clear vinyl` where the recipe says `clear-vinyl`."""
    return fabric.replace("-", " ")


def listed(words: Sequence[str]) -> str:
    """Name several things in a row.

    >>> listed(["top", "left", "right"])
    'top, left and right'
    """
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def paragraph(lines: Iterable[TextLine], at: Point, size: float, width: float) -> tuple[Text, ...]:
    """Set lines of text one under the other, broken to a width, from a corner at their top."""
    x, y = at[0], at[1] + LINE_ABOVE * size
    texts: list[Text] = []
    for line in lines:
        for words in wrapped(line.text, size * (BOLD if line.bold else 1.0), width):
            texts.append(Text((x, y + len(texts) * PITCH * size), words, size, bold=line.bold))
    return tuple(texts)


def box_of_texts(texts: Sequence[Text]) -> Box:
    """Smallest box around all of them; there must be one at least."""
    return around(text.box for text in texts)


def moved(text: Text, dx: float, dy: float) -> Text:
    """Move a text."""
    return replace(text, at=(text.at[0] + dx, text.at[1] + dy))
