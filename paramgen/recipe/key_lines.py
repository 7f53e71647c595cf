"""On which line of a TOML file a key stands."""

import re
from collections.abc import Mapping

Loc = tuple[str | int, ...]

_KEYS = r"""((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)"""
_HEADER = re.compile(rf"\s*(\[\[?)\s*{_KEYS}\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(rf"\s*{_KEYS}\s*=")
_TEXTS = re.compile(r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|#[^\n]*')
_LONG_TEXTS = re.compile(
    r'"""(?:[^\\]|\\.)*?"""|\'\'\'.*?\'\'\'|' + _TEXTS.pattern, flags=re.DOTALL
)


def key_lines(text: str) -> Mapping[Loc, int]:
    """Line, from 1, of every table header and every key that starts a line.

    Keys within an inline table or array share the line where it starts; ask `line_of`.
    """
    lines: dict[Loc, int] = {}
    table: Loc = ()
    counts: dict[Loc, int] = {}
    depth = 0
    for number, raw in enumerate(_LONG_TEXTS.sub(_shortened, text).split("\n"), start=1):
        bare = _TEXTS.sub("", raw)
        if depth == 0 and (header := _HEADER.match(raw)):
            table = _table(_parts(header[2]), header[1] == "[[", counts)
            _first(lines, table, number)
            continue
        if depth == 0 and (key := _KEY.match(raw)):
            _first(lines, table + _parts(key[1]), number)
        depth = max(0, depth + sum(bare.count(c) for c in "[{") - sum(bare.count(c) for c in "]}"))
    return lines


def _shortened(text: re.Match[str]) -> str:
    """Leave of a text of several lines only the line ends; of any other text, all."""
    return "\n" * text[0].count("\n") if text[0].startswith(('"""', "'''")) else text[0]


def _first(lines: dict[Loc, int], place: Loc, number: int) -> None:
    """Note where a place, and every table around it, is met first."""
    for end in range(1, len(place) + 1):
        lines.setdefault(place[:end], number)


def _parts(dotted: str) -> Loc:
    return tuple(bit.strip().strip("\"'") for bit in dotted.split("."))


def _table(parts: Loc, repeated: bool, counts: dict[Loc, int]) -> Loc:
    """Place of a table, with the index of each array of tables on the way."""
    place: Loc = ()
    for index, part in enumerate(parts):
        place = (*place, part)
        last = index == len(parts) - 1
        if last and repeated:
            counts[place] = counts.get(place, -1) + 1
        if place in counts:
            place = (*place, counts[place])
    return place


def line_of(lines: Mapping[Loc, int], loc: Loc) -> int | None:
    """Line of a key, or of the nearest table around it; None if neither is known."""
    for end in range(len(loc), 0, -1):
        if loc[:end] in lines:
            return lines[loc[:end]]
    return None
