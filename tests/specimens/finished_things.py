"""Rehearsed things for tests of their pictures, and what can be seen in a picture."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import shapely
from flat_recipe import flat_text
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import Recipe, find_recipe, read_recipe
from paramgen.rehearsal.outside_hollow import Rehearsed, work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.unit import Unit

AREAS = (Style.RIGHT_SIDE, Style.WRONG_SIDE, Style.ZIP_TAPE, Style.HELD)


@lru_cache
def recipe(name: str) -> Recipe:
    return find_recipe(name)


def altered(name: str, old: str, new: str) -> Recipe:
    """A recipe with one thing in it changed."""
    text = flat_text(name)
    assert text.count(old) == 1, old
    return read_recipe(text.replace(old, new), name=name, source=name)


def worked(
    which: str | Recipe, asked: Mapping[str, str | float] | None = None, unit: Unit = Unit.MM
) -> FinishedThing:
    return finish(sewn(which, asked, unit))


def sewn(
    which: str | Recipe, asked: Mapping[str, str | float] | None = None, unit: Unit = Unit.MM
) -> Rehearsed:
    """The same before it is turned out."""
    one = recipe(which) if isinstance(which, str) else which
    return work_through(lay_out(size(one, asked or {}, unit=unit), chord_error=COARSE))


def empty(thing: FinishedThing) -> FinishedThing:
    """The same with nothing in its pockets."""
    done = thing.done
    return replace(thing, done=replace(done, project=replace(done.project, holds=())))


def seen(drawing: Drawing) -> dict[tuple[str, Style], BaseGeometry]:
    """What a picture shows of each piece by its title, painted over as it is drawn."""
    (picture,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
    found: dict[tuple[str, Style], BaseGeometry] = {}
    for group in picture.items:
        if isinstance(group, Group):
            for shape in group.items:
                if isinstance(shape, Shape) and shape.style in AREAS:
                    room = shape.path.area
                    found = {key: rest - room for key, rest in found.items()}
                    key = (group.title, shape.style)
                    found[key] = found.get(key, shapely.Polygon()) | room
    return {key: room for key, room in found.items() if room.area > 1e-6}
