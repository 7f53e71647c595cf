"""Why no size works: what binds the most of the sizes that were tried."""

from collections import Counter

from paramgen.fit.remembered_checks import HOOP, LIMIT, RememberedChecks
from paramgen.hooping import Room
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class BindingReason:
    """What binds the most sizes.

    Parameters
    ----------
    finding : Finding
        As it was found of the first of them.
    binds, tried : int
        How many it binds, and of how many.
    """

    finding: Finding
    binds: int
    tried: int


def binds_most(asking: RememberedChecks, room: Room) -> BindingReason | None:
    """What speaks against the most sizes that were tried in a hoop.

    Sizes that the recipe does not take at all are not counted: none were wished for.

    Parameters
    ----------
    asking : RememberedChecks
        In which no size was found that works there.
    room : Room

    Returns
    -------
    BindingReason or None
        None if nothing speaks against any.
    """
    entries = asking.order.recipe.file.sizes
    # Where nothing was tried, as no size can lie there, the least says why.
    asking.against({name: one.least for name, one in entries.items() if one.least}, room)
    tried = [reasons for reasons in asking.remembered(room) if reasons]
    tried = [one for one in tried if any(reason.code != LIMIT for reason in one)] or tried
    first: dict[tuple[object, ...], Finding] = {}
    count: Counter[tuple[object, ...]] = Counter()
    for reasons in tried:
        for key, reason in {_about(one): one for one in reversed(reasons)}.items():
            first.setdefault(key, reason)
            count[key] += 1
    if not count:
        return None
    most, binds = max(count.items(), key=lambda one: one[1])
    return BindingReason(first[most], binds, len(tried))


def _about(reason: Finding) -> tuple[object, ...]:
    return (HOOP,) if reason.code == HOOP else reason.about
