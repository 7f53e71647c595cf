"""Reading a file of things to hold."""

from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import Any

from paramgen.lengths import as_typed, parse_length
from paramgen.reference.lists_file import ENTRY_NOTE, KEYS, ListKey, ListKind, read_lists
from paramgen.reference.things import Thing, belies_size, thing_key, too_thick
from paramgen.vocabulary.findings import Fault, InputError

_KEYS = (
    *KEYS,
    ListKey("thickness", partial(parse_length, zero=True), 0.0),
    ListKey("source", ENTRY_NOTE, "your own"),
    ListKey("words", ENTRY_NOTE, ""),
)


def read_things(common: Path, extra: Path | None) -> tuple[Thing, ...]:
    """Read the common things and after them a person's own; see `things.listed_things`."""
    return read_lists(ListKind("thing", _KEYS, _thing, thing_key), common, extra)


def _thing(values: Mapping[str, Any]) -> Thing:
    """A table `[[thing]]`."""
    thing = Thing(**{**values, "words": _words(values["words"])})
    if too_thick(thing.width, thing.height, thing.thickness):
        message = f"{as_typed(thing.name)} is thicker than it is wide or high."
        raise InputError([Fault(message, hint="Let the thickness be the least of the three.")])
    for name in (thing.name, thing.also):
        if belies_size(name, thing.width, thing.height):
            message = f"{as_typed(name)} reads as a size that this thing does not have."
            raise InputError([Fault(message, hint="Give it a name in words.")])
    return thing


def _words(text: str) -> tuple[str, ...]:
    """Words parted by commas."""
    return tuple(word for part in text.split(",") if (word := part.strip()))
