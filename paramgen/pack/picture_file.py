"""One picture in a file, whole or not at all."""

from pathlib import Path

from paramgen.pack.whole_file import put
from paramgen.vocabulary.findings import WriteError


def write_picture(data: bytes, file: Path, mark: bytes) -> None:
    """Write a picture; an earlier one of the same sort is replaced, anything else never.

    Parameters
    ----------
    data : bytes
    file : Path
    mark : bytes
        What every picture of this sort has near its beginning.

    Raises
    ------
    WriteError
        If another file is in its place, or the disk refuses.
    """
    if not file.name or file.is_dir():
        raise WriteError(f"{file} is a folder; nothing was changed. Name a file in it.")
    try:
        if file.exists() or file.is_symlink():
            ours = file.is_file() and not file.is_symlink() and mark in file.read_bytes()[:2000]
            if not ours:
                raise WriteError(
                    f"{file} is there and this program did not make it; nothing was changed. "
                    "Choose another file."
                )
        put(file, [data])
    except OSError as problem:
        raise WriteError(
            f"{file} cannot be written: {problem.strerror or problem}. Choose another file."
        ) from None
