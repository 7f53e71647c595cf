"""What is shown reaches any screen, file or pipe, or it is known that it does not.

Nothing heavy is loaded here: the quickest answers pass through, too.
"""

import errno
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import Any

#: What stands for letters that an output has not; the rest is told by what it is made of.
_PLAINLY = {
    "×": "x",
    "°": " degrees",
    "–": "-",
    "—": "-",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
}


class UnshownError(Exception):
    """Standard output takes no more: it is closed, the disk is full, or who read it went away.

    Parameters
    ----------
    reason : OSError
    """

    def __init__(self, reason: OSError) -> None:
        self.reason = reason
        super().__init__(reason.strerror or str(reason))

    @property
    def gone(self) -> bool:
        """Whether the reader went away, which wants no word."""
        return self.reason.errno == errno.EPIPE


class _Output:
    """A stream of text whose failures are told in one way."""

    def __init__(self, stream: Any, failed: Callable[[OSError], None]) -> None:
        self._stream = stream
        self._failed = failed

    #: It takes any letter, so nothing need be put round it that knows better.
    encoding = "utf-8"

    def write(self, text: str) -> int:
        try:
            if self._stream is not None:
                encoding = self._stream.encoding or "utf-8"
                return int(self._stream.write(plainly(text, encoding)))
            self._failed(OSError(errno.EBADF, "it is closed"))
        except OSError as problem:
            self._failed(problem)
        return len(text)

    def flush(self) -> None:
        try:
            if self._stream is not None:
                self._stream.flush()
        except OSError as problem:
            self._failed(problem)

    def isatty(self) -> bool:
        return self._stream is not None and self._stream.isatty()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def prepare() -> None:
    """Make both outputs take any letter, and tell of what they do not take.

    Of what standard error does not take nothing can be told, but the status still is.
    """
    sys.stdout = _Output(sys.stdout, _unshown)
    sys.stderr = _Output(sys.stderr, _unsaid)


def close() -> None:
    """Let nothing more be tried on standard output, not even by the flush when Python ends."""
    if sys.__stdout__ is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.__stdout__.fileno())


def _unshown(problem: OSError) -> None:
    raise UnshownError(problem)


def _unsaid(_problem: OSError) -> None:
    if sys.__stderr__ is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.__stderr__.fileno())


def plainly(text: str, encoding: str) -> str:
    """Write letters that an encoding has not with letters it has.

    >>> plainly("5 × 3½ é …", "ascii")
    '5 x 31/2 e ...'
    >>> plainly("札", "cp1251")
    '?'
    """
    with suppress(UnicodeError):
        text.encode(encoding)
        return text

    def one(letter: str) -> str:
        from unicodedata import combining, normalize

        parts = _PLAINLY.get(letter) or normalize("NFKD", letter).replace("⁄", "/")
        parts = "".join(part for part in parts if not combining(part))
        for told in (letter, parts):
            try:
                told.encode(encoding)
            except UnicodeError:
                continue
            return told
        return "?"

    return "".join(map(one, text))
