"""Who is at which machine when: several things, machines and people.

Each thing is prepared, then sewn at a machine with somebody beside it, then finished. What is begun
is done to its end. Either each person makes their own things from first to last, or anyone takes on
whatever is next.

Of a few things every order is tried. Of more: list scheduling (Graham, SIAM J. Appl. Math. 17,
1969) by several orders of preference, the shortest kept. Beside it stands a bound that no schedule
can be below, so that it is known how good it is.
"""

from bisect import insort
from collections.abc import Callable, Iterable, Iterator, Sequence
from heapq import heappop, heappush
from math import ceil

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.worktime.step_times import WorkPhase

#: More things than this are more than a day's work for any class.
MOST_JOBS = 500

#: Of so many every order of their parts is tried: there are 9!/(3!)³ = 1680 for three.
FEW_JOBS = 3


@dataclass(frozen=True, kw_only=True)
class WorkJob:
    """One thing to make.

    Parameters
    ----------
    name : str
    prepare, at_machine, finish : float
        s.
    """

    name: str
    prepare: float
    at_machine: float
    finish: float

    @property
    def whole(self) -> float:
        """From first to last, without waiting, s."""
        return self.prepare + self.at_machine + self.finish


@dataclass(frozen=True, kw_only=True)
class WorkBlock:
    """Something that a person does without a break.

    Parameters
    ----------
    job : int
        From 0.
    phase : WorkPhase
    person : int
        From 0.
    machine : int or None
        From 0; None for what needs none.
    begin, end : float
        s from the beginning.
    """

    job: int
    phase: WorkPhase
    person: int
    machine: int | None
    begin: float
    end: float


@dataclass(frozen=True, kw_only=True)
class ClassSchedule:
    """What everyone does when.

    Parameters
    ----------
    jobs : tuple of WorkJob
    blocks : tuple of WorkBlock
        By when they begin.
    bound : float
        No schedule is shorter, s.
    """

    jobs: tuple[WorkJob, ...]
    blocks: tuple[WorkBlock, ...]
    bound: float

    @property
    def length(self) -> float:
        """Until all is done, s."""
        return max((one.end for one in self.blocks), default=0.0)

    @property
    def proven(self) -> bool:
        """Whether no schedule is shorter."""
        return self.length <= self.bound + 1e-6


def class_schedule(
    jobs: Sequence[WorkJob], machines: int, people: int, *, own: bool
) -> ClassSchedule:
    """Find who does what when, as short as may be.

    Parameters
    ----------
    jobs : sequence of WorkJob
    machines, people : int
        At least 1.
    own : bool
        Whether each person makes their own things, the first one the first, the next the second,
        and so on in turn; else anyone takes on what is next.

    Raises
    ------
    ValueError
        If there is no machine or nobody, or more jobs than `MOST_JOBS`.

    Examples
    --------
    Four alike, two machines, four people: two rounds at the machines, 10 + 2·30 + 20 minutes.

    >>> four = [WorkJob(name="tag", prepare=600, at_machine=1800, finish=1200)] * 4
    >>> found = class_schedule(four, machines=2, people=4, own=True)
    >>> found.length / 60, found.bound / 60, found.proven
    (90.0, 90.0, True)
    """
    if machines < 1 or people < 1 or len(jobs) > MOST_JOBS:
        raise ValueError(f"{machines} machines, {people} people, {len(jobs)} things")
    given = tuple(jobs)
    tried = [_listed(given, machines, people, own=own, first=one) for one in _PREFERENCES]
    if len(given) <= FEW_JOBS:
        tried += [_in_order(given, one, machines, people, own=own) for one in _orders(len(given))]
    best = min(tried, key=lambda blocks: max((one.end for one in blocks), default=0.0))
    ordered = tuple(sorted(best, key=lambda one: (one.begin, one.person)))
    bound = schedule_bound(given, machines, people, own=own)
    return ClassSchedule(jobs=given, blocks=ordered, bound=bound)


def schedule_bound(jobs: Sequence[WorkJob], machines: int, people: int, *, own: bool) -> float:
    """A length that no schedule is below, s.

    The longest of: any thing by itself; what one person has to do, or all share; and what the
    machines have to do after the shortest preparing and before the shortest finishing, where one of
    them has at least its share of the things, each as short as the shortest.

    Examples
    --------
    >>> one = WorkJob(name="", prepare=10, at_machine=50, finish=20)
    >>> schedule_bound([one] * 3, machines=2, people=3, own=True)  # 10 + 2·50 + 20
    130
    """
    if not jobs:
        return 0.0
    by_person = [[job.whole for job in jobs[at::people]] for at in range(people)]
    work = max(map(sum, by_person)) if own else sum(one.whole for one in jobs) / people
    before = min(one.prepare for one in jobs)
    after = min(one.finish for one in jobs)
    sewn = sorted(one.at_machine for one in jobs)
    busy = max(sum(sewn) / machines, sum(sewn[: ceil(len(jobs) / machines)]))
    return max(work, before + busy + after, *(one.whole for one in jobs))


#: What is taken on first, of what could be: by a figure of the job and of the phase that is next.
_Preference = Callable[[WorkJob, WorkPhase], tuple[float, ...]]

_ORDER = {WorkPhase.IN_HOOP: 0.0, WorkPhase.PREPARE: 1.0, WorkPhase.FINISH: 2.0}
_PREFERENCES: tuple[_Preference, ...] = (
    # Machines first, then what feeds them; what has most after it before what has least.
    lambda job, phase: (_ORDER[phase], -job.finish, -job.at_machine),
    lambda job, phase: (_ORDER[phase], -_left(job, phase)),
    lambda job, phase: (-_left(job, phase), _ORDER[phase]),
    lambda job, phase: (_ORDER[phase], job.prepare, -job.finish),
    lambda job, phase: (_ORDER[phase], job.prepare - job.finish, job.at_machine),
)


def _left(job: WorkJob, phase: WorkPhase) -> float:
    """What is left to do of a job from a phase on, s."""
    if phase is WorkPhase.PREPARE:
        return job.whole
    return job.finish if phase is WorkPhase.FINISH else job.at_machine + job.finish


_PHASES = (WorkPhase.PREPARE, WorkPhase.IN_HOOP, WorkPhase.FINISH)


def _listed(
    jobs: tuple[WorkJob, ...], machines: int, people: int, *, own: bool, first: _Preference
) -> list[WorkBlock]:
    """Whenever somebody is free, they take on what is preferred of what can be begun."""
    blocks: list[WorkBlock] = []
    idle, free_machines = set(range(people)), set(range(machines))
    ending: list[tuple[float, int, int, int, int]] = []  # when, job, its phase, person, machine
    ready: list[tuple[tuple[float, ...], int, int]] = []  # how much preferred, job, its phase
    for job in range(len(jobs)):
        insort(ready, (first(jobs[job], _PHASES[0]), job, 0))
    now = 0.0
    while ready or ending:
        later = []
        for place, (_, job, at) in enumerate(ready):
            if not idle:
                later += ready[place:]
                break
            person = job % people if own else min(idle)
            sews = _PHASES[at] is WorkPhase.IN_HOOP
            if person not in idle or (sews and not free_machines):
                later.append(ready[place])
                continue
            machine = min(free_machines) if sews else _NO_MACHINE
            idle.remove(person)
            free_machines.discard(machine)
            end = now + (jobs[job].prepare, jobs[job].at_machine, jobs[job].finish)[at]
            heappush(ending, (end, job, at, person, machine))
            blocks.append(
                WorkBlock(
                    job=job,
                    phase=_PHASES[at],
                    person=person,
                    machine=machine if sews else None,
                    begin=now,
                    end=end,
                )
            )
        ready = later
        now = ending[0][0]
        while ending and ending[0][0] <= now:
            _, job, at, person, machine = heappop(ending)
            idle.add(person)
            if machine != _NO_MACHINE:
                free_machines.add(machine)
            if at + 1 < len(_PHASES):
                insort(ready, (first(jobs[job], _PHASES[at + 1]), job, at + 1))
    return blocks


_NO_MACHINE = -1


def _orders(things: int, begun: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
    """Every order in which the three parts of each thing may be begun."""
    left = [job for job in range(things) if begun.count(job) < len(_PHASES)]
    if not left:
        yield begun
    for job in left:
        yield from _orders(things, (*begun, job))


def _in_order(
    jobs: tuple[WorkJob, ...], order: tuple[int, ...], machines: int, people: int, *, own: bool
) -> list[WorkBlock]:
    """Each part as early as may be, in an order; whoever waited least takes it on."""
    blocks: list[WorkBlock] = []
    thing, at = [0.0] * len(jobs), [0] * len(jobs)
    hands, sewing = [0.0] * people, [0.0] * machines
    for job in order:
        sews = _PHASES[at[job]] is WorkPhase.IN_HOOP
        who = [job % people] if own else range(people)
        begin = max(thing[job], min(hands[one] for one in who), min(sewing) if sews else 0.0)
        person = _tightest(hands, who, begin)
        machine = _tightest(sewing, range(machines), begin) if sews else None
        took = (jobs[job].prepare, jobs[job].at_machine, jobs[job].finish)[at[job]]
        blocks.append(
            WorkBlock(
                job=job,
                phase=_PHASES[at[job]],
                person=person,
                machine=machine,
                begin=begin,
                end=begin + took,
            )
        )
        thing[job] = hands[person] = begin + took
        if machine is not None:
            sewing[machine] = begin + took
        at[job] += 1
    return blocks


def _tightest(free_from: Sequence[float], which: Iterable[int], begin: float) -> int:
    """The one that became free last of those that are by then."""
    return max((one for one in which if free_from[one] <= begin), key=free_from.__getitem__)
