"""Work many random settings of each recipe through by the book of flaps, and count.

python tests/helpers/book_of_flaps_run.py 1000

A thousand take ten to thirty minutes a recipe. It prints each disagreement and counts, and ends
with 1 if there is any.
"""

import random
import sys
from collections import Counter

from book_of_flaps import disagreements
from random_settings import settings, tried

from paramgen.recipe.read_recipe import find_recipe, listed


def run(name: str, count: int) -> Counter[str]:
    """Count what is sound, refused and disagreed on, and print each disagreement."""
    recipe, chance = find_recipe(name), random.Random(name)
    counts: Counter[str] = Counter()
    for _ in range(count):
        one = tried(recipe, settings(recipe, chance))
        if one.plan is None:
            counts["refused"] += 1
            counts["refused without a reason"] += not one.reasons
            continue
        counts["sound"] += 1
        found = disagreements(one.plan)
        counts["disagreed on"] += bool(found)
        for each in found:
            print(f"{name} {one.asked}: {each}", flush=True)
    return counts


def main() -> None:
    """Each recipe in turn; ends with 1 if there is anything that the plan has wrong."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    wrong = 0
    for name in sys.argv[2:] or listed():
        counts = run(name, count)
        wrong += counts["disagreed on"] + counts["refused without a reason"]
        print(f"{name}: " + ", ".join(f"{many} {what}" for what, many in sorted(counts.items())))
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
