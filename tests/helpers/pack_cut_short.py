"""Cuts short a run that replaces a folder, at each thing it asks of the system, and looks.

`python pack_cut_short.py FOLDER killed|refused one|two`: the run is killed, or the system
refuses it that one thing; the folders change places in one move, or in two. Prints a JSON
list, one entry for each thing asked. A program of its own, because it forks, which one with
threads should not.
"""

import errno
import json
import os
import signal
import sys
from contextlib import ExitStack
from itertools import count
from pathlib import Path
from typing import Any
from unittest.mock import patch

from folders import files_in

from paramgen.pack import put_in_place as placing
from paramgen.pack.put_in_place import PLAN, place
from paramgen.vocabulary.findings import WriteError

#: How a run ended that was not killed.
ENDS = {0: "made", 3: "write error"}


def folder_of(word: str) -> dict[str, bytes]:
    """A folder of ours in which every file says the same word; no two are alike in any file."""
    names = [f"steps/{word}.svg", "whole.svg"]
    plan = json.dumps({"made_by": "paramgen", "contents": [*names, PLAN], "title": word})
    return {**{name: word.encode() for name in names}, PLAN: plan.encode()}


def found(folder: Path) -> str | None:
    """Which of the folders is there whole; None if nothing is there."""
    if not folder.exists():
        return None
    there = files_in(folder)
    whole = (word for word in ("older", "newer", "newest") if there == folder_of(word))
    return next(whole, "in pieces")


def cut_short(folder: Path, how: str, at: int) -> tuple[str, str]:
    """Replace the older folder by the newer in a process that does not get to its end.

    Returns
    -------
    end : str
        `killed`, `made`, `write error`, or empty if so many things are never asked.
    event : str
        What was asked when it was cut short.
    """
    tell, told = os.pipe()
    child = os.fork()
    if child:
        os.close(told)
        with os.fdopen(tell) as stream:
            event = stream.read()
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return "killed", event
        return (ENDS[os.WEXITSTATUS(status)] if event else ""), event
    events = count()

    def watch(event: str, _about: tuple[Any, ...]) -> None:
        asked = event == "open" or event.startswith(("os.", "ctypes.dl"))
        if asked and next(events) == at:
            os.write(told, event.encode())
            if how == "killed":
                os.kill(os.getpid(), signal.SIGKILL)
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    sys.addaudithook(watch)
    try:
        place(folder_of("newer"), folder)
    except WriteError:
        os._exit(3)
    except BaseException:
        os._exit(1)
    os._exit(0)


def look(parent: Path, how: str, at: int) -> dict[str, Any]:
    """Cut a run short at one place, and see what it and the next runs leave behind."""
    parent.mkdir()
    folder = parent / "tags"
    place(folder_of("older"), folder)
    end, event = cut_short(folder, how, at)
    after: dict[str, Any] = {
        "end": end,
        "event": event,
        "found": found(folder),
        "found beside it": sorted(str(found(one)) for one in parent.glob(".tags.*before")),
    }
    unwritable = {"steps": b"", "steps/a.svg": b""}
    try:
        place(unwritable, folder)
    except WriteError:
        after["found after a run that fails"] = found(folder)
    place(folder_of("newest"), folder)
    after["found after the next run"] = found(folder)
    after["left"] = sorted(one.name for one in parent.iterdir())
    return after


def main() -> None:
    parent, (how, moves) = Path(sys.argv[1]), sys.argv[2:]
    looks = []
    with ExitStack() as patched:
        patched.enter_context(patch.object(os, "fsync"))  # slow; only a power cut needs it
        if moves == "two":
            patched.enter_context(patch.object(placing, "_exchanged", return_value=False))
        for at in count():
            after = look(parent / str(at), how, at)
            if not after["end"]:
                break
            looks.append(after)
    json.dump(looks, sys.stdout)


if __name__ == "__main__":
    main()
