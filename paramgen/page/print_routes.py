"""Where a picture of one's own fabric is given to the page."""

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from paramgen.page.answers import told_answer
from paramgen.page.print_store import PrintStore
from paramgen.page.worker_processes import WorkerProcess


def print_routes(quick: WorkerProcess, long: WorkerProcess, store: PrintStore) -> list[Route]:
    """Make the routes.

    Parameters
    ----------
    quick, long : WorkerProcess
        The first looks whether it is a picture; both keep it.
    store : PrintStore
        What a process has that is started later.
    """

    async def give(request: Request) -> Response:
        data = await request.body()
        found = await told_answer(request, quick, "keep-print", data)
        if isinstance(found, Response):
            return found
        name, fault = found
        if fault:
            return PlainTextResponse(fault, 415)
        store.add(data)
        if long.pid is not None:
            kept = await told_answer(request, long, "keep-print", data)
            if isinstance(kept, Response):
                return kept
        return JSONResponse({"name": name})

    async def there(request: Request) -> Response:
        found = store.get(request.path_params["name"]) is not None
        return Response(status_code=204 if found else 404)

    return [Route("/print", give, methods=["POST"]), Route("/print/{name}", there)]
