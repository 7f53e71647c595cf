"""What the project's papers say, taken apart so that it can be tried."""

import contextlib
import io
import re
import shlex
import sys
import textwrap
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from paramgen.__main__ import main

ROOT = Path(__file__).resolve().parents[2]

#: A line of an example that stands for any lines left out.
LEFT_OUT = "…"


def blocks(text: str, language: str) -> list[str]:
    """Fenced blocks of one language, in order; those in a list are moved to the left."""
    found = re.findall(rf"^( *)```{language}\n(.*?)^\1```$", text, re.MULTILINE | re.DOTALL)
    return [textwrap.dedent(block) for _, block in found]


def quoted(text: str) -> list[str]:
    """What stands between backticks, outside of fenced blocks."""
    plain = re.sub(r"^ *```.*?^ *```$", "", text, flags=re.MULTILINE | re.DOTALL)
    return re.findall(r"`([^`]+)`", plain)


def files_named(text: str) -> list[str]:
    """What is quoted and looks like a file or a folder, and the scripts that a block runs."""
    named = [one for one in quoted(text) if re.fullmatch(r"\.?[\w-]+/[\w./-]*", one)]
    return [*named, *re.findall(r"^    (?:python )?(\.?\w+/[\w./-]+)", text, re.MULTILINE)]


def links(text: str) -> list[str]:
    """Where links lead, but for those within the paper."""
    return re.findall(r"\]\(([^)#]+)\)", text)


def table(text: str, *head: str) -> list[tuple[str, ...]]:
    """Rows of the table with the given head, their cells without backticks."""
    rows = [
        tuple(cell.strip().strip("`") for cell in line.strip("|").split("|"))
        for line in text.partition(f"| {' | '.join(head)} |\n")[2].splitlines()
    ]
    end = next((at for at, row in enumerate(rows) if len(row) != len(head)), len(rows))
    return rows[1:end]


@dataclass(frozen=True)
class Example:
    """A command at a prompt, and what a paper says that it prints."""

    command: str
    quoted: str


def examples(text: str) -> list[Example]:
    """Every command at a prompt, in order."""
    found = []
    for block in blocks(text, "console"):
        for each in block.removeprefix("$ ").split("\n$ "):
            command, _, quoted = each.partition("\n")
            found.append(Example(command, quoted))
    return found


@dataclass(frozen=True)
class Ran:
    """What a command printed, to both its outputs, and its exit status."""

    printed: str
    status: int


def run(command: str, folder: Path) -> Ran:
    """Run a paramgen command in a folder, as if no one had hoops of their own but there."""
    program, *words = shlex.split(command)
    assert program == "paramgen"
    printed, status = io.StringIO(), 0
    settings = {"XDG_CONFIG_HOME": str(folder / "settings")}
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(printed),
        contextlib.redirect_stderr(printed),
        patch.object(sys, "argv", [program, *words]),
        patch.dict("os.environ", settings),
    ):
        try:
            main()
        except SystemExit as end:
            status = int(end.code or 0)
    return Ran(printed.getvalue(), status)


def prints(quoted: str, printed: str) -> bool:
    """Whether an example is what was printed, but for the lines it leaves out."""
    parts = re.split(rf"^{LEFT_OUT}\n", quoted, flags=re.MULTILINE)
    return re.fullmatch(r"(?:.*\n)*?".join(map(re.escape, parts)), printed) is not None
