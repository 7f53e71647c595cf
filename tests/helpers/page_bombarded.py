"""Requests at random, made from good ones, sent by clients that are whole, slow or broken."""

import contextlib
import json
import random
import re
import socket
import struct
import threading
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote

from page_running import RunningPage, said

Chance = random.Random

NAMES = ("coaster", "fold-wallet", "zip-pouch", "plant-tag", "coster", "", "../coaster", "COASTER")
HOOPS = ("130x180", "5x7in", "4x4in", "160x260", "140x200mm", "0x0", "1e9x1e9mm", "no", "-5x5mm")
LENGTHS = ("90", "90mm", "3 1/2 in", '4"', "11.4 cm", "0", "-3", "1e308", "1e-308", "nan", "inf",
           "9" * 400, "1/0", "3 1/2 1/2 in", "½ in", "\u0663", "0x10", "1_000", "wide", " ",
           "1e5mm", "4 in 5 mm", "\x00", "90\r\nX: y", "<b>", "{{7*7}}", "${1}", "%",
           "\U0001f600", "\u202e90")  # fmt: skip
ENTRIES: dict[str, tuple[str, ...]] = {
    "recipe": NAMES,
    "hoop": HOOPS,
    "unit": ("mm", "in", "", "ell"),
    "margin": LENGTHS,
    "copies": ("1", "2", "most", "0", "-1", "9999999999", "many"),
    "holds": ("seed packet", "bank card", "", "an elephant"),
    "title": ("Swap day", "<script>alert(1)</script>", "x" * 3000, "\u202e", "a\nb"),
    "scale": ("1", "0.5", "50%", "0", "-1", "1e300", "half"),
    "files": ("dst", "dst,exp", "", "exe"),
    "paper": ("a4", "letter", "papyrus"),
    "my.width": LENGTHS,
    "my.height": LENGTHS,
    "my.pockets": ("1", "3", "-1", "1e9", "two"),
    "my.outline": ("round", "rectangle", "star"),
    "my.seam_allowance": LENGTHS,
    "my.": ("1",),
    "my.my.width": ("1",),
    "upright": ("1", ""),
    "singly": ("1",),
    "step": ("1", "11", "0", "-1", "999999999999", "x"),
    "side": ("front", "back", "left"),
    "key": ("", "wrong"),
    "odd": ("", "1"),
    "over": ("every-hoop", "", "x"),
    "row": ("", "width=90mm", "name=a&width=9xmm", "||||", "=", "%00"),
    "columns": ("width", "width,height", "", "x" * 3000),
    "on": ("front=quilting:diagonal,20mm", "no panel=x", ";;;", "front="),
    "cloth": ("outer=teal", "outer=x.png, repeat 30 mm", "=", "outer=#12"),
}
PATHS = ("/", "/project", "/steps", "/write", "/stitch-file", "/changes", "/follow", "/own-file",
         "/sizes", "/take", "/table", "/table.csv", "/table-pasted", "/kit", "/solid", "/print",
         "/motif", "/motif?name=leaf.dst", "/given/x", "/jobs", "/jobs/x/events",
         "/jobs/x/stop", "/jobs/x/result",
         "/static/page.css", "/static/project.js", "/recipe-picture/coaster", "/recipe-picture/x",
         "/project/", "/nothing", "/static/", "/favicon.ico")  # fmt: skip
METHODS = ("GET",) * 8 + ("POST",) * 6 + ("HEAD", "OPTIONS", "PUT", "DELETE", "TRACE", "PATCH")
SENTENCES = (
    b"",
    b"\x00" * 50,
    b"\x16\x03\x01\x02\x00",
    b"GET",
    b"GET /\r\n\r\n",
    b"\r\n" * 50,
    b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    b"GET / HTTP/1.1\r\n" + b"a" * 70_000,
)


@dataclass
class Told:
    """What came of it.

    Parameters
    ----------
    statuses : Counter
        How often each status was answered; 0 for a connection that was closed without an answer.
    faults : list of str
        What must not be, each with the request.
    """

    statuses: Counter[int] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


def bombard(page: RunningPage, count: int, seed: int, *, clients: int = 6) -> Told:
    """Send requests at random, several at once."""
    told = Told()
    lock = threading.Lock()

    def client(number: int) -> None:
        for one in range(number, count, clients):
            chance = random.Random(f"{seed}.{one}")
            send = chance.choices(WAYS, weights=WEIGHTS)[0]
            request, whole = made(page, chance)
            answer = send(page, chance, request, whole)
            status = _status(answer)
            with lock:
                told.statuses[status] += 1
                if fault := _fault(answer, status, whole=whole and send in (at_once, in_pieces)):
                    told.faults.append(f"{fault}: {request[:600]!r} -> {answer[:300]!r}")

    threads = [threading.Thread(target=client, args=(number,)) for number in range(clients)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    return told


def _status(answer: bytes) -> int:
    found = re.match(rb"HTTP/1\.1 (\d{3}) ", answer)
    return int(found[1]) if found else 0


def _fault(answer: bytes, status: int, *, whole: bool) -> str:
    if answer and not status:
        return "no answer of this kind"
    if whole and not status:
        return "no answer"
    if status in (500, 501, 502, 504):
        return "a fault of the program"
    if b"Traceback" in answer or b"site-packages" in answer:
        return "tells of the inside of the program"
    if status and status not in (400, 503) and b"content-security-policy" not in answer:
        return "without the policy"  # those two the server itself may answer, in plain text
    return ""


def made(page: RunningPage, chance: Chance) -> tuple[bytes, bool]:
    """A request, and whether its frame is good, so that it must be answered."""
    if chance.random() < 0.03:
        return chance.choice(SENTENCES), False
    method = chance.choice(METHODS) if chance.random() < 0.97 else chance.choice(("get", "", "A B"))
    path, query = a_path(chance), a_query(chance)
    body = b""
    if method in ("POST", "PUT", "PATCH") or chance.random() < 0.02:
        body = a_body(chance, query)
    target = f"{path}?{query}" if query else path
    lines = [f"{method} {target} HTTP/1.1", *a_head(page, chance)]
    framing, data, whole = framed(chance, body)
    raw = "\r\n".join([*lines, *framing, "Connection: close", "", ""]).encode("utf-8", "replace")
    if chance.random() < 0.04:
        return mutated(chance, raw + data), False
    plain = method.isupper() and target.isascii() and not re.search(r"[\x00-\x20\x7f]", target)
    return raw + data, whole and plain and " " not in method and bool(method)


def a_path(chance: Chance) -> str:
    path = chance.choice(PATHS)
    odd = chance.random()
    if odd < 0.03:
        path = path.replace("/", "//", 1) + chance.choice(("", "/..", "/%2e%2e/%2e%2e", "/%00"))
    elif odd < 0.05:
        path += chance.choice(("%", "%zz", "%ff%fe", "\xe9", ";a=b", "a" * 9000, "/../../guard.py"))
    elif odd < 0.06:
        path = chance.choice(("*", "http://seeds.example/", "//seeds.example/", "?", "x", "/\\x"))
    return path


def a_query(chance: Chance) -> str:
    if chance.random() < 0.15:
        return ""
    entries = []
    if chance.random() < 0.8:
        entries.append(("recipe", chance.choices(NAMES, weights=(9, 2, 2, 2, 1, 1, 1, 1))[0]))
    for _ in range(chance.choice((0, 1, 1, 2, 3, 6))):
        name = chance.choice([*ENTRIES])
        entries.append((name, chance.choice(ENTRIES[name])))
    if chance.random() < 0.02:
        entries += [("my.width", "1")] * 500
    text = "&".join(f"{quote(name)}={quote(value, safe='')}" for name, value in entries)
    if chance.random() < 0.05:
        text += chance.choice(("&", "&&==&", "%", "%ff", "#x", "?", "&=1", "&a" * 2000, ";;", "é"))
    return text


def a_head(page: RunningPage, chance: Chance) -> list[str]:
    odd = chance.random()
    host = (
        page.host
        if odd > 0.04
        else chance.choice(("seeds.example", "", "localhost", page.host[:-1]))
    )
    lines = [f"Host: {host}"]
    if chance.random() > 0.05:
        lines.append(f"Cookie: {page.cookie}")
    for name, values in (
        ("Origin", (f"http://{page.host}", "null", "http://seeds.example")),
        ("Sec-Fetch-Site", ("same-origin", "none", "cross-site", "same-site", "\x7f")),
        ("Sec-Fetch-Mode", ("navigate", "cors")),
        ("Sec-Fetch-Dest", ("document", "empty", "iframe")),
        ("Accept-Encoding", ("gzip", "gzip, br", "identity", "*;q=0", "")),
        ("Content-Type", ("application/json", "text/plain", "multipart/form-data; boundary=x", "")),
        ("Range", ("bytes=0-10", "bytes=-1", "bytes=5-1,9-", "bytes=" + "0-1," * 500)),
        ("If-Modified-Since", ("Mon, 01 Jan 2024 00:00:00 GMT", "yesterday")),
        ("If-None-Match", ("*", '"x"')),
        ("Upgrade", ("websocket", "h2c")),
        ("Cookie", ("a=b", "=;;=", '{"a": [1]}', "x" * 5000)),
        ("X-Forwarded-Host", ("seeds.example",)),
        ("X-Odd", ("a" * 20_000, "\x7f", "é")),
    ):
        if chance.random() < 0.06:
            lines.append(f"{name}: {chance.choice(values)}")
    return lines


def a_body(chance: Chance, query: str) -> bytes:
    asked: dict[str, Any] = {"query": query, "have": {}, "window": chance.choice(("", "a", "b"))}
    odd = chance.random()
    if odd < 0.1:
        asked["text"] = chance.choice(("", "title = 1", "x" * 1000, "[", "\ud800", "a = {" * 3000))
    elif odd < 0.2:
        key = chance.choice(("query", "have", "window", "text", "recipe", "was", "task", "over"))
        asked[key] = chance.choice((None, 1, [], {}, "", True, 1e308, "\ud800", {"verdict": 3}))
    data = json.dumps(asked).encode()
    if odd < 0.25:
        return data
    if odd < 0.3:
        return mutated(chance, data)
    if odd < 0.34:
        return chance.randbytes(chance.choice((0, 1, 700, 70_000)))
    if odd < 0.342:
        return b" " * 6_500_000
    if odd < 0.35:
        return chance.choice((b"[" * 50_000, b'{"a":' * 9_000, b"1" * 9_000, b"\xef\xbb\xbf{}"))
    return data


def framed(chance: Chance, body: bytes) -> tuple[list[str], bytes, bool]:
    """How long a body is said to be; the body; whether that is so."""
    odd = chance.random()
    if odd < 0.85:
        return ([f"Content-Length: {len(body)}"] if body else []), body, True
    if odd < 0.93:
        size = chance.choice((1, 7, 5000)) if len(body) < 5000 else 60_000
        pieces = [body[at : at + size] for at in range(0, len(body), size)]
        data = b"".join(b"%x\r\n%s\r\n" % (len(one), one) for one in pieces)
        return ["Transfer-Encoding: chunked"], data + b"0\r\n\r\n", True
    said_length = chance.choice(("-1", "1e3", str(len(body) + 9), "9" * 25, "", "0x5", str(10**9)))
    return [f"Content-Length: {said_length}"], body, False


def mutated(chance: Chance, data: bytes) -> bytes:
    found = bytearray(data)
    for _ in range(chance.choice((1, 2, 10))):
        if found:
            at = chance.randrange(len(found))
            found[at : at + chance.choice((0, 1, 5))] = chance.randbytes(chance.choice((0, 1, 3)))
    return bytes(found)


def at_once(page: RunningPage, chance: Chance, request: bytes, whole: bool) -> bytes:
    with page.connected() as there:
        with contextlib.suppress(OSError):
            there.sendall(request)
            if not whole:  # who waits for more is not to wait for ever
                there.shutdown(socket.SHUT_WR)
        return b"".join(said(there))


def in_pieces(page: RunningPage, chance: Chance, request: bytes, whole: bool) -> bytes:
    with page.connected() as there:
        with contextlib.suppress(OSError):
            for _ in range(3):
                cut = chance.randrange(len(request) + 1)
                there.sendall(request[:cut])
                request = request[cut:]
                time.sleep(0.003)
            there.sendall(request)
            if not whole:
                there.shutdown(socket.SHUT_WR)
        return b"".join(said(there))


def broken_off(page: RunningPage, chance: Chance, request: bytes, whole: bool) -> bytes:
    """Gone before all is sent, or before all is answered, by an end or by a reset."""
    with page.connected() as there, contextlib.suppress(OSError):
        there.sendall(request[: chance.randrange(len(request) + 1)])
        if chance.random() < 0.5:
            there.settimeout(0.02)
            there.recv(chance.choice((1, 500)))
        if chance.random() < 0.5:
            there.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    return b""


def never_read(page: RunningPage, chance: Chance, request: bytes, whole: bool) -> bytes:
    with page.connected() as there, contextlib.suppress(OSError):
        there.sendall(request * 3)
        time.sleep(0.03)
    return b""


#: What a client does with a request, and how often.
WAYS: tuple[Callable[[RunningPage, Chance, bytes, bool], bytes], ...] = (
    at_once, in_pieces, broken_off, never_read,
)  # fmt: skip
WEIGHTS = (80, 8, 9, 3)
