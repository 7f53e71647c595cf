"""What a process of the page does when it is asked, each by its name."""

from collections.abc import Iterator
from functools import partial

from markupsafe import Markup

from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.desk import Desk, keep_motif, keep_print
from paramgen.page.filled_templates import filled, filled_in_turn
from paramgen.page.project_parts import ShownProject, first_parts, later_parts, parts
from paramgen.page.typed_address import KEPT, address_of, entries_of
from paramgen.page.ways import WAYS
from paramgen.page.worker_side import Task, in_one
from paramgen.reference.things import listed_things
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english


def first_tasks(table: Desk) -> dict[str, Task]:
    """Tasks that show a project, by their names."""
    return {
        "keep-print": in_one(keep_print, table),
        "keep-motif": in_one(keep_motif, table),
        "pick": in_one(pick_page, table),
        "project": partial(project_page, table),
        "changes": partial(project_changes, table),
    }


def pick_page(table: Desk) -> str:
    """The page on which a recipe is picked."""
    found, faults = [], []
    for name in table.names:
        try:
            recipe = table.recipe(name)
        except InputError as problem:
            faults += list(problem.faults)
            continue
        found.append(
            {
                "name": name,
                "title": recipe.file.title,
                "summary": english().as_used(recipe.file.summary, Unit.MM),
                "holds": [one.title for one in recipe.file.holds.values()],
                "query": address_of(TypedRequest(recipe=name)),
            }
        )
    return filled("pick.html", recipes=found, faults=faults)


def project_page(table: Desk, query: str) -> Iterator[str]:
    """The whole page of a project, what is seen first before the rest is worked out."""
    shown = ShownProject(table, query)
    recipe = shown.recipe
    if recipe is None:
        own = shown.words.recipe in table.own
        yield filled("lost.html", faults=shown.faults, own=own, recipe=shown.words.recipe)
        return
    yield from filled_in_turn(
        "project.html",
        title=recipe.kind_for(shown.unit),
        words=shown.words,
        kept=[(name, dict(entries_of(shown.words)).get(name, "")) for name in KEPT],
        shown=shown,
        own=shown.words.recipe in table.own,
        hoops=table.hoops,
        first_hoop=shown.in_hoop.hoop,
        holds=", ".join(one.title for one in recipe.file.holds.values()),
        things=listed_things,
        parts=PartsInTurn(parts(shown)),
        ways=WAYS,
        here="/project",
        query=shown.address,
    )


def project_changes(
    table: Desk, query: str, text: str | None, only: str
) -> Iterator[tuple[str, str]]:
    """The parts of the page of a project, of a text of its recipe if there is one.

    Parameters
    ----------
    table : Desk
    query : str
    text : str or None
    only : str
        `picture`, as while it is dragged: all else is gone too soon. `rest`: all but that.
    """
    shown = ShownProject(table, query, text)
    if only != "rest":
        yield from first_parts(shown)
    if only != "picture":
        yield from later_parts(shown)


class PartsInTurn:
    """The parts of a page by their names, each worked out once it is looked up.

    Parameters
    ----------
    found : iterator of (name, html)
        A part that is not among them is empty.
    """

    def __init__(self, found: Iterator[tuple[str, str]]) -> None:
        self._found, self._known = found, dict[str, Markup]()

    def __getitem__(self, name: str) -> Markup:
        while name not in self._known:
            one, html = next(self._found, (name, ""))
            self._known[one] = Markup(html)
        return self._known[name]
