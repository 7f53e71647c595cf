"""templates/README.md is true: its recipe, what it is answered with, every word of the language."""

import json
import re
import tomllib
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any, get_args

import pytest
from documents import ROOT, blocks, examples, links, prints, quoted, run, table

from paramgen.recipe import language
from paramgen.recipe.arithmetic import MOST_CHARACTERS, MOST_TERMS
from paramgen.recipe.built_in_lengths import NAMES
from paramgen.recipe.formula_work import FUNCTIONS
from paramgen.recipe.read_recipe import find_recipe, listed, read_recipe
from paramgen.sizing import MOST_REPEATS
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.kinds import StitchKind

FOLDER = ROOT / "templates"
PAPER = (FOLDER / "README.md").read_text("utf-8")
*STEPS, EYELET, CHOICE, QUILTING, PART, USE = blocks(PAPER, "toml")
#: The recipe that the ten steps lead to.
RECIPE = "\n".join(STEPS)
BEGUN, DRAWN, SOUND, FORBIDDEN, SPOILED = examples(PAPER)
INLINE = quoted(PAPER)
#: What is quoted in the text, whole and word by word.
QUOTED = {*INLINE, *re.findall(r"[\w-]+", " ".join(INLINE))}
NUMBERS = {6: "six", 7: "seven", 8: "eight", 9: "nine"}
TABLES = [
    kind
    for kind in vars(language).values()
    if isinstance(kind, type) and issubclass(kind, language.RecipeTable)
]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the recipe shown."""
    (tmp_path / "row-marker.toml").write_text(RECIPE, "utf-8")
    return tmp_path


def spoil(folder: Path, *changes: tuple[str, str]) -> None:
    """Change the recipe in a folder."""
    text = RECIPE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (folder / "row-marker.toml").write_text(text, "utf-8")


def test_there_are_ten_steps_from_nothing_to_a_whole_recipe() -> None:
    heads = re.findall(r"^### (\d+)\. ", PAPER, re.MULTILINE)
    assert heads == [str(number) for number in range(1, 11)]
    assert len(STEPS) == 10


#: After which step each example stands.
SHOWN = {1: BEGUN, 6: DRAWN, 9: SOUND, 10: FORBIDDEN}


@pytest.mark.parametrize("number", range(1, 11))
def test_a_step_is_answered_as_shown_and_leaves_less_to_do(number: int, tmp_path: Path) -> None:
    text = "\n".join(STEPS[:number])
    (tmp_path / "row-marker.toml").write_text(text, "utf-8")
    before = PAPER.index(STEPS[number - 1])
    after = PAPER.find("\n### ", before)
    here = PAPER[before : after if after > 0 else PAPER.index("## Changing it")]
    shown = [one for one in SHOWN.values() if f"$ {one.command}\n{one.quoted}```" in here]
    assert shown == ([SHOWN[number]] if number in SHOWN else [])
    if shown:
        ran = run(shown[0].command, tmp_path)
        assert prints(shown[0].quoted, ran.printed), ran.printed
    ran = run(SOUND.command, tmp_path)
    needed = ("sizes", "pieces", "outlines", "lines", "steps", "finish")
    missing = [key for key in needed if key not in tomllib.loads(text)]
    assert re.findall(r"the key `(\w+)` is missing", ran.printed) == missing
    assert ran.status == (2 if missing else 0)
    assert len(ran.printed.splitlines()) == len(missing) or not missing


def test_a_recipe_that_is_here_is_copied_and_changed_in_a_few_commands(tmp_path: Path) -> None:
    section = PAPER[PAPER.index("## From a recipe that is here") :]
    section = section[: section.index("\n## ", 5)]
    first, then = blocks(section, "sh")
    commands = [*first.splitlines(), *then.splitlines()]
    assert len(commands) < 10
    assert commands[:2] == ["python3 -m venv .venv && . .venv/bin/activate", "pip install ."]
    assert f"in {NUMBERS[len(commands)]} commands" in section
    _, given, taken = commands[2].split()
    text = (ROOT / given).read_text("utf-8")
    for change in ("default = 2", "default = 3", 'default = "2mm"'):
        assert f"`{change}`" in section
    formula = "default = \"2 if filling == 'packet' else 1\""
    assert f"`{formula}`" in section
    text = _changed_after(text, "[counts.pockets]", "default = 2", "default = 3")
    text = _changed_after(text, "packet_thickness = {", 'default = "2mm"', formula)
    assert text.count("\n[lengths]\n") == 1
    text = text.replace("\n[lengths]\n", f"\n{CHOICE}\n[lengths]\n")
    (tmp_path / taken).write_text(f"{text}\n{QUILTING}", "utf-8")
    about = run("paramgen about my-wallet.toml", tmp_path)
    assert about.status == 0, about.printed
    assert "filling" in about.printed
    for command in then.splitlines():
        ran = run(command, tmp_path)
        assert ran.status == 0, ran.printed
    plan = json.loads((tmp_path / "my-wallet" / "plan.json").read_text("utf-8"))
    (pockets,) = [one["value"] for one in plan["counts"] if one["name"] == "pockets"]
    assert pockets == 3
    (filling,) = [one["option"] for one in plan["choices"] if one["name"] == "filling"]
    assert filling == "label"
    (thick,) = [one["value"] for one in plan["lengths"] if one["name"] == "packet_thickness"]
    assert thick == 1
    assert [step["title"] for step in plan["steps"] if step["title"].startswith("Quilt ")]


def _changed_after(text: str, mark: str, old: str, new: str) -> str:
    """The same with the first of something after a mark replaced."""
    before, found, after = text.partition(mark)
    assert found
    assert old in after
    return before + found + after.replace(old, new, 1)


def test_the_schemas_are_printed_as_shown(tmp_path: Path) -> None:
    section = PAPER[PAPER.index("## While you type") :]
    (shown,) = blocks(section[: section.index("\n## ", 5)], "sh")
    for command in shown.splitlines():
        said, _, file = command.partition(" > ")
        assert json.loads(run(said, tmp_path).printed)["type"] == "object"
        assert f"/{file}` in a " in section


def test_what_is_begun_with_a_few_answers_can_be_made(tmp_path: Path) -> None:
    (command,) = (one for one in INLINE if one.startswith("paramgen new"))
    assert run(command, tmp_path).status == 0
    (file,) = tmp_path.glob("*.toml")
    assert f"`{file.name}`" in PAPER
    assert run(f"paramgen check {file.name} --hoop 130x180", tmp_path).status == 0


def test_the_recipe_shown_is_answered_as_shown(folder: Path) -> None:
    ran = run(SOUND.command, folder)
    assert prints(SOUND.quoted, ran.printed), ran.printed
    assert ran.status == 0


def test_the_recipe_shown_is_made_and_has_the_booklet_to_open(folder: Path) -> None:
    (command,) = (one for one in INLINE if one.startswith("paramgen make row-marker.toml"))
    ran = run(command, folder)
    assert ran.status == 0, ran.printed
    assert (folder / "marker" / "stitch").is_dir()
    (opened,) = (one for one in INLINE if one.endswith("booklet.html"))
    assert (folder / opened).is_file()


def test_the_length_that_can_be_set_is_set(folder: Path) -> None:
    assert "margin=4" in INLINE
    assert run("paramgen check row-marker.toml --hoop 100x100 margin=4", folder).status == 0


def test_the_eyelet_shown_is_set_once_the_marker_is_cut_out(folder: Path) -> None:
    (folder / "row-marker.toml").write_text(f"{RECIPE}\n{EYELET}", "utf-8")
    ran = run("paramgen check row-marker.toml --hoop 100x100", folder)
    assert ran.status == 0, ran.printed
    assert re.search(r"by hand +Cut out\n.*by hand +Fit the eyelet\n", ran.printed)


def test_the_part_shown_is_used_as_shown(folder: Path) -> None:
    (part,) = (one for one in INLINE if one.startswith("parts/"))
    (folder / "parts").mkdir()
    (folder / part).write_text(PART, "utf-8")
    (folder / "row-marker.toml").write_text(f"{RECIPE}\n{USE}", "utf-8")
    assert "rim=15" in INLINE
    ran = run("paramgen check row-marker.toml --hoop 100x100 rim=15", folder)
    assert ran.status == 0, ran.printed
    assert re.search(r"by hand +Cut out\n.*by hand +Fit the eyelet\n", ran.printed)
    ran = run("paramgen check row-marker.toml --hoop 100x100 rim=30", folder)
    assert ran.status == 1, ran.printed
    assert "Set rim to at most 24 mm" in " ".join(ran.printed.split())


def test_the_part_shown_is_the_eyelet_shown_before(folder: Path) -> None:
    (folder / "parts").mkdir()
    (folder / "parts" / "eyelet.toml").write_text(PART, "utf-8")
    (folder / "row-marker.toml").write_text(f"{RECIPE}\n{USE}", "utf-8")
    used = find_recipe(str(folder / "row-marker.toml")).file.notions["eyelet"]
    (folder / "row-marker.toml").write_text(f"{RECIPE}\n{EYELET}", "utf-8")
    plain = find_recipe(str(folder / "row-marker.toml")).file.notions["eyelet"]
    assert (used.sort, used.width, used.through) == (plain.sort, plain.width, plain.through)


def test_another_shape_is_taken_as_told(folder: Path) -> None:
    assert 'shape = "oval"' in INLINE
    oval = ('shape = "rectangle"', 'shape = "oval"')
    spoil(folder, oval, ('rounded = "width / 4"\n', ""))
    ran = run("paramgen check row-marker.toml --hoop 100x100", folder)
    assert ran.status == 0, ran.printed
    spoil(folder, oval)
    assert "rounded" in run("paramgen check row-marker.toml --hoop 100x100", folder).printed


def test_a_spoiled_recipe_is_answered_as_shown(folder: Path) -> None:
    for change in ('by = "marign"', 'along = "seem"'):
        assert change in INLINE
    spoil(folder, ('by = "margin"', 'by = "marign"'), ('along = "seam"', 'along = "seem"'))
    ran = run(SPOILED.command, folder)
    assert prints(SPOILED.quoted, ran.printed), ran.printed
    assert ran.status == 2


def test_quotes_that_are_curly_are_told(folder: Path) -> None:
    spoil(folder, ('title = "Row marker"', "title = “Row marker”"))
    ran = run(SOUND.command, folder)
    assert ran.status == 2
    assert 'line 3: curly quotes: only straight ones count. Write `title = "Row marker"`' in (
        " ".join(ran.printed.split())
    )


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


def test_no_line_of_a_recipe_is_sewn_as_drawn(folder: Path) -> None:
    text = (folder / "row-marker.toml").read_text("utf-8")
    drawn = text.replace('role = "seam"', 'role = "seam"\nstitch = "as drawn"')
    with pytest.raises(InputError, match=r"lines\.seam\.stitch"):
        read_recipe(drawn, name="row-marker", source="row-marker.toml")


def _literals(kind: Any) -> Iterator[str]:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        yield from (one.value for one in kind if one is not StitchKind.AS_DRAWN)
    for one in get_args(kind):
        if isinstance(one, str):
            yield one
        else:
            yield from _literals(one)


def test_every_shape_has_its_keys_beside_it() -> None:
    rows = {
        shape: f"`{keys}`"  # reading the table took the outer ones
        for shapes, keys in table(PAPER, "`shape`", "its keys")
        for shape in shapes.replace("`", "").split(", ")
    }
    for kind in TABLES:
        if issubclass(kind, language.Outline) and "shape" in kind.model_fields:
            own = set(kind.model_fields) - {"shape", *language.Outline.model_fields}
            for shape in _literals(kind.model_fields["shape"].annotation):
                assert shape in rows, f"no row for `{shape}` in the table of shapes"
                assert [key for key in own if f"`{key}`" not in rows[shape]] == [], shape


def test_every_name_a_formula_may_use_without_defining_it_is_given() -> None:
    assert [name for name in (*FUNCTIONS, *NAMES) if name not in QUOTED] == []


def test_the_bounds_given_are_those_kept() -> None:
    assert f"at most {MOST_CHARACTERS} characters and {MOST_TERMS} terms" in PAPER
    assert f"(at most {MOST_REPEATS})" in PAPER
    assert f"at most {language.MOST_USES} |" in PAPER


def test_every_link_leads_somewhere_and_to_every_recipe() -> None:
    found = links(PAPER)
    assert [one for one in found if not (FOLDER / one).is_file()] == []
    recipes = [one for one in found if one.endswith(".toml") and "/" not in one]
    assert {Path(one).stem for one in recipes} == set(listed())


def test_every_part_that_comes_with_the_program_is_linked() -> None:
    there = {f"parts/{path.name}" for path in (FOLDER / "parts").iterdir()}
    assert {one for one in links(PAPER) if one.startswith("parts/")} == there


def test_every_section_linked_to_is_there() -> None:
    heads = re.findall(r"^## (.+)$", PAPER, re.MULTILINE)
    marks = [head.lower().replace(" ", "-") for head in heads]
    assert re.findall(r"^- \[[^]]+\]\(#([^)]+)\)$", PAPER, re.MULTILINE) == marks
    assert set(re.findall(r"\]\(#([^)]+)\)", PAPER)) == set(marks)
