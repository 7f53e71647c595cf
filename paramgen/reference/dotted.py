"""Keys of more names than any file has, told before the reader of TOML works on them."""

import re

#: Names in one dotted key; a recipe needs four. The reader of TOML takes memory by their square.
MOST_PARTS = 20

#: What is said of a key of more.
TOO_DOTTED = f"a key of more than {MOST_PARTS} names with dots between them stands here"

_DOTTED = re.compile(
    r"""(?<![\w-])(?:(?:[\w-]++|"(?:\\.|[^"\\])*+"|'[^']*+')[ \t]*+\.[ \t]*+)"""
    f"{{{MOST_PARTS}}}"
)


def too_dotted(text: str) -> int:
    r"""Find the first line with a key of too many names; 0 if there is none.

    >>> too_dotted("a = 1\n" + ".".join(["b"] * 30) + " = 2")
    2
    """
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") >= MOST_PARTS and _DOTTED.search(line):
            return number
    return 0
