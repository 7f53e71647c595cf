"""What can be made instead of an order that was refused."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from paramgen.budget import CODE as OVER_BUDGET
from paramgen.fit.alternatives import sizes_instead
from paramgen.fit.fitting_hoops import hoops_that_take
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room
from paramgen.making import OF_THE_HOOP, Order
from paramgen.vocabulary.findings import CannotMakeError, Finding, Instead
from paramgen.works import AFRESH, Works


def known_ways(found: Sequence[Finding]) -> tuple[Instead, ...]:
    """What findings against an order say can be made; nothing that another of them forbids."""
    ways = [one for finding in found for one in finding.instead]
    if any(finding.stops and not finding.instead for finding in found):
        # As asked it cannot be made in any hoop.
        ways = [one for one in ways if one.sizes]
    return tuple(ways)


def worth_looking(found: Iterable[Finding]) -> bool:
    """Whether sizes may be looked for: not where another mends it seldom and takes as long."""
    return all(finding.code != OVER_BUDGET for finding in found)


def sizes_that_would_do(
    order: Order, asked: Order, found: Iterable[Finding], works: Works = AFRESH
) -> tuple[Order, tuple[Instead, ...]]:
    """Look for sizes that can be made.

    Parameters
    ----------
    order, asked : Order
        In the hoop that it was tried in last, and as it was asked for.
    found : iterable of Finding
        What was found against it.
    works : Works
        Keeps what was worked out.

    Returns
    -------
    Order
        With the hoop that takes them.
    tuple of Instead
        Empty if there are none.
    """
    rooms = [order.room]
    if not of_the_hoop(found):
        # No hoop was turned down yet: each that was asked may take what can be made.
        rooms = [*dict.fromkeys((order.room, asked.room, *asked.further))]
    for room in rooms:
        there = replace(order, room=room)
        if ways := sizes_instead(there, works):
            return there, ways
    return order, ()


def hoops_that_would_do(
    asking: RememberedChecks, rooms: Iterable[Room], found: Iterable[Finding]
) -> tuple[Instead, ...]:
    """Hoops that take it as asked, the smallest first.

    Parameters
    ----------
    asking : RememberedChecks
    rooms : iterable of Room
        Those to be tried.
    found : iterable of Finding
        What was found against it; nothing if that is not the hoop alone.
    """
    stops = [one for one in found if one.stops]
    if asking.order.copies != 1 or not stops or not all(one.code in OF_THE_HOOP for one in stops):
        return ()
    try:
        taken = hoops_that_take(asking, rooms)
    except CannotMakeError:
        return ()
    return tuple(Instead(hoop=one.room.hoop.name) for one in taken if one.takes)


def of_the_hoop(found: Iterable[Finding]) -> bool:
    """Whether another hoop may mend it."""
    return any(finding.code in OF_THE_HOOP for finding in found)
