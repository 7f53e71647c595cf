"""The solid of a finished thing: what its folds part it into, and what stands out of it."""

from dataclasses import replace

from paramgen.finished.finished_thing import FinishedThing
from paramgen.solid.held_in_panels import held_in_panels
from paramgen.solid.hung_parts import hung, reaching
from paramgen.solid.panel_slabs import panel_of, ply_thickness
from paramgen.solid.rings_in_folds import with_rings
from paramgen.solid.solid_model import Solid, SolidPanel
from paramgen.solid.solid_parts import SolidPart, flat_parts, standing_out
from paramgen.solid.stood_on_bottom import stood_on_bottom
from paramgen.vocabulary.kinds import Side


def solid_of(thing: FinishedThing) -> Solid:
    """Make a solid of a finished thing.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.
    """
    if thing.project.finish.boxed is not None:
        return stood_on_bottom(thing)
    parts = [*flat_parts(thing), *standing_out(thing)]
    order, hinges = hung(thing, parts)
    found = held_in_panels(thing, [parts[index] for index in order])
    panels = [panel_of(thing, parts[index], number, found) for number, index in enumerate(order)]
    place = {index: number for number, index in enumerate(order)}
    for number, index in enumerate(order):
        if index in hinges:
            parent, hinge = hinges[index]
            both = panels[place[parent]], panels[number]
            panels[number] = replace(
                panels[number],
                parent=place[parent],
                hinge=replace(
                    hinge,
                    between=tuple(place[one] for one in hinge.between),
                    reach=(reaching(both[0], hinge), reaching(both[1], hinge)),
                ),
                level=_level(thing, parts[index], panels[place[parent]]),
            )
    outer = 1 if thing.outer is Side.FRONT else -1
    panels = with_rings(thing, panels)
    return Solid(tuple(panels), tuple(one.slab for one in found), outer)


def _level(thing: FinishedThing, part: SolidPart, parent: SolidPanel) -> tuple[int, float] | None:
    """Where something that stands out leaves its parent: among which of its plies."""
    if part.past is None:
        return None
    for number, slab in enumerate(parent.slabs):
        behind = [k for k in slab.plies if k < part.plies[0]]
        if len(behind) < len(slab.plies) or number == len(parent.slabs) - 1:
            share = sum(ply_thickness(thing.plies[k]) for k in behind)
            return number, min(share, slab.thickness)
    return None
