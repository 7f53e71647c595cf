"""The parts of a finished thing that stay flat: its panels, and what stands out of it."""

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing
from paramgen.vocabulary.frozen_data import dataclass

#: Less than this is not there, mm².
NOTHING = 1.0


@dataclass(frozen=True, eq=False)
class SolidPart:
    """A panel in the making: where it lies, its plies, and the edge it stands out past."""

    area: BaseGeometry
    plies: tuple[int, ...]
    past: shapely.LineString | None = None


def flat_parts(thing: FinishedThing) -> list[SolidPart]:
    """Its panels, open and flat."""
    flat = tuple(at for at, ply in enumerate(thing.plies) if ply.swung is None)
    return [SolidPart(panel, flat) for panel in thing.panels]


def standing_out(thing: FinishedThing) -> list[SolidPart]:
    """What stands out past an edge, the plies of each flap together."""
    flaps: dict[int, list[int]] = {}
    for at, ply in enumerate(thing.plies):
        if ply.swung is not None and ply.area.area > NOTHING:
            flaps.setdefault(id(ply.flap), []).append(at)
    return [
        SolidPart(
            shapely.union_all([thing.plies[at].area for at in plies]),
            tuple(plies),
            thing.plies[plies[0]].swung,
        )
        for plies in flaps.values()
    ]
