"""What went wrong is said on standard error, and the exit status says it too."""

import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

import typer

from paramgen.cli.exit_status import CANNOT, STOPPED, UNWRITTEN, WRONG
from paramgen.cli.unforeseen import kept
from paramgen.vocabulary.unit import Unit


@dataclass
class KnownByThen:
    """What is known when something goes wrong.

    Parameters
    ----------
    written : list of str
        Sentences that say what is written; they go with what no one foresaw.
    unit : Unit
        The person's, for findings.
    """

    written: list[str] = field(default_factory=list)
    unit: Unit = Unit.MM


@contextmanager
def told() -> Iterator[KnownByThen]:
    """Say what went wrong on standard error, and leave with the status that says so too.

    Yields
    ------
    KnownByThen
        To be added to.
    """
    from paramgen.cli.text_tables import fault_text, finding_text, indented
    from paramgen.vocabulary.findings import CannotMakeError, InputError, ParamgenError

    known = KnownByThen()
    # What a picture's camera wrote badly beside it harms nothing.
    warnings.filterwarnings("ignore", module="PIL")
    try:
        yield known
    except InputError as problem:
        for fault in problem.faults:
            typer.echo(fault_text(fault), err=True)
        raise typer.Exit(WRONG) from None
    except CannotMakeError as problem:
        for finding in problem.findings:
            typer.echo(finding_text(finding, known.unit), err=True)
        raise typer.Exit(CANNOT) from None
    except ParamgenError as problem:
        typer.echo(indented(str(problem)), err=True)
        raise typer.Exit(UNWRITTEN) from None
    except KeyboardInterrupt:
        typer.echo(indented(f"Stopped. {kept(known.written)}"), err=True)
        raise typer.Exit(STOPPED) from None
    except Exception as problem:
        for sentence in known.written:
            problem.add_note(sentence)
        raise


def busy(text: str) -> None:
    """Say what is being done that takes long, if a person looks on."""
    if sys.stderr.isatty():
        typer.echo(text, err=True)


def note(text: str) -> None:
    """Say beside the answer what is worth knowing of what was typed; nothing if it is empty."""
    if text:
        from paramgen.cli.text_tables import indented

        typer.echo(indented(text), err=True)


@contextmanager
def stoppable() -> Iterator[None]:
    """Say how to go on after Ctrl-C."""
    try:
        yield
    except KeyboardInterrupt:
        typer.echo("Stopped. Run the same command again: it goes on from here.", err=True)
        raise typer.Exit(STOPPED) from None
