"""Work many random settings of each recipe through by the book of flaps, and count.

python tests/helpers/book_of_flaps_run.py 1000
python tests/helpers/book_of_flaps_run.py 200 key-fob coaster --draw november --wide

A thousand take ten to thirty minutes a recipe. Another word after `--draw` draws other settings,
the same word the same ones; with `--wide`, lengths from all that they may be. It prints each
disagreement, each crash and counts, and ends with 1 if there is anything wrong.
"""

import argparse
import random
import sys
import traceback
from collections import Counter
from collections.abc import Iterator

from book_of_flaps import disagreements
from random_settings import Tried, settings, tried

from paramgen.recipe.read_recipe import find_recipe, listed

#: What must not be.
WRONG = ("crashed", "disagreed on", "needles outside", "refused without a reason")


def run(name: str, count: int, draw: str = "", *, wide: bool = False) -> Counter[str]:
    """Count what is sound, refused and wrong, and print each thing that is wrong."""
    recipe, chance = find_recipe(name), random.Random(f"{draw} {name}".strip())
    counts: Counter[str] = Counter(tried=count)
    for _ in range(count):
        asked = settings(recipe, chance, wide=wide)
        try:
            one = tried(recipe, asked)
            found = [] if one.plan is None else disagreements(one.plan)
        except Exception:  # a crash is told of like all else, and the next is tried
            print(f"{name} {asked}: {traceback.format_exc()}", flush=True)
            counts["crashed"] += 1
            continue
        counts["refused" if one.plan is None else "sound"] += 1
        for what, said in wrong(one, found):
            counts[what] += 1
            print(f"{name} {asked}: {said}", flush=True)
    return counts


def wrong(one: Tried, found: list[str]) -> Iterator[tuple[str, str]]:
    """What is wrong with a thing that was tried, in a word of `WRONG` and in a sentence."""
    if one.plan is None and not (one.reasons and all(one.reasons)):
        yield "refused without a reason", "refused without a reason"
    if one.outside:
        yield "needles outside", f"{one.outside} needle points lie outside the field"
    if found:
        yield "disagreed on", "; ".join(found)


def main() -> None:
    """Each recipe in turn; ends with 1 if there is anything that the program has wrong."""
    parser = argparse.ArgumentParser()
    parser.add_argument("count", type=int, nargs="?", default=100)
    parser.add_argument("recipes", nargs="*")
    parser.add_argument("--draw", default="")
    parser.add_argument("--wide", action="store_true")
    asked = parser.parse_intermixed_args()
    bad = 0
    for name in asked.recipes or listed():
        counts = run(name, asked.count, asked.draw, wide=asked.wide)
        bad += sum(counts[what] for what in WRONG)
        print(
            f"{name}: " + ", ".join(f"{many} {what}" for what, many in sorted(counts.items())),
            flush=True,
        )
    sys.exit(bool(bad))


if __name__ == "__main__":
    main()
