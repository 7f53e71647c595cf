"""Tables and messages as plain text."""

import textwrap
from collections.abc import Iterable, Sequence
from itertools import zip_longest

from paramgen.lengths import spaced, unbroken
from paramgen.vocabulary.findings import Fault, Finding
from paramgen.vocabulary.unit import Unit

WIDTH = 96
#: Widest a table may be where the words of its cells allow it: columns of a terminal.
TABLE_WIDTH = 100


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
        max(len(word) for cell in cells for word in unbroken(cell).split(" ")) for cells in columns
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
        textwrap.wrap(unbroken(cell), width, break_long_words=False, break_on_hyphens=False) or [""]
        for cell, width in zip(row, widths, strict=True)
    ]
    return [
        spaced(
            "  ".join(part.ljust(width) for part, width in zip(parts, widths, strict=True))
        ).rstrip()
        for parts in zip_longest(*cells, fillvalue="")
    ]


def finding_text(finding: Finding, unit: Unit) -> str:
    """One finding as a person reads it: what, how bad, and what would mend it."""
    from paramgen.wording.say import how_bad, in_sentences

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
        unbroken(text),
        WIDTH,
        subsequent_indent="    ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    return "\n  ".join([spaced(filled), *below])
