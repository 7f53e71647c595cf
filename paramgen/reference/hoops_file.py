"""Reading a file of hoops."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from paramgen.lengths import as_typed
from paramgen.reference.hoops import Hoop, belies, hoop_key
from paramgen.reference.lists_file import KEYS, ListKind, read_lists
from paramgen.vocabulary.findings import Fault, InputError


def read_hoops(common: Path, extra: Path | None) -> tuple[Hoop, ...]:
    """Read the common hoops and after them a person's own; see `hoops.listed`."""
    return read_lists(ListKind("hoop", KEYS, _hoop, hoop_key), common, extra)


def _hoop(values: Mapping[str, Any]) -> Hoop:
    """A table `[[hoop]]`."""
    hoop = Hoop(**values)
    for name in (hoop.name, hoop.also):
        if belies(name, hoop.width, hoop.height):
            message = f"{as_typed(name)} reads as a size in mm that this hoop does not have."
            raise InputError([Fault(message, hint="Inches in a name want `in` after them.")])
    return hoop
