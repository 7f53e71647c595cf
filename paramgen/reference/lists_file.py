"""Reading a file that is a list of named things with sizes; it gathers every fault.

Read without the library that reads recipes: to load it takes longer than to list all hoops.
"""

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Generic, TypeVar

from paramgen.budget import MOST_BYTES_OF_A_LIST
from paramgen.lengths import LONGEST_TEXT, as_typed, parse_length
from paramgen.nearest_word import did_you_mean
from paramgen.reference.dotted import TOO_DOTTED, too_dotted
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

E = TypeVar("E")


@dataclass(frozen=True)
class ListKey:
    """A key that each table of a list may have.

    Parameters
    ----------
    name : str
    read : callable
        From what stands there to what is meant; raises InputError with one fault.
    usual : object
        What is meant where it is left out.
    needed : bool
        Whether it may not be left out.
    """

    name: str
    read: Callable[[object], Any]
    usual: Any = None
    needed: bool = False


def printed_text(what: str, most: int) -> Callable[[object], str]:
    """A reader of texts of so many characters that can be printed.

    Examples
    --------
    >>> printed_text("a name", 10)(" shed ")
    'shed'
    """

    def read(value: object) -> str:
        if not isinstance(value, str):
            raise InputError([Fault("this is a text.", hint="Put it in quotes.")])
        if not value.strip() or not value.isprintable() or len(value) > most:
            message = f"{as_typed(value)} is not {what}: it takes 1 to {most} printed characters."
            raise InputError([Fault(message)])
        return value.strip()

    return read


ENTRY_NAME = printed_text("a name", LONGEST_TEXT)
ENTRY_NOTE = printed_text("a note", 4 * LONGEST_TEXT)

#: What each list has.
KEYS = (
    ListKey("name", ENTRY_NAME, needed=True),
    ListKey("also", ENTRY_NAME, ""),
    ListKey("width", parse_length, needed=True),
    ListKey("height", parse_length, needed=True),
)


@dataclass(frozen=True)
class ListKind(Generic[E]):
    """What a file lists.

    Parameters
    ----------
    key : str
        Head of each table, and the word for one of them; with an s, for several.
    keys : tuple of ListKey
        What each table may have.
    entry : callable
        From the values of a table's keys to what is listed; raises InputError with one fault of
        the whole table.
    same : callable
        Two names are the same if it makes the same text of them.
    """

    key: str
    keys: tuple[ListKey, ...]
    entry: Callable[[Mapping[str, Any]], E]
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
    entries = list(_entries(kind, file, data.get(kind.key, []), faults))
    return _Found(() if faults else tuple(entries), names, tuple(faults))


def _entries(kind: ListKind[E], file: Path, tables: object, faults: list[Fault]) -> Iterator[E]:
    """What is listed; every fault is added to those there are."""
    head = f"Head each one [[{kind.key}]]."
    if not isinstance(tables, list):
        where = _where(kind, file, (kind.key,))
        faults.append(Fault(f"{kind.key}s are a list of tables.", where, hint=head))
        return
    for index, table in enumerate(tables):
        if not isinstance(table, dict):
            where = _where(kind, file, (kind.key, index))
            faults.append(Fault(f"a {kind.key} is a table.", where, hint=head))
            continue
        values: dict[str, Any] = {}
        wrong = []
        for one in kind.keys:
            try:
                values[one.name] = _value(one, table)
            except InputError as problem:
                wrong.append(
                    replace(
                        problem.faults[0], where=_where(kind, file, (kind.key, index, one.name))
                    )
                )
        known = [one.name for one in kind.keys]
        wrong += [
            _no_such_key(_where(kind, file, (kind.key, index, key)), key, known)
            for key in table
            if key not in known
        ]
        faults += wrong
        if wrong:
            continue
        try:
            yield kind.entry(values)
        except InputError as problem:
            faults.append(replace(problem.faults[0], where=_where(kind, file, (kind.key, index))))


def _value(key: ListKey, table: Mapping[str, object]) -> object:
    """What a table says under a key; raises InputError with one fault."""
    if key.name in table:
        return key.read(table[key.name])
    if key.needed:
        raise InputError([Fault("this key is missing.")])
    return key.usual


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
