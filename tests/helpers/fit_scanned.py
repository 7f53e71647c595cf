"""Regions of real recipes held to `make`, place by place."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

import numpy as np
import shapely

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_regions import SizeRegion, SizeRegions, regions
from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import Hoop, find_hoop, listed
from paramgen.vocabulary.findings import CannotMakeError, InputError

HOOPS = listed()

#: A place nearer to a boundary than this, mm, may be told wrong.
SLACK = 0.25

recipe = lru_cache(find_recipe)


def found(name: str, asked: dict[str, str | float], rooms: Sequence[Room]) -> SizeRegions:
    one = RememberedChecks(Order(recipe(name), asked, rooms[0]))
    return regions(one, "width", "height", rooms)


def makes(
    name: str, asked: dict[str, str | float], room: Room, width: float, height: float
) -> bool:
    order = Order(recipe(name), {**asked, "width": width, "height": height}, room)
    try:
        make(order)
    except (CannotMakeError, InputError):
        return False
    return True


def at_odds(
    region: SizeRegion,
    name: str,
    asked: dict[str, str | float],
    grid: Iterator[tuple[float, float]],
) -> list[tuple[float, float, bool]]:
    """Places of a grid where `make` says other than the region, and what it says."""
    room = region.room or Room(Hoop("vast", 900, 900))
    wrong = []
    for width, height in grid:
        place = shapely.Point(width, height)
        if shapely.boundary(region.area).distance(place) < SLACK:
            continue
        told = makes(name, asked, room, width, height)
        if told != shapely.contains(region.area, place):
            wrong.append((width, height, told))
    return wrong


ROOMS = (
    Room(find_hoop("100x100", HOOPS)),
    Room(find_hoop("130x180", HOOPS)),
    Room(find_hoop("130x180", HOOPS), may_turn=False),
    Room(Hoop("180x130", 180, 130), margin=4, may_turn=False),
)


def scan(
    first: tuple[float, float, int], second: tuple[float, float, int]
) -> Iterator[tuple[float, float]]:
    """Places evenly over both sizes, off the marks on which boundaries lie."""
    rows = (np.linspace(*one).round(1) for one in (first, second))
    yield from ((float(x), float(y)) for x, y in product(*rows))
