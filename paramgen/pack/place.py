"""Putting a folder in place: complete or not at all, whatever happens on the way."""

import ctypes
import json
import os
import shutil
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

from paramgen.findings import WriteError
from paramgen.pack.whole import mask

#: The file by which a folder is known to be ours: it lists every file in it.
PLAN = "plan.json"
#: Ends of the names of what stands beside a folder while it is replaced. They name the
#: program, so that nothing of anyone else's is taken for leavings.
_PARTIAL = ".paramgen-new"
_BEFORE = ".paramgen-before"


def place(contents: Mapping[str, bytes], folder: Path) -> None:
    """Write a folder; an older one of ours is replaced, anything else never.

    The new folder is written beside the place it goes to and then changed for the old one:
    in one move of the system where it has such a move, else in two. Whenever it is cut
    short, the older folder is whole: in its place, or, between the two moves, beside it
    under another name, from which the next run brings it back.

    Parameters
    ----------
    contents : mapping of file name to bytes
    folder : Path

    Raises
    ------
    WriteError
        If something else stands there, or the disk refuses; what was there is still there.
    """
    try:
        folder = Path(os.path.abspath(folder))  # noqa: PTH100 (keeps links)
        _check_movable(folder)
        folder.parent.mkdir(parents=True, exist_ok=True)
        _mend(folder)
        _check_free(folder)
        prefix = f".{folder.name}{_PARTIAL}-{os.getpid()}-"
        partial = Path(tempfile.mkdtemp(prefix=prefix, dir=folder.parent))
        try:
            _write(contents, partial, lasting=folder.exists())
            _swap(partial, folder)
        finally:
            shutil.rmtree(partial, ignore_errors=True)
    except OSError as problem:
        raise WriteError(
            f"{folder} cannot be written: {problem.strerror or problem}; nothing was changed. "
            "Choose another place with --out."
        ) from None


def _write(contents: Mapping[str, bytes], partial: Path, *, lasting: bool) -> None:
    """Write the files; if lasting, down to the disk, so that no power cut loses them.

    That takes longer than all the rest, and is worth it only before an older folder goes.
    """
    for folder in sorted({(partial / name).parent for name in contents}):
        folder.mkdir(parents=True, exist_ok=True)
    for name, data in contents.items():
        with (partial / name).open("wb") as stream:
            stream.write(data)
            if lasting:
                stream.flush()
                os.fsync(stream.fileno())
    partial.chmod(0o777 & ~mask())  # a temporary folder is private; this one is for keeping


def _check_movable(folder: Path) -> None:
    """Refuse a folder that someone is in: another put in its place would leave them nowhere."""
    here = Path(os.path.abspath(os.curdir))  # noqa: PTH100 (as the folder above)
    if folder in (here, *here.parents) or (
        folder.exists() and any(folder.samefile(one) for one in (here, *here.parents))
    ):
        which = "is the folder you are in, or holds it" if folder.name else "holds all there is"
        raise WriteError(
            f"{folder} {which}, and cannot be put in place as one; nothing was changed. Name "
            "another, such as --out ./new."
        )


def _check_free(folder: Path) -> None:
    """Refuse to replace what this program did not make, or made and a person added to."""
    if not folder.exists() and not folder.is_symlink():
        return
    if folder.is_symlink() or not folder.is_dir():
        raise WriteError(f"{folder} is not a folder; nothing was changed. Choose another place.")
    there = {
        entry.relative_to(folder).as_posix()
        for entry in folder.rglob("*")
        if entry.is_symlink() or not entry.is_dir()
    }
    if not any(folder.iterdir()):
        return
    ours = _listed(folder)
    if ours is None:
        raise WriteError(
            f"{folder} was not made by this program; nothing was changed. Choose another place."
        )
    strange = sorted(there - ours)
    if strange:
        more = f" and {len(strange) - 3} more" if len(strange) > 3 else ""
        raise WriteError(
            f"{folder} holds files that this program did not make: {', '.join(strange[:3])}{more}; "
            "nothing was changed. Move them, or choose another place."
        )


def _listed(folder: Path) -> set[str] | None:
    """Files that the plan in a folder lists; None if there is no plan of ours."""
    try:
        with (folder / PLAN).open("rb") as stream:
            plan = json.loads(stream.read(50_000_000))
        if plan["made_by"] != "paramgen":
            return None
        return {str(name) for name in plan["contents"]}
    except (OSError, ValueError, LookupError, TypeError, RecursionError):
        return None


def _swap(partial: Path, folder: Path) -> None:
    """Change the new folder for what stands in its place."""
    if not folder.exists():
        partial.rename(folder)
    elif not _exchanged(partial, folder):
        before = folder.with_name(f".{folder.name}{_BEFORE}")
        folder.rename(before)
        try:
            partial.rename(folder)
        finally:
            if not folder.exists():
                before.rename(folder)
        shutil.rmtree(before, ignore_errors=True)


def _mend(folder: Path) -> None:
    """Finish what an earlier run was stopped in: bring back an older folder, drop leavings."""
    before = folder.with_name(f".{folder.name}{_BEFORE}")
    if before.is_dir():
        if folder.exists():
            shutil.rmtree(before, ignore_errors=True)
        else:
            before.rename(folder)
    start = f".{folder.name}{_PARTIAL}-"
    for partial in folder.parent.iterdir():
        owner = partial.name.removeprefix(start).partition("-")[0]
        if partial.name.startswith(start) and owner.isdecimal() and not _running(int(owner)):
            shutil.rmtree(partial, ignore_errors=True)


#: No process has a larger number.
_MOST_PROCESSES = 2**31 - 1


def _running(process: int) -> bool:
    """Whether a process is there; yes where the system does not tell."""
    if sys.platform == "win32":
        return True
    if process > _MOST_PROCESSES:
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_RENAME_SWAP = 2


def _exchanged(one: Path, other: Path) -> bool:
    """Change two names for each other in one move; False where the system has none."""
    first, second = os.fsencode(one), os.fsencode(other)
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            return bool(library.renamex_np(first, second, _RENAME_SWAP) == 0)
        return bool(library.renameat2(_AT_FDCWD, first, _AT_FDCWD, second, _RENAME_EXCHANGE) == 0)
    except (OSError, AttributeError, TypeError):
        return False
