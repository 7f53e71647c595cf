"""Who may ask the page, how much, and what stands in the head of every answer.

That names of strangers may lead to this machine, and that pages of strangers can send requests here
which carry their own `Origin` and `Sec-Fetch-Site`: Fetch standard (WHATWG), "HTTP-network-or-cache
fetch", and W3C Fetch Metadata, section 2. What a Content-Security-Policy forbids: W3C CSP 3.
"""

import asyncio
from collections.abc import Sequence

import pytest
from page_asked import HOST, Answered, asked
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response
from starlette.types import Receive, Scope, Send

from paramgen.page import guard
from paramgen.page.guard import HEADERS, MOST_BODY, Guard

TOKEN = "a-token-of-the-test"
COOKIE = ("cookie", f"page-7000={TOKEN}")


async def _reads(scope: Scope, receive: Receive, send: Send) -> None:
    """Behind the guard: says how much it was sent."""
    answer: Response
    try:
        answer = PlainTextResponse(f"read {len(await Request(scope, receive).body())}")
    except ClientDisconnect:
        answer = PlainTextResponse("broken off", 413)
    await answer(scope, receive, send)


NAMES = (HOST, "localhost:7000", "[::1]:7000")
GUARDED = Guard(_reads, TOKEN, NAMES, 7000)


def ask(
    path: str = "/",
    query: str = "",
    *more: tuple[str, str],
    method: str = "GET",
    host: str = HOST,
    body: Sequence[bytes] = (b"",),
) -> Answered:
    """By someone who has the cookie."""
    return asked(GUARDED, path, query, method=method, host=host, headers=(COOKIE, *more), body=body)


@pytest.mark.parametrize("host", [*NAMES, "LocalHost:7000"])
def test_it_answers_by_its_names(host: str) -> None:
    assert ask(host=host).text == "read 0"


@pytest.mark.parametrize(
    "host",
    [
        "",
        "127.0.0.1",
        "localhost",
        "127.0.0.1:7001",
        "127.0.0.1:70000",
        "127.0.0.2:7000",
        "seeds.example:7000",
        "127.0.0.1.seeds.example:7000",
        "localhost.seeds.example:7000",
        "127.0.0.1:7000.seeds.example",
        "127.0.0.1:7000@seeds.example",
        "0:7000",
        "2130706433:7000",
        "[::ffff:127.0.0.1]:7000",
        "127.0.0.1:7000 ",
    ],
)
def test_it_answers_by_no_other(host: str) -> None:
    assert ask(host=host).status == 421


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("192.168.1.5:7000", 200),
        ("[fe80::1]:7000", 200),
        ("192.168.1.5:7001", 421),
        ("192.168.1.5", 421),
        ("seeds.example:7000", 421),
    ],
)
def test_where_it_is_open_to_all_machines_it_answers_by_number_and_by_no_strangers_name(
    host: str, status: int
) -> None:
    wide = Guard(_reads, TOKEN, NAMES, 7000, by_number=True)
    assert asked(wide, host=host, headers=[COOKIE]).status == status


@pytest.mark.parametrize("method", ["GET", "POST", "HEAD", "OPTIONS", "PUT", "TRACE", "X"])
@pytest.mark.parametrize(
    "origin",
    [
        "null",
        "",
        "http://seeds.example",
        "http://127.0.0.1:7001",
        "http://127.0.0.1",
        "https://127.0.0.1:7000",
        "http://localhost:7000",
        "http://127.0.0.1:7000.seeds.example",
        "file://",
    ],
)
def test_no_page_of_a_stranger_may_ask(method: str, origin: str) -> None:
    assert ask("/", "", ("origin", origin), method=method).status == 403


def test_this_page_may_ask() -> None:
    own = [("origin", f"http://{HOST}"), ("sec-fetch-site", "same-origin")]
    assert ask("/changes", "", *own, method="POST", body=[b"{}"]).text == "read 2"


@pytest.mark.parametrize("site", ["cross-site", "same-site", "odd"])
@pytest.mark.parametrize(
    ("method", "mode", "dest", "status"),
    [
        ("GET", "navigate", "document", 200),  # a link that someone was sent
        ("GET", "navigate", "iframe", 403),
        ("GET", "no-cors", "image", 403),
        ("GET", "no-cors", "script", 403),
        ("GET", "cors", "empty", 403),
        ("POST", "navigate", "document", 403),  # a form on a page of a stranger
        ("POST", "no-cors", "empty", 403),
    ],
)
def test_a_page_of_a_stranger_may_lead_here_and_do_no_more(
    site: str, method: str, mode: str, dest: str, status: int
) -> None:
    said = [("sec-fetch-site", site), ("sec-fetch-mode", mode), ("sec-fetch-dest", dest)]
    assert ask("/project", "recipe=coaster", *said, method=method).status == status


@pytest.mark.parametrize(
    "cookie",
    [
        None,
        "",
        "page-7000",
        "page-7000=",
        "page-7000=another",
        f"page-7001={TOKEN}",
        f"page={TOKEN}",
        f"xpage-7000={TOKEN}",
        f"page-7000={TOKEN}x",
        f"page-7000={TOKEN[:-1]}",
        f"page-7000={TOKEN.upper()}",
        "page-7000=\xff\xfe",
    ],
)
def test_without_the_token_nothing_is_answered(cookie: str | None) -> None:
    headers = [] if cookie is None else [("cookie", cookie)]
    for method in ("GET", "POST", "HEAD", "OPTIONS"):
        answer = asked(GUARDED, "/project", headers=headers, method=method)
        assert answer.status == 403
        assert TOKEN not in answer.text
        assert "set-cookie" not in answer.headers


@pytest.mark.parametrize(
    "cookie",
    [
        f'a={{"b":[1,2]}}; page-7000={TOKEN}; c=d',
        f"page-7000=set by another; page-7000={TOKEN}",
        f'page-7000="{TOKEN}"',
        f"odd;;=; page-7000={TOKEN}",
    ],
)
def test_cookies_that_others_on_this_machine_set_do_not_stand_in_the_way(cookie: str) -> None:
    assert asked(GUARDED, headers=[("cookie", cookie)]).status == 200


def test_the_token_in_an_address_is_kept_and_leaves_the_address() -> None:
    answer = asked(GUARDED, "/project", f"recipe=coaster&key={TOKEN}&my.width=4+in")
    assert answer.status == 303
    assert answer.headers["location"] == f"http://{HOST}/project?recipe=coaster&my.width=4+in"
    kept = answer.headers["set-cookie"]
    assert kept.startswith(f"page-7000={TOKEN};")
    # RFC 6265bis: scripts do not see it, and no request that another site begins carries it.
    assert "httponly" in kept.lower()
    assert "samesite=strict" in kept.lower()
    assert "domain" not in kept.lower()


def test_a_wrong_token_is_turned_away_even_beside_the_cookie() -> None:
    assert ask("/", "key=wrong").status == 403
    assert ask("/", "key=").status == 403
    assert ask("/", "key=%ff%fe").status == 403
    assert ask("/", "my.key=wrong").status == 200


@pytest.mark.parametrize(
    "path",
    [
        "//seeds.example/",
        "///seeds.example",
        "/\\seeds.example",
        "/@seeds.example",
        "/.seeds.example",
        "/%0d%0aset-cookie:a=b",
        "/a\r\nset-cookie: a=b",
        "/a b\tc",
        "/ö\x00",
    ],
)
def test_no_address_leads_elsewhere_or_writes_into_the_head(path: str) -> None:
    answer = asked(GUARDED, path, f"key={TOKEN}&a=%0d%0aset-cookie:+a=b&b=//seeds.example")
    there = answer.headers["location"]
    assert there.startswith(f"http://{HOST}/")
    assert there.isascii()
    assert not set(there) & set("\r\n \t\\")
    assert answer.headers["set-cookie"].startswith("page-7000=")


@pytest.mark.parametrize("path", ["*", "", "http://seeds.example/", "@seeds.example/", ":1/"])
def test_what_is_no_path_leads_nowhere(path: str) -> None:
    for query in ("", f"key={TOKEN}"):
        answer = ask(path, query)
        assert answer.status == 400
        assert "location" not in answer.headers


@pytest.mark.parametrize(
    ("length", "status"),
    [
        ("0", 200),
        (str(MOST_BODY), 200),
        (str(MOST_BODY + 1), 413),
        ("9" * 18, 413),
        ("9" * 5000, 413),
        (f"{'0' * 12}{MOST_BODY + 1}", 413),
        (f"{'0' * 12}5", 200),
        ("-1", 400),
        ("+1", 400),
        ("1e3", 400),
        ("", 400),
        ("5, 5", 400),
        ("0x10", 400),
        ("\xb2", 400),
        (" 5", 400),
    ],
)
def test_lengths_as_they_are_said(length: str, status: int) -> None:
    answer = ask("/changes", "", ("content-length", length), method="POST")
    assert answer.status == status


def test_no_more_is_read_whatever_the_head_says() -> None:
    piece = b"x" * 1_000_000
    whole = MOST_BODY // len(piece)
    assert ask(method="POST", body=[piece] * whole).text == f"read {MOST_BODY}"
    for head in ([], [("content-length", "10")], [("transfer-encoding", "chunked")]):
        answer = ask("/", "", *head, method="POST", body=[*[piece] * whole, b"x"])
        assert answer.status == 413


def test_many_bodies_at_once_are_bounded_together(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "MOST_BODIES", 100)
    small = Guard(_reads, TOKEN, NAMES, 7000)
    assert asked(small, headers=[COOKIE], method="POST", body=[b"x" * 100]).status == 200
    assert asked(small, headers=[COOKIE], method="POST", body=[b"x" * 101]).status == 413
    # What was read counts no more once it is answered.
    for _ in range(5):
        assert asked(small, headers=[COOKIE], method="POST", body=[b"x" * 90]).status == 200


def test_a_body_that_never_comes_whole_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "WITHIN", 0.05)

    async def waiting(scope: Scope, receive: Receive, send: Send) -> None:
        first = await receive()
        assert first["more_body"] is True
        last = await receive()
        await PlainTextResponse(last["type"])(scope, receive, send)

    async def run() -> list[str]:
        said = []
        pieces = [b"x"]

        async def receive() -> dict[str, object]:
            if pieces:
                return {"type": "http.request", "body": pieces.pop(), "more_body": True}
            await asyncio.Event().wait()
            raise AssertionError

        async def send(message: dict[str, object]) -> None:
            said.append(str(message.get("body", "")))

        scope = {
            "type": "http", "method": "POST", "path": "/", "query_string": b"",
            "headers": [(b"host", HOST.encode()), (b"cookie", COOKIE[1].encode())],
        }  # fmt: skip
        await Guard(waiting, TOKEN, NAMES, 7000)(scope, receive, send)  # type: ignore[arg-type]
        return said

    assert "http.disconnect" in asyncio.run(run())[1]


ANSWERS = {
    "what is behind": ask,
    "another name": lambda: ask(host="seeds.example"),
    "a stranger's page": lambda: ask("/", "", ("origin", "null")),
    "no token": lambda: asked(GUARDED),
    "the token": lambda: asked(GUARDED, "/", f"key={TOKEN}"),
    "too large": lambda: ask("/", "", ("content-length", "9" * 9)),
    "no length": lambda: ask("/", "", ("content-length", "-1")),
    "no path": lambda: ask("*"),
}


@pytest.mark.parametrize("answer", ANSWERS.values(), ids=ANSWERS)
def test_every_answer_carries_the_policy(answer: object) -> None:
    assert callable(answer)
    headers = answer().headers
    assert {name: headers[name] for name in HEADERS} == HEADERS


def test_the_policy_lets_nothing_in_but_what_comes_from_here() -> None:
    policy = dict(part.split(" ", 1) for part in HEADERS["content-security-policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    said = " ".join(policy.values())
    for loose in ("unsafe", "*", "http:", "https:", "wasm"):
        assert loose not in said
    assert HEADERS["x-content-type-options"] == "nosniff"
    assert HEADERS["referrer-policy"] == "no-referrer"
    assert HEADERS["cross-origin-resource-policy"] == "same-origin"


def test_what_is_no_request_of_a_browser_page_is_not_answered() -> None:
    async def run() -> None:
        async def nothing(*_words: object) -> None:
            raise AssertionError

        await GUARDED({"type": "websocket"}, nothing, nothing)  # type: ignore[arg-type]

    asyncio.run(run())
