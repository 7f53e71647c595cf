"""Edge lines: a line along the edge of a panel, plain or patterned, all the way round.

It lies as near to the edge as the free ground goes, and so clear of seam, zip and folds.
"""

from collections.abc import Iterator
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.edge_along_ring import along_ring
from paramgen.embellishment.edge_patterns import EDGE_PATTERNS
from paramgen.embellishment.embellishment_kind import (
    EmbellishmentKind,
    FreeGround,
    Worked,
    stop_to_stitch,
)
from paramgen.embellishment.ground_findings import no_room
from paramgen.embellishment.kind_options import Embellishment, MeasureOption, WordOption
from paramgen.geometry.offset import clockwise
from paramgen.lengths import show_both
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import Stitch

PATTERN = WordOption(
    name="pattern",
    words=MappingProxyType({name: one.means for name, one in EDGE_PATTERNS.items()}),
    also=MappingProxyType({"scallops": "scallop", "waves": "wave", "plain": "straight"}),
)
REPEAT = MeasureOption(
    name="repeat", means="length of one repeat", default=None, least=2.5, most=80.0, bare=True
)
DEPTH = MeasureOption(
    name="depth", means="how far it reaches from its line", default=None, least=1.0, most=25.0
)
INSIDE = MeasureOption(
    name="inside",
    means="farther inside the edge than it would lie",
    default=0.0,
    least=0.5,
    most=80.0,
)
STITCH = MeasureOption(name="stitch", means="length of a stitch", default=2.0, least=1.0, most=5.0)
#: A patterned line in less room than so many repeats is none.
_LEAST_SIDE = 1.5
#: A plain one is at least so long and wide, mm.
_LEAST_PLAIN = 6.0
#: Bites out of an edge that are no wider than twice this are passed straight, mm: a snap with its
#: clearance.
_BITE = 12.0
#: Farther than any allowance reaches, mm.
_PAST = 60.0


def edge_lines(asked: Embellishment, ground: FreeGround) -> Worked:
    """Lay an edge line round the ground, once in each part of it."""
    pattern = EDGE_PATTERNS[asked.word(PATTERN)]
    repeat = asked.measure(REPEAT) or pattern.repeat
    depth = asked.measure(DEPTH) or pattern.deep * repeat
    inside = asked.measure(INSIDE) or 0.0
    outward = depth if pattern.outward else 0.0
    inward = depth if pattern.inward else 0.0
    least = 2 * inward + (_LEAST_SIDE * repeat if outward or inward else _LEAST_PLAIN)
    lines: list[Path] = []
    count = 0
    for ring in _rings(ground.area, inside + outward):
        if min(ring.box.width, ring.box.height) >= least:
            laid, number = along_ring(ring, pattern, repeat, depth, ground.area)
            lines += laid
            count += number
    if not lines:
        side = 2 * (inside + outward) + least
        what = f"a {pattern.name} line"
        return Worked(findings=(no_room(asked, ground, what=what, needs=(side, side)),))
    step = stop_to_stitch(
        f"Edge line on the {ground.title}",
        _say(pattern.name, ground, count, repeat),
        "edge-line",
        tuple(lines),
        Stitch(StitchKind.RUN, asked.measure(STITCH) or 2.0),
        called=f"edge line on the {ground.title}",
    )
    return Worked(steps=(step,), taken=_taken(ground.area, inside + outward + inward))


def _rings(area: BaseGeometry, inside: float) -> Iterator[Path]:
    """The outline of each part of the ground, so far inside it and clockwise.

    What takes a bite out of an edge, such as a snap, does not bend it: there the line leaves off.
    """
    for part in shapely.get_parts(area):
        whole = part.buffer(_BITE, join_style="mitre").buffer(-_BITE - inside, join_style="mitre")
        for one in shapely.get_parts(whole):
            if one.geom_type == "Polygon" and not one.is_empty:
                corners = shapely.get_coordinates(one.exterior)[:-1]
                yield clockwise(path(corners, closed=True))


def _taken(area: BaseGeometry, deep: float) -> BaseGeometry:
    """The strip along the edge that such a line takes, mm deep; the allowance besides."""
    return area.buffer(_PAST) - area.buffer(-deep, join_style="mitre")


def _say(pattern: str, ground: FreeGround, count: int, repeat: float) -> str:
    if pattern == "straight":
        return f"Stitch a line along the edge of the {ground.title}."
    return (
        f"Stitch the {pattern} along the edge of the {ground.title}: {count} repeats of about "
        f"{show_both(repeat, ground.unit)}, a whole number on every side, so that all corners are "
        "alike."
    )


EDGE_LINES = EmbellishmentKind(
    name="edge",
    means="a line along the edge of the panel",
    options=(PATTERN, REPEAT, DEPTH, INSIDE, STITCH),
    work=edge_lines,
)
