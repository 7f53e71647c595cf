"""How long do many rows take, and how much memory? `python tests/benchmarks/grading.py 1000`

Grades a table of so many rows without papers, all different, and then writes the very needle
points of every row with the stitch library and nothing else. Prints seconds, ratios and memory;
never fails. For Linux, which tells the memory of each process.
"""

import resource
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pyembroidery
from bare import write

#: Kept between two looks at the memory, seconds.
EVERY = 0.5
MB = 1_000_000
PAGE = resource.getpagesize()


@dataclass
class Memory:
    """Memory of a process and those it started, at each look, bytes."""

    largest: list[int] = field(default_factory=list)
    together: list[int] = field(default_factory=list)

    def look(self, process: int) -> None:
        sizes = list(_sizes(process))
        if sizes:
            self.largest.append(max(sizes))
            self.together.append(sum(sizes))


def main(rows: int) -> None:
    """Print everything."""
    paramgen = shutil.which("paramgen", path=Path(sys.executable).parent)
    if paramgen is None:
        raise SystemExit("paramgen is not installed beside this Python.")
    with tempfile.TemporaryDirectory() as scratch:
        table, packs, bare = (Path(scratch) / name for name in ("rows.csv", "packs", "bare"))
        table.write_text("".join(lines(rows)), "utf-8")
        command = [paramgen, "grade", table, "--out", packs, "--no-papers"]
        clock, used, memory = measured(command)
        again, _, _ = measured(command)
        bare_clock, bare_used = bare_writes(packs, bare)
        size = sum(file.stat().st_size for file in packs.rglob("*") if file.is_file())
        page = (packs / "summary.html").stat().st_size
    each = 1000 / rows
    print(f"{rows} rows graded without papers (goal: 2 times by the clock)")
    for name, seconds, spent in (
        ("the stitch library alone, one process", bare_clock, bare_used),
        ("grade", clock, used),
        ("grade again, all there", again, 0.0),
    ):
        processor = f"{spent:7.1f} s of processor ×{spent / bare_used:<5.2f}" if spent else ""
        print(f"  {name:38} {seconds:7.1f} s ×{seconds / bare_clock:<5.2f} {processor}")
    print(f"  {clock * each:.0f} ms a row; {size / MB:.0f} MB written, the summary {page / MB:.1f}")
    print("  memory of the largest process and of all together, in tenths of the run, MB:")
    for name, looks in (("largest", memory.largest), ("together", memory.together)):
        tenths = [looks[len(looks) * tenth // 10 : len(looks) * (tenth + 1) // 10 or 1]
                  for tenth in range(10)]  # fmt: skip
        print(f"    {name:9}", *(f"{max(tenth, default=0) / MB:5.0f}" for tenth in tenths))
    print(f"  peak {max(memory.together) / MB:.0f} MB together")


def lines(rows: int) -> Iterator[str]:
    """A table of so many rows: the four recipes in turn, no two rows of one size."""
    yield "recipe,name,hoop,width,height\n"
    for number in range(rows):
        turn, kind = divmod(number, 4)
        wider, higher = turn % 25, turn // 25
        yield (
            f"fold-wallet,wallet {turn},160x260,{124 + wider},{172 + 1.5 * higher:g}\n",
            f"coaster,coaster {turn},200x200,{95 + wider},{95 + 2 * higher}\n",
            f"plant-tag,tag {turn},200x300,{100 + 0.5 * wider:g},{94 + 0.5 * higher:g}\n",
            f"zip-pouch,pouch {turn},200x300,{140 + wider},{110 + 2 * higher}\n",
        )[kind]


def measured(command: list[Any]) -> tuple[float, float, Memory]:
    """Seconds by the clock and of the processor that a command takes, and its memory."""
    memory = Memory()
    used, start = _used(), time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    ended = threading.Event()

    def watch() -> None:
        while not ended.wait(EVERY):
            memory.look(process.pid)

    watching = threading.Thread(target=watch)
    watching.start()
    status = process.wait()
    clock, spent = time.perf_counter() - start, _used() - used
    ended.set()
    watching.join()
    if status:
        raise SystemExit(f"grade ended with {status}.")
    return clock, spent, memory


def bare_writes(packs: Path, folder: Path) -> tuple[float, float]:
    """Seconds that the library takes to write the points of every pack, reading them left out."""
    clock = used = 0.0
    for number, file in enumerate(sorted(packs.glob("*/stitch/*.json"))):
        steps = points_of(file)
        place = folder / str(number)
        place.mkdir(parents=True)
        start, spent = time.perf_counter(), time.process_time()
        write(steps, place)
        clock += time.perf_counter() - start
        used += time.process_time() - spent
        shutil.rmtree(place)
    return clock, used


def points_of(file: Path) -> list[tuple[str, list[list[tuple[int, int]]]]]:
    """Steps of a stitch file, each its colour and its runs of points."""
    pattern = pyembroidery.read(str(file))
    steps: list[list[list[tuple[int, int]]]] = [[[]]]
    for x, y, command in pattern.stitches:
        kind = command & pyembroidery.COMMAND_MASK
        if kind == pyembroidery.STITCH:
            steps[-1][-1].append((int(x), int(y)))
        elif kind == pyembroidery.TRIM:
            steps[-1].append([])
        elif kind in (pyembroidery.COLOR_CHANGE, pyembroidery.COLOR_BREAK) and steps[-1] != [[]]:
            steps.append([[]])
    colours = [thread.hex_color() for thread in pattern.threadlist]
    runs = [[run for run in step if run] for step in steps]
    return list(zip(colours, (step for step in runs if step), strict=True))


def _used() -> float:
    """Seconds of the processor that all processes run so far have taken."""
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def _sizes(process: int) -> Iterator[int]:
    """Memory that a process and those it started hold, bytes."""
    try:
        yield int(Path(f"/proc/{process}/statm").read_text("ascii").split()[1]) * PAGE
        children = Path(f"/proc/{process}/task/{process}/children").read_text("ascii").split()
    except (OSError, IndexError, ValueError):
        return
    for child in children:
        yield from _sizes(int(child))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
