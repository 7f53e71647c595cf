"""How many copies lie in a hoop at once? `python tests/benchmarks/copies.py`

Prints for each recipe, at a few sizes and in a few hoops, how many copies were found room for,
the most that could lie there, and how long it took to say so; never fails.
"""

import time
from collections.abc import Mapping

from paramgen.copies.most_copies import most_copies
from paramgen.hooping import Room
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.unit import Unit

HOOPS = ("100x100", "130x180", "160x260", "200x300", "360x350")
#: Small, at its own size, and large; and shapes that leave room between rectangles.
ASKED: tuple[tuple[str, Mapping[str, str | float]], ...] = (
    ("coaster", {"width": 85}),
    ("coaster", {}),
    ("coaster", {"width": 130}),
    ("coaster", {"outline": "round", "width": "4in"}),
    ("coaster", {"outline": "round", "width": 60}),
    ("coaster", {"outline": "polygon", "width": 70}),
    ("coaster", {"outline": "oval", "width": 120, "height": 75}),
    ("plant-tag", {}),
    ("plant-tag", {"width": 60, "height": 75, "label_width": 30, "label_height": 30}),
    (
        "plant-tag",
        {"hang": "hole", "width": 60, "height": 80, "label_width": 30, "label_height": 30},
    ),
    ("zip-pouch", {"width": 150, "height": 100}),
    ("zip-pouch", {}),
    ("fold-wallet", {}),
)


def main() -> None:
    """Print a line for each project and a column for each hoop: found, at most, milliseconds."""
    hoops = listed()
    print(f"{'':58}" + "".join(f"{name:>16}" for name in HOOPS))
    total = bound = 0
    for recipe, asked in ASKED:
        sized = size(find_recipe(recipe), asked, unit=Unit.MM)
        cells = []
        for name in HOOPS:
            start = time.perf_counter()
            try:
                most = most_copies(sized, Room(find_hoop(name, hoops)))
            except CannotMakeError:
                cells.append("-")
                continue
            spent = (time.perf_counter() - start) * 1000
            total, bound = total + most.count, bound + most.bound
            cells.append(f"{most.count} of {most.bound} {spent:5.0f}")
        said = " ".join(f"{key}={value}" for key, value in asked.items())
        print(f"{recipe} {said}"[:57].ljust(58) + "".join(f"{cell:>16}" for cell in cells))
    print(f"{total} copies in all, at most {bound}")


if __name__ == "__main__":
    main()
