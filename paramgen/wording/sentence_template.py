"""Sentences with fields: `{has}`, `{has:up}`, and in square brackets what may be left out."""

import re
from collections.abc import Iterator
from functools import lru_cache

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class Slot:
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
class IfKnown:
    """What is said only where all its facts are known."""

    parts: "tuple[str | Slot, ...]"


#: A sentence in parts, in order.
SentenceTemplate = tuple[str | Slot | IfKnown, ...]

_FIELD = re.compile(r"\{(\w+)(?::([^{}]+))?\}")
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")


@lru_cache(maxsize=1000)
def template(text: str) -> SentenceTemplate:
    """Read a sentence.

    >>> template("it is {has:up} long[, {thick} thick]")
    ('it is ', Slot(name='has', form='up'), ' long', IfKnown(parts=(', ', Slot(name='thick', \
form=''), ' thick')))
    """
    return tuple(_read(text))


def fields(parts: SentenceTemplate) -> Iterator[tuple[Slot, bool]]:
    """Every field of a sentence, and whether it must be given."""
    for part in parts:
        if isinstance(part, Slot):
            yield part, True
        elif isinstance(part, IfKnown):
            yield from ((one, False) for one in part.parts if isinstance(one, Slot))


def _read(text: str) -> Iterator[str | Slot | IfKnown]:
    for index, bit in enumerate(_OPTIONAL.split(text)):
        if index % 2:
            yield IfKnown(tuple(_plain(bit)))
        else:
            yield from _plain(bit)


def _plain(text: str) -> Iterator[str | Slot]:
    at = 0
    for found in _FIELD.finditer(text):
        if found.start() > at:
            yield text[at : found.start()]
        yield Slot(found[1], found[2] or "")
        at = found.end()
    if at < len(text):
        yield text[at:]
