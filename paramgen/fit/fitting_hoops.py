"""Which hoops take a project as it is, which way round, and how much room is left.

That is of one copy; how many lie in each is counted by `copies/`, in those hoops alone.
"""

from collections.abc import Iterable
from dataclasses import replace

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room
from paramgen.making import make
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.vocabulary.findings import CannotMakeError, Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.works import Needs


@dataclass(frozen=True)
class HoopFit:
    """How a project lies in a hoop.

    Parameters
    ----------
    room : Room
    turned : bool
        Which way round: as it fits, or, where it does not, as it sticks out less.
    left : (width, height)
        Room left in the field, both sides together, mm; negative where it sticks out.
    """

    room: Room
    turned: bool
    left: tuple[float, float]

    @property
    def takes(self) -> bool:
        """Whether the hoop takes it."""
        return min(self.left) >= 0


def hoops_that_take(asking: RememberedChecks, rooms: Iterable[Room]) -> tuple[HoopFit, ...]:
    """Try a project, as it is asked for, in hoops.

    Parameters
    ----------
    asking : RememberedChecks
    rooms : iterable of Room

    Returns
    -------
    tuple of HoopFit
        The smallest hoop first.

    Raises
    ------
    CannotMakeError
        If it cannot be made in any hoop: every finding.
    """
    needs = {turned: asking.needs({}, turned=turned) for turned in (False, True)}
    ways = {turned: need for turned, need in needs.items() if need is not None}
    if not ways or asking.by_rehearsal({}):
        raise CannotMakeError(_findings(asking))
    by_hoop = {room.hoop: room for room in rooms}
    return tuple(_lies(by_hoop[hoop], ways) for hoop in smallest_first(by_hoop))


def _lies(room: Room, needs: dict[bool, Needs]) -> HoopFit:
    turned = min(room.ways, key=lambda way: (max(room.over(needs[way])), way))
    field, wanted = room.field, needs[turned]
    over = room.over(wanted)
    # What sticks out by no more than the noise of reckoning does not stick out.
    left = tuple(
        has - want if out else max(0.0, has - want)
        for has, want, out in zip(field, wanted, over, strict=True)
    )
    return HoopFit(room, turned, (left[0], left[1]))


def _findings(asking: RememberedChecks) -> tuple[Finding, ...]:
    """Everything that is found against a project in a hoop that is large enough."""
    needs = asking.needs({}, turned=False) or (1.0, 1.0)
    order = replace(asking.order, room=Room(Hoop("", *needs)))
    try:
        make(order, works=asking.works)
    except CannotMakeError as problem:
        return problem.findings
    return ()
