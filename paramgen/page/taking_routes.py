"""Where a project is taken, and all its sizes are seen."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from paramgen.page.answers import page_of
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

    return [Route("/take", take), Route("/sizes", sizes)]
