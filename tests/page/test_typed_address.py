"""The address holds all that was asked, as it was typed."""

from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from prints import seedling, written

from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.desk import desk
from paramgen.page.typed_address import FLAGS, MOST_LETTERS, TEXTS, address_of, asked_in
from paramgen.vocabulary.findings import InputError

NAMES = st.from_regex(r"[a-z][a-z_]{0,12}", fullmatch=True)
TYPED = st.text(st.characters(codec="utf-8"), min_size=1, max_size=20).filter(str.strip)
REQUESTS = st.builds(
    TypedRequest,
    recipe=TYPED,
    values=st.dictionaries(NAMES, TYPED, max_size=5).map(
        lambda values: tuple(f"{name}={value}" for name, value in values.items())
    ),
    hoop=TYPED,
    more_hoops=st.lists(TYPED, max_size=3).map(tuple),
    cloths=st.lists(TYPED, max_size=3).map(tuple),
    unit=st.sampled_from(["", "mm", "in"]),
    copies=st.sampled_from(["", "4", "most"]),
    title=TYPED,
    may_turn=st.booleans(),
    singly=st.booleans(),
    whole_pieces=st.booleans(),
)


@given(REQUESTS)
def test_what_is_written_is_read_back(words: TypedRequest) -> None:
    found = asked_in(address_of(words))
    assert (found.words, found.faults) == (words, ())


def test_every_word_that_can_be_typed_can_stand_in_an_address() -> None:
    # `usual_unit` is what a person said once; it is filled in from their settings.
    apart = {"values", "hoop", "more_hoops", "may_turn", "whole_pieces", "singly", "usual_unit"}
    apart |= {"cloths"}  # one entry for each
    assert {one.name for one in fields(TypedRequest)} - apart == set(TEXTS) - {"hoop"}
    assert set(FLAGS) == {"upright", "whole_pieces", "singly"}


@pytest.mark.parametrize(
    ("query", "where", "hint"),
    [
        ("recipe=coaster&hop=5x7in", "hop", "Did you mean `hoop`?"),
        ("recipe=coaster&recipe=tag", "recipe", ""),
        ("my.width=4in&my.width=5in", "width", ""),
        ("my.=4in", "my.", "There"),
    ],
)
def test_what_is_not_known_is_named(query: str, where: str, hint: str) -> None:
    (fault,) = asked_in(query).faults
    assert fault.where == where
    assert fault.hint.startswith(hint) or hint == "There"


@given(st.text(max_size=200))
def test_any_text_is_read_as_an_address_without_a_traceback(query: str) -> None:
    asked_in(query)


def test_an_address_without_end_is_not_read() -> None:
    assert asked_in("my.a=1&" * MOST_LETTERS).faults[0].message == "the address is too long"
    assert asked_in("a&" * 3000).faults[0].message == "the address has too many entries"


def test_a_colour_of_a_fabric_stands_in_an_address_and_a_picture_is_never_read(
    tmp_path: Path,
) -> None:
    table = desk({})
    asks = "recipe=coaster&hoop=5x7in&cloth=top%3Dteal&cloth=back%3D%23123456"
    cloths = table.understood(asks).cloths
    assert {role: one.colour for role, one in cloths.items()} == {
        "top": "#008080",  # CSS Color Module Level 4, section 6.1
        "back": "#123456",
    }
    file = tmp_path / "leaves.png"
    file.write_bytes(written(seedling()))
    with pytest.raises(InputError, match="no picture of that name was given to the page"):
        table.understood(f"recipe=coaster&hoop=5x7in&cloth=top%3D{file}")
