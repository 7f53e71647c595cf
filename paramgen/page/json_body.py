"""The body of a request as JSON."""

import json
from typing import Any

from starlette.requests import Request


async def json_body(request: Request) -> dict[str, Any]:
    """What a request asks; empty if it is none of ours."""
    try:
        found = json.loads(await request.body())
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}
