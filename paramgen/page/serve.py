"""Opening the page: its address, its token, its processes, and its end."""

import secrets
import socket
from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from dataclasses import dataclass
from functools import partial

import uvicorn
from starlette.applications import Starlette
from starlette.middleware.gzip import GZipMiddleware

from paramgen.page.guard import KEY, Guard
from paramgen.page.long_jobs import LongJobs
from paramgen.page.routes import application
from paramgen.page.tasks_by_name import prepare, prepare_long
from paramgen.page.worker_processes import WorkerProcess
from paramgen.vocabulary.findings import Fault, InputError

#: The port where nothing else is said, so that addresses that were kept stay good.
PORT = 7316

#: So many are answered at once, and wait.
MOST_AT_ONCE = 200

LOOPBACK = "127.0.0.1"


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
    family = socket.AF_INET6 if ":" in options.host else socket.AF_INET
    there = socket.socket(family, socket.SOCK_STREAM)
    try:
        there.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        there.bind((options.host, options.port))
        # Whoever is told the address may ask at once: it waits until the page answers.
        there.listen()
    except (OSError, OverflowError) as problem:
        there.close()
        hint = "Write --port 0 for any that is free; another page may be open already."
        where = "--port" if family else "--host"
        raise InputError(
            [Fault(f"port {options.port} cannot be had: {problem}", where, hint=hint)]
        ) from None
    return there


def address(options: PageOptions, port: int, token: str) -> str:
    """The address to open, with the token."""
    host = LOOPBACK if options.host in ("0.0.0.0", "::") else options.host
    host = f"[{host}]" if ":" in host else host
    mark = "&" if "?" in options.path else "?"
    return f"http://{host}:{port}{options.path}{mark}{KEY}={token}"


def serve(options: PageOptions, opened: Callable[[str], None]) -> None:
    """Serve the page until it is ended.

    Parameters
    ----------
    options : PageOptions
    opened : callable
        Told the address once the page answers.

    Raises
    ------
    InputError
        If the port cannot be had.
    """
    there = listening(options)
    port = there.getsockname()[1]
    token = secrets.token_urlsafe(16)
    quick = WorkerProcess(prepare, dict(options.own))
    quick.start()
    long = WorkerProcess(prepare_long, dict(options.own), options.out)

    @asynccontextmanager
    async def life(_app: Starlette) -> AsyncIterator[None]:
        opened(address(options, port, token))
        yield
        await quick.close()

    jobs = LongJobs(long, partial(secrets.token_urlsafe, 9))
    app = application(quick, jobs, options.own, options.out)
    app.router.lifespan_context = life
    names = {f"{LOOPBACK}:{port}", f"localhost:{port}", f"[::1]:{port}", f"{options.host}:{port}"}
    guarded = Guard(GZipMiddleware(app, minimum_size=1000), token, names)
    config = uvicorn.Config(
        guarded,
        log_config=None,
        access_log=False,
        limit_concurrency=MOST_AT_ONCE,
        timeout_keep_alive=20,
        timeout_graceful_shutdown=2,
        server_header=False,
        lifespan="on",
    )
    _JobsFirst(config, jobs).run(sockets=[there])


class _JobsFirst(uvicorn.Server):
    """Stops what takes long as it ends, so that it waits for nobody who watches."""

    def __init__(self, config: uvicorn.Config, jobs: LongJobs) -> None:
        super().__init__(config)
        self._jobs = jobs

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        await self._jobs.close()
        await super().shutdown(sockets)
