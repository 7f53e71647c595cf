"""The list of recipes, read quickly: only the head of each file."""

import textwrap
import tomllib

from paramgen.installed import templates

_HEAD = 4000


def recipe_list() -> str:
    """A line or two for each recipe that comes with the program."""
    rows = []
    for file in sorted(templates().glob("*.toml")):
        with file.open(encoding="utf-8") as stream:
            head = stream.read(_HEAD).partition("\n[")[0]
        said = tomllib.loads(head)
        rows.append((file.stem, said["title"], said["summary"]))
    width = max(len(name) for name, _, _ in rows) + 2
    indent = " " * width
    return "".join(
        f"{name:<{width}}{title}\n"
        + textwrap.fill(summary, 80, initial_indent=indent, subsequent_indent=indent)
        + "\n"
        for name, title, summary in rows
    )
