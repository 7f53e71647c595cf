"""Room at the fold: what is held must not lie where the closed thing goes round itself.

It must end half of its thickness within the fold from it, where both parts hold something. The
worked example that the wallet follows had overlooked that. A part that holds nothing, as a flap
does, goes round what the other one holds by itself, and comes to lie so much nearer to the fold.
"""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.bulk import ThicknessRange, body_thickness, open_thickness
from paramgen.finished.finished_limits import ROUND_THE_EDGE
from paramgen.finished.finished_thing import FinishedThing, fold_line
from paramgen.finished.held_things import lying
from paramgen.finished.pockets import Pocket, pockets_along
from paramgen.geometry.mirror import mirrored
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.line_stretches import spots_along
from paramgen.rehearsal.rehearsal_limits import SPECK
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import FloatArray, Point
from paramgen.vocabulary.project import Held

#: The thickness at a fold is looked at so often along it, mm.
EVERY = 2.0
#: A fold farther from the thing than this folds nothing, mm.
OUTSIDE = 1.0


def folding(thing: FinishedThing) -> Iterator[Finding]:
    """Find folds that fold nothing."""
    areas = [ply.area for ply in thing.plies]
    if shapely.is_empty(areas).all():
        return  # there is nothing to fold, which is found elsewhere
    for fold in thing.project.finish.folds:
        line = fold_line(fold)
        if not shapely.dwithin(line, areas, OUTSIDE).any():
            away = float(line.distance(shapely.union_all(areas)))
            yield Finding(
                "fold-outside",
                Severity.CANNOT,
                facts(away=Mm(away)),
                amount=away,
                place=fold,
            )


def crowding(thing: FinishedThing) -> Iterator[Finding]:
    """Find what is held too near to a fold to be closed full."""
    for fold in thing.crossed if thing.done.turned else ():
        yield from _crowded(thing, fold)


def _crowded(thing: FinishedThing, fold: tuple[Point, Point]) -> Iterator[Finding]:
    """What is held so near to a fold that it is in the way when the thing is closed full.

    The outside goes round all that lies within: each side of the fold loses half of that thickness.
    """
    if over_what_is_held(thing, fold):
        return
    line = fold_line(fold)
    within = within_fold(thing, fold)
    told: set[str] = set()
    for held, pocket, lies in _everything_lying(thing):
        if held.name in told or (held.folds and line.crosses(lies)):
            continue  # what folds goes round the fold with the project
        away = float(lies.distance(line))
        least = within[0] / 2
        if away >= least - 0.01:
            continue
        told.add(held.name)
        yield Finding(
            "fold-crowded",
            Severity.DISAPPOINT,
            facts(
                thing=held.called,
                has=Mm(away),
                needs=Mm(least),
                thick=Mm(within[0]),
                larger=Mm(2 * (least - away)),
                shorter=Mm(least - away),
            ),
            amount=least - away,
            place=place_of([lies]),
            piece=pocket.piece,
        )


def _everything_lying(thing: FinishedThing) -> Iterator[tuple[Held, Pocket, BaseGeometry]]:
    """All that is held and goes in at an edge, in each pocket that it is for, as it lies."""
    for held in thing.project.holds:
        for pocket in pockets_along(thing, held):
            lies = lying(thing, held, pocket)
            if lies is not None and not pocket.opens_within:
                yield held, pocket, lies


def over_what_is_held(thing: FinishedThing, fold: tuple[Point, Point]) -> ThicknessRange | None:
    """What a part that holds nothing spends where its only fold lays it over what is held, mm.

    It goes round all that lies within and its own thickness, and a little more; an estimate. Where
    it reaches over the pocket but not over the thing at the bottom of it, it may spend nothing.
    None where both parts hold something, or neither does: a part that a pocket lies on may.
    """
    if not thing.done.turned or thing.project.finish.folds != (fold,):
        return None
    line, everything = fold_line(fold), list(_everything_lying(thing))
    held = shapely.union_all([lies for _, _, lies in everything])
    pockets = shapely.union_all([held, *(flap.area & thing.room for flap in thing.flaps)])
    empty = [panel for panel in thing.panels if float((panel & pockets).area) <= SPECK]
    if held.intersects(line) or len(empty) != 1 or len(thing.panels) != 2:
        return None
    over = mirrored(empty[0], line)
    if not over.intersects(shapely.union_all([pocket.area for _, pocket, _ in everything])):
        return None
    shell, within = open_thickness(thing, _spots(thing, fold)), within_fold(thing, fold)
    least, most = (within[end] + shell[end] + ROUND_THE_EDGE[end] for end in (0, 1))
    return (least if over.intersects(held) else 0.0), most


def within_fold(thing: FinishedThing, fold: tuple[Point, Point]) -> ThicknessRange:
    """Thickness that the outside goes round at a fold when all is held, mm: an estimate."""
    spots = _spots(thing, fold)
    if not len(spots):
        return 0.0, 0.0
    shell, (least, most) = open_thickness(thing, spots), body_thickness(thing)
    return max(0.0, least - 2 * shell[0]), max(0.0, most - 2 * shell[1])


def _spots(thing: FinishedThing, fold: tuple[Point, Point]) -> FloatArray:
    """Places along a fold."""
    parts = [part for part in shapely.get_parts(_across(thing, fold)) if part.length > 0.0]
    return np.concatenate([np.zeros((0, 2)), *(spots_along(part, EVERY) for part in parts)])


def _across(thing: FinishedThing, fold: tuple[Point, Point]) -> BaseGeometry:
    """The fold within the edge, clear of the allowances at its ends."""
    inner = thing.room.buffer(-10.0)
    return fold_line(fold) & (thing.room if inner.is_empty else inner)
