"""Processes that work for the page: whatever becomes of one, the next task is done."""

import asyncio
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import aclosing
from pathlib import Path
from typing import Any

import odd_tasks
import pytest

from paramgen.page import worker_processes
from paramgen.page.worker_processes import (
    MOST_WAITING,
    TaskEndedError,
    TaskFailedError,
    TaskTurnedAwayError,
    WorkerProcess,
)

#: Longer than anything here takes on a busy machine, s.
LONG = 30.0


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[WorkerProcess, Path]]:
    """One process for all tests; each must leave it so that the next can ask."""
    folder = tmp_path_factory.mktemp("marks")
    worker = WorkerProcess(odd_tasks.prepare, str(folder))
    yield worker, folder
    worker.end()
    assert worker.pid is None


@pytest.fixture
def worker(kept: tuple[WorkerProcess, Path]) -> WorkerProcess:
    return kept[0]


@pytest.fixture
def marks(kept: tuple[WorkerProcess, Path]) -> Path:
    return kept[1]


async def all_of(worker: WorkerProcess, task: str, *args: object, within: float = LONG,
                 window: str = "") -> list[Any]:  # fmt: skip
    return [part async for part in worker.ask(task, *args, within=within, window=window)]


def run(
    worker: WorkerProcess, task: str, *args: object, within: float = LONG, window: str = ""
) -> list[Any]:
    return asyncio.run(all_of(worker, task, *args, within=within, window=window))


def gone(pid: int) -> bool:
    """Whether there is no such process, not even one that nobody took note of."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    return False


def soon(true: Callable[[], bool]) -> bool:
    until = time.monotonic() + LONG
    while not true() and time.monotonic() < until:
        time.sleep(0.01)
    return true()


def test_parts_come_in_their_order(worker: WorkerProcess) -> None:
    assert run(worker, "count", 100) == list(range(100))
    assert run(worker, "count", 0) == []


def test_a_large_question_waits_for_a_process_that_is_starting() -> None:
    fresh = WorkerProcess(odd_tasks.prepare, "")
    try:
        assert run(fresh, "large", "x" * 3_000_000) == [3_000_000]
    finally:
        fresh.end()


def test_a_process_looks_for_garbage_though_what_was_loaded_first_was_loaded_without(
    worker: WorkerProcess,
) -> None:
    assert run(worker, "collecting") == [True]


def test_a_process_that_is_ended_while_idle_is_replaced(worker: WorkerProcess) -> None:
    (before,) = run(worker, "pid")
    os.kill(before, signal.SIGKILL)
    # At once, before anyone can have seen it.
    (after,) = run(worker, "pid")
    assert after != before
    os.kill(after, signal.SIGKILL)
    assert soon(lambda: gone(after))
    assert run(worker, "pid") != [after]


def test_a_process_that_is_ended_at_work_says_so_and_is_replaced(worker: WorkerProcess) -> None:
    (before,) = run(worker, "pid")

    async def killed() -> None:
        async for part in worker.ask("endless", within=LONG):
            if part == 3:
                os.kill(before, signal.SIGKILL)

    with pytest.raises(TaskEndedError):
        asyncio.run(killed())
    assert run(worker, "count", 3) == [0, 1, 2]
    assert gone(before)


def test_a_process_that_ends_itself_is_replaced(worker: WorkerProcess) -> None:
    with pytest.raises(TaskEndedError):
        run(worker, "vanish")
    assert run(worker, "count", 2) == [0, 1]


def test_a_task_that_takes_too_long_is_ended_with_its_process(worker: WorkerProcess) -> None:
    (before,) = run(worker, "pid")
    begun = time.monotonic()
    with pytest.raises(TaskEndedError):
        run(worker, "busy", within=0.3)
    assert time.monotonic() - begun < LONG / 2
    assert run(worker, "count", 2) == [0, 1]
    assert gone(before)


def test_the_time_is_until_the_next_part_and_not_until_the_last(worker: WorkerProcess) -> None:
    async def some() -> int:
        async with aclosing(worker.ask("endless", within=5.0)) as parts:
            got = 0
            async for _ in parts:
                got += 1
                if got == 60:
                    break
            return got

    assert asyncio.run(some()) == 60


def test_a_task_that_breaks_says_how_and_its_process_goes_on(
    worker: WorkerProcess,
) -> None:
    (before,) = run(worker, "pid")
    with pytest.raises(TaskFailedError) as told:
        run(worker, "broken")
    assert str(told.value) == "KeyError: 'thread'"
    assert run(worker, "pid") == [before]


def test_where_a_task_broke_is_said_on_the_terminal_alone(tmp_path: Path) -> None:
    # In a process of its own: the terminal of the first that was started is that of all.
    with answering(tmp_path, "broken") as one:
        said, terminal = one.communicate()
    assert "KeyError" in said
    assert "odd_tasks.py" not in said
    assert "odd_tasks.py" in terminal


def test_who_breaks_off_has_the_task_stopped_and_its_process_goes_on(
    worker: WorkerProcess,
) -> None:
    (before,) = run(worker, "pid")

    async def broken_off() -> None:
        asking = asyncio.create_task(all_of(worker, "endless"))
        await asyncio.sleep(0.1)
        asking.cancel()
        with pytest.raises(asyncio.CancelledError):
            await asking
        # The answer of the next is its own, and no part of what was broken off.
        assert await all_of(worker, "count", 5) == [0, 1, 2, 3, 4]

    for _ in range(5):
        asyncio.run(broken_off())
    assert run(worker, "pid") == [before]


def test_a_hundred_that_are_broken_off_at_any_time_leave_it_working(worker: WorkerProcess) -> None:
    async def some() -> None:
        for number in range(100):
            asking = asyncio.create_task(all_of(worker, ("count", "broken")[number % 2],
                                                *([500] if number % 2 == 0 else [])))  # fmt: skip
            await asyncio.sleep(0.0004 * (number % 7))
            asking.cancel()
            await asyncio.wait([asking])
        assert await all_of(worker, "count", 5) == [0, 1, 2, 3, 4]

    asyncio.run(some())


def test_who_breaks_off_a_task_that_never_looks_up_keeps_nobody_waiting(
    worker: WorkerProcess, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worker_processes, "TO_STOP", 0.2)
    (before,) = run(worker, "pid")

    async def broken_off() -> None:
        async for _ in worker.ask("busy", within=LONG):
            break
        assert await all_of(worker, "count", 2) == [0, 1]

    asyncio.run(broken_off())
    assert gone(before)


def test_who_does_not_read_keeps_nobody_waiting_and_is_kept_no_more_than_so_much(
    worker: WorkerProcess, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worker_processes, "MOST_UNREAD", 50)

    async def slow() -> None:
        parts = worker.ask("flood", within=LONG)
        await anext(parts)
        # Not read any further: the next is answered all the same.
        assert await all_of(worker, "count", 2) == [0, 1]
        async for _ in parts:
            pass

    with pytest.raises(TaskEndedError):
        asyncio.run(slow())


def test_what_was_given_up_before_it_began_is_never_begun(
    worker: WorkerProcess, marks: Path
) -> None:
    async def some() -> None:
        first = asyncio.create_task(all_of(worker, "sleep", 0.2))
        await asyncio.sleep(0.05)
        second = asyncio.create_task(all_of(worker, "mark", "never"))
        await asyncio.sleep(0.05)
        second.cancel()
        assert await first == ["slept"]
        assert await all_of(worker, "mark", "begun") == ["begun"]

    asyncio.run(some())
    assert sorted(one.name for one in marks.iterdir()) == ["begun"]


def test_a_window_that_asks_again_waits_for_nothing_that_it_asked_before(
    worker: WorkerProcess, marks: Path
) -> None:
    async def some() -> None:
        first = asyncio.create_task(all_of(worker, "endless", window="w"))
        await asyncio.sleep(0.1)
        others = [
            asyncio.create_task(all_of(worker, "mark", f"old-{one}", window="w"))
            for one in range(40)  # more than may wait
        ]
        await asyncio.sleep(0)
        last = asyncio.create_task(all_of(worker, "mark", "last", window="w"))
        assert await last == ["last"]
        for one in (first, *others):
            with pytest.raises(TaskTurnedAwayError):
                await one

    asyncio.run(some())
    # That which was the newest for a moment may have been begun before it was given up.
    assert {one.name for one in marks.glob("old-*")} <= {"old-39"}


def test_windows_are_not_given_up_for_one_another(worker: WorkerProcess) -> None:
    async def some() -> list[list[Any]]:
        asked = (all_of(worker, "count", 3, window=one) for one in ("a", "b", "", ""))
        return list(await asyncio.gather(*asked))

    assert asyncio.run(some()) == [[0, 1, 2]] * 4


def test_a_hundred_at_once_are_answered_or_turned_away(worker: WorkerProcess) -> None:
    async def some() -> list[Any]:
        asked = (all_of(worker, "sleep", 0.01) for _ in range(100))
        return list(await asyncio.gather(*asked, return_exceptions=True))

    found = asyncio.run(some())
    answered = [one for one in found if one == ["slept"]]
    turned_away = [one for one in found if isinstance(one, TaskTurnedAwayError)]
    assert len(answered) + len(turned_away) == 100
    assert MOST_WAITING <= len(answered) <= MOST_WAITING + 1


def test_the_page_goes_on_while_a_process_works(worker: WorkerProcess) -> None:
    async def some() -> float:
        asking = asyncio.create_task(all_of(worker, "sleep", 0.3))
        longest, before = 0.0, time.perf_counter()
        while not asking.done():
            await asyncio.sleep(0.005)
            longest = max(longest, time.perf_counter() - before)
            before = time.perf_counter()
        return longest

    assert asyncio.run(some()) < 0.25


@pytest.mark.parametrize(
    ("prepare", "error", "said"),
    [
        (odd_tasks.prepare_badly, TaskFailedError, "ValueError: the table has three legs"),
        (odd_tasks.prepare_and_die, TaskEndedError, "^$"),
        (odd_tasks.prepare_never, TaskEndedError, "^$"),
    ],
)
def test_a_process_that_cannot_start_says_so_each_time(
    prepare: Any, error: type[Exception], said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    if prepare is odd_tasks.prepare_never:
        monkeypatch.setattr(worker_processes, "TO_START", 0.5)
    bad = WorkerProcess(prepare)
    bad.start()
    try:
        for _ in range(2):
            with pytest.raises(error, match=said):
                run(bad, "count", 1)
    finally:
        bad.end()


def test_its_end_ends_what_is_under_way_and_what_waits() -> None:
    worker = WorkerProcess(odd_tasks.prepare, "")

    async def some() -> list[Any]:
        (pid,) = await all_of(worker, "pid")
        asked = [asyncio.create_task(all_of(worker, one)) for one in ("busy", "pid", "pid")]
        await asyncio.sleep(0.2)
        begun = time.monotonic()
        await worker.close()
        assert time.monotonic() - begun < 2
        assert gone(pid)
        return list(await asyncio.gather(*asked, return_exceptions=True))

    found = asyncio.run(some())
    assert [type(one) for one in found] == [
        TaskEndedError,
        TaskTurnedAwayError,
        TaskTurnedAwayError,
    ]
    with pytest.raises(TaskTurnedAwayError):
        run(worker, "count", 1)
    worker.end()  # once more does no harm


def test_a_process_that_was_never_asked_ends_too() -> None:
    threads = threading.active_count()
    worker = WorkerProcess(odd_tasks.prepare, "")
    worker.end()
    other = WorkerProcess(odd_tasks.prepare, "")
    other.start()
    other.end()
    assert threading.active_count() == threads


def test_no_process_outlives_the_one_that_answers(tmp_path: Path) -> None:
    # Ended so that it can clean nothing up, with a task under way that never looks up.
    with answering(tmp_path, "busy") as first:
        assert first.stdout is not None
        pid = int(first.stdout.readline())
        assert not gone(pid)
        first.kill()
    assert soon(lambda: gone(pid))


def answering(folder: Path, task: str) -> subprocess.Popen[str]:
    """A process that asks another for a task, and tells which does it and what fails."""
    source = f"""
import asyncio, sys
sys.path[:0] = {sys.path!r}
import odd_tasks
from paramgen.page.worker_processes import TaskFailedError, WorkerProcess
async def main():
    worker = WorkerProcess(odd_tasks.prepare, "")
    try:
        async for part in worker.ask({task!r}, within=100):
            print(worker.pid, flush=True)
    except TaskFailedError as problem:
        print(problem)
    worker.end()
if __name__ == "__main__":
    asyncio.run(main())
"""
    file = folder / "answers.py"
    file.write_text(source, "utf-8")
    pipe = subprocess.PIPE
    return subprocess.Popen([sys.executable, str(file)], stdout=pipe, stderr=pipe, text=True)
