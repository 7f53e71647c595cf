"""What the faces of a solid show: the plies of each slab, seen from its front and its back."""

from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import PlyPile
from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.finished_pile import finished_pile, stitched_through
from paramgen.drawings.front_end.print_ways import prints_of
from paramgen.drawings.primitives.drawn_paths import outer_paths, seen
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, Tone
from paramgen.finished.finished_thing import FinishedThing
from paramgen.solid.solid_model import Solid, SolidPanel
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.kinds import Side


class SolidFaces:
    """The faces of a solid, each worked out once, for as many poses as are drawn of it.

    Parameters
    ----------
    solid : Solid
    pile : PlyPile
        As `empty_pile` gives it.
    """

    def __init__(self, solid: Solid, pile: PlyPile) -> None:
        self.solid, self.pile = solid, pile
        self._known: dict[tuple[int, int, Side], tuple[DrawnItem, ...]] = {}

    def of_slab(self, panel: int, slab: int, side: Side) -> tuple[DrawnItem, ...]:
        """What a face of a slab shows, as `slab_face` says."""
        key = (panel, slab, side)
        if key not in self._known:
            self._known[key] = slab_face(self.pile, self.solid.panels[panel], slab, side)
        return self._known[key]


def empty_pile(thing: FinishedThing, em: float, cloths: Cloths = NO_CLOTHS) -> PlyPile:
    """The finished thing with nothing in it, its top-stitching on all that it goes through."""
    tones, prints = tones_of(thing.project, cloths), prints_of(thing, cloths)
    pile = finished_pile(thing, em, tones=tones, prints=prints, empty=True, flat=True)
    flat = stitched_through(pile, thing.project)
    return stitched_through(flat, thing.project, folded=True)


def slab_pile(pile: PlyPile, panel: SolidPanel, slab: int) -> PlyPile:
    """The plies of one slab, and nothing of them beyond its panel."""
    room = panel.outline
    plies = []
    for place in panel.slabs[slab].plies:
        ply = pile.plies[place]
        marks = tuple((shape & room, style, side) for shape, style, side in ply.marks)
        area = ply.area & room
        if area.area > 0.0:
            shown = tuple(mark for mark in marks if not mark[0].is_empty)
            plies.append(replace(ply, area=area, marks=shown))
    return PlyPile(tuple(plies), pile.outer, room)


def slab_face(pile: PlyPile, panel: SolidPanel, slab: int, side: Side) -> tuple[DrawnItem, ...]:
    """What a face of a slab shows, as it is seen from that side: the back mirrored."""
    if panel.slabs[slab].metal:
        parts = outer_paths(panel.slabs[slab].outline)
        return tuple(Shape(seen(one, side), Style.HARDWARE) for one in parts)
    found = slab_pile(pile, panel, slab)
    holes = shapely.union_all(
        [
            shapely.Polygon(ring)
            for part in shapely.get_parts(panel.slabs[slab].outline)
            for ring in part.interiors
        ]
    )
    cut = (Shape(seen(one, side), Style.CUT_OUT) for one in outer_paths(holes))
    return (*found.painted[side], *cut)


def held_face(outline: BaseGeometry, side: Side) -> tuple[DrawnItem, ...]:
    """What a face of a thing shows that is held."""
    return tuple(Shape(seen(one, side), Style.HELD) for one in outer_paths(outline))


def bend_look(
    pile: PlyPile, panel: SolidPanel, *, inside: bool = False
) -> tuple[Style, Tone | None]:
    """How the outside of the bend along its hinge looks, or its inside: as its panel beside it."""
    hinge = panel.hinge
    if hinge is None or not hinge.edges:
        return Style.RIGHT_SIDE, None
    side = Side.FRONT if (hinge.side > 0) == inside else Side.BACK
    first, last = hinge.reach[1] if hinge.reach else (0, len(panel.slabs) - 1)
    found = slab_pile(pile, panel, last if side is Side.FRONT else first)
    near = shapely.LineString(hinge.edges[0]).interpolate(0.4, normalized=True).buffer(1.0)
    order = found.plies[::-1] if side is Side.FRONT else found.plies
    for ply in order:
        if ply.area.intersects(near):
            return ply.face(side), ply.tone
    return Style.RIGHT_SIDE, None
