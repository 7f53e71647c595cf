"""Asking what holds things, and making what was found, for tests of holding."""

from collections.abc import Collection, Mapping
from functools import lru_cache

import pytest
from layout_orders import HOOPS

from paramgen.fit.smallest_holding import AVOIDED, HEEDED, HoldAnswer, held
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import Hoop, find_hoop
from paramgen.reference.things import SeveralThings, Thing, find_several, listed_things
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.unit import Unit

THINGS = listed_things()
RECIPES = {name: find_recipe(name) for name in ("fold-wallet", "zip-pouch", "plant-tag", "coaster")}
VAST = Room(Hoop("vast", 1000, 1000))


def several(*texts: str) -> tuple[SeveralThings, ...]:
    return tuple(find_several(text, THINGS) for text in texts)


@lru_cache
def answer(
    recipe: str,
    *texts: str,
    hoop: str = "",
    unit: Unit = Unit.MM,
    ease: float | None = None,
    asked: tuple[tuple[str, str], ...] = (),
) -> HoldAnswer:
    room = Room(find_hoop(hoop, HOOPS)) if hoop else VAST
    order = Order(RECIPES[recipe], dict(asked), room, unit)
    return held(order, several(*texts), ease=ease, hoops=HOOPS, any_hoop=not hoop)


def made(
    one: HoldAnswer, room: Room, sizes: Mapping[str, float], heeded: Collection[str] = HEEDED
) -> Made:
    """Make what was found, with other sizes if need be; raises if its thing is not held."""
    assert one.best is not None
    asked = {**one.order.asked, **one.best.way.asked, **sizes}
    project = make(Order(one.order.recipe, asked, room, one.order.unit))
    told = [finding for finding in project.project.findings if finding.code in heeded]
    if told:
        raise CannotMakeError(told)
    return project


def held_or_told(recipe: str, thing: Thing, number: int) -> None:
    order = Order(RECIPES[recipe], {}, VAST)
    one = held(order, [SeveralThings(thing, number)], hoops=HOOPS, any_hoop=True)
    if one.best is None:
        assert one.refused
        assert not one.works
        return
    findings = made(one, VAST, one.best.sizes).project.findings
    # What may come of no size is avoided where some size does without it.
    heeded = HEEDED if any(told.code in AVOIDED for told in findings) else AVOIDED
    for name, value in one.best.sizes.items():
        with pytest.raises((CannotMakeError, InputError)):
            made(one, VAST, {**one.best.sizes, name: value - 1}, heeded)
