"""Sentences with fields: `{has}`, `{has:up}`, and in square brackets what may be left out."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True)
class Field:
    """A place for a fact.

    Parameters
    ----------
    name : str
        The fact's.
    form : str
        How it is shown there; empty for the usual way.
    """

    name: str
    form: str = ""


@dataclass(frozen=True)
class Optional:
    """What is said only where all its facts are known."""

    parts: "tuple[str | Field, ...]"


#: A sentence in parts, in order.
Template = tuple[str | Field | Optional, ...]

_FIELD = re.compile(r"\{(\w+)(?::([^{}]+))?\}")
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")


@lru_cache(maxsize=1000)
def template(text: str) -> Template:
    """Read a sentence.

    >>> template("it is {has:up} long[, {thick} thick]")
    ('it is ', Field(name='has', form='up'), ' long', Optional(parts=(', ', Field(name='thick', \
form=''), ' thick')))
    """
    return tuple(_read(text))


def fields(parts: Template) -> Iterator[tuple[Field, bool]]:
    """Every field of a sentence, and whether it must be given."""
    for part in parts:
        if isinstance(part, Field):
            yield part, True
        elif isinstance(part, Optional):
            yield from ((one, False) for one in part.parts if isinstance(one, Field))


def _read(text: str) -> Iterator[str | Field | Optional]:
    for index, bit in enumerate(_OPTIONAL.split(text)):
        if index % 2:
            yield Optional(tuple(_plain(bit)))
        else:
            yield from _plain(bit)


def _plain(text: str) -> Iterator[str | Field]:
    at = 0
    for found in _FIELD.finditer(text):
        if found.start() > at:
            yield text[at : found.start()]
        yield Field(found[1], found[2] or "")
        at = found.end()
    if at < len(text):
        yield text[at:]
