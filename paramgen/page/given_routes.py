"""Where a file of one's own is given to the page: the picture of a fabric, or a motif."""

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from paramgen.page.answers import told_answer
from paramgen.page.given_files import GivenFiles
from paramgen.page.worker_processes import WorkerProcess


def given_routes(quick: WorkerProcess, long: WorkerProcess, given: GivenFiles) -> list[Route]:
    """Make the routes.

    Parameters
    ----------
    quick, long : WorkerProcess
        The first looks whether it is what it is to be; both keep it.
    given : GivenFiles
        What a process has that is started later.
    """

    async def kept(request: Request, task: str, *called: str) -> Response:
        data = await request.body()
        found = await told_answer(request, quick, task, data, *called)
        if isinstance(found, Response):
            return found
        name, fault = found
        if fault:
            return PlainTextResponse(fault, 415)
        given.keep(name, data)
        if long.pid is not None:
            also = await told_answer(request, long, task, data, *called)
            if isinstance(also, Response):
                return also
        return JSONResponse({"name": name})

    async def give_print(request: Request) -> Response:
        return await kept(request, "keep-print")

    async def give_motif(request: Request) -> Response:
        return await kept(request, "keep-motif", request.query_params.get("name", ""))

    async def there(request: Request) -> Response:
        found = given.get(request.path_params["name"]) is not None
        return Response(status_code=204 if found else 404)

    return [
        Route("/print", give_print, methods=["POST"]),
        Route("/motif", give_motif, methods=["POST"]),
        Route("/given/{name}", there),
    ]
