"""What a process of the page does beside showing a project; loaded once that is shown."""

import contextlib
from collections.abc import Iterator
from functools import partial

from markupsafe import Markup

from paramgen.booklet.lettered_pictures import plain
from paramgen.drawings.pictures.finished_views import finished_sheets, front_of
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.kit_view import kit_page
from paramgen.page.project_parts import ShownProject
from paramgen.page.recipe_writing import write_page
from paramgen.page.sizes_tasks import sizes_page
from paramgen.page.solid_view import solid_json
from paramgen.page.step_view import StepTeller, step_parts
from paramgen.page.stitch_file_view import stitch_file_parts
from paramgen.page.table_view import table_tasks
from paramgen.page.taking_tasks import take_page
from paramgen.page.ways import WAYS
from paramgen.page.worker_side import Task, in_one
from paramgen.reference.hoops import smallest_first
from paramgen.vocabulary.findings import InputError


def more_tasks(table: Desk) -> dict[str, Task]:
    """Tasks beside the first, by their names."""
    teller = StepTeller()
    return {
        "steps": in_one(steps_page, table, teller),
        "step-changes": partial(step_changes, table, teller),
        "solid": in_one(solid_json, table),
        "sizes": in_one(sizes_page, table),
        "take": in_one(take_page, table),
        "kit-page": in_one(kit_page, table),
        "write": in_one(write_page, table),
        "stitch-file-page": in_one(filled, "stitch_file.html"),
        "stitch-file": partial(stitch_file_parts, table),
        "recipe-picture": partial(recipe_picture, table),
        **table_tasks(table),
    }


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


def recipe_picture(table: Desk, name: str) -> Iterator[str]:
    """The finished thing of a recipe in its own sizes, as SVG; nothing if it has none."""
    largest = smallest_first(table.hoops)[-1]
    with contextlib.suppress(InputError):  # there is no such recipe, or it has faults
        attempt = table.workshop.attempt(Order(table.recipe(name), {}, Room(largest)))
        if attempt.proven is not None:
            yield plain(front_of(finished_sheets(attempt.proven.thing)), *PICK_ROOM).svg


#: Room for the picture of a recipe where it is picked, mm.
PICK_ROOM = (90.0, 72.0)
