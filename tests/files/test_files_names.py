"""Names: of formats as typed, of projects as stitch files can hold them."""

import subprocess
import sys
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.files.file_label import safe_label
from paramgen.files.format_choice import formats_named
from paramgen.files.formats import FORMATS
from paramgen.vocabulary.findings import InputError


def test_formats_are_found_by_name_once_each_and_in_one_order() -> None:
    assert [k.name for k in formats_named(["vp3", " DST", "vp3"])] == ["dst", "vp3"]
    assert formats_named(kind.name for kind in FORMATS) == FORMATS


def test_every_unknown_format_is_told_with_the_nearest_name() -> None:
    with pytest.raises(InputError) as refused:
        formats_named(["dst", "jeff", "qqq"])
    near, far = refused.value.faults
    assert near.message.startswith("no stitch file is called `jeff`; there are dst, exp, ")
    assert near.hint == "Did you mean `jef`?"
    assert far.hint == ""


def test_the_names_can_be_listed_without_any_library() -> None:
    check = (
        "import paramgen.files.formats, sys;"
        "heavy = {'numpy', 'shapely', 'pyembroidery', 'pydantic', 'typer'} & set(sys.modules);"
        "sys.exit(str(heavy) if heavy else 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", check], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize(
    ("title", "label"),
    [
        ("tag", "tag"),
        ("seed packet", "seed pac"),
        ("Größe", "Grosse"),
        ("smørbrød", "smorbrod"),
        ("Łódź", "Lodz"),
        ("crème brûlée", "creme br"),
        ("a\tb\r\nc", "a b c"),
        ("five & six", "five six"),
        ("fold_me-x", "fold_me-"),
        ("種", "project"),
        ("", "project"),
    ],
)
def test_a_title_is_spelt_in_plain_letters(title: str, label: str) -> None:
    assert safe_label(title, 8) == label


@given(st.text(), st.integers(1, 20))
@settings(max_examples=50)
def test_a_label_is_never_unsafe_empty_or_long(title: str, length: int) -> None:
    label = safe_label(title, length)
    assert 1 <= len(label) <= length
    assert all(letter.isascii() and (letter.isalnum() or letter in " -_") for letter in label)
    assert label == label.strip()


@given(st.text())
@settings(max_examples=50)
def test_a_label_does_not_depend_on_how_accents_are_stored(title: str) -> None:
    whole, apart = unicodedata.normalize("NFC", title), unicodedata.normalize("NFD", title)
    assert safe_label(whole, 8) == safe_label(apart, 8)
