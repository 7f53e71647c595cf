"""Recipes of a few kilobytes that ask for more work than any machine should do for them.

Each is a row marker (`attacks/row-marker.toml`, which can be made) with something in it changed.
"""

import random
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

GOOD = (Path(__file__).parent / "attacks" / "row-marker.toml").read_text(encoding="utf-8")

Point = tuple[float, float]


@dataclass(frozen=True)
class Attack:
    """A recipe, and what its refusal must say: what or how much, and the limit."""

    name: str
    text: str
    much: str
    limit: str


def changed(*changes: tuple[str, str]) -> str:
    """The row marker with texts in it replaced, each of which stands there once."""
    text = GOOD
    for find, put in changes:
        assert text.count(find) == 1, find
        text = text.replace(find, put)
    return text


def listed(points: Iterable[Point]) -> str:
    """Points as they stand in a recipe."""
    return ", ".join(f'["{x:.7g}", "{y:.7g}"]' for x, y in points)


def with_seam(paths: str) -> str:
    """Stitch some paths as the last line."""
    return changed(('along = "seam"', f"points = [{paths}]"))


def with_place(paths: str) -> str:
    """Stitch some paths as the first line."""
    return changed(('along = "finished"', f"points = [{paths}]"))


def comb(teeth: int, wide: float, high: float) -> list[Point]:
    """Points up and down, from the left to the right."""
    return [
        (-wide / 2 + wide * n / teeth, high / 2 if n % 2 else -high / 2) for n in range(teeth + 1)
    ]


def across(points: list[Point]) -> list[Point]:
    """The same from the top to the bottom."""
    return [(y, x) for x, y in points]


def folded(times: int) -> str:
    """Felt folded in half again and again."""
    folds = '{ fold = "half", along = "height" }, ' * times
    text = changed(
        (
            'around = "finished"\npast = "10mm"',
            f'width = "60"\nheight = "120"\nfolds = [{folds}]',
        )
    )
    return text.replace('piece = "felt", side', 'piece = "felt", fold = "top", side')


def repeated_lines(lines: int) -> str:
    """Lines that are each repeated as often as can be."""
    tables = "".join(
        f'[lines.l{n}]\ntitle = "t"\nrole = "placement"\nalong = "finished"\n'
        'repeat = { k = "200" }\n'
        for n in range(lines)
    )
    names = ", ".join(f'"l{n}"' for n in range(lines))
    return changed(
        ("[lines.place]", f"{tables}[lines.place]"), ('["place"]', f'["place", {names}]')
    )


def repeated_steps(steps: int) -> str:
    """A group of steps that is done as often as a group can be."""
    one = '[[steps.steps]]\ntitle = "Press"\ndo = "press"\nsay = "Press it."\n'
    group = f'[[steps]]\nrepeat = {{ k = "200" }}\n{one * steps}\n'
    return changed(("[[conditions]]", f"{group}[[conditions]]"))


def repeated_values(values: int) -> str:
    """Long sums that are each worked out as often as can be."""
    long = " + ".join(["k"] * 35)
    tables = "".join(
        f'v{n} = {{ repeat = {{ k = "200" }}, is = "{long}" }}\n' for n in range(values)
    )
    used = " + ".join(f"0 * v{n}[1]" for n in range(values))
    return changed(
        ("[pieces.felt]", f"[values]\n{tables}\n[pieces.felt]"),
        ('height = "height"', f'height = "height + {used}"'),
    )


def combs_within_each_other(teeth: int) -> str:
    """The part that two combs have in common, which is a grid of squares."""
    one = [*comb(teeth, 38, 80), (19.0, 41.0), (-19.0, 41.0)]
    outlines = "".join(
        f'[outlines.{name}]\nshape = "polygon"\npoints = [{listed(points)}]\n'
        for name, points in (("comb", one), ("rake", across(one)))
    )
    both = '[outlines.both]\nshape = "within"\nof = "comb"\ninside = "rake"\n'
    return changed(
        ("[lines.place]", f"{outlines}{both}[lines.place]"),
        ('along = "finished"', 'along = "both"'),
    )


def star(corners: int) -> str:
    """A zigzag strip that is outset: each corner cuts across all the others."""
    points = [*comb(corners, 30, 60), (15.0, 80.0), (-15.0, 80.0)]
    outlines = (
        f'[outlines.star]\nshape = "polygon"\npoints = [{listed(points)}]\n'
        '[outlines.round]\nshape = "outset"\nof = "star"\nby = "20"\nouter_corners = "round"\n'
    )
    return changed(
        ("[lines.place]", f"{outlines}[lines.place]"), ('along = "finished"', 'along = "round"')
    )


def clear_of_many(outlines: int) -> str:
    """A line, repeated, that keeps clear of many outlines."""
    tables = "".join(
        f'[outlines.o{n}]\nshape = "rectangle"\nleft = "{n / 10}"\nwidth = "3"\nheight = "200"\n'
        for n in range(outlines)
    )
    names = ", ".join(f'"o{n}"' for n in range(outlines))
    clear = f'along = "finished"\nclear_of = [{names}]\nrepeat = {{ k = "200" }}'
    return changed(("[lines.place]", f"{tables}[lines.place]"), ('along = "finished"', clear))


def scribble(points: int) -> list[Point]:
    """Points at random about the middle, always the same: each way crosses most others."""
    chance = random.Random(1)
    return [(chance.gauss(0, 12), chance.gauss(0, 25)) for _ in range(points)]


def _arcs(number: int, far: float) -> str:
    legs = ", ".join(
        f'{{ through = ["{n / 100 + 0.005:g}", "{far:g}"], to = ["{n / 100 + 0.01:g}", "0"] }}'
        for n in range(number)
    )
    return f'[["0", "0"], {legs}]'


ONE_LONG = f"[{listed([(0, 0), (900_000, 0)])}]"
SHORT_PATHS = ", ".join(
    f"[{listed([(-18 + n % 90 * 0.4, y), (-18 + n % 90 * 0.4, y + 1)])}]"
    for n in range(1000)
    for y in [-40 + 2 * (n // 90)]
)
FAR_COMB = comb(3000, 30, 800)
CROSSING = f"[{listed(comb(420, 30, 70))}], [{listed(across(comb(420, 70, 30)))}]"

ATTACKS = (
    # 2 leaves for each fold: 2 ** 20 and 2 ** 40
    Attack("folds-20", folded(20), "1,048,576 plies", "150"),
    Attack("folds-40", folded(40), "1,099,511,627,776 plies", "150"),
    Attack("far", changed(('by = "margin"', 'by = "-1e4"')), "10000 mm", "2500 mm"),
    Attack(
        "quantity",
        changed(("two_sided = true", 'quantity = "100000"\ntwo_sided = true')),
        "100,000 pieces",
        "600",
    ),
    # 290 × 200, the two outlines, the piece and the two lines that are there already
    Attack("repeated-lines", repeated_lines(290), "58,005 outlines, pieces and lines", "1,200"),
    # 100 × 200 and the 10 steps that are there already
    Attack("repeated-steps", repeated_steps(100), "20,010 steps", "400"),
    Attack("repeated-values", repeated_values(12), "terms of arithmetic", "60,000"),
    # 420 × 420 are 176,400
    Attack("crossing-lines", with_seam(CROSSING), "may cross", "20,000"),
    Attack("crossing-combs", combs_within_each_other(1200), "may cross", "20,000"),
    Attack("scribble", with_seam(f"[{listed(scribble(250))}]"), "fields that edges", "2,000"),
    Attack("long-scribble", with_seam(f"[{listed(scribble(370))}]"), "may cross", "20,000"),
    Attack("outset-star", star(1000), "corners and bends", "300"),
    Attack("clear-of-many", clear_of_many(250), "points that are compared", "3,000,000"),
    # 1,000 short ones and the seam
    Attack("short-paths", with_place(SHORT_PATHS), "1,001 runs", "600"),
    Attack("kilometre", with_seam(ONE_LONG), "900000 mm", "2500 mm"),
    Attack(
        "kilometre-of-zigzag",
        with_seam(ONE_LONG).replace(
            'role = "seam"\n', 'role = "seam"\nstitch = "zigzag"\nspacing = "0.1"\n'
        ),
        "900000 mm",
        "2500 mm",
    ),
    Attack("arcs-far-out", with_seam(_arcs(900, 30_000)), "30000 mm", "2500 mm"),
    Attack("arcs", with_seam(_arcs(900, 2_000)), "points in one path", "150,000"),
    # 2.4 km to and fro inside the marker
    Attack("to-and-fro", with_seam(f"[{listed(FAR_COMB)}]"), "mm of stitched line", "100,000"),
    Attack(
        "fine-stitches",
        with_seam(f"[{listed(comb(900, 30, 80))}]").replace(
            'role = "seam"\n', 'role = "seam"\nstitch = "triple"\nlength = "0.5mm"\n'
        ),
        "stitches",
        "60,000",
    ),
)
