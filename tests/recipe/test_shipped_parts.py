"""Every part that comes with the program is sound, and each is used; what they make is whole."""

from collections import Counter
from pathlib import Path

import pytest
from flat_recipe import flat_text

from paramgen.installed import templates
from paramgen.recipe.read_part import read_part
from paramgen.recipe.read_recipe import find_recipe, find_source, listed, read_recipe

FILES = sorted((templates() / "parts").glob("*.toml"))
USES = Counter(use.part for name in listed() for use in find_recipe(name).file.uses.values())


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_part_is_sound_on_its_own_and_used_more_than_once(file: Path) -> None:
    part = read_part(file.read_text("utf-8"), file.stem, file.name)
    assert part.file.steps or part.file.gives
    assert USES[file.stem] >= 2


def test_every_recipe_uses_parts() -> None:
    assert [name for name in listed() if not find_recipe(name).file.uses] == []


@pytest.mark.parametrize("name", listed())
def test_a_recipe_with_its_parts_written_out_is_the_same(name: str) -> None:
    flat = read_recipe(flat_text(name), name=name, source=f"{name}.toml").file
    assert flat == find_recipe(name).file.model_copy(update={"uses": {}})


@pytest.mark.parametrize("name", listed())
def test_a_copy_in_a_folder_of_ones_own_finds_the_parts(name: str, tmp_path: Path) -> None:
    own = tmp_path / "mine.toml"
    own.write_text(find_source(name).text, "utf-8")
    assert find_recipe(str(own)).file == find_recipe(name).file
