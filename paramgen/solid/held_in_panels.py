"""What a finished thing holds: in which panels, between which plies, and the way in."""

from collections.abc import Sequence

import numpy as np
import shapely

from paramgen.finished.clear_room import outward
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.held_things import lying
from paramgen.finished.pockets import Pocket, pockets_along
from paramgen.solid.solid_model import HeldSlab
from paramgen.solid.solid_parts import NOTHING, SolidPart
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Held

#: So far past a mouth what lies there is looked at, mm.
_PAST_MOUTH = 2.0
#: What goes in through a zip, or between two folds, stands off by so much, degrees: so much that it
#: can be seen.
_THROUGH_SLIT = 40.0
#: A fold this near to the middle of an opening is one of those that it lies between, mm.
_AT_FOLD = 0.1
#: Nothing is thinner than paper, mm: what a recipe gives no thickness can be seen too.
PAPER = 0.1


@dataclass(frozen=True, eq=False)
class HeldInPanels:
    """A thing held: at which place of the plies, in which panels."""

    slab: HeldSlab
    place: int
    panels: frozenset[int]


def held_in_panels(thing: FinishedThing, parts: Sequence[SolidPart]) -> list[HeldInPanels]:
    """Everything that it holds, each in its pocket."""
    found = []
    for held in thing.project.holds:
        for pocket in pockets_along(thing, held):
            lies = lying(thing, held, pocket)
            if lies is not None:
                found.append(_in_pocket(thing, parts, held, pocket, lies))
    return found


def _in_pocket(
    thing: FinishedThing,
    parts: Sequence[SolidPart],
    held: Held,
    pocket: Pocket,
    lies: shapely.Polygon,
) -> HeldInPanels:
    out = outward(pocket)
    mouths = shapely.get_coordinates(pocket.mouths)
    mouth = float((mouths @ np.array(out)).max())
    place = thing.place[pocket.sheet] + (held.face is Side.FRONT)
    flat = [k for k, part in enumerate(parts) if part.past is None]
    at = pocket.mouths.interpolate(0.5, normalized=True)
    middle = shapely.Point(*(np.array(at.coords[0]) - np.array(out)))
    panel = min(flat, key=lambda k: float(parts[k].area.distance(middle)))
    into = shapely.union(pocket.area, lies)
    within = [k for k in flat if k == panel or (parts[k].area & lies).area > NOTHING]
    within = [k for k in within if k == panel or (parts[k].area & into).area > NOTHING]
    along = shapely.get_coordinates(lies) @ np.array(out)
    side = _opens_to(thing, pocket, place, np.array(at.coords[0]) + np.array(out) * _PAST_MOUTH)
    slab = HeldSlab(
        title=held.title,
        outline=lies,
        thickness=max(held.thickness / 2 if held.opens else held.thickness, PAPER),
        panel=panel,
        out=out,
        mouth=mouth,
        travel=mouth - float(along.min()) + _PAST_MOUTH,
        side=side,
        stands=_THROUGH_SLIT if pocket.opens_within else 0.0,
    )
    return HeldInPanels(slab, place, frozenset(within))


def _opens_to(thing: FinishedThing, pocket: Pocket, place: int, past: FloatArray) -> int:
    """To which side a mouth opens: where the zip lies, or where less lies before it."""
    if pocket.through_zip:
        zips = [k for k, ply in enumerate(thing.plies) if thing.layers[ply.sheet.layer].slit]
        return 1 if max(zips, default=-1) >= place else -1
    if pocket.opens_within:
        at = pocket.mouths.interpolate(0.5, normalized=True)
        folded = [
            k
            for k, ply in enumerate(thing.plies)
            if any(fold.dwithin(at, _AT_FOLD) for fold in ply.sheet.folds)
        ]
        return 1 if max(folded, default=-1) >= place else -1
    there = thing.areas.cover(past[np.newaxis])[:, 0]
    behind, before = int(there[:place].sum()), int(there[place:].sum())
    return 1 if before < behind else -1
