"""Tasks that behave badly, for a process that works for the page."""

import gc
import itertools
import os
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

from paramgen.page.worker_side import Task


def prepare(folder: str) -> Iterator[Mapping[str, Task]]:
    # As the process has that those of the page branch off from.
    import paramgen.page.loaded_to_stay  # noqa: F401, PLC0415

    yield {one.__name__: one for one in (count, sleep, endless, flood, busy, broken, vanish, pid)}
    yield {"collecting": collecting, "large": large, "mark": lambda name: mark(Path(folder), name)}


def prepare_badly() -> list[Mapping[str, Task]]:
    raise ValueError("the table has three legs")


def prepare_never() -> list[Mapping[str, Task]]:
    time.sleep(100)
    return []


def prepare_and_die() -> list[Mapping[str, Task]]:
    os._exit(3)


def count(most: int) -> Iterator[int]:
    yield from range(most)


def sleep(seconds: float) -> Iterator[str]:
    time.sleep(seconds)
    yield "slept"


def endless() -> Iterator[int]:
    """Goes on until it is told to stop."""
    for number in itertools.count():
        time.sleep(0.01)
        yield number


def flood() -> Iterator[str]:
    """Goes on, as fast as it can."""
    while True:
        yield "x" * 1000


def busy() -> Iterator[int]:
    """Never looks up again."""
    yield 1
    while True:
        pass


def broken() -> Iterator[int]:
    yield 1
    raise KeyError("thread")


def vanish() -> Iterator[int]:
    """Its process ends under it."""
    yield 1
    time.sleep(0.05)
    os._exit(9)


def pid() -> Iterator[int]:
    yield os.getpid()


def collecting() -> Iterator[bool]:
    yield gc.isenabled()


def large(text: str) -> Iterator[int]:
    yield len(text)


def mark(folder: Path, name: str) -> Iterator[str]:
    """Leaves a file, so that it can be told whether it was ever begun."""
    (folder / name).touch()
    yield name
