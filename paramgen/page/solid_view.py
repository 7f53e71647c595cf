"""The finished thing as a solid, for the page to turn."""

import json

from paramgen.drawings.pictures.solid_scene import as_scene
from paramgen.page.desk import Desk
from paramgen.page.project_parts import ShownProject
from paramgen.solid.solid_of import solid_of


def solid_json(table: Desk, query: str) -> str:
    """The solid as JSON; null if there is no finished thing."""
    shown = ShownProject(table, query)
    thing = shown.thing
    return json.dumps(as_scene(solid_of(thing), thing, shown.cloths) if thing else None)
