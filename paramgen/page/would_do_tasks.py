"""What would do instead of what was refused, looked for while a person reads why."""

from collections.abc import Iterator
from dataclasses import replace

from paramgen.fit.what_would_do import (
    hoops_that_would_do,
    known_ways,
    sizes_that_would_do,
    worth_looking,
)
from paramgen.making import Order
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.long_jobs import JobResult, JobStage, JobState, Told
from paramgen.page.project_parts import ShownProject
from paramgen.page.watched_work import Tell, watched
from paramgen.reference.hoops import smallest_first
from paramgen.vocabulary.findings import CannotMakeError, InputError, Instead

#: So many further hoops are offered, the smallest first, a person's own before others.
MOST_HOOPS = 4


def would_do(table: Desk, query: str) -> Iterator[Told]:
    """Look for what would do.

    Parameters
    ----------
    table : Desk
    query : str
        What was refused.
    """
    yield JobState(JobStage.WORKING, "Looking for what can be made")
    shown = ShownProject(table, query)
    try:
        ways = yield from watched(lambda tell: _ways(table, shown, tell))
    except (InputError, CannotMakeError):
        ways = ()
    offered = [(shown.way(one), shown.address_instead(one)) for one in ways]
    sought = shown.to_be_looked_for and not shown.ways
    html = filled("part_would_do.html", ways=offered, sought=sought, query=shown.address)
    yield JobResult("text/html", "", html.encode())


def _ways(table: Desk, shown: ShownProject, tell: Tell) -> tuple[Instead, ...]:
    attempt, wanted = shown.attempt, shown.wanted
    if attempt is None or wanted is None or attempt.sized is None or attempt.made is not None:
        return ()
    found = attempt.findings
    if not worth_looking(found):
        return ()
    order = replace(wanted.order, room=attempt.room)
    known = known_ways(found)
    ways: list[Instead] = []
    if not known:
        there, ways[:] = sizes_that_would_do(order, wanted.order, found, table.workshop.works)
        ways = [replace(one, hoop=there.room.hoop.name) for one in ways]
    tell(JobState(JobStage.WORKING, "Looking for hoops that take it"))
    every = (replace(order.room, hoop=one) for one in table.hoops)
    rooms = [one for one in every if min(one.field) > 0]
    hoops = hoops_that_would_do(table.workshop.asking(order), rooms, found)
    named = {one.hoop for one in known if not one.sizes}
    mine = {one.name for one in table.hoops if one.mine}
    others = sorted(
        (one for one in hoops if one.hoop not in named), key=lambda one: one.hoop not in mine
    )
    if not (known or ways or others):
        ways = _sizes_in_larger_hoops(table, order, tell)
    return (*ways, *others[:MOST_HOOPS])


def _sizes_in_larger_hoops(table: Desk, order: Order, tell: Tell) -> list[Instead]:
    """Sizes that the next larger hoop takes that takes any: as asked none does, nor any size here.

    A thing to hold may ask for a size that another hoop alone has room for.
    """
    asked = order.room.hoop
    larger = [
        one
        for one in smallest_first(table.hoops)
        if one.width * one.height > asked.width * asked.height
    ]
    for hoop in larger[:MOST_HOOPS]:
        tell(JobState(JobStage.WORKING, f"Looking for sizes in hoop {hoop.name}"))
        there = replace(order, room=replace(order.room, hoop=hoop), further=())
        _, ways = sizes_that_would_do(there, there, (), table.workshop.works)
        if ways:
            return [replace(one, hoop=hoop.name) for one in ways]
    return []
