"""What is at which address."""

import traceback
from collections.abc import Mapping
from importlib.resources import files

from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from paramgen.page.answers import (
    gone,
    looks,
    not_so,
    page_in_turn,
    parts_answer,
    query_of,
    whole_answer,
)
from paramgen.page.given_files import GivenFiles
from paramgen.page.given_routes import given_routes
from paramgen.page.job_routes import job_routes
from paramgen.page.json_body import json_body
from paramgen.page.long_jobs import LongJobs
from paramgen.page.own_file_routes import own_file_routes
from paramgen.page.taking_routes import taking_routes
from paramgen.page.worker_processes import WorkerProcess

_PAGE, _PICTURE, _DATA = "text/html", "image/svg+xml", "application/json"


def application(
    quick: WorkerProcess,
    jobs: LongJobs,
    own: Mapping[str, str],
    out: str = "",
    given: GivenFiles | None = None,
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
    given : GivenFiles or None
        Files of their own that were given, for processes that are started later.
    """

    async def pick(request: Request) -> Response:
        return await whole_answer(request, quick, _PAGE, "pick")

    async def project(request: Request) -> Response:
        return await page_in_turn(request, quick, "project", query_of(request))

    async def steps(request: Request) -> Response:
        query = query_of(request)
        return await whole_answer(request, quick, _PAGE, "steps", query, *looks(query))

    async def step_changes(request: Request) -> Response:
        asked = await json_body(request)
        query = asked.get("query")
        if not isinstance(query, str):
            return not_so()
        return await parts_answer(request, quick, asked, "step-changes", query, *looks(query))

    async def solid(request: Request) -> Response:
        return await whole_answer(request, quick, _DATA, "solid", query_of(request))

    async def write(request: Request) -> Response:
        return await whole_answer(request, quick, _PAGE, "write", query_of(request))

    async def stitch_file(request: Request) -> Response:
        return await whole_answer(request, quick, _PAGE, "stitch-file-page")

    async def read_stitch_file(request: Request) -> Response:
        said = request.query_params
        name, inches = said.get("name", ""), said.get("unit") == "in"
        data = await request.body()
        return await parts_answer(request, quick, {"have": {}}, "stitch-file", name, data, inches)

    async def recipe_picture(request: Request) -> Response:
        name = request.path_params["name"]
        return await whole_answer(request, quick, _PICTURE, "recipe-picture", name)

    async def changes(request: Request) -> Response:
        asked = await json_body(request)
        query, text = asked.get("query"), asked.get("text")
        if not isinstance(query, str):
            return not_so()
        written = text if isinstance(text, str) else None
        only = str(asked.get("only", ""))
        return await parts_answer(request, quick, asked, "changes", query, written, only)

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
            *given_routes(quick, jobs.worker, given or GivenFiles()),
            Mount("/static", StaticFiles(directory=str(files("paramgen.page") / "static"))),
        ],
        exception_handlers={ClientDisconnect: gone, Exception: _broken},
    )


async def _broken(_request: Request, problem: Exception) -> Response:
    """To what no one foresaw; where it was is for whoever looks at the terminal."""
    traceback.print_exception(problem)
    return PlainTextResponse(f"This is a fault of the program. {type(problem).__name__}", 500)
