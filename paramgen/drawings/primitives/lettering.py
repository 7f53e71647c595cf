"""How much room words take, reckoned before any font is known.

The font is whatever the reader's machine takes for sans-serif. The widths are those of
a wide one, so that words seldom take more room than is kept for them.
"""

import re
import unicodedata
from functools import cache, lru_cache

#: Ems above and below the baseline that a line of text takes, accents included.
LINE_ABOVE, LINE_BELOW = 0.95, 0.25

#: Ems from one baseline to the next.
PITCH = 1.3

#: No bold letter is wider than so many times its plain one.
BOLD = 1.26

# Hundredths of an em.
_WIDTHS = {
    letter: width
    for width, letters in {
        28: "'ijl",
        30: "I",
        32: " \u00a0,.‘’",
        34: "/:;\\|",
        36: "f",
        38: "-",
        40: "()[]t",
        42: "!r",
        46: '"',
        50: "*J`",
        52: "“”",
        54: "sz",
        56: "?L_c–",
        58: "k",
        60: "vxy",
        62: "FTaeo",
        64: "$0123456789bdghnpqu{}",
        68: "EKPSY",
        70: "ABVXZ",
        74: "CRU",
        76: "HN",
        78: "&DG",
        80: "OQ",
        82: "w",
        84: "#+<=>^~×",
        88: "M",
        96: "%",
        98: "m¼½¾",
        100: "W—…",
        102: "@",
    }.items()
    for letter in letters
}
_WIDEST = 1.25

_SPACE = " \t\n\r\f\v"
_SPACES = re.compile(f"[{_SPACE}]+")


@cache
def letter_width(letter: str) -> float:
    """Width of one letter in ems; accents take none, unknown letters a lot."""
    if unicodedata.combining(letter):
        return 0.0
    base = unicodedata.normalize("NFD", letter)[0]
    return _WIDTHS[base] / 100 if base in _WIDTHS else _WIDEST


def text_width(words: str, size: float) -> float:
    """Width of a line of plain text in mm, for letters of a size in mm."""
    return size * _ems(words)


# The same words are measured for every picture that they stand in.
@lru_cache(maxsize=4096)
def _ems(words: str) -> float:
    return sum(map(letter_width, words))


def wrapped(words: str, size: float, width: float) -> tuple[str, ...]:
    """Break words into lines no wider than a width; a word that is too long is broken too.

    Parameters
    ----------
    words : str
        Any white space counts as one space, but a no-break space holds its words together.
    size, width : float
        Of the letters and of the room, mm.

    Returns
    -------
    tuple of str
        No lines for no words.

    Examples
    --------
    >>> wrapped("lay the pouch lining", 1.0, 6.0)
    ('lay the', 'pouch', 'lining')
    """
    lines: list[str] = []
    for word in filter(None, _SPACES.split(words)):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.extend(_broken(word, size, width))
    return tuple(lines)


def _broken(word: str, size: float, width: float) -> list[str]:
    if text_width(word, size) <= width:
        return [word]
    parts = [""]
    for letter in word:
        if parts[-1] and text_width(parts[-1] + letter, size) > width:
            parts.append("")
        parts[-1] += letter
    return parts
