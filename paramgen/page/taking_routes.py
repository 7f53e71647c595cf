"""Where a project is taken, and where all its sizes and several of them are seen."""

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from paramgen.page.answers import (
    UnansweredError,
    first_of,
    not_so,
    page_of,
    streamed,
    whole_of,
)
from paramgen.page.json_body import json_body
from paramgen.page.ways import CSV
from paramgen.page.worker_processes import WorkerProcess


def taking_routes(quick: WorkerProcess, out: str) -> list[Route]:
    """The addresses of these views.

    Parameters
    ----------
    quick : WorkerProcess
    out : str
        The folder in which projects may be put; empty for none.
    """

    async def take(request: Request) -> Response:
        return await page_of(quick, "take", request.url.query, out)

    async def sizes(request: Request) -> Response:
        over = request.query_params.get("over", "")
        return await page_of(quick, "sizes", request.url.query, over)

    async def table(request: Request) -> Response:
        return await page_of(quick, "table", request.url.query)

    async def table_changes(request: Request) -> Response:
        asked = await json_body(request)
        query, have = asked.get("query"), asked.get("have")
        if not isinstance(query, str) or not isinstance(have, dict):
            return not_so()
        return await streamed(quick, have, "table-changes", query)

    async def table_file(request: Request) -> Response:
        try:
            text = await whole_of(quick, "table-file", request.url.query)
        except UnansweredError as problem:
            return problem.answer
        named = {"content-disposition": f'attachment; filename="{CSV}"'}
        return Response(text, media_type="text/csv", headers=named)

    async def pasted(request: Request) -> Response:
        asked = await json_body(request)
        query, text = asked.get("query"), asked.get("text")
        if not isinstance(query, str) or not isinstance(text, str):
            return not_so()
        try:
            kind, said = await first_of(quick, "table-pasted", query, text)
        except UnansweredError as problem:
            return problem.answer
        return PlainTextResponse(said, 200 if kind == "address" else 422)

    return [
        Route("/take", take),
        Route("/sizes", sizes),
        Route("/table", table),
        Route("/table", table_changes, methods=["POST"]),
        Route("/table.csv", table_file),
        Route("/table-pasted", pasted, methods=["POST"]),
    ]
