"""Recipes in which something is as small, as large or as deep as can be written."""

import time
from pathlib import Path

import pytest
from command_line import Ran, paramgen
from spoiled_text import changed

from paramgen.recipe.read_recipe import read_recipe
from paramgen.vocabulary.findings import InputError

SEAM = 'role = "seam"\nalong = "seam"\ngaps = [{ on = "flattest", length = "gap_length", '
SEAM += 'clear = "gap_clear" }]'


def check(recipe: Path, *words: str) -> Ran:
    return paramgen("check", recipe, "--hoop", "130x180", *words)


@pytest.mark.parametrize("role", ["seam", "placement"])
def test_a_line_whose_points_lie_in_one_place_is_refused(role: str, tmp_path: Path) -> None:
    points = 'points = [[["width - width", "0"], ["0", "0"]]]'
    ran = check(changed(tmp_path, {SEAM: f'role = "{role}"\n{points}'}))
    assert ran.status == 1
    said = "Line `seam`: its points lie in one place, so there is nothing to stitch."
    assert said in ran.err


@pytest.mark.parametrize("measure", ["allowance * 1e307", "allowance * 1e6", "sides * 1e300"])
def test_a_measure_in_a_sentence_is_no_larger_than_anything_else(
    measure: str, tmp_path: Path
) -> None:
    recipe = changed(tmp_path, {"Take off the tape.": f"Take off {{{measure}}} of tape."})
    ran = check(recipe)
    assert ran.status == 2
    assert f"`{measure}` gives" in ran.err
    assert "more than any project needs" in ran.err


def test_a_count_of_many_digits_is_refused(tmp_path: Path) -> None:
    ran = check(changed(tmp_path, {}), "outline=polygon", "sides=" + "1" * 400)
    assert ran.status == 2
    assert "is not a whole number from 3 to 12" in ran.err


@pytest.mark.parametrize(
    "line",
    [
        ".".join("a" * 1000) + " = 1",
        "[" + " . ".join(["pot"] * 30_000) + "]",
        "pot = { " + ".".join(['"a b"'] * 30_000) + " = 1 }",
        ".".join(["'a'", '"b"', "c"] * 10) + " = 1",
    ],
)
def test_a_key_of_many_names_is_refused_before_it_is_read(line: str) -> None:
    text = f"format = 1\n{line}\n"
    start = time.process_time()
    with pytest.raises(InputError) as refusal:
        read_recipe(text, name="mat", source="mat.toml")
    assert time.process_time() - start < 1  # it took minutes, and gigabytes
    (fault,) = refusal.value.faults
    assert (fault.line, "more than 20 names with dots" in fault.message) == (2, True)


@pytest.mark.parametrize(
    "line",
    ["a" * 490_000, '"' * 490_000, "a " * 245_000, "a." * 19 + " " * 490_000, "'.\"" * 160_000],
)
def test_no_line_takes_long_to_be_told_from_such_a_key(line: str) -> None:
    start = time.process_time()
    with pytest.raises(InputError):
        read_recipe(line, name="mat", source="mat.toml")
    assert time.process_time() - start < 2


def test_many_dots_that_are_no_key_are_none(tmp_path: Path) -> None:
    said = "Take off the tape" + "... then look at it" * 10 + "."
    assert check(changed(tmp_path, {"Take off the tape.": said})).status == 0
