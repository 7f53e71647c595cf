"""Reading a file of hoops; apart from `hoops` because pydantic takes long to load."""

from pathlib import Path
from typing import Self

from pydantic import model_validator

from paramgen.lengths import as_typed
from paramgen.reference.hoops import Hoop, belies, hoop_key
from paramgen.reference.lists_file import ListEntry, ListKind, read_lists
from paramgen.vocabulary.findings import Fault


class _Entry(ListEntry):
    """A table `[[hoop]]`."""

    @model_validator(mode="after")
    def _named_for_its_size(self) -> Self:
        for name in (self.name, self.also):
            if belies(name, self.width, self.height):
                message = f"{as_typed(name)} reads as a size in mm that this hoop does not have."
                raise ValueError(Fault(message, hint="Inches in a name want `in` after them."))
        return self


def read_hoops(common: Path, extra: Path | None) -> tuple[Hoop, ...]:
    """Read the common hoops and after them a person's own; see `hoops.listed`."""
    entries = read_lists(ListKind("hoop", _Entry, hoop_key), common, extra)
    return tuple(Hoop(entry.name, entry.width, entry.height, entry.also) for entry in entries)
