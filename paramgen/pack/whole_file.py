"""One file put in place whole or not at all, however many runs write it at once."""

import os
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

#: How the names of files begin and end that are about to become others.
NEW = (".paramgen", ".part")


def put(file: Path, pieces: Iterable[bytes]) -> None:
    """Write a file; an older one stays until this one is whole.

    Raises
    ------
    OSError
        If the disk refuses; the older one is still there.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(NEW[1], f"{NEW[0]}-{os.getpid()}-", file.parent)
    new = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.writelines(pieces)
        new.chmod(0o666 & ~mask())  # a temporary file is private; this one is for keeping
        new.replace(file)
    except BaseException:
        with suppress(OSError):
            new.unlink()
        raise


def mask() -> int:
    """What the person's new files may not be used for by others."""
    found = os.umask(0)
    os.umask(found)
    return found
