"""Where a project is taken, where its sizes are seen, and what is bought for many of it."""

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from paramgen.page.answers import not_so, parts_answer, query_of, told_answer, whole_answer
from paramgen.page.json_body import json_body
from paramgen.page.ways import CSV
from paramgen.page.worker_processes import WorkerProcess

_PAGE = "text/html"
_OK = 200


def taking_routes(quick: WorkerProcess, out: str) -> list[Route]:
    """The addresses of these views.

    Parameters
    ----------
    quick : WorkerProcess
    out : str
        The folder in which projects may be put; empty for none.
    """

    async def take(request: Request) -> Response:
        return await whole_answer(request, quick, _PAGE, "take", query_of(request), out)

    async def sizes(request: Request) -> Response:
        over = request.query_params.get("over", "")
        return await whole_answer(request, quick, _PAGE, "sizes", query_of(request), over)

    async def table(request: Request) -> Response:
        return await whole_answer(request, quick, _PAGE, "table", query_of(request))

    async def table_changes(request: Request) -> Response:
        asked = await json_body(request)
        query = asked.get("query")
        if not isinstance(query, str):
            return not_so()
        return await parts_answer(request, quick, asked, "table-changes", query)

    async def table_file(request: Request) -> Response:
        found = await whole_answer(request, quick, "text/csv", "table-file", query_of(request))
        if found.status_code == _OK:
            found.headers["content-disposition"] = f'attachment; filename="{CSV}"'
        return found

    async def pasted(request: Request) -> Response:
        asked = await json_body(request)
        query, text = asked.get("query"), asked.get("text")
        if not isinstance(query, str) or not isinstance(text, str):
            return not_so()
        found = await told_answer(request, quick, "table-pasted", query, text)
        if isinstance(found, Response):
            return found
        kind, said = found
        return PlainTextResponse(said, 200 if kind == "address" else 422)

    async def kit(request: Request) -> Response:
        return await whole_answer(request, quick, _PAGE, "kit-page", query_of(request))

    return [
        Route("/take", take),
        Route("/kit", kit),
        Route("/sizes", sizes),
        Route("/table", table),
        Route("/table", table_changes, methods=["POST"]),
        Route("/table.csv", table_file),
        Route("/table-pasted", pasted, methods=["POST"]),
    ]
