"""How what a process of the page gives is sent, and what is said where it gives nothing."""

import hashlib
import json
from collections.abc import AsyncIterator
from html import escape
from typing import Any
from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response, StreamingResponse

from paramgen.page.typed_address import LOOKS, MOST_LETTERS
from paramgen.page.worker_processes import (
    TaskEndedError,
    TaskFailedError,
    TaskTurnedAwayError,
    WorkerProcess,
)

#: How long what is asked at each change may take until its next part, s.
WITHIN = 20.0

BUSY = "Too much is asked at once. Wait a moment and try again."
ENDED = (
    "Working that out was given up: it took too long, or its process was ended. The page goes on; "
    "try other sizes."
)


def not_so() -> Response:
    """Answer what this page does not send."""
    return PlainTextResponse("This page does not ask so.", 400)


def looks(query: str) -> tuple[str, ...]:
    """How an address says that it is looked at."""
    said = dict(parse_qsl(query[:MOST_LETTERS], keep_blank_values=True))
    return tuple(said.get(one, "") for one in LOOKS)


async def streamed(
    worker: WorkerProcess, have: dict[str, Any], task: str, *args: object
) -> Response:
    """The parts that a task gives, as they come."""
    found = worker.ask(task, *args, within=WITHIN)
    try:
        first = await anext(found, None)
    except FAILURES as problem:
        return failure(problem)
    return StreamingResponse(_changed(first, found, have), media_type="application/x-ndjson")


FAILURES = (TaskTurnedAwayError, TaskEndedError, TaskFailedError)


class UnansweredError(Exception):
    """A process gave nothing; `answer` says why."""

    def __init__(self, answer: Response) -> None:
        super().__init__()
        self.answer = answer


async def page_of(worker: WorkerProcess, task: str, *args: object) -> Response:
    """A page that a task gives."""
    try:
        return HTMLResponse(await whole_of(worker, task, *args))
    except UnansweredError as problem:
        return problem.answer


async def whole_of(worker: WorkerProcess, task: str, *args: object) -> str:
    """All that a task gives; raises UnansweredError."""
    try:
        return "".join([part async for part in worker.ask(task, *args, within=WITHIN)])
    except FAILURES as problem:
        raise UnansweredError(failure(problem)) from None


async def first_of(worker: WorkerProcess, task: str, *args: object) -> tuple[str, str]:
    """What a task that gives one thing gives; raises UnansweredError."""
    try:
        found = [part async for part in worker.ask(task, *args, within=WITHIN)]
    except FAILURES as problem:
        raise UnansweredError(failure(problem)) from None
    kind, said = found[0]
    return kind, said


def failure(problem: Exception) -> Response:
    """Say why a process gave nothing."""
    if isinstance(problem, TaskTurnedAwayError):
        return PlainTextResponse(BUSY, 503, headers={"retry-after": "1"})
    if isinstance(problem, TaskEndedError):
        return PlainTextResponse(ENDED, 504)
    return PlainTextResponse(f"This is a fault of the program. {problem}", 500)


async def _changed(
    first: tuple[str, str] | None, rest: AsyncIterator[tuple[str, str]], have: dict[str, Any]
) -> AsyncIterator[str]:
    """Parts that are not as the page has them, a line each."""
    part = first
    try:
        while part is not None:
            name, html = part
            digest = hashlib.sha256(html.encode()).hexdigest()[:16]
            if have.get(name) != digest:
                yield json.dumps({"part": name, "digest": digest, "html": html}) + "\n"
            part = await anext(rest, None)
    except FAILURES as problem:
        said = bytes(failure(problem).body).decode()
        yield json.dumps({"part": "verdict", "digest": "", "html": _verdict(said)}) + "\n"


def _verdict(text: str) -> str:
    """Say in the place of the verdict why there is none; the text is our own."""
    return f'<p class="verdict not">{escape(text)}</p>'


async def gone(_request: Request, _problem: Exception) -> Response:
    """Answer a request that was broken off."""
    return PlainTextResponse("That is more than this page reads, or it was broken off.", 413)
