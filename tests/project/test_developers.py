"""DEVELOPERS.md is true: its map, its examples, and everything that it names."""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from documents import ROOT, blocks, files_named, links, table

from paramgen.wording.load import english

PAPER = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PACKAGE = ROOT / "paramgen"
ROOMS = [room for room, _ in table(PAPER, "room", "what it knows")]


def _room(module: str) -> int:
    """Place on the map of a module, named as a path in the package."""
    file = f"{module}.py" if (PACKAGE / f"{module}.py").is_file() else f"{module}/__init__.py"
    found = [at for at, room in enumerate(ROOMS) if file == room or file.startswith(room)]
    assert found, f"say in DEVELOPERS.md, in the map of the rooms, what paramgen/{file} knows"
    return max(found, key=lambda at: len(ROOMS[at]))


def _imported(file: Path) -> Iterator[str]:
    """Modules of the package that a file imports when it runs."""
    tree = ast.parse(file.read_text("utf-8"))
    typing_only = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and id(node) not in typing_only:
            of = [f"{node.module}.{one.name}" for one in node.names]
            for path in (Path(name.replace(".", "/")) for name in (f"{node.module}", *of)):
                if path.parts[0] == "paramgen" and (ROOT / path.with_suffix(".py")).is_file():
                    yield path.relative_to("paramgen").as_posix()


def test_the_map_shows_no_room_that_is_not_there() -> None:
    assert [room for room in ROOMS if not (PACKAGE / room).exists()] == []


def test_a_room_knows_only_those_before_it() -> None:
    later = {}
    for file in sorted(PACKAGE.rglob("*.py")):
        own = file.relative_to(PACKAGE).with_suffix("").as_posix()
        known = [] if own == "__init__" else list(_imported(file))
        if wrong := [name for name in known if _room(name) > _room(own)]:
            later[own] = wrong
    assert later == {}


def test_the_program_shown_runs(capsys: pytest.CaptureFixture[str]) -> None:
    (program,) = blocks(PAPER, "python")
    exec(compile(program, "DEVELOPERS.md", "exec"), {})
    # The first piece is the batting, 1 mm inside the seam all round, which lies 0.5 mm outside
    # the finished edge for turn of cloth. It follows an outline, so it is not rounded up.
    printed = capsys.readouterr().out
    found = re.fullmatch(r"\(\)\n\(([\d.]+), [\d.]+\) Box\(.*\) (\d+)\n", printed)
    assert found, printed
    assert float(found[1]) == pytest.approx(4 * 25.4 + 2 * 0.5 - 2 * 1)
    assert int(found[2]) == 4


def test_the_sentence_shown_is_the_one_in_the_file() -> None:
    (shown,) = blocks(PAPER, "toml")
    for code, entry in tomllib.loads(shown)["findings"].items():
        assert english().findings[code] == entry


def test_every_file_and_link_named_is_there() -> None:
    named = files_named(PAPER)
    assert len(named) > 40
    assert len(links(PAPER)) > 2
    there = [one for one in named if (ROOT / one).exists() or (PACKAGE / one).exists()]
    assert there == named
    assert [one for one in links(PAPER) if not (ROOT / one).exists()] == []


def test_every_name_of_the_code_is_there() -> None:
    text = "\n".join(path.read_text("utf-8") for path in sorted(PACKAGE.rglob("*.py")))
    defined = {
        one
        for form in (r"^\s*class (\w+)", r"^\s*def (\w+)", r"^(\w+)(?::[^=]+)? = ")
        for one in re.findall(form, text, re.MULTILINE)
    }
    named = set(re.findall(r"`(_?[A-Z]\w*|_[a-z]\w*)`", PAPER))
    assert {"Finding", "OF_SIZE", "_shape"} <= named
    assert named - defined == set()


def test_every_module_that_the_code_speaks_of_is_there() -> None:
    lacking = []
    for file in sorted(PACKAGE.rglob("*.py")):
        for one in re.findall(r"`([\w/]+\.py)`", file.read_text("utf-8")):
            if not any((folder / one).is_file() for folder in (file.parent, PACKAGE, ROOT)):
                lacking.append(f"{file.relative_to(ROOT).as_posix()}: {one}")
    assert lacking == []


def test_every_section_linked_to_is_there() -> None:
    heads = re.findall(r"^## (.+)$", PAPER, re.MULTILINE)
    marks = [re.sub(r"[^a-z -]", "", head.lower()).replace(" ", "-") for head in heads]
    assert re.findall(r"\]\(#([^)]+)\)", PAPER) == marks


def test_it_is_read_on_the_first_day() -> None:
    # A limit of our own: what is about one room stands in that room.
    assert len(PAPER.splitlines()) <= 190
