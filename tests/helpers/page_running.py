"""The page in a process of its own, as `paramgen page` opens it, asked over a raw socket."""

import contextlib
import os
import re
import signal
import socket
import subprocess
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from page_asked import Answered
from processes import start

#: Longer than anything here takes on a busy machine, s.
LONG = 60.0


@dataclass(frozen=True)
class RunningPage:
    """A page that answers.

    Parameters
    ----------
    process : Popen
    address : str
        As it was printed, with the token.
    """

    process: subprocess.Popen[str]
    address: str

    @property
    def host(self) -> str:
        return urlsplit(self.address).netloc

    @property
    def place(self) -> tuple[str, int]:
        parts = urlsplit(self.address)
        return str(parts.hostname), int(parts.port or 0)

    @property
    def cookie(self) -> str:
        return f"page-{self.place[1]}={self.address.rpartition('key=')[2]}"

    def connected(self) -> socket.socket:
        return socket.create_connection(self.place, timeout=LONG)

    def raw(self, request: bytes) -> bytes:
        """All that is answered to what is sent, until the connection is closed."""
        with self.connected() as there:
            with contextlib.suppress(OSError):  # it may be closed before all is sent
                there.sendall(request)
            return b"".join(said(there))

    def head(
        self, path: str, *more: str, method: str = "GET", cookie: bool = True, end: str = "\r\n"
    ) -> bytes:
        """Of a request after which the connection is closed."""
        own = [f"Cookie: {self.cookie}"] if cookie else []
        lines = [
            f"{method} {path} HTTP/1.1",
            f"Host: {self.host}",
            *own,
            "Connection: close",
            *more,
        ]
        return ("\r\n".join(lines) + "\r\n" + end).encode("latin-1")

    def asked(
        self, path: str, *more: str, method: str = "GET", body: bytes = b"", cookie: bool = True
    ) -> Answered:
        length = [f"Content-Length: {len(body)}"] if body else []
        head = self.head(path, *more, *length, method=method, cookie=cookie)
        return read_answer(self.raw(head + body))

    def workers(self) -> list[int]:
        """Processes that work for it, by what the system says of them.

        Where the system has it, they branch off from one of its processes, and are no children of
        its own.
        """
        processes = {int(one.name): one for one in Path("/proc").glob("[0-9]*")}
        found = []
        for pid, process in processes.items():
            with contextlib.suppress(OSError, KeyError):  # it may have ended
                mother = parent(process)
                own = mother == self.process.pid and b"spawn_main" in cmdline(process)
                branch = b"forkserver" in cmdline(process) and mother != self.process.pid
                if own or (branch and parent(processes[mother]) == self.process.pid):
                    found.append(pid)
        return found

    def memory(self) -> int:
        """Of it, its workers and what these branch off from, bytes that are in use now."""
        workers = self.workers()
        mothers = {parent(Path("/proc") / str(one)) for one in workers}
        return sum(_resident(one) for one in {self.process.pid, *workers, *mothers})

    def interrupt(self) -> None:
        """Ctrl-C."""
        os.kill(self.process.pid, signal.SIGINT)


def parent(process: Path) -> int:
    return int((process / "stat").read_text().rpartition(")")[2].split()[1])


def cmdline(process: Path) -> bytes:
    return (process / "cmdline").read_bytes()


def _resident(pid: int) -> int:
    try:
        said = Path(f"/proc/{pid}/smaps_rollup").read_text()
    except OSError:
        return 0
    found = re.search(r"Pss:\s+(\d+) kB", said)
    return int(found[1]) * 1024 if found else 0


def said(there: socket.socket) -> Iterator[bytes]:
    with contextlib.suppress(ConnectionError):
        while piece := there.recv(65536):
            yield piece


def read_answer(raw: bytes) -> Answered:
    """The first answer in what was sent back."""
    head, _, body = raw.partition(b"\r\n\r\n")
    first, *lines = head.decode("latin-1").split("\r\n")
    headers = {}
    for line in lines:
        name, _, value = line.partition(": ")
        headers[name.lower()] = value
    if headers.get("transfer-encoding") == "chunked":
        body = b"".join(_chunks(body))
    return Answered(int(first.split()[1]), headers, body)


def _chunks(body: bytes) -> Iterator[bytes]:
    while body:
        size, _, rest = body.partition(b"\r\n")
        length = int(size, 16)
        yield rest[:length]
        body = rest[length + 2 :]


@contextlib.contextmanager
def running(*words: str | Path, **settings: str) -> Iterator[RunningPage]:
    """Open the page at any free port; end it by Ctrl-C."""
    process = start("page", *words, "--port", "0", "--no-open", **settings)
    assert process.stdout is not None
    assert process.stderr is not None
    address = process.stdout.readline().strip()
    heard: list[str] = []
    errors = process.stderr
    listening = threading.Thread(target=lambda: heard.extend(errors), daemon=True)
    listening.start()
    try:
        assert address.startswith("http://"), (address, process.wait(LONG), heard)
        yield RunningPage(process, address)
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
        try:
            process.wait(LONG)
        except subprocess.TimeoutExpired:
            process.kill()
            raise
        finally:
            listening.join(LONG)
            process.stdout.close()
            errors.close()
    assert not [line for line in heard if "Traceback" in line], "".join(heard)
