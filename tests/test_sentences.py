"""Filling in a recipe's sentences."""

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from paramgen.lengths import parse_length
from paramgen.recipe.arithmetic import FormulaError
from paramgen.recipe.terms import Sentence, SentenceTerm
from paramgen.sentences import Speaker
from paramgen.vocabulary.unit import Unit

NAMES: Mapping[str, Any] = {
    "edge": 6.0,
    "width": 114.3,
    "gap": 0.0,
    "pockets": 2,
    "closing": "snap",
    "depth": {1: 42.0, 2: 84.0},
    "k": 2,
}
READER: TypeAdapter[Sentence] = TypeAdapter(SentenceTerm)


def say(
    text: str,
    names: Mapping[str, Any] = NAMES,
    *,
    unit: Unit = Unit.MM,
    turned: bool = False,
    index: str = "",
    from_back: bool = False,
) -> str:
    titles = {"packet": "seed packet", "pocket-2": "{edge}"}
    speaker = Speaker(unit, frozenset({"pockets"}), turned, titles=titles)
    return speaker.say(READER.validate_python(text), names, index, from_back=from_back)


def test_what_is_held_is_called_by_its_title_whatever_that_is() -> None:
    assert say("Put the {title of packet} in.") == "Put the seed packet in."
    assert say("{ title  of pocket-2 }, {edge}") == "{edge}, 6 mm (1/4 in)"


@pytest.mark.parametrize(
    ("text", "metric", "inches"),
    [
        # 6 / 25.4 · 16 = 3.8, so 4/16 = 1/4 in; 114.3 = 4.5 · 25.4; 84 / 25.4 · 16 = 52.9,
        # so 53/16 = 3 5/16 in; 2 · 114.3 = 228.6 = 9 · 25.4.
        ("Lay it {edge} out.", "Lay it 6 mm (1/4 in) out.", "Lay it 1/4 in (6 mm) out."),
        ("{width}", "114.3 mm (4 1/2 in)", "4 1/2 in (114.3 mm)"),
        ("{2 * width}", "228.6 mm (9 in)", "9 in (228.6 mm)"),
        ("{depth[k]}", "84 mm (3 5/16 in)", "3 5/16 in (84 mm)"),
        ("{gap}", "0 mm (0 in)", "0 in (0 mm)"),
        ("{edge}{edge}", "6 mm (1/4 in)6 mm (1/4 in)", "1/4 in (6 mm)1/4 in (6 mm)"),
    ],
)
def test_a_length_is_shown_in_the_persons_unit_and_the_other(
    text: str, metric: str, inches: str
) -> None:
    assert say(text, unit=Unit.MM) == metric
    assert say(text, unit=Unit.INCH) == inches


@pytest.mark.parametrize(
    ("one", "other", "inches", "metric"),
    [
        # 4 / 25.4 · 16 = 2.5 and 5 / 25.4 · 16 = 3.1 are both 3/16; of 32nds they are 5 and 6.3.
        (4.0, 5.0, "5/32 in (4 mm), 3/16 in (5 mm)", "4 mm (3/16 in), 5 mm (3/16 in)"),
        # What no ruler tells apart, less than 1/64 in (0.397 mm), may read alike.
        (4.9, 5.0, "3/16 in (4.9 mm), 3/16 in (5 mm)", "4.9 mm (3/16 in), 5 mm (3/16 in)"),
        (5.0, 5.04, "3/16 in (5 mm), 3/16 in (5 mm)", "5 mm (3/16 in), 5 mm (3/16 in)"),
    ],
)
def test_lengths_of_one_sentence_read_differently_where_a_ruler_tells_them_apart(
    one: float, other: float, inches: str, metric: str
) -> None:
    names = {"one": one, "other": other}
    assert say("{one}, {other}", names, unit=Unit.INCH) == inches
    assert say("{one}, {other}", names, unit=Unit.MM) == metric


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Nothing to fill in: 10 % off, 3:1", "Nothing to fill in: 10 % off, 3:1"),
        ("{pockets} pockets", "2 pockets"),
        ("{ pockets + 1 } and {pockets / 4}", "3 and 0.5"),
        ("pocket {k}", "pocket 2"),
        ("{k} of {pockets}, {k * edge} down", "2 of 2, 12 mm (1/2 in) down"),
        ("the {closing}", "the snap"),
        ("{'long' if width > 100 else 'short'} strap", "long strap"),
        ("Füße, ½, «{pockets}»", "Füße, ½, «2»"),
    ],
)
def test_counts_and_choices_are_shown_as_they_are(text: str, said: str) -> None:
    assert say(text, index="k") == said


def test_an_index_is_a_plain_number_only_where_it_counts() -> None:
    assert say("{k}", index="") == "2 mm (1/16 in)"  # 2 / 25.4 · 16 = 1.3


@pytest.mark.parametrize(
    ("text", "lies", "turned"),
    [
        ("{top}", "top", "right"),
        ("{right}", "right", "bottom"),
        ("{bottom}", "bottom", "left"),
        ("{ left }", "left", "top"),
    ],
)
def test_an_edge_is_called_as_it_lies_in_the_hoop(text: str, lies: str, turned: str) -> None:
    # Turned by 90° clockwise the top comes to lie at the right.
    assert say(f"Tape the {text} edge.") == f"Tape the {lies} edge."
    assert say(f"Tape the {text} edge.", turned=True) == f"Tape the {turned} edge."


@pytest.mark.parametrize(
    ("text", "lies", "turned"),
    [
        ("{top}", "top", "left"),
        ("{right}", "left", "bottom"),
        ("{bottom}", "bottom", "right"),
        ("{left}", "right", "top"),
    ],
)
def test_seen_from_the_back_left_and_right_change_places(text: str, lies: str, turned: str) -> None:
    # Turned over like a page; turned by 90° as well, what was the top lies at the right first.
    assert say(text, from_back=True) == lies
    assert say(text, from_back=True, turned=True) == turned


def test_a_word_that_is_no_placeholder_does_not_turn() -> None:
    assert say("the top of the {top}", turned=True) == "the top of the right"


@pytest.mark.parametrize(
    ("text", "metric", "inches"),
    [
        # 6.04: 6.1 and 6 mm; 6.04 / 25.4 · 16 = 3.8, so 4/16 and 3/16 in.
        ("{edge + 0.04 : up}", "6.1 mm (1/4 in)", "1/4 in (6.4 mm)"),
        ("{edge + 0.04 : down}", "6 mm (1/4 in)", "3/16 in (4.8 mm)"),
        ("{width : up}", "114.3 mm (4 1/2 in)", "4 1/2 in (114.3 mm)"),
        ("{width : down}", "114.3 mm (4 1/2 in)", "4 1/2 in (114.3 mm)"),
        # 15 · 2 / 0.7 = 42.857; 42.857 / 25.4 · 16 = 26.996, so 27/16 in.
        ("{15 * pockets / 0.7 : up}", "42.9 mm (1 11/16 in)", "1 11/16 in (42.9 mm)"),
    ],
)
def test_a_remedy_rounds_to_the_safe_side(text: str, metric: str, inches: str) -> None:
    assert say(text, unit=Unit.MM) == metric
    assert say(text, unit=Unit.INCH) == inches


@given(st.floats(1.6, 1990), st.sampled_from(list(Unit)))
def test_what_a_remedy_shows_is_enough_when_typed(mm: float, unit: Unit) -> None:
    for rounding, safe in (("up", 1), ("down", -1)):
        typed = parse_length(say(f"{{mm : {rounding}}}", {"mm": mm}, unit=unit).split(" (")[0])
        past = (typed - mm) * safe
        assert -1e-5 <= past <= (0.1 if unit is Unit.MM else 25.4 / 16) + 1e-5


def test_a_sum_that_fails_is_not_said() -> None:
    with pytest.raises(FormulaError, match="`width / gap` divides by zero"):
        say("{width / gap}")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "a text is wanted"),
        (" ", "a text is wanted"),
        (5, "a text is wanted"),
        ("{", "a brace without its partner"),
        ("}", "a brace without its partner"),
        ("{a{b}", "a brace without its partner"),
        ("{{a}}", "a brace without its partner"),
        ("{a : nearest}", "`nearest` after a colon: only up or down can stand there"),
        ("{a : up : down}", "`up : down` after a colon: only up or down can stand there"),
        ("{}", "a formula is wanted, this is empty"),
        ("{: up}", "a formula is wanted, this is empty"),
        ("{a b}", "`a b` is not arithmetic"),
    ],
)
def test_a_sentence_that_cannot_be_filled_in_is_refused(text: object, message: str) -> None:
    with pytest.raises(ValidationError) as refusal:
        READER.validate_python(text)
    assert str(refusal.value.errors()[0]["ctx"]["error"]) == message


@given(st.text() | st.text("{}:ab up+1'", max_size=20))
def test_any_text_is_a_sentence_or_refused_and_keeps_what_is_outside_braces(text: str) -> None:
    try:
        said = say(text, {"a": 1.0, "b": 2.0, "u": 1.0, "p": 3.0})
    except (ValidationError, FormulaError):
        return
    assert said.startswith(text.partition("{")[0])
    assert "{" not in said
    assert "}" not in said
