"""The page as it is opened, asked over the network, and ended."""

import contextlib
import gzip
import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from command_line import paramgen
from page_running import LONG, RunningPage, read_answer, running, said
from processes import start

from paramgen.page.guard import HEADERS, MOST_BODY
from paramgen.page.serve import PageOptions, address, listening
from paramgen.vocabulary.findings import InputError

on_linux = pytest.mark.skipif(
    sys.platform != "linux", reason="looks at processes as Linux has them"
)


@pytest.fixture(scope="module")
def page() -> Iterator[RunningPage]:
    with running() as one:
        yield one


def gone(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    return False


def soon_gone(pids: list[int]) -> bool:
    until = time.monotonic() + LONG
    while not all(map(gone, pids)) and time.monotonic() < until:
        time.sleep(0.02)
    return all(map(gone, pids))


def test_it_opens_at_the_address_that_it_prints(page: RunningPage) -> None:
    path = page.address.removeprefix(f"http://{page.host}")
    led = page.asked(path, cookie=False)
    assert led.status == 303
    assert led.headers["location"] == f"http://{page.host}/"
    assert led.headers["set-cookie"].startswith(page.cookie)
    assert "What will you sew?" in page.asked("/").text


@pytest.mark.parametrize(
    ("path", "method", "status"),
    [
        ("/", "GET", 200),
        ("/", "HEAD", 200),
        ("/project?recipe=coaster", "GET", 200),
        ("/recipe-picture/coaster", "GET", 200),
        ("/recipe-picture/nothing", "GET", 404),
        ("/recipe-picture/..%2f..%2fpyproject.toml", "GET", 404),
        ("/recipe-picture//etc/passwd", "GET", 404),
        ("/static/page.css", "GET", 200),
        ("/static/", "GET", 404),
        ("/static/../guard.py", "GET", 404),
        ("/static/..%2fguard.py", "GET", 404),
        ("/static/%2e%2e/guard.py", "GET", 404),
        ("/static/..%5cguard.py", "GET", 404),
        ("/static//etc/passwd", "GET", 404),
        ("/static/%00", "GET", 404),
        ("/static/" + "a" * 5000, "GET", 404),
        ("/static/page.css/x", "GET", 404),
        ("/nothing", "GET", 404),
        ("/changes", "GET", 405),
        ("/", "POST", 405),
        ("/project", "DELETE", 405),
        ("/", "OPTIONS", 405),
        ("/static/page.css", "PUT", 405),
        ("/", "BREW", 405),
        ("*", "OPTIONS", 400),
        ("http://seeds.example/", "GET", 400),
    ],
)
def test_what_is_at_which_address(page: RunningPage, path: str, method: str, status: int) -> None:
    answer = page.asked(path, method=method)
    assert answer.status == status
    # Whatever the answer: the policy is on it, and it names no file of this machine.
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS
    for folder in (str(Path(__file__).resolve().parents[2]), "site-packages", "root:"):
        assert folder not in answer.body.decode("utf-8", "replace")
    if method == "HEAD":
        assert answer.body == b""


def test_a_stroke_at_the_end_leads_to_no_other_host(page: RunningPage) -> None:
    for path in ("/project/", "//seeds.example/", "//seeds.example/project/", "/static"):
        answer = page.asked(path)
        if 300 <= answer.status < 400:
            assert answer.headers["location"].startswith(f"http://{page.host}/")


def changes(
    page: RunningPage, query: str, have: dict[str, str] | None = None
) -> list[dict[str, str]]:
    body = json.dumps({"query": query, "have": have or {}}).encode()
    answer = page.asked("/changes", method="POST", body=body)
    assert answer.status == 200
    return [json.loads(line) for line in answer.text.splitlines()]


def test_only_what_changed_is_sent(page: RunningPage) -> None:
    first = changes(page, "recipe=coaster&hoop=4x4in&my.width=90mm&my.height=90mm")
    assert {"picture", "verdict"} <= {one["part"] for one in first}
    have = {one["part"]: one["digest"] for one in first}
    assert changes(page, "recipe=coaster&hoop=4x4in&my.width=90mm&my.height=90mm", have) == []
    wider = changes(page, "recipe=coaster&hoop=4x4in&my.width=91mm&my.height=90mm", have)
    some = {one["part"] for one in wider}
    assert "picture" in some
    assert "note-height" not in some


@pytest.mark.parametrize(
    "body",
    [
        b"", b"{", b"[]", b"null", b"1", b'"x"', b"\xff\xfe", b"[" * 100_000, b"1" * 10_000,
        b'{"query": 1, "have": {}}', b'{"query": "", "have": []}', b'{"query": ""}',
        b'{"query": "", "have": {}, "window": 1}', b'{"query": null, "have": {}}',
    ],
)  # fmt: skip
def test_what_no_page_of_ours_asks_is_said_to_be_so(page: RunningPage, body: bytes) -> None:
    for path in ("/changes", "/steps"):
        answer = page.asked(path, "Content-Type: application/json", method="POST", body=body)
        assert (answer.status, answer.text) == (400, "This page does not ask so.")


def test_what_is_packed_unpacks_to_the_same(page: RunningPage) -> None:
    plain, packed = page.asked("/"), page.asked("/", "Accept-Encoding: gzip")
    assert packed.headers["content-encoding"] == "gzip"
    assert gzip.decompress(packed.body) == plain.body


def test_parts_come_one_by_one_even_to_a_browser_that_takes_them_packed(page: RunningPage) -> None:
    body = json.dumps({"query": "recipe=fold-wallet", "have": {}}).encode()
    head = page.head("/changes", f"Content-Length: {len(body)}", "Accept-Encoding: gzip",
                     method="POST")  # fmt: skip
    with page.connected() as there:
        there.sendall(head + body)
        pieces = [piece for piece in said(there) if piece]
    assert b"content-encoding" not in pieces[0]
    assert len(pieces) > 3


POST = b"POST / HTTP/1.1\r\nHost: a\r\n"

BROKEN = {
    "nothing": b"",
    "no head": b"\r\n\r\n",
    "binary": bytes(range(256)) * 10,
    "a greeting of another kind": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
    "a head without end": b"GET / HTTP/1.1\r\nX: " + b"a" * 200_000,
    "two hosts": b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n",
    "no host": b"GET / HTTP/1.1\r\n\r\n",
    "an old kind": b"GET / HTTP/1.0\r\n\r\n",
    "a kind that there is not": b"GET / HTTP/9.9\r\nHost: a\r\n\r\n",
    "two lengths": POST + b"Content-Length: 1\r\nContent-Length: 2\r\n\r\nab",
    "a length below nothing": POST + b"Content-Length: -1\r\n\r\n",
    "a length beyond all": POST + b"Content-Length: " + b"9" * 30 + b"\r\n\r\n",
    "pieces and a length": POST + b"Transfer-Encoding: chunked\r\n"
    b"Content-Length: 3\r\n\r\n0\r\n\r\n",
    "a piece of no length": POST + b"Transfer-Encoding: chunked\r\n\r\nzz\r\n",
    "another way of pieces": POST + b"Transfer-Encoding: gzip\r\n\r\n",
    "a folded line": b"GET / HTTP/1.1\r\nHost: a\r\nX: b\r\n c\r\n\r\n",
    "a bare end of line": b"GET / HTTP/1.1\nHost: a\n\n",
}  # fmt: skip


@pytest.mark.parametrize("sent", BROKEN.values(), ids=BROKEN)
def test_what_is_no_request_is_refused_or_closed(page: RunningPage, sent: bytes) -> None:
    with page.connected() as there:
        with contextlib.suppress(OSError):
            there.sendall(sent)
            there.shutdown(socket.SHUT_WR)
        answer = b"".join(said(there))
    assert answer == b"" or 400 <= read_answer(answer).status < 500
    assert page.asked("/static/icon.svg").status == 200


def test_a_body_in_pieces_is_read_up_to_the_bound(page: RunningPage) -> None:
    asked = json.dumps({"query": "recipe=coaster", "have": {}}).encode()
    pieces = b"".join(b"1\r\n%c\r\n" % one for one in asked) + b"0\r\n\r\n"
    head = page.head("/changes", "Transfer-Encoding: chunked", method="POST")
    assert read_answer(page.raw(head + pieces)).status == 200
    piece = b"%x\r\n%s\r\n" % (1_000_000, b" " * 1_000_000)
    many = piece * (MOST_BODY // 1_000_000 + 1)
    assert read_answer(page.raw(head + many)).status == 413


def test_a_second_request_in_one_connection_is_answered_after_the_first(page: RunningPage) -> None:
    first = page.head("/static/icon.svg").replace(b"Connection: close\r\n", b"")
    both = page.raw(first + page.head("/nothing"))
    assert both.count(b"HTTP/1.1 200 ") == 1
    assert both.count(b"HTTP/1.1 404 ") == 1
    assert page.raw(first + b"nonsense\r\n\r\n").startswith(b"HTTP/1.1 ")


def test_no_switch_to_another_kind_of_connection(page: RunningPage) -> None:
    more = (
        "Upgrade: websocket",
        "Sec-WebSocket-Version: 13",
        "Sec-WebSocket-Key: AAAAAAAAAAAAAA==",
    )
    sent = page.head("/", *more).replace(b"Connection: close", b"Connection: Upgrade, close")
    assert read_answer(page.raw(sent)).status == 200


def test_a_hundred_at_once_are_answered_or_refused(page: RunningPage) -> None:
    found: list[int] = []

    def ask(number: int) -> None:
        found.append(page.asked(f"/project?recipe=coaster&my.width={60 + number}mm").status)

    threads = [threading.Thread(target=ask, args=(number,)) for number in range(100)]
    for one in threads:
        one.start()
    for one in threads:
        one.join(LONG)
    assert len(found) == 100
    assert set(found) == {200, 503}
    assert found.count(200) >= 10
    assert page.asked("/").status == 200


@on_linux
def test_the_page_outlives_its_workers(page: RunningPage) -> None:
    assert page.asked("/").status == 200
    before = page.workers()
    assert before
    for one in before:
        os.kill(one, signal.SIGKILL)
    assert page.asked("/project?recipe=coaster").status == 200
    assert soon_gone(before)


def test_a_port_that_is_taken_is_told(page: RunningPage) -> None:
    ran = paramgen("page", "--port", str(page.place[1]), "--no-open")
    assert ran.status == 2
    assert f"port {page.place[1]} cannot be had" in ran.err
    assert "--port 0" in ran.err


@pytest.mark.parametrize(
    "host", ["no such host", "seeds.invalid", "999.1.1.1", "x" * 300, "203.0.113.7"]
)
def test_a_host_that_is_none_of_this_machine_is_told(host: str) -> None:
    # RFC 2606: .invalid names nothing; RFC 5737: 203.0.113.0/24 is for documents alone.
    ran = paramgen("page", "--host", host, "--port", "0", "--no-open")
    assert ran.status == 2
    assert "--host" in ran.err


def test_an_address_of_the_newer_kind() -> None:
    try:
        with listening(PageOptions(host="::1", port=0, own={})) as there:
            port = there.getsockname()[1]
    except InputError:
        pytest.skip("this machine has no such address")
    assert address(PageOptions(host="::1", own={}), port, "t") == f"http://[::1]:{port}/?key=t"
    with running("--host", "::1") as page:
        assert page.asked("/").status == 200


def test_it_says_so_if_it_is_open_to_other_machines() -> None:
    process = start("page", "--host", "0.0.0.0", "--port", "0", "--no-open")
    assert process.stdout is not None
    assert process.stdout.readline().startswith("http://127.0.0.1:")
    process.send_signal(signal.SIGINT)
    _, told = process.communicate(timeout=LONG)
    assert "not encrypted" in told
    assert process.returncode == 0


def ended(page: RunningPage, by: signal.Signals = signal.SIGINT) -> float:
    """How long it takes to end, s."""
    workers = page.workers()
    assert workers
    begun = time.monotonic()
    page.process.send_signal(by)
    page.process.wait(LONG)
    took = time.monotonic() - begun
    assert soon_gone(workers)
    return took


@on_linux
def test_it_ends_with_browsers_connected_and_workers_at_work() -> None:
    with running() as page, contextlib.ExitStack() as open_ones:
        assert page.asked("/").status == 200
        for sent in (
            b"",
            b"GET / HT",
            page.head("/").replace(b"close", b"keep-alive"),
            page.head("/changes", "Content-Length: 100", method="POST"),
            *[page.head(f"/project?recipe=fold-wallet&my.width={110 + n}mm") for n in range(8)],
        ):
            there = open_ones.enter_context(page.connected())
            there.sendall(sent)
        time.sleep(0.2)
        # 2 s, as it is to be; a machine that is busy with other tests may take a little more.
        assert ended(page) < 4
        assert page.process.returncode == 0


@on_linux
def test_it_ends_when_it_is_told_to_from_outside() -> None:
    with running() as page:
        assert page.asked("/").status == 200
        assert ended(page, signal.SIGTERM) < 4


@on_linux
@pytest.mark.parametrize("by", [signal.SIGHUP, signal.SIGKILL])
def test_nothing_of_it_is_left_when_its_terminal_is_closed_or_it_is_killed(
    by: signal.Signals,
) -> None:
    with running() as page:
        assert page.asked("/").status == 200
        workers = page.workers()
        assert workers
        page.process.send_signal(by)
        page.process.wait(LONG)
        assert soon_gone(workers)


def test_who_never_ends_a_head_is_not_waited_for() -> None:
    # In a process of its own, where the time that is waited is short.
    source = """
import uvicorn
from paramgen.page.patient_connection import PatientConnection
async def app(scope, receive, send):
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"here"})
config = uvicorn.Config(app, http=PatientConnection, ws="none", lifespan="off", log_config=None,
                        timeout_keep_alive=1, port=0)
server = uvicorn.Server(config)
there = config.bind_socket()
there.listen()
print(there.getsockname()[1], flush=True)
server.run(sockets=[there])
"""
    with subprocess.Popen([sys.executable, "-c", source], stdout=subprocess.PIPE,
                          stderr=subprocess.DEVNULL, text=True) as process:  # fmt: skip
        assert process.stdout is not None
        port = int(process.stdout.readline().strip())
        try:
            for first in (b"", b"GET / HTTP/1.1\r\n\r\n"):
                with socket.create_connection(("127.0.0.1", port), timeout=LONG) as there:
                    there.sendall(first)
                    begun = time.monotonic()
                    with contextlib.suppress(OSError):
                        for one in b"GET / HTTP/1.1\r\nHost: a-name-that-takes-long-to-say" * 9:
                            there.sendall(bytes([one]))
                            time.sleep(0.1)
                            if time.monotonic() - begun > 20:
                                raise AssertionError("still waited for")
        finally:
            process.terminate()


def test_a_recipe_of_ones_own_is_shown_by_its_path(tmp_path: Path) -> None:
    source = Path(__file__).resolve().parents[2] / "templates" / "coaster.toml"
    own = tmp_path / "my tag & co.toml"
    own.write_bytes(source.read_bytes())
    with running(own) as page:
        listed = page.asked("/").text
        pictures = re.findall(r'src="(/recipe-picture/[^"]*)"', listed)
        assert len(pictures) == len(set(pictures)) >= 5
        for one in pictures:
            assert page.asked(one.replace("&amp;", "&")).text.startswith("<svg")
