"""Where a picture of one's own fabric is given to the page."""

from collections.abc import Callable, Sequence

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from paramgen.page.answers import UnansweredError, whole_of
from paramgen.page.print_store import PrintStore
from paramgen.page.worker_processes import WorkerProcess


def print_routes(workers: Callable[[], Sequence[WorkerProcess]], store: PrintStore) -> list[Route]:
    """Make the routes.

    Parameters
    ----------
    workers : callable
        Gives the processes that run; the first of them looks at the picture, and all keep it.
    store : PrintStore
        What processes that are started later begin with.
    """

    async def give(request: Request) -> Response:
        data = await request.body()
        first, *others = workers()
        try:
            fault = await whole_of(first, "keep-print", data)
            if fault:
                return PlainTextResponse(fault, 415)
            name = store.add(data)
            for other in others:
                await whole_of(other, "keep-print", data)
        except UnansweredError as problem:
            return problem.answer
        return JSONResponse({"name": name})

    async def there(request: Request) -> Response:
        found = store.get(request.path_params["name"]) is not None
        return PlainTextResponse("", 204 if found else 404)

    return [Route("/print", give, methods=["POST"]), Route("/print/{name}", there)]
