"""What a task gives as an answer to the browser, as long as the browser waits for it."""

import asyncio
import hashlib
import json
import zlib
from collections.abc import AsyncGenerator, AsyncIterator, Coroutine
from contextlib import aclosing
from html import escape
from typing import Any, TypeVar
from urllib.parse import parse_qsl

from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response, StreamingResponse

from paramgen.page.typed_address import LOOKS, MOST_LETTERS
from paramgen.page.worker_processes import (
    TaskEndedError,
    TaskFailedError,
    TaskTurnedAwayError,
    WorkerProcess,
)

#: How long what is asked at each change may take until its next part, s.
WITHIN = 20.0

#: How hard answers are packed, 1 to 9: what is saved beyond this costs more time than it saves.
PACKED = 4

#: How parts are sent: a line of JSON each.
LINES = "application/x-ndjson"

_BUSY = "Too much is asked at once. Wait a moment and try again."
_ENDED = (
    "Working that out was given up: it took too long, or its process was ended. The page goes on; "
    "try other sizes, or another file."
)
_FAILURES = (TaskTurnedAwayError, TaskEndedError, TaskFailedError)

T = TypeVar("T")


async def whole_answer(
    request: Request,
    worker: WorkerProcess,
    kind: str,
    task: str,
    *args: object,
) -> Response:
    """All that a task gives, in one.

    Parameters
    ----------
    request : Request
    worker : WorkerProcess
    kind : str
        Of the answer, as browsers name kinds.
    task : str
        It gives texts; nothing if there is nothing at the address.
    *args
        Handed to it.
    """
    try:
        text = "".join(await _while_wanted(request, _all_of(worker, task, args)))
    except _FAILURES as problem:
        return failure(problem)
    if not text:
        return PlainTextResponse("There is nothing at this address.", 404)
    return Response(text, media_type=kind)


async def page_in_turn(
    request: Request, worker: WorkerProcess, task: str, *args: object
) -> Response:
    """A page that a task gives, as it comes.

    Parameters
    ----------
    request : Request
    worker : WorkerProcess
    task : str
        It gives the page piece by piece.
    *args
        Handed to it.
    """
    found = worker.ask(task, *args, within=WITHIN)
    try:
        first = await _while_wanted(request, anext(found))
    except _FAILURES as problem:
        return failure(problem)
    pieces = _pieces(first, found)
    if "gzip" not in request.headers.get("accept-encoding", ""):
        return StreamingResponse(pieces, media_type="text/html")
    head = {"content-encoding": "gzip", "vary": "Accept-Encoding"}
    return StreamingResponse(_packed(pieces), media_type="text/html", headers=head)


async def told_answer(
    request: Request, worker: WorkerProcess, task: str, *args: object
) -> tuple[str, str] | Response:
    """What a task that gives one name and text gives; the answer to say why, where it gives none.

    Parameters
    ----------
    request : Request
    worker : WorkerProcess
    task : str
    *args
        Handed to it.
    """
    try:
        ((name, text),) = await _while_wanted(request, _all_of(worker, task, args))
    except _FAILURES as problem:
        return failure(problem)
    return name, text


def query_of(request: Request) -> str:
    """What stands after the question mark."""
    return bytes(request.scope["query_string"]).decode("latin-1")


def looks(query: str) -> tuple[str, ...]:
    """How an address says that it is looked at."""
    said = dict(parse_qsl(query[:MOST_LETTERS], keep_blank_values=True))
    return tuple(said.get(one, "") for one in LOOKS)


async def parts_answer(
    request: Request, worker: WorkerProcess, asked: dict[str, Any], task: str, *args: object
) -> Response:
    """The parts that a task gives, as they come.

    Parameters
    ----------
    request : Request
    worker : WorkerProcess
    asked : dict
        Under `have`, which state of each part the page has, and under `window` which of the
        browser's windows asks; what that asked before is given up.
    task : str
        It gives a name and HTML for each part.
    *args
        Handed to it.
    """
    have, window = asked.get("have"), asked.get("window", "")
    if not isinstance(have, dict) or not isinstance(window, str):
        return not_so()
    found = worker.ask(task, *args, within=WITHIN, window=window)
    try:
        first = await _while_wanted(request, anext(found, None))
    except _FAILURES as problem:
        return failure(problem)
    return StreamingResponse(_changed(first, found, have), media_type=LINES)


def not_so() -> Response:
    """To what no page of ours asks."""
    return PlainTextResponse("This page does not ask so.", 400)


async def gone(_request: Request, _problem: Exception) -> Response:
    """To whoever sends too much, or breaks off."""
    return PlainTextResponse("That is more than this page reads, or it was broken off.", 413)


async def _all_of(worker: WorkerProcess, task: str, args: tuple[object, ...]) -> list[Any]:
    return [part async for part in worker.ask(task, *args, within=WITHIN)]


async def _while_wanted(request: Request, answer: Coroutine[Any, Any, T]) -> T:
    """Wait for an answer; give it up once the browser is gone."""
    found, left = asyncio.ensure_future(answer), asyncio.ensure_future(_left(request))
    try:
        await asyncio.wait((found, left), return_when=asyncio.FIRST_COMPLETED)
        if found.done():
            return found.result()
        raise ClientDisconnect
    finally:
        for one in (found, left):
            one.cancel()
        await asyncio.wait((found, left))


async def _left(request: Request) -> None:
    """Wait until the browser is gone."""
    while (await request.receive())["type"] != "http.disconnect":
        pass


def failure(problem: Exception) -> Response:
    """Say why a process gave nothing."""
    if isinstance(problem, TaskTurnedAwayError):
        return PlainTextResponse(_BUSY, 503, headers={"retry-after": "1"})
    if isinstance(problem, TaskEndedError):
        return PlainTextResponse(_ENDED, 504)
    return PlainTextResponse(f"This is a fault of the program. {problem}", 500)


async def _pieces(first: str, rest: AsyncGenerator[str, None]) -> AsyncIterator[str]:
    async with aclosing(rest):
        yield first
        try:
            async for piece in rest:
                yield piece
        except _FAILURES as problem:
            yield _verdict(bytes(failure(problem).body).decode())


async def _packed(pieces: AsyncIterator[str]) -> AsyncIterator[bytes]:
    """Each piece packed so that the browser has all of it at once."""
    pack = zlib.compressobj(PACKED, wbits=zlib.MAX_WBITS | 16)  # 16: as gzip (RFC 1952)
    async for piece in pieces:
        yield pack.compress(piece.encode()) + pack.flush(zlib.Z_SYNC_FLUSH)
    yield pack.flush()


async def _changed(
    first: tuple[str, str] | None, rest: AsyncGenerator[tuple[str, str], None], have: dict[str, Any]
) -> AsyncIterator[str]:
    """Parts that are not as the page has them, a line each."""
    part = first
    async with aclosing(rest):
        try:
            while part is not None:
                name, html = part
                digest = hashlib.sha256(html.encode()).hexdigest()[:16]
                if have.get(name) != digest:
                    yield json.dumps({"part": name, "digest": digest, "html": html}) + "\n"
                part = await anext(rest, None)
        except _FAILURES as problem:
            said = bytes(failure(problem).body).decode()
            yield json.dumps({"part": "verdict", "digest": "", "html": _verdict(said)}) + "\n"


def _verdict(text: str) -> str:
    """Say in the place of the verdict why there is none; the text is our own."""
    return f'<p class="verdict not">{escape(text)}</p>'
