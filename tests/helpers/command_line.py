"""Running the commands in this process, as if no one had hoops of their own."""

import os
from dataclasses import dataclass
from pathlib import Path

from typer.testing import CliRunner

from paramgen.cli.app import app


@dataclass(frozen=True)
class Ran:
    """Exit status, and what was printed to each output, its lines joined by single spaces."""

    status: int
    out: str
    err: str


def paramgen(*words: str | Path, settings: Path | None = None) -> Ran:
    """Run a command; what it raises besides its exit comes through, so a traceback fails.

    Parameters
    ----------
    words : str or Path
    settings : Path or None
        The person's folder of settings.
    """
    runner = CliRunner(env={"XDG_CONFIG_HOME": str(settings or os.devnull)})
    typed = [str(word) for word in words]
    ran = runner.invoke(app, typed, prog_name="paramgen", catch_exceptions=False)
    return Ran(ran.exit_code, joined(ran.stdout), joined(ran.stderr))


def joined(text: str) -> str:
    """Text as it reads, wherever its lines were broken."""
    return " ".join(text.split())
