"""What runs in a process that works for the page: one task after another, as it is told."""

import contextlib
import gc
import os
import signal
import threading
import traceback
from collections.abc import Callable, Iterable, Iterator, Mapping
from multiprocessing import parent_process
from multiprocessing.connection import Connection, wait
from typing import Any, Literal

Task = Callable[..., Iterator[Any]]

#: What a process says: that it is ready, the next that a task yields, that a task is over, or how
#: the task, or the start, failed.
Kind = Literal["ready", "part", "end", "failed"]

#: Makes a process ready: gives its tasks by their names, those that are wanted first before others.
Prepare = Callable[..., Iterable[Mapping[str, Task]]]

#: Once nothing was asked for so long, the next tasks are loaded, s.
AT_REST = 0.3


def in_one(give: Callable[..., Any], *given: object) -> Task:
    """A task that yields one thing: what a function gives of this and of what is asked."""

    def task(*args: object) -> Iterator[Any]:
        yield give(*given, *args)

    return task


def work(connection: Connection, prepare: Prepare, given: Any) -> None:
    """Do tasks until whoever asks is gone.

    Parameters
    ----------
    connection : Connection
        Brings (task, arguments), or None: stop what is under way. Takes (`Kind`, what).
    prepare : callable
        See `Prepare`.
    given : tuple
        What it is given.
    """
    # Ctrl-C reaches every process of a terminal; the one that answers ends this one.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    with contextlib.suppress(EOFError, OSError):
        try:
            tasks = _Tasks(prepare(*given))
        except Exception as problem:  # whatever it is, the page answers and says so
            connection.send(("failed", _said(problem)))
            return
        connection.send(("ready", None))
        while True:
            if not connection.poll(AT_REST):
                tasks.load_more()
            message = connection.recv()
            if message is None:  # told to stop when it was done already
                continue
            name, args = message
            _do(connection, tasks.named(name), args)


class _Tasks:
    """Tasks by their names, loaded some at a time."""

    def __init__(self, found: Iterable[Mapping[str, Task]]) -> None:
        self._found, self._tasks = iter(found), dict[str, Task]()
        self.load_more()

    def named(self, name: str) -> Task:
        while name not in self._tasks and self.load_more():
            pass
        return self._tasks[name]

    def load_more(self) -> bool:
        """Load the next; tells whether there were any."""
        gc.disable()  # while it loads: all of that stays
        try:
            more = next(self._found, None)
            if more is None:
                return False
            self._tasks.update(more)
            gc.freeze()
            return True
        finally:
            gc.enable()


def _do(connection: Connection, task: Task, args: tuple[Any, ...]) -> None:
    parts = task(*args)
    while True:
        try:
            part = next(parts, None)
        except Exception as problem:  # whatever it is, the page answers and says so
            connection.send(("failed", _said(problem)))
            return
        if part is None or (connection.poll() and connection.recv() is None):
            connection.send(("end", None))
            return
        connection.send(("part", part))


def _said(problem: Exception) -> str:
    """What failed, for the page; where, for whoever looks at the terminal."""
    traceback.print_exception(problem)
    return f"{type(problem).__name__}: {problem}"


def _end_with_parent() -> None:
    """End with the process that answers, however it ended and whatever is under way here."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)
