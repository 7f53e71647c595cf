"""How long a kit takes to make, for one person and for a class."""

from collections.abc import Iterator, Sequence

from paramgen.kits.kit_order import KitOrder
from paramgen.reference.work_times import WorkTimes
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.worktime.class_schedule import ClassSchedule, WorkJob, class_schedule
from paramgen.worktime.step_times import WorkPhase, in_phase, step_times


@dataclass(frozen=True, kw_only=True)
class HoopingTime:
    """How long one hooping of a project takes, and how many there are.

    Parameters
    ----------
    title : str
    hoopings : int
    prepare, at_machine, finish : float
        Of each, s.
    """

    title: str
    hoopings: int
    prepare: float
    at_machine: float
    finish: float

    @property
    def whole(self) -> float:
        """Of all of them, one after the other, s."""
        return self.hoopings * (self.prepare + self.at_machine + self.finish)


@dataclass(frozen=True, kw_only=True)
class KitClass:
    """A class that makes a kit.

    Parameters
    ----------
    people, machines : int
    schedule : ClassSchedule
    """

    people: int
    machines: int
    schedule: ClassSchedule


def hooping_times(orders: Sequence[KitOrder], times: WorkTimes) -> tuple[HoopingTime, ...]:
    """Estimate each project of a kit."""
    return tuple(_times(orders, times))


def kit_schedule(found: Sequence[HoopingTime], machines: int, people: int) -> ClassSchedule:
    """Who is at which machine when, in a class in which each person makes their own.

    Raises
    ------
    ValueError
        See `class_schedule`.

    Examples
    --------
    Two each of 30 minutes at the one machine: 5 + 30 + 30 + 10.

    >>> both = HoopingTime(
    ...     title="Tag", hoopings=2, prepare=300.0, at_machine=1800.0, finish=600.0
    ... )
    >>> kit_schedule([both], machines=1, people=2).length / 60
    75.0
    """
    jobs = [
        WorkJob(name=one.title, prepare=one.prepare, at_machine=one.at_machine, finish=one.finish)
        for one in found
        for _ in range(one.hoopings)
    ]
    return class_schedule(jobs, machines, people, own=True)


def _times(orders: Sequence[KitOrder], times: WorkTimes) -> Iterator[HoopingTime]:
    for order in orders:
        steps = step_times(order.made, times)
        yield HoopingTime(
            title=order.made.project.title,
            hoopings=order.hoopings,
            prepare=in_phase(steps, WorkPhase.PREPARE),
            at_machine=in_phase(steps, WorkPhase.IN_HOOP),
            finish=in_phase(steps, WorkPhase.FINISH),
        )
