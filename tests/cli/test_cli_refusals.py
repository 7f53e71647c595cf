"""What is refused is answered with commands that make what can be made, ready to copy."""

import shlex
from itertools import pairwise
from pathlib import Path

import pytest
from command_line import Ran
from flat_recipe import flat_text
from typer.testing import CliRunner

from paramgen.cli.app import app
from paramgen.lengths import parse_length


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


def test_what_was_typed_besides_stays_where_a_thing_to_hold_is_looked_for() -> None:
    # A passport wants a wider wallet than that, and no size alone mends it.
    words = ("width=120", "height=160", "--holds", "passport", "tab=none", "turn_of_cloth=3mm")
    options = ("--margin", "5mm", "--no-turn", "--unit", "in")
    refused = ran("check", "fold-wallet", *words, *options, "--hoop", "130x180")
    (command,) = looked_for(refused.err)
    assert command[1:3] == ["fit", "fold-wallet"]
    assert {"tab=none", "turn_of_cloth=3mm", "--no-turn"} <= {*command}
    pairs = dict(pairwise(command))
    assert (pairs["--hold"], pairs["--unit"]) == ("passport", "in")
    assert "--hoop" not in command  # no size was found that this one takes
    assert parse_length(pairs["--margin"]) == pytest.approx(5, abs=0.01)
    # The sizes are what is looked for.
    assert not any(word.startswith(("width=", "height=", "packet_")) for word in command)
    assert ran(*command[1:]).status in (0, 1)


def test_a_thing_of_ones_own_name_is_looked_for_by_its_size() -> None:
    own = ("packet_width=125mm", "packet_height=88mm", "packet_thickness=3mm")
    words = ("width=120", "height=160", "--holds", "seed tin", *own, "tab=none")
    refused = ran("check", "fold-wallet", *words, "--hoop", "130x180")
    (command,) = looked_for(refused.err)
    assert dict(pairwise(command))["--hold"] == "125x88x3mm"
    assert "tab=none" in command
    assert ran(*command[1:]).status in (0, 1)


def looked_for(err: str) -> list[list[str]]:
    lines = err.split("To look for sizes that can be made\n")[1].splitlines()
    return [shlex.split(line) for line in lines if line.startswith("  paramgen")]


@pytest.mark.parametrize("copies", ["4", "2"])
def test_where_one_copy_fits_the_way_out_is_to_ask_for_one(copies: str) -> None:
    refused = ran("check", "coaster", "outline=round", "width=90", "--copies", copies, *SMALL)
    assert "1 does, and no more can. One fits: leave --copies out." in " ".join(refused.err.split())
    assert commands(refused.err)[0][3:] == ["outline=round", "width=90", *SMALL]


def test_so_many_as_do_not_lie_at_once_are_made_in_several_hoopings() -> None:
    words = ("coaster", "outline=round", "width=90", "--copies")
    most = ran("fit", *words, "most", "--hoop", "200x300").out
    count = int(most.rpartition("--copies ")[2])
    assert count > 1
    wanted = 2 * count + 1
    said = f"{wanted} are made in 3 hoopings: {count}, {count} and 1."
    for command in ("make", "fit"):
        told = ran(command, *words, str(wanted), "--hoop", "200x300")
        assert told.status == 1
        assert said in " ".join(told.err.split())


SMALL = ("--hoop", "100x100")


def test_how_many_lie_in_a_hoop_is_told_with_the_command() -> None:
    told = ran("fit", "coaster", "outline=round", "width=90", "--copies", "4", *SMALL)
    assert told.status == 1
    assert told.err.rstrip().endswith("paramgen make coaster outline=round width=90 --hoop 100x100")
    told = ran("fit", "coaster", "outline=round", "width=90", "--copies", "4", "--hoop", "200x200")
    assert told.out.rstrip().endswith("--hoop 200x200 --copies 4")


def test_what_can_be_made_is_told_in_the_hoop_that_is_spoken_of() -> None:
    # 284 mm are needed: 100 x 100 mm is out of the question, 160 x 260 mm is 24 mm short.
    hoops = ("--hoop", "10x10cm", "--hoop", "16x26cm")
    refused = ran("check", "fold-wallet", "width=15cm", "height=28cm", *hoops)
    assert "the field of 160x260" in refused.err
    found = commands(refused.err)
    assert found
    for command in found:
        assert "100x100" not in command
        made = ran("check", *command[2:])
        assert made.status == 0, made.err


def test_where_no_hoop_is_turned_down_sizes_are_looked_for_in_each() -> None:
    # The numbers refuse a wallet 120 mm high; 154 mm and more need a hoop longer than 100 mm.
    hoops = ("--hoop", "100x100", "--hoop", "130x180")
    refused = ran("check", "fold-wallet", "height=120", *hoops)
    found = commands(refused.err)
    assert found
    for command in found:
        assert dict(pairwise(command))["--hoop"] == "130x180"


def test_a_search_keeps_the_title_and_every_hoop_that_may_do() -> None:
    words = ("width=80", "height=120", "pockets=3", "--title", "Seed wallet")
    hoops = ("--hoop", "130x180", "--hoop", "200x200")
    (command,) = looked_for(ran("check", "fold-wallet", *words, *hoops).err)
    assert "pockets=3" in command
    assert [command[at + 1] for at, word in enumerate(command) if word == "--hoop"] == [
        "130x180",
        "200x200",
    ]
    assert dict(pairwise(command))["--title"] == "Seed wallet"


def test_no_size_is_looked_for_where_none_mends_it(tmp_path: object) -> None:
    # The top laid with its wrong side up shows it when it is turned, whatever the size.
    recipe = Path(f"{tmp_path}/own.toml")
    whole = flat_text("coaster")
    laid = 'piece = "top", side = "front", up = "right"'
    assert laid in whole
    recipe.write_text(whole.replace(laid, laid.replace("right", "wrong")), encoding="utf-8")
    refused = ran("check", str(recipe), "--hoop", "130x180")
    assert refused.status == 1, refused
    assert "wrong side" in refused.err
    assert "To look for sizes" not in refused.err


def test_a_search_names_no_hoop_that_takes_nothing() -> None:
    # 100 x 100 mm takes no wallet: the smallest is 75 x 110 mm and needs 4 mm more each way.
    words = ("width=80", "height=160", "--holds", "passport", "pockets=3", "--hoop", "100x100")
    (command,) = looked_for(ran("check", "fold-wallet", *words).err)
    assert "--hoop" not in command
    assert "pockets=3" in command
