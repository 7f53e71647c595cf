"""The bad recipes kept beside the faults that must be found in them; see bad_recipes/README.md."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

FOLDER = Path(__file__).parent / "bad_recipes"
GOOD = (FOLDER / "good.toml").read_text(encoding="utf-8")

#: A recipe with its parts, by the path of each file.
WITH_PARTS = Path(__file__).parent / "bad_parts"
GOOD_PARTS = {
    path.relative_to(WITH_PARTS).as_posix(): path.read_text(encoding="utf-8")
    for path in sorted(WITH_PARTS.rglob("*.toml"))
}


@dataclass(frozen=True)
class BadRecipe:
    """A spoiled recipe and its faults, as text."""

    name: str
    text: str
    faults: tuple[str, ...]
    parts: Mapping[str, str]


def read(path: Path, good: Mapping[str, str]) -> BadRecipe:
    """Read one of the cases."""
    lines = path.read_text(encoding="utf-8").splitlines()
    texts = {file: f"\n{text}" for file, text in good.items()}
    file, out = "good.toml", ""
    marks = [
        ("" if line[:2] not in ("- ", "+ ", "! ", "@ ") else line[0], line[2:]) for line in lines
    ]
    for mark, group in groupby(marks, key=lambda pair: pair[0]):
        block = "".join(f"{line}\n" for _, line in group)
        text = texts[file]
        if mark == "-":
            assert text.count(f"\n{block}") == 1, f"{path.name}: not once in {file}:\n{block}"
            out = f"\n{block}"
        elif mark == "+" and out:
            texts[file], out = text.replace(out, f"\n{block}"), ""
        elif mark == "+":
            texts[file] += block
        elif out:
            texts[file], out = text.replace(out, "\n"), ""
        if mark == "@":
            file = block.strip()
    faults = tuple(line for mark, line in marks if mark == "!")
    assert faults, f"{path.name}: names no fault"
    parts = {name: text[1:] for name, text in texts.items() if name != "good.toml"}
    return BadRecipe(path.stem, texts["good.toml"][1:], faults, parts)


BAD = [read(path, {"good.toml": GOOD}) for path in sorted(FOLDER.glob("*.txt"))]
BAD_PARTS = [read(path, GOOD_PARTS) for path in sorted(WITH_PARTS.glob("*.txt"))]
