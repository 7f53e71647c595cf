"""A table as spreadsheets save it: rows of cells under column names, and what is wrong with it."""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from paramgen.lengths import as_typed
from paramgen.vocabulary.findings import UNSHOWN, Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: A row is some hundred letters: no table of rows to make is larger.
MOST_BYTES = 4_000_000
#: Rows, those too that say nothing: to make so many takes hours. Columns: a recipe has some
#: fifty values, and several may have a table together. Cells: of all rows, most are empty.
MOST_ROWS, MOST_COLUMNS, MOST_CELLS = 10_000, 300, 500_000
_LONGEST_NAME = 100
#: No more faults than these are told of in one run.
MOST_FAULTS = 100
#: What parts the cells of a row; where several could, the first of those that part most.
_PARTED_BY = (",", ";", "\t")
#: A line that says what parts them.
_SAID = re.compile(r"\s*sep=([^\w\"])", re.IGNORECASE)
_REMEDY = "Save it from the spreadsheet as CSV in UTF-8."


@dataclass(frozen=True)
class TableRow:
    """A row that says something.

    Parameters
    ----------
    number : int
        As a spreadsheet numbers it: the column names are usually in row 1.
    cells : mapping of column to text
        Only those that say something.
    """

    number: int
    cells: Mapping[str, str]


@dataclass(frozen=True)
class GradingTable:
    """A table as it was read.

    Parameters
    ----------
    source : str
        Where it was read, for messages.
    columns : tuple of str
        In small letters, with underscores for spaces and hyphens.
    rows : tuple of TableRow
    faults : tuple of Fault
        What is wrong with its form.
    """

    source: str
    columns: tuple[str, ...]
    rows: tuple[TableRow, ...]
    faults: tuple[Fault, ...]


def load_table(file: Path) -> GradingTable:
    """Read a table from a file.

    Raises
    ------
    InputError
        If it cannot be read at all; see `read_table`.
    """
    source = str(file)
    try:
        if file.is_fifo():
            raise InputError([Fault("this is not a file", source)])
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise InputError([Fault("there is no such file", source)]) from None
    except IsADirectoryError:
        hint = "Give the file of the table in it."
        raise InputError([Fault("this is a folder", source, hint=hint)]) from None
    except (OSError, ValueError) as problem:
        said = getattr(problem, "strerror", None) or str(problem)
        raise InputError([Fault(f"cannot be read: {said}", source)]) from None
    return read_table(data, source)


def read_table(data: bytes, source: str) -> GradingTable:
    r"""Read a table from the bytes of its file.

    Parameters
    ----------
    data : bytes
        UTF-8, with or without a mark of that; cells parted by commas, semicolons or tabs, as
        the row of names has them. A first line `sep=;` is taken at its word.
    source : str

    Raises
    ------
    InputError
        If no table can be seen in it.

    Examples
    --------
    >>> read_table("recipe;width\ncoaster;4,5in\n".encode(), "set.csv").rows[0].cells["width"]
    '4,5in'
    """
    if len(data) > MOST_BYTES:
        raise InputError([Fault("this is too large to be a table of rows to make", source)])
    lines = _lines(_text(data, source), source)
    first = next((at for at, cells in enumerate(lines) if any(cells)), None)
    if first is None:
        hint = "Its first row names the columns: recipe, hoop, name, width ..."
        raise InputError([Fault("the table is empty", source, hint=hint)])
    faults: list[Fault] = []
    columns = [column_name(cell) for cell in lines[first]]
    while columns and not columns[-1]:
        columns.pop()
    faults.extend(_wrong_names(columns, lines, first, source))
    faults.extend(_unshown(lines, source))
    rows = []
    for number, cells in enumerate(lines[first + 1 :], start=first + 2):
        said = {column: cell for column, cell in zip(columns, cells, strict=False) if cell}
        said.pop("", None)
        over = [cell for cell in cells[len(columns) :] if cell]
        if over:
            message = f"more cells than there are columns, {as_typed(over[0])} is the first"
            hint = "Put a cell that holds a comma in quotes."
            faults.append(Fault(message, row_of(source, number), hint=hint))
        elif said:
            rows.append(TableRow(number, said))
    if not rows and not faults:
        faults.append(Fault("the table has column names and no row under them", source))
    return GradingTable(source, tuple(columns), tuple(rows), tuple(faults))


def column_name(typed: str) -> str:
    """Write a column's name as recipes write theirs.

    >>> column_name(" Front depth")
    'front_depth'
    """
    return "_".join(typed.casefold().replace("-", " ").replace("_", " ").split())


def row_of(source: str, number: int) -> str:
    """Say where a row is."""
    return f"{source}, row {number}"


def _text(data: bytes, source: str) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data[: problem.start].count(b"\n") + 1
        message = "this is not a text in UTF-8"
        raise InputError([Fault(message, source, line, _REMEDY)]) from None
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise InputError([Fault("this is not a text in UTF-8", source, line, _REMEDY)])
    return text


def _lines(text: str, source: str) -> list[list[str]]:
    """Cells of every row, without what surrounds them, told apart by what parts the names."""
    head = next((line for line in text.splitlines() if line.strip(" \t,;")), "")
    if len(head) > MOST_COLUMNS * _LONGEST_NAME:
        message = f"its row of names is longer than {MOST_COLUMNS} names are"
        raise InputError([Fault(message, source, hint=_REMEDY)])
    skip, parted_by = 0, ""
    if found := _SAID.fullmatch(head):
        parted_by, skip = found[1], 1
    try:
        parted_by = parted_by or max(_PARTED_BY, key=lambda sign: len(_parted(head, sign)))
        # Strict, so that a quote that is left open is not taken for one long cell.
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=parted_by, strict=True)
        lines = [[" ".join(cell.split()) for cell in cells] for cells in _bounded(reader, source)]
    except (csv.Error, TypeError, ValueError):
        raise InputError([_unreadable(text, parted_by or ",", source)]) from None
    if skip:
        place = next(at for at, cells in enumerate(lines) if any(cells))
        lines[place] = []  # keeps its number
    return lines


def _bounded(lines: Iterable[list[str]], source: str) -> Iterator[list[str]]:
    """The rows one by one, as long as they are not more than can be made."""
    cells, named = 0, 0
    for number, line in enumerate(lines, start=1):
        cells += len(line)
        said = (at for at, cell in enumerate(line, start=1) if cell.strip())
        named = named or max(said, default=0)
        for amount, most, what in (
            (number, MOST_ROWS, "rows"),
            (named, MOST_COLUMNS, "columns"),
            (cells, MOST_CELLS, "cells"),
        ):
            if amount > most:
                message = f"more than {most:,} {what}: no table of rows to make has so many"
                raise InputError([Fault(message, source, hint="Part it, or remove empty ones.")])
        yield line


def _parted(line: str, sign: str) -> Sequence[str]:
    return next(csv.reader([line], delimiter=sign), [])


def _unreadable(text: str, parted_by: str, source: str) -> Fault:
    """Say in which row reading stops."""
    number, what = 1, "its cells cannot be told apart"
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=parted_by, strict=True)
        for _ in reader:
            number += 1
    except (csv.Error, TypeError, ValueError) as problem:
        if "end of data" in str(problem):
            what = "a quote that opens a cell is never closed"
        elif "expected after" in str(problem):
            what = "something follows the quote that closes a cell"
    hint = "Write a quote inside a quoted cell twice, or leave the quotes away."
    return Fault(what, row_of(source, number), hint=hint)


def _wrong_names(
    columns: Sequence[str], lines: Sequence[Sequence[str]], first: int, source: str
) -> Iterator[Fault]:
    where = row_of(source, first + 1)
    for column, count in Counter(columns).items():
        if column and count > 1:
            yield Fault(f"`{column}` names {count} columns", where)
    for place, column in enumerate(columns):
        filled = (
            number
            for number, cells in enumerate(lines[first + 1 :], start=first + 2)
            if place < len(cells) and cells[place]
        )
        if not column and (number := next(filled, None)):
            message = f"column {place + 1} has no name, but row {number} says something in it"
            yield Fault(message, where)


def _unshown(lines: Sequence[Sequence[str]], source: str) -> Iterator[Fault]:
    """Faults of cells that would do more to a screen or a page than be read there."""
    for number, cells in enumerate(lines, start=1):
        for cell in cells:
            if UNSHOWN.search(cell):
                message = f"a character that cannot be shown stands in {as_typed(cell)}"
                yield Fault(message, row_of(source, number), hint="Type that cell anew.")
