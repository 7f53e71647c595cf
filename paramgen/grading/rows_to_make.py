"""From a table to the rows to make, with every fault of the table at once."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import islice
from pathlib import Path

from paramgen.grading.table_file import MOST_FAULTS, GradingTable, TableRow, row_of
from paramgen.lengths import as_typed, is_inch, parse_length, split_unit
from paramgen.nearest_word import did_you_mean
from paramgen.pack.file_names import length_name, safe_name
from paramgen.recipe.built_in_lengths import NAMES
from paramgen.recipe.read_recipe import Recipe
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Columns that are always the table's own.
RECIPE, HOOP, NAME = "recipe", "hoop", "name"
#: Columns that say the same as an option, unless the row's recipe has a value of that name.
UNIT, MARGIN, COPIES, TITLE, HOLDS = "unit", "margin", "copies", "title", "holds"
ON = "on"
_SHARED = (UNIT, MARGIN, COPIES, TITLE, HOLDS, ON)
OWN = (RECIPE, HOOP, NAME, *_SHARED)


@dataclass(frozen=True, kw_only=True)
class RowToMake:
    """A row to make.

    Parameters
    ----------
    number : int
        As a spreadsheet numbers it.
    folder : str
        Name of the folder it is made in.
    title : str
        Its name as typed; that of its folder if it has none.
    recipe : str
        Name or path, as typed.
    hoop, unit, margin, copies : str
        As typed; empty where they are not said.
    values : tuple of (name, text)
        Sizes, counts, choices and lengths, in the order of the columns.
    called, holds, on : str
        The title of the project, what it is made to hold and what is stitched on its panels, as
        typed; empty where not said.
    """

    number: int
    folder: str
    title: str
    recipe: str
    hoop: str
    unit: str
    margin: str
    copies: str
    values: tuple[tuple[str, str], ...]
    called: str = ""
    holds: str = ""
    on: str = ""


def rows_of(table: GradingTable, recipes: Mapping[str, Recipe | None]) -> tuple[RowToMake, ...]:
    """Understand a table.

    Parameters
    ----------
    table : GradingTable
    recipes : mapping of name or path to Recipe
        None for one that cannot be read: that is the fault of the rows that name it. So are
        values that a recipe does not take.

    Raises
    ------
    InputError
        With every fault of the table itself, those of its form too.
    """
    faults = [*table.faults, *_columns(table, recipes), *_no_recipe(table)]
    rows = [_row(row, recipes.get(row.cells.get(RECIPE, ""))) for row in table.rows]
    faults.extend(_same_names(table, rows))
    if len(faults) > MOST_FAULTS:
        more = Fault(f"there are {len(faults) - MOST_FAULTS} more faults", table.source)
        faults = [*islice(faults, MOST_FAULTS), more]
    if faults:
        raise InputError(faults)
    return tuple(_with_folders(rows))


def recipes_named(table: GradingTable) -> tuple[str, ...]:
    """Names and paths of the recipes of a table, each once."""
    named = (row.cells.get(RECIPE, "") for row in table.rows)
    return tuple(dict.fromkeys(name for name in named if name))


def _columns(table: GradingTable, recipes: Mapping[str, Recipe | None]) -> Iterator[Fault]:
    """Faults of columns that no recipe of the table has a value for."""
    known = [recipe for recipe in recipes.values() if recipe is not None]
    if len(known) < len(recipes):
        return  # it may be a value of the one that cannot be read
    valid = dict.fromkeys([*OWN, *(name for recipe in known for name in _values_of(recipe))])
    for column in dict.fromkeys(table.columns):
        near = did_you_mean(column, valid)
        if column and column not in valid and (known or near):
            hint = near or f"There are {', '.join(valid)}."
            yield Fault(f"no recipe of the table has `{column}`", table.source, hint=hint)


def _values_of(recipe: Recipe) -> tuple[str, ...]:
    file = recipe.file
    return (*file.sizes, *file.counts, *file.choices, *file.lengths, *NAMES)


def _no_recipe(table: GradingTable) -> Iterator[Fault]:
    if RECIPE not in table.columns:
        hint = "Add a column `recipe`; `paramgen list` shows the recipes."
        yield Fault("no column says which recipe", table.source, hint=hint)
        return
    for row in table.rows:
        if RECIPE not in row.cells:
            yield Fault("says no recipe", row_of(table.source, row.number))


def _row(row: TableRow, recipe: Recipe | None) -> RowToMake:
    cells = row.cells
    takes = _values_of(recipe) if recipe else ()
    # A recipe may call a length of its own `margin`: its rows mean that one, as make does.
    asked = {one: cells.get(one, "") for one in _SHARED if one not in takes}
    values = tuple(
        (column, cell)
        for column, cell in cells.items()
        if column not in (RECIPE, HOOP, NAME, *asked)
    )
    name, of = cells.get(NAME, ""), cells.get(RECIPE, "")
    folder = safe_name(name) if name else ""
    unit, margin, copies, called, holds, on = (asked.get(one, "") for one in _SHARED)
    hoop = cells.get(HOOP, "")
    return RowToMake(
        number=row.number,
        folder=folder,
        title=name,
        recipe=of,
        hoop=hoop,
        unit=unit,
        margin=margin,
        copies=copies,
        values=values,
        called=called,
        holds=holds,
        on=on,
    )


def _same_names(table: GradingTable, rows: list[RowToMake]) -> Iterator[Fault]:
    first: dict[str, RowToMake] = {}
    for row in rows:
        if row.folder:
            other = first.setdefault(row.folder, row)
            if other is not row:
                has = f"has the name {as_typed(row.title)}"
                if other.title != row.title:
                    has += f", which gives the folder `{row.folder}`"
                message = f"{has}, as row {other.number} does"
                hint = "Give every row a name of its own, or none."
                yield Fault(message, row_of(table.source, row.number), hint=hint)


def _shared(row: RowToMake) -> Iterator[tuple[str, str]]:
    """What a row says in place of an option, but for its unit."""
    yield from ((MARGIN, row.margin),) if row.margin else ()
    yield from ((COPIES, row.copies),) if row.copies else ()
    yield from ((HOLDS, row.holds),) if row.holds else ()
    yield from ((ON, row.on),) if row.on else ()


def _in_name(said: str) -> str:
    """A value for a file name: inches as fractions, since no name has a decimal point."""
    try:
        if is_inch(split_unit(said)[1]):
            return f"{length_name(parse_length(said), Unit.INCH)}in"
    except InputError:
        pass  # the row will say why
    return said


def _with_folders(rows: list[RowToMake]) -> Iterator[RowToMake]:
    """Name the folders of rows that have no name after what they ask, so that they stay.

    After their title alone, where no other row has it.
    """
    taken = {row.folder for row in rows if row.folder}
    called = Counter(safe_name(row.called) for row in rows if row.called and not row.folder)
    last: dict[str, int] = {}
    for row in rows:
        if row.folder:
            yield row
            continue
        own = safe_name(row.called) if row.called else ""
        if own and called[own] == 1 and own not in taken:
            taken.add(own)
            yield replace(row, folder=own, title=row.called)
            continue
        words = [
            row.called or Path(row.recipe).stem,
            *(f"{name} {_in_name(said)}" for name, said in row.values),
        ]
        words += [row.hoop, *(f"{name} {said}" for name, said in _shared(row)), row.unit]
        stem = safe_name(" ".join(words))
        count = last.get(stem, 1)
        folder = stem
        while folder in taken:
            count += 1
            folder = f"{stem}-{count}"
        taken.add(folder)
        last[stem] = count
        yield replace(row, folder=folder, title=folder)
