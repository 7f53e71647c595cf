"""One row of a table from what it asks to its pack in place; run in a process of its own."""

from collections.abc import Callable
from dataclasses import replace

from paramgen.cli.exit_status import CANNOT, FAILED, UNWRITTEN
from paramgen.cli.shared_workshop import workshop
from paramgen.cli.unforeseen import details, failure
from paramgen.grading.kept_rows import keep_refusal, kept, refused_before
from paramgen.grading.row_digest import digest
from paramgen.grading.row_job import RowJob
from paramgen.grading.row_work import RowWork
from paramgen.grading.summary_entry import RowRemark, said_of
from paramgen.ordering.letters_papers_lack import check_letters
from paramgen.ordering.order_from_words import UnderstoodRequest, asked
from paramgen.pack.put_in_place import place
from paramgen.recipe.read_recipe import Recipe, RecipeSource
from paramgen.vocabulary.findings import CannotMakeError, Fault, InputError, ParamgenError
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class RowOutcome:
    """What became of a row.

    Parameters
    ----------
    number : int
        Place in the table, from 0.
    view : (width, height) or None
        Of its picture, mm; None if it was not made.
    reasons : tuple of RowRemark
        Why it was not made.
    before : bool
        Whether it was done by an earlier run.
    status : int
        What the exit status says of a row that was not made.
    """

    number: int
    view: tuple[float, float] | None
    reasons: tuple[RowRemark, ...] = ()
    before: bool = False
    status: int = CANNOT


def do(job: RowJob) -> RowOutcome:
    """Make a row, unless it is there already; whatever happens, the others can be made."""
    entry = kept(job.folder, job.made_from)
    if entry:
        return RowOutcome(job.number, entry.view, before=True)
    # What is said of a row that does not fit names a listed hoop that takes it.
    asked_of = digest([job.made_from, [[one.name, one.width, one.height] for one in job.hoops]])
    out, name = job.folder.parent, job.folder.name
    if reasons := refused_before(out, name, asked_of):
        return RowOutcome(job.number, None, reasons, before=True)
    try:
        wanted = asked(job.words, find=_finder(job.source), among=job.hoops, works=workshop().works)
        made = _made(job, wanted)
        if isinstance(made, tuple):
            return RowOutcome(job.number, made)
        reasons = tuple(said_of(one, wanted.order.unit) for one in made.findings)
    except InputError as problem:
        reasons = tuple(RowRemark("", str(fault)) for fault in map(_in_table, problem.faults))
    except ParamgenError as problem:
        return RowOutcome(job.number, None, (RowRemark("", str(problem)),), status=UNWRITTEN)
    except Exception as problem:  # one row must not take a thousand others with it
        text = f"{failure(problem)} {details(problem)}"
        return RowOutcome(job.number, None, (RowRemark("", text),), status=FAILED)
    if job.source:
        keep_refusal(out, name, asked_of, reasons)
    return RowOutcome(job.number, None, reasons)


def _made(job: RowJob, wanted: UnderstoodRequest) -> tuple[float, float] | CannotMakeError:
    """Make a row and put it in place: how large its picture is, or why it cannot be made."""
    if job.papers:
        check_letters(wanted)
    try:
        work = RowWork(job, wanted, workshop().make(wanted.order, wanted.hoops))
        files = {name: write() for name, write in work.files()}
    except CannotMakeError as problem:
        return problem
    entry = work.entry(files)
    place(work.whole(files, entry), job.folder)
    return entry.view


def _finder(source: RecipeSource | None) -> Callable[[str], Recipe]:
    return (lambda _wanted: workshop().read(source)) if source else workshop().recipe


def _in_table(fault: Fault) -> Fault:
    """Speak of a column and not of the option that says the same."""
    return replace(fault, where=fault.where.removeprefix("--"))
