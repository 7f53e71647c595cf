"""Who may ask: the browser that was shown the address, from this page, in bounded size and time.

The page listens on this machine alone, but every program and every web site in a browser here can
reach that. So a request must name this host (else a name of a stranger leads here), come from this
page (`Origin`, `Sec-Fetch-Site`), and carry the token of the address that was printed, which is
kept in a cookie once it was seen.
"""

import asyncio
import hmac
from collections.abc import Collection
from ipaddress import ip_address
from urllib.parse import parse_qsl, quote, urlencode

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

#: The entry of an address that carries the token.
KEY = "key"

#: The largest body that is read, and all bodies that are read at once, bytes.
MOST_BODY, MOST_BODIES = 6_000_000, 24_000_000

#: A body is sent, and each piece of an answer taken, within this time, s.
WITHIN = 20.0

_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "connect-src 'self'",
        "form-action 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)

#: Set on every answer.
HEADERS = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}

_STRANGER = (
    "This page answers only who started it. Open the address that `paramgen page` printed, then go "
    "to this one again."
)
_FOREIGN = "Only this page itself may ask."
_TOO_LARGE = "That is more than this page reads."


class Guard:
    """Turns away whoever may not ask.

    Parameters
    ----------
    app : ASGI application
    token : str
    hosts : collection of str
        What the page is called, with its port.
    port : int
    by_number : bool
        Whether it answers by every address in numbers too: a stranger's name never is one.
    """

    def __init__(
        self,
        app: ASGIApp,
        token: str,
        hosts: Collection[str],
        port: int,
        *,
        by_number: bool = False,
    ) -> None:
        self._app, self._token, self._hosts = app, token, frozenset(hosts)
        self._port, self._by_number = port, by_number
        # Cookies know no ports: two pages on this machine must not take each other's.
        self._cookie = f"page-{port}"
        self._reading = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or hand on."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        answer = self._turned_away(scope)
        safely = _in_time(_with_headers(send))
        if answer is not None:
            await answer(scope, receive, safely)
            return
        await self._bounded(scope, receive, safely)

    def _turned_away(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "").lower()
        if not self._called(host):
            return PlainTextResponse("This page has another name.", 421)
        if not scope["path"].startswith("/"):
            return PlainTextResponse("This is no address of a page.", 400)
        if not _from_here(headers, host, scope["method"]):
            return PlainTextResponse(_FOREIGN, 403)
        entries = parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        given = dict(entries).get(KEY)
        if given is not None:
            if not self._known(given):
                return PlainTextResponse(_STRANGER, 403)
            rest = urlencode([(key, value) for key, value in entries if key != KEY])
            # Whole, so that a path of two strokes leads to no other host.
            there = f"http://{host}{quote(scope['path'])}"
            answer = RedirectResponse(f"{there}{'?' if rest else ''}{rest}", 303)
            answer.set_cookie(self._cookie, self._token, httponly=True, samesite="strict")
            return answer
        if not self._kept(headers.getlist("cookie")):
            return PlainTextResponse(_STRANGER, 403)
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdecimal()):
            return PlainTextResponse("The length of what is sent is no number.", 400)
        if len(length) > 20 or int(length) > MOST_BODY:
            return PlainTextResponse(_TOO_LARGE, 413)
        return None

    def _called(self, host: str) -> bool:
        if host in self._hosts:
            return True
        name, colon, port = host.rpartition(":")
        if not (self._by_number and colon and port == str(self._port)):
            return False
        try:
            ip_address(name.removeprefix("[").removesuffix("]"))
        except ValueError:
            return False
        return True

    def _known(self, token: str) -> bool:
        return hmac.compare_digest(token.encode("utf-8", "replace"), self._token.encode())

    def _kept(self, cookies: Collection[str]) -> bool:
        """Whether one of them is ours: other pages on this machine may set any beside it."""
        for one in ";".join(cookies).split(";"):
            name, _, value = one.strip().partition("=")
            if name == self._cookie and self._known(value.strip('"')):
                return True
        return False

    async def _bounded(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand on, reading no more of a body than there may be of it, whatever its head says."""
        read, whole = 0, False
        loop = asyncio.get_running_loop()
        until = loop.time() + WITHIN

        async def bounded() -> Message:
            nonlocal read, whole
            if whole:
                return await receive()  # whether the browser is still there
            try:
                async with asyncio.timeout_at(until):
                    message = await receive()
            except TimeoutError:
                return {"type": "http.disconnect"}
            size = len(message.get("body", b""))
            read += size
            self._reading += size
            if read > MOST_BODY or self._reading > MOST_BODIES:
                return {"type": "http.disconnect"}
            whole = not message.get("more_body", False)
            return message

        try:
            await self._app(scope, bounded, send)
        finally:
            self._reading -= read


def _from_here(headers: Headers, host: str, method: str) -> bool:
    """Whether a request comes from this page, or leads a whole window to it."""
    origin = headers.get("origin")
    if origin is not None and origin.lower() != f"http://{host}":
        return False
    site = headers.get("sec-fetch-site", "none")
    if site in ("none", "same-origin"):
        return True
    whole_window = headers.get("sec-fetch-mode") == "navigate"
    return method == "GET" and whole_window and headers.get("sec-fetch-dest") == "document"


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sent


def _in_time(send: Send) -> Send:
    """Wait only so long for a browser that does not take what it asked for."""

    async def sent(message: Message) -> None:
        async with asyncio.timeout(WITHIN):
            await send(message)

    return sent
