"""Reading a file of hoops; apart from `hoops` because pydantic takes long to load."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    PlainValidator,
    ValidationError,
    model_validator,
)
from pydantic_core import ErrorDetails

from paramgen.findings import Fault, InputError
from paramgen.lengths import LONGEST_TEXT, as_typed, parse_length
from paramgen.nearest import did_you_mean
from paramgen.reference.hoops import Hoop, belies


@dataclass(frozen=True)
class Found:
    """What a file of hoops holds.

    Parameters
    ----------
    hoops : tuple of Hoop
        Empty if there is any fault.
    names : tuple of (where, name)
        Every name in the file, of faulty hoops too, and where it stands.
    faults : tuple of Fault
    """

    hoops: tuple[Hoop, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    faults: tuple[Fault, ...] = ()


def read(file: Path, *, optional: bool = False) -> Found:
    """Read a file of hoops with all its faults.

    Parameters
    ----------
    file : Path
    optional : bool
        Whether a file that is not there is a file without hoops.
    """
    try:
        data = _toml(file)
    except InputError as error:
        return Found(faults=error.faults)
    except (FileNotFoundError, NotADirectoryError):
        missing = Fault("there is no such file.", str(file))
        return Found(faults=() if optional else (missing,))
    names = _names(file, data)
    try:
        entries = _File.model_validate(data).hoop
    except ValidationError as error:
        faults = (_fault(file, detail) for detail in error.errors(include_url=False))
        return Found((), names, tuple(faults))
    hoops = (Hoop(entry.name, entry.width, entry.height, entry.also) for entry in entries)
    return Found(tuple(hoops), names)


def _toml(file: Path) -> dict[str, Any]:
    line = None
    try:
        return tomllib.loads(file.read_bytes().decode("utf-8-sig"))
    except (FileNotFoundError, NotADirectoryError):
        raise
    except OSError as error:
        message = f"cannot be read: {error.strerror}."
    except UnicodeDecodeError:
        message = "is not text in UTF-8."
    except RecursionError:
        message = "holds lists within lists too deep to read."
    except ValueError as error:
        message = f"is not TOML: {error}."
        # The reader ends its message with `(at line 3, column 7)`.
        found = re.search(r"at line (\d+)", str(error))
        line = int(found[1]) if found else None
    raise InputError([Fault(message, str(file), line)])


def _length(value: object) -> float:
    try:
        return parse_length(value)
    except InputError as error:
        raise ValueError(error.faults[0]) from None


def _printable(name: str) -> str:
    if not name.strip() or not name.isprintable() or len(name) > LONGEST_TEXT:
        message = (
            f"{as_typed(name)} is not a name: it takes 1 to {LONGEST_TEXT} printed characters."
        )
        raise ValueError(Fault(message))
    return name.strip()


_Name = Annotated[str, AfterValidator(_printable)]
_Length = Annotated[float, PlainValidator(_length)]


class _Entry(BaseModel):
    """A table `[[hoop]]`."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: _Name
    also: _Name = ""
    width: _Length
    height: _Length

    @model_validator(mode="after")
    def _named_for_its_size(self) -> Self:
        for name in (self.name, self.also):
            if belies(name, self.width, self.height):
                message = f"{as_typed(name)} reads as a size in mm that this hoop does not have."
                raise ValueError(Fault(message, hint="Inches in a name want `in` after them."))
        return self


class _File(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)

    hoop: list[_Entry] = []


def _names(file: Path, data: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    tables = data.get("hoop")
    return tuple(
        (_where(file, ("hoop", index, key)), table[key])
        for index, table in enumerate(tables if isinstance(tables, list) else ())
        for key in ("name", "also")
        if isinstance(table, dict) and isinstance(table.get(key), str)
    )


def _where(file: Path, at: tuple[str | int, ...]) -> str:
    """Say where in the file, as in "hoops.toml, hoop 2, key `width`"."""
    if len(at) == 1:
        return f"{file}, key {as_typed(at[0])}"
    hoop = f"{file}, hoop {int(at[1]) + 1}"
    return hoop if len(at) == 2 else f"{hoop}, key {as_typed(at[2])}"


def _fault(file: Path, detail: ErrorDetails) -> Fault:
    """Say what pydantic found in the words of the file."""
    where, kind = _where(file, detail["loc"]), detail["type"]
    if kind == "value_error":
        fault: Fault = detail["ctx"]["error"].args[0]
        return replace(fault, where=where)
    if kind == "extra_forbidden":
        keys = list((_File if len(detail["loc"]) == 1 else _Entry).model_fields)
        hint = did_you_mean(str(detail["loc"][-1]), keys) or f"Keys here: {', '.join(keys)}."
        return Fault("there is no such key.", where, hint=hint)
    message, hint = {
        "missing": ("this key is missing.", ""),
        "string_type": ("a name is a text.", "Put it in quotes."),
        "list_type": ("hoops are a list of tables.", "Head each one [[hoop]]."),
        "model_type": ("a hoop is a table.", "Head each one [[hoop]]."),
    }[kind]
    return Fault(message, where, hint=hint)
