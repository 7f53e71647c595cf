"""Proof that no copy meets another, so that what is rehearsed of one holds for all of them."""

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.copies.claimed_area import CUT, claim_of
from paramgen.copies.footprint import BETWEEN
from paramgen.lengths import TOLERANCE
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Project


def meeting(copies: Sequence[Project], sheets: frozenset[str] = frozenset()) -> Iterator[Finding]:
    """Find copies of which a line, layer, strip of tape, notion or cut is too near to another's.

    The layers under every place, and the lines through it, are then one copy's alone but for
    the sheets over all, which lie over each as its own piece would: the rehearsal of one is that
    of each. On sheets it is what copies claim that lies apart.

    Parameters
    ----------
    copies : sequence of Project
    sheets : frozenset of str
        The pieces that are one sheet over all of them.
    """
    between = CUT if sheets else BETWEEN
    shapes = [
        claim_of(one, sheets) if sheets else shapely.union_all(list(_shapes(one))) for one in copies
    ]
    near = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=between - TOLERANCE)
    pairs = sorted({(int(a), int(b)) for a, b in near.T if a < b})
    for a, b in pairs:
        start, end = shapely.get_coordinates(shapely.shortest_line(shapes[a], shapes[b])).tolist()
        yield Finding(
            "copies-meet",
            Severity.CANNOT,
            facts(one=a + 1, other=b + 1, between=Mm(between)),
            amount=between - float(shapes[a].distance(shapes[b])),
            place=((start[0], start[1]), (end[0], end[1])),
        )


def _shapes(project: Project) -> Iterator[BaseGeometry]:
    yield _shape(project.seam)
    for step in project.steps:
        for line in step.lines:
            yield from (_shape(path).buffer(line.stitch.aside) for path in line.paths)
        yield from (_shape(layer.outline) for layer in step.layers)
        yield from (_shape(path) for path in (*step.tape, *step.mark))
    for notion in project.notions:
        reach = max(notion.clearance, (notion.width or 0.0) / 2)
        yield from (shapely.Point(place).buffer(reach) for place in (*notion.halves, *notion.at))


def _shape(path: Path) -> BaseGeometry:
    """What a path takes: its inside too if it is closed."""
    return path.area if path.closed else path.line
