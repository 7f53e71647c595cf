"""Where everything of a solid stands, for how far it is closed and how far in its things are."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from paramgen.solid.solid_model import HeldSlab, Solid, SolidHinge, SolidPanel
from paramgen.vocabulary.path import FloatArray

#: A pocket has given way once so much of a thing is in it, mm.
_GIVES_WAY = 12.0
#: What stands out past the next hinge has been lifted off it over so much of its way, mm.
_LIFTED_OVER = 10.0
#: Beyond this part of a closing nothing can be on its way in between two panels: they stand
#: closer than at a right angle.
_RIGHT_ANGLE = 90.0
#: Flat pieces that the bend along a hinge is shown by.
BEND_PARTS = 8
#: Less than this is not there, mm².
_NOTHING = 1e-3
#: Far enough to be beyond anything in a hoop, mm.
_FAR = 2000.0


@dataclass(frozen=True, eq=False, kw_only=True)
class PosedPlate:
    """A flat thing with a thickness, where it stands.

    Parameters
    ----------
    panel : int
    slab : int
        Of the panel; -1 if it is a thing held.
    held : int
        Which thing; -1 if it is a slab.
    outline : Polygon
        Open and flat, and when it is in, mm.
    moved : (float, float)
        How far that is moved in its own plane before it is placed, mm.
    low, high : float
        Its back and its front, mm above the back of the root panel, before it is placed.
    place : array of float, shape (4, 4)
        To where it stands.
    """

    panel: int
    slab: int
    held: int
    outline: shapely.Polygon
    moved: tuple[float, float]
    low: float
    high: float
    place: FloatArray

    @cached_property
    def rings(self) -> tuple[FloatArray, ...]:
        """Its outline and its holes, moved, without their last points."""
        rings = (self.outline.exterior, *self.outline.interiors)
        return tuple(shapely.get_coordinates(ring)[:-1] + self.moved for ring in rings)

    def at(self, height: float) -> tuple[FloatArray, ...]:
        """Its rings at a height between back and front, in space, shape (n, 3)."""
        return tuple(standing(self.place, ring, height) for ring in self.rings)

    @property
    def faces(self) -> tuple[FloatArray, ...]:
        """Its back, its front, and one wall for each chord of its rings, in space."""
        low, high = self.at(self.low), self.at(self.high)
        walls = [
            np.array([under[k], under[k - 1], over[k - 1], over[k]])
            for under, over in zip(low, high, strict=True)
            for k in range(len(under))
        ]
        return (low[0], high[0], *walls)

    @property
    def volume(self) -> float:
        """mm³."""
        return float(self.outline.area * (self.high - self.low))


@dataclass(frozen=True, eq=False, kw_only=True)
class PosedBend:
    """The bend along a hinge, where it stands.

    Parameters
    ----------
    panel : int
        The one that hangs on the hinge.
    inner, outer : array of float, shape (parts + 1, 2, 3)
        Lines along the hinge, from the parent to the panel: along the inside of the bend and
        along its outside.
    """

    panel: int
    inner: FloatArray
    outer: FloatArray


@dataclass(frozen=True)
class Posed:
    """A solid as it stands.

    Parameters
    ----------
    plates : tuple of PosedPlate
    bends : tuple of PosedBend
    """

    plates: tuple[PosedPlate, ...]
    bends: tuple[PosedBend, ...]


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
            one.thickness * min(1.0, max(0.0, _far_in(one, way)) / _GIVES_WAY)
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
        self.axis.append((faces + hinge.side * gap) / 2)
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
            for part in _polygons(slab.outline if kept is None else slab.outline & kept):
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
        nx, ny = _into(panel.hinge)
        kept = translate(_half((nx, ny), spent), *panel.hinge.start)
        return kept, (-nx * spent, -ny * spent)

    def _held(self, index: int, number: int, low: float) -> Iterator[PosedPlate]:
        """The parts of a thing that lie in one panel, or stand off it."""
        one, way = self.solid.held[number], self.way[number]
        moved = (one.out[0] * way, one.out[1] * way)
        lies = translate(one.outline, *moved)
        stands = self._stands(one, lies)
        if stands is None and way > 0.0:
            return
        beyond = _half(one.out, one.mouth)
        flat = lies - beyond if stands else lies
        others = [k for k, panel in enumerate(self.solid.panels) if _lies_in(panel, number)]
        if len(others) > 1:
            flat &= territory(self.solid, index)

        def plates(area: BaseGeometry, place: FloatArray) -> Iterator[PosedPlate]:
            for part in _polygons(area):
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
            yield from plates(lies & beyond, self.place[index] @ self._off(one, stands, low))

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

    def _stands(self, one: HeldSlab, lies: shapely.Polygon) -> float | None:
        """Degrees by which what is not in yet stands off its panel; None if there is no room."""
        past = float((shapely.get_coordinates(lies) @ np.array(one.out)).max()) - one.mouth
        if past <= 0.0:
            return 0.0
        most = 0.0
        for panel, hinge in self._before(one):
            (x, y), out = hinge.start, one.out
            away = x * out[0] + y * out[1] - one.mouth
            over = past - away
            if over <= 0.0:
                continue
            angle = self.angle(hinge)
            if angle > _RIGHT_ANGLE:
                return None
            bent = np.arcsin(min(1.0, away * np.sin(np.radians(angle)) / past))
            lifted = np.arctan2(self.thick[panel] + one.thickness, max(away, 1.0)) * min(
                1.0, over / _LIFTED_OVER
            )
            most = max(most, angle - float(np.degrees(bent)) + float(np.degrees(lifted)))
        return max(most, one.stands)

    def _before(self, one: HeldSlab) -> Iterator[tuple[int, SolidHinge]]:
        """Hinges that a thing goes past on its way out, with the panel on them beyond."""
        for index, panel in enumerate(self.solid.panels):
            hinge = panel.hinge
            if hinge is None or panel.parent is None or one.panel not in (index, panel.parent):
                continue
            (ax, ay), (bx, by) = hinge.start, hinge.end
            across = abs((bx - ax) * one.out[0] + (by - ay) * one.out[1])
            away = ax * one.out[0] + ay * one.out[1] - one.mouth
            along = across < 0.1 * float(np.hypot(bx - ax, by - ay))
            if along and away > 0.0 and hinge.side == one.side and hinge.closed > 0.0:
                yield (panel.parent if one.panel == index else index), hinge

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


def turned(hinge: SolidHinge, degrees: float, axis: float) -> FloatArray:
    """The turn of a panel about its hinge, whose axis lies at a height, shape (4, 4)."""
    (ax, ay), (bx, by) = hinge.start, hinge.end
    length = float(np.hypot(bx - ax, by - ay))
    ex, ey = (bx - ax) / length, (by - ay) / length
    nx, ny = ey, -ex
    c, s = float(np.cos(np.radians(degrees))), float(np.sin(np.radians(degrees))) * hinge.side
    # Along n and z it turns, along e it stays.
    matrix = np.array(
        [
            [ex * ex + c * nx * nx, ex * ey + c * nx * ny, -s * nx, 0.0],
            [ex * ey + c * nx * ny, ey * ey + c * ny * ny, -s * ny, 0.0],
            [s * nx, s * ny, c, 0.0],
            [0.0, 0.0, 0.0, 1.0],
        ]
    )
    there = np.array([ax, ay, axis])
    matrix[:3, 3] = there - matrix[:3, :3] @ there
    return matrix


def standing(place: FloatArray, points: FloatArray, height: float) -> FloatArray:
    """Points of the plane at a height, placed in space, shape (n, 3)."""
    flat = np.column_stack([points, np.full(len(points), height)])
    there: FloatArray = flat @ place[:3, :3].T + place[:3, 3]
    return there


def territory(solid: Solid, index: int) -> BaseGeometry:
    """The part of the plane, open and flat, that belongs to a panel and lies before no other."""
    whole: BaseGeometry = shapely.box(-_FAR, -_FAR, _FAR, _FAR)
    for number, panel in enumerate(solid.panels):
        if panel.hinge is None or index not in (number, panel.parent):
            continue
        into = _into(panel.hinge)
        (x, y), mine = panel.hinge.start, _half(into, 0.0)
        half = translate(mine, x, y)
        whole = whole & half if number == index else whole - half
    return whole


def _into(hinge: SolidHinge) -> tuple[float, float]:
    """The way from a hinge into its panel: a unit vector."""
    (ax, ay), (bx, by) = hinge.start, hinge.end
    length = float(np.hypot(bx - ax, by - ay))
    return (by - ay) / length, -(bx - ax) / length


def _half(way: tuple[float, float], beyond: float) -> shapely.Polygon:
    """What lies farther than a length from the origin along a way."""
    out, aside = np.array(way), np.array((-way[1], way[0]))
    near, far = out * beyond, out * _FAR
    return shapely.Polygon(
        [near - aside * _FAR, near + aside * _FAR, far + aside * _FAR, far - aside * _FAR]
    )


def _far_in(one: HeldSlab, way: float) -> float:
    """How far a thing on its way reaches into its pocket, mm."""
    along = shapely.get_coordinates(one.outline) @ np.array(one.out)
    return one.mouth - float(along.min()) - way


def _lies_in(panel: SolidPanel, number: int) -> bool:
    return any(number in on for on in panel.holds)


def _polygons(area: BaseGeometry) -> Iterator[shapely.Polygon]:
    for part in shapely.get_parts(area):
        if isinstance(part, shapely.Polygon) and part.area > _NOTHING:
            yield part
