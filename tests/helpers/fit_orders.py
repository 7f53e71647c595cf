"""Orders of the shipped recipes at random, and what must hold of the ranges of their sizes."""

from collections.abc import Mapping
from functools import lru_cache

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from paramgen.fit.free_ranges import free_range
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import range_of
from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.reference.hoops import Hoop, listed
from paramgen.vocabulary.findings import CannotMakeError, InputError

HOOPS = listed()
RECIPES = ("coaster", "fold-wallet", "plant-tag", "zip-pouch")

recipe = lru_cache(find_recipe)


def passes(one: RememberedChecks, room: Room, values: Mapping[str, float]) -> bool:
    """Whether `make` itself makes it."""
    order = Order(one.order.recipe, {**one.order.asked, **values}, room, one.order.unit)
    try:
        make(order)
    except (CannotMakeError, InputError):
        return False
    return True


def beside(value: float, by: int) -> float:
    return round(value + by * 0.1, 9)


def choices_and_counts(draw: st.DrawFn, of: Recipe) -> dict[str, str | float]:
    asked: dict[str, str | float] = {}
    for name, choice in of.file.choices.items():
        asked[name] = draw(st.sampled_from(sorted(choice.options)))
    for name, count in of.file.counts.items():
        asked[name] = str(draw(st.integers(count.least, count.most)))
    return asked


@st.composite
def orders(draw: st.DrawFn, *, sizes: bool = True) -> RememberedChecks:
    """An order of a shipped recipe, its sizes in its limits; some can be made and some not."""
    of = recipe(draw(st.sampled_from(RECIPES)))
    asked = choices_and_counts(draw, of)
    for name, entry in of.file.sizes.items():
        assert entry.least is not None
        assert entry.most is not None
        tenths = st.integers(round(entry.least * 10), round(entry.most * 10))
        if sizes and draw(st.booleans()):
            asked[name] = draw(tenths) / 10
    return RememberedChecks(Order(of, asked, Room(HOOPS[0])))


ROOMS = st.builds(
    Room,
    st.sampled_from(HOOPS)
    | st.builds(Hoop, st.just("own"), st.integers(90, 400), st.integers(90, 400)),
    st.sampled_from((0.0, 3.0)),
    st.booleans(),
)

SLOW = settings(suppress_health_check=[HealthCheck.too_slow])


def agrees_with_make(one: RememberedChecks, room: Room) -> None:
    """Nothing speaks against sizes exactly when they can be made."""
    assert (not one.against({}, room)) == passes(one, room, {})


def ends_where_make_ends(one: RememberedChecks, room: Room, which: int) -> None:
    """Both ends of a range can be made, and a tenth of a millimetre beyond cannot."""
    name = list(one.sizes({}))[which]
    found = range_of(one, name, room)
    if found is None:
        assert not passes(one, room, {})
        return
    for end, by in ((found.least, -1), (found.most, 1)):
        assert passes(one, room, {name: end.value})
        assert not passes(one, room, {name: beside(end.value, by)})


def ends_with_the_others_named(one: RememberedChecks, room: Room, which: int) -> None:
    """Where the others may follow, the ends can be made with those named."""
    name = list(one.sizes({}))[which]
    alone, found = range_of(one, name, room), free_range(one, name, room)
    if found is None:
        assert alone is None
        return
    for end, by in ((found.least, -1), (found.most, 1)):
        assert passes(one, room, {**end.others, name: end.value})
        assert not passes(one, room, {**end.others, name: beside(end.value, by)})
    if alone is not None:
        assert found.least.value <= alone.least.value
        assert found.most.value >= alone.most.value
