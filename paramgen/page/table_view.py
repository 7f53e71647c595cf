"""Several sizes side by side: rows to edit, their verdicts, their fronts at one scale."""

import json
from base64 import b64encode
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.pictures.finished_views import finished_sheets, front_of
from paramgen.grading.row_job import of_its_fabrics, row_words
from paramgen.grading.rows_to_make import RECIPE, RowToMake, rows_of
from paramgen.grading.summary_entry import bare_picture
from paramgen.grading.table_file import GradingTable, read_table
from paramgen.ordering.meant_words import names_of
from paramgen.ordering.settings_filled_in import with_settings
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.asked_form import FormField
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.project_parts import ShownProject
from paramgen.page.table_in_address import (
    MOST_ROWS,
    SHARED,
    AskedTable,
    Row,
    as_csv,
    filled_rows,
    for_all_rows,
    table_in,
)
from paramgen.page.typed_address import address_of
from paramgen.page.ways import CSV, WAYS
from paramgen.page.worker_side import Task, in_one
from paramgen.recipe.read_recipe import Recipe
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.wording.say import sentence
from paramgen.works import Kept

#: Most pixels of a millimetre, and the widest that a front is shown.
_SCALE, _WIDEST = 1.4, 260.0


class ShownTable:
    """A table as it is shown.

    Parameters
    ----------
    desk : Desk
    query : str
    """

    def __init__(self, desk: Desk, query: str) -> None:
        self.desk = desk
        asked = table_in(query)
        # A row is made in some hoop: that which a project is shown in.
        self.asked = replace(asked, base=ShownProject(desk, address_of(asked.base)).in_hoop)

    def recipe(self, name: str) -> Recipe | None:
        """A recipe by its name; None if it cannot be had."""
        try:
            return self.desk.recipe(name)
        except InputError:
            return None

    def takes(self, name: str) -> Sequence[str]:
        """Names of the values that a recipe takes."""
        recipe = self.recipe(name)
        return names_of(recipe.file) if recipe else ()

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """What each row asks for, all of it."""
        return tuple(filled_rows(self.asked, self.takes))

    @cached_property
    def csv(self) -> bytes:
        """The table as a file."""
        return as_csv(self.rows)

    @cached_property
    def understood(self) -> tuple[RowToMake, ...] | tuple[Fault, ...]:
        """The rows as `paramgen grade` understands them, or what is wrong with the table."""
        try:
            table: GradingTable = read_table(self.csv, CSV)
            names = {row.get(RECIPE, "") for row in self.rows}
            return rows_of(table, {name: self.recipe(name) for name in sorted(names) if name})
        except InputError as problem:
            return problem.faults

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What is wrong with the table."""
        return tuple(one for one in self.understood if isinstance(one, Fault))

    @property
    def to_make(self) -> tuple[RowToMake, ...]:
        """Its rows; none if the table has faults."""
        return tuple(one for one in self.understood if isinstance(one, RowToMake))

    def shown(self, row: RowToMake) -> ShownProject:
        """What a row comes to."""
        words = row_words(row, self.for_all(row.recipe))
        return ShownProject(self.desk, address_of(replace(words, recipe=row.recipe)))

    def for_all(self, recipe: str) -> TypedRequest:
        """What goes for all rows alike, of the fabrics of one recipe alone."""
        return of_its_fabrics(for_all_rows(self.asked.base), self.recipe(recipe))

    @cached_property
    def project(self) -> ShownProject:
        """What all rows come to where they say nothing else."""
        return ShownProject(self.desk, address_of(self.asked.base))

    @cached_property
    def form(self) -> Mapping[str, FormField]:
        """What the recipe of all rows asks, by name."""
        found = self.project.form
        return {one.name: one for one in (*found.asks, *found.lengths)} if found else {}

    @property
    def columns(self) -> tuple[str, ...]:
        """Those that are shown."""
        recipe = self.recipe(self.asked.base.recipe)
        sizes = recipe.file.sizes if recipe else ()
        said = [name for row in self.asked.rows for name in row]
        return tuple(dict.fromkeys(("name", *sizes, *self.asked.more, *said)))

    @property
    def further(self) -> tuple[str, ...]:
        """Those that can be shown too."""
        return tuple(one for one in (*self.form, *SHARED) if one not in self.columns)


@dataclass(frozen=True, kw_only=True)
class _Front:
    """The front of a finished thing, as wide and high as it is shown, px."""

    data: str
    width: str
    height: str
    title: str


def table_page(table: Desk, query: str) -> str:
    """The page of a table; its rows are worked out after it is shown."""
    shown = ShownTable(table, query)
    project = shown.project
    if project.form is None:
        return filled("lost.html", faults=project.faults, own=False, recipe=project.words.recipe)
    return filled(
        "table.html",
        title=shown.asked.base.recipe.replace("-", " "),
        table=shown,
        base=shown.asked.base,
        most=MOST_ROWS,
        csv=CSV,
        address=shown.asked.address,
        ways=WAYS,
        here="/table",
        query=address_of(table_in(query).base),
    )


@dataclass(frozen=True, kw_only=True)
class _RowShown:
    """What a row comes to: its verdict, and its front as SVG and how wide and high that is, mm."""

    verdict: str
    svg: str = ""
    size: tuple[float, float] = (0.0, 0.0)
    title: str = ""


#: Rows by all that they follow from, so that only those that were changed are worked out anew.
RowsKept = Kept[_RowShown]


def table_parts(table: Desk, query: str, kept: RowsKept | None = None) -> Iterator[tuple[str, str]]:
    """Work out what each row comes to: verdicts as they come, then all fronts at one scale.

    Parameters
    ----------
    table : Desk
    query : str
    kept : RowsKept or None
        What was worked out before.

    Yields
    ------
    name, html : str
    """
    shown = ShownTable(table, query)
    kept = RowsKept(MOST_ROWS) if kept is None else kept
    yield "table-faults", filled("part_table_faults.html", faults=shown.faults)
    rows: list[_RowShown] = []
    for place, row in enumerate(shown.to_make):
        one = shown.shown(row)
        recipe = shown.recipe(row.recipe)
        # A file may be given after a row has asked for it.
        given = table.given.names
        key = (recipe.digest if recipe else "", repr(with_settings(one.words)), given)
        rows.append(kept.get(key, partial(_row_shown, one)))
        yield f"verdict-{place}", rows[-1].verdict
    scale = min(_SCALE, _WIDEST / max([one.size[0] for one in rows if one.svg], default=1.0))
    for place, found in enumerate(rows):
        front = _front(found, scale) if found.svg else None
        yield f"front-{place}", filled("part_front.html", front=front)


def _row_shown(one: ShownProject) -> _RowShown:
    verdict = filled("part_row.html", shown=one, told=_told(one), now=_now(one))
    if one.thing is None:
        return _RowShown(verdict=verdict)
    # With nothing round it, so that all lie side by side at true proportions.
    front = bare_picture(front_of(finished_sheets(one.thing, one.cloths)), "front")
    size = (front.box.width, front.box.height)
    return _RowShown(verdict=verdict, svg=to_svg(front), size=size, title=sentence(front.title))


def _now(one: ShownProject) -> str:
    """What everything that is asked is in a row, by name: also what follows from the rest."""
    form = one.form if one.attempt and not one.faults else None
    return json.dumps(
        {field.name: field.now for field in (*form.asks, *form.lengths)} if form else {}
    )


def _told(one: ShownProject) -> tuple[str, ...]:
    """Why a row cannot be made, in few words."""
    if one.faults:
        return tuple(map(one.labelled, one.faults))
    return tuple(found.message for found in one.findings if found.stops)


def _front(row: _RowShown, scale: float) -> _Front:
    # As a picture of its own, so that no two drawings of the page have marks of the same name.
    width, height = row.size
    return _Front(
        data=b64encode(row.svg.encode()).decode(),
        width=f"{width * scale:.0f}",
        height=f"{height * scale:.0f}",
        title=row.title,
    )


def pasted(table: Desk, query: str, text: str) -> str:
    """The address of a table after rows from a spreadsheet were put under it.

    Parameters
    ----------
    table : Desk
    query : str
    text : str
        Cells parted by tabs, commas or semicolons; its first row may name the columns, else
        they are those that are shown.

    Raises
    ------
    InputError
        If it is no table, or has too many rows.
    """
    shown = ShownTable(table, query)
    known = {*shown.form, *SHARED, *(name for one in table.names for name in shown.takes(one))}
    found = read_table(text.encode(), "what was pasted")
    if not known & {*found.columns}:
        names = "\t".join(shown.columns)
        sign = next((one for one in ("\t", ";", ",") if one in text.splitlines()[0]), "\t")
        found = read_table(f"{names.replace(chr(9), sign)}\n{text}".encode(), "what was pasted")
    if found.faults:
        raise InputError(found.faults)
    before = [row for row in shown.asked.rows if row]
    rows = (*before, *(dict(row.cells) for row in found.rows))
    if len(rows) > MOST_ROWS:
        hint = f"Make it with `paramgen grade {CSV}`."
        raise InputError([Fault(f"there are {len(rows)} rows, {MOST_ROWS} at most", hint=hint)])
    return AskedTable(shown.asked.base, rows, shown.asked.more).address


def table_file(table: Desk, query: str) -> str:
    """A table as a file."""
    return ShownTable(table, query).csv.decode()


def table_pasted(table: Desk, query: str, text: str) -> tuple[str, str]:
    """As `pasted`: `address` and the address, or `faults` and what is wrong."""
    try:
        return "address", pasted(table, query, text)
    except InputError as problem:
        return "faults", " ".join(map(str, problem.faults))


def table_tasks(table: Desk) -> dict[str, Task]:
    """What is asked of a table."""
    return {
        "table": in_one(table_page, table),
        "table-changes": partial(table_parts, table, kept=RowsKept(3 * MOST_ROWS)),
        "table-file": in_one(table_file, table),
        "table-pasted": in_one(table_pasted, table),
    }
