"""Work that is told of and can be stopped while it goes on, though it is one call of a function."""

from collections.abc import Callable, Generator
from concurrent.futures import ThreadPoolExecutor, wait
from threading import Event
from typing import TypeVar

from paramgen.page.long_jobs import JobState

#: How often it is said how the work stands, s; so soon it hears that it is to stop.
BEAT = 0.2

Made = TypeVar("Made")

#: Says how the work stands; raises if it is to stop.
Tell = Callable[[JobState], None]


class GivenUpError(Exception):
    """Nobody wants what is being worked out."""


def watched(work: Callable[[Tell], Made]) -> Generator[JobState, None, Made]:
    """Do work beside, and say again and again how it stands.

    Parameters
    ----------
    work : callable
        Given what to tell how it stands, which it does often.

    Returns
    -------
    what the work gives

    Raises
    ------
    what the work raises
    """
    stopping, said = Event(), list[JobState]()

    def tell(state: JobState) -> None:
        if stopping.is_set():
            raise GivenUpError
        said[:] = [state]

    with ThreadPoolExecutor(1) as beside:
        future = beside.submit(work, tell)
        try:
            while wait([future], BEAT).not_done:
                yield from said
        finally:
            stopping.set()
        return future.result()
