"""Where a person's own recipe file is followed and written."""

from collections.abc import Mapping
from pathlib import Path

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route

from paramgen.page.json_body import json_body
from paramgen.page.own_file import FileChangedError, changes_of, write_own


def own_file_routes(own: Mapping[str, str]) -> list[Route]:
    """Make the routes.

    Parameters
    ----------
    own : mapping of name to path
        The files that may be followed and written.
    """

    async def follow(request: Request) -> Response:
        path = own.get(request.query_params.get("recipe", ""))
        if path is None:
            return PlainTextResponse("No file of that name was opened.", 404)
        return StreamingResponse(changes_of(Path(path)), media_type="text/event-stream")

    async def write(request: Request) -> Response:
        asked = await json_body(request)
        name, text, was = asked.get("recipe"), asked.get("text"), asked.get("was")
        path = own.get(name) if isinstance(name, str) else None
        if path is None or not isinstance(text, str) or not isinstance(was, str):
            return PlainTextResponse("No file of that name was opened.", 404)
        try:
            return JSONResponse({"was": write_own(Path(path), text, was)})
        except FileChangedError:
            said = (
                f"{name} was changed by another program since it was opened here: nothing was "
                "written. Download what stands here, or open the file again."
            )
            return PlainTextResponse(said, 409)
        except OSError as problem:
            return PlainTextResponse(f"{name} cannot be written: {problem.strerror}.", 409)
        except UnicodeEncodeError:
            return PlainTextResponse("This text holds what is no letter.", 400)

    return [Route("/follow", follow), Route("/own-file", write, methods=["POST"])]
