"""Thread for all of a kit: of needle and bobbin, bobbins and spools, and what rules would say."""

import math
from collections.abc import Sequence

from paramgen.amounts.lockstitch import USUAL_301, USUAL_BOBBIN, USUAL_NEEDLE
from paramgen.amounts.stitched_thread import StepThread, ThreadTaken, step_threads, thread_of
from paramgen.kits.kit_order import KitOrder
from paramgen.reference.thread_sold import ThreadSold
from paramgen.vocabulary.frozen_data import dataclass

#: Least and most.
LeastMost = tuple[float, float]
CountRange = tuple[int, int]


@dataclass(frozen=True, kw_only=True)
class ProjectThread:
    """Thread of one project.

    Parameters
    ----------
    title : str
    hoopings : int
    steps : tuple of StepThread
        Of one hooping, without waste.
    one : ThreadTaken
        For one hooping, waste included.
    """

    title: str
    hoopings: int
    steps: tuple[StepThread, ...]
    one: ThreadTaken


@dataclass(frozen=True, kw_only=True)
class KitThread:
    """Thread of all projects, waste included; lengths are mm.

    Parameters
    ----------
    sold : ThreadSold
    projects : tuple of ProjectThread
    """

    sold: ThreadSold
    projects: tuple[ProjectThread, ...]

    @property
    def all(self) -> ThreadTaken:
        """Of all hoopings together."""
        every = [one.one.times(one.hoopings) for one in self.projects]
        return ThreadTaken(
            needle=_sum([one.needle for one in every]),
            bobbin=_sum([one.bobbin for one in every]),
            both=_sum([one.both for one in every]),
        )

    @property
    def bobbins(self) -> CountRange:
        """Bobbins to wind."""
        return _whole(self.all.bobbin, self.sold.bobbin.length)

    @property
    def spools(self) -> CountRange:
        """Spools of needle thread, and of that in the bobbin if it is the same."""
        taken = self.all.both if self.sold.bobbin.same else self.all.needle
        return _whole(taken, self.sold.needle.spool)

    @property
    def bobbin_spools(self) -> CountRange:
        """Spools of a bobbin thread of its own."""
        if self.sold.bobbin.same:
            return 0, 0
        return _whole(self.all.bobbin, self.sold.bobbin.spool)

    @property
    def stitches(self) -> int:
        """Of all hoopings."""
        return sum(one.hoopings * step.stitches for one in self.projects for step in one.steps)

    @property
    def sewn(self) -> float:
        """Length of all stitches of all hoopings, mm."""
        return sum(one.hoopings * step.length for one in self.projects for step in one.steps)

    @property
    def by_301(self) -> LeastMost:
        """Both threads by the rule for type 301: so many times the length sewn, and waste."""
        least, most = (self.sewn * USUAL_301 * (1 + part) for part in self._waste)
        return least, most

    @property
    def by_thousand(self) -> ThreadTaken:
        """By the rule for a thousand embroidery stitches, which has its waste in it."""
        needle = self._thousand(USUAL_NEEDLE)
        bobbin = self._thousand(USUAL_BOBBIN)
        return ThreadTaken(needle, bobbin, _sum([needle, bobbin]))

    @property
    def _waste(self) -> LeastMost:
        return self.sold.waste.least, self.sold.waste.most

    def _thousand(self, metres: LeastMost) -> LeastMost:
        least, most = (one * self.stitches for one in metres)
        return least, most


def kit_thread(orders: Sequence[KitOrder], sold: ThreadSold) -> KitThread:
    """Thread of the projects of a kit."""
    projects = []
    for order in orders:
        steps = step_threads(order.made)
        projects.append(
            ProjectThread(
                title=order.made.project.title,
                hoopings=order.hoopings,
                steps=steps,
                one=thread_of(steps, sold),
            )
        )
    return KitThread(sold=sold, projects=tuple(projects))


def _sum(ranges: Sequence[LeastMost]) -> LeastMost:
    return sum(least for least, _ in ranges), sum(most for _, most in ranges)


def _whole(length: LeastMost, metres: float) -> CountRange:
    least, most = (max(1, math.ceil(mm / 1000 / metres - 1e-9)) for mm in length)
    return least, most
