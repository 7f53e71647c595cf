"""DEVELOPERS.md is true: its map, its recipe, its examples, and every word of the language."""

import ast
import re
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any, get_args

import pytest
from documents import ROOT, Example, blocks, examples, prints, run, table

from paramgen.recipe import language
from paramgen.recipe.arithmetic import FUNCTIONS, MOST_CHARACTERS, MOST_TERMS
from paramgen.recipe.built_in_lengths import NAMES
from paramgen.sizing import MOST_REPEATS

PAPER = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PACKAGE = ROOT / "paramgen"
ROOMS = [room for room, _ in table(PAPER, "room", "what it knows")]
(RECIPE,) = blocks(PAPER, "toml")
TEXT = re.sub(r"^```.*?^```$", "", PAPER, flags=re.MULTILINE | re.DOTALL)
INLINE = re.findall(r"`([^`]+)`", TEXT)
#: What is quoted in the text, whole and word by word.
QUOTED = {*INLINE, *re.findall(r"[\w-]+", " ".join(INLINE))}
TABLES = [
    kind
    for kind in vars(language).values()
    if isinstance(kind, type) and issubclass(kind, language.RecipeTable)
]


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


def test_the_recipe_shown_is_made(tmp_path: Path) -> None:
    (tmp_path / "row-marker.toml").write_text(RECIPE, "utf-8")
    ran = run("paramgen make row-marker.toml --hoop 100x100 --out marker", tmp_path)
    assert ran.status == 0, ran.printed
    assert (tmp_path / "marker" / "stitch").is_dir()


def test_an_eyelet_is_set_in_the_recipe_shown_once_it_is_cut_out(tmp_path: Path) -> None:
    eyelet = """
[notions.eyelet]
title = "eyelet"
sort = "ring"
width = "8"
at = [["0", "-height / 2 + 12"]]
through = [["felt"]]
clearance = "4"
"""
    fit = """
[[steps]]
title = "Fit the eyelet"
do = "fit the snap or ring"
say = "Punch the hole and fit it."

[[conditions]]"""
    (tmp_path / "row-marker.toml").write_text(
        RECIPE.replace("\n[[conditions]]", fit) + eyelet, "utf-8"
    )
    ran = run("paramgen check row-marker.toml --hoop 100x100", tmp_path)
    assert ran.status == 0, ran.printed


@pytest.mark.parametrize("example", examples(PAPER), ids=lambda example: example.command)
def test_a_spoiled_recipe_is_answered_as_shown(example: Example, tmp_path: Path) -> None:
    spoiled = RECIPE.replace('by = "margin"', 'by = "marign"')
    spoiled = spoiled.replace('along = "seam"', 'along = "seem"')
    (tmp_path / "row-marker.toml").write_text(spoiled, "utf-8")
    ran = run(example.command, tmp_path)
    assert prints(example.quoted, ran.printed), ran.printed
    assert ran.status == 2


def test_the_program_shown_runs(capsys: pytest.CaptureFixture[str]) -> None:
    (program,) = blocks(PAPER, "python")
    exec(compile(program, "DEVELOPERS.md", "exec"), {})
    # The first piece is the batting, 1 mm inside the seam all round, which lies 0.5 mm outside
    # the finished edge for turn of cloth. It follows an outline, so it is not rounded up.
    printed = capsys.readouterr().out
    found = re.fullmatch(r"\(\)\n\(([\d.]+), [\d.]+\) \(.*\) (\d+)\n", printed)
    assert found, printed
    assert float(found[1]) == pytest.approx(4 * 25.4 + 2 * 0.5 - 2 * 1)
    assert int(found[2]) == 4


@pytest.mark.parametrize("kind", TABLES, ids=lambda kind: kind.__name__)
def test_every_key_of_the_language_is_explained(kind: type[language.RecipeTable]) -> None:
    keys = [info.alias or key for key, info in kind.model_fields.items()]
    assert [key for key in keys if key not in QUOTED] == []


def test_every_option_of_the_language_is_named() -> None:
    options = {
        option
        for kind in TABLES
        for info in kind.model_fields.values()
        for option in _literals(info.annotation)
    }
    assert {"hem", "triple", "oval", "will disappoint"} <= options
    assert sorted(options - QUOTED) == []


def _literals(kind: Any) -> Iterator[str]:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        yield from (one.value for one in kind)
    for one in get_args(kind):
        if isinstance(one, str):
            yield one
        else:
            yield from _literals(one)


def test_every_name_a_formula_may_use_without_defining_it_is_given() -> None:
    assert [name for name in (*FUNCTIONS, *NAMES) if name not in QUOTED] == []


def test_the_bounds_given_are_those_kept() -> None:
    assert f"at most {MOST_CHARACTERS} characters and {MOST_TERMS} terms" in PAPER
    assert f"(at most {MOST_REPEATS})" in PAPER


def test_every_file_and_link_named_is_there() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", TEXT)
    named = [one for one in INLINE if re.fullmatch(r"\.?[\w-]+/[\w./-]*", one)]
    found = [one for one in (*links, *named) if (ROOT / one).exists() or (PACKAGE / one).exists()]
    assert len(named) > 20
    assert found == [*links, *named]


def test_every_section_linked_to_is_there() -> None:
    heads = re.findall(r"^## (.+)$", PAPER, re.MULTILINE)
    marks = [re.sub(r"[^a-z -]", "", head.lower()).replace(" ", "-") for head in heads]
    assert re.findall(r"\]\(#([^)]+)\)", PAPER) == marks
