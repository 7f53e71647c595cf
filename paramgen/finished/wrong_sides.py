"""Wrong sides that show: on the outside, and to who looks into a pocket or pouch."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.overcast import overcast
from paramgen.rehearsal.rehearsal_limits import SPECK
from paramgen.rehearsal.sheets import Sheet
from paramgen.vocabulary.facts import SquareMm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Side


def faces(thing: FinishedThing) -> Iterator[Finding]:
    """Find pieces of which a wrong side shows."""
    done = thing.done
    if not all(done.indices(name) for name in done.project.finish.between):
        return  # there is no finished thing to look at
    shown: dict[str, list[BaseGeometry]] = {}
    well: dict[str, float] = {}
    for sheet, area, right in _shown(thing):
        piece = done.sandwich.sheets[sheet].piece
        if right:
            well[piece] = well.get(piece, 0.0) + float(area.area)
        else:
            shown.setdefault(piece, []).append(area)
    for piece, areas in sorted(shown.items()):
        total = sum(float(part.area) for part in areas)
        if total > SPECK:
            one = done.sandwich.sheets[done.indices(piece)[0]]
            yield Finding(
                "wrong-side-shows",
                Severity.CANNOT,
                facts(
                    piece=one.called, area=SquareMm(total), step=done.project.step_called(one.step)
                ),
                variant=_how(one, well.get(piece, 0.0)),
                place=place_of(areas),
                step=one.step,
                piece=piece,
            )


def _how(sheet: Sheet, well: float) -> str:
    """How a wrong side comes to show, where so many mm² of the piece's right side do."""
    if well <= SPECK or sheet.of_zip:
        return "folded-wrong-side-out" if sheet.folded else "laid-wrong-side-up"
    return "within-its-fold" if sheet.folded else "both-sides"


def _shown(thing: FinishedThing) -> Iterator[tuple[int, BaseGeometry, bool]]:
    """Sheets of which a side shows, where, and whether it is a right side."""
    done = thing.done
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    sought = np.append(plane.within, False)[spaces.face] & done.seen_spaces
    for node in np.flatnonzero(sought).tolist():
        area = plane.areas[spaces.face[node]]
        below, above = int(spaces.below[node]), int(spaces.above[node])
        if not done.turned and below >= 0 and above >= 0:
            continue  # between two layers that are not turned nothing is seen
        if below >= 0:
            right = sheets[below].front
            yield below, area if right else _in_sight(thing, below, Side.FRONT, area), right
        if above >= 0:
            right = sheets[above].back
            yield above, area if right else _in_sight(thing, above, Side.BACK, area), right


def _in_sight(thing: FinishedThing, sheet: int, side: Side, area: shapely.Polygon) -> BaseGeometry:
    """What counts of a face: none overcast, and of an unlined piece what is seen from without."""
    pile = thing.done.sandwich
    bare = area - overcast(pile, pile.sheets[sheet])
    if not thing.layers[pile.sheets[sheet].layer].unlined:
        return bare
    return bare & thing.seen[side][thing.place[sheet]]
