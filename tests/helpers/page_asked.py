"""Asking an application of the page without a network, in heads as odd as one likes."""

import asyncio
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from starlette.types import ASGIApp, Message

HOST = "127.0.0.1:7000"


@dataclass(frozen=True)
class Answered:
    """Status, head and body of an answer."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode()


def asked(
    app: ASGIApp,
    path: str = "/",
    query: str = "",
    *,
    method: str = "GET",
    headers: Iterable[tuple[str, str]] = (),
    host: str = HOST,
    body: Sequence[bytes] = (b"",),
) -> Answered:
    """Ask for something; the body comes piece by piece, and then the browser stays."""
    names = [("host", host), *headers]
    scope = {
        "type": "http",
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": path,
        "raw_path": path.encode(),
        "root_path": "",
        "query_string": query.encode(),
        "headers": [(name.encode(), value.encode("latin-1")) for name, value in names],
        "client": ("127.0.0.1", 50000),
        "server": ("127.0.0.1", 7000),
    }
    return asyncio.run(_answered(app, scope, list(body)))


async def _answered(app: ASGIApp, scope: dict[str, Any], pieces: list[bytes]) -> Answered:
    said: list[Message] = []

    async def receive() -> Message:
        if pieces:
            return {"type": "http.request", "body": pieces.pop(0), "more_body": bool(pieces)}
        await asyncio.Event().wait()
        raise AssertionError

    async def send(message: Message) -> None:
        said.append(message)

    await app(scope, receive, send)
    head = said[0]
    headers = {name.decode().lower(): value.decode("latin-1") for name, value in head["headers"]}
    return Answered(head["status"], headers, b"".join(one.get("body", b"") for one in said[1:]))
