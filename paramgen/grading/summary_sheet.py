"""The summary as a table for a spreadsheet."""

import csv
import io
from collections.abc import Iterable, Iterator

from paramgen.grading.rows_to_make import RowToMake
from paramgen.grading.summary_entry import (
    BY_THE_METRE,
    FabricToHave,
    RowRemark,
    SummaryEntry,
    ThingToHave,
)
from paramgen.grading.totals import totals
from paramgen.lengths import show_both, show_size
from paramgen.supplies.machine_supplies import metres_words
from paramgen.supplies.yards import yards
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: The mark of UTF-8: without it spreadsheets take × for two other letters.
BOM = "\ufeff"
COLUMNS = (
    "row", "name", "made", "recipe", "asked", "title", "finished width mm", "finished height mm",
    "finished in", "hoop", "hoop width mm", "hoop height mm", "turned in hoop", "copies", "fabric",
    "to have ready", "stops", "stitches", "findings", "folder",
)  # fmt: skip
#: What a file of ours starts with, whatever columns other versions have after these.
SHEET_MARK = f"{BOM}{','.join(COLUMNS[:5])},".encode()


@dataclass(frozen=True)
class GradedRow:
    """A row and what became of it.

    Parameters
    ----------
    row : RowToMake
    entry : SummaryEntry or None
        None if it was not made.
    reasons : tuple of RowRemark
        Why it was not made.
    """

    row: RowToMake
    entry: SummaryEntry | None
    reasons: tuple[RowRemark, ...] = ()


#: Totals are a table of their own: in the summary a spreadsheet would sort and add them up as rows.
TOTAL_COLUMNS = ("what", "amount", "quantity", "length mm", "width mm", "rows")
TOTALS_MARK = f"{BOM}{','.join(TOTAL_COLUMNS[:3])},".encode()


def totals_sheet(graded: Iterable[GradedRow]) -> Iterator[str]:
    """Write what all rows need together, in CSV too."""
    yield f"{BOM}{','.join(TOTAL_COLUMNS)}\r\n"
    for one in totals(row.entry for row in graded if row.entry):
        sizes = ["" if size is None else _plain(size) for size in (one.length, one.width)]
        count = "" if one.quantity is None else str(one.quantity)
        yield _line([one.title, one.amount, count, *sizes, str(one.rows)])


def sheet(graded: Iterable[GradedRow]) -> Iterator[str]:
    """Write the summary, a row at a time; for a spreadsheet, so in CSV after RFC 4180."""
    yield f"{BOM}{','.join(COLUMNS)}\r\n"
    for one in graded:
        yield _line(_cells(one))


def _line(cells: Iterable[str]) -> str:
    line = io.StringIO(newline="")
    csv.writer(line).writerow([harmless(cell) for cell in cells])
    return line.getvalue()


def asked_words(row: RowToMake) -> str:
    """What a row asks, as it was typed."""
    said = [f"{name} {value}" for name, value in row.values]
    if row.margin:
        said.append(f"margin {row.margin}")
    if row.copies:
        said.append(f"copies {row.copies}")
    if row.holds:
        said.append(f"holds {row.holds}")
    return ", ".join(said)


def fabric_words(one: FabricToHave, unit: Unit) -> str:
    """Fabric to have, in both units and in yards."""
    wide = f", {show_both(one.width, unit)} wide" if one.narrow else ""
    return f"{one.name.replace('-', ' ')} {show_both(one.length, unit)}, {yards(one.length)}{wide}"


def ready_words(one: ThingToHave, unit: Unit) -> str:
    """Something to have ready besides, in a few words."""
    length = one.length or 0.0
    if one.sort in BY_THE_METRE:
        return f"{one.title}, about {metres_words(round(length / 1000), unit)}"
    if one.sort == "interfacing":
        return f"{one.title}, {show_both(length, unit)}, {yards(length)}"
    least = f", at least {show_both(length, unit)}" if length and one.sort == "notion" else ""
    return f"{one.quantity or 1} × {one.title}{least}"


def said_words(one: RowRemark) -> str:
    """Something found, and how bad it is."""
    return f"{one.severity}: {one.text}" if one.severity else one.text


def _cells(one: GradedRow) -> list[str]:
    row, entry = one.row, one.entry
    start = [str(row.number), row.title]
    if entry is None:
        reasons = " ".join(map(said_words, one.reasons))
        asked = [row.recipe, asked_words(row), row.called, "", "", "", row.hoop]
        return [*start, "no", *asked, *[""] * 8, reasons, ""]
    width, height = entry.finished
    return [
        *start,
        "yes",
        entry.recipe,
        asked_words(row),
        entry.title,
        _plain(width),
        _plain(height),
        show_size(width, height, Unit.INCH, depth=entry.depth),
        entry.hoop,
        *map(_plain, entry.field),
        "yes" if entry.turned else "no",
        str(entry.copies),
        "; ".join(fabric_words(fabric, entry.unit) for fabric in entry.fabrics),
        "; ".join(
            ready_words(ready, entry.unit) for ready in entry.ready if ready.sort != "thread"
        ),
        str(entry.stops),
        str(entry.stitches),
        " ".join(map(said_words, entry.found)),
        row.folder,
    ]


def _plain(mm: float) -> str:
    return f"{mm:.2f}".rstrip("0").rstrip(".")


def harmless(cell: str) -> str:
    """Keep a spreadsheet from taking a text for a formula."""
    return f"'{cell}" if cell.startswith(("=", "+", "-", "@", "\t", "\r")) else cell
