"""Hollows that should open and do not; the turning gap."""

from collections.abc import Iterator

import numpy as np
import shapely

from paramgen.layout.turning_gaps import is_open_edge
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import (
    BLUNT,
    BLUNT_CLEAR,
    CORNER_CUT,
    GAP_BEND,
    GAP_CLEAR,
    SPECK,
    STRIP,
    TURNING_GAP,
    TURNING_SHARE,
)
from paramgen.vocabulary.facts import Degrees, Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import CORNER_DEGREES, Path, path


def openings(done: Rehearsed) -> Iterator[Finding]:
    """Find what opens to the hidden inside, what is sewn shut, and gaps that do not turn."""
    missing = [name for name in done.project.finish.between if not done.indices(name)]
    for name in missing:
        yield Finding(
            "never-laid",
            Severity.CANNOT,
            facts(piece=done.project.titled(name)),
            piece=name,
        )
    yield from done.leaks
    if done.walled:
        yield from _sewn_shut(done)
    if done.turned and not missing:
        yield from _gap(done)


def _sewn_shut(done: Rehearsed) -> Iterator[Finding]:
    """Folded pieces between the right sides whose own front or back does not open outside."""
    low, high = done.between
    sheets, spaces, plane = done.sandwich.sheets, done.spaces, done.plane
    shut: dict[str, list[shapely.Polygon]] = {}
    for node in range(1, len(spaces.face)):
        face = int(spaces.face[node])
        if done.shows(node) or not plane.within[face]:
            continue
        below, above = int(spaces.below[node]), int(spaces.above[node])
        if below < 0 or above < 0 or sheets[below].layer == sheets[above].layer:
            continue
        for sheet in (below, above):
            if low < sheet < high and sheets[sheet].folded:
                shut.setdefault(sheets[sheet].piece, []).append(plane.areas[face])
    for piece, areas in sorted(shut.items()):
        roomy = shapely.union_all(areas).buffer(-STRIP / 2)
        if roomy.area > SPECK:
            one = sheets[done.indices(piece)[0]]
            yield Finding(
                "sewn-shut",
                Severity.CANNOT,
                facts(piece=one.called),
                variant="fold",
                place=place_of(areas),
                step=one.step,
                piece=piece,
            )


def shortest_side(outline: Path) -> float:
    """Shortest straight side, mm; what only cuts a corner is no side.

    Of an outline without sides it is the shorter side of the box around it.

    Examples
    --------
    >>> from paramgen.geometry.outlines import oval, rectangle
    >>> shortest_side(rectangle(0, 0, 4, 3)), shortest_side(oval((0, 0), 6, 4))
    (3.0, 4.0)
    """
    shorter = min(outline.box.width, outline.box.height)
    corners = np.flatnonzero(np.abs(outline.turns) > CORNER_DEGREES)
    if len(corners) < 3:
        return shorter
    points = outline.points[corners]
    sides = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    return float(min(sides[sides > CORNER_CUT * shorter], default=shorter))


def _gap(done: Rehearsed) -> Iterator[Finding]:
    seam = done.project.seam
    need = min(TURNING_GAP, TURNING_SHARE * shortest_side(seam))
    gaps = done.plane.gaps
    if done.opening and not gaps:  # as long as the work is wide: any hand goes in
        if not done.opens:
            yield Finding("opening-sewn-shut", Severity.CANNOT, place=place_of(done.opening))
        return
    if done.through_zip and done.opens:
        opens = [float((slit.line & seam.area).length) for slit in done.sandwich.slits]
        if max(opens) >= need:
            return
    if not gaps:
        yield Finding(
            "gap-missing",
            Severity.CANNOT,
            facts(needs=Mm(need)),
            amount=need,
        )
        return
    longest = max(gaps, key=lambda gap: gap.length)
    if not done.opens:
        yield Finding(
            "gap-sewn-shut",
            Severity.CANNOT,
            place=place_of([longest]),
        )
        return
    if longest.length < need - 0.01:
        yield Finding(
            "gap-short",
            Severity.CANNOT,
            facts(has=Mm(float(longest.length)), needs=Mm(need), lacks=Mm(need - longest.length)),
            amount=need - longest.length,
            place=place_of([longest]),
        )
    if is_open_edge(seam, longest):
        return  # its ends are those of the seam, and nothing is folded in
    course = path(shapely.get_coordinates(longest), closed=False)
    turns = np.abs(course.turns[1:-1])
    if (turns > CORNER_DEGREES).any() or turns.sum() > GAP_BEND:
        yield Finding(
            "gap-on-corner",
            Severity.CANNOT,
            facts(bend=Degrees(float(turns.sum()))),
            amount=float(turns.sum()),
            place=place_of([longest]),
        )
        return
    near = [(clear - away, away, clear) for away, clear in _corners(seam, longest)]
    lacking, away, clear = max(near, default=(0.0, 0.0, 0.0))
    if lacking > 0.01:
        yield Finding(
            "gap-near-corner",
            Severity.DISAPPOINT,
            facts(has=Mm(away), needs=Mm(clear), lacks=Mm(lacking)),
            amount=lacking,
            place=place_of([longest]),
        )


def _corners(seam: Path, gap: shapely.LineString) -> Iterator[tuple[float, float]]:
    """How far from a gap each corner of the seam lies, and how far it should, mm."""
    for corner in np.flatnonzero(np.abs(seam.turns) > CORNER_DEGREES):
        blunt = abs(float(seam.turns[corner])) <= BLUNT
        away = float(gap.distance(shapely.Point(seam.points[corner])))
        yield away, BLUNT_CLEAR if blunt else GAP_CLEAR
