"""Every bad part, and every bad use of one, gives the faults kept beside it, with who used it."""

from pathlib import Path

import pytest
from bad_recipe_files import BAD_PARTS, GOOD_PARTS, BadRecipe
from command_line import joined, paramgen

from paramgen.recipe.read_recipe import find_recipe
from paramgen.vocabulary.findings import InputError

EACH = pytest.mark.parametrize("bad", BAD_PARTS, ids=lambda bad: bad.name)


def written(folder: Path, text: str, parts: dict[str, str]) -> Path:
    """A recipe in a folder, its parts beside it."""
    for name, part in parts.items():
        file = folder / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(part, encoding="utf-8")
    (folder / "tag.toml").write_text(text, encoding="utf-8")
    return folder / "tag.toml"


def test_the_recipe_and_the_parts_that_are_spoiled_have_no_fault(tmp_path: Path) -> None:
    parts = {name: text for name, text in GOOD_PARTS.items() if name != "good.toml"}
    assert find_recipe(str(written(tmp_path, GOOD_PARTS["good.toml"], parts))).file.uses


def test_there_are_bad_parts() -> None:
    assert len(BAD_PARTS) >= 10


@EACH
def test_bad_parts_give_their_faults(
    bad: BadRecipe, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path, bad.text, dict(bad.parts))
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as refusal:
        find_recipe("tag.toml")
    assert [str(fault) for fault in refusal.value.faults] == list(bad.faults)
    ran = paramgen("check", "tag.toml", "--hoop", "130x180")
    assert (ran.status, ran.out) == (2, "")
    assert [fault for fault in bad.faults if joined(fault) not in ran.err] == []
