"""Rows made side by side in several processes."""

import gc
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from itertools import islice
from multiprocessing import connection, get_context, parent_process

from paramgen.cli.make_row import RowOutcome, do
from paramgen.grading.row_job import RowJob
from paramgen.vocabulary.findings import WriteError

#: Windows waits for no more processes at once, and no table of rows wants more.
MOST_WORKERS = 61


def processors() -> int:
    """Processors that this program may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def work(jobs: Sequence[RowJob], count: int) -> Iterator[RowOutcome]:
    """Make rows, so many at a time, and give what became of each as it is done.

    Raises
    ------
    WriteError
        If a worker was ended from outside.
    """
    if min(count, len(jobs)) == 1:
        gc.enable()  # off for commands that are short
        yield from map(do, jobs)
        return
    # Workers start afresh: a copy of this process could hold a lock of a library for ever.
    pool = ProcessPoolExecutor(min(count, len(jobs), MOST_WORKERS), get_context("spawn"), _start)
    try:
        waiting = iter(jobs)
        with _undisturbed():
            running = {pool.submit(_row, job) for job in islice(waiting, 2 * count)}
        while running:
            done, running = wait(running, return_when=FIRST_COMPLETED)
            for future in done:
                yield future.result()
            with _undisturbed():
                running |= {pool.submit(_row, job) for job in islice(waiting, len(done))}
    except BrokenProcessPool:
        raise WriteError(
            "A process that made rows was ended from outside, perhaps because memory ran out. "
            "Run the same command again: it goes on where it stopped. With --jobs 1 it takes "
            "the least memory."
        ) from None
    finally:
        # What is being made now is finished: a row takes about a second.
        pool.shutdown(cancel_futures=True)


def _row(job: RowJob) -> RowOutcome:
    """Make a row, and leave no garbage: so memory stays as it is, however many there are."""
    outcome = do(job)
    gc.collect()
    return outcome


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Keep Ctrl-C from workers as they start; it reaches this process a moment later."""
    if sys.platform == "win32":
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _start() -> None:
    """Make a process a worker: it is stopped by the one that started it, and ends with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.freeze()  # what is loaded stays
    gc.disable()  # looked for once a row, see `_row`
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)
