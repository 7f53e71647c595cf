"""The view of a kit, before its plan is worked out."""

from paramgen.kits.cloth_asked import roles_of
from paramgen.kits.price_names import price_names
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.kit_in_address import CLOTHS, COSTS, FIELDS, kit_in
from paramgen.page.project_parts import ShownProject
from paramgen.page.typed_address import entries_of
from paramgen.page.ways import WAYS


def kit_page(table: Desk, query: str) -> str:
    """The page of a kit, whose plan comes when it is worked out."""
    shown = ShownProject(table, query)
    form = shown.form
    if form is None:
        return filled("lost.html", faults=shown.faults, own=False, recipe=shown.words.recipe)
    asked = kit_in(query)
    made = shown.made
    return filled(
        "kit.html",
        title=table.recipe(shown.words.recipe).kind_for(shown.unit),
        shown=shown,
        made=made,
        sections=(CLOTHS, COSTS),
        entries=entries_of(shown.words),
        fields=[(one, asked.said.get(one.name, "")) for one in FIELDS],
        cloths=[(role, asked.cloths.get(role, "")) for role in dict.fromkeys(roles_of([made]))]
        if made
        else (),
        prices=[(name, title, asked.prices.get(name, "")) for name, title in price_names(made)]
        if made
        else (),
        ways=WAYS,
        here="/kit",
        query=shown.address,
    )
