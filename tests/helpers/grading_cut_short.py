"""Kills a run of `grade` at things it asks of the system, and looks at what it leaves behind.

`python grading_cut_short.py FOLDER TABLE EVERY`: one process at a time makes the rows and is
killed at the first, the EVERY-th, the twice EVERY-th ... thing that it asks about the folder it
writes to. Prints a JSON list, one entry for each. A program of its own, because it forks.
"""

import json
import os
import signal
import sys
from itertools import count
from pathlib import Path
from typing import Any

from folders import files_in

from paramgen.cli.grade_command import grade
from paramgen.grading.kept_rows import ROW
from paramgen.ordering.typed_request import TypedRequest

WORDS = TypedRequest(recipe="", values=[], hoop="130x180", files="dst")


def run(table: Path, out: Path) -> int:
    """Rows that were there before."""
    return grade(table, WORDS, out, papers=False, jobs="1").before


def cut_short(table: Path, out: Path, at: int) -> bool:
    """Make the rows in a process that is killed at the at-th thing asked; False if it ends."""
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        return os.WIFSIGNALED(status)
    events, place = count(), str(out)

    def watch(event: str, about: tuple[Any, ...]) -> None:
        asked = event == "open" or event.startswith("os.")
        if asked and str(about[0] if about else "").startswith(place) and next(events) == at:
            os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(watch)
    try:
        run(table, out)
    finally:
        os._exit(0)


def look(table: Path, out: Path, at: int, whole: dict[str, bytes]) -> dict[str, Any] | None:
    """Kill a run, look at what is there, and take it up again."""
    if not cut_short(table, out, at):
        return None
    rows = [one for one in sorted(out.glob("[!.]*/")) if one.is_dir()] if out.exists() else []
    stays = {one.name: (one / ROW).stat().st_ino for one in rows if (one / ROW).exists()}
    found = {one.name: files_in(one) for one in rows}
    before = run(table, out)
    return {
        "rows": sorted(found),
        "whole": all(
            files == {name.removeprefix(f"{row}/"): data
                      for name, data in whole.items() if name.startswith(f"{row}/")}
            for row, files in found.items()
        ),
        "before": before,
        "not made again": all((out / row / ROW).stat().st_ino == was for row, was in stays.items()),
        "same in the end": files_in(out) == whole,
    }  # fmt: skip


def main() -> None:
    parent, table, every = Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3])
    run(table, parent / "whole")
    whole = files_in(parent / "whole")
    looks = []
    for at in count(0, every):
        found = look(table, parent / str(at), at, whole)
        if found is None:
            break
        looks.append(found)
    json.dump(looks, sys.stdout)


if __name__ == "__main__":
    main()
