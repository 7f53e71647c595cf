"""File names are ones that every desktop system takes.

Windows: "Naming Files, Paths, and Namespaces" in the system's published documentation, for
the reserved names, the forbidden characters and the ends of names. macOS and Windows tell no
small letter from a large one; most file systems take 255 bytes a name (POSIX.1 NAME_MAX for
the usual ones).
"""

import re
import string
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from paramgen.hooping import Hooped
from paramgen.pack.file_names import (
    LONGEST,
    LONGEST_WHOLE,
    distinct,
    length_name,
    project_name,
    safe_name,
)
from paramgen.vocabulary.unit import Unit

RESERVED = {"CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"} | {
    f"{port}{number}" for port in ("COM", "LPT") for number in "0123456789¹²³"
}
FORBIDDEN = set('<>:"/\\|?*') | {chr(code) for code in range(32)}
LETTERS = set(string.ascii_lowercase + string.digits + "-")


def assert_taken_everywhere(name: str) -> None:
    """Hold one name, with or without an ending, to the published rules."""
    assert name.isascii()
    assert not set(name) & FORBIDDEN
    assert name == name.strip(" .")
    assert name.split(".", maxsplit=1)[0].upper() not in RESERVED
    assert 0 < len(name.encode()) <= 255


@given(st.text())
@example("CON")
@example("com¹")
@example("Lpt9")
@example("nul.txt")
@example(" . ")
@example("..")
@example("")
@example("種")
@example("Ｃｏｎ")
@example("𝑨")
@example("pocket[2]/../../etc")
@example("a" * 400)
def test_any_words_give_a_name_that_every_system_takes(words: str) -> None:
    stem = safe_name(words)
    assert_taken_everywhere(stem)
    assert_taken_everywhere(f"{stem}.svg")
    assert set(stem) <= LETTERS
    assert len(stem) <= LONGEST + len("-file")
    assert safe_name(stem) == stem


@pytest.mark.parametrize(
    ("words", "stem"),
    [
        ("Lay the upper outer piece", "lay-the-upper-outer-piece"),
        ("pocket[2]", "pocket-2"),
        ("Café crème", "cafe-creme"),
        ("4 1/2 × 7 in", "4-1-2-7-in"),
        ("COM1", "com1-file"),
        ("com10", "com10"),
        ("?!", "file"),
    ],
)
def test_a_name_keeps_what_can_be_read(words: str, stem: str) -> None:
    assert safe_name(words) == stem


@given(
    st.lists(st.sampled_from(["a", "a-2", "a-3", "a-2-2", "b", "file"]) | st.text().map(safe_name))
)
def test_names_side_by_side_all_differ_and_the_first_is_kept(stems: list[str]) -> None:
    names = distinct(stems)
    assert len({name.casefold() for name in names}) == len(names) == len(stems)
    first = {stem: stems.index(stem) for stem in stems}
    for stem, at in first.items():
        # An earlier name may have been numbered into this one.
        assert names[at] == stem or stem in names[:at]
    for stem, name in zip(stems, names, strict=True):
        assert re.fullmatch(rf"{stem}(-[0-9]+)?", name)
        assert_taken_everywhere(name)


@dataclass
class _Sized:
    """As much of a project as a name is made of."""

    recipe: str
    unit: Unit
    finished: tuple[float, float]
    copies: int = 1
    varied: tuple[tuple[str, str], ...] = ()
    own_title: str = ""
    own_held: tuple[str, ...] = ()
    depth: float = 0.0


@dataclass
class _Made:
    project: _Sized


def _named(recipe: str, unit: Unit, width: float, height: float, *varied: tuple[str, str]) -> str:
    made: Any = _Made(_Sized(recipe, unit, (width, height), varied=varied))
    return project_name(cast(Hooped, made))


def test_a_project_is_named_for_its_recipe_and_its_size_in_the_unit_asked_for() -> None:
    # 1 in is 25.4 mm exactly, so 114.3 × 177.8 mm is 4 1/2 × 7 in.
    assert _named("fold-wallet", Unit.INCH, 114.3, 177.8) == "fold-wallet-4-1-2x7in"
    assert _named("fold-wallet", Unit.MM, 114.3, 177.8) == "fold-wallet-114.3x177.8mm"
    assert _named("coaster", Unit.MM, 100.0, 100.0) == "coaster-100x100mm"


def test_a_hooping_of_several_copies_says_how_many() -> None:
    made: Any = _Made(_Sized("coaster", Unit.MM, (100.0, 100.0), copies=4))
    assert project_name(cast(Hooped, made)) == "coaster-100x100mm-4-copies"


def test_a_name_says_what_a_person_calls_it_and_what_it_holds() -> None:
    def named(title: str, held: str) -> str:
        one = _Sized("zip-pouch", Unit.MM, (170, 130), own_title=title, own_held=(held,))
        made: Any = _Made(one)
        return project_name(cast(Hooped, made))

    assert named("Hülle für Thé", "phone") == "hulle-fur-the-170x130mm-for-phone"
    # No letter of a title or a thing that file names have room for: what there is stands alone.
    assert named("Чехол", "phone") == "zip-pouch-170x130mm-for-phone"
    assert named("", "bank card") == "zip-pouch-170x130mm-for-bank-card"
    assert named("File", "phone").startswith("file-")


def test_a_name_tells_the_choices_and_counts_that_are_not_the_recipes_own() -> None:
    size = ("fold-wallet", Unit.MM, 124.0, 172.0)
    assert _named(*size, ("pockets", "3"), ("tab", "none")) == (
        "fold-wallet-124x172mm-pockets-3-tab-none"
    )
    assert _named(*size, ("top_edge", "hemmed")) == "fold-wallet-124x172mm-top-edge-hemmed"


@given(st.integers(1, 32 * 100))
def test_inches_in_a_name_are_read_back_as_the_ruler_mark_that_they_are(marks: int) -> None:
    # Three numbers are a whole and a fraction, one is a whole: nothing else can be meant. An
    # inch ruler is parted by halves down to sixteenths; halves of these are rounded up.
    sixteenths = (marks + 1) // 2
    name = length_name(marks * 25.4 / 32, Unit.INCH)
    assert set(name) <= set(string.digits + "-")
    numbers = [int(part) for part in name.split("-")]
    assert len(numbers) in (1, 3)
    over, under = numbers[1:] or (0, 1)
    assert Fraction(sixteenths, 16) == numbers[0] + Fraction(over, under)
    assert over < under


@given(
    st.text(),
    st.sampled_from(Unit),
    st.floats(1, 2000),
    st.floats(1, 2000),
    st.lists(st.tuples(st.text(), st.text()), max_size=30),
    st.text(),
)
def test_a_projects_name_is_one_that_every_system_takes(
    recipe: str,
    unit: Unit,
    width: float,
    height: float,
    varied: list[tuple[str, str]],
    title: str,
) -> None:
    sized = _Sized(recipe, unit, (width, height), 1, tuple(varied), title, (title,))
    made: Any = _Made(sized)
    name = project_name(cast(Hooped, made))
    assert_taken_everywhere(name)
    assert len(name) <= LONGEST_WHOLE
