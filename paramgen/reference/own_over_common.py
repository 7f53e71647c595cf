"""Tables of numbers that come with the program, and what a person says anew in a file of theirs."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from paramgen.installed import shared
from paramgen.reference.lists_file import read_toml
from paramgen.reference.own_folder import own
from paramgen.vocabulary.findings import Fault, InputError

_Table = TypeVar("_Table", bound=BaseModel)


def over_common(name: str, model: type[_Table], file: Path | None = None) -> _Table:
    """The table that comes with the program, and over it a person's own, key by key.

    Parameters
    ----------
    name : str
        Of the file, in `shared/` and in the folder of the person's settings.
    model : type of BaseModel
        What may stand in it.
    file : Path or None
        A person's own; in the usual place if None.

    Raises
    ------
    InputError
        With every fault of the file: what it says that is not known, or is out of its limits.
    """
    there = file or own(name)
    try:
        mine = read_toml(there)
    except (FileNotFoundError, NotADirectoryError):
        mine = {}
    try:
        return model.model_validate(_over(_common(name), mine))
    except ValidationError as problem:
        raise InputError(_fault(there, error) for error in problem.errors()) from None


def common(name: str, model: type[_Table]) -> _Table:
    """The table that comes with the program."""
    return model.model_validate(_common(name))


def _common(name: str) -> dict[str, Any]:
    return tomllib.loads((shared() / name).read_text("utf-8"))


def _over(common: Mapping[str, Any], mine: Mapping[str, Any]) -> dict[str, Any]:
    """One table over another, table by table."""
    found = dict(common)
    for key, value in mine.items():
        under = found.get(key)
        both = isinstance(value, Mapping) and isinstance(under, Mapping)
        found[key] = _over(under, value) if both and isinstance(under, Mapping) else value
    return found


def _fault(file: Path, error: Mapping[str, Any]) -> Fault:
    where = ".".join(str(one) for one in error["loc"])
    text = str(error["msg"]).removeprefix("Value error, ")
    return Fault(f"{where + ': ' if where else ''}{text}", str(file))
