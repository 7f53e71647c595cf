"""All that a person reads has the words that go with their unit; names stay what they are.

`zipper` is the word where sewing patterns measure in inches, `zip` where they measure in
centimetres (common practice, no source).
"""

import re
from pathlib import Path

import pytest
from command_line import paramgen as run

from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: Words of prose, and not parts of names, paths or commands.
ZIP = re.compile(r"(?<![\w`=/.-])zips?(?![\w`=/-]|\.\w)", re.IGNORECASE)
ZIPPER = re.compile(r"zipper", re.IGNORECASE)
TAG = re.compile(r"<[^>]*>")


def read(text: str) -> str:
    """The words of a page or picture, without its tags and what is in them."""
    return TAG.sub(" ", text)


@pytest.mark.parametrize("recipe", ["zip-pouch", "fold-wallet"])
@pytest.mark.parametrize("unit", list(Unit))
def test_all_that_is_made_has_the_words_of_the_unit(
    recipe: str, unit: Unit, tmp_path: Path
) -> None:
    made = run("make", recipe, "--hoop", "180x300", "--unit", unit, "--out", str(tmp_path / "a"))
    assert made.status == 0, made.err
    here = [made.out]
    for page in sorted((tmp_path / "a").rglob("*.*")):
        if page.suffix in (".html", ".svg"):
            here.append(read(page.read_text(encoding="utf-8")))
    wrong, right = (ZIPPER, ZIP) if unit is Unit.MM else (ZIP, ZIPPER)
    assert [found[0] for text in here for found in wrong.finditer(text)] == []
    assert sum(len(right.findall(text)) for text in here) > 50


@pytest.mark.parametrize("unit", list(Unit))
def test_what_is_told_of_a_recipe_has_the_words_of_the_unit(unit: Unit) -> None:
    wrong, right = (ZIPPER, ZIP) if unit is Unit.MM else (ZIP, ZIPPER)
    for words in (
        ("about", "zip-pouch", "--unit", unit),
        ("fit", "zip-pouch", "--hoop", "180x300", "--unit", unit),
        ("fit", "zip-pouch", "--from", "180x300", "--to", "200x200", "--unit", unit),
    ):
        told = run(*words).out
        assert not wrong.search(told), told
        assert right.search(told), told


def test_names_stay_what_they_are() -> None:
    for text in (
        "paramgen make zip-pouch zip_spare=2in --out zip",
        "the key `zip` of zip-pouch.toml",
        "notions.zip.sort, zip.toml, a/zip",
        "zip_tape zip-tape sort=zip",
    ):
        kept = text.replace("--out zip", "--out x")
        assert english().as_used(kept, Unit.INCH) == kept
    assert english().as_used("Open the zip.", Unit.INCH) == "Open the zipper."


def test_words_are_changed_once() -> None:
    once = english().as_used("Zip coil, zips: the zip", Unit.INCH)
    assert once == "Zipper coil, zippers: the zipper"
    assert english().as_used(once, Unit.INCH) == once


def test_a_title_of_ones_own_is_left_as_it_is(tmp_path: Path) -> None:
    told = run(
        *("make", "coaster", "--hoop", "5x7in", "--unit", "in", "--title", "Zip bag"),
        *("--out", str(tmp_path / "a")),
    )
    assert "Zip bag" in told.out


def test_the_other_unit_is_no_other_project(tmp_path: Path) -> None:
    words = ("make", "zip-pouch", "width=160mm", "--hoop", "180x300", "--out", str(tmp_path / "a"))
    more = ("ruler_mark=3.175mm", "--unit")
    assert run(*words, *more, "mm").status == 0
    again = run(*words, *more, "in")
    assert again.status == 0, again.err
