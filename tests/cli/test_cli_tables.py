"""Tables fit a terminal; what they say stays."""

import re

import pytest
import typer
from hypothesis import given
from hypothesis import strategies as st

from paramgen.cli.error_messages import busy, told
from paramgen.cli.exit_status import UNWRITTEN
from paramgen.cli.recipe_report import recipe_report
from paramgen.cli.text_tables import TABLE_WIDTH, WIDTH, indented, table
from paramgen.cli.thing_report import thing_report
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.reference.things import listed_things
from paramgen.vocabulary.findings import WriteError
from paramgen.vocabulary.unit import Unit

WORD = st.text("abcdefgh", min_size=1, max_size=9)
MEASURE = st.sampled_from(["4 1/2 in", "85.6 × 54 mm (3 3/8 × 2 1/8 in)", "12 mm", ""])
CELL = st.lists(WORD, max_size=25).map(" ".join) | MEASURE


def columns(text: str) -> list[list[str]]:
    """What stands under each part of the rule, line by line."""
    _, rule, *rest = text.splitlines()
    spans = [match.span() for match in re.finditer("-+", rule)]
    return [[line[start:end].strip() for line in rest] for start, end in spans]


@given(st.lists(st.lists(CELL, min_size=4, max_size=4), min_size=1, max_size=5))
def test_a_wide_table_is_wrapped_to_a_terminal_and_keeps_every_word(rows: list[list[str]]) -> None:
    text = table(("one", "two", "three", "four"), rows)
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH
    for place, lines in enumerate(columns(text)):
        assert " ".join(filter(None, lines)) == " ".join(filter(None, (row[place] for row in rows)))


@pytest.mark.parametrize("word", ["at", "tab", "fold", "cloth", "pocket", "outside"])
def test_a_measure_is_not_broken(word: str) -> None:
    cell = f"{word} 4 1/2 in " * 20
    for line in columns(table(("a", "b"), [(cell, cell)]))[0]:
        # A line may begin or end with the word, never within the measure.
        assert line.removeprefix(word).lstrip().startswith("4 1/2 in")
        assert line.removesuffix(word).rstrip().endswith("4 1/2 in")


def test_what_cannot_be_broken_stays_whole() -> None:
    long = "x" * (TABLE_WIDTH + 20)
    assert long in table(("a", "b"), [(long, "two words")])


@pytest.mark.parametrize("unit", Unit)
def test_no_line_of_a_recipe_or_of_the_things_is_wider_than_a_terminal(unit: Unit) -> None:
    texts = [recipe_report(find_recipe(name), unit) for name in listed()]
    texts.append(thing_report(listed_things(), unit))
    assert max(len(line) for text in texts for line in text.splitlines()) <= TABLE_WIDTH


def test_what_could_not_be_written_is_wrapped(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(typer.Exit) as problem, told():
        raise WriteError("the folder holds files that were not made by it " * 5)
    assert problem.value.exit_code == UNWRITTEN
    assert max(map(len, capsys.readouterr().err.splitlines())) <= TABLE_WIDTH


@pytest.mark.parametrize("looks_on", [True, False])
def test_only_a_person_who_looks_on_is_told_to_wait(
    looks_on: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: looks_on)
    busy("Trying sizes.")
    assert capsys.readouterr() == ("", "Trying sizes.\n" if looks_on else "")


def test_a_command_below_a_paragraph_stays_on_one_line() -> None:
    command = f"  mv {'long/' * 30}tags elsewhere"
    text = indented(f"{'many words ' * 20}\n{command}")
    assert text.splitlines()[-1] == command
    assert all(len(line) <= WIDTH for line in text.splitlines()[:-1])
