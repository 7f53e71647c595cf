"""Words as a booklet sets them: fractions of a ruler, capitals, full stops."""

import re
from collections.abc import Iterator

from paramgen.lengths import RULER_FRACTION

#: Said under the cut list.
CUT_SIZES = (
    "Sizes are width × height as the piece lies in the hoop, the top of the project up; the "
    "templates are at true size. Pieces that are alike share one. A template with a bracket at "
    "an edge is half of its piece: lay that edge on a fold of the fabric, and do not cut it."
)
#: Head of the part that shows how pieces are folded.
FOLDING = "How each piece is folded; the steps tell you when"

#: Heads of what was found about the project as it is asked for.
DISAPPOINTS = "Before you cut: as asked, this will disappoint"
KNOW = "Notes on this one"

# Not the needle 80/12, nor any other two numbers with a stroke between them.
_FRACTION = re.compile(rf"(?<![\d/]){RULER_FRACTION}(?!/)")


def fraction_parts(words: str) -> Iterator[tuple[str, bool]]:
    """Part a text into what is set plainly and fractions less than one.

    >>> list(fraction_parts("4 1/2 in, needle 80/12"))
    [('4 ', False), ('1/2', True), (' in, needle 80/12', False)]
    """
    start = 0
    for match in _FRACTION.finditer(words):
        top, bottom = map(int, match[0].split("/"))
        if top < bottom:
            if match.start() > start:
                yield words[start : match.start()], False
            yield match[0], True
            start = match.end()
    if start < len(words):
        yield words[start:], False


def capital(words: str) -> str:
    """Begin with a capital letter."""
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """Begin with a capital letter and end with a full stop, unless it has its own end."""
    text = capital(words)
    return text if text.endswith((".", "?", "!")) else f"{text}."
