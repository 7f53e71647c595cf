"""The kit command: what to buy for many of a project, or of a table of them, and how to cut it."""

import signal
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from types import FrameType

from paramgen.cli.error_messages import busy
from paramgen.cli.shared_workshop import workshop
from paramgen.cli.text_tables import table
from paramgen.grading.row_job import row_words
from paramgen.grading.rows_to_make import RowToMake, recipes_named, rows_of
from paramgen.grading.table_file import GradingTable, load_table, row_of
from paramgen.kits.cloth_asked import cloth_asked, roles_of
from paramgen.kits.cloth_there import Cutting
from paramgen.kits.kit_order import KitOrder
from paramgen.kits.kit_question import KitQuestion
from paramgen.kits.kit_shopping import shopping
from paramgen.kits.kit_told import KitTold
from paramgen.kits.kit_understood import count_asked, kit_cutting, seconds_asked
from paramgen.kits.price_section import each_words
from paramgen.kits.prices_typed import TypedPrice, prices_in
from paramgen.kits.strip_choice import SecondsLeft
from paramgen.kits.worked_kit import Kit, work_out
from paramgen.ordering.known_lists import unit_asked
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.file_names import safe_name
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.reference.paper_sizes import Paper, default_paper, find_paper, listed_papers
from paramgen.vocabulary.findings import CannotMakeError, Fault, Faults, Finding, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: The column of a table that says how many.
COUNT = "count"
#: A table of prices is no larger, bytes.
_MOST_BYTES = 1_000_000


@dataclass(frozen=True)
class AskedKit:
    """A kit asked for, understood.

    Parameters
    ----------
    orders : tuple of KitOrder
    unit : Unit
    paper : Paper
    cutting : Cutting
    seconds : float
    """

    orders: tuple[KitOrder, ...]
    unit: Unit
    paper: Paper
    cutting: Cutting
    seconds: float


class RowsRefusedError(CannotMakeError):
    """Rows of a table that cannot be made, each with what was found."""

    def __init__(self, rows: Sequence[tuple[str, Sequence[Finding]]]) -> None:
        self.rows = tuple(rows)
        super().__init__([one for _, findings in rows for one in findings])


def kit_asked(words: TypedRequest, question: KitQuestion) -> AskedKit:
    """Understand what a kit is of, and make sure that it can be made.

    Raises
    ------
    InputError
    CannotMakeError
    """
    if words.recipe.lower().endswith(".csv"):
        return _of_table(Path(words.recipe), words, question)
    faults = Faults()
    count = faults.tried(lambda: count_asked(question.count or "1", "--count"))
    wanted = faults.tried(lambda: asked(words, find=workshop().recipe, works=workshop().works))
    unit = wanted.order.unit if wanted else Unit.MM
    cutting = faults.tried(lambda: kit_cutting(question, unit))
    seconds = faults.tried(lambda: seconds_asked(question.seconds))
    if faults or count is None or wanted is None or cutting is None or seconds is None:
        raise InputError(faults)
    made = workshop().make(wanted.order, wanted.hoops)
    order = KitOrder(made=made, count=count)
    return AskedKit((order,), unit, wanted.printing.paper, cutting, seconds)


def plan_kit(wanted: AskedKit, question: KitQuestion, tell: Callable[[str], None] = busy) -> Kit:
    """Plan how a kit is cut, in the seconds there are; Ctrl-C takes the best found by then.

    Raises
    ------
    InputError
    """
    roles = list(roles_of(order.made for order in wanted.orders))
    there = cloth_asked(question.fabrics, roles)

    def planning(role: str) -> None:
        tell(f"Planning how to cut {role}; Ctrl-C takes the best found so far.")

    with _seconds_left(wanted.seconds) as left:
        return work_out(wanted.orders, there, wanted.cutting, wanted.unit, left, planning)


def default_kit_folder(wanted: AskedKit) -> Path:
    """Folder named after what a kit is of."""
    count = sum(order.count for order in wanted.orders)
    several = len(wanted.orders) > 1
    name = "table" if several else safe_name(wanted.orders[0].made.project.recipe)
    return Path(f"kit-{count}-{name}")


def kit_report(told: KitTold) -> str:
    """What to buy and what it costs, as plain text."""
    rows = [(one.what, one.buy, one.exact, one.note) for one in shopping(told)]
    bought = f"Kit: {told.kit.title}\n" + table(("what", "buy", "exact length", "note"), rows)
    if told.price is None:
        return bought
    each = "\n".join(each_words(one, told.price.currency) for one in told.price.orders)
    return f"{bought}\n{each}\n"


def price_table(file: Path | None) -> dict[str, TypedPrice]:
    """The prices in a file, if one is named.

    Raises
    ------
    InputError
    """
    if file is None:
        return {}
    try:
        data = file.read_bytes()
        return prices_in(data[:_MOST_BYTES].decode("utf-8"), str(file))
    except OSError as problem:
        text = f"it cannot be read: {problem.strerror}"
    except UnicodeDecodeError:
        text = "it is no text in UTF-8"
    raise InputError([Fault(text, str(file), hint="Save the table as CSV in UTF-8.")])


def _of_table(file: Path, words: TypedRequest, question: KitQuestion) -> AskedKit:
    """Every row of a table, as often as its column `count` says."""
    whole = load_table(file)
    counts = {row.number: row.cells.get(COUNT, question.count or "1") for row in whole.rows}
    rows = rows_of(_without_counts(whole), dict(_recipes(whole)))
    unit = unit_asked(words.unit, [value for row in rows for _, value in row.values])
    faults, refused, orders = Faults(), [], []
    paper = faults.tried(lambda: _paper(words.paper, unit))
    cutting = faults.tried(lambda: kit_cutting(question, unit))
    seconds = faults.tried(lambda: seconds_asked(question.seconds))
    for row in rows:
        try:
            orders.append(_row(row, words, counts[row.number]))
        except InputError as problem:
            place = row_of(whole.source, row.number)
            faults.extend(replace(one, where=f"{place}, {one.where}") for one in problem.faults)
        except CannotMakeError as problem:
            refused.append((f"Row {row.number}, {row.title}, cannot be made:", problem.findings))
    if faults or paper is None or cutting is None or seconds is None:
        raise InputError(faults)
    if refused:
        raise RowsRefusedError(refused)
    return AskedKit(tuple(orders), unit, paper, cutting, seconds)


def _row(row: RowToMake, words: TypedRequest, count: str) -> KitOrder:
    wanted = asked(row_words(row, words), find=workshop().recipe, works=workshop().works)
    many = count_asked(count, COUNT)
    return KitOrder(made=workshop().make(wanted.order, wanted.hoops), count=many)


def _without_counts(whole: GradingTable) -> GradingTable:
    rows = (
        replace(row, cells={name: cell for name, cell in row.cells.items() if name != COUNT})
        for row in whole.rows
    )
    columns = tuple(name for name in whole.columns if name != COUNT)
    return replace(whole, columns=columns, rows=tuple(rows))


def _recipes(whole: GradingTable) -> Iterator[tuple[str, Recipe | None]]:
    for name in recipes_named(whole):
        try:
            yield name, find_recipe(name)
        except InputError:
            yield name, None


def _paper(typed: str, unit: Unit) -> Paper:
    papers = listed_papers()
    return find_paper(typed, papers, where="--paper") if typed else default_paper(unit, papers)


@contextmanager
def _seconds_left(seconds: float) -> Iterator[SecondsLeft]:
    """Count down; the first Ctrl-C ends the time, and nothing else."""
    until = [time.perf_counter() + seconds]

    def stop(_number: int, _frame: FrameType | None) -> None:
        until[0] = 0.0
        signal.signal(signal.SIGINT, signal.default_int_handler)

    try:
        before = signal.signal(signal.SIGINT, stop)
    except ValueError:  # not the main thread
        yield lambda: until[0] - time.perf_counter()
        return
    try:
        yield lambda: until[0] - time.perf_counter()
    finally:
        signal.signal(signal.SIGINT, before)
