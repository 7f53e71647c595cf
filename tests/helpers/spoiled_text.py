"""A shipped recipe with some of its text changed, as a file of a person's own."""

from pathlib import Path

from flat_recipe import flat_text


def changed(folder: Path, changes: dict[str, str], recipe: str = "coaster") -> Path:
    """Write a recipe in which each text that stands there once is put in place of another."""
    text = flat_text(recipe)
    for find, put in changes.items():
        assert text.count(find) == 1, find
        text = text.replace(find, put)
    file = folder / "pot-mat.toml"
    file.write_text(text, encoding="utf-8")
    return file
