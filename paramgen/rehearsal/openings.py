"""Hollows that should open and do not; the turning gap."""

from collections.abc import Iterator

import numpy as np
import shapely

from paramgen.lengths import show_apart, show_both
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import (
    BLUNT,
    BLUNT_CLEAR,
    CORNER_CUT,
    GAP_BEND,
    GAP_CLEAR,
    SPECK,
    TURNING_GAP,
    TURNING_SHARE,
)
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import CORNER_DEGREES, Path, path


def openings(done: Rehearsed) -> Iterator[Finding]:
    """Find what opens to the hidden inside, what is sewn shut, and gaps that do not turn."""
    missing = [name for name in done.project.finish.between if not done.indices(name)]
    for name in missing:
        yield Finding(
            "never-laid",
            Severity.CANNOT,
            f"no step lays the {name}, which the work is turned out against",
            f"Lay the {name} before the last seam.",
            piece=name,
        )
    yield from done.leaks
    if done.turned and not missing:
        yield from _sewn_shut(done)
        yield from _gap(done)


def _sewn_shut(done: Rehearsed) -> Iterator[Finding]:
    """Folded pieces between the right sides whose own front or back does not open outside."""
    names = done.project.finish.between
    if len(names) != 2 or not all(done.indices(name) for name in names):
        return
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
            if low < sheet < high and sheets[sheet].leaf in ("back", "front"):
                shut.setdefault(sheets[sheet].piece, []).append(plane.areas[face])
    for piece, areas in sorted(shut.items()):
        area = sum(part.area for part in areas)
        if area > SPECK:
            one = sheets[done.indices(piece)[0]]
            yield Finding(
                "sewn-shut",
                Severity.CANNOT,
                f"the hollow at the {one.title} is sewn shut: a line crosses its mouth",
                "Move the line so that it crosses the mouth only at the sides.",
                place=place_of(areas),
                step=one.step,
                piece=piece,
            )


def shortest_side(outline: Path) -> float:
    """Shortest straight side, mm; what only cuts a corner is no side.

    Of an outline without sides it is the shorter side of the box around it.
    """
    shorter = min(outline.box.width, outline.box.height)
    corners = np.flatnonzero(np.abs(outline.turns) > CORNER_DEGREES)
    if len(corners) < 3:
        return shorter
    points = outline.points[corners]
    sides = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    return float(min(sides[sides > CORNER_CUT * shorter], default=shorter))


def _gap(done: Rehearsed) -> Iterator[Finding]:
    unit = done.project.unit
    seam = done.project.seam
    need = min(TURNING_GAP, TURNING_SHARE * shortest_side(seam))
    gaps = done.plane.gaps
    if not gaps:
        yield Finding(
            "gap-missing",
            Severity.CANNOT,
            "the seam leaves no gap to turn it through",
            f"Leave a gap of at least {show_both(need, unit)} in the seam.",
            amount=need,
        )
        return
    longest = max(gaps, key=lambda gap: gap.length)
    if not done.opens:
        yield Finding(
            "gap-sewn-shut",
            Severity.CANNOT,
            "the turning gap leads nowhere: another line sews it shut",
            "Leave the same gap in every line that is stitched once the last piece is laid.",
            place=place_of([longest]),
        )
        return
    if longest.length < need - 0.01:
        has, needs = show_apart(longest.length, need, unit)
        yield Finding(
            "gap-short",
            Severity.CANNOT,
            f"the turning gap is {has} long; it needs {needs} to let the thickest part through",
            f"Make the gap {show_both(need - longest.length, unit)} longer.",
            amount=need - longest.length,
            place=place_of([longest]),
        )
    course = path(shapely.get_coordinates(longest), closed=False)
    turns = np.abs(course.turns[1:-1])
    if (turns > CORNER_DEGREES).any() or turns.sum() > GAP_BEND:
        yield Finding(
            "gap-on-corner",
            Severity.CANNOT,
            f"the turning gap goes round a corner or bend of {turns.sum():.0f}°; it cannot be "
            "folded in and closed there",
            "Put the gap on a straight run, or make it shorter.",
            amount=float(turns.sum()),
            place=place_of([longest]),
        )
        return
    near = [(clear - away, away, clear) for away, clear in _corners(seam, longest)]
    lacking, away, clear = max(near, default=(0.0, 0.0, 0.0))
    if lacking > 0.01:
        has, needs = show_apart(away, clear, unit)
        yield Finding(
            "gap-near-corner",
            Severity.DISAPPOINT,
            f"the turning gap ends {has} from a corner; it needs {needs}",
            f"Move the gap {show_both(lacking, unit)} away from the corner.",
            amount=lacking,
            place=place_of([longest]),
        )


def _corners(seam: Path, gap: shapely.LineString) -> Iterator[tuple[float, float]]:
    """How far from a gap each corner of the seam lies, and how far it should, mm."""
    for corner in np.flatnonzero(np.abs(seam.turns) > CORNER_DEGREES):
        blunt = abs(float(seam.turns[corner])) <= BLUNT
        away = float(gap.distance(shapely.Point(seam.points[corner])))
        yield away, BLUNT_CLEAR if blunt else GAP_CLEAR
