"""What a project holds is called by its own name, and has its own size."""

import json
import re
import shlex
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from command_line import paramgen
from folders import files_in

from paramgen.booklet.compose import facts
from paramgen.making import make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.sizing import size
from paramgen.vocabulary.unit import Unit


def plan_of(*words: str) -> Any:
    """The plan of a project that can be made."""
    ran = paramgen("check", *words, "--json")
    assert (ran.status, ran.err) == (0, ""), ran.out
    return json.loads(ran.out)["plan"]


def held(*words: str) -> tuple[str, list[float], float]:
    (one,) = plan_of(*words)["holds"]
    return one["title"], one["size"], one["thickness"]


POUCH = ("zip-pouch", "width=170", "height=130", "--hoop", "200x300")


@pytest.mark.parametrize(
    ("words", "found"),
    [
        # ISO/IEC 7810, ID-3: 125 × 88 mm; its thickness from memory.
        (("--holds", "passport"), ("passport", [125, 88], 3)),
        (("--holds", "Passports"), ("passport", [125, 88], 3)),
        # ISO/IEC 7810, ID-1: 85.60 × 53.98 × 0.76 mm; four in one pouch are 4 × 0.76 = 3.04.
        (("--holds", "4 bank cards"), ("bank card", [85.6, 53.98], 3.04)),
        (("--holds", "4 x 3 in"), ("thing", [101.6, 76.2], 0)),
        (("--holds", "passport", "packet_thickness=5mm"), ("passport", [125, 88], 5)),
        (
            ("--holds", "passport", "packet_width=126", "packet_height=89"),
            ("passport", [126, 89], 3),
        ),
        (
            ("--holds", "seed tin", "packet_width=90", "packet_height=60", "packet_thickness=20"),
            ("seed tin", [90, 60], 20),
        ),
    ],
)
def test_a_thing_that_is_known_brings_its_size_and_any_other_is_given_one(
    words: tuple[str, ...], found: tuple[str, list[float], float]
) -> None:
    assert held(*POUCH, *words) == found


def test_the_ease_stays_the_recipes_own() -> None:
    plain, named = plan_of(*POUCH), plan_of(*POUCH, "--holds", "passport")
    ease = {one["name"]: (one["value"], one["asked"]) for one in plain["lengths"]}["packet_ease"]
    assert ease == {one["name"]: (one["value"], one["asked"]) for one in named["lengths"]}[
        "packet_ease"
    ]  # fmt: skip


UNKNOWN = (
    "--holds: `dibber` is not a thing known here. Say how large it is too, with packet_width, "
    "packet_height and packet_thickness."
)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("fold-wallet", "--holds", "dibber"), UNKNOWN),
        (("fold-wallet", "--holds", "dibber", "packet_width=60"), UNKNOWN),
        (("fold-wallet", "--holds", "4 x 6"), "--holds: "),
        (
            ("fold-wallet", "--holds", "passport", "packet_width=60"),
            "packet_width: is asked for, and packet_height is not.",
        ),
        (
            ("fold-wallet", "--holds", "passport", "packet_height=60"),
            "packet_height: is asked for, and packet_width is not.",
        ),
        (("coaster", "--holds", "passport"), "--holds: coaster holds nothing"),
        (("zip-pouch", "--holds", "a\nb"), "--holds: is more than one line."),
        (("zip-pouch", "--holds", "a\u202eb"), "--holds: holds a character that cannot be shown"),
    ],
)
def test_what_is_not_understood_is_told(words: tuple[str, ...], said: str) -> None:
    ran = paramgen("check", *words, "--hoop", "200x300")
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("--holds: ") <= 1


def test_a_fault_of_the_values_is_told_once() -> None:
    ran = paramgen("check", *POUCH, "allowance=wide", "--holds", "passport")
    assert ran.status == 2
    assert ran.err.count("allowance: ") == 1


WALLET = ("fold-wallet", "width=150", "height=240", "most_stagger=8", "--hoop", "200x300")
# Names in files and on the command line, which are for programs: `packet_width`, ids.
_NOT_READ = re.compile(r'packet_[a-z]+|"(?:name|thing)": "packet"|(?:id|href|labelledby)="[^"]*"')


def spoken(text: str) -> str:
    return _NOT_READ.sub("", text)


def test_no_paper_or_picture_speaks_of_a_seed_packet_where_something_else_is_held(
    tmp_path: Path,
) -> None:
    ran = paramgen("make", *WALLET, "pouch=long", "--holds", "bank card", "--files", "dst",
                   "--out", tmp_path / "made")  # fmt: skip
    assert ran.status == 0, ran.err
    texts = {
        name: spoken(data.decode())
        for name, data in files_in(tmp_path / "made").items()
        if name.endswith((".svg", ".html", ".json"))
    }
    for name, text in {**texts, "report": ran.out}.items():
        assert not re.search("packet|seed", text), name
    assert "4 × bank card" in texts["booklet.html"]


@pytest.mark.parametrize("pouch", ["short", "long"])
def test_the_steps_name_what_is_put_in(pouch: str) -> None:
    text = spoken(json.dumps(plan_of(*WALLET, f"pouch={pouch}", "--holds", "bank card")))
    assert not re.search("packet|seed", text)
    assert ("Put the banknotes into the pouch" in text) == (pouch == "long")
    assert "ill each of the 4 pockets (bank card)" in text


@pytest.mark.parametrize("hold", ["6 bank cards", "90x140x9mm"])
def test_what_fit_finds_is_made_for_just_that(hold: str) -> None:
    ran = paramgen("fit", "zip-pouch", "--hold", hold, "--hoop", "200x300")
    assert ran.status == 0
    command = shlex.split(ran.out.rpartition("To make it")[2])
    assert command[:2] == ["paramgen", "make"]
    title, wanted, _ = held(*command[2:])
    assert (title, *sorted(wanted)) == {
        "6 bank cards": ("bank card", 53.98, 85.6),  # ISO/IEC 7810, ID-1
        "90x140x9mm": ("thing", 90, 140),
    }[hold]


@pytest.mark.parametrize(
    ("recipe", "thing", "said"),
    [
        # Two at most in each of four pockets, 0.76 mm each (ISO/IEC 7810); all in one pouch.
        ("fold-wallet", "6 bank cards", "in each of 4 pockets"),
        ("zip-pouch", "6 bank cards", "together"),
        ("zip-pouch", "2 passports", "together"),
    ],
)
def test_as_many_as_were_asked_for_are_on_the_papers(recipe: str, thing: str, said: str) -> None:
    number, _, name = thing.partition(" ")
    ran = paramgen("fit", recipe, "--hold", thing, "--hoop", "200x300")
    words = shlex.split(ran.out.rpartition("To make it")[2])[2:]
    assert words[words.index("--holds") + 1] == f"{number} {name.removesuffix('s')}"
    held, wanted = dict(pairwise(words)), [word for word in words[1:] if "=" in word]
    typed = TypedRequest(recipe=words[0], values=wanted, holds=held["--holds"], hoop=held["--hoop"])
    said_of = dict(facts(make(asked(typed).order)))["Made to hold"]
    assert said_of.startswith(f"{number} × {name.removesuffix('s')}, each ")
    assert said_of.endswith(f"thick {said}")


def test_what_is_made_is_for_one_kind_of_thing() -> None:
    ran = paramgen("make", *POUCH, "--holds", "passport", "--holds", "phone")
    assert ran.status == 2
    assert "--holds is given twice" in ran.err
    assert "`paramgen fit RECIPE` takes --hold for each" in ran.err


@pytest.mark.parametrize(
    ("command", "typed", "meant"),
    [("make", "--hold", "--holds"), ("fit", "--holds", "--hold"), ("make", "--file", "--files")],
)
def test_an_option_of_the_same_word_is_meant(command: str, typed: str, meant: str) -> None:
    ran = paramgen(command, *POUCH, typed, "phone")
    assert ran.status == 2
    assert f"Did you mean `{meant}`?" in ran.err
    assert f"paramgen {command} zip-pouch" in ran.err
    assert f"{meant} phone" in ran.err


def test_a_table_has_a_column_for_it(tmp_path: Path) -> None:
    table = tmp_path / "set.csv"
    table.write_text(
        "recipe,name,holds,width,height\nzip-pouch,a,passport,170,130\nzip-pouch,,A6,190,140\n"
        "zip-pouch,c,dibber,170,130\n"
    )
    ran = paramgen(
        "grade", table, "--no-papers", "--files", "dst", "--jobs", "1", "--hoop", "200x300",
        "--out", tmp_path / "set",
    )  # fmt: skip
    assert "Row 4, c, was not made: holds: `dibber` is not a thing known here." in ran.err
    titles = {
        file.parent.name: json.loads(file.read_bytes())["holds"][0]["title"]
        for file in (tmp_path / "set").glob("*/plan.json")
    }
    assert titles == {"a": "passport", "zip-pouch-width-190-height-140-holds-a6": "A6"}


@pytest.mark.parametrize("name", ["fold-wallet", "zip-pouch", "plant-tag", "coaster"])
def test_a_recipe_names_what_it_holds_in_one_place(name: str) -> None:
    # Whatever an order cannot change says it without a name; sentences ask for the title.
    file = find_recipe(name).file
    means = [one.means for one in file.sizes.values()]
    means += [one.means for one in file.lengths.values()]
    means += [one.means for one in file.choices.values()]
    fixed = " ".join([file.title, file.summary, *means])
    for hold in file.holds.values():
        for word in hold.title.split():
            assert word not in fixed.split(), word


def test_a_sentence_says_the_title_that_was_given() -> None:
    recipe = find_recipe("fold-wallet")
    named = Recipe(
        name=recipe.name, source=recipe.source, file=recipe.file, held=(("packet", "phone"),)
    )
    titles = size(named, {}, unit=Unit.MM).speaker.titles
    assert dict(titles) == {"packet": "phone", "notes": "banknotes"}
