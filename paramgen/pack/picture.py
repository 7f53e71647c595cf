"""One picture in a file, whole or not at all."""

from contextlib import suppress
from pathlib import Path

from paramgen.findings import WriteError


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
    partial = file.with_name(f".{file.name}.part")
    try:
        if file.exists() or file.is_symlink():
            ours = file.is_file() and not file.is_symlink() and mark in file.read_bytes()[:2000]
            if not ours:
                raise WriteError(
                    f"{file} is there and this program did not make it; nothing was changed. "
                    "Choose another file."
                )
        file.parent.mkdir(parents=True, exist_ok=True)
        partial.write_bytes(data)
        partial.replace(file)
    except OSError as problem:
        with suppress(OSError):
            partial.unlink(missing_ok=True)
        raise WriteError(
            f"{file} cannot be written: {problem.strerror or problem}. Choose another file."
        ) from None
