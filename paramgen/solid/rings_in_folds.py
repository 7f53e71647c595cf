"""Rings that hang from a solid: each a panel of its own, round what is drawn through it.

A ring in a fold stands across the work while that is open, its bar on the inside of the fold, and
hangs out of the fold once it is closed, its bar between the two that lie on each other there.
"""

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely.affinity import translate

from paramgen.finished.finished_thing import FinishedThing, fold_line
from paramgen.finished.hung_rings import WIRE, HungRing, away_from, hung_rings
from paramgen.solid.hinge_turns import into_panel
from paramgen.solid.solid_model import Slab, SolidHinge, SolidPanel


def with_rings(thing: FinishedThing, panels: Sequence[SolidPanel]) -> list[SolidPanel]:
    """Hang the rings of a finished thing from its panels.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.
    panels : sequence of SolidPanel
        Parents before what hangs on them.
    """
    found = list(panels)
    for ring in hung_rings(thing.project):
        bent = _bent_at(ring, found)
        if bent is None:
            found.append(_at_edge(ring, found))
            continue
        child = found[bent]
        found.append(_in_fold(ring, child, found))
        if child.hinge is not None:
            between = (*child.hinge.between, len(found) - 1)
            found[bent] = replace(child, hinge=replace(child.hinge, between=between))
    return found


def _bent_at(ring: HungRing, panels: Sequence[SolidPanel]) -> int | None:
    """The panel that folds over where a ring hangs; None if none does."""
    spot = shapely.Point(ring.at)
    return next(
        (
            number
            for number, panel in enumerate(panels)
            if ring.fold and panel.hinge and panel.hinge.closed
            if fold_line((panel.hinge.start, panel.hinge.end)).dwithin(spot, 0.1)
        ),
        None,
    )


def _in_fold(ring: HungRing, child: SolidPanel, panels: Sequence[SolidPanel]) -> SolidPanel:
    """A ring round the work at a hinge; it turns half as far as the panel that folds over."""
    hinge = child.hinge
    assert hinge is not None
    assert child.parent is not None
    outline = shapely.MultiPolygon(ring.parts(into_panel(hinge)))
    # On the inside of the fold, just off the face that the panel comes to lie on.
    off = -WIRE if hinge.side < 0 else panels[child.parent].thickness
    return SolidPanel(
        outline=outline,
        slabs=(Slab(outline=outline, plies=(), heights=(WIRE,), metal=True),),
        holds=((),),
        parent=child.parent,
        hinge=SolidHinge(
            start=hinge.start,
            end=hinge.end,
            opened=-90.0,
            closed=0.0,
            side=hinge.side,
            first=hinge.first,
            last=hinge.last,
        ),
        level=(0, off),
    )


def _at_edge(ring: HungRing, panels: Sequence[SolidPanel]) -> SolidPanel:
    """A ring beyond the edge of the panel nearest to it, in the plane of that."""
    spot = shapely.Point(ring.at)
    number = min(range(len(panels)), key=lambda k: float(panels[k].outline.distance(spot)))
    out = away_from(panels[number].outline, ring.at)
    (x, y), (ox, oy) = ring.at, out
    off = WIRE if ring.fold else 0.0  # its bar
    outline = translate(shapely.MultiPolygon(ring.parts(out)), ox * off, oy * off)
    return SolidPanel(
        outline=outline,
        slabs=(Slab(outline=outline, plies=(), heights=(WIRE,), metal=True),),
        holds=((),),
        parent=number,
        hinge=SolidHinge(start=(x, y), end=(x - oy, y + ox), opened=0.0, closed=0.0, side=-1),
        level=(0, -WIRE / 2),
    )
