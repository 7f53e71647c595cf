"""What is at which address."""

from collections.abc import Mapping
from importlib.resources import files

from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from paramgen.page.answers import (
    UnansweredError,
    gone,
    looks,
    not_so,
    page_of,
    streamed,
    whole_of,
)
from paramgen.page.job_routes import job_routes
from paramgen.page.json_body import json_body
from paramgen.page.long_jobs import LongJobs
from paramgen.page.own_file_routes import own_file_routes
from paramgen.page.taking_routes import taking_routes
from paramgen.page.worker_processes import WorkerProcess


def application(
    quick: WorkerProcess, jobs: LongJobs, own: Mapping[str, str], out: str = ""
) -> Starlette:
    """The page, not yet guarded.

    Parameters
    ----------
    quick : WorkerProcess
        Works out what is asked at each change.
    jobs : LongJobs
        What takes long.
    own : mapping of name to path
        A person's own recipe files.
    out : str
        The folder in which projects may be put; empty for none.
    """

    async def pick(_request: Request) -> Response:
        return await page_of(quick, "pick")

    async def project(request: Request) -> Response:
        return await page_of(quick, "project", request.url.query)

    async def steps(request: Request) -> Response:
        return await page_of(quick, "steps", request.url.query, *looks(request.url.query))

    async def step_changes(request: Request) -> Response:
        asked = await json_body(request)
        query, have = asked.get("query"), asked.get("have")
        if not isinstance(query, str) or not isinstance(have, dict):
            return not_so()
        return await streamed(quick, have, "step-changes", query, *looks(query))

    async def solid(request: Request) -> Response:
        try:
            found = await whole_of(quick, "solid", request.url.query)
        except UnansweredError as problem:
            return problem.answer
        if not found:
            return PlainTextResponse("There is no finished thing to turn: see what was found.", 404)
        return Response(found, media_type="application/json")

    async def write(request: Request) -> Response:
        return await page_of(quick, "write", request.url.query)

    async def stitch_file(_request: Request) -> Response:
        return await page_of(quick, "stitch-file-page")

    async def read_stitch_file(request: Request) -> Response:
        said = request.query_params
        name, inches = said.get("name", ""), said.get("unit") == "in"
        return await streamed(quick, {}, "stitch-file", name, await request.body(), inches)

    async def recipe_picture(request: Request) -> Response:
        try:
            svg = await whole_of(quick, "recipe-picture", request.path_params["name"])
        except UnansweredError as problem:
            return problem.answer
        return Response(svg, media_type="image/svg+xml")

    async def changes(request: Request) -> Response:
        asked = await json_body(request)
        query, have, text = asked.get("query"), asked.get("have"), asked.get("text")
        if not isinstance(query, str) or not isinstance(have, dict):
            return not_so()
        own = text if isinstance(text, str) else None
        return await streamed(quick, have, "changes", query, own)

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
            *taking_routes(quick, out),
            *job_routes(jobs),
            Mount("/static", StaticFiles(directory=str(files("paramgen.page") / "static"))),
        ],
        exception_handlers={ClientDisconnect: gone},
    )
