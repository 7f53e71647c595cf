"""On which panel something can be stitched for its looks, and where in the order of the work.

It is stitched once the panel is laid and held and its tape is off, before anything lies over it and
before the hoop is turned over. What is refused is refused for a reason of the trade: a wrong side,
the side of the bobbin thread, what is never seen, and what it would be sewn to.
"""

from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.free_ground import PanelPlace, under_panel
from paramgen.embellishment.ground_findings import refused
from paramgen.embellishment.ground_limits import SEEN_AT_ALL
from paramgen.embellishment.kind_options import Embellishment
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.kinds import Act, Face, Role, Side
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Project, Step

#: Lines that hold a panel well enough for it to be stitched on.
_HOLDS = (Role.TACK_DOWN, Role.BASTING)
#: Sorts of material that lie under another and are meant to be stitched through.
_UNDER = ("batting", "interfacing", "stabiliser")


def places_of(project: Project, panel: str) -> tuple[PanelPlace, ...]:
    """Where a panel is laid and stitched on, by its name; empty if no step lays or holds it."""
    found = []
    for at, step in enumerate(project.steps):
        for layer in step.layers:
            if layer.piece == panel:
                stitched = _stitched(project.steps, at, layer)
                found.append(PanelPlace(layer, at, stitched or at))
    return tuple(found)


def unfit(project: Project, asked: Embellishment, place: PanelPlace) -> Finding | None:
    """Why nothing can be stitched on a panel; None where it can."""
    layer = place.panel
    if layer.side is Side.BACK:
        return refused("on-the-back", asked, layer.title)
    inward = layer.plies > 1 and layer.right_sides_in and not layer.two_sided
    if inward or (layer.plies == 1 and layer.up is Face.WRONG and not layer.two_sided):
        return refused("face-down", asked, layer.title)
    if _sort(project, layer) in _UNDER:
        return refused("never-seen", asked, layer.title)
    for under in under_panel(project, place):
        if under.side is Side.FRONT and _sort(project, under) not in _UNDER:
            return refused("sewn-to", asked, layer.title, under=under.called)
    if place.stitched <= place.laid:
        return refused("not-held", asked, layer.title)
    return None


def takes_stitching(project: Project, panel: str) -> bool:
    """Whether anything can be stitched on a panel for its looks, by its name."""
    asked = Embellishment(panel=panel, kind="")
    return any(unfit(project, asked, place) is None for place in places_of(project, panel))


def hidden(asked: Embellishment, layer: Layer, seen: BaseGeometry) -> Finding | None:
    """That a panel is never seen, where it is not."""
    return refused("never-seen", asked, layer.title) if seen.area < SEEN_AT_ALL else None


def _sort(project: Project, layer: Layer) -> str:
    return next((one.material.sort for one in project.fabrics if one.role == layer.fabric), "")


def _stitched(steps: tuple[Step, ...], laid: int, layer: Layer) -> int:
    """Place of what is stitched on a panel; 0 where no line holds it before it is covered."""
    held = 0
    area = layer.outline.area
    for at in range(laid + 1, len(steps)):
        step = steps[at]
        ends = step.act in (Act.UNHOOP, Act.FLIP, Act.LAY)
        if ends and held:
            return held
        if step.act is Act.UNHOOP or any(line.role is Role.SEAM for line in step.lines):
            return held
        if step.act is Act.LAY and _over(step, layer):
            return held
        holds = any(line.role in _HOLDS and _meets(line.paths, area) for line in step.lines)
        if not held and holds:
            held = at + 1
        elif held and step.act is Act.UNTAPE:
            return at + 1
    return held


def _over(step: Step, layer: Layer) -> bool:
    """Whether a step lays something over a panel, and not beside it or at its edge."""
    return any(
        one.side is Side.FRONT and (one.outline.area & layer.outline.area).area > SEEN_AT_ALL
        for one in step.layers
    )


def _meets(paths: tuple[Path, ...], area: BaseGeometry) -> bool:
    return any(path.line.intersects(area) for path in paths)
