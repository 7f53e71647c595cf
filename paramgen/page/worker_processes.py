"""Processes that work things out for the page, one task after another, and can be ended.

A task is a generator by name (`tasks.py`); what it yields is handed on as it comes. Whoever asks no
longer wants an answer once the browser has gone on: the task is told to stop, and a process that
does not, or that takes longer than it may, is ended and another started in its place.

Each process has one thread here, which alone starts it, speaks with it and ends it. The event loop
hands it jobs and takes what comes of them; neither waits for the other, and a browser that reads
slowly keeps no process from its next task.
"""

import asyncio
import contextlib
import threading
from collections import deque
from collections.abc import AsyncGenerator
from dataclasses import dataclass, field
from multiprocessing import Pipe
from multiprocessing.connection import Connection, wait
from time import monotonic
from typing import Any

from paramgen.page.process_start import process_kind
from paramgen.page.worker_side import Kind, Prepare, work

#: So many requests wait for one process; more are turned away.
MOST_WAITING = 12

#: So much of what a task yields is kept for a browser that does not read it; then it is ended.
MOST_UNREAD = 2000

#: What a task that was told to stop may still take, s.
TO_STOP = 2.0

#: A process that is starting may take so long, s: it loads what it needs.
TO_START = 30.0


class TaskTurnedAwayError(Exception):
    """Too much waits already, or the same window has asked for something else since."""


class TaskEndedError(Exception):
    """A task took too long, or its process was ended from outside."""


class _GoneError(TaskEndedError):
    """A process was ended from outside."""


class TaskFailedError(Exception):
    """A task broke; the text says how."""


@dataclass(eq=False)
class _Job:
    task: str
    args: tuple[object, ...]
    within: float
    window: str
    loop: asyncio.AbstractEventLoop
    said: asyncio.Queue[tuple[Kind, Any]] = field(default_factory=asyncio.Queue)
    wanted: bool = True
    begun: bool = False

    def tell(self, kind: Kind, what: object = None) -> None:
        """From any thread: what comes of it."""
        with contextlib.suppress(RuntimeError):  # the loop is over, and so is whoever asked
            self.loop.call_soon_threadsafe(self.said.put_nowait, (kind, what))


class WorkerProcess:
    """A process of its own, started when it is first asked.

    Parameters
    ----------
    prepare : callable
        Run in the process as it starts. Must be found by its module.
    *given
        What it is given.
    """

    def __init__(self, prepare: Prepare, *given: object) -> None:
        self._prepare, self._given = prepare, given
        self._lock = threading.Lock()
        self._waiting: deque[_Job] = deque()
        self._now: _Job | None = None
        self._ended = False
        self._rung = False
        self._heard, self._bell = Pipe(duplex=False)
        self._thread: threading.Thread | None = None
        # Of the thread alone.
        self._process: Any = None
        self._connection: Connection | None = None
        self._unready = False

    def start(self) -> None:
        """Start the process, if none was."""
        with self._lock:
            if self._thread is None and not self._ended:
                self._thread = threading.Thread(target=self._live, daemon=True)
                self._thread.start()

    async def ask(
        self, task: str, *args: object, within: float, window: str = ""
    ) -> AsyncGenerator[Any, None]:
        """What a task yields, as it comes.

        Parameters
        ----------
        task : str
        *args
            Handed to it.
        within : float
            How long it may take until the next that it yields, s.
        window : str
            Of the browser, by any name; whatever it asked before is given up.

        Raises
        ------
        TaskTurnedAwayError, TaskEndedError, TaskFailedError
        """
        job = _Job(task, args, within, window, asyncio.get_running_loop())
        self._take_in(job)
        try:
            while True:
                kind, what = await job.said.get()
                if kind == "part":
                    yield what
                elif kind == "end":
                    return
                else:
                    raise what
        finally:
            job.wanted = False
            self._ring()

    def end(self) -> None:
        """End the process, and wait until it is; nothing can be asked any more."""
        self._turn_all_away()
        self._ring()
        if self._thread is not None:
            self._thread.join()

    async def close(self) -> None:
        """End the process while the event loop goes on."""
        await asyncio.to_thread(self.end)

    @property
    def pid(self) -> int | None:
        """Of the process, while it runs."""
        process = self._process
        return process.pid if process else None

    def _take_in(self, job: _Job) -> None:
        with self._lock:
            for other in (*self._waiting, *([self._now] if self._now else [])):
                if job.window and other.window == job.window and other.wanted:
                    other.wanted = False
                    other.tell("failed", TaskTurnedAwayError())
            self._waiting = deque(one for one in self._waiting if one.wanted)
            if self._ended or len(self._waiting) >= MOST_WAITING:
                raise TaskTurnedAwayError
            self._waiting.append(job)
        self.start()
        self._ring()

    def _turn_all_away(self) -> None:
        with self._lock:
            self._ended = True
            turned_away, self._waiting = self._waiting, deque()
        for job in turned_away:
            job.tell("failed", TaskTurnedAwayError())

    def _ring(self) -> None:
        """Have the thread look up from what it waits for."""
        with self._lock:
            if not self._rung and self._thread is not None and self._thread.is_alive():
                self._rung = True
                self._bell.send_bytes(b"1")

    # All that follows is of the thread.

    def _live(self) -> None:
        try:
            while not self._ended:
                job = self._next()
                if job is None:
                    self._rest()
                else:
                    self._answer(job)
        finally:
            self._drop()
            self._turn_all_away()

    def _next(self) -> _Job | None:
        with self._lock:
            self._now = None
            while self._waiting:
                job = self._waiting.popleft()
                if job.wanted:
                    self._now = job
                    return job
        return None

    def _rest(self) -> None:
        """Wait for the next job, with a process that is warm by then."""
        if self._connection is None and not self._unready:
            with contextlib.suppress(TaskEndedError, TaskFailedError, OSError):
                self._make_ready()
            return  # what was asked meanwhile comes first
        if self._listen(None) is not None:
            self._drop()  # it was ended from outside: another one takes its place

    def _answer(self, job: _Job) -> None:
        # One that was warm may have been ended since: that is no fault of what is asked now.
        for last in (self._connection is None, True):
            try:
                if self._connection is None:
                    self._make_ready()
                self._send((job.task, job.args))
                self._hand_on(job)
            except (TaskEndedError, TaskFailedError, OSError) as problem:
                self._drop()
                if isinstance(problem, _GoneError) and not job.begun and not last:
                    continue
                job.tell("failed", TaskEndedError() if isinstance(problem, OSError) else problem)
            return

    def _hand_on(self, job: _Job) -> None:
        """Hand on all that a task yields; tell it to stop once nobody wants it."""
        told = False
        until = monotonic() + job.within
        while True:
            if not job.wanted and not told:
                told = True
                until = monotonic() + TO_STOP
                self._send(None)
            message = self._listen(until)
            if message is None:
                continue
            kind, what = message
            if kind != "part":
                job.tell(kind, TaskFailedError(what) if kind == "failed" else None)
                return
            if job.wanted:
                if job.said.qsize() > MOST_UNREAD:
                    raise TaskEndedError
                until = monotonic() + job.within
                job.begun = True
                job.tell("part", what)

    def _make_ready(self) -> None:
        """Start a process, and wait until it can be asked.

        Raises
        ------
        TaskEndedError, TaskFailedError
        """
        self._unready = True  # until it is: what cannot start is started again when it is asked
        context = process_kind()
        self._connection, other = context.Pipe()
        with other:
            process = context.Process(
                target=work, args=(other, self._prepare, self._given), daemon=True
            )
            process.start()
        self._process = process
        until = monotonic() + TO_START
        try:
            while (message := self._listen(until)) is None:
                pass
        except TaskEndedError:
            self._drop()
            raise
        kind, what = message
        if kind == "failed":
            self._drop()
            raise TaskFailedError(what)
        self._unready = False

    def _send(self, message: object) -> None:
        assert self._connection is not None
        try:
            self._connection.send(message)
        except OSError:
            raise _GoneError from None

    def _listen(self, until: float | None) -> tuple[Kind, Any] | None:
        """What the process says next; None if the bell was rung.

        Parameters
        ----------
        until : float or None
            By the clock, s; None to wait without end, and for a process that may have ended.

        Raises
        ------
        TaskEndedError
            If it says nothing in time, is ended, or all is to end.
        """
        to_hear = [self._heard, *([self._connection] if self._connection else [])]
        there = wait(to_hear, None if until is None else max(0.0, until - monotonic()))
        if self._heard in there:
            with self._lock:
                self._heard.recv_bytes()
                self._rung = False
        if self._ended and until is not None:
            raise TaskEndedError
        if self._connection in there:
            assert self._connection is not None
            try:
                kind, what = self._connection.recv()
            except (EOFError, OSError):
                if until is None:
                    return ("end", None)
                raise _GoneError from None
            return kind, what
        if not there:
            raise TaskEndedError
        return None

    def _drop(self) -> None:
        """End the process, and let nothing remain of it."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.join()
            process.close()
