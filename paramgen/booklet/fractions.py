"""Where a text holds fractions that are to be set as such: those of a ruler."""

import re
from collections.abc import Iterator

# Not the needle 80/12, nor any other two numbers with a stroke between them.
_FRACTION = re.compile(r"(?<![\d/])(\d{1,2})/(2|4|8|16|32|64)(?![\d/])")


def fraction_parts(words: str) -> Iterator[tuple[str, bool]]:
    """Part a text into what is set plainly and fractions less than one.

    >>> list(fraction_parts("4 1/2 in, needle 80/12"))
    [('4 ', False), ('1/2', True), (' in, needle 80/12', False)]
    """
    start = 0
    for match in _FRACTION.finditer(words):
        if int(match[1]) < int(match[2]):
            if match.start() > start:
                yield words[start : match.start()], False
            yield match[0], True
            start = match.end()
    if start < len(words):
        yield words[start:], False
