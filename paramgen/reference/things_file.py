"""Reading a file of things to hold; apart from `things` because pydantic takes long to load."""

from pathlib import Path
from typing import Annotated, Self

from pydantic import PlainValidator, model_validator

from paramgen.lengths import as_typed, parse_length
from paramgen.reference.lists_file import EntryNote, ListEntry, ListKind, read_lists
from paramgen.reference.things import Thing, belies_size, thing_key, too_thick
from paramgen.vocabulary.findings import Fault, InputError


def _thickness(value: object) -> float:
    try:
        return parse_length(value, zero=True)
    except InputError as error:
        raise ValueError(error.faults[0]) from None


class _Entry(ListEntry):
    """A table `[[thing]]`."""

    thickness: Annotated[float, PlainValidator(_thickness)] = 0.0
    source: EntryNote = "your own"
    words: EntryNote | None = None

    @model_validator(mode="after")
    def _flat(self) -> Self:
        if too_thick(self.width, self.height, self.thickness):
            message = f"{as_typed(self.name)} is thicker than it is wide or high."
            raise ValueError(Fault(message, hint="Let the thickness be the least of the three."))
        return self

    @model_validator(mode="after")
    def _named_for_its_size(self) -> Self:
        for name in (self.name, self.also):
            if belies_size(name, self.width, self.height):
                message = f"{as_typed(name)} reads as a size that this thing does not have."
                raise ValueError(Fault(message, hint="Give it a name in words."))
        return self


def read_things(common: Path, extra: Path | None) -> tuple[Thing, ...]:
    """Read the common things and after them a person's own; see `things.listed_things`."""
    entries = read_lists(ListKind("thing", _Entry, thing_key), common, extra)
    return tuple(
        Thing(
            name=one.name,
            width=one.width,
            height=one.height,
            thickness=one.thickness,
            also=one.also,
            source=one.source,
            words=_words(one),
        )
        for one in entries
    )


def _words(entry: _Entry) -> tuple[str, ...]:
    """Words parted by commas."""
    return tuple(word for part in (entry.words or "").split(",") if (word := part.strip()))
