"""All rows of a table as one zip, with what `paramgen grade` writes of the same table."""

from collections.abc import Generator, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from paramgen.grading.kept_rows import PAGE, SHEET, TOTALS
from paramgen.grading.row_job import RowJob, cloths_seen, row_job, row_options
from paramgen.grading.row_work import RowWork
from paramgen.grading.rows_to_make import RowToMake
from paramgen.grading.summary_entry import RowRemark, said_of
from paramgen.grading.summary_page import page
from paramgen.grading.summary_sheet import GradedRow, sheet, totals_sheet
from paramgen.ordering.cloths_asked import cloths_asked, fabric_roles
from paramgen.ordering.letters_papers_lack import check_letters
from paramgen.ordering.settings_filled_in import with_settings
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.pack_files import PDFS
from paramgen.page.desk import Desk
from paramgen.page.long_jobs import MOST_BYTES, JobResult, JobStage, JobState, Told
from paramgen.page.table_view import ShownTable
from paramgen.page.typed_address import address_of
from paramgen.page.ways import CSV
from paramgen.page.zip_of_files import zipped
from paramgen.papers.typeset import can_typeset
from paramgen.vocabulary.findings import CannotMakeError, InputError, WriteError
from paramgen.vocabulary.frozen_data import dataclass

#: Packs are held until all are made: no more bytes of them than so many times what is kept.
_MOST_HELD = 3 * MOST_BYTES


@dataclass(frozen=True)
class _RowTaken:
    """What became of a row: its files, none where it was not made."""

    graded: GradedRow
    files: Mapping[str, bytes]


def take_all(table: Desk, query: str) -> Iterator[Told]:
    """Make every row that can be made.

    Parameters
    ----------
    table : Desk
    query : str
    """
    shown = ShownTable(table, query)
    if shown.faults:
        yield JobState(JobStage.REFUSED, " ".join(map(str, shown.faults)))
        return
    try:
        words = [with_settings(shown.for_all(row.recipe)) for row in shown.to_make]
    except InputError as problem:
        yield JobState(JobStage.REFUSED, " ".join(map(str, problem.faults)))
        return
    taken: list[_RowTaken] = []
    lacking = () if can_typeset() else PDFS
    rows = shown.to_make
    for place, row in enumerate(rows):
        job = row_job(
            place,
            row,
            words[place],
            source=table.source(row.recipe) if shown.recipe(row.recipe) else None,
            hoops=table.hoops,
            options=[
                *row_options(words[place], papers=True, left_out=lacking),
                *_cloths_seen(table, row, words[place]),
            ],
            out=Path(),
            papers=True,
        )
        one = yield from _row(table, row, job, place / len(rows), len(rows))
        taken.append(one)
        if sum(len(data) for each in taken for data in each.files.values()) > _MOST_HELD:
            says = "These are too many to be held at once. Take fewer, or use `paramgen grade`."
            yield JobState(JobStage.REFUSED, says)
            return
    graded = [one.graded for one in taken]
    made = [one for one in graded if one.entry]
    if not made:
        reasons = " ".join(reason.text for one in graded for reason in one.reasons)
        yield JobState(JobStage.REFUSED, f"No row can be made as asked. {reasons}")
        return
    yield JobState(JobStage.WORKING, "Putting it all into one file", 0.99)
    views = [one.entry.view for one in made if one.entry]
    counts = len(made), len(graded) - len(made)
    loose = {
        SHEET: sheet(graded),
        TOTALS: totals_sheet(graded),
        PAGE: page(CSV, views, lambda: graded, counts),
    }
    folders = {one.graded.row.folder: one.files for one in taken if one.files}
    files = {name: "".join(text).encode() for name, text in loose.items()}
    if counts[1]:
        says = f"{counts[0]} of {len(graded)} rows made; the summary says why not the others"
        yield JobState(JobStage.WORKING, says, 1.0, (("less", says),))
    yield JobResult("application/zip", "sizes.zip", zipped(folders, files))


def _cloths_seen(table: Desk, row: RowToMake, words: TypedRequest) -> Iterator[tuple[str, str]]:
    """What its fabrics look like; nothing where that is not understood: the row will say why."""
    try:
        recipe = table.recipe(row.recipe)
        cloths = cloths_asked(words.cloths, fabric_roles(recipe.file), table.print_given)
    except InputError:
        return
    yield from cloths_seen(cloths, recipe)


def _row(
    table: Desk, row: RowToMake, job: RowJob, before: float, of: int
) -> Generator[JobState, None, _RowTaken]:
    """Make a row, telling which file is being written."""
    yield JobState(JobStage.WORKING, f"Row {job.number + 1} of {of}: {row.title}", before)
    try:
        wanted = table.understood(address_of(job.words))
        check_letters(wanted)
        work = RowWork(job, wanted, table.workshop.make(wanted.order, wanted.hoops))
        files: dict[str, bytes] = {}
        for name, write in work.files():
            says = f"Row {job.number + 1} of {of}, {row.title}: {name}"
            yield JobState(JobStage.WORKING, says, before)
            files[name] = write()
        entry = work.entry(files)
    except CannotMakeError as problem:
        reasons = tuple(said_of(one, wanted.order.unit) for one in problem.findings)
        return _RowTaken(GradedRow(row, None, reasons), {})
    except InputError as problem:
        told = (replace(one, where=one.where.removeprefix("--")) for one in problem.faults)
        return _RowTaken(GradedRow(row, None, tuple(RowRemark("", str(one)) for one in told)), {})
    except WriteError as problem:
        return _RowTaken(GradedRow(row, None, (RowRemark("", str(problem)),)), {})
    return _RowTaken(GradedRow(row, entry), work.whole(files, entry))
