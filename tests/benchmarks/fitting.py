"""How fast is `fit`, and how often does it ask? `python tests/benchmarks/fitting.py`

Prints the time of `fit` of each recipe for all listed hoops, and how many sizes it tried and
rehearsed for each end of a range; never fails.
"""

import shutil
import statistics
import sys
import time
from pathlib import Path

from speed import run

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import range_of
from paramgen.fit.size_regions import regions
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.reference.hoops import listed as listed_hoops
from paramgen.reference.hoops import smallest_first

ROUNDS = 5


def main() -> None:
    """Print everything."""
    paramgen = shutil.which("paramgen", path=Path(sys.executable).parent)
    if paramgen is None:
        raise SystemExit("paramgen is not installed beside this Python.")
    rooms = [Room(hoop) for hoop in smallest_first(listed_hoops())]
    print(f"fit for all {len(rooms)} listed hoops (goal for the wallet: 2 s; 40 checks an end)")
    for recipe in listed():
        took = [run([paramgen, "fit", recipe])[0] for _ in range(ROUNDS)]
        print(f"  {recipe:12} {statistics.median(took):5.2f} s  {asked(recipe, rooms)}")
    print("the picture of all pairs of sizes that work")
    for recipe in listed():
        asking = RememberedChecks(Order(find_recipe(recipe), {}, rooms[0]))
        start = time.perf_counter()
        first, second, *_ = asking.sizes({})
        regions(asking, first, second, rooms)
        spent = time.perf_counter() - start
        print(f"  {recipe:12} {spent:5.2f} s  {asking.checks} sizes, {asking.rehearsals} rehearsed")


def asked(recipe: str, rooms: list[Room]) -> str:
    """How many sizes were tried for the ends of ranges, at most and on average."""
    asking = RememberedChecks(Order(find_recipe(recipe), {}, rooms[0]))
    counts = []
    ends = 0
    for name in asking.sizes({}):
        before = asking.checks
        whole = range_of(asking, name, None, probes=0)
        counts.append(asking.checks - before)
        ends += 2
        for room in rooms:
            before = asking.checks
            found = range_of(asking, name, room, within=whole)
            counts.append(asking.checks - before)
            ends += 2 * (found is not None)
    most, mean = max(counts), asking.checks / ends
    text = f"at most {most} sizes tried for both ends of a range, {mean:.1f} on average for one"
    return f"{text}, {asking.rehearsals} rehearsed for {ends} ends"


if __name__ == "__main__":
    main()
