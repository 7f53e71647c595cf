"""The solid of a finished thing: what its folds part it into, and what stands out of it."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing, Ply
from paramgen.solid.held_in_panels import PAPER, HeldInPanels, held_in_panels
from paramgen.solid.hung_parts import hung, reaching
from paramgen.solid.rings_in_folds import with_rings
from paramgen.solid.solid_model import Slab, Solid, SolidPanel
from paramgen.solid.solid_parts import NOTHING, SolidPart, flat_parts, standing_out
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import FloatArray

#: A panel is looked at clear of the allowances turned in at its edge, mm.
_PAST_ALLOWANCE = 8.0


def solid_of(thing: FinishedThing) -> Solid:
    """Make a solid of a finished thing.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.
    """
    parts = [*flat_parts(thing), *standing_out(thing)]
    order, hinges = hung(thing, parts)
    found = held_in_panels(thing, [parts[index] for index in order])
    panels = [_panel(thing, parts[index], number, found) for number, index in enumerate(order)]
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


def _panel(
    thing: FinishedThing, part: SolidPart, number: int, found: Sequence[HeldInPanels]
) -> SolidPanel:
    """A panel, its plies parted where something goes between them."""
    here = [k for k, one in enumerate(found) if number in one.panels and part.past is None]
    cuts = sorted({found[k].place for k in here})
    slabs: list[Slab] = []
    holds: list[tuple[int, ...]] = []
    plies = [k for k in part.plies if (thing.plies[k].area & part.area).area > NOTHING]
    for low, high in zip([0, *cuts], [*cuts, len(thing.plies)], strict=True):
        group = tuple(k for k in plies if low <= k < high)
        if group:
            slabs.append(_slab(thing, part, group))
            holds.append(tuple(k for k in here if found[k].place == high))
        elif holds:
            holds[-1] += tuple(k for k in here if found[k].place == high)
    return SolidPanel(outline=part.area, slabs=tuple(slabs), holds=tuple(holds))


def _slab(thing: FinishedThing, part: SolidPart, group: tuple[int, ...]) -> Slab:
    outline = shapely.union_all([thing.plies[k].area & part.area for k in group])
    outline = outline.buffer(0.01, join_style="mitre").buffer(-0.01, join_style="mitre")
    heights = _heights(thing, outline, group)
    return Slab(outline=shapely.simplify(outline, 0.01), plies=group, heights=heights)


def _heights(
    thing: FinishedThing, outline: BaseGeometry, group: tuple[int, ...]
) -> tuple[float, ...]:
    """Where plies end at the place where most of their thickness lies, mm."""
    inner = outline.buffer(-_PAST_ALLOWANCE)
    areas = [thing.plies[k].area & (inner if inner.area > NOTHING else outline) for k in group]
    spots = _spots(areas)
    there = np.array([shapely.contains_xy(area, *spots.T) for area in areas])
    thick = np.array([_thickness(thing.plies[k]) for k in group])
    most = int(np.argmax(thick @ there))
    heights = np.cumsum(thick[there[:, most]])
    return tuple(float(one) for one in heights) if heights[-1] > PAPER else (PAPER,)


def _thickness(ply: Ply) -> float:
    return ply.sheet.plies * sum(ply.sheet.ply) / 2


def _spots(areas: Sequence[BaseGeometry]) -> FloatArray:
    """A place in each part that the edges of some areas leave."""
    lines = shapely.union_all([area.boundary for area in areas])
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    large = [face for face in faces if face.area > NOTHING] or list(areas)
    return shapely.get_coordinates(shapely.point_on_surface(large)).reshape(-1, 2)


def _level(thing: FinishedThing, part: SolidPart, parent: SolidPanel) -> tuple[int, float] | None:
    """Where something that stands out leaves its parent: among which of its plies."""
    if part.past is None:
        return None
    for number, slab in enumerate(parent.slabs):
        behind = [k for k in slab.plies if k < part.plies[0]]
        if len(behind) < len(slab.plies) or number == len(parent.slabs) - 1:
            share = sum(_thickness(thing.plies[k]) for k in behind)
            return number, min(share, slab.thickness)
    return None
