"""The JSON schemas: all that is shipped is valid, and what they refuse the program refuses."""

import copy
import json
import random
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from as_toml import as_toml
from bad_recipe_files import BAD, GOOD
from command_line import paramgen
from documents import ROOT
from jsonschema import Draft202012Validator

from paramgen.recipe.file_schema import file_schema
from paramgen.recipe.read_part import read_part
from paramgen.recipe.read_recipe import listed, read_recipe
from paramgen.vocabulary.findings import InputError

RECIPE, PART = (Draft202012Validator(file_schema(kind)) for kind in ("recipe", "part"))
RECIPES = sorted(listed().values())
PARTS = sorted((ROOT / "templates" / "parts").glob("*.toml"))
OWN = sorted((ROOT / "tests" / "specimens" / "own_recipes").glob("*.toml"))

#: What is put where something else belongs.
WRONG: list[Any] = [True, -7, 2.5, 0, "", "Ab c", "x" * 1500, [], {}, ["a"], [["0", "0"]], {"k": 1}]
#: Bad recipes whose fault is one of form: of keys, words, names and types.
OF_FORM = {
    "missing-keys",
    "missing-tables",
    "shapes",
    "unknown-keys",
    "unknown-table",
    "wrong-forms",
    "wrong-names",
    "wrong-types",
    "wrong-words",
}


def tables(text: str) -> dict[str, Any]:
    return tomllib.loads(text)


def told(schema: Draft202012Validator, raw: object) -> list[str]:
    return [f"{list(one.path)}: {one.message[:200]}" for one in schema.iter_errors(raw)]


@pytest.mark.parametrize("schema", [RECIPE, PART], ids=["recipe", "part"])
def test_a_schema_is_one_itself(schema: Draft202012Validator) -> None:
    Draft202012Validator.check_schema(schema.schema)


@pytest.mark.parametrize("path", [*RECIPES, *OWN], ids=lambda path: path.stem)
def test_every_recipe_is_valid(path: Path) -> None:
    assert told(RECIPE, tables(path.read_text("utf-8"))) == []


@pytest.mark.parametrize("path", PARTS, ids=lambda path: path.stem)
def test_every_part_is_valid(path: Path) -> None:
    assert told(PART, tables(path.read_text("utf-8"))) == []


def test_a_recipe_is_no_part_and_a_part_no_recipe() -> None:
    assert told(PART, tables(RECIPES[0].read_text("utf-8")))
    assert told(RECIPE, tables(PARTS[0].read_text("utf-8")))


@pytest.mark.parametrize(
    "bad", [one for one in BAD if one.name in OF_FORM], ids=lambda one: one.name
)
def test_what_is_wrong_in_form_is_seen_while_one_types(bad: Any) -> None:
    assert told(RECIPE, tables(bad.text))


def test_the_bad_recipes_of_form_are_there() -> None:
    assert {bad.name for bad in BAD} >= OF_FORM
    assert told(RECIPE, tables(GOOD)) == []


def spoiled(raw: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """The same with one thing in it taken out, called otherwise, or replaced."""
    made = copy.deepcopy(raw)
    inside, key = chance.choice(list(_places(made)))
    match chance.choice(["out", "called", "put", "put", "put"]):
        case "out":
            del inside[key]
        case "called" if isinstance(inside, dict):
            inside[f"{key} x"] = inside.pop(key)
        case _:
            inside[key] = chance.choice(WRONG)
    return made


def _places(inside: Any) -> Iterator[tuple[Any, Any]]:
    keys = list(inside) if isinstance(inside, dict) else range(len(inside))
    for key in keys:
        yield inside, key
        if isinstance(inside[key], dict | list):
            yield from _places(inside[key])


@pytest.mark.parametrize(
    ("schema", "path"),
    [*[(RECIPE, path) for path in (*RECIPES, *OWN)], *[(PART, path) for path in PARTS]],
    ids=lambda one: getattr(one, "stem", ""),
)
def test_what_a_schema_refuses_the_program_refuses(
    schema: Draft202012Validator, path: Path
) -> None:
    raw, chance = tables(path.read_text("utf-8")), random.Random(path.stem)
    seen = 0
    for _ in range(60):
        bad = spoiled(raw, chance)
        if not (why := told(schema, bad)):
            continue
        seen += 1
        text = as_toml(bad)
        assert tables(text) == bad
        try:
            if schema is PART:
                read_part(text, path.stem, path.name)
            else:
                read_recipe(text, name=path.stem, source=path.name)
        except InputError:
            continue
        pytest.fail(f"the program takes what the schema refuses: {why}")
    assert seen >= 15


def test_a_recipe_without_parts_makes_its_own_pieces() -> None:
    raw = tables(GOOD)
    del raw["pieces"]
    assert told(RECIPE, raw)
    assert told(RECIPE, {**raw, "uses": {}}) == []


def test_true_is_no_number_of_a_format() -> None:
    text = GOOD.replace("format = 1", "format = true")
    assert told(RECIPE, tables(text))
    with pytest.raises(InputError, match="`True` is not one of 1"):
        read_recipe(text, name="tag", source="tag.toml")


def test_the_schemas_are_printed() -> None:
    for kind in ("recipe", "part"):
        ran = paramgen("schema", kind)
        assert (ran.status, json.loads(ran.out)) == (0, file_schema(kind))
    assert json.loads(paramgen("schema").out) == json.loads(paramgen("schema", "plan").out)
    wrong = paramgen("schema", "recipes")
    assert wrong.status == 2
    assert "recipes: there is no schema of that name Did you mean `recipe`?" in (
        wrong.err.replace(".", "")
    )
