"""Raw edges that a zigzag in the hoop overcasts, so that they do not fray where they show."""

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.rehearsal_limits import TRIMMED_CLEAR
from paramgen.rehearsal.sheets import Sandwich, SewnLine, Sheet
from paramgen.vocabulary.kinds import StitchKind

#: An overcast edge has so much of the zigzag on either side of it, mm: some threads of the cloth
#: within, and the needle past the edge (from memory).
BOTH_SIDES = 1.0


def overcast(pile: Sandwich, sheet: Sheet) -> BaseGeometry:
    """Where an edge of a sheet must lie to be overcast, mm; empty if nothing overcasts it.

    A line does that is stitched once the sheet is laid, a zigzag to both sides.
    """
    later = [sewn for sewn in pile.sewn if sewn.step > sheet.step and _reach(sewn) > 0.0]
    return shapely.union_all([sewn.path.buffer(_reach(sewn)) for sewn in later])


def overcast_once_trimmed(pile: Sandwich) -> BaseGeometry:
    """Where an edge of all that is laid must be trimmed to be overcast, mm; empty if nowhere."""
    last = max((sheet.step for sheet in pile.sheets), default=0)
    later = [
        sewn
        for sewn in pile.sewn
        if sewn.step > last and sewn.line.stitch.kind is StitchKind.ZIGZAG
    ]
    return shapely.union_all(
        [sewn.path.buffer(sewn.line.stitch.aside + TRIMMED_CLEAR) for sewn in later]
    )


def goes_over(sewn: SewnLine, part: BaseGeometry, edges: BaseGeometry) -> bool:
    """Whether a part of a line overcasts the edges that it runs along."""
    reach = _reach(sewn)
    return reach > 0.0 and bool(edges.buffer(reach).covers(part))


def _reach(sewn: SewnLine) -> float:
    """How far from an edge a line may run and overcast it, mm; 0 if it does not."""
    stitch = sewn.line.stitch
    if stitch.kind is not StitchKind.ZIGZAG or stitch.outward:
        return 0.0
    return max(0.0, stitch.swing / 2 - BOTH_SIDES)
