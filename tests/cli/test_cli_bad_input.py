"""Every kind of bad input gives its message and its status, and changes nothing."""

from pathlib import Path

import pytest
from command_line import Ran, paramgen
from folders import everything_in
from reading_files import written

from paramgen.pack.put_in_place import PLAN, place

MADE = ["make", "coaster", "--hoop", "130x180"]


@pytest.fixture
def older(tmp_path: Path) -> Path:
    """A folder that an earlier run made."""
    folder = tmp_path / "older"
    plan = b'{"made_by": "paramgen", "contents": ["plan.json", "whole.svg"]}'
    place({PLAN: plan, "whole.svg": b"older"}, folder)
    return folder


def refused(folder: Path, *words: str) -> Ran:
    """Make into a folder, which must neither appear nor change."""
    before = everything_in(folder.parent)
    ran = paramgen(*words, "--out", folder)
    assert everything_in(folder.parent) == before
    assert ran.out == ""
    return ran


@pytest.mark.parametrize(
    ("words", "said"),
    [
        # Lengths.
        (["width=wide"], "width: `wide` is not a length"),
        (["width=4 1/2"], "width: `4 1/2` has a fraction but no unit. Are inches meant?"),
        (["width=4 ells"], "width: `4 ells` is not in a unit known here"),
        (["width=0"], "width: `0` is zero"),
        (["width=-3in"], "width: `-3in` is negative"),
        (["width=nan"], "width: `nan` is not a finite length"),
        (["width=inf"], "width: `inf` is not a finite length"),
        (["width=1e999"], "width: `1e999` is not a finite length"),
        (["width=2001"], "width: `2001` is longer than the limit of 2000 mm (78 3/4 in)"),
        (["width=2.1m"], "width: `2.1m` is longer than the limit of 2000 mm"),
        (["allowance=-1"], "allowance: `-1` is negative"),
        (["--margin", "deep"], "--margin: `deep` is not a length"),
        (["--margin", "-1"], "--margin: `-1` is negative"),
        # Names and limits.
        (["widht=100"], "widht: coaster has no such size or choice. Did you mean `width`?"),
        (["colour=red"], "colour: coaster has no such size or choice. There are width, height"),
        (["width=20mm"], "width: `20mm` is outside 50 mm (1 15/16 in) to 330 mm (13 in)"),
        (["sides=2"], "sides: `2` is not a whole number from 3 to 12"),
        (["sides=4.5"], "sides: `4.5` is not a whole number from 3 to 12"),
        (["outline=rond"], "outline: `rond` is not one of square, rectangle, rounded, round"),
        (["outline=rond"], "Did you mean `round`?"),
        # How they are typed.
        (["120"], "I do not know what `120` is for. Write NAME=VALUE without spaces"),
        (["width="], "I do not know what `width=` is for"),
        (["=120"], "I do not know what `=120` is for"),
        (["width=100", "WIDTH=120"], "width: is given twice, `100` and `120`"),
        # Options.
        (["--files", "dst,dts"], "--files: no stitch file is called `dts`; there are dst, exp"),
        (["--files", "pse"], "Did you mean `pes`?"),
        (["--unit", "km"], "--unit: `km` is no unit. There are mm and in."),
        (["--scale", "big"], "--scale: `big` is not a number"),
        (["--scale", "0"], "--scale: `0` is outside 0.01 to 100"),
        (["--scale", "-1.2"], "--scale: `-1.2` is outside 0.01 to 100"),
        (["--scale", "nan"], "--scale: `nan` is outside 0.01 to 100"),
        (["--scale", "inf"], "--scale: `inf` is outside 0.01 to 100"),
        (["--margin", "65"], "65 mm all round leaves nothing of the field of 130x180"),
        (["--margin", "3in"], "--margin: 3 in all round leaves nothing of the field of 130x180"),
        (["--margin", "65"], "It must be less than 65 mm."),
    ],
)
def test_what_is_wrong_is_said_by_name_and_value(words: list[str], said: str, older: Path) -> None:
    ran = refused(older, *MADE, *words)
    assert ran.status == 2
    assert said in ran.err


@pytest.mark.parametrize(
    ("recipe", "said"),
    [
        ("coster", "coster: no recipe of that name. Did you mean `coaster`?"),
        ("quilt", "quilt: no recipe of that name. There are boxed-pouch, bunting-flag, card-case"),
        ("quilt.toml", "quilt.toml: there is no such file"),
    ],
)
def test_an_unknown_recipe(recipe: str, said: str, older: Path) -> None:
    ran = refused(older, "make", recipe, "--hoop", "130x180")
    assert (ran.status, paramgen("about", recipe).status) == (2, 2)
    assert said in ran.err
    assert said in paramgen("about", recipe).err


@pytest.mark.parametrize(
    ("hoop", "said"),
    [
        ("", "--hoop: say which hoop. There are 100x100, 130x180"),
        ("5x7", "--hoop: `5x7` has no unit, and in millimetres it is smaller than any hoop."),
        ("5x7", "Are inches meant? Then write 5x7in."),
        ("13x18", "Are centimetres meant? Then write 13x18cm."),
        ("130x181x2", "`130x181x2` is not a hoop known here"),
        ("130x18O", "Did you mean `130x180`?"),
        ("0x100", "--hoop width: `0` is zero"),
        ("100x2001", "--hoop height: `2001` is longer than the limit of 2000 mm"),
    ],
)
def test_a_hoop_that_is_missing_or_unclear(hoop: str, said: str, older: Path) -> None:
    words = ["--hoop", hoop] if hoop else []
    ran = refused(older, "make", "coaster", *words)
    assert ran.status == 2
    assert said in ran.err


#: A value that each option of a command does not take.
WRONG = [
    ("--hoop", "9x"),
    ("--hoop", "5x7"),
    ("--hoop", "0x7in"),
    ("--unit", "ell"),
    ("--margin", "deep"),
    ("--margin", "1m"),
    ("--files", "dts"),
    ("--scale", "big"),
    ("--scale", "0"),
    ("--copies", "some"),
    ("--paper", "a44"),
    ("--paper", "roll"),
    ("--paper-margin", "deep"),
    ("--paper-margin", "9in"),
    ("--booklet", "tiny"),
    ("--printed", "9"),
    ("--printed", "9x50"),
    ("--jobs", "0"),
    ("--largest", "widht"),
    ("--smallest", "widht"),
    ("--near", "5"),
    ("--near", "0x8in"),
    ("--hold", "pasport"),
    ("--hold", "0x4in"),
    ("--hold", "5x7"),
    ("--hold", "10x10x20"),
    ("--hold", "0 of passport"),
]

#: What else each command needs, and how many of these it has an option for.
COMMANDS = {
    "make": (["coaster"], 17),
    "check": (["coaster"], 10),
    "grade": (["table.csv"], 18),
    "fit": (["coaster"], 16),
    "read": (["tag.dst"], 4),
    "about": (["coaster"], 1),
    "things": ([], 1),
}


@pytest.mark.parametrize("command", COMMANDS)
def test_a_fault_is_headed_by_the_option_as_it_is_typed(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("table.csv").write_text("recipe\ncoaster\n")
    Path("tag.dst").write_bytes(written()["tag.dst"])
    words, count = COMMANDS[command]
    offered = paramgen(command, "--help").out.split()
    wrong = [(option, value) for option, value in WRONG if option in offered]
    assert len(wrong) == count
    for option, value in wrong:
        needs = command in ("make", "check", "grade") and option != "--hoop"
        ran = paramgen(command, *words, option, value, *(MADE[2:] if needs else ()))
        assert (ran.status, ran.out) == (2, "")
        assert ran.err.startswith((f"{option}: ", f"{option} width: ", f"{option}, across: "))


def test_a_fault_of_a_hoop_is_headed_by_the_option_that_says_it() -> None:
    for option, other in (("--from", "--to"), ("--to", "--from")):
        ran = paramgen("fit", "coaster", option, "0x7in", other, "5x7in")
        assert ran.status == 2
        assert ran.err.startswith(f"{option} width: `0 in` is zero")


def test_everything_that_is_wrong_is_said_at_once(older: Path) -> None:
    ran = refused(
        older, "make", "coaster", "width=0", "widht=100", "outline=rond", "sides=40", "120",
        "--hoop", "5x7", "--files", "dts,stl", "--unit", "km", "--scale", "big", "--margin", "-1",
    )  # fmt: skip
    assert ran.status == 2
    for said in (
        "`0` is zero",
        "widht: coaster has no such size or choice",
        "`rond` is not one of",
        "`40` is not",
        "I do not know what `120` is for",
        "`5x7` has no unit",
        "no stitch file is called `dts`",
        "no stitch file is called `stl`",
        "`km` is no unit",
        "`big` is not a number",
        "`-1` is negative",
    ):
        assert ran.err.count(said) == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["mak", "coaster"], "No such command 'mak'."),
        (["make"], "make: no recipe is named. There are boxed-pouch,"),
        (
            ["make", "coaster", "--hop", "130x180"],
            "--hop: `make` has no such option. Did you mean `--hoop`?",
        ),
        (["make", "coaster", "--hoop"], "--hoop"),
    ],
)
def test_words_that_are_no_command(words: list[str], said: str) -> None:
    ran = paramgen(*words)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err


@pytest.mark.parametrize(
    ("words", "twice"),
    [
        (["about", "coaster", "--unit", "in", "--unit", "mm"], ["--unit"]),
        (["about", "coaster", "--unit", "in", "--unit=in"], ["--unit"]),
        (["make", "coaster", "--scale", "2", "--hoop", "4x4in", "--scale", "3"], ["--scale"]),
        (["grade", "t.csv", *["--out", "a", "--jobs", "1"] * 3], ["--out", "--jobs"]),
        (["fit", "coaster", "--from", "4x4in", "--to", "5x7in", "--to", "8x8in"], ["--to"]),
    ],
)
def test_an_option_that_takes_one_value_is_given_once(words: list[str], twice: list[str]) -> None:
    ran = paramgen(*words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.endswith("Error: " + " ".join(f"{one} is given twice." for one in twice))


def test_an_option_without_a_value_may_be_given_again() -> None:
    words = ["check", "coaster", "--hoop", "130x180", "--no-turn", "--json"]
    again = paramgen(*words, "--json", "--no-turn")
    assert again == paramgen(*words)
    assert again.status == 0
    # So may one that takes several.
    held = paramgen("fit", "plant-tag", "--hold", "bank card", "--hold", "pasport")
    assert held.err == (
        "--hold: `pasport` is not a thing known here. Did you mean `passport`? "
        "Write any other as a size: 90x150mm or 3.5x6in."
    )
    # Help is given whatever else was typed.
    assert paramgen("about", "coaster", "--unit", "in", "--unit", "mm", "--help").status == 0


@pytest.mark.parametrize("command", ["make", "check"])
def test_a_recipe_file_that_is_wrong_is_told_with_its_lines(command: str, tmp_path: Path) -> None:
    recipe = tmp_path / "tag.toml"
    recipe.write_text('format = 1\ntitel = "Plant tag"\n')
    ran = paramgen(command, recipe, "--hoop", "130x180")
    assert (ran.status, ran.out) == (2, "")
    assert f"{recipe}: titel, line 2:" in ran.err
    assert "Did you mean `title`?" in ran.err


def test_a_persons_hoops_that_are_wrong_are_told_with_their_file(tmp_path: Path) -> None:
    own = tmp_path / "paramgen" / "hoops.toml"
    own.parent.mkdir()
    own.write_text('[[hoop]]\nname = "table"\nwidth = 0\nheight = 90\n')
    ran = paramgen(*MADE, settings=tmp_path)
    assert (ran.status, ran.out) == (2, "")
    assert f"{own}, hoop 1, key `width`: `0` is zero" in ran.err
