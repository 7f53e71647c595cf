"""What is in a folder, byte for byte."""

from pathlib import Path

from paramgen.pack.seal import SEAL


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file of a folder by name, with / between folders, but for the mark of folders of ours.

    Other tests look at that; it holds nothing but digests of the other files.
    """
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in sorted(folder.rglob("*"))
        if file.is_file() and file.name != SEAL
    }


def everything_in(folder: Path) -> dict[str, str | bytes]:
    """Every file, folder and link of a folder; a link by where it leads."""
    return {
        entry.relative_to(folder).as_posix(): _what(entry) for entry in sorted(folder.rglob("*"))
    }


def _what(entry: Path) -> str | bytes:
    if entry.is_symlink():
        return str(entry.readlink())
    return "folder" if entry.is_dir() else entry.read_bytes()
