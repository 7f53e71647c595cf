"""What is kept on disk between runs: with each pack what it was made from, and the summary."""

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import asdict
from hashlib import sha256
from pathlib import Path
from typing import Any

from paramgen.grading.summary_entry import RowRemark, SummaryEntry, as_json, from_json
from paramgen.pack.put_in_place import PLAN, is_left, sweep
from paramgen.pack.seal import digests_in, json_in
from paramgen.pack.whole_file import put
from paramgen.vocabulary.findings import WriteError

#: File in a pack that says what it was made from, and all that a summary says of it. It comes
#: into place with the pack, in the same move.
ROW = "row.json"
#: Files of the summary.
SHEET, TOTALS, PAGE = "summary.csv", "totals.csv", "summary.html"
#: Folder of why rows were not made. Names of packs do not start with a dot.
_NOT_MADE = ".not-made"
#: The largest file of ours that is read, bytes.
_LARGEST = 50_000_000


def row_file(entry: SummaryEntry, made_from: str, files: Mapping[str, bytes]) -> bytes:
    """Write the file that says what a pack was made from.

    Parameters
    ----------
    entry : SummaryEntry
    made_from : str
    files : mapping of file name to bytes
        All others of the pack.
    """
    digests = {name: sha256(data).hexdigest() for name, data in sorted(files.items())}
    return _json({"made_from": made_from, "entry": as_json(entry), "files": digests})


def kept(folder: Path, made_from: str) -> SummaryEntry | None:
    """What a pack says of itself, if it was made from just this and is whole; else None."""
    found = _read(folder / ROW)
    try:
        if found["made_from"] != made_from or PLAN not in found["files"]:
            return None
        for name, wanted in found["files"].items():
            file = folder / name
            if not file.is_file() or sha256(file.read_bytes()).hexdigest() != wanted:
                return None
        return from_json(found["entry"])
    except (OSError, LookupError, TypeError, ValueError, AttributeError):
        return None


def entry_in(folder: Path) -> SummaryEntry:
    """What a pack says of itself.

    Raises
    ------
    WriteError
        If it is not there any more.
    """
    try:
        return from_json(_read(folder / ROW)["entry"])
    except (LookupError, TypeError, ValueError):
        raise WriteError(
            f"{folder} was changed while the rows were made. Run the same command again."
        ) from None


def refused_before(out: Path, folder: str, made_from: str) -> tuple[RowRemark, ...]:
    """Why a row was not made the last time, if it asked just the same; else nothing."""
    found = _read(_refusal(out, folder))
    try:
        if found["made_from"] == made_from:
            return tuple(RowRemark(**one) for one in found["said"])
    except (LookupError, TypeError):
        pass
    return ()


def keep_refusal(out: Path, folder: str, made_from: str, said: Iterable[RowRemark]) -> None:
    """Keep why a row was not made. It only saves time: a disk that refuses it is no harm."""
    data = _json({"made_from": made_from, "said": [asdict(one) for one in said]})
    file = _refusal(out, folder)
    there = _read(file)
    with suppress(OSError):
        if not file.exists() or (isinstance(there, dict) and there.keys() == {"made_from", "said"}):
            put(file, [data])


def check_free(out: Path, marks: Mapping[str, bytes]) -> None:
    """Refuse to put rows where something else is, and to replace a summary not of ours.

    Parameters
    ----------
    out : Path
    marks : mapping of file name to bytes
        What each file of ours starts with.

    Raises
    ------
    WriteError
    """
    try:
        there = sorted(out.iterdir()) if out.exists() else []
    except OSError:
        raise WriteError(f"{out} is no folder that can be read. Choose another place.") from None
    if (out / PLAN).exists():
        raise WriteError(
            f"{out} is the folder of one project; nothing was changed. Choose another place with "
            "--out."
        )
    known = (*marks, _NOT_MADE)
    # A run that was stopped leaves packs of rows, or what was about to become one.
    if there and not any(
        one.name in known
        or is_left(one.name)
        or ((one / ROW).is_file() and digests_in(one) is not None)
        for one in there
    ):
        raise WriteError(
            f"{out} holds {there[0].name}, and no rows made before; nothing was changed. Choose "
            "another place with --out."
        )
    for name, mark in marks.items():
        file = out / name
        if not (file.exists() or file.is_symlink()):
            continue
        try:
            ours = file.is_file() and not file.is_symlink()
            if ours:
                with file.open("rb") as stream:
                    ours = stream.read(len(mark)) == mark
        except OSError:
            ours = False
        if not ours:
            raise WriteError(
                f"{file} was not made by this program; nothing was changed. "
                "Choose another place with --out."
            )
    try:
        out.mkdir(parents=True, exist_ok=True)
        sweep(out)
    except OSError as problem:
        text = f"{_unwritten(out, problem)} Nothing was made. Choose another place with --out."
        raise WriteError(text) from None


def put_summary(file: Path, text: Iterable[str]) -> None:
    """Write a file of the summary, piece by piece; an older one stays until it is whole.

    Raises
    ------
    WriteError
    """
    try:
        put(file, (piece.encode() for piece in text))
    except OSError as problem:
        raise WriteError(_unwritten(file, problem)) from None


def _unwritten(file: Path, problem: OSError) -> str:
    return f"{file} cannot be written: {problem.strerror or problem}."


def _refusal(out: Path, folder: str) -> Path:
    return out / _NOT_MADE / f"{folder}.json"


def _json(data: Mapping[str, Any]) -> bytes:
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()


def _read(file: Path) -> Any:
    """What a file of ours holds; None if it is not there or not whole."""
    return json_in(file, _LARGEST)
