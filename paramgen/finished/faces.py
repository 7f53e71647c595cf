"""Wrong sides that show: on the outside, and to who looks into a pocket or pouch."""

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.findings import Finding, Severity
from paramgen.finished.thing import Finished
from paramgen.layout.project import Side
from paramgen.rehearsal.limits import SPECK
from paramgen.rehearsal.places import place_of


def faces(thing: Finished) -> Iterator[Finding]:
    """Find pieces of which a wrong side shows."""
    done = thing.done
    if not all(done.indices(name) for name in done.project.finish.between):
        return  # there is no finished thing to look at
    shown: dict[str, list[BaseGeometry]] = {}
    for sheet, area in _wrong(thing):
        shown.setdefault(done.sandwich.sheets[sheet].piece, []).append(area)
    for piece, areas in sorted(shown.items()):
        total = sum(float(part.area) for part in areas)
        if total > SPECK:
            one = done.sandwich.sheets[done.indices(piece)[0]]
            yield Finding(
                "wrong-side-shows",
                Severity.CANNOT,
                f"the wrong side of the {one.title} shows in the finished thing, over "
                f"{total / 100:.1f} cm²",
                f"Lay the {one.title} the other side up in step {one.step}.",
                place=place_of(areas),
                step=one.step,
                piece=piece,
            )


def _wrong(thing: Finished) -> Iterator[tuple[int, BaseGeometry]]:
    """Sheets of which a wrong side shows, and where."""
    done = thing.done
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    for node in range(1, len(spaces.face)):
        face = int(spaces.face[node])
        if not plane.within[face] or not done.shows(node):
            continue
        below, above = int(spaces.below[node]), int(spaces.above[node])
        if not done.turned and below >= 0 and above >= 0:
            continue  # between two layers that are not turned nothing is seen
        if below >= 0 and not sheets[below].front:
            yield below, _in_sight(thing, below, "front", plane.areas[face])
        if above >= 0 and not sheets[above].back:
            yield above, _in_sight(thing, above, "back", plane.areas[face])


def _in_sight(thing: Finished, sheet: int, side: Side, area: shapely.Polygon) -> BaseGeometry:
    """What counts of a face: of an unlined piece only what is seen from without."""
    layer = thing.layers[thing.done.sandwich.sheets[sheet].layer]
    if not layer.unlined:
        return area
    return area & thing.seen[side][thing.place[sheet]]
