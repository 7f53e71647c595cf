"""How short are cutting plans? `python tests/benchmarks/kits.py [ORDERS] [SECONDS]`

Draws class orders at random (100, of one to four projects, each 4 to 30 times, in sizes of its
own), plans every cloth of each in so many seconds for all of them together (2), and prints the
length over its bound, beside first fit and a general rectangle packer, and how long it took; never
fails. The packer lays pieces anywhere, which no one cuts with a ruler from edge to edge: what it
saves is what cutting in strips costs.
"""

import random
import statistics
import sys
import time
from collections.abc import Iterator, Sequence

import rectpack

from paramgen.amounts.project_materials import ClothToCut, Materials, cloths_of
from paramgen.amounts.summed_materials import summed, times
from paramgen.kits.cloth_there import SELVEDGE, SQUARING, ClothThere, Cutting
from paramgen.kits.first_fit import first_fit, length_taken
from paramgen.kits.plan_cutting import plan_cutting
from paramgen.kits.strip_sizes import FINEST, SizeToCut, StripStock, whole_down, whole_up
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

WIDTH = 1100.0
_PACKERS = (rectpack.MaxRectsBl, rectpack.SkylineBl, rectpack.SkylineBlWm)


def orders(count: int) -> Iterator[list[ClothToCut]]:
    """Cloths of class orders; the same each time."""
    chance = random.Random(15)
    for _ in range(count):
        unit = chance.choice(list(Unit))
        several: list[Materials] = []
        while len(several) < chance.randint(1, 4):
            recipe = find_recipe(chance.choice(list(listed())))
            scale = chance.uniform(0.8, 1.25)
            try:
                project = lay_out(size(recipe, {}, unit=unit, scale=scale))
            except (CannotMakeError, InputError):
                continue
            one = Materials(cloths=tuple(cloths_of(project)), notions=(), stabiliser=(), tape=())
            several.append(times(one, chance.randint(4, 30)))
        yield [cloth for cloth in summed(several).cloths if cloth.sort != "trim"]


def sizes_of(cloth: ClothToCut) -> list[SizeToCut]:
    """Sizes as they lie across and along."""
    found = []
    for piece in cloth.pieces:
        across, along = map(whole_up, piece.cut[:: -1 if piece.grain is Grain.WIDTH else 1])
        turns = piece.grain is Grain.ANY
        found.append(SizeToCut(across=across, along=along, count=piece.quantity, turns=turns))
    return found


def packed(sizes: Sequence[SizeToCut], width: int) -> float:
    """Length that the best of some general packers takes, mm."""
    best = float("inf")
    for algorithm in _PACKERS:
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline, pack_algo=algorithm, rotation=False
        )
        packer.add_bin(width, sum(max(one.ways)[1] * one.count for one in sizes) + 10**9)
        for one in sizes:
            lying = max(one.ways)
            for _ in range(one.count):
                packer.add_rect(*lying)
        packer.pack()
        best = min(best, max(rect.y + rect.height for rect in packer[0]) / FINEST)
    return best


def main(count: int, seconds: float) -> None:
    """Print a line for each order, and the sums."""
    rows, spent, proven = [], [], 0
    for number, cloths in enumerate(orders(count), 1):
        length = bound = fit = packer = 0.0
        sure = True
        taken = 0.0
        for place, cloth in enumerate(cloths):
            begun = time.perf_counter()
            until = begun + (seconds - taken) / (len(cloths) - place)

            def left(until: float = until) -> float:
                return until - time.perf_counter()

            unit = Unit.MM
            cutting = Cutting(selvedge=SELVEDGE[unit], squaring=SQUARING[unit])
            there = [ClothThere(role=cloth.role, width=WIDTH)]
            (plan,) = plan_cutting(cloth, there, cutting, unit, left)
            taken += time.perf_counter() - begun
            length, bound = length + plan.length, bound + plan.bound
            sure = sure and plan.proven
            stock = [StripStock(width=whole_down(plan.width))]
            sizes = sizes_of(cloth)
            fit += length_taken(first_fit(sizes, stock), stock) / FINEST + cutting.squaring
            packer += packed(sizes, stock[0].width) + cutting.squaring
        spent.append(taken)
        proven += sure
        rows.append((length, bound, fit, packer))
        print(
            f"{number:4} {len(cloths):2} cloths {length:8.0f} mm, "
            f"bound +{length / bound - 1:6.2%}, first fit {fit / length - 1:+7.2%}, "
            f"packer {packer / length - 1:+7.2%}, "
            f"{taken:5.2f} s{'' if sure else ', not proven'}",
            flush=True,
        )
    gaps = [length / bound - 1 for length, bound, _, _ in rows]
    worse = sum(length > fit + 1e-6 for length, _, fit, _ in rows)
    print(
        f"{len(rows)} orders, {proven} proven. Over the bound {statistics.mean(gaps):.3%} on "
        f"average, {max(gaps):.2%} at most. Worse than first fit: {worse}. First fit is longer by "
        f"{statistics.mean(f / n - 1 for n, _, f, _ in rows):.2%}, the packer by "
        f"{statistics.mean(p / n - 1 for n, _, _, p in rows):.2%}. Median "
        f"{statistics.median(spent):.2f} s, most {max(spent):.2f} s."
    )


if __name__ == "__main__":
    asked = [*sys.argv[1:], *("100", "2")[len(sys.argv) - 1 :]]
    main(int(asked[0]), float(asked[1]))
