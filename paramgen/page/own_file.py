"""A person's own recipe file: followed as it is saved, and written when that is asked for.

Only files that were named when the page was opened are looked at or written; the page gives the
name of one, never a path.
"""

import asyncio
import hashlib
from collections.abc import AsyncIterator
from pathlib import Path

from paramgen.pack.whole_file import put

#: How often a file is looked at, and how often something is said so that the line stays open, s.
EVERY, STILL_THERE = 0.4, 15.0


class FileChangedError(Exception):
    """The file is not as it was when it was opened."""


def digest_of(data: bytes) -> str:
    """What a file's content is known by."""
    return hashlib.sha256(data).hexdigest()[:16]


def write_own(file: Path, text: str, was: str) -> str:
    """Write a recipe into its file, whole or not at all.

    Parameters
    ----------
    file : Path
    text : str
    was : str
        Digest of the file as it was opened.

    Returns
    -------
    str
        Digest of what it holds now.

    Raises
    ------
    FileChangedError
        If somebody else has changed it since; it is left as it is.
    OSError
        If the disk refuses; it is left as it is.
    """
    if file.is_file() and digest_of(file.read_bytes()) != was:
        raise FileChangedError
    data = text.encode()
    put(file.resolve(), [data])
    return digest_of(data)


async def changes_of(file: Path) -> AsyncIterator[str]:
    """Server-sent events: one each time that a file is saved."""
    before = _stamp(file)
    yield ": here\n\n"
    still = 0.0
    while True:
        await asyncio.sleep(EVERY)
        now = await asyncio.to_thread(_stamp, file)
        still += EVERY
        if now != before:
            before, still = now, 0.0
            yield "data: saved\n\n"
        elif still >= STILL_THERE:
            still = 0.0
            yield ": still here\n\n"


def _stamp(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size
