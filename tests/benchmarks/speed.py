"""How fast is it? `python tests/benchmarks/speed.py` prints everything from one run.

Processes that are compared take turns, so that whatever else the machine does falls on
both; times are medians. The processor's time is less noisy than the clock's. Not for
Windows, which does not tell it.
"""

import json
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path

import numpy as np
from flat_recipe import flat_text

from paramgen.files.proven_files import write_stitch_files
from paramgen.finished.all_findings import prove
from paramgen.hooping import Room, put_in_hoop
from paramgen.layout.lay_out import lay_out
from paramgen.making import make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.pack_files import contents
from paramgen.recipe.read_recipe import Recipe, find_recipe, read_recipe
from paramgen.reference.hoops import Hoop
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.vocabulary.unit import Unit

ROUNDS = 15
HOOP = "200x300"
RECIPES = ("fold-wallet", "coaster")
VARIANTS = (1, 10, 100, 1000)
#: Layers more than the coaster has.
LAYERS = (0, 22, 47, 97, 197)
NARROWEST, WIDEST = 140.0, 250.0

#: What `make` loads.
LOADED = ", ".join(
    f"paramgen.{name}"
    for name in ("cli.app", "cli.order_from_words", "cli.text_tables", "pack.pack_files")
)

Command = Sequence[str | Path]
Times = tuple[float, float]


def main() -> None:
    """Print everything."""
    paramgen = shutil.which("paramgen", path=Path(sys.executable).parent)
    if paramgen is None:
        raise SystemExit("paramgen is not installed beside this Python.")
    with tempfile.TemporaryDirectory() as scratch:
        for recipe in RECIPES:
            making(paramgen, recipe, Path(scratch))
            spending(recipe)
    answering(paramgen)
    for recipe in RECIPES:
        growing(recipe)
    for recipe in RECIPES:
        rehearsing(recipe)
    layering()


def making(paramgen: str, recipe: str, scratch: Path) -> None:
    """A cold `make` with all files against the same libraries and needle points."""
    made = make(asked(TypedRequest(recipe=recipe, values=[], hoop=HOOP)).order)
    steps = [[one.colour, [run.needles.tolist() for run in one.runs]] for one in made.sewn]
    points = scratch / f"{recipe}.json"
    points.write_text(json.dumps(steps))
    bare = scratch / f"bare-{recipe}"
    bare.mkdir()
    made_in = scratch / f"made-{recipe}"
    compare(
        f"cold make of {recipe}, all files (goal: 1.5 times)",
        {
            "libraries and the same needle points": [
                sys.executable,
                Path(__file__).with_name("bare.py"),
                points,
                bare,
            ],
            "our modules loaded, nothing done": [sys.executable, "-c", f"import {LOADED}"],
            "make": [paramgen, "make", recipe, "--hoop", HOOP, "--out", made_in],
        },
        new=made_in,
    )


def spending(recipe: str) -> None:
    """What a `make` spends its time on once everything is loaded."""
    words = TypedRequest(recipe=recipe, values=[], hoop=HOOP)
    wanted = asked(words)
    made = make(wanted.order)
    stages: dict[str, Callable[[], object]] = {
        "recipe and hoops read, words understood": lambda: asked(words),
        "worked out and rehearsed": lambda: make(wanted.order),
        "stitch files": lambda: write_stitch_files(made.sewn, wanted.formats, recipe),
        "the folder but for its papers": lambda: contents(made, wanted.formats, papers=False),
        "the whole folder, stitch files too": lambda: contents(made, wanted.formats),
    }
    spent = {}
    print(f"parts of a make of {recipe}, by the processor")
    for name, act in stages.items():
        spent[name] = statistics.median(_spent(act) for _ in range(5))
        print(f"  {name:40} {spent[name] * 1000:5.0f} ms")
    # All of a make in one process, with papers and without.
    first, whole, without = (list(spent.values())[i] for i in (1, -1, -2))
    times = (first + whole) / (first + without)
    print(f"  {'with papers against without':40} ×{times:.2f} (goal: 2.5 times)\n")


def _spent(act: Callable[[], object]) -> float:
    start = time.process_time()
    act()
    return time.process_time() - start


def answering(paramgen: str) -> None:
    """`list` and `--help` against an empty start of Python."""
    compare(
        "quick commands (goal: 3 times)",
        {
            "python -c pass": [sys.executable, "-c", "pass"],
            "list": [paramgen, "list"],
            "--help": [paramgen, "--help"],
        },
    )


def compare(title: str, commands: Mapping[str, Command], new: Path | None = None) -> None:
    """Run commands in turn and print their times, and how many times the first each takes.

    A folder that a command makes anew is cleared away before each.
    """
    times: dict[str, list[Times]] = {name: [] for name in commands}
    for turn in range(ROUNDS + 1):
        for name, command in commands.items():
            if new is not None:
                shutil.rmtree(new, ignore_errors=True)
            took = run(command)
            if turn:  # the first finds nothing in the disk's cache
                times[name].append(took)
    medians = {
        name: tuple(statistics.median(column) for column in zip(*rows, strict=True))
        for name, rows in times.items()
    }
    first = next(iter(medians.values()))
    print(f"{title}\n  {'':36}  clock         processor")
    for name, median in medians.items():
        cells = (f"{t * 1000:5.0f} ms ×{t / f:<4.2f}" for t, f in zip(median, first, strict=True))
        print(f"  {name:36}  {'  '.join(cells)}")
    print()


def run(command: Command) -> Times:
    """Seconds by the clock and of the processor that a process takes."""
    used, start = _used(), time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start, _used() - used


def _used() -> float:
    """Seconds of the processor that all processes run so far have taken."""
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def growing(recipe: str) -> None:
    """How the time grows with the number of variants made in one process, without files."""
    read = find_recipe(recipe)
    room = Room(Hoop("360x350", 360.0, 350.0))

    def variant(width: float) -> None:
        put_in_hoop(size(read, {"width": width}, unit=Unit.MM), room, resize=_never)

    variant(WIDEST)  # what is worked out only once
    took = [_time_of(variant, count) for count in VARIANTS]
    counts, seconds = np.array(VARIANTS), np.array(took)
    # The line through zero that is nearest in proportion, so that each count matters alike.
    slope = float((seconds / counts).mean())
    print(f"variants of {recipe} in one process, no files (goal: a straight line, 15 ms each)")
    for count, second in zip(VARIANTS, took, strict=True):
        off = second / (slope * count) - 1
        print(f"  {count:5}  {second:8.3f} s  {second / count * 1000:6.2f} ms each  {off:+.0%}")
    off = np.abs(seconds / (slope * counts) - 1).max()
    print(f"  slope {slope * 1000:.2f} ms, largest departure {off:.0%}\n")


def rehearsing(recipe: str) -> None:
    """The rehearsal alone."""
    sized = size(find_recipe(recipe), {}, unit=Unit.MM)
    project = lay_out(sized, chord_error=COARSE)

    took = statistics.median(_spent(lambda: prove(project)) for _ in range(ROUNDS))
    layers = sum(layer.plies for step in project.steps for layer in step.layers)
    print(f"rehearsal of {recipe}, {layers} plies (goal: 50 ms)\n  {took * 1000:.0f} ms\n")


def layering() -> None:
    """Print how the time of a rehearsal grows with the layers in the hoop."""
    print("\nRehearsal by layers (a straight line is the goal)")
    for more in LAYERS:
        sized = size(find_layered(more), {}, unit=Unit.MM)
        project = lay_out(sized, chord_error=COARSE)
        spent = min(_spent(partial(prove, project)) for _ in range(5))
        print(f"  {more + 3:>4} layers  {1000 * spent:7.1f} ms")


def find_layered(more: int) -> Recipe:
    """The coaster with so many layers more between its top and its seam, tacked one by one."""
    text = flat_text("coaster")
    layers = f"""
[counts.more]
means = "layers more"
default = {more}
least = 0
most = 200

[pieces.more]
title = "layer {{k}}"
fabric = "more"
repeat = {{ k = "more" }}
around = "seam"
past = "allowance"

[lines.more-tack]
title = "tack-down of layer {{k}}"
role = "tack-down"
repeat = {{ k = "more" }}
along = "tack"

"""
    steps = """[[steps]]
repeat = { k = "more" }

[[steps.steps]]
title = "Lay {k}"
lay = [{ piece = "more[k]", side = "front", up = "wrong" }]
say = "Lay it."

[[steps.steps]]
title = "Tack {k}"
stitch = ["more-tack[k]"]
say = "Stitch it."

"""
    place, lay = text.index("[pieces.batting]"), text.index('[[steps]]\ntitle = "Lay the back"')
    text = text[:place] + layers + text[place:lay] + steps + text[lay:]
    return read_recipe(text, name="layered", source="layered")


def _time_of(act: Callable[[float], None], count: int) -> float:
    """Seconds of the processor for as many widths, all different."""
    widths = np.linspace(NARROWEST, WIDEST, count + 1)[1:].tolist()

    def all_of_them() -> None:
        for width in widths:
            act(width)

    return _spent(all_of_them)


def _never(_values: Mapping[str, float]) -> Sized:
    raise AssertionError("it fits")


if __name__ == "__main__":
    main()
