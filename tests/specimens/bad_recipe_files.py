"""The bad recipes kept beside the faults that must be found in them; see bad_recipes/README.md."""

from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

FOLDER = Path(__file__).parent / "bad_recipes"
GOOD = (FOLDER / "good.toml").read_text(encoding="utf-8")


@dataclass(frozen=True)
class BadRecipe:
    """A spoiled recipe and its faults, as text."""

    name: str
    text: str
    faults: tuple[str, ...]


def read(path: Path) -> BadRecipe:
    """Read one of the cases."""
    lines = path.read_text(encoding="utf-8").splitlines()
    text, out = f"\n{GOOD}", ""
    marks = [("" if line[:2] not in ("- ", "+ ", "! ") else line[0], line[2:]) for line in lines]
    for mark, group in groupby(marks, key=lambda pair: pair[0]):
        block = "".join(f"{line}\n" for _, line in group)
        if mark == "-":
            assert text.count(f"\n{block}") == 1, f"{path.name}: not once in good.toml:\n{block}"
            out = f"\n{block}"
        elif mark == "+" and out:
            text, out = text.replace(out, f"\n{block}"), ""
        elif mark == "+":
            text += block
        elif out:
            text, out = text.replace(out, "\n"), ""
    faults = tuple(line for mark, line in marks if mark == "!")
    assert faults, f"{path.name}: names no fault"
    return BadRecipe(path.stem, text[1:], faults)


BAD = [read(path) for path in sorted(FOLDER.glob("*.txt"))]
