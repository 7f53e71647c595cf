"""The largest of a size of which so many copies lie in a hoop at once."""

import math
from dataclasses import replace

from paramgen.copies.most_copies import spots_for, ways_of
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import edge, range_of
from paramgen.hooping import Room
from paramgen.lengths import TOLERANCE
from paramgen.making import Attempt, resizing
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.findings import Finding, Severity

#: So many marks less are tried where copies that have room meet one another's tape or lines.
MOST_LESS = 8


def largest_for_copies(
    asking: RememberedChecks, name: str, room: Room, copies: int
) -> float | None:
    """Find the largest of a size of which so many copies can be made at once.

    Parameters
    ----------
    asking : RememberedChecks
    name : str
        The size; the others are as asked.
    room : Room
    copies : int

    Returns
    -------
    float or None
        A whole mark of what is shown, mm; it can be made, and of those that were tried above it
        none has room. None if none was found.
    """
    one = range_of(asking, name, room)
    if one is None:
        return None
    order, mark = asking.order, SHOWN_TO[asking.unit]
    resize = resizing(order, asking.sized)

    def against(place: int) -> tuple[Finding, ...]:
        values = {name: round(place * mark, 9)}
        if reasons := asking.against(values, room):
            return reasons
        every = ways_of(
            resize(values), may_turn=room.may_turn, singly=order.singly, works=asking.works
        )
        enough = spots_for(every, room, copies) is not None
        return () if enough else (Finding("copies-exceeded", Severity.CANNOT),)

    first = math.ceil(one.least.value / mark - TOLERANCE)
    last = math.floor(one.most.value / mark + TOLERANCE)
    if first > last or against(first):
        return None
    found = edge(against, first, last)
    for place in range(found, max(first, found - MOST_LESS) - 1, -1):
        value = round(place * mark, 9)
        asked = {**order.asked, name: value}
        wanted = replace(order, asked=asked, room=room, further=(), copies=copies, scale=1.0)
        if Attempt(wanted, works=asking.works).made is not None:
            return value
    return None
