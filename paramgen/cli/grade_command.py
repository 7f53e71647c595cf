"""The grade command: every row of a table made, and a summary of all of them."""

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path

import typer

from paramgen.cli.exit_status import UNWRITTEN
from paramgen.cli.left_out_papers import left_out
from paramgen.cli.make_row import RowOutcome
from paramgen.cli.text_tables import indented
from paramgen.cli.workers import processors, work
from paramgen.grading.kept_rows import PAGE, SHEET, TOTALS, check_free, entry_in, put_summary
from paramgen.grading.row_job import (
    RowJob,
    cloths_seen,
    of_its_fabrics,
    row_job,
    row_options,
)
from paramgen.grading.rows_to_make import HOOP, RowToMake, recipes_named, rows_of
from paramgen.grading.summary_page import PAGE_MARK, page
from paramgen.grading.summary_sheet import (
    SHEET_MARK,
    TOTALS_MARK,
    GradedRow,
    said_words,
    sheet,
    totals_sheet,
)
from paramgen.grading.table_file import GradingTable, load_table
from paramgen.ordering.cloths_asked import cloths_asked, fabric_roles
from paramgen.ordering.known_lists import known_hoops
from paramgen.ordering.order_from_words import asked, hoops_asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.recipe.read_recipe import Recipe, RecipeSource, find_recipe, find_source, listed
from paramgen.sentences import number_of
from paramgen.vocabulary.cloth import Cloths
from paramgen.vocabulary.findings import Fault, InputError, WriteError
from paramgen.vocabulary.frozen_data import dataclass

#: A recipe as it was found, and understood; neither where that fails.
RowSource = tuple[RecipeSource | None, Recipe | None]


@dataclass(frozen=True)
class GradeBatch:
    """A table understood: its rows, and what each takes."""

    source: str
    rows: tuple[RowToMake, ...]
    jobs: tuple[RowJob, ...]


@dataclass(frozen=True)
class GradeReport:
    """What became of a table.

    Parameters
    ----------
    rows : int
    refused : tuple of (RowToMake, RowOutcome)
        Rows that were not made.
    before : int
        Rows that an earlier run had made.
    unwritten : str
        Why the summary could not be written; empty if it was.
    """

    rows: int
    refused: tuple[tuple[RowToMake, RowOutcome], ...]
    before: int
    unwritten: str = ""

    @property
    def status(self) -> int:
        """Exit status: the highest of what any row comes to."""
        statuses = [outcome.status for _, outcome in self.refused]
        return max([0, *statuses, *([UNWRITTEN] if self.unwritten else [])])


def grade(file: Path, words: TypedRequest, out: Path, *, papers: bool, jobs: str) -> GradeReport:
    """Make every row of a table, and the summary.

    Parameters
    ----------
    file : Path
        Of the table.
    words : TypedRequest
        What is asked for all rows; a row may say another hoop, unit, margin and number of copies.
    out : Path
    papers : bool
    jobs : str
        As typed: how many rows at a time; empty for as many as there are processors.

    Raises
    ------
    InputError
        With every fault of the table and the options.
    WriteError
        If nothing can be written where the rows are to go.
    """
    batch, count = _understood(file, words, out, papers=papers, jobs=jobs)
    check_free(out, {SHEET: SHEET_MARK, TOTALS: TOTALS_MARK, PAGE: PAGE_MARK})
    outcomes = _worked(batch.jobs, count)

    def again() -> Iterator[GradedRow]:
        for row, outcome in zip(batch.rows, outcomes, strict=True):
            entry = entry_in(out / row.folder) if outcome.view else None
            yield GradedRow(row, entry, outcome.reasons)

    views = [outcome.view for outcome in outcomes if outcome.view]
    counts = len(views), len(outcomes) - len(views)
    unwritten = ""
    try:
        put_summary(out / SHEET, sheet(again()))
        put_summary(out / TOTALS, totals_sheet(again()))
        put_summary(out / PAGE, page(batch.source, views, again, counts))
    except WriteError as problem:
        unwritten = f"{problem} {_stay(len(views))}"
    pairs = zip(batch.rows, outcomes, strict=True)
    refused = tuple((row, outcome) for row, outcome in pairs if not outcome.view)
    before = sum(1 for one in outcomes if one.before and one.view)
    return GradeReport(len(outcomes), refused, before, unwritten)


def default_folder(table: Path) -> Path:
    """Folder named after a table.

    Raises
    ------
    InputError
        If nothing is left of its name that could name one.
    """
    if not table.stem.strip(". ") or table.stem == table.name:
        text = "its name gives none for the folder of all rows"
        raise InputError([Fault(text, table.name, hint="Name the folder with --out.")])
    return Path(table.stem)


def _stay(made: int) -> str:
    """What becomes of the rows where the summary cannot be written."""
    if not made:
        return "No row is made, so none is lost."
    return f"{number_of(made, 'row')} made before that stay; run the same command again."


def refusal_text(row: RowToMake, outcome: RowOutcome) -> str:
    """Why a row was not made, as a person reads it."""
    reasons = "\n".join(f"  {indented(said_words(one))}" for one in outcome.reasons)
    return f"Row {row.number}, {row.title}, was not made:\n{reasons}"


def report_text(report: GradeReport, out: Path) -> str:
    """What was made, and where it is."""
    made = report.rows - len(report.refused)
    there = f", {report.before} of them before" if report.before else ""
    rows = number_of(report.rows, "row")
    text = f"Made {made} of {rows}{there}: {out.absolute()}"
    return text if report.unwritten else f"{text}\nSummary: {out.absolute() / PAGE}"


def _worked(jobs: Sequence[RowJob], count: int) -> list[RowOutcome]:
    """Make the rows, with a bar of progress if a person looks on."""
    outcomes: list[RowOutcome] = []
    shown = (
        typer.progressbar(length=len(jobs), label="Rows", show_pos=True, file=sys.stderr)
        if sys.stderr.isatty()
        else nullcontext()
    )
    with shown as bar:
        for outcome in work(jobs, count):
            outcomes.append(outcome)
            if bar is not None:
                bar.update(1)
    return sorted(outcomes, key=lambda one: one.number)


def _understood(
    file: Path, words: TypedRequest, out: Path, *, papers: bool, jobs: str
) -> tuple[GradeBatch, int]:
    faults = list(_wrong_options(words))
    count = processors()
    if jobs:
        count = int(jobs) if jobs.isdecimal() and len(jobs) < 4 else 0
        if not count:
            faults.append(Fault(f"`{jobs[:30]}` is not a whole number from 1 to 999", "--jobs"))
    try:
        table = load_table(file)
        sources = dict(_sources(recipes_named(table)))
        rows = rows_of(table, {name: recipe for name, (_, recipe) in sources.items()})
        faults.extend(_no_hoop(table, words))
        cloths = _cloths(words, sources)
    except InputError as problem:
        faults.extend(problem.faults)
    if faults:
        raise InputError(faults)
    hoops = known_hoops()
    options = row_options(words, papers=papers, left_out=left_out())
    found = [
        row_job(
            place,
            row,
            of_its_fabrics(words, sources[row.recipe][1]),
            source=sources[row.recipe][0],
            hoops=hoops,
            options=[*options, *cloths_seen(cloths, sources[row.recipe][1])],
            out=out,
            papers=papers,
        )
        for place, row in enumerate(rows)
    ]
    return GradeBatch(file.name, rows, tuple(found)), count


def _sources(
    names: Iterable[str],
) -> Iterator[tuple[str, RowSource]]:
    """Find and understand each recipe; neither, where that fails: its rows will say why."""
    for name in names:
        try:
            source = find_source(name)
            yield name, (source, source.read())
        except InputError:
            yield name, (None, None)


def _wrong_options(words: TypedRequest) -> Iterator[Fault]:
    """Faults of what is asked for all rows, seen with a recipe that is there and any hoop."""
    anyone = find_recipe(next(iter(listed())))
    try:
        asked(replace(words, recipe=anyone.name, hoop=words.hoop or "2000x2000mm", cloths=()))
    except InputError as problem:
        # Whether a scale suits a size is for each row to say.
        yield from (fault for fault in problem.faults if fault.where not in anyone.file.sizes)


def _cloths(words: TypedRequest, sources: Mapping[str, RowSource]) -> Cloths:
    """What the fabrics of all recipes look like; raises InputError for one that none has."""
    known = [fabric_roles(recipe.file) for _, recipe in sources.values() if recipe]
    roles = dict.fromkeys(role for one in known for role in one)
    return cloths_asked(words.cloths, tuple(roles) if known else None)


def _no_hoop(table: GradingTable, words: TypedRequest) -> Iterator[Fault]:
    if not hoops_asked(words) and HOOP not in table.columns:
        hint = "Add a column `hoop`, or give one for all with --hoop."
        yield Fault("nothing says which hoop", table.source, hint=hint)
