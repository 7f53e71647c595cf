"""Opening the page: its address, its token, its processes, and its end."""

import errno
import secrets
import socket
import sys
from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from functools import partial

import uvicorn
from starlette.applications import Starlette
from starlette.middleware.gzip import DEFAULT_EXCLUDED_CONTENT_TYPES, GZipMiddleware

from paramgen.page.answers import LINES, PACKED
from paramgen.page.given_files import GivenFiles
from paramgen.page.guard import KEY, Guard
from paramgen.page.long_jobs import LongJobs
from paramgen.page.patient_connection import PatientConnection
from paramgen.page.routes import application
from paramgen.page.tasks_by_name import prepare_long
from paramgen.page.usual_address import LOOPBACK, PORT
from paramgen.page.worker_processes import WorkerProcess
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: So many are answered at once, and wait.
MOST_AT_ONCE = 200

#: Hosts that are every address of this machine.
EVERYWHERE = ("0.0.0.0", "::", "")


@dataclass(frozen=True, kw_only=True)
class PageOptions:
    """How the page is opened.

    Parameters
    ----------
    host : str
    port : int
        0 for any that is free.
    own : mapping of name to path
        Recipe files that may be shown.
    out : str
        The folder in which projects may be put; empty for none.
    path : str
        Where it begins: path and query.
    """

    host: str = LOOPBACK
    port: int = PORT
    own: Mapping[str, str]
    out: str = ""
    path: str = "/"


def listening(options: PageOptions) -> socket.socket:
    """Take the port.

    Raises
    ------
    InputError
        If it is taken, or the host is none of this machine.
    """
    try:
        found = socket.getaddrinfo(
            options.host, options.port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )
        family, kind, protocol, _, place = found[0]
    except (OSError, UnicodeError) as problem:
        hint = f"Leave it out to listen on this machine alone, at {LOOPBACK}."
        raise InputError([Fault(f"no such host: {problem}", "--host", hint=hint)]) from None
    there = socket.socket(family, kind, protocol)
    try:
        if sys.platform != "win32":  # there it would let two programs have one port
            there.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        there.bind(place)
        there.listen(MOST_AT_ONCE)
    except OSError as problem:
        there.close()
        if problem.errno == errno.EADDRNOTAVAIL:
            hint = f"Leave it out to listen on this machine alone, at {LOOPBACK}."
            fault = Fault("this is no address of this machine", "--host", hint=hint)
        else:
            hint = "Write --port 0 for any that is free; another page may be open already."
            fault = Fault(f"port {options.port} cannot be had: {problem}", "--port", hint=hint)
        raise InputError([fault]) from None
    return there


def address(options: PageOptions, port: int, token: str) -> str:
    """The address to open, with the token."""
    host = LOOPBACK if options.host in EVERYWHERE else options.host
    mark = "&" if "?" in options.path else "?"
    return f"http://{_called(host)}:{port}{options.path}{mark}{KEY}={token}"


def serve(
    options: PageOptions,
    quick: WorkerProcess,
    given: GivenFiles,
    opened: Callable[[str], None],
) -> None:
    """Serve the page until it is ended, by Ctrl-C or from outside.

    Parameters
    ----------
    options : PageOptions
    quick : WorkerProcess
        Works out what is asked at each change; ended with the page.
    given : GivenFiles
        Files of a person's own, which it has too.
    opened : callable
        Told the address once the page answers.

    Raises
    ------
    InputError
        If the port cannot be had.
    """
    try:
        there = listening(options)
    except InputError:
        quick.end()
        raise
    port = there.getsockname()[1]
    token = secrets.token_urlsafe(16)
    long = WorkerProcess(prepare_long, dict(options.own), options.out, given)

    @asynccontextmanager
    async def life(_app: Starlette) -> AsyncIterator[None]:
        opened(address(options, port, token))
        yield

    jobs = LongJobs(long, partial(secrets.token_urlsafe, 9))
    app = application(quick, jobs, options.own, options.out, given)
    app.router.lifespan_context = life
    names = {f"{_called(name)}:{port}" for name in (LOOPBACK, "localhost", "::1", options.host)}
    # What is sent in lines is to be there line by line, and not when enough of it can be packed.
    unpacked = (*DEFAULT_EXCLUDED_CONTENT_TYPES, LINES)
    packed = GZipMiddleware(app, 1000, compresslevel=PACKED, exclude_content_types=unpacked)
    config = uvicorn.Config(
        Guard(packed, token, names, port, by_number=options.host in EVERYWHERE),
        http=PatientConnection,
        ws="none",
        loop="asyncio",
        lifespan="on",
        log_config=None,
        log_level="critical",  # what fails here says so itself
        access_log=False,
        proxy_headers=False,
        server_header=False,
        limit_concurrency=MOST_AT_ONCE,
        timeout_keep_alive=20,
        timeout_graceful_shutdown=1,
    )
    try:
        _JobsFirst(config, jobs).run(sockets=[there])
    except KeyboardInterrupt:  # the way to end it
        pass
    finally:
        quick.end()
        long.end()
        there.close()


def _called(host: str) -> str:
    return f"[{host}]" if ":" in host else host.lower()


class _JobsFirst(uvicorn.Server):
    """Stops what takes long as it ends, so that it waits for nobody who watches."""

    def __init__(self, config: uvicorn.Config, jobs: LongJobs) -> None:
        super().__init__(config)
        self._jobs = jobs

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        await self._jobs.close()
        await super().shutdown(sockets)
