"""Settings of a recipe by chance, always the same for the same seed; and the plan made of them."""

import json
import math
import random
from dataclasses import dataclass
from typing import Any

import numpy as np
from told import says

from paramgen.hooping import Hooped, Room
from paramgen.making import Made, Order, make
from paramgen.plan.write_plan import plan, to_json
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.hoops import Hoop
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.unit import Unit
from paramgen.works import Works

#: Large enough for the largest of any recipe, so that the hoop refuses none.
LARGE = Room(Hoop("1000x1000", 1000.0, 1000.0))
#: How often a size, a count or choice, and a length is other than the recipe's own; and a length
#: where lengths are drawn from all that they may be.
SIZES, CHOICES, LENGTHS, WIDE = 0.7, 0.6, 0.08, 0.2


@dataclass(frozen=True)
class Tried:
    """What was asked, and what came of it: a plan, or why not."""

    asked: dict[str, str | float]
    plan: dict[str, Any] | None
    reasons: tuple[str, ...]
    #: Needle points outside a field no larger than it takes.
    outside: int = 0


def settings(
    recipe: Recipe, chance: random.Random, *, wide: bool = False
) -> dict[str, str | float]:
    """Sizes within their limits, any choice and count, some lengths not far from their own.

    Or, `wide`, more of them, anywhere within their limits.
    """
    file = recipe.file
    asked: dict[str, str | float] = {}
    for name, choice in file.choices.items():
        if chance.random() < CHOICES:
            asked[name] = chance.choice(sorted(choice.options))
    for name, count in file.counts.items():
        if chance.random() < CHOICES:
            asked[name] = str(chance.randint(count.least, count.most))
    for one in size(recipe, asked, unit=Unit.MM).sizes:
        entry = file.sizes[one.name]
        if chance.random() < SIZES:
            # Half of them near the recipe's own, where what it holds is not much too large.
            low, high = entry.least, entry.most
            if chance.random() < 0.5:
                low, high = max(low, 0.9 * one.value), min(high, 1.3 * one.value)
            asked[one.name] = round(chance.uniform(low, high), 1)
    for one in size(recipe, asked, unit=Unit.MM).lengths:
        own = file.lengths.get(one.name)
        if own is None or chance.random() >= (WIDE if wide else LENGTHS):
            continue
        low = 0.0 if own.least is None else own.least
        high = 1000.0 if own.most is None else own.most
        near = min(max(chance.uniform(0.8, 1.25) * one.value, low), high)
        anywhere = wide and own.least is not None and own.most is not None
        asked[one.name] = round(chance.uniform(low, high) if anywhere else near, 2)
    return asked


def tried(recipe: Recipe, asked: dict[str, str | float]) -> Tried:
    """Make it, in a large hoop and in one as small as it can be, with no file written."""
    works = Works()
    try:
        made = make(Order(recipe, asked, LARGE), works=works)
        tight = make(Order(recipe, asked, _no_larger(made)), works=works)
    except CannotMakeError as problem:
        return Tried(asked, None, tuple(says(one) for one in problem.findings if one.stops))
    except InputError as problem:
        return Tried(asked, None, tuple(str(fault) for fault in problem.faults))
    told = json.loads(to_json(plan(made, {}, [])))
    return Tried(asked, told, (), needles_outside(tight))


def _no_larger(made: Made) -> Room:
    """The smallest field for it: its stitches lie in the middle, on tenths of a millimetre."""
    wide, high = (
        2 * math.ceil(10 * size / 2 - 1e-6) / 10 for size in (made.extent.width, made.extent.height)
    )
    return Room(Hoop("no larger", wide, high), may_turn=False)


def needles_outside(hooped: Hooped) -> int:
    """Needle points outside the field of its hoop, whose middle is the origin."""
    half = np.array(hooped.room.field) / 2
    needles = np.concatenate([run.needles for step in hooped.sewn for run in step.runs]) / 10
    return int((np.abs(needles) > half + 1e-6).any(axis=1).sum())
