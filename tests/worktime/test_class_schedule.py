"""Schedules: every rule kept, none below its bound, none shorter by trying all for small ones."""

from collections.abc import Iterator, Sequence
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.worktime.class_schedule import (
    ClassSchedule,
    WorkJob,
    class_schedule,
    schedule_bound,
)
from paramgen.worktime.step_times import WorkPhase

PHASES = list(WorkPhase)

minutes = st.integers(1, 30).map(float)
jobs = st.builds(WorkJob, name=st.just("tag"), prepare=minutes, at_machine=minutes, finish=minutes)


def kept(found: ClassSchedule, machines: int, people: int, *, own: bool) -> None:
    """Each thing is done whole, in order; nobody and no machine does two things at once."""
    by_job: dict[int, list[tuple[float, float, WorkPhase]]] = {}
    by_person: dict[int, list[tuple[float, float]]] = {}
    by_machine: dict[int, list[tuple[float, float]]] = {}
    for one in found.blocks:
        by_job.setdefault(one.job, []).append((one.begin, one.end, one.phase))
        by_person.setdefault(one.person, []).append((one.begin, one.end))
        assert (one.machine is not None) == (one.phase is WorkPhase.IN_HOOP)
        if one.machine is not None:
            by_machine.setdefault(one.machine, []).append((one.begin, one.end))
        assert not own or one.person == one.job % people
    assert set(by_person) <= set(range(people))
    assert set(by_machine) <= set(range(machines))
    for spans in (*by_person.values(), *by_machine.values()):
        ordered = sorted(spans)
        assert all(one[1] <= two[0] for one, two in pairwise(ordered))
    assert sorted(by_job) == list(range(len(found.jobs)))
    for at, did in by_job.items():
        job = found.jobs[at]
        assert [phase for *_, phase in sorted(did)] == PHASES
        steps = sorted(did)
        assert all(one[1] <= two[0] for one, two in pairwise(steps))
        assert [end - begin for begin, end, _ in steps] == pytest.approx(
            [job.prepare, job.at_machine, job.finish]
        )


@given(st.lists(jobs, max_size=30), st.integers(1, 5), st.integers(1, 8), st.booleans())
def test_every_rule_is_kept_and_none_is_below_its_bound(
    some: list[WorkJob], machines: int, people: int, own: bool
) -> None:
    found = class_schedule(some, machines, people, own=own)
    kept(found, machines, people, own=own)
    assert found.length >= found.bound - 1e-9


def shortest(some: Sequence[WorkJob], machines: int, people: int, *, own: bool) -> float:
    """The shortest of all schedules in which what could be begun earlier is.

    Every order in which 3·n blocks may be begun, and who does each: a block begins as soon as its
    thing, its person and a machine are free. The best of all schedules is among them, as moving a
    block to the left never hurts.
    """
    best = float("inf")
    hands = [()] if own else list(product(range(people), repeat=3 * len(some)))
    for order in orders(len(some)):
        for who in hands:
            best = min(best, length(some, order, who, machines, people, own=own))
    return best


def orders(things: int, begun: tuple[int, ...] = ()) -> Iterator[tuple[tuple[int, int], ...]]:
    """All orders of three blocks of each thing, those of one thing in their order."""
    left = [job for job in range(things) if begun.count(job) < 3]
    if not left:
        yield tuple((job, begun[:place].count(job)) for place, job in enumerate(begun))
    for job in left:
        yield from orders(things, (*begun, job))


def length(
    some: Sequence[WorkJob],
    order: Sequence[tuple[int, int]],
    who: Sequence[int],
    machines: int,
    people: int,
    *,
    own: bool,
) -> float:
    thing = [0.0] * len(some)
    person, machine = [0.0] * people, [0.0] * machines
    for place, (job, at) in enumerate(order):
        took = (some[job].prepare, some[job].at_machine, some[job].finish)[at]
        one = job % people if own else who[place]
        begin = max(thing[job], person[one])
        if at == 1:
            free = min(range(machines), key=machine.__getitem__)
            begin = max(begin, machine[free])
            machine[free] = begin + took
        thing[job] = person[one] = begin + took
    return max(thing)


def small() -> Iterator[tuple[list[WorkJob], int, int, bool]]:
    for times in ([(2, 9, 3), (5, 4, 8)], [(1, 7, 1), (6, 2, 2)], [(4, 4, 4), (4, 4, 4)]):
        some = [WorkJob(name="", prepare=a, at_machine=b, finish=c) for a, b, c in times]
        for machines, people, own in product((1, 2), (1, 2), (True, False)):
            yield some, machines, people, own


@pytest.mark.parametrize(("some", "machines", "people", "own"), [*small()])
def test_of_two_things_no_schedule_is_shorter(
    some: list[WorkJob], machines: int, people: int, own: bool
) -> None:
    found = class_schedule(some, machines, people, own=own)
    best = shortest(some, machines, people, own=own)
    assert found.bound <= best + 1e-9
    assert found.length == pytest.approx(best)


@settings(max_examples=15)
@given(st.lists(jobs, min_size=3, max_size=3), st.integers(1, 2))
def test_of_three_things_of_three_people_no_schedule_is_shorter(
    some: list[WorkJob], machines: int
) -> None:
    found = class_schedule(some, machines, 3, own=True)
    best = shortest(some, machines, 3, own=True)
    assert found.bound <= best + 1e-9
    assert found.length == pytest.approx(best)


def test_a_class_that_makes_one_each_waits_for_the_machines_alone() -> None:
    # Twelve people, four machines: three rounds; 15 + 3·25 + 20 min, as all are prepared by then.
    tags = [WorkJob(name="tag", prepare=900, at_machine=1500, finish=1200)] * 12
    found = class_schedule(tags, machines=4, people=12, own=True)
    assert found.length == (15 + 3 * 25 + 20) * 60
    assert found.proven


def test_of_nothing_nothing_comes_and_no_machine_is_refused() -> None:
    assert class_schedule([], 1, 1, own=True).length == schedule_bound([], 1, 1, own=True) == 0
    with pytest.raises(ValueError, match="0 machines"):
        class_schedule([], 0, 1, own=True)
