"""Where the reader's complaints stand, and with which keys, whatever words the language has."""

from typing import Annotated, Any, Literal

import pytest
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from paramgen.recipe.reader_faults import said


class Ring(BaseModel):
    """A shape with a key that is the word for the shape."""

    model_config = ConfigDict(extra="forbid")
    shape: Literal["ring"]
    ring: int


class Bar(BaseModel):
    """A shape that has a key in common with it."""

    model_config = ConfigDict(extra="forbid")
    shape: Literal["bar"]
    ring: str


class Leaves(BaseModel):
    """Shapes by name, as a recipe has its outlines."""

    leaves: dict[str, Annotated[Ring | Bar, Field(discriminator="shape")]]


def complaints(leaf: dict[str, Any]) -> list[tuple[tuple[str | int, ...], str, str]]:
    raw = {"leaves": {"leaf": leaf}}
    with pytest.raises(ValidationError) as caught:
        Leaves.model_validate(raw)
    return [said(dict(one), raw, Leaves) for one in caught.value.errors()]


def test_a_shape_may_have_a_key_that_is_the_word_for_it() -> None:
    (found,) = complaints({"shape": "ring", "ring": 3, "zzzzzzzz": 4})
    assert found == (
        ("leaves", "leaf", "zzzzzzzz"),
        "no key `zzzzzzzz` belongs here",
        "There are shape, ring.",
    )


def test_what_is_wrong_at_such_a_key_is_said_there() -> None:
    (found,) = complaints({"shape": "ring", "ring": []})
    assert found[0] == ("leaves", "leaf", "ring")


def test_a_key_that_another_shape_is_called_by_is_a_key() -> None:
    (found,) = complaints({"shape": "bar", "ring": 3})
    assert found[:2] == (("leaves", "leaf", "ring"), "a text in quotes is wanted")
