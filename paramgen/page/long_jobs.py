"""What takes long, done one after another in a process of its own, told of as it goes on.

A job is started, watched and stopped by its name. Whoever watches is told how it stands now and at
each change, so a page that was loaded again, or lost its connection, goes on watching. A job that
nobody watches any more is stopped. What comes of it is kept for some minutes, in memory alone and
no more than so many bytes of all together, the oldest going first.
"""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import aclosing
from dataclasses import field, replace
from enum import StrEnum

from paramgen.page.worker_processes import (
    TaskEndedError,
    TaskFailedError,
    TaskTurnedAwayError,
    WorkerProcess,
)
from paramgen.vocabulary.frozen_data import dataclass

#: So many jobs wait or are under way at once; more are turned away.
MOST_JOBS = 6

#: So many jobs that are over are kept, and so many bytes of what came of them.
MOST_KEPT, MOST_BYTES = 24, 96_000_000

#: How long what came of a job is kept, s.
KEPT_FOR = 300.0

#: How long a job goes on that nobody watches, s: a page is loaded again within that.
UNWATCHED_FOR = 15.0

#: How long a task may take until it says how far it is, and in all, s.
WITHIN, IN_ALL = 180.0, 1200.0

#: How often whoever watches hears something, s, so that a connection that broke is noticed.
PULSE = 10.0


class JobStage(StrEnum):
    """How far a job is; all but the first two are its end."""

    WAITING = "waiting"
    WORKING = "working"
    DONE = "done"
    REFUSED = "refused"
    STOPPED = "stopped"
    FAILED = "failed"


@dataclass(frozen=True)
class JobState:
    """How a job stands.

    Parameters
    ----------
    stage : JobStage
    says : str
        What is being made; at its end, why it ended.
    share : float or None
        How much of it is done, 0 to 1; None where that is not known.
    facts : tuple of (name, text)
        What else whoever asked may go by.
    """

    stage: JobStage
    says: str = ""
    share: float | None = None
    facts: tuple[tuple[str, str], ...] = ()

    @property
    def over(self) -> bool:
        """Whether it has ended."""
        return self.stage not in (JobStage.WAITING, JobStage.WORKING)


@dataclass(frozen=True)
class JobResult:
    """What came of a job.

    Parameters
    ----------
    media : str
        Media type.
    name : str
        Of the file that it is saved as; empty for what is shown.
    data : bytes
    """

    media: str
    name: str
    data: bytes


#: What a task that takes long yields: how it stands, at last what came of it.
Told = JobState | JobResult


class UnknownJobError(Exception):
    """There is no such job, or it was forgotten."""


@dataclass(eq=False)
class _Job:
    state: JobState = field(default_factory=lambda: JobState(JobStage.WAITING))
    result: JobResult | None = None
    watchers: int = 0
    news: asyncio.Event = field(default_factory=asyncio.Event)
    work: asyncio.Task[None] | None = None

    def tell(self, state: JobState) -> None:
        if state == self.state:
            return
        self.state = state
        self.news.set()
        self.news = asyncio.Event()


class LongJobs:
    """Jobs by name.

    Parameters
    ----------
    worker : WorkerProcess
        Started when the first job is.
    new_name : callable
        Gives names that nobody guesses.
    unwatched_for, kept_for : float
        How long a job goes on that nobody watches, and is kept once it is over, s.
    most_bytes : int
        Of all that is kept.
    """

    def __init__(
        self,
        worker: WorkerProcess,
        new_name: Callable[[], str],
        *,
        unwatched_for: float = UNWATCHED_FOR,
        kept_for: float = KEPT_FOR,
        most_bytes: int = MOST_BYTES,
    ) -> None:
        self.worker, self._new_name = worker, new_name
        self._unwatched_for, self._kept_for = unwatched_for, kept_for
        self._most_bytes = most_bytes
        self._jobs: dict[str, _Job] = {}

    def start(self, task: str, *args: object) -> str:
        """Start a job; gives its name.

        Raises
        ------
        TaskTurnedAwayError
            If too many are not over.
        """
        if sum(not one.state.over for one in self._jobs.values()) >= MOST_JOBS:
            raise TaskTurnedAwayError
        name, job = self._new_name(), _Job()
        self._jobs[name] = job
        job.work = asyncio.create_task(self._do(job, task, args))
        job.work.add_done_callback(lambda _work: self._is_over(name))
        self._heed(job)
        return name

    async def watch(self, name: str) -> AsyncIterator[JobState | None]:
        """How a job stands now and at each change, until it is over; None for a pulse.

        Raises
        ------
        UnknownJobError
        """
        job = self._job(name)
        job.watchers += 1
        try:
            while True:
                news, state = job.news, job.state
                yield state
                if state.over:
                    return
                while not news.is_set():
                    try:
                        async with asyncio.timeout(PULSE):
                            await news.wait()
                    except TimeoutError:
                        yield None
        finally:
            job.watchers -= 1
            self._heed(job)

    def result(self, name: str) -> JobResult:
        """What came of a job; raises UnknownJobError if nothing did, or it was forgotten."""
        found = self._job(name).result
        if found is None:
            raise UnknownJobError
        return found

    def stop(self, name: str) -> None:
        """Stop a job, if it is not over; raises UnknownJobError."""
        self._end(self._job(name))

    async def close(self) -> None:
        """Stop every job and end their process."""
        for job in self._jobs.values():
            self._end(job)
        await self.worker.close()

    def _job(self, name: str) -> _Job:
        if name not in self._jobs:
            raise UnknownJobError
        return self._jobs[name]

    def _end(self, job: _Job) -> None:
        if not job.state.over and job.work is not None:
            job.work.cancel()
            job.tell(JobState(JobStage.STOPPED, "Stopped; nothing was made."))

    def _heed(self, job: _Job) -> None:
        """Stop a job that nobody comes to watch."""
        if job.watchers or job.state.over:
            return

        def gone() -> None:
            if not job.watchers:
                self._end(job)

        asyncio.get_running_loop().call_later(self._unwatched_for, gone)

    async def _do(self, job: _Job, task: str, args: tuple[object, ...]) -> None:
        found: JobResult | None = None
        try:
            async with (
                asyncio.timeout(IN_ALL),
                aclosing(self.worker.ask(task, *args, within=WITHIN)) as parts,
            ):
                async for told in parts:
                    if isinstance(told, JobResult):
                        found = told
                    else:
                        job.tell(told)
        except TaskTurnedAwayError:
            job.tell(JobState(JobStage.FAILED, "Too much is asked at once. Try again in a while."))
        except (TaskEndedError, TimeoutError):
            said = "It was given up: it took too long, or its process was ended. Nothing was made."
            job.tell(JobState(JobStage.FAILED, said))
        except TaskFailedError as problem:
            job.tell(JobState(JobStage.FAILED, f"This is a fault of the program. {problem}"))
        if not job.state.over:
            if found is None:
                job.tell(JobState(JobStage.FAILED, "Nothing came of it."))
            elif len(found.data) > self._most_bytes:
                job.tell(JobState(JobStage.FAILED, "It is too large to be kept here."))
            else:
                job.result = found
                job.tell(replace(job.state, stage=JobStage.DONE, share=1.0))

    def _is_over(self, name: str) -> None:
        """Keep a job for a while, and no more of all than may be: what was over first goes."""
        asyncio.get_running_loop().call_later(self._kept_for, self._jobs.pop, name, None)
        over = [name for name, job in self._jobs.items() if job.state.over]

        def weight() -> int:
            kept = (self._jobs[name].result for name in over)
            return sum(len(one.data) for one in kept if one is not None)

        while len(over) > MOST_KEPT or weight() > self._most_bytes:
            del self._jobs[over.pop(0)]
