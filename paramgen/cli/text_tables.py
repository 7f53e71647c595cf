"""Tables and messages as plain text."""

import re
import textwrap
from collections.abc import Iterable, Sequence
from itertools import zip_longest

from paramgen.vocabulary.findings import Fault, Finding
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import how_bad, in_sentences

WIDTH = 96
#: Widest a table may be where the words of its cells allow it: columns of a terminal.
TABLE_WIDTH = 100
#: Spaces within a measure, where a cell is not broken: `4 1/2 in`, `5 × 7 mm`.
_WITHIN = re.compile(r"(?<=[\d×]) (?!\()| (?=[\d×])")
#: The same in running text, where a number may be any word's neighbour.
_IN_MEASURE = re.compile(r"(?<=[\d/]) (?=\d+/\d|×|(?:mm|in)\b)|(?<=×) ")
_UNBROKEN = "\u00a0"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Columns as wide as they need to be; the cells of the widest wrapped where it is too wide."""
    listed = [list(head), *(list(row) for row in rows)]
    widths = _widths(listed)
    lines = [line for row in listed for line in _lines(row, widths)]
    under = len(_lines(listed[0], widths))
    rule = "  ".join("-" * width for width in widths)
    return "\n".join([*lines[:under], rule, *lines[under:]]) + "\n"


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    """Width of each column; the widest gives way, but never within a word."""
    columns = list(zip(*rows, strict=True))
    widths = [max(map(len, cells)) for cells in columns]
    words = [
        max(len(word) for cell in cells for word in _held(cell).split(" ")) for cells in columns
    ]
    while sum(widths) + 2 * (len(widths) - 1) > TABLE_WIDTH:
        able = [place for place, width in enumerate(widths) if width > words[place]]
        if not able:
            break
        widths[max(able, key=widths.__getitem__)] -= 1
    return widths


def _lines(row: Sequence[str], widths: Sequence[int]) -> list[str]:
    """A row, in as many lines as its longest cell takes."""
    cells = [
        textwrap.wrap(_held(cell), width, break_long_words=False, break_on_hyphens=False) or [""]
        for cell, width in zip(row, widths, strict=True)
    ]
    return [
        "  ".join(part.ljust(width) for part, width in zip(parts, widths, strict=True))
        .replace(_UNBROKEN, " ")
        .rstrip()
        for parts in zip_longest(*cells, fillvalue="")
    ]


def _held(cell: str) -> str:
    """A cell, its measures in one piece."""
    return _WITHIN.sub(_UNBROKEN, cell)


def finding_text(finding: Finding, unit: Unit) -> str:
    """One finding as a person reads it: what, how bad, and what would mend it."""
    return indented(f"{how_bad(finding.severity)}: {in_sentences(finding, unit)}")


def fault_text(fault: Fault) -> str:
    """One fault of what was typed or read."""
    return indented(str(fault))


def indented(text: str) -> str:
    """A paragraph as wide as a screen, all but its first line set in; no measure is broken.

    Lines below it that are set in stay as they are: commands to copy.
    """
    text, *below = text.split("\n  ")
    filled = textwrap.fill(
        _IN_MEASURE.sub(_UNBROKEN, text),
        WIDTH,
        subsequent_indent="    ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    return "\n  ".join([filled.replace(_UNBROKEN, " "), *below])
