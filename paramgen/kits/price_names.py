"""What can be given a price, by name, before anything is planned."""

from collections.abc import Iterator

from paramgen.amounts.project_materials import materials
from paramgen.kits.cloth_asked import roles_of
from paramgen.making import Made
from paramgen.reference.thread_sold import thread_sold

STABILISER, TAPE, THREAD, BOBBIN_THREAD = "stabiliser", "tape", "thread", "bobbin-thread"


def price_names(made: Made) -> Iterator[tuple[str, str]]:
    """Name and title of all that one project is made of: cloths, trims, notions, tape, thread."""
    taken = materials(made)
    yield from ((role, role) for role in dict.fromkeys(roles_of([made])))
    yield from ((one.role, one.role) for one in taken.cloths if one.sort == "trim")
    yield from {one.name: one.title for one in taken.notions}.items()
    yield from [(TAPE, "tape to hold pieces")] * bool(taken.tape)
    yield THREAD, "thread"
    if not thread_sold().bobbin.same:
        yield BOBBIN_THREAD, "bobbin thread"
