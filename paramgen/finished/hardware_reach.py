"""What each half of a snap, ring or rivet goes through, and how the far side of it is reached."""

from typing import Literal

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import OTHER, SIDES, FinishedThing, Ply, top_stitched
from paramgen.finished.flaps import between_walls
from paramgen.finished.pockets import pocket
from paramgen.geometry.mirror import mirrored
from paramgen.rehearsal.hollows import WORLD, joined
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Notion

Opening = Literal["outside", "zip", "mouth", "gap"]


@dataclass(frozen=True, eq=False, kw_only=True)
class Fastening:
    """One place where hardware is set.

    Parameters
    ----------
    notion : Notion
    at : Point
        On the finished thing open and flat, mm.
    side : str
        From which side of the finished thing it is set: the face that is seen.
    named : tuple of str
        The pieces it is to pierce; empty if the recipe does not say.
    pierced : tuple of Ply
        What it goes through, from that side inward.
    foreign : Ply or None
        What would be pierced besides, before the last that should be.
    opening : str or None
        What the far side is reached by: `outside`, `zip`, `mouth` or `gap`; None if by nothing.
    depth : float
        From that opening to the place, mm; 0 where the far side is outside.
    wide : float
        Length of the opening, mm.
    """

    notion: Notion
    at: Point
    side: Side
    named: tuple[str, ...]
    pierced: tuple[Ply, ...]
    foreign: Ply | None
    opening: Opening | None
    depth: float
    wide: float


def places(thing: FinishedThing) -> tuple[Fastening, ...]:
    """Every place of hardware for which the recipe says what it goes through."""
    return tuple(
        _set(thing, notion, at, notion.through[number])
        for notion in thing.project.notions
        for number, at in enumerate((*notion.halves, *notion.at))
        if number < len(notion.through) and notion.through[number]
    )


def _set(thing: FinishedThing, notion: Notion, at: Point, named: tuple[str, ...]) -> Fastening:
    spot = shapely.Point(at)
    covers = shapely.covers([ply.area for ply in thing.plies], spot)
    here = [thing.plies[place] for place in np.flatnonzero(covers)]
    from_sides = {side: here[::-1] if side is Side.FRONT else here for side in SIDES}
    runs = {side: _run(plies, named) for side, plies in from_sides.items()}
    # It is set from the side where the pieces it is to pierce lie outermost.
    side = max((thing.outer, OTHER[thing.outer]), key=lambda one: _wanted(runs[one], named))
    run, through = runs[side], from_sides[side]
    pierced, there = ({ply.sheet.piece for ply in plies} for plies in (run, here))
    # What lies in the way matters only where what is to be pierced lies there as well.
    foreign = through[len(run)] if pierced < set(named) <= there else None
    if not named or foreign is not None or not run:
        return Fastening(
            notion=notion,
            at=at,
            side=side,
            named=named,
            pierced=tuple(run),
            foreign=foreign,
            opening=None,
            depth=0.0,
            wide=0.0,
        )
    opening, depth, wide = _behind(thing, spot, run, len(run) == len(through), side)
    return Fastening(
        notion=notion,
        at=at,
        side=side,
        named=named,
        pierced=tuple(run),
        foreign=None,
        opening=opening,
        depth=depth,
        wide=wide,
    )


def _run(plies: list[Ply], named: tuple[str, ...]) -> list[Ply]:
    """What is pierced from one side: the pieces named, and the tape of a zip between them."""
    run: list[Ply] = []
    for ply in plies:
        if ply.sheet.piece not in named and not ply.sheet.of_zip:
            break
        if ply.sheet.of_zip and not {one.sheet.piece for one in run} & set(named):
            break
        run.append(ply)
    return run


def _wanted(run: list[Ply], named: tuple[str, ...]) -> int:
    return sum(ply.sheet.piece in named for ply in run)


def _behind(
    thing: FinishedThing, spot: shapely.Point, run: list[Ply], whole: bool, side: Side
) -> tuple[Opening | None, float, float]:
    """How the far side of the last ply is reached: by what, how far in, how wide that opens."""
    last, done = run[-1], thing.done
    if whole:
        return "outside", 0.0, 0.0
    found = pocket(thing, last.index, OTHER[side], at=spot)
    if found.node < 0:
        return None, 0.0, 0.0
    name: Opening
    if done.shows(found.node):
        mouths, name = found.mouths, "zip" if found.through_zip else "mouth"
        if not between_walls(done)[found.node]:
            mouths, name = _ways_out(thing, found.node), "zip"
    else:
        mouths, name = shapely.MultiLineString([] if _gap_closed(thing) else done.plane.gaps), "gap"
    if mouths.is_empty:
        return None, 0.0, 0.0
    nearest = min(shapely.get_parts(mouths), key=lambda one: float(one.distance(spot)))
    return name, float(nearest.distance(spot)), float(nearest.length)


def _ways_out(thing: FinishedThing, node: int) -> BaseGeometry:
    """Where a hollow within one wall opens to what lies between the walls: the slit of a zip."""
    done = thing.done
    spaces, edges = done.spaces, done.plane.edges
    between = between_walls(done) | (np.arange(len(spaces.face)) == WORLD)
    ends = between[spaces.joins]
    part = joined(len(spaces.face), spaces.joins[~ends.any(axis=1)])
    mine = (part[spaces.joins] == part[node]) & ~ends
    ways = (ends[:, 0] != ends[:, 1]) & mine.any(axis=1)
    out = [edges[edge].line for edge in spaces.crosses[ways].tolist()]
    lines = shapely.line_merge(shapely.union_all(out)) if out else shapely.LineString()
    return lines & thing.room


def _gap_closed(thing: FinishedThing) -> bool:
    """Whether the turning gap is closed when hardware is first set."""
    steps = thing.project.steps
    fasten = next((step.number for step in steps if step.act is Act.FASTEN), len(steps) + 1)
    closing = [*top_stitched(thing.project), *(one for one in steps if one.act is Act.HAND_SEW)]
    return any(step.number < fasten for step in closing)


def nearest_coil(thing: FinishedThing, at: Point) -> float:
    """How far the coil of the nearest zip lies from a place, mm; far where there is none."""
    spot = shapely.Point(at)
    away = [float(slit.line.distance(spot)) - slit.coil / 2 for slit in thing.done.sandwich.slits]
    return min(away, default=np.inf)


def nearest_fold(one: Fastening) -> float:
    """How far the nearest fold of what is pierced lies from a place, mm."""
    spot = shapely.Point(one.at)
    away = [
        float((fold if ply.swung is None else mirrored(fold, ply.swung)).distance(spot))
        for ply in one.pierced
        for fold in ply.sheet.folds
    ]
    return min(away, default=np.inf)
