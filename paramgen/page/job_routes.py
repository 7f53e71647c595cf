"""What takes long: where it is started, watched, stopped and had."""

import json
from collections.abc import AsyncIterator
from dataclasses import asdict
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route

from paramgen.page.answers import failure, not_so
from paramgen.page.json_body import json_body
from paramgen.page.long_jobs import JobState, LongJobs, UnknownJobError
from paramgen.page.worker_processes import TaskTurnedAwayError

#: What may be asked, and what each is told besides the address.
ASKED = {
    "take": ("wanted",),
    "put": ("over",),
    "sizes": ("over",),
    "would-do": (),
    "take-all": (),
    "kit": (),
    "take-kit": (),
}

_FORGOTTEN = "This is no longer kept. Ask for it once more."


def job_routes(jobs: LongJobs) -> list[Route]:
    """The addresses of jobs."""

    async def start(request: Request) -> Response:
        asked = await json_body(request)
        task, query = asked.get("task"), asked.get("query")
        if not isinstance(task, str) or task not in ASKED or not isinstance(query, str):
            return not_so()
        more = [asked.get(one, "") for one in ASKED[task]]
        if not all(isinstance(one, str) for one in more):
            return not_so()
        try:
            return JSONResponse({"job": jobs.start(task, query, *more)})
        except TaskTurnedAwayError as problem:
            return failure(problem)

    async def events(request: Request) -> Response:
        told = jobs.watch(request.path_params["name"])
        try:
            first = await anext(told)
        except UnknownJobError:
            return PlainTextResponse(_FORGOTTEN, 404)
        return StreamingResponse(_events(first, told), media_type="text/event-stream")

    async def stop(request: Request) -> Response:
        try:
            jobs.stop(request.path_params["name"])
        except UnknownJobError:
            return PlainTextResponse(_FORGOTTEN, 404)
        return Response(status_code=204)

    async def result(request: Request) -> Response:
        try:
            found = jobs.result(request.path_params["name"])
        except UnknownJobError:
            return PlainTextResponse(_FORGOTTEN, 404)
        headers = {}
        if found.name:
            headers["content-disposition"] = f"attachment; filename*=utf-8''{quote(found.name)}"
        return Response(found.data, media_type=found.media, headers=headers)

    return [
        Route("/jobs", start, methods=["POST"]),
        Route("/jobs/{name}/events", events),
        Route("/jobs/{name}/stop", stop, methods=["POST"]),
        Route("/jobs/{name}/result", result),
    ]


async def _events(
    first: JobState | None, rest: AsyncIterator[JobState | None]
) -> AsyncIterator[str]:
    """How a job stands, as server-sent events: each tells all, so that none need be had twice."""
    state = first
    while True:
        yield ": still there\n\n" if state is None else _event(state)
        if state is not None and state.over:
            return
        state = await anext(rest)


def _event(state: JobState) -> str:
    told: dict[str, Any] = {**asdict(state), "facts": dict(state.facts), "over": state.over}
    return f"data: {json.dumps(told)}\n\n"
