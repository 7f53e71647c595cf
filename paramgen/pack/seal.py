"""The mark by which a folder is known to be ours: a digest of every file in it.

Only what bears it is ever replaced or removed; a file that someone added or changed is theirs.

It is written first and removed last. So what a killed run leaves behind is told from what only has
its name.
"""

import json
from collections.abc import Iterator, Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Any

#: The file that holds the mark. It is written first and removed last, so that what a run that
#: was stopped leaves behind bears it too.
SEAL = ".paramgen.json"
#: The largest mark that is read, bytes: some hundred for each file.
_LARGEST = 4_000_000

Digests = dict[str, str]


def seal(contents: Mapping[str, bytes]) -> bytes:
    """Write the mark of a folder with these files."""
    digests = {name: sha256(data).hexdigest() for name, data in sorted(contents.items())}
    return (json.dumps({"made_by": "paramgen", "files": digests}, indent=1) + "\n").encode()


def digests_in(folder: Path) -> Digests | None:
    """What the mark in a folder says of its files; None if there is no mark of ours."""
    found = json_in(folder / SEAL, _LARGEST)
    files = found.get("files") if isinstance(found, dict) else None
    if not isinstance(files, dict) or found.get("made_by") != "paramgen":
        return None
    return {str(name): str(digest) for name, digest in files.items()}


def json_in(file: Path, largest: int) -> Any:
    """What a file of ours holds; None if it is not there, not whole, or no file of bytes."""
    try:
        if not file.is_file() or file.is_symlink():
            return None
        with file.open("rb") as stream:
            return json.loads(stream.read(largest))
    except (OSError, ValueError, RecursionError):
        return None


def not_ours(folder: Path, digests: Digests) -> tuple[list[str], list[str]]:
    """Files in a folder of ours that are someone else's; what is empty is no one's.

    Returns
    -------
    added, changed : list of str
    """
    added, changed = [], []
    for name, file in _files(folder):
        if name == SEAL:
            continue
        if name not in digests or file.is_symlink():
            added.append(name)
        elif file.stat().st_size and sha256(file.read_bytes()).hexdigest() != digests[name]:
            changed.append(name)
    return sorted(added), sorted(changed)


def clear(folder: Path) -> None:
    """Remove a folder that bears our mark, but no file in it that the mark does not name.

    Of one in which not even the mark is whole nothing goes but that. What the system refuses
    stays, and is cleared another time.
    """
    if folder.is_symlink() or not folder.is_dir():
        return
    digests = digests_in(folder) or {}
    with suppress(OSError):
        for name, file in list(_files(folder)):
            if name in digests and name != SEAL:
                file.unlink()
        for inner in sorted(folder.rglob("*"), reverse=True):
            if inner.is_dir() and not inner.is_symlink():
                inner.rmdir()
        if [one.name for one in folder.iterdir()] == [SEAL]:
            (folder / SEAL).unlink()
        folder.rmdir()


def _files(folder: Path) -> Iterator[tuple[str, Path]]:
    """Everything in a folder that is no folder, links to folders too."""
    for entry in folder.rglob("*"):
        if entry.is_symlink() or not entry.is_dir():
            yield entry.relative_to(folder).as_posix(), entry
