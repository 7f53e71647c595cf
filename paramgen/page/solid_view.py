"""The finished thing as a solid, for the page to turn."""

import json
from collections.abc import Iterator

from paramgen.drawings.pictures.solid_scene import as_scene
from paramgen.page.project_parts import ShownProject
from paramgen.solid.solid_of import solid_of


def solid_json(shown: ShownProject) -> Iterator[str]:
    """The solid as JSON; null if there is no finished thing."""
    thing = shown.thing
    yield json.dumps(as_scene(solid_of(thing), thing, shown.cloths) if thing else None)
