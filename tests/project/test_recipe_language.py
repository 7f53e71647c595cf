"""templates/README.md is true: its recipe, what it is answered with, every word of the language."""

import re
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
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.sizing import MOST_REPEATS

FOLDER = ROOT / "templates"
PAPER = (FOLDER / "README.md").read_text("utf-8")
RECIPE, EYELET, PART, USE = blocks(PAPER, "toml")
SOUND, SPOILED = examples(PAPER)
INLINE = quoted(PAPER)
#: What is quoted in the text, whole and word by word.
QUOTED = {*INLINE, *re.findall(r"[\w-]+", " ".join(INLINE))}
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


def _literals(kind: Any) -> Iterator[str]:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        yield from (one.value for one in kind)
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
    assert {Path(one).stem for one in found if "/" not in one} == set(listed())


def test_every_part_that_comes_with_the_program_is_linked() -> None:
    there = {f"parts/{path.name}" for path in (FOLDER / "parts").iterdir()}
    assert {one for one in links(PAPER) if one.startswith("parts/")} == there


def test_every_section_linked_to_is_there() -> None:
    heads = re.findall(r"^## (.+)$", PAPER, re.MULTILINE)
    marks = [head.lower().replace(" ", "-") for head in heads]
    assert re.findall(r"^- \[[^]]+\]\(#([^)]+)\)$", PAPER, re.MULTILINE) == marks
    assert set(re.findall(r"\]\(#([^)]+)\)", PAPER)) == set(marks)
