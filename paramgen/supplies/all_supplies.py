"""Everything to have for a project, in the order in which it is first needed."""

from collections.abc import Iterator
from dataclasses import replace

from paramgen.lengths import show_both
from paramgen.making import Made
from paramgen.reference.supply_list import listed_supplies
from paramgen.supplies.fabrics_to_have import fabrics, interfacings
from paramgen.supplies.first_needed import first_needed, notion_needed
from paramgen.supplies.machine_supplies import needles, reckon
from paramgen.supplies.supply import Supply
from paramgen.vocabulary.kinds import NotionSort
from paramgen.vocabulary.project import Notion, Project
from paramgen.wording.load import english


def supplies(made: Made) -> tuple[Supply, ...]:
    """List all there is to have, for all copies; what is needed first comes first."""
    project = made.project
    found = (
        *fabrics(project),
        *interfacings(project),
        *(_notion(one, project) for one in project.notions if not one.fills_hoop),
        *_items(made),
        *needles(made),
    )
    return tuple(sorted(found, key=lambda one: one.step))


def _notion(notion: Notion, project: Project) -> Supply:
    unit = project.unit
    parts = [f"{notion.quantity}"]
    if notion.length:
        parts.append(f"at least {show_both(notion.length, unit)} long")
    if notion.width and notion.sort is NotionSort.ZIP:
        parts.append(f"{show_both(notion.width, unit)} wide when closed")
    if notion.width and notion.sort is NotionSort.ELASTIC:
        parts.append(f"{show_both(notion.width, unit)} wide")
    if notion.coil:
        parts.append(f"coil about {show_both(notion.coil, unit)} wide")
    return Supply(
        name=notion.name,
        sort="notion",
        title=notion.title,
        amount=", ".join(parts),
        step=notion_needed(notion, project),
        quantity=notion.quantity,
        length=notion.length,
        width=notion.width,
    )


def _items(made: Made) -> Iterator[Supply]:
    """What the reference data lists; the recipe may name the stabiliser itself."""
    unit = made.project.unit
    own = next((notion for notion in made.project.notions if notion.fills_hoop), None)
    for item in listed_supplies():
        step = first_needed(item.when, made)
        if step is None:
            continue
        title, note = (english().as_used(text, unit) for text in (item.title, item.note))
        supply = Supply(name=item.name, sort=item.sort, title=title, note=note, step=step)
        if item.amount == "sheet" and own:
            supply = replace(supply, name=own.name, title=own.title)
        yield reckon(item.amount, supply, made)
