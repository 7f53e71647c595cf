"""Who may ask: the browser that was shown the address, from this page, in bounded size.

The page listens on this machine alone, but every program and every web site in a browser here can
reach that. So a request must name this host (else a name of a stranger leads here), come from this
page (`Origin`, `Sec-Fetch-Site`), and carry the token of the address that was printed, which is
kept in a cookie once it was seen.
"""

import hmac
from collections.abc import Collection
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qsl, quote, urlencode

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

#: The entry of an address that carries the token.
KEY = "key"

#: The largest body that is read, bytes.
MOST_BODY = 6_000_000

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


class Guard:
    """Turns away whoever may not ask.

    Parameters
    ----------
    app : ASGI application
    token : str
    hosts : collection of str
        What the page is called, with its port.
    """

    def __init__(self, app: ASGIApp, token: str, hosts: Collection[str]) -> None:
        self._app, self._token, self._hosts = app, token, frozenset(hosts)
        ports = sorted(host.rpartition(":")[2] for host in hosts)
        # Cookies know no ports: two pages on this machine must not take each other's.
        self._cookie = f"page-{ports[0]}" if ports else "page"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or hand on."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        await (self._turned_away(scope) or _Bounded(self._app))(scope, receive, _with_headers(send))

    def _turned_away(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "").lower()
        if host not in self._hosts:
            return PlainTextResponse("This page has another name.", 421)
        origin = headers.get("origin")
        if origin is not None and origin.lower() != f"http://{host}":
            return PlainTextResponse("Only this page itself may ask.", 403)
        if headers.get("sec-fetch-site", "none") == "cross-site" and scope["method"] != "GET":
            return PlainTextResponse("Only this page itself may ask.", 403)
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
        if not self._known(self._kept(headers.get("cookie", ""))):
            return PlainTextResponse(_STRANGER, 403)
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdecimal()) or int(length[:12]) > MOST_BODY:
            return PlainTextResponse("That is more than this page reads.", 413)
        return None

    def _known(self, token: str) -> bool:
        return hmac.compare_digest(token.encode("utf-8", "replace"), self._token.encode())

    def _kept(self, cookies: str) -> str:
        try:
            found = SimpleCookie(cookies).get(self._cookie)
        except CookieError:
            return ""
        return found.value if found else ""


class _Bounded:
    """Reads no more of a body than there may be of it, whatever its head says."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        read = 0

        async def bounded() -> Message:
            nonlocal read
            message = await receive()
            read += len(message.get("body", b""))
            return {"type": "http.disconnect"} if read > MOST_BODY else message

        await self._app(scope, bounded, send)


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sent
