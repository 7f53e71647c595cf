"""The body of a request as JSON."""

import json
from typing import Any

from starlette.requests import Request


async def json_body(request: Request) -> dict[str, Any]:
    """What a request asks; empty if it is none of ours."""
    body = await request.body()
    try:
        found = json.loads(body)
        if b"\\u" in body:  # half a letter can be written so, and nowhere else be shown
            json.dumps(found, ensure_ascii=False).encode()
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}
