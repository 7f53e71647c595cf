"""Every bad recipe gives the faults kept beside it, all in one run."""

from pathlib import Path

import pytest
from bad_recipe_files import BAD, GOOD, BadRecipe
from command_line import joined, paramgen

from paramgen.recipe.read_recipe import read_recipe
from paramgen.vocabulary.findings import InputError

EACH = pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.name)


def test_the_recipe_that_is_spoiled_has_no_fault_itself() -> None:
    assert read_recipe(GOOD, name="tag", source="tag.toml").file.title == "Plant tag"


def test_there_are_bad_recipes() -> None:
    assert len(BAD) >= 30


@EACH
def test_a_bad_recipe_gives_its_faults(bad: BadRecipe) -> None:
    with pytest.raises(InputError) as refusal:
        read_recipe(bad.text, name="tag", source="tag.toml")
    assert [str(fault) for fault in refusal.value.faults] == list(bad.faults)


@EACH
def test_the_command_line_says_them_all_and_stops(
    bad: BadRecipe, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("tag.toml").write_text(bad.text, encoding="utf-8")
    ran = paramgen("check", "tag.toml", "--hoop", "130x180")
    assert ran.status == 2
    assert ran.out == ""
    places = [ran.err.find(joined(fault)) for fault in bad.faults]
    assert [fault for fault, at in zip(bad.faults, places, strict=True) if at < 0] == []
    assert places == sorted(places)
