"""What the last fold spends on its way round the closed edge, or over what is held."""

import shapely

from paramgen.finished.bulk import thickness_at
from paramgen.finished.finished_limits import ROUND_THE_EDGE
from paramgen.finished.finished_thing import FinishedThing, fold_line
from paramgen.finished.fold_room import over_what_is_held
from paramgen.finished.hardware import folded_over
from paramgen.vocabulary.path import Point


def spent_round_the_edge(thing: FinishedThing) -> float:
    """How much shorter what is folded over last becomes on its way round, mm.

    As much as lets the two halves of hardware meet; else the thickness there, and a little.
    """
    folds = thing.project.finish.folds
    over = over_what_is_held(thing, folds[-1]) if folds and not thing.wraps else None
    if not thing.wraps and over is None:
        return 0.0
    halves = first_halves(thing)
    if not halves:
        spent = over or (*thickness_at(thing, folds[-1][0]), *ROUND_THE_EDGE)
        return sum(spent) / 2
    along = fold_line(folds[-1])
    lying = folded_over(halves[0], halves[1], folds)
    first, second = (along.distance(shapely.Point(one)) for one in lying)
    return max(0.0, first - second)


def first_halves(thing: FinishedThing) -> tuple[Point, ...]:
    """Where the two halves of hardware go whose first half moves as it is folded; empty if none."""
    return next((one.halves for one in thing.project.notions if one.halves), ())
