"""The list of recipes, read quickly: only the head of each file."""

import textwrap
from pathlib import Path

from paramgen.installed import templates


def recipe_list() -> str:
    """A line or two for each recipe that comes with the program."""
    heads = {file.stem: _head(file) for file in sorted(templates().glob("*.toml"))}
    width = max(map(len, heads)) + 2
    indent = " " * width
    return "".join(
        f"{name:<{width}}{head['title']}\n"
        + textwrap.fill(head["summary"], 80, initial_indent=indent, subsequent_indent=indent)
        + "\n"
        for name, head in heads.items()
    )


def _head(file: Path) -> dict[str, str]:
    """Texts before the first table, each on one line and without escapes.

    A TOML reader takes longer to load than all the rest; a test holds this to what it reads.
    """
    said = {}
    with file.open(encoding="utf-8") as stream:
        for line in stream:
            if line.startswith("["):
                break
            key, _, value = line.partition("=")
            said[key.strip()] = value.strip().strip('"')
    return said
