"""What takes long: told of as it goes on, stopped, kept for a while and no more than may be."""

import asyncio
import os
import signal
from collections.abc import Awaitable, Callable
from itertools import count

import page_tasks
import pytest

from paramgen.page.long_jobs import MOST_JOBS, JobStage, JobState, LongJobs, UnknownJobError
from paramgen.page.worker_processes import TaskTurnedAwayError, WorkerProcess

#: Takes as long as the test.
ENDLESS = "100000"


def run(
    scene: Callable[[LongJobs, WorkerProcess], Awaitable[None]],
    *,
    unwatched_for: float = 15.0,
    kept_for: float = 300.0,
    most_bytes: int = 1_000_000,
) -> None:
    async def played() -> None:
        worker, names = WorkerProcess(page_tasks.prepare), count()
        jobs = LongJobs(
            worker,
            lambda: str(next(names)),
            unwatched_for=unwatched_for,
            kept_for=kept_for,
            most_bytes=most_bytes,
        )
        try:
            async with asyncio.timeout(20):
                await scene(jobs, worker)
        finally:
            await jobs.close()

    asyncio.run(played())


async def last(jobs: LongJobs, name: str) -> JobState:
    return [one async for one in jobs.watch(name) if one is not None][-1]


async def under_way(jobs: LongJobs, name: str) -> None:
    async for state in jobs.watch(name):
        if state is not None and state.stage is JobStage.WORKING:
            return


def test_a_job_is_told_of_as_it_goes_on_and_gives_what_came_of_it() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        name = jobs.start("count", "stitch", "30")
        states = [one async for one in jobs.watch(name) if one is not None]
        shares = [one.share or 0.0 for one in states if one.stage is JobStage.WORKING]
        assert len(shares) > 3
        assert shares == sorted(shares)
        assert states[-1].stage is JobStage.DONE
        result = jobs.result(name)
        assert (result.name, result.data) == ("stitch.txt", b"stitch")
        # Whoever comes late is told how it ended; what came of it can be had once more.
        assert (await last(jobs, name)).stage is JobStage.DONE
        assert jobs.result(name) is result

    run(scene)


def test_a_job_that_is_stopped_gives_nothing_and_the_next_one_goes_on() -> None:
    async def scene(jobs: LongJobs, worker: WorkerProcess) -> None:
        name = jobs.start("count", "long", ENDLESS)
        await under_way(jobs, name)
        process = worker.pid
        jobs.stop(name)
        assert (await last(jobs, name)).stage is JobStage.STOPPED
        with pytest.raises(UnknownJobError):
            jobs.result(name)
        assert (await last(jobs, jobs.start("count", "next", "2"))).stage is JobStage.DONE
        assert worker.pid == process  # it stopped by itself: nothing warm is lost

    run(scene)


def test_a_task_that_does_not_stop_is_ended_with_its_process() -> None:
    async def scene(jobs: LongJobs, worker: WorkerProcess) -> None:
        name = jobs.start("hang", "")
        await under_way(jobs, name)
        process = worker.pid
        jobs.stop(name)
        assert (await last(jobs, jobs.start("count", "next", "2"))).stage is JobStage.DONE
        assert worker.pid != process

    run(scene)


def test_a_job_that_nobody_watches_is_stopped() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        name = jobs.start("count", "left", ENDLESS)
        # Loading takes longer than it may go unwatched: it is watched until it is under way.
        watching = asyncio.create_task(last(jobs, name))
        await under_way(jobs, name)
        watching.cancel()
        await asyncio.sleep(0.8)
        assert (await last(jobs, name)).stage is JobStage.STOPPED

    run(scene, unwatched_for=0.4)


def test_who_comes_back_in_time_finds_the_job_going_on() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        name = jobs.start("count", "kept", "80")
        await under_way(jobs, name)  # and then leaves
        await asyncio.sleep(0.2)
        assert (await last(jobs, name)).stage is JobStage.DONE

    run(scene, unwatched_for=5.0)


def test_a_killed_process_is_told_and_the_next_job_has_a_new_one() -> None:
    async def scene(jobs: LongJobs, worker: WorkerProcess) -> None:
        name = jobs.start("count", "killed", ENDLESS)
        await under_way(jobs, name)
        assert worker.pid is not None
        os.kill(worker.pid, signal.SIGKILL)
        state = await last(jobs, name)
        assert state.stage is JobStage.FAILED
        assert "Nothing was made" in state.says
        assert (await last(jobs, jobs.start("count", "next", "2"))).stage is JobStage.DONE

    run(scene)


def test_what_breaks_and_what_is_refused_is_told() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        broken = await last(jobs, jobs.start("break", ""))
        assert broken.stage is JobStage.FAILED
        assert "the needle" in broken.says
        refused = await last(jobs, jobs.start("refuse", ""))
        assert refused == JobState(JobStage.REFUSED, "too wide", facts=(("another", "yes"),))

    run(scene)


def test_more_jobs_than_may_wait_are_turned_away() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        names = [jobs.start("count", "many", ENDLESS) for _ in range(MOST_JOBS)]
        with pytest.raises(TaskTurnedAwayError):
            jobs.start("count", "one more", "1")
        jobs.stop(names[0])
        jobs.start("count", "one more", "1")

    run(scene)


def test_no_more_bytes_are_kept_than_may_be_and_the_oldest_go_first() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        # Three times 400 bytes are more than 1000: the first goes, the others stay.
        names = [jobs.start("weigh", "abcd", "100") for _ in range(3)]
        for name in names:
            assert (await last(jobs, name)).stage is JobStage.DONE
        await asyncio.sleep(0.05)
        with pytest.raises(UnknownJobError):
            jobs.result(names[0])
        assert [len(jobs.result(one).data) for one in names[1:]] == [400, 400]
        # 4 times 251 bytes are more than is ever kept.
        assert (await last(jobs, jobs.start("weigh", "abcd", "251"))).stage is JobStage.FAILED

    run(scene, most_bytes=1000)


def test_what_came_of_a_job_is_forgotten_after_a_while() -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        name = jobs.start("weigh", "a", "1")
        await last(jobs, name)
        await asyncio.sleep(0.5)
        with pytest.raises(UnknownJobError):
            jobs.result(name)

    run(scene, kept_for=0.2)


@pytest.mark.parametrize("name", ["", "0", "../0"])
def test_nothing_is_at_a_name_that_is_not_known(name: str) -> None:
    async def scene(jobs: LongJobs, _worker: WorkerProcess) -> None:
        with pytest.raises(UnknownJobError):
            jobs.stop(name)
        with pytest.raises(UnknownJobError):
            await anext(jobs.watch(name))

    run(scene)
