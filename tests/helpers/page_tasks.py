"""Tasks for a process of the page that take as long as a test says."""

import time
from collections.abc import Iterator

from paramgen.page.long_jobs import JobResult, JobStage, JobState, Told
from paramgen.page.worker_side import Task


def prepare() -> list[dict[str, Task]]:
    return [{"count": count, "weigh": weigh, "hang": hang, "break": break_, "refuse": refuse}]


def count(query: str, most: str) -> Iterator[Told]:
    for number in range(int(most)):
        yield JobState(JobStage.WORKING, f"{query} {number}", number / int(most))
        time.sleep(0.01)
    yield JobResult("text/plain", f"{query}.txt", query.encode())


def weigh(query: str, grams: str) -> Iterator[Told]:
    yield JobResult("text/plain", "", query.encode() * int(grams))


def hang(_query: str) -> Iterator[Told]:
    yield JobState(JobStage.WORKING, "hanging")
    time.sleep(600)


def break_(_query: str) -> Iterator[Told]:
    yield JobState(JobStage.WORKING, "about to break")
    raise ValueError("the needle")


def refuse(_query: str) -> Iterator[Told]:
    yield JobState(JobStage.REFUSED, "too wide", facts=(("another", "yes"),))
