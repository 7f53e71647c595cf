"""Where everything of a solid stands, for how far it is closed and how far in its things are."""

from collections.abc import Iterator

import numpy as np
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from paramgen.solid.going_in import far_in, lies_in, stands_off
from paramgen.solid.hinge_turns import beyond, into_panel, polygons, standing, territory, turned
from paramgen.solid.posed_bodies import Posed, PosedBend, PosedPlate
from paramgen.solid.solid_model import HeldSlab, Solid, SolidHinge, SolidPanel
from paramgen.vocabulary.path import FloatArray

#: A pocket has given way once so much of a thing is in it, mm.
_GIVES_WAY = 12.0
#: Flat pieces that the bend along a hinge is shown by.
BEND_PARTS = 8


def posed(solid: Solid, closed: float = 0.0, held: float = 1.0) -> Posed:
    """Stand a solid up.

    Parameters
    ----------
    solid : Solid
    closed : float
        From 0, open, to 1, closed.
    held : float
        From 0, all that it holds outside, to 1, all in. What is still outside when the panels
        before its mouth stand closer than at a right angle is not there.

    Examples
    --------
    A panel of 10 by 20 mm, 2 mm thick, folded over another, 1 mm thick, to its back:

    >>> import shapely
    >>> from paramgen.solid.solid_model import Slab
    >>> def panel(top, bottom, thick, **hangs):
    ...     area = shapely.box(0, top, 10, bottom)
    ...     slab = Slab(outline=area, plies=(), heights=(thick,))
    ...     return SolidPanel(outline=area, slabs=(slab,), holds=((),), **hangs)
    >>> hinge = SolidHinge(start=(0, 0), end=(10, 0), opened=0, closed=180, side=-1)
    >>> solid = Solid((panel(0, 20, 1.0), panel(-20, 0, 2.0, parent=0, hinge=hinge)))
    >>> over = posed(solid, closed=1.0).plates[1]
    >>> np.allclose(over.at(over.low)[0][:, 2], 0.0)  # back on back
    True
    >>> np.allclose(over.at(over.high)[0][:, 2], -2.0)  # and its front 2 mm behind that
    True
    """
    return _Standing(solid, closed, held).posed


class _Standing:
    """What is worked out once for a pose."""

    def __init__(self, solid: Solid, closed: float, held: float) -> None:
        self.solid, self.closed = solid, min(1.0, max(0.0, closed))
        self.way = [(1.0 - min(1.0, max(0.0, held))) * one.travel for one in solid.held]
        self.parted = [
            one.thickness * min(1.0, max(0.0, far_in(one, way)) / _GIVES_WAY)
            for one, way in zip(solid.held, self.way, strict=True)
        ]
        self.thick = [
            panel.thickness + sum(self.parted[k] for on in panel.holds for k in on)
            for panel in solid.panels
        ]
        self.low: list[float] = []
        self.axis: list[float] = []
        self.place: list[FloatArray] = []
        for panel in solid.panels:
            self._place(panel)

    def _place(self, panel: SolidPanel) -> None:
        if panel.parent is None or panel.hinge is None:
            self.low.append(0.0)
            self.axis.append(0.0)
            self.place.append(np.eye(4))
            return
        hinge, parent = panel.hinge, self.solid.panels[panel.parent]
        low = self.low[panel.parent]
        if panel.level:
            slab, more = panel.level
            low += self._under(parent, slab) + more
        elif hinge.side > 0:
            low += self.thick[panel.parent] - self.thick[len(self.low)]
        gap = sum(self.thick[one] for one in hinge.between)
        faces = self.low[panel.parent] + low
        if hinge.side > 0:
            faces += self.thick[panel.parent] + self.thick[len(self.low)]
        self.low.append(low)
        self.axis.append((faces + hinge.side * gap) / 2 if hinge.axis is None else hinge.axis)
        self.place.append(
            self.place[panel.parent] @ turned(hinge, self.angle(hinge), self.axis[-1])
        )

    def angle(self, hinge: SolidHinge) -> float:
        """Degrees by which a hinge stands."""
        return hinge.opened + (hinge.closed - hinge.opened) * self.share(hinge)

    def share(self, hinge: SolidHinge) -> float:
        """How far a hinge is closed, 0 to 1."""
        return min(1.0, max(0.0, (self.closed - hinge.first) / (hinge.last - hinge.first)))

    def _under(self, panel: SolidPanel, slab: int) -> float:
        """How far the back of a slab lies above that of its panel, mm."""
        return sum(
            one.thickness + sum(self.parted[k] for k in on)
            for one, on in zip(panel.slabs[:slab], panel.holds[:slab], strict=True)
        )

    @property
    def posed(self) -> Posed:
        plates = [plate for index in range(len(self.solid.panels)) for plate in self._plates(index)]
        bends = [
            bend
            for index, panel in enumerate(self.solid.panels)
            if panel.hinge
            for bend in self._bends(index, panel.hinge)
        ]
        return Posed(tuple(plates), tuple(bends))

    def _plates(self, index: int) -> Iterator[PosedPlate]:
        panel, low = self.solid.panels[index], self.low[index]
        kept, moved = self._left_of(panel)
        for number, (slab, on) in enumerate(zip(panel.slabs, panel.holds, strict=True)):
            for part in polygons(slab.outline if kept is None else slab.outline & kept):
                yield PosedPlate(
                    panel=index,
                    slab=number,
                    held=-1,
                    outline=part,
                    moved=moved,
                    low=low,
                    high=low + slab.thickness,
                    place=self.place[index],
                )
            low += slab.thickness
            for one in on:
                yield from self._held(index, one, low)
                low += self.parted[one]

    def _left_of(self, panel: SolidPanel) -> tuple[BaseGeometry | None, tuple[float, float]]:
        """What of a panel the way round its hinge leaves, if not all, and how far it is moved."""
        spent = panel.hinge.spends * self.share(panel.hinge) if panel.hinge else 0.0
        if panel.hinge is None or spent == 0.0:
            return None, (0.0, 0.0)
        nx, ny = into_panel(panel.hinge)
        kept = translate(beyond((nx, ny), spent), *panel.hinge.start)
        return kept, (-nx * spent, -ny * spent)

    def _held(self, index: int, number: int, low: float) -> Iterator[PosedPlate]:
        """The parts of a thing that lie in one panel, or stand off it."""
        one, way = self.solid.held[number], self.way[number]
        moved = (one.out[0] * way, one.out[1] * way)
        lies = translate(one.outline, *moved)
        stands = stands_off(self.solid, one, lies, self.thick, self.angle)
        if stands is None and way > 0.0:
            return
        outside = beyond(one.out, one.mouth)
        flat = lies - outside if stands else lies
        others = [k for k, panel in enumerate(self.solid.panels) if lies_in(panel, number)]
        if len(others) > 1:
            flat &= territory(self.solid, index)

        def plates(area: BaseGeometry, place: FloatArray) -> Iterator[PosedPlate]:
            for part in polygons(area):
                yield PosedPlate(
                    panel=index,
                    slab=-1,
                    held=number,
                    outline=translate(part, -moved[0], -moved[1]),
                    moved=moved,
                    low=low,
                    high=low + one.thickness,
                    place=place,
                )

        yield from plates(flat, self.place[index])
        if stands and index == one.panel:
            yield from plates(lies & outside, self.place[index] @ self._off(one, stands, low))

    def _off(self, one: HeldSlab, stands: float, low: float) -> FloatArray:
        """Turn what is not in yet off the panel, about the mouth."""
        (ox, oy), high = one.out, low + one.thickness
        start = (ox * one.mouth, oy * one.mouth)
        hinge = SolidHinge(
            start=start, end=(start[0] - oy, start[1] + ox), opened=0, closed=0, side=one.side
        )
        lifted = np.eye(4)
        if one.stands:  # from the outside of what the zip is in
            bottom = self.low[one.panel]
            top = bottom + self.thick[one.panel]
            lifted[2, 3] = max(0.0, top - low) if one.side > 0 else min(0.0, bottom - high)
        return np.asarray(lifted @ turned(hinge, stands, high if one.side > 0 else low))

    def _bends(self, index: int, hinge: SolidHinge) -> Iterator[PosedBend]:
        angle = self.angle(hinge)
        parent = self.solid.panels[index].parent
        if angle <= 0.0 or parent is None:
            return
        axis = self.axis[index]
        mine, theirs = self._reaches(index, hinge, 1), self._reaches(parent, hinge, 0)
        if self.solid.panels[index].level:
            theirs = mine  # it leaves its parent as thick as it is itself
        for edge in hinge.edges:
            ends = np.array(edge)
            inner, outer = [], []
            for part in np.linspace(0.0, 1.0, BEND_PARTS + 1):
                turn = self.place[parent] @ turned(hinge, angle * float(part), axis)
                under, over = ((1 - part) * a + part * b for a, b in zip(theirs, mine, strict=True))
                near, far = (under, over) if hinge.side < 0 else (over, under)
                inner.append(standing(turn, ends, near))
                outer.append(standing(turn, ends, far))
            yield PosedBend(panel=index, inner=np.array(inner), outer=np.array(outer))

    def _reaches(self, index: int, hinge: SolidHinge, end: int) -> tuple[float, float]:
        """Back and front of what of a panel reaches a hinge, mm."""
        panel = self.solid.panels[index]
        first, last = hinge.reach[end] if hinge.reach else (0, len(panel.slabs) - 1)
        low = self.low[index]
        return low + self._under(panel, first), low + self._under(panel, last + 1) - sum(
            self.parted[k] for k in panel.holds[last]
        )
