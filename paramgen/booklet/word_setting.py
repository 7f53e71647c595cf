"""Words as a booklet sets them: lengths in one piece, fractions of a ruler, capitals."""

import re
from collections.abc import Iterator

#: Said under the cut list.
CUT_SIZES = (
    "Sizes are width × height as the piece lies in the hoop, the top of the project up; the "
    "templates are at true size. Pieces that are alike share one. One that has a bracket at an "
    "edge is half of its piece: lay that edge on a fold of the fabric, and do not cut it."
)
#: Head of the part that shows how pieces are folded.
FOLDING = "How each piece is folded; the steps tell you when"

#: Heads of what was found about the project as it is asked for.
DISAPPOINTS = "Before you cut: as asked, this will disappoint"
KNOW = "Worth knowing of this one"

# Not the needle 80/12, nor any other two numbers with a stroke between them.
_PART = r"\d{1,2}/(?:2|4|8|16|32|64)(?!\d)"
_FRACTION = re.compile(rf"(?<![\d/]){_PART}(?!/)")
_NUMBER = rf"(?:{_PART}|\d[\d.]*(?: {_PART})?)"
_UNIT = "(?:mm|cm²|cm|sq in|in|m|yd|%|g/m²|oz/yd²)"
_MEASURE = re.compile(rf"(?<![\d/.])(?:{_NUMBER} × )?{_NUMBER} {_UNIT}(?!\w)")


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


def unbroken(words: str) -> str:
    r"""Keep every length and size on one line with its unit.

    >>> unbroken("cut 4 1/2 × 7 in, then lay 2 strips")
    'cut 4\xa01/2\xa0×\xa07\xa0in, then lay 2 strips'
    """
    return _MEASURE.sub(lambda match: match[0].replace(" ", "\u00a0"), words)


def capital(words: str) -> str:
    """Begin with a capital letter."""
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """Begin with a capital letter and end with a full stop, unless it has its own end."""
    text = capital(words)
    return text if text.endswith((".", "?", "!")) else f"{text}."
