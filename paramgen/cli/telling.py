"""What went wrong is said on standard error, and the exit status says it too."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

import typer

#: Exit statuses.
CANNOT, WRONG, UNWRITTEN = 1, 2, 3
#: What a shell makes of Ctrl-C: 128 and the number of the signal.
STOPPED = 130


@contextmanager
def told() -> Iterator[None]:
    """Say what went wrong on standard error, and leave with the status that says so too."""
    from paramgen.cli.tables import fault_text, finding_text, indented
    from paramgen.findings import CannotMakeError, InputError, ParamgenError

    try:
        yield
    except InputError as problem:
        for fault in problem.faults:
            typer.echo(fault_text(fault), err=True)
        raise typer.Exit(WRONG) from None
    except CannotMakeError as problem:
        for finding in problem.findings:
            typer.echo(finding_text(finding), err=True)
        raise typer.Exit(CANNOT) from None
    except ParamgenError as problem:
        typer.echo(indented(str(problem)), err=True)
        raise typer.Exit(UNWRITTEN) from None


def busy(text: str) -> None:
    """Say what is being done that takes long, if a person looks on."""
    if sys.stderr.isatty():
        typer.echo(text, err=True)


@contextmanager
def stoppable() -> Iterator[None]:
    """Say how to go on after Ctrl-C."""
    try:
        yield
    except KeyboardInterrupt:
        typer.echo("Stopped. Run the same command again: it goes on from here.", err=True)
        raise typer.Exit(STOPPED) from None
