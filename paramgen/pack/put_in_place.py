"""Putting a folder in place: complete or not at all, whatever happens on the way.

Folders change places in one move where the system has such a move, so that a run killed at any
moment leaves the older folder whole; else in two, and the next run mends what was left.
"""

import ctypes
import os
import re
import shlex
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

from paramgen.pack.seal import SEAL, clear, digests_in, json_in, not_ours, seal
from paramgen.pack.whole_file import NEW, mask
from paramgen.plan.read_plan import LARGEST_PLAN
from paramgen.vocabulary.findings import WriteError

#: The file that lists every file of a folder of ours, for people and other programs.
PLAN = "plan.json"
#: Ends of the names of what stands beside a folder while it is replaced. They name the
#: program, so that nothing of anyone else's is taken for leavings.
_PARTIAL = ".paramgen-new"
_BEFORE = ".paramgen-before"
_LEFT = re.compile(
    rf"\.(?P<folder>.+)(?:{_PARTIAL}-\d+-\w+|{_BEFORE})|{re.escape(NEW[0])}-(?P<owner>\d+)-\w+{re.escape(NEW[1])}"
)


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
            _write({SEAL: seal(contents), **contents}, partial, lasting=folder.exists())
            _swap(partial, folder)
        finally:
            clear(partial)
    except OSError as problem:
        raise _refused(folder, problem) from None


def check_place(folder: Path) -> None:
    """Refuse, before any work is done, a folder that `place` would refuse.

    Raises
    ------
    WriteError
    """
    try:
        folder = Path(os.path.abspath(folder))  # noqa: PTH100 (keeps links)
        _check_movable(folder)
        _check_free(folder)
    except OSError as problem:
        raise _refused(folder, problem) from None


def _refused(folder: Path, problem: OSError) -> WriteError:
    return WriteError(
        f"{folder} cannot be written: {problem.strerror or problem}; nothing was changed. "
        "Choose another place with --out."
    )


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
    if not any(folder.iterdir()):
        return
    digests = digests_in(folder)
    if digests is None:
        plan = json_in(folder / PLAN, LARGEST_PLAN)
        if isinstance(plan, dict) and plan.get("made_by") == "paramgen":
            raise WriteError(_without_mark(folder))
        raise WriteError(
            f"{folder} was not made by this program, or lost its mark {SEAL}; nothing was "
            "changed. Choose another place, or move it."
        )
    added, changed = not_ours(folder, digests)
    for names, what in (
        (added, "that this program did not make"),
        (changed, "that were changed since this program made them"),
    ):
        if names:
            more = f" and {len(names) - 3} more" if len(names) > 3 else ""
            raise WriteError(
                f"{folder} holds files {what}: {', '.join(names[:3])}{more}; nothing was "
                "changed. Move or remove them, or choose another place."
            )


def _without_mark(folder: Path) -> str:
    """Say of a project of ours without its mark what to do: it cannot be told what is whose."""
    names = (f"{folder.name}-before{number}" for number in ("", *range(-2, -1000, -1)))
    free = next(name for name in names if not folder.with_name(name).exists())
    moved = [str(folder), str(folder.with_name(free))]
    there = " ".join(f'"{one}"' for one in moved)
    said = f"move {there}" if sys.platform == "win32" else f"mv {shlex.join(moved)}"
    return (
        f"{folder} holds a project of this program without its mark {SEAL}: an earlier version "
        "made it, or the mark was lost. So nobody can tell which of its files are yours; nothing "
        "was changed. Choose another place with --out, or move it and run the same command again:\n"
        f"  {said}"
    )


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
        clear(before)


def _mend(folder: Path) -> None:
    """Finish what an earlier run was stopped in: bring back an older folder, drop leavings."""
    before = folder.with_name(f".{folder.name}{_BEFORE}")
    if before.is_dir() and digests_in(before) is not None:
        if folder.exists():
            clear(before)
        else:
            before.rename(folder)
    start = f".{folder.name}{_PARTIAL}-"
    for partial in folder.parent.iterdir():
        owner = partial.name.removeprefix(start).partition("-")[0]
        if partial.name.startswith(start) and owner.isdecimal() and not _running(int(owner)):
            clear(partial)


def is_left(name: str) -> bool:
    """Whether a run that was stopped leaves things of such a name.

    >>> is_left(".tags.paramgen-new-123-abc"), is_left(".tags")
    (True, False)
    """
    return _LEFT.fullmatch(name) is not None


def sweep(parent: Path) -> None:
    """Mend every folder in one, and drop leavings of files.

    Raises
    ------
    OSError
    """
    for one in list(parent.iterdir()):
        left = _LEFT.fullmatch(one.name)
        if left and left["folder"]:
            _mend(parent / left["folder"])
        elif left and not _running(int(left["owner"])):
            one.unlink(missing_ok=True)


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
