"""What is typed otherwise is answered with what is meant, and once."""

import json
import shlex
from pathlib import Path

import pytest
from command_line import paramgen
from hypothesis import given
from hypothesis import strategies as st

from paramgen.ordering.meant_words import paired
from paramgen.recipe.read_recipe import find_recipe

COASTER = find_recipe("coaster").file


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("width=5 in", ["width=5in"]),
        ("width=4 1/2 in", ["width=4 1/2in"]),
        ("width=4 1/2", ["width=4 1/2in"]),
        ("width= 5in", ["width=5in"]),
        ("width = 5in", ["width=5in"]),
        ("width =4 1/2 in", ["width=4 1/2in"]),
        ("width 5in", ["width=5in"]),
        ("5in", ["width=5in"]),
        ("120", ["width=120"]),
        ("4 1/2 x 7 in", ["width=4 1/2in", "height=7in"]),
        ("4x7in", ["width=4in", "height=7in"]),
        ("100 x 120", ["width=100", "height=120"]),
        ("100mm x 120mm", ["width=100mm", "height=120mm"]),
        ("hexagon", ["outline=polygon", "sides=6"]),
        ("round", ["outline=round"]),
        ("height 5 in", ["height=5in"]),
    ],
)
def test_words_that_fell_apart_are_put_together_and_told_once(typed: str, meant: list[str]) -> None:
    found, faults = paired(typed.split(), COASTER)
    assert found == meant
    (fault,) = faults
    assert fault.message == f"I do not know what `{typed}` is for"
    # What is offered is one word in a shell each.
    _, _, offered = fault.hint.partition("in quotes: ")
    assert shlex.split(offered) == meant


def test_each_thing_that_fell_apart_is_told_for_itself() -> None:
    typed = ["width=4", "1/2", "in", "height", "4", "in", "outline=round", "pentagon"]
    found, faults = paired(typed, COASTER)
    assert found == [
        "width=4 1/2in",
        "height=4in",
        "outline=round",
        "outline=polygon",
        "sides=5",
    ]
    assert len(faults) == 3


def test_what_no_one_can_know_is_told_once_too() -> None:
    (fault,) = paired(["quite", "large"], COASTER)[1]
    assert fault.message == "I do not know what `quite large` is for"
    assert fault.hint.endswith('in quotes: "width=4 1/2in".')


@given(
    st.lists(
        st.tuples(st.sampled_from([*COASTER.sizes, *COASTER.lengths]), st.integers(1, 999)),
        unique_by=lambda one: one[0],
    )
)
def test_what_is_typed_well_stays(pairs: list[tuple[str, int]]) -> None:
    words = [f"{name}={value}mm" for name, value in pairs]
    assert paired(words, COASTER) == (words, [])


def test_what_fell_apart_brings_no_other_fault_with_it() -> None:
    # A width of 5 mm would be outside the limits: it is not what was meant.
    ran = paramgen("check", "coaster", "width=5", "in", "--hoop", "130x180")
    assert ran.status == 2
    assert ran.err.count("width") == 2
    assert "outside" not in ran.err


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("hexagon", "outline=polygon sides=6"),
        ("circle", "outline=round"),
        ("octagon", "outline=polygon sides=8"),
        ("Ellipse", "outline=oval"),
    ],
)
def test_a_shape_by_another_name_leads_to_what_there_is(word: str, meant: str) -> None:
    ran = paramgen("check", "coaster", f"outline={word}", "--hoop", "130x180")
    assert ran.status == 2
    assert f"Write {meant}." in ran.err
    made = paramgen("check", "coaster", *meant.split(), "width=90", "--hoop", "130x180")
    assert made.status == 0


def test_a_shape_that_there_is_not_leads_to_those_there_are() -> None:
    ran = paramgen("check", "coaster", "outline=heart", "--hoop", "130x180")
    assert "`heart` is not one of square, rectangle, rounded, round, oval, polygon" in ran.err
    ran = paramgen("check", "coaster", "shape=heart", "--hoop", "130x180")
    assert "There are width, height, sides, outline, padding" in ran.err


@pytest.mark.parametrize(
    ("recipe", "typed", "meant"),
    [
        ("coaster", "shape=circle", "outline=round"),
        ("zip-pouch", "edges=rounded", "corners=rounded"),
    ],
)
def test_an_option_beside_another_name_leads_to_its_own(
    recipe: str, typed: str, meant: str
) -> None:
    ran = paramgen("check", recipe, typed, "--hoop", "130x180")
    assert f"Did you mean `{meant}`?" in ran.err


def test_a_plain_number_that_would_do_in_inches_is_told_to_be_millimetres() -> None:
    for hoop in ("130x180", "5x7in"):
        ran = paramgen("check", "coaster", "width=4", "--hoop", hoop)
        said = "A plain number is millimetres. Are inches meant? Then write width=4in."
        assert said in ran.err
    # 1000 mm are too large, and 1000 in too.
    ran = paramgen("check", "coaster", "width=1000", "--hoop", "5x7in")
    assert ran.err.endswith("A plain number is millimetres.")


@pytest.mark.parametrize(
    ("typed", "said", "meant"),
    [
        (
            "check coaster --width 5in --hoop 5x7in",
            "--width: sizes and choices are written without dashes",
            "check coaster width=5in --hoop 5x7in",
        ),
        (
            "check coaster --gap-most=60mm --outline round --hoop 5x7in",
            "--gap-most, --outline: sizes and choices are written without dashes",
            "check coaster gap_most=60mm outline=round --hoop 5x7in",
        ),
        (
            "make zip-pouch --hold passport --hoop 5x7in --out new",
            "--hold: `make` has no such option. Did you mean `--holds`? `fit` has `--hold`.",
            "make zip-pouch --holds passport --hoop 5x7in --out new",
        ),
        (
            "make coaster --near 5x8in --hoop 5x7in",
            "--near: `make` has no such option; `fit` has it",
            "fit coaster --near 5x8in --hoop 5x7in",
        ),
        (
            "check coaster --from 5x7in --to 4x4in",
            "--from, --to: `check` has no such option; `fit` has it",
            "fit coaster --from 5x7in --to 4x4in",
        ),
        (
            "make coaster --width 4in --largest height --hoop 5x7in",
            "--width: sizes and choices are written without dashes",
            "fit coaster width=4in --largest height --hoop 5x7in",
        ),
        (
            "check coaster --out new --hoop 5x7in",
            "--out: `check` has no such option; `make`, `grade` have it",
            "make coaster --out new --hoop 5x7in",
        ),
    ],
)
def test_options_of_another_command_and_sizes_as_options_lead_there(
    typed: str, said: str, meant: str
) -> None:
    ran = paramgen(*typed.split())
    assert ran.status == 2
    assert ran.out == ""
    assert ran.err.startswith(said)
    assert ran.err.endswith(f"What is meant, perhaps paramgen {meant}")


def test_what_no_command_has_names_what_is_near() -> None:
    ran = paramgen("make", "coaster", "--widht", "5in", "--hop", "5x7in", "--quite")
    assert ran.status == 2
    assert "--widht: `make` has no such option. Did you mean `width=...`?" in ran.err
    assert "--hop: `make` has no such option. Did you mean `--hoop`?" in ran.err
    assert "--quite: `make` has no such option." in ran.err
    assert "perhaps" not in ran.err


def test_a_plain_number_beside_inches_is_told_once_to_be_millimetres(tmp_path: Path) -> None:
    words = ("coaster", "width=4in", "height=100", "allowance=12", "--hoop", "5x7in")
    ran = paramgen("check", *words)
    assert ran.status == 0
    # 100 / 25.4 = 3.937, 3 15/16 in to the sixteenth; 12 / 25.4 = 0.472, 1/2 in.
    said = (
        "A plain number is millimetres: height=100 and allowance=12 were read so. In inches: "
        '"height=3 15/16in" allowance=1/2in'
    )
    assert ran.err.count("A plain number is millimetres") == 1
    assert said in ran.err
    assert said in paramgen("fit", *words, "--largest").err
    made = paramgen("make", *words, "--no-papers", "--out", tmp_path / "mat")
    assert made.status == 0
    assert said in made.err


def test_what_would_do_in_inches_too_is_told_so() -> None:
    # The recipe takes from 0 to 80 mm of ease: 2 mm, and 2 in = 50.8 mm, are both within.
    words = ("fold-wallet", "width=5in", "height=6 3/4in", "packet_ease=2", "--hoop", "6x10in")
    ran = paramgen("check", *words)
    assert "In inches: packet_ease=1/16in. Are inches meant? Then write packet_ease=2in." in ran.err


@pytest.mark.parametrize(
    "words",
    [
        ("width=100", "height=100mm", "--hoop", "130x180"),
        ("width=4in", "height=100mm", "outline=rectangle", "--hoop", "5x7in"),
        ("width=4in", "--hoop", "130x180"),
    ],
)
def test_nothing_is_said_of_plain_numbers_where_all_is_plain(words: tuple[str, ...]) -> None:
    ran = paramgen("check", "coaster", *words)
    assert ran.status == 0
    assert "plain number" not in ran.err + ran.out


def test_json_has_no_note_in_it() -> None:
    ran = paramgen("check", "coaster", "width=4in", "height=100", "--hoop", "5x7in", "--json")
    assert json.loads(ran.out)["can_be_made"]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("hoop=5x7in", "--hoop 5x7in"),
        ("title=Pot mat", '--title "Pot mat"'),
        ("copies=2", "--copies 2"),
    ],
)
def test_an_option_that_is_typed_as_a_value_is_told(typed: str, meant: str) -> None:
    ran = paramgen("check", "coaster", typed, "--hoop", "130x180")
    assert ran.status == 2
    assert ran.err == f"{typed.partition('=')[0]}: is an option. Write {meant}."


def test_a_recipe_is_found_however_its_name_is_written() -> None:
    assert paramgen("about", "Coaster") == paramgen("about", "coaster")
