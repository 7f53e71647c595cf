"""Processes that work things out for the page, one task after another, and can be ended.

A task is a generator by name (`tasks.py`); what it yields is handed on as it comes. Whoever asks no
longer wants an answer once the browser has gone on: the task is told to stop, and a process that
does not, or that takes longer than it may, is ended and another started in its place.
"""

import asyncio
import contextlib
import signal
from collections.abc import AsyncGenerator, Callable, Iterator
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any

#: So many requests wait for one process; more are turned away.
MOST_WAITING = 12

#: What a task that was told to stop may still take, s.
TO_STOP = 2.0

#: A process that is starting may take so much longer, s: it loads what it needs.
TO_START = 30.0

Task = Callable[..., Iterator[Any]]


class TaskTurnedAwayError(Exception):
    """Too much waits already."""


class TaskEndedError(Exception):
    """A task took too long, or its process was ended from outside."""


class TaskFailedError(Exception):
    """A task broke; the text says how."""


class WorkerProcess:
    """A process of its own, started when it is first asked.

    Parameters
    ----------
    prepare : callable
        Run in the process as it starts; gives the tasks by name. Must be found by its module.
    *given
        What it is given.
    """

    def __init__(self, prepare: Callable[..., dict[str, Task]], *given: object) -> None:
        self._prepare, self._given = prepare, given
        self._process: Any = None
        self._connection: Connection | None = None
        self._turn = asyncio.Lock()
        self._waiting = 0
        self._warm = False
        self._closed = False

    def start(self) -> None:
        """Start the process, if it does not run."""
        if self._closed or (self._process is not None and self._process.is_alive()):
            return
        self._drop()
        context = get_context("spawn")
        self._connection, other = context.Pipe()
        self._process = context.Process(
            target=_run, args=(other, self._prepare, self._given), daemon=True
        )
        self._warm = False
        self._process.start()
        other.close()

    async def ask(self, task: str, *args: object, within: float) -> AsyncGenerator[Any, None]:
        """What a task yields, as it comes.

        Parameters
        ----------
        task : str
        *args
            Handed to it.
        within : float
            How long it may take until the next that it yields, s.

        Raises
        ------
        TaskTurnedAwayError, TaskEndedError, TaskFailedError
        """
        if self._waiting >= MOST_WAITING or self._closed:
            raise TaskTurnedAwayError
        self._waiting += 1
        try:
            await self._turn.acquire()
        finally:
            self._waiting -= 1
        done = False
        try:
            self.start()
            await self._send((task, args))
            while True:
                kind, what = await self._receive(within if self._warm else within + TO_START)
                self._warm = True
                if kind == "part":
                    yield what
                    continue
                done = True
                if kind == "failed":
                    raise TaskFailedError(what)
                return
        finally:
            # Whoever asks next must not wait for what nobody wants, nor be cut short by it.
            try:
                if not done:
                    await asyncio.shield(self._stop())
            finally:
                self._turn.release()

    async def close(self) -> None:
        """End the process; nothing can be asked any more."""
        self._closed = True
        await asyncio.to_thread(self._drop)

    @property
    def pid(self) -> int | None:
        """Of the process, while it runs."""
        return None if self._process is None else self._process.pid

    async def _send(self, message: object) -> None:
        assert self._connection is not None
        try:
            self._connection.send(message)
        except OSError:
            self._drop()
            raise TaskEndedError from None

    async def _receive(self, within: float) -> tuple[str, Any]:
        connection = self._connection
        if connection is None:
            raise TaskEndedError
        try:
            there = await asyncio.to_thread(_poll, connection, within)
            if there:
                kind, what = await asyncio.to_thread(connection.recv)
                return kind, what
        except (EOFError, OSError):
            pass
        await asyncio.to_thread(self._drop)
        raise TaskEndedError

    async def _stop(self) -> None:
        """Have the task under way stop, and read what it still says."""
        if self._connection is None:
            return
        with contextlib.suppress(TaskEndedError):
            await self._send(None)
            while (await self._receive(TO_STOP))[0] == "part":
                pass

    def _drop(self) -> None:
        # The process first: its end wakes whoever still waits to hear from it.
        if self._process is not None:
            self._process.kill()
            self._process.join()
            self._process = None
        if self._connection is not None:
            self._connection.close()
            self._connection = None


def _poll(connection: Connection, within: float) -> bool:
    return connection.poll(within)


def _run(connection: Connection, prepare: Callable[..., dict[str, Task]], given: Any) -> None:
    """Do tasks until whoever asks is gone."""
    # Ctrl-C reaches every process of a terminal; the one that answers ends this one.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with contextlib.suppress(EOFError, OSError):
        tasks = prepare(*given)
        while True:
            message = connection.recv()
            if message is None:  # told to stop when it was done already
                continue
            name, args = message
            _do(connection, tasks[name], args)


def _do(connection: Connection, task: Task, args: tuple[Any, ...]) -> None:
    try:
        for part in task(*args):
            if connection.poll() and connection.recv() is None:
                break
            connection.send(("part", part))
    except (EOFError, OSError):
        raise
    except Exception as problem:  # whatever it is, the page answers and says so
        connection.send(("failed", f"{type(problem).__name__}: {problem}"))
        return
    connection.send(("end", None))
