"""Cold commands, a warm workshop and questions, beside an earlier checkout of the program.

`python tests/benchmarks/workshop.py [CHECKOUT]` prints one table and never fails. Each command runs
from this checkout and from the earlier one by turns, in the same Python; times are those of the
processor, medians, in milliseconds. Python keeps what it has compiled, as it does for a person,
whatever the environment says of that. What only a workshop has is told without the earlier column.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from paramgen import Order, Room, Workshop, find_hoop
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.whole_project import whole
from paramgen.finished.all_findings import prove
from paramgen.fit.size_ranges import range_of
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.vocabulary.unit import Unit
from paramgen.works import stitch

HERE = Path(__file__).resolve().parents[2]
ROUNDS = 5

#: What is run, and how much of the earlier time, or of `list`, it may take.
COLD = {
    "list": ([], ""),
    "hoops": ([], "3 × list"),
    "things": ([], "3 × list"),
    "about": (["coaster"], "6 × list"),
    "check": (["fold-wallet", "--hoop", "160x260"], "0.6 × before"),
    "make": (["fold-wallet", "--hoop", "160x260", "--out", "{out}", "--replace"], "0.65 × before"),
}
ASKED = {
    "fit --near": (["fit", "fold-wallet", "--hoop", "5x7in", "--near", "5x8in"], "2 s"),
    "fit --from/--to": (
        ["fit", "fold-wallet", "--from", "6x10in", "--to", "5x7in"],
        "2 s",
    ),
    "fit --picture, all hoops": (["fit", "fold-wallet", "--picture", "{out}.svg"], "4 s"),
}


def main() -> None:
    """Print the table."""
    before = Path(sys.argv[1]).resolve() if len(sys.argv) > 1 else None
    print(f"{'what':34} {'before':>8} {'now':>8}   goal")
    with tempfile.TemporaryDirectory() as scratch:
        quick = 0.0
        for name, (words, goal) in COLD.items():
            took = by_turns([name, *words], before, Path(scratch), ROUNDS)
            quick = quick or took[1]
            line(name, *took, goal, f"{took[1] / quick:.1f} × list")
        for name, (words, goal) in ASKED.items():
            line(name, *by_turns(words, before, Path(scratch), 2), goal)
    warm()
    proofs()


def by_turns(
    words: list[str], before: Path | None, scratch: Path, rounds: int
) -> tuple[float | None, float]:
    """Median times of a command before and now, ms."""
    took: dict[Path, list[float]] = {HERE: [], **({before: []} if before else {})}
    for number in range(rounds + 1):
        for checkout, times in took.items():
            out = str(scratch / checkout.parent.name / "out")
            once = spent([word.format(out=out) for word in words], checkout, scratch)
            if number:  # the first time it is compiled
                times.append(once)
    old = statistics.median(took[before]) if before else None
    return old, statistics.median(took[HERE])


def spent(words: list[str], checkout: Path, scratch: Path) -> float:
    """Processor time of one command, ms."""
    env = {
        **os.environ,
        "PYTHONPATH": str(checkout),
        "XDG_CONFIG_HOME": str(scratch / "none"),
        "PYTHONPYCACHEPREFIX": str(scratch / "compiled"),
        "PYTHONDONTWRITEBYTECODE": "",
    }
    start = os.times()
    subprocess.run(
        [sys.executable, "-m", "paramgen", *words],
        env=env,
        cwd=scratch,
        capture_output=True,
        check=False,
    )
    end = os.times()
    now, then = (at.children_user + at.children_system for at in (end, start))
    return 1000 * (now - then)


def line(name: str, old: float | None, new: float, goal: str, beside: str = "") -> None:
    """Print a row."""
    shown = f"{old:8.0f}" if old is not None else f"{'':8}"
    part = f"{new / old:.2f} × before" if old else ""
    print(f"{name:34} {shown} {new:8.0f}   {goal:14} {part} {beside}".rstrip())


def warm() -> None:
    """What a workshop that has begun takes when one size changes."""
    workshop = Workshop()
    recipe, room = workshop.recipe("fold-wallet"), Room(find_hoop("160x260", workshop.hoops))
    widths = iter(120 + 0.5 * number for number in range(100))

    def change(look: Callable[[Order], object]) -> float:
        order = Order(recipe, {"width": next(widths)}, room)
        start = time.process_time()
        look(order)
        return 1000 * (time.process_time() - start)

    def picture(order: Order) -> object:
        made = workshop.attempt(order).hooped
        assert made is not None
        hoop = made.room.hoop
        return to_svg(whole(hooped(made.project, hoop.name, hoop.width, hoop.height)))

    def findings(order: Order) -> object:
        return workshop.attempt(order).findings, picture(order)

    for name, look, goal in (
        ("warm: numbers and the whole picture", picture, "30 ms"),
        ("warm: the same, all findings", findings, "80 ms"),
    ):
        change(look)
        line(name, None, statistics.median(change(look) for _ in range(2 * ROUNDS)), goal)
    asked = Order(workshop.recipe("coaster"), {}, room)

    def ranges() -> float:
        start = time.process_time()
        asking = workshop.asking(asked)
        for name in asking.sizes({}):
            for hoop in workshop.hoops:
                range_of(asking, name, Room(hoop))
        return 1000 * (time.process_time() - start)

    line("fit of the coaster, first", None, ranges(), "")
    line("fit of the coaster, second", None, ranges(), "a tenth")


def proofs() -> None:
    """What it takes to lay out, prove and stitch each recipe as it is, and a quilted coaster."""
    sys.path.insert(0, str(HERE / "tests" / "specimens"))
    from quilted import quilted  # noqa: PLC0415 (found on that path)

    def proven(sized: Sized) -> object:
        return prove(lay_out(sized, chord_error=COARSE))

    for name in listed():
        sized = size(find_recipe(name), {}, unit=Unit.MM)
        line(f"{name}, laid out", None, median(partial(lay_out, sized, chord_error=COARSE)), "")
        line(f"{name}, laid out and proven", None, median(partial(proven, sized)), "")
        line(f"{name}, laid out and stitched", None, median(partial(stitch, sized)), "")
    plain, lined = (median(partial(prove, quilted(count))) for count in (0, 20))
    beside = f"{lined / plain:.1f} × without"
    line("coaster, proven", None, plain, "")
    line("the same, 20 lines each way", None, lined, "2 × without", beside)


def median(look: Callable[[], object]) -> float:
    """Median processor time of what is done again and again, ms."""
    took = []
    for _ in range(3 * ROUNDS):
        start = time.process_time()
        look()
        took.append(1000 * (time.process_time() - start))
    return statistics.median(took)


if __name__ == "__main__":
    main()
