"""Spoiled recipes: each gives exactly the findings kept beside the patch that spoils it.

A file of `tests/specimens/spoiled/` has the recipe's name, why, what was `asked`, and in order
every `[[change]]`: `find` a text that stands there once and `put` another in its place; `drop` a
table, or `put` another there; `drop_step`, or `move_step` to `before` another, by their titles; or
`put` a new step `before` one. Then each of `[[finds]]`, by code and piece: these must be found and
no others, and what is found of the recipe before it is spoiled is among them. A change of a shipped
recipe may need the same change in some of these files.
"""

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from flat_recipe import flat_text
from told import mends, says

from paramgen.finished.all_findings import Examined, prove
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import read_recipe
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

FILES = sorted((Path(__file__).parents[1] / "specimens" / "spoiled").glob("*.toml"))
#: Recipes kept whole, as they were when they could not be made as they were pictured.
WHOLE = Path(__file__).parents[1] / "specimens" / "spoiled" / "whole"


def step_named(text: str, title: str) -> str:
    """Text of the step with a title, up to the next step or table."""
    found = re.search(rf'\[\[steps\]\]\ntitle = "{re.escape(title)}"\n.*?(?=\n\[)', text, re.DOTALL)
    assert found, f"no step {title!r}"
    return found[0]


def patched(text: str, change: dict[str, str]) -> str:
    """Apply one change of a spoiled recipe: find/put, drop, drop_step, move_step, before."""
    if "find" in change:
        assert text.count(change["find"]) == 1, change["find"]
        return text.replace(change["find"], change["put"])
    if "drop" in change:
        found = re.search(rf"{re.escape(change['drop'])}.*?(?=\n\[)", text, re.DOTALL)
        assert found, change["drop"]
        return text.replace(found[0], change.get("put", ""))
    if "drop_step" in change:
        return text.replace(step_named(text, change["drop_step"]), "", 1)
    step = change.get("put") or step_named(text, change["move_step"])
    before = step_named(text, change["before"])
    text = text.replace(step, "", 1) if "move_step" in change else text
    return text.replace(before, f"{step}\n{before}", 1)


def project_of(spoiled: dict[str, Any]) -> Project:
    name = spoiled["recipe"]
    whole = spoiled.get("whole")
    text = (WHOLE / f"{name}.toml").read_text(encoding="utf-8") if whole else flat_text(name)
    for change in spoiled.get("change", []):
        text = patched(text, change)
    recipe = read_recipe(text, name=spoiled["recipe"], source="spoiled")
    sized = size(recipe, spoiled.get("asked", {}), unit=Unit.MM)
    return lay_out(sized, chord_error=COARSE)


def findings_of(project: Project) -> tuple[Finding, ...]:
    sewn, _ = sew(project.steps)
    return prove(project, sewn).findings


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_spoiled_recipe_gives_exactly_its_findings(file: Path) -> None:
    spoiled = tomllib.loads(file.read_text(encoding="utf-8"))
    expected = [(one["code"], one.get("piece")) for one in spoiled.get("finds", [])]
    project = project_of(spoiled)
    found = findings_of(project)
    coded = [(one.code, one.piece) for one in found]
    assert sorted(coded, key=str) == sorted(expected, key=str), f"found in all: {coded}"
    for unit in Unit:
        for one in found:
            # With every field of its sentences filled in.
            said = f"{says(one, unit)} {mends(one, unit)}"
            assert not re.search(r"[\[\]{}]|\b(?:None|nan|inf)\b|  |\w\($", said.strip()), said
            assert says(one, unit)[:1].islower() or says(one, unit)[:1].isdigit(), said
            assert mends(one, unit)[-1:] in (".", ""), said
    # Where nothing but that is asked.
    stops = tuple(one for one in found if one.stops)
    examined = Examined(project)
    assert [one.stops for one in examined.first_stop] == [True] * bool(stops)
    # What was found for that is not lost on who asks for more.
    assert examined.stops == Examined(project).stops == stops


def test_at_least_forty_ways_of_spoiling_are_kept() -> None:
    assert len(FILES) >= 40
