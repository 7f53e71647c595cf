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
