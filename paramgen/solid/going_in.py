"""How a thing stands on its way into its pocket."""

from collections.abc import Callable, Iterator, Sequence

import numpy as np
import shapely

from paramgen.solid.solid_model import HeldSlab, Solid, SolidHinge, SolidPanel

#: What stands out past the next hinge has been lifted off it over so much of its way, mm.
_LIFTED_OVER = 10.0
#: What goes in through a slit swings in beside it over the last of its way, mm.
_SWINGS_OVER = 10.0
#: Nothing can be on its way in between two panels that stand closer than at a right angle.
_RIGHT_ANGLE = 90.0


def stands_off(
    solid: Solid,
    one: HeldSlab,
    lies: shapely.Polygon,
    thick: Sequence[float],
    angle: Callable[[SolidHinge], float],
) -> float | None:
    """Degrees by which what is not in yet stands off its panel; None if there is no room.

    Where it goes past a hinge on its way out it is held as near to the panel beyond as lets it
    pass, and on a flat one just over it. What goes in through a slit stands off until it is nearly
    in, and lies beside the slit once it is.

    Parameters
    ----------
    solid : Solid
    one : HeldSlab
    lies : Polygon
        Where it lies on its way, mm.
    thick : sequence of float
        Of each panel, mm.
    angle : callable
        Degrees by which a hinge stands.
    """
    past = _farthest(lies, one) - one.mouth
    if past <= 0.0:
        return 0.0
    most = 0.0
    for panel, hinge in _before(solid, one):
        (x, y), out = hinge.start, one.out
        away = x * out[0] + y * out[1] - one.mouth
        over = past - away
        if over <= 0.0:
            continue
        stands = angle(hinge)
        if stands > _RIGHT_ANGLE:
            return None
        bent = np.arcsin(min(1.0, away * np.sin(np.radians(stands)) / past))
        lifted = np.arctan2(thick[panel] + one.thickness, max(away, 1.0)) * min(
            1.0, over / _LIFTED_OVER
        )
        most = max(most, stands - float(np.degrees(bent)) + float(np.degrees(lifted)))
    left = past + one.mouth - _farthest(one.outline, one)
    return max(most, one.stands * min(1.0, left / _SWINGS_OVER))


def _farthest(lies: shapely.Polygon, one: HeldSlab) -> float:
    return float((shapely.get_coordinates(lies) @ np.array(one.out)).max())


def _before(solid: Solid, one: HeldSlab) -> Iterator[tuple[int, SolidHinge]]:
    """Hinges that a thing goes past on its way out, with the panel on them beyond."""
    for index, panel in enumerate(solid.panels):
        hinge = panel.hinge
        if hinge is None or panel.parent is None or one.panel not in (index, panel.parent):
            continue
        (ax, ay), (bx, by) = hinge.start, hinge.end
        across = abs((bx - ax) * one.out[0] + (by - ay) * one.out[1])
        away = ax * one.out[0] + ay * one.out[1] - one.mouth
        along = across < 0.1 * float(np.hypot(bx - ax, by - ay))
        if along and away > 0.0 and hinge.side == one.side and hinge.closed > 0.0:
            yield (panel.parent if one.panel == index else index), hinge


def far_in(one: HeldSlab, way: float) -> float:
    """How far a thing on its way reaches into its pocket, mm."""
    along = shapely.get_coordinates(one.outline) @ np.array(one.out)
    return one.mouth - float(along.min()) - way


def lies_in(panel: SolidPanel, number: int) -> bool:
    """Whether a thing lies in a panel, by its place among those held."""
    return any(number in on for on in panel.holds)
