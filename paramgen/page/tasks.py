"""What a process of the page does when it is asked, each by its name."""

import contextlib
from collections.abc import Iterator, Mapping
from functools import partial

from markupsafe import Markup

from paramgen.booklet.lettered_pictures import plain
from paramgen.drawings.pictures.finished_views import finished_sheets, front_of
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.desk import Desk, desk, filled_in, keep_print
from paramgen.page.filled_templates import filled
from paramgen.page.print_store import PrintStore
from paramgen.page.project_parts import ShownProject, parts
from paramgen.page.recipe_writing import write_page
from paramgen.page.sizes_tasks import sizes_page
from paramgen.page.solid_view import solid_json
from paramgen.page.step_view import StepTeller, step_parts
from paramgen.page.stitch_file_view import stitch_file_parts
from paramgen.page.table_view import table_tasks
from paramgen.page.taking_tasks import take_page
from paramgen.page.typed_address import KEPT, address_of, entries_of
from paramgen.page.ways import WAYS
from paramgen.page.worker_side import Task, in_one
from paramgen.reference.hoops import smallest_first
from paramgen.reference.things import listed_things
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english


def prepare(own: Mapping[str, str], prints: PrintStore | None = None) -> dict[str, Task]:
    """Make a process ready; gives its tasks by their names."""
    table = desk(own, prints)
    teller = StepTeller()
    return {
        "keep-print": in_one(keep_print, table),
        "pick": in_one(pick_page, table),
        "project": in_one(project_page, table),
        "changes": partial(project_changes, table),
        "steps": in_one(steps_page, table, teller),
        "step-changes": partial(step_changes, table, teller),
        "solid": in_one(solid_json, table),
        "sizes": in_one(sizes_page, table),
        "take": in_one(take_page, table),
        "write": in_one(write_page, table),
        "stitch-file-page": in_one(filled, "stitch_file.html"),
        "stitch-file": partial(stitch_file_parts, table),
        "recipe-picture": partial(recipe_picture, table),
        **table_tasks(table),
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
        words = filled_in(TypedRequest(recipe=name), table.hoops, table.settings)
        found.append(
            {
                "name": name,
                "title": recipe.file.title,
                "summary": english().as_used(recipe.file.summary, Unit.MM),
                "query": address_of(words),
            }
        )
    return filled("pick.html", recipes=found, faults=faults)


def project_page(table: Desk, query: str) -> str:
    """The whole page of a project."""
    shown = ShownProject(table, query)
    form = shown.form
    if form is None:
        own = shown.words.recipe in table.own
        return filled("lost.html", faults=shown.faults, own=own, recipe=shown.words.recipe)
    recipe = table.recipe(shown.words.recipe)
    found = {name: Markup(html) for name, html in parts(shown)}
    empty = dict.fromkeys(PARTS, "")
    return filled(
        "project.html",
        title=recipe.kind_for(shown.unit),
        words=shown.words,
        kept=[(name, dict(entries_of(shown.words)).get(name, "")) for name in KEPT],
        form=form,
        own=shown.words.recipe in table.own,
        hoops=table.hoops,
        first_hoop=filled_in(shown.words, table.hoops, table.settings).hoop,
        holds=", ".join(one.title for one in recipe.file.holds.values()),
        things=listed_things(),
        parts={**empty, **found},
        ways=WAYS,
        here="/project",
        query=shown.address,
    )


def project_changes(
    table: Desk, query: str, text: str | None, brief: bool
) -> Iterator[tuple[str, str]]:
    """The parts of the page of a project, of a text of its recipe if there is one.

    Parameters
    ----------
    table : Desk
    query : str
    text : str or None
    brief : bool
        While it is dragged: all but the picture is gone too soon.
    """
    for name, html in parts(ShownProject(table, query, text)):
        yield name, html
        if brief and name == "picture":
            return


def steps_page(table: Desk, teller: StepTeller, query: str, step: str, side: str) -> str:
    """The page of one step."""
    shown = ShownProject(table, query)
    ((_, part),) = step_parts(shown, teller, step, side)
    made = shown.made
    return filled(
        "steps.html",
        title=made.project.title if made else "nothing to do yet",
        part=Markup(part),
        steps=made.project.steps if made else (),
        ways=WAYS,
        here="/steps",
        query=shown.address,
    )


def step_changes(
    table: Desk, teller: StepTeller, query: str, step: str, side: str
) -> Iterator[tuple[str, str]]:
    """The part of the page of one step that changes."""
    yield from step_parts(ShownProject(table, query), teller, step, side)


#: The parts of `project.html` but for its form: empty where what is typed is not understood.
PARTS = ("verdict", "picture", "marks", "findings", "finished", "cut", "have", "steps")


def recipe_picture(table: Desk, name: str) -> Iterator[str]:
    """The finished thing of a recipe in its own sizes, as SVG; nothing if it has none."""
    largest = smallest_first(table.hoops)[-1]
    with contextlib.suppress(InputError):  # there is no such recipe, or it has faults
        attempt = table.workshop.attempt(Order(table.recipe(name), {}, Room(largest)))
        if attempt.proven is not None:
            yield plain(front_of(finished_sheets(attempt.proven.thing)), *PICK_ROOM).svg


#: Room for the picture of a recipe where it is picked, mm.
PICK_ROOM = (90.0, 72.0)
