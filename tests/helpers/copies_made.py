"""Several copies of the shipped recipes, and what each takes of the hoop."""

from collections.abc import Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.copies.copies_in_hoop import CopiesInHoop, put_copies_in_hoop
from paramgen.hooping import Hooped, Room
from paramgen.making import Made, Order, make, resizing
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import Hoop, find_hoop, listed
from paramgen.sizing import Sized, size
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

HOOPS = listed()


LARGE = find_hoop("360x350", HOOPS)


Asked = Mapping[str, str | float]


def sized_as(recipe: str, asked: Asked | None = None) -> Sized:
    return size(find_recipe(recipe), asked or {}, unit=Unit.MM)


def several(
    recipe: str,
    copies: int | str,
    hoop: Hoop = LARGE,
    asked: Asked | None = None,
    *,
    may_turn: bool = True,
    search: bool = True,
    singly: bool = False,
) -> Hooped:
    wanted: CopiesInHoop = "most" if isinstance(copies, str) else copies
    room = Room(hoop, 0.0, may_turn)
    order = Order(find_recipe(recipe), asked or {}, room, copies=wanted, singly=singly)
    sized = size(order.recipe, order.asked, unit=order.unit)
    resize = resizing(order, sized) if search else _no_search
    hoops = HOOPS if search else ()
    return put_copies_in_hoop(
        sized, order.room, order.copies, resize=resize, hoops=hoops, singly=order.singly
    )


def _no_search(values: Mapping[str, float]) -> Sized:
    raise CannotMakeError([])


def made(
    recipe: str,
    copies: int,
    asked: Asked | None = None,
    hoop: Hoop = LARGE,
    *,
    singly: bool = False,
) -> Made:
    room = Room(hoop)
    return make(Order(find_recipe(recipe), asked or {}, room, copies=copies, singly=singly), HOOPS)


def part(every: Sequence, which: int, copies: int) -> Sequence:  # type: ignore[type-arg]
    """What is one copy's of what a step has for all."""
    share = len(every) // copies
    assert share * copies == len(every)
    return every[which * share : (which + 1) * share]


def room_of(project: Project, which: int, *, tape: bool = True) -> BaseGeometry:
    """All that one copy takes of the hoop alone: not what is one sheet over all copies."""
    count = project.copies
    found: list[BaseGeometry] = []
    for step in project.steps:
        for line in part(step.lines, which, count):
            found += [
                shapely.LineString(path.points).buffer(line.stitch.aside) for path in line.paths
            ]
        found += [shapely.LineString(one.points) for one in part(step.mark, which, count)]
        if step.over_all:
            continue
        found += [shapely.Polygon(one.outline.points) for one in part(step.layers, which, count)]
        strips = part(step.tape, which, count) if tape else ()
        found += [shapely.Polygon(one.points) for one in strips]
    for notion in project.notions:
        for place in (*part(notion.halves, which, count), *part(notion.at, which, count)):
            found.append(shapely.Point(place).buffer(notion.clearance))
    return shapely.union_all(found)
