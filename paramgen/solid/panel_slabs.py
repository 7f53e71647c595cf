"""The plies of a panel, put together where nothing goes between them, with their thickness."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import FinishedThing, Ply
from paramgen.solid.held_in_panels import PAPER, HeldInPanels
from paramgen.solid.solid_model import Slab, SolidPanel
from paramgen.solid.solid_parts import NOTHING, SolidPart
from paramgen.vocabulary.path import FloatArray

#: A panel is looked at clear of the allowances turned in at its edge, mm.
_PAST_ALLOWANCE = 8.0


def panel_of(
    thing: FinishedThing, part: SolidPart, number: int, found: Sequence[HeldInPanels]
) -> SolidPanel:
    """Make a panel, its plies parted where something goes between them.

    Parameters
    ----------
    thing : FinishedThing
    part : SolidPart
    number : int
        Its place among the panels.
    found : sequence of HeldInPanels
        All that is held.
    """
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
    thick = np.array([ply_thickness(thing.plies[k]) for k in group])
    most = int(np.argmax(thick @ there))
    heights = np.cumsum(thick[there[:, most]])
    return tuple(float(one) for one in heights) if heights[-1] > PAPER else (PAPER,)


def ply_thickness(ply: Ply) -> float:
    """In the middle of what it may be, mm."""
    return ply.sheet.plies * sum(ply.sheet.ply) / 2


def _spots(areas: Sequence[BaseGeometry]) -> FloatArray:
    """A place in each part that the edges of some areas leave."""
    lines = shapely.union_all([area.boundary for area in areas])
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    large = [face for face in faces if face.area > NOTHING] or list(areas)
    return shapely.get_coordinates(shapely.point_on_surface(large)).reshape(-1, 2)
