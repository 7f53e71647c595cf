"""From which size to which a project can be made if its other sizes may follow."""

from collections.abc import Mapping, Sequence

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import (
    RangeEnd,
    SizeRange,
    SizeSearch,
    between,
    edge,
    limits,
    mm,
    nearest,
    range_of,
    steps,
)
from paramgen.hooping import Room
from paramgen.vocabulary.findings import Finding, Severity

#: Places from least to most where a size is looked for that works with any values of the others.
LOOKS = 8


def free_range(asking: RememberedChecks, name: str, room: Room | None) -> SizeRange | None:
    """Find from where to where a size works with some values of the others.

    Parameters
    ----------
    asking : RememberedChecks
    name : str
    room : Room or None
        None for no hoop in particular.

    Returns
    -------
    SizeRange or None
        Its ends say with which other sizes they work; None if nothing was found that works.
    """
    others = [one for one in asking.sizes({}) if one != name]
    known: dict[int, dict[str, float]] = {}

    def against(place: int) -> tuple[Finding, ...]:
        fixed = {name: mm(place)}
        # What went with the place next to it goes with this one, more often than not.
        for tried in sorted(known, key=lambda one: abs(one - place))[:2]:
            if not asking.against({**known[tried], **fixed}, room):
                known[place] = known[tried]
                return ()
        found = companions(asking, fixed, others, room)
        if found is None:
            return (NOTHING,)
        known[place] = found
        return ()

    first, last = limits(asking, name)
    alone = range_of(asking, name, room)
    if alone is not None:
        # What works with the others as asked works here too.
        low, high = (steps(end.value) for end in (alone.least, alone.most))
        known[low] = known[high] = {}
    else:
        asked = steps(asking.sizes({})[name])
        inside = nearest(against, min(max(asked, first), last), first, last, LOOKS)
        if inside is None:
            return None
        low = high = inside
    ends = {}
    for by, inside, limit in ((-1, low, first), (1, high, last)):
        place = edge(against, inside, limit)
        end = SizeSearch(asking, name, room, known[place]).end(place, by)
        ends[by] = RangeEnd(end.value, end.binds, known[place])
    return SizeRange(name, ends[-1], ends[1])


#: Stands for whatever it is that no values of the other sizes mend.
NOTHING = Finding("nothing-goes-with-it", Severity.CANNOT)


def companions(
    asking: RememberedChecks, fixed: Mapping[str, float], names: Sequence[str], room: Room | None
) -> dict[str, float] | None:
    """Find values of further sizes that make some sizes work, as asked if that will do.

    Returns
    -------
    dict of name to mm, or None
        None if none was found.
    """
    if not asking.against(fixed, room):
        return {}
    if not names:
        return None
    name, *rest = names
    if not rest:
        place = SizeSearch(asking, name, room, fixed).inside()
        return None if place is None else {name: mm(place)}
    first, last = limits(asking, name)
    for place in (first, *between(first, last, LOOKS), last):
        values = {name: mm(place)}
        found = companions(asking, {**fixed, **values}, rest, room)
        if found is not None:
            return {**values, **found}
    return None
