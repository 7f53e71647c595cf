"""A table of sizes in an address: each row says what it asks for in place of the rest.

`recipe=coaster&hoop=130x180&row=name%3Dsmall%26width%3D80mm&row=width%3D100mm` has two rows; an
entry `columns` names those shown though no row says anything in them. As a file it is the table
that `paramgen grade` reads, and it is understood by the same room.
"""

import csv
import io
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from urllib.parse import parse_qsl, urlencode

from paramgen.grading.rows_to_make import (
    COPIES,
    HOLDS,
    HOOP,
    MARGIN,
    NAME,
    ON,
    RECIPE,
    TITLE,
    UNIT,
)
from paramgen.grading.summary_sheet import BOM, harmless
from paramgen.grading.table_file import column_name
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.typed_address import MOST_ENTRIES, MOST_LETTERS, address_of, asked_in
from paramgen.vocabulary.frozen_data import dataclass

#: So many rows lie side by side; a longer table is for `paramgen grade`.
MOST_ROWS = 24

#: The columns that every recipe has, and the first of a file.
SHARED = (RECIPE, NAME, HOOP, UNIT, MARGIN, COPIES, TITLE, HOLDS, ON)

Row = Mapping[str, str]


@dataclass(frozen=True)
class AskedTable:
    """A table of rows.

    Parameters
    ----------
    base : TypedRequest
        What all rows ask for, where they say nothing else.
    rows : tuple of mapping of column to text
        Only what they say.
    more : tuple of str
        Columns to show besides.
    """

    base: TypedRequest
    rows: tuple[Row, ...]
    more: tuple[str, ...] = ()

    @property
    def address(self) -> str:
        """The address that asks for it."""
        more = [("columns", ",".join(self.more))] if self.more else []
        rows = [("row", urlencode([*row.items()])) for row in self.rows]
        return "&".join(filter(None, (address_of(self.base), urlencode([*more, *rows]))))


def table_in(query: str) -> AskedTable:
    """Read a table from an address; of more rows than there may be, the first.

    Examples
    --------
    >>> found = table_in("recipe=coaster&hoop=130x180&row=width%3D80mm&row=")
    >>> found.rows, table_in(found.address) == found
    (({'width': '80mm'}, {}), True)
    """
    words = asked_in(query).words
    try:
        entries = parse_qsl(
            query[:MOST_LETTERS], keep_blank_values=True, max_num_fields=MOST_ENTRIES
        )
    except ValueError:
        entries = []
    rows = [_row(text) for key, text in entries if key == "row"]
    more = [text for key, text in entries if key == "columns"]
    names = [column_name(name) for name in ",".join(more).split(",")]
    return AskedTable(
        words, tuple(rows[:MOST_ROWS]) or ({},), tuple(dict.fromkeys(filter(None, names)))
    )


def _row(text: str) -> Row:
    try:
        entries = parse_qsl(text, max_num_fields=100)
    except ValueError:
        return {}
    said = ((column_name(name), " ".join(cell.split())) for name, cell in entries)
    return {name: cell for name, cell in said if name and cell}


def filled_rows(table: AskedTable, takes: Callable[[str], Collection[str]]) -> Iterator[Row]:
    """Rows that say all they ask for, so that they mean the same without the rest.

    Parameters
    ----------
    table : AskedTable
    takes : callable
        Names of the values that a recipe takes.
    """
    base = table.base
    values = dict(pair.partition("=")[::2] for pair in base.values)
    usual = {
        RECIPE: base.recipe,
        HOOP: base.hoop,
        UNIT: base.unit,
        MARGIN: base.margin,
        COPIES: base.copies,
        TITLE: base.title,
        HOLDS: base.holds,
    }
    for row in table.rows:
        recipe = row.get(RECIPE, base.recipe)
        # What is asked of one recipe says nothing of another.
        own = {**values, **({ON: base.on} if base.on else {})} if recipe == base.recipe else {}
        taken = takes(recipe)
        shared = {name: text for name, text in usual.items() if text and name not in taken}
        yield {**shared, **own, **row}


def as_csv(rows: Sequence[Row]) -> bytes:
    """Write rows as the table that `paramgen grade` reads: CSV after RFC 4180."""
    said = dict.fromkeys(name for row in rows for name in row)
    columns = [*(one for one in SHARED if one in said), *(one for one in said if one not in SHARED)]
    text = io.StringIO(newline="")
    lines = csv.writer(text)
    lines.writerow(columns)
    lines.writerows([harmless(row.get(name, "")) for name in columns] for row in rows)
    return f"{BOM}{text.getvalue()}".encode()


def for_all_rows(base: TypedRequest) -> TypedRequest:
    """What a table cannot say: how it is written, and what goes for all rows alike."""
    nothing = TypedRequest()
    # Of several hoops asked in turn a table says one; the others come from here.
    return replace(
        nothing,
        hoop=base.hoop if base.more_hoops else "",
        more_hoops=base.more_hoops,
        files=base.files,
        scale=base.scale,
        may_turn=base.may_turn,
        paper=base.paper,
        paper_margin=base.paper_margin,
        printed=base.printed,
        whole_pieces=base.whole_pieces,
        booklet=base.booklet,
        singly=base.singly,
        cloths=base.cloths,
    )
