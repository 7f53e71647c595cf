"""What is refused is answered with commands that make what can be made, ready to copy."""

import shlex

import pytest
from command_line import Ran
from typer.testing import CliRunner

from paramgen.cli.app import app


def ran(*words: str) -> Ran:
    """Run a command, its lines as they are."""
    runner = CliRunner(env={"XDG_CONFIG_HOME": "/dev/null"})
    done = runner.invoke(app, words, prog_name="paramgen", catch_exceptions=False)
    return Ran(done.exit_code, done.stdout, done.stderr)


def commands(err: str) -> list[list[str]]:
    """The commands below the line that says what can be made, as a shell reads them."""
    _, _, below = err.partition("What can be made: ")
    return [shlex.split(line) for line in below.splitlines()[1:]]


#: Something to refuse of each recipe: for its hoop, for its numbers, for what it holds.
REFUSED = [
    ("fold-wallet", "width=5 1/2in", "--hoop", "5x7in"),
    ("fold-wallet", "height=120", "--hoop", "130x180"),
    ("fold-wallet", "--scale", "1.3", "--hoop", "130x180"),
    ("zip-pouch", "width=200", "height=200", "--hoop", "130x180", "--margin", "3mm"),
    ("zip-pouch", "width=100", "height=90", "--hoop", "130x180"),
    ("plant-tag", "width=200", "--hoop", "5x7in"),
    ("plant-tag", "width=60", "--hoop", "130x180", "--no-turn"),
    ("coaster", "width=200", "--hoop", "130x180", "--unit", "in"),
    ("coaster", "width=130", "outline=oval", "--hoop", "130x180"),
    ("coaster", "width=52", "--hoop", "130x180"),
    ("coaster", "outline=round", "width=100", "height=110", "--hoop", "130x180"),
    ("coaster", "--copies", "9", "--hoop", "130x180"),
]


@pytest.mark.parametrize("words", REFUSED, ids=" ".join)
def test_every_command_that_is_named_makes_it(words: tuple[str, ...]) -> None:
    refused = ran("check", *words)
    assert refused.status == 1
    found = commands(refused.err)
    assert found
    for command in found:
        assert command[:2] == ["paramgen", "make"]
        made = ran("check", *command[2:])
        assert made.status == 0, made.err


def test_the_largest_of_both_sizes_and_another_hoop_are_commands_too() -> None:
    # A wallet needs 4 mm more than its size each way: 126 × 176 mm in 130 × 180 mm.
    # 140 + 4 by 172 + 4 mm lies in 200 × 200 mm, the smallest by area of those that take it.
    said = commands(ran("check", "fold-wallet", "width=140", "--hoop", "130x180").err)
    assert [command[3:] for command in said] == [
        ["width=126mm", "--hoop", "130x180"],
        ["width=126mm", "height=176mm", "--hoop", "130x180"],
        ["width=140", "--hoop", "200x200"],
    ]


def test_what_was_asked_besides_stays(tmp_path: object) -> None:
    words = ("coaster", "width=200", "--hoop", "130x180", "--files", "dst", "--paper", "a3")
    for command in commands(ran("make", *words, "--out", f"{tmp_path}/new").err):
        assert command[-4:] == ["--files", "dst", "--paper", "a3"]


def test_how_it_is_printed_and_laid_stays() -> None:
    words = ("coaster", "width=200", "--hoop", "130x180", "--booklet", "full", "--whole-pieces")
    printed = commands(ran("make", *words).err)
    assert printed
    for command in printed:
        assert command[-3:] == ["--booklet", "full", "--whole-pieces"]
    # Each by itself a coaster of 108 mm and 12 mm allowance takes 132 mm: two do not lie in 260.
    two = ("coaster", "--hoop", "160x260", "--copies", "2", "--singly")
    several = [one for one in commands(ran("make", *two).err) if "--copies" in one]
    assert several
    assert all("--singly" in command for command in several)


def test_where_no_size_alone_mends_it_the_search_is_named() -> None:
    # Too low for two pockets, and too narrow for the packet at any height.
    refused = ran("check", "fold-wallet", "width=80", "height=120", "--hoop", "130x180")
    assert "To look for sizes that can be made\n  paramgen fit fold-wallet" in refused.err
    assert "--hoop 130x180 --near 80x120mm" in refused.err


def test_json_stays_json() -> None:
    refused = ran("check", "coaster", "width=200", "--hoop", "130x180", "--json")
    assert refused.status == 1
    assert refused.err == ""
