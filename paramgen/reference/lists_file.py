"""Reading a file that is a list of named things with sizes; it gathers every fault."""

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Any, Generic, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    PlainValidator,
    TypeAdapter,
    ValidationError,
)
from pydantic_core import ErrorDetails

from paramgen.budget import MOST_BYTES_OF_A_LIST
from paramgen.lengths import LONGEST_TEXT, as_typed, parse_length
from paramgen.nearest_word import did_you_mean
from paramgen.reference.dotted import TOO_DOTTED, too_dotted
from paramgen.vocabulary.findings import Fault, InputError


def _length(value: object) -> float:
    try:
        return parse_length(value)
    except InputError as error:
        raise ValueError(error.faults[0]) from None


def _printable(what: str, most: int) -> AfterValidator:
    def check(text: str) -> str:
        if not text.strip() or not text.isprintable() or len(text) > most:
            message = f"{as_typed(text)} is not {what}: it takes 1 to {most} printed characters."
            raise ValueError(Fault(message))
        return text.strip()

    return AfterValidator(check)


EntryName = Annotated[str, _printable("a name", LONGEST_TEXT)]
EntryNote = Annotated[str, _printable("a note", 4 * LONGEST_TEXT)]
TypedLength = Annotated[float, PlainValidator(_length)]


class ListEntry(BaseModel):
    """One table of the list; a validator of its own raises `ValueError` with a `Fault`."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: EntryName
    also: EntryName = ""
    width: TypedLength
    height: TypedLength


E = TypeVar("E", bound=ListEntry)


@dataclass(frozen=True)
class ListKind(Generic[E]):
    """What a file lists.

    Parameters
    ----------
    key : str
        Head of each table, and the word for one of them; with an s, for several.
    entry : type of ListEntry
    same : callable
        Two names are the same if it makes the same text of them.
    """

    key: str
    entry: type[E]
    same: Callable[[str], str]


@dataclass(frozen=True)
class _Found(Generic[E]):
    """What a file holds: no entries if there is any fault, but every name, and where it stands."""

    entries: tuple[E, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    faults: tuple[Fault, ...] = ()


def read_lists(kind: ListKind[E], common: Path, extra: Path | None) -> tuple[E, ...]:
    """Read the common list and after it a person's own.

    Parameters
    ----------
    kind : ListKind
    common, extra : Path
        If the second is not there, or None, there are no more.

    Raises
    ------
    InputError
        With every fault of both files: file, key and the nearest valid key. No two entries
        may share a name, whichever file they are in.
    """
    found = [_read(kind, common, optional=False)]
    if extra is not None:
        found.append(_read(kind, extra, optional=True))
    faults = [fault for file in found for fault in file.faults]
    taken: dict[str, str] = {}
    for where, name in (pair for file in found for pair in file.names):
        if (same := kind.same(name)) in taken:
            message = f"{as_typed(name)} is already the name of a {kind.key} in {taken[same]}."
            faults.append(Fault(message, where, hint=f"Give every {kind.key} names of its own."))
        taken.setdefault(same, where)
    if faults:
        raise InputError(faults)
    return tuple(entry for file in found for entry in file.entries)


def _read(kind: ListKind[E], file: Path, *, optional: bool) -> _Found[E]:
    try:
        data = read_toml(file)
    except InputError as error:
        return _Found(faults=error.faults)
    except (FileNotFoundError, NotADirectoryError):
        missing = Fault("there is no such file.", str(file))
        return _Found(faults=() if optional else (missing,))
    names = tuple(_names(kind, file, data))
    faults = [_no_such_key(_where(kind, file, (key,)), key, [kind.key]) for key in data]
    faults = [fault for fault, key in zip(faults, data, strict=True) if key != kind.key]
    entries: list[E] = []
    try:
        entries = TypeAdapter(list[kind.entry]).validate_python(data.get(kind.key, []))  # type: ignore[name-defined]
    except ValidationError as error:
        faults += [_fault(kind, file, detail) for detail in error.errors(include_url=False)]
    return _Found(() if faults else tuple(entries), names, tuple(faults))


def read_toml(file: Path) -> dict[str, Any]:
    """Read a file of the person's; raises InputError, or OSError where there is none."""
    line = None
    try:
        text = _bytes(file).decode("utf-8-sig")
        if dotted := too_dotted(text):
            raise InputError([Fault(f"{TOO_DOTTED}.", str(file), dotted)])
        return tomllib.loads(text)
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


def _bytes(file: Path) -> bytes:
    """What a file holds, if it is one, and no longer than a list is."""
    if file.exists() and not file.is_file() and not file.is_dir():  # a pipe never ends
        raise InputError([Fault("this is not a file.", str(file))])
    with file.open("rb") as stream:
        data = stream.read(MOST_BYTES_OF_A_LIST + 1)
    if len(data) > MOST_BYTES_OF_A_LIST:
        most = f"{MOST_BYTES_OF_A_LIST // 1000} kB"
        hint = "Keep in it only what you use."
        raise InputError(
            [
                Fault(
                    f"this is too large to be a list: at most {most} are read.",
                    str(file),
                    hint=hint,
                )
            ]
        )
    return data


def _names(kind: ListKind[E], file: Path, data: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    tables = data.get(kind.key)
    for index, table in enumerate(tables if isinstance(tables, list) else ()):
        for key in ("name", "also"):
            if isinstance(table, dict) and isinstance(table.get(key), str):
                yield _where(kind, file, (kind.key, index, key)), table[key]


def _where(kind: ListKind[E], file: Path, at: tuple[str | int, ...]) -> str:
    """Say where in the file, as in "hoops.toml, hoop 2, key `width`"."""
    if len(at) == 1:
        return f"{file}, key {as_typed(at[0])}"
    entry = f"{file}, {kind.key} {int(at[1]) + 1}"
    return entry if len(at) == 2 else f"{entry}, key {as_typed(at[2])}"


def _no_such_key(where: str, key: str, keys: list[str]) -> Fault:
    hint = did_you_mean(key, keys) or f"Keys here: {', '.join(keys)}."
    return Fault("there is no such key.", where, hint=hint)


def _fault(kind: ListKind[E], file: Path, detail: ErrorDetails) -> Fault:
    """Say what pydantic found in the words of the file."""
    where, sort = _where(kind, file, (kind.key, *detail["loc"])), detail["type"]
    if sort == "value_error":
        fault: Fault = detail["ctx"]["error"].args[0]
        return replace(fault, where=where)
    if sort == "extra_forbidden":
        return _no_such_key(where, str(detail["loc"][-1]), list(kind.entry.model_fields))
    head = f"Head each one [[{kind.key}]]."
    message, hint = {
        "missing": ("this key is missing.", ""),
        "string_type": ("this is a text.", "Put it in quotes."),
        "list_type": (f"{kind.key}s are a list of tables.", head),
        "model_type": (f"a {kind.key} is a table.", head),
    }[sort]
    return Fault(message, where, hint=hint)
