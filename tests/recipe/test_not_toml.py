"""A file that is no TOML: each line that must be mended is told, with how it was meant."""

import random
import tomllib

import pytest

from paramgen.installed import templates
from paramgen.recipe.not_toml import LONGEST_SHOWN, torn

TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(templates().glob("*.toml"))}
EACH = pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)


def reads(text: str) -> bool:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False
    return True


@EACH
def test_a_quote_left_out_is_put_back(text: str) -> None:
    chance = random.Random(1)
    quotes = [at for at, letter in enumerate(text) if letter == '"']
    for at in chance.sample(quotes, 60):
        less = text[:at] + text[at + 1 :]
        number = text.count("\n", 0, at)
        meant = text.splitlines()[number].strip()
        if reads(less) or len(meant) > LONGEST_SHOWN:
            continue
        faults = torn(less, "own.toml")
        assert [fault.line for fault in faults] == [number + 1], meant
        # A bare number may be inches or millimetres: `2"`.
        assert faults[0].hint == f"Write `{meant}`." or "`in`" in faults[0].message


@EACH
def test_whatever_letters_are_lost_it_is_told_and_soon(text: str) -> None:
    chance = random.Random(2)
    for _ in range(40):
        at, many = chance.randrange(len(text)), chance.randint(1, 40)
        less = text[:at] + chance.choice(["", '"', "]", "{", "\u201c", "\\"]) + text[at + many :]
        if not reads(less):
            faults = torn(less, "own.toml")
            assert faults
            assert all(fault.line is not None for fault in faults)


def test_what_cannot_be_mended_is_said_as_it_was_found() -> None:
    assert [str(fault) for fault in torn("a = 1\nb = = 2", "own.toml")] == [
        "own.toml, line 2: this is not TOML: Invalid value"
    ]


def test_a_table_that_stands_twice_is_named() -> None:
    (fault,) = torn("[lines.seam]\na = 1\n[lines.seam]\nb = 1", "own.toml")
    assert (fault.line, fault.message) == (3, "the table `lines.seam` is there already")


@EACH
def test_a_comma_left_out_of_a_table_is_put_back(text: str) -> None:
    tried = 0
    for number, line in enumerate(text.splitlines(), start=1):
        if "{" not in line or '", ' not in line or len(line.strip()) > LONGEST_SHOWN:
            continue
        less = line.replace('", ', '" ', 1)
        if "'" in line or reads(less) or reads(f"x = [{less}]"):
            continue
        lines = text.splitlines()
        lines[number - 1] = less
        (fault,) = torn("\n".join(lines), "own.toml")
        assert (fault.line, fault.message) == (number, "a comma is missing")
        assert fault.hint == f"Write `{line.strip()}`."
        tried += 1
    assert tried >= 5


@EACH
def test_a_quote_of_the_other_kind_is_told_at_its_own_line(text: str) -> None:
    lines = text.splitlines()
    whole = [n for n, line in enumerate(lines, 1) if line.startswith(("title = ", "fabric = "))]
    for number in whole[1:6]:
        line = lines[number - 1]
        at, end = line.index('"'), len(line) - 1
        for place in (at, end):
            mixed = f"{line[:place]}'{line[place + 1 :]}"
            (fault,) = torn("\n".join([*lines[: number - 1], mixed, *lines[number:]]), "own.toml")
            assert (fault.line, fault.hint) == (number, f"Write `{line}`.")
            assert fault.message == "a text ends with the quote that it begins with"


@pytest.mark.parametrize(
    ("mixed", "meant"),
    [
        ('x = [\n  { piece = \'ribbon", side = "front" },\n]', '{ piece = "ribbon", side'),
        ("a = { b = \"ribbon', c = 1 }", 'a = { b = "ribbon", c = 1 }'),
        ("a = { b = 3 c = 4 }", "a = { b = 3, c = 4 }"),
        ("a = [{ b = 3 } { b = 4 }]", "a = [{ b = 3 }, { b = 4 }]"),
        ('a = ["b" "c"]', 'a = ["b", "c"]'),
    ],
)
def test_what_stands_in_brackets_is_mended_too(mixed: str, meant: str) -> None:
    (fault,) = torn(mixed, "own.toml")
    assert meant in fault.hint
