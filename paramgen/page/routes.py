"""What is at which address."""

import hashlib
import json
from collections.abc import AsyncIterator, Mapping
from html import escape
from importlib.resources import files
from typing import Any
from urllib.parse import parse_qsl

from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from paramgen.page.json_body import json_body
from paramgen.page.own_file_routes import own_file_routes
from paramgen.page.typed_address import LOOKS, MOST_LETTERS
from paramgen.page.worker_processes import (
    TaskEndedError,
    TaskFailedError,
    TaskTurnedAwayError,
    WorkerProcess,
)

#: How long what is asked at each change may take until its next part, s.
WITHIN = 20.0

_BUSY = "Too much is asked at once. Wait a moment and try again."
_ENDED = (
    "Working that out was given up: it took too long, or its process was ended. The page goes on; "
    "try other sizes."
)


def application(quick: WorkerProcess, own: Mapping[str, str]) -> Starlette:
    """The page, not yet guarded.

    Parameters
    ----------
    quick : WorkerProcess
        Works out what is asked at each change.
    own : mapping of name to path
        A person's own recipe files.
    """

    async def pick(_request: Request) -> Response:
        return await _page(quick, "pick")

    async def project(request: Request) -> Response:
        return await _page(quick, "project", request.url.query)

    async def steps(request: Request) -> Response:
        return await _page(quick, "steps", request.url.query, *_looks(request.url.query))

    async def step_changes(request: Request) -> Response:
        asked = await json_body(request)
        query, have = asked.get("query"), asked.get("have")
        if not isinstance(query, str) or not isinstance(have, dict):
            return _not_so()
        return await _streamed(quick, have, "step-changes", query, *_looks(query))

    async def solid(request: Request) -> Response:
        try:
            found = await _whole(quick, "solid", request.url.query)
        except _UnansweredError as problem:
            return problem.answer
        if not found:
            return PlainTextResponse("There is no finished thing to turn: see what was found.", 404)
        return Response(found, media_type="application/json")

    async def write(request: Request) -> Response:
        return await _page(quick, "write", request.url.query)

    async def stitch_file(_request: Request) -> Response:
        return await _page(quick, "stitch-file-page")

    async def read_stitch_file(request: Request) -> Response:
        said = request.query_params
        name, inches = said.get("name", ""), said.get("unit") == "in"
        return await _streamed(quick, {}, "stitch-file", name, await request.body(), inches)

    async def recipe_picture(request: Request) -> Response:
        try:
            svg = await _whole(quick, "recipe-picture", request.path_params["name"])
        except _UnansweredError as problem:
            return problem.answer
        return Response(svg, media_type="image/svg+xml")

    async def changes(request: Request) -> Response:
        asked = await json_body(request)
        query, have, text = asked.get("query"), asked.get("have"), asked.get("text")
        if not isinstance(query, str) or not isinstance(have, dict):
            return _not_so()
        own = text if isinstance(text, str) else None
        return await _streamed(quick, have, "changes", query, own)

    return Starlette(
        routes=[
            Route("/", pick),
            Route("/project", project),
            Route("/changes", changes, methods=["POST"]),
            Route("/steps", steps),
            Route("/steps", step_changes, methods=["POST"]),
            Route("/solid", solid),
            Route("/write", write),
            *own_file_routes(own),
            Route("/stitch-file", stitch_file),
            Route("/stitch-file", read_stitch_file, methods=["POST"]),
            Route("/recipe-picture/{name:path}", recipe_picture),
            Mount("/static", StaticFiles(directory=str(files("paramgen.page") / "static"))),
        ],
        exception_handlers={ClientDisconnect: _gone},
    )


def _not_so() -> Response:
    return PlainTextResponse("This page does not ask so.", 400)


def _looks(query: str) -> tuple[str, ...]:
    """How an address says that it is looked at."""
    said = dict(parse_qsl(query[:MOST_LETTERS], keep_blank_values=True))
    return tuple(said.get(one, "") for one in LOOKS)


async def _streamed(
    worker: WorkerProcess, have: dict[str, Any], task: str, *args: object
) -> Response:
    """The parts that a task gives, as they come."""
    found = worker.ask(task, *args, within=WITHIN)
    try:
        first = await anext(found, None)
    except _FAILURES as problem:
        return _failure(problem)
    return StreamingResponse(_changed(first, found, have), media_type="application/x-ndjson")


_FAILURES = (TaskTurnedAwayError, TaskEndedError, TaskFailedError)


class _UnansweredError(Exception):
    def __init__(self, answer: Response) -> None:
        super().__init__()
        self.answer = answer


async def _page(worker: WorkerProcess, task: str, *args: object) -> Response:
    try:
        return HTMLResponse(await _whole(worker, task, *args))
    except _UnansweredError as problem:
        return problem.answer


async def _whole(worker: WorkerProcess, task: str, *args: object) -> str:
    """All that a task gives."""
    try:
        return "".join([part async for part in worker.ask(task, *args, within=WITHIN)])
    except _FAILURES as problem:
        raise _UnansweredError(_failure(problem)) from None


def _failure(problem: Exception) -> Response:
    if isinstance(problem, TaskTurnedAwayError):
        return PlainTextResponse(_BUSY, 503, headers={"retry-after": "1"})
    if isinstance(problem, TaskEndedError):
        return PlainTextResponse(_ENDED, 504)
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
    except _FAILURES as problem:
        said = bytes(_failure(problem).body).decode()
        yield json.dumps({"part": "verdict", "digest": "", "html": _verdict(said)}) + "\n"


def _verdict(text: str) -> str:
    """Say in the place of the verdict why there is none; the text is our own."""
    return f'<p class="verdict not">{escape(text)}</p>'


async def _gone(_request: Request, _problem: Exception) -> Response:
    return PlainTextResponse("That is more than this page reads, or it was broken off.", 413)
