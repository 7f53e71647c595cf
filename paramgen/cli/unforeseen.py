"""The edge of the program: what no one foresaw ends here, with a status and words of its own."""

import sys
from collections.abc import Callable, Iterable

from paramgen.cli import screen
from paramgen.cli.exit_status import FAILED, STOPPED, UNWRITTEN

#: No more of what a failure says of itself is told than this.
_MOST_SAID = 160


def guarded(act: Callable[[], object]) -> int:
    """Run the program, and say what became of it whatever happens.

    Parameters
    ----------
    act : callable
        May end by `SystemExit`. Notes on what it raises say what was written by then.

    Returns
    -------
    int
        The exit status.
    """
    try:
        try:
            act()
            status = 0
        except SystemExit as end:
            status = end.code if isinstance(end.code, int) else int(end.code is not None)
        sys.stdout.flush()
    except screen.UnshownError as problem:
        screen.close()
        if not problem.gone:
            _say(f"Standard output cannot be written: {problem}. {_kept(problem)}")
        return UNWRITTEN
    except KeyboardInterrupt as problem:
        _say(f"Stopped. {_kept(problem)}")
        return STOPPED
    except Exception as problem:  # what no one foresaw
        _say(f"{failure(problem)} {_kept(problem)} {details(problem)}")
        return FAILED
    return status


def failure(problem: Exception) -> str:
    """Say in a sentence that the program failed, and of what.

    >>> failure(ValueError("no such thing"))
    'The program itself failed (ValueError: no such thing).'
    """
    if isinstance(problem, MemoryError):
        return "The program itself failed: there was not enough memory."
    said = " ".join("".join(c if c.isprintable() else " " for c in str(problem)).split())
    said = f"{said[:_MOST_SAID]}…" if len(said) > _MOST_SAID else said
    return f"The program itself failed ({type(problem).__name__}: {said}).".replace(": )", ")")


def details(problem: Exception) -> str:
    """Keep all that is known of a failure in a file, and say where it is."""
    import platform
    import tempfile
    import traceback

    from paramgen import __version__

    lines = [
        f"paramgen {__version__}, Python {platform.python_version()}, {platform.platform()}",
        f"typed: {sys.argv[1:]!r}",
        "",
        *traceback.format_exception(problem),
    ]
    text = "\n".join(lines).encode("utf-8", "backslashreplace")
    try:
        with tempfile.NamedTemporaryFile(
            prefix="paramgen-failed-", suffix=".txt", delete=False
        ) as file:
            file.write(text)
    except OSError:
        at = traceback.extract_tb(problem.__traceback__)[-1]
        file_name = at.filename.replace("\\", "/").rpartition("/")[2]
        return f"No file could be written with the details; it was in {at.name}, {file_name}."
    return f"The details are in {file.name}; whoever looks after the program will want that file."


def kept(written: Iterable[str]) -> str:
    """Say what was written, by sentences that say so."""
    return " ".join(written) or "Nothing was written."


def _kept(problem: BaseException) -> str:
    return kept(getattr(problem, "__notes__", ()))


def _say(text: str) -> None:
    import textwrap

    lines = textwrap.wrap(
        text, 88, subsequent_indent="    ", break_long_words=False, break_on_hyphens=False
    )
    sys.stderr.write("\n".join([*lines, ""]))
    sys.stderr.flush()
