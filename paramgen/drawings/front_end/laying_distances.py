"""What a piece is laid by: how far its edges lie past the stitched outline, or inside it."""

from collections.abc import Iterable, Iterator, Mapping

import shapely

from paramgen.drawings.front_end.facing_sides import fold_sides
from paramgen.drawings.primitives.drawn_paths import box_of, seen
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.lengths import show_both, unbroken
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Role, Side
from paramgen.vocabulary.project import Layer, Step
from paramgen.vocabulary.unit import Unit

#: Less than this is level, mm: no one lays fabric to a fifth of a millimetre.
LEVEL = 0.2

_ACROSS = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
_SIDES = tuple(_ACROSS)


@dataclass(frozen=True)
class _Outline:
    """The outermost closed placement line that a piece is laid over, as it is seen."""

    title: str
    box: Box


def laid_by(layer: Layer, before: Iterable[Step], side: Side, unit: Unit) -> Iterator[TextLine]:
    """Say how far the edges of a piece lie from the outline that is stitched for it.

    Parameters
    ----------
    layer : Layer
    before : iterable of Step
        Those before it is laid.
    side : str
        `front` or `back`: from where it is seen.
    unit : Unit
    """
    outline = _outline_for(layer, before, side)
    if outline is None:
        return
    if layer.slit is not None:
        yield from _stops(layer, outline, side, unit)
        return
    lies = box_of([seen(layer.outline, side)])
    past = {one: _past(one, lies, outline.box) for one in _SIDES}
    out = {one: by for one, by in past.items() if by > LEVEL}
    if out:
        yield TextLine(_joined(out, "past", outline.title, unit))
    level = [one for one in _SIDES if abs(past[one]) <= LEVEL]
    if level:
        where = "all round" if len(level) == len(_SIDES) else f"at the {listed(level)}"
        yield TextLine(f"level with the {outline.title} {where}")
    folds = fold_sides(layer, side)
    inside = {one for one in _SIDES if past[one] < -LEVEL}
    if len(inside) == len(_SIDES) and not folds:
        yield TextLine(_joined({one: -past[one] for one in inside}, "inside", outline.title, unit))
        return
    for one in (one for one in _SIDES if one in inside):
        # It is measured from the nearer of the two lines along it.
        other = _ACROSS[one]
        away = {one: -past[one], other: _between(other, outline.box) + past[one]}
        nearer = min(away, key=lambda each: (round(away[each], 3), each != one))
        edge = "its fold" if one in folds else f"{one} edge"
        length = unbroken(show_both(away[nearer], unit))
        yield TextLine(f"{edge} {length} inside the {outline.title} at the {nearer}")


def _outline_for(layer: Layer, before: Iterable[Step], side: Side) -> _Outline | None:
    """Those of the largest closed placement lines before it that it lies over, taken together."""
    here = layer.outline.area
    closed = [
        (line.title, path)
        for step in before
        for line in step.lines
        for path in line.paths
        if line.role is Role.PLACEMENT and path.closed and shapely.intersects(path.area, here)
    ]
    if not closed:
        return None
    title, _ = max(closed, key=lambda one: float(one[1].area.area))
    box = box_of([seen(path, side) for name, path in closed if name == title])
    return _Outline(title.partition(",")[0], box)


def _past(side: str, lies: Box, box: Box) -> float:
    """How far a box reaches past another at a side; less than 0 where it ends inside it."""
    return {
        "top": box.top - lies.top,
        "bottom": lies.bottom - box.bottom,
        "left": box.left - lies.left,
        "right": lies.right - box.right,
    }[side]


def _between(side: str, box: Box) -> float:
    return box.height if side in ("top", "bottom") else box.width


def _joined(by: Mapping[str, float], how: str, title: str, unit: Unit) -> str:
    """Say a length once for all the sides that have it: `12 mm past the box all round`."""
    sides: dict[str, list[str]] = {}
    for side in (one for one in _SIDES if one in by):
        sides.setdefault(unbroken(show_both(by[side], unit)), []).append(side)
    if len(sides) == 1 and len(by) == len(_SIDES):
        return f"{next(iter(sides))} {how} the {title} all round"
    first, *rest = (f"at the {listed(where)}" for where in sides.values())
    lengths = iter(sides)
    said = [f"{next(lengths)} {how} the {title} {first}"]
    said += [f"{next(lengths)} {where}" for where in rest]
    return ", ".join(said)


def _stops(layer: Layer, outline: _Outline, side: Side, unit: Unit) -> Iterator[TextLine]:
    """How far the stops of a zip lie outside the outline."""
    if layer.slit is None:
        return
    flip = -1.0 if side is Side.BACK else 1.0
    (ax, ay), (bx, by) = layer.slit
    ends = Box(min(ax * flip, bx * flip), min(ay, by), max(ax * flip, bx * flip), max(ay, by))
    ways = ("left", "right") if ends.width > ends.height else ("top", "bottom")
    out = {one: _past(one, ends, outline.box) for one in ways}
    out = {one: away for one, away in out.items() if away > LEVEL}
    if out:
        yield TextLine(f"its stops {_joined(out, 'outside', outline.title, unit)}")
