"""What list, about, hoops, schema, help and the version show."""

import json
import shlex
from collections.abc import Iterator

import pytest
from command_line import joined, paramgen
from jsonschema import Draft202012Validator
from typer.core import TyperGroup
from typer.main import get_command

from paramgen import __version__
from paramgen.cli import text_tables
from paramgen.cli.app import app
from paramgen.cli.command_help import AFTERWORD, COMMANDS, SUMMARY, top_help
from paramgen.cli.recipe_list import recipe_list
from paramgen.files.formats import FORMATS
from paramgen.lengths import show, show_both
from paramgen.recipe.language import StepGroup, StepTable
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.reference.hoops import listed as listed_hoops
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

RECIPES = pytest.mark.parametrize("recipe", listed())


def test_the_list_has_every_recipe_with_its_title_and_summary() -> None:
    # `list` reads the heads of the files by itself, to be quick; the strict reader knows best.
    files = [find_recipe(name).file for name in listed()]
    shown = paramgen("list")
    assert (shown.status, shown.err) == (0, "")
    assert shown.out == joined(
        " ".join(
            f"{name} {file.title} {file.summary}"
            for name, file in zip(listed(), files, strict=True)
        )
    )
    assert joined(recipe_list()) == shown.out
    assert max(map(len, recipe_list().splitlines())) <= 80


@RECIPES
@pytest.mark.parametrize("unit", Unit)
def test_about_shows_all_that_a_person_may_set_and_the_steps(
    recipe: str, unit: Unit, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(text_tables, "TABLE_WIDTH", 1000)  # so that no cell is wrapped
    file = find_recipe(recipe).file
    ran = paramgen("about", recipe, "--unit", unit)
    assert (ran.status, ran.err) == (0, "")
    for name, size in file.sizes.items():
        default = (
            show(size.default.length, unit)
            if size.default.length
            else getattr(size.default.formula, "text", "")
        )
        assert f"{name} {default}" in ran.out
        assert f"{show_both(size.least, unit)} {show_both(size.most, unit)}" in ran.out
        assert english().as_used(joined(size.means), unit) in ran.out
    for name, count in file.counts.items():
        numbers = f"{count.default} {count.least} {count.most}"
        assert f"{name} {numbers} {joined(count.means)}" in ran.out
    for name, choice in file.choices.items():
        for option, means in choice.options.items():
            default = "default " if option == choice.default else ""
            told = f"{name}={option} {default}{joined(means)}"
            assert english().as_used(told, unit) in ran.out
    for name in (*file.lengths, "ruler_mark", "seam_stitch"):
        assert f" {name} " in ran.out
    for step in _steps(file.steps):
        assert english().as_used(step.title.text, unit) in ran.out


def _steps(entries: list[StepGroup | StepTable]) -> Iterator[StepTable]:
    for entry in entries:
        yield from entry.steps if isinstance(entry, StepGroup) else [entry]


@pytest.mark.parametrize(
    ("recipe", "mm", "inch"),
    [("coaster", "108 mm", "4 1/4 in"), ("fold-wallet", "124 mm", "4 7/8 in")],
)
def test_about_shows_both_units_the_one_asked_for_first(recipe: str, mm: str, inch: str) -> None:
    # The international yard and pound agreement of 1959: 1 in is 25.4 mm, so 108 mm is
    # 4.252 in, 4 1/4 on a ruler of sixteenths; and 124 mm is 4.882 in, 4 14/16.
    assert f"width {mm} ({inch})" in paramgen("about", recipe).out
    assert f"width {inch} ({mm})" in paramgen("about", recipe, "--unit", "in").out


def test_about_takes_a_unit_it_knows() -> None:
    ran = paramgen("about", "coaster", "--unit", "furlong")
    assert (ran.status, ran.out) == (2, "")
    assert "--unit: `furlong` is no unit" in ran.err


def test_the_hoops_are_shown_by_both_names_and_in_both_units() -> None:
    ran = paramgen("hoops")
    assert (ran.status, ran.err) == (0, "")
    for hoop in listed_hoops():
        assert f"{hoop.name} {hoop.also} {hoop.width:g} × {hoop.height:g} mm (" in ran.out


def test_the_schema_is_one() -> None:
    ran = paramgen("schema")
    assert (ran.status, ran.err) == (0, "")
    schema = json.loads(ran.out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)


def test_the_version_is_told() -> None:
    assert paramgen("--version").out == f"paramgen {__version__}"


def test_the_help_names_every_command_and_the_quick_help_says_the_same() -> None:
    full, quick = paramgen("--help"), joined(top_help())
    assert full.status == 0
    group = get_command(app)
    assert isinstance(group, TyperGroup)
    assert set(group.commands) == set(COMMANDS)
    for text in (full.out, quick):
        assert joined(SUMMARY) in text
        assert joined(AFTERWORD) in text
        for name, does in COMMANDS.items():
            assert f"{name} {does}" in text


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_help_of_its_own(command: str) -> None:
    ran = paramgen(command, "--help")
    assert (ran.status, ran.err) == (0, "")
    assert COMMANDS[command] in ran.out


def test_the_help_of_make_names_every_kind_of_file() -> None:
    assert ",".join(kind.name for kind in FORMATS) in paramgen("make", "--help").out


EXAMPLES = [line.strip() for line in AFTERWORD.splitlines() if line.startswith("  paramgen ")]


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_of_the_help_can_be_made(example: str) -> None:
    program, command, *words = shlex.split(example)
    assert (program, command) == ("paramgen", "make")
    assert paramgen("check", *words).status == 0


def test_a_fabric_is_named_in_plain_words_in_the_cut_list() -> None:
    ran = paramgen("check", "plant-tag", "--hoop", "200x300")
    assert "clear vinyl" in ran.out
    assert "clear-vinyl" not in ran.out
