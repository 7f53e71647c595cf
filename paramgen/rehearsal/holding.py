"""Whether every piece is held, and the needle meets it where it should."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.faces import trimmed_to
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.line_stretches import beside, stretches
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.overcast import goes_over
from paramgen.rehearsal.rehearsal_limits import CROSSING, HOLD, LOOSE
from paramgen.rehearsal.sheets import SewnLine, Sheet, each_once
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Facts, Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Leaf, Role

SpotArray = NDArray[np.object_]

#: Lines that hold a piece for good.
HOLDING = (Role.TACK_DOWN, Role.SEAM, Role.TOP_STITCH)


#: What is turned in, and lies pressed under its own piece.
_HEMS = (Leaf.HEM, Leaf.INSIDE)


def holding(done: Rehearsed) -> Iterator[Finding]:
    """Find pieces that the needle misses or hardly meets, and those that stay loose."""
    missed = list(_missed(done))
    yield from missed
    told = {finding.piece for finding in missed}
    yield from (finding for finding in _loose(done) if finding.piece not in told)


def _holding_lines(done: Rehearsed, sheet: Sheet) -> list[SewnLine]:
    return [
        sewn for sewn in done.sandwich.sewn if sewn.line.role in HOLDING and sewn.step > sheet.step
    ]


def _next_lines(done: Rehearsed, sheet: Sheet) -> list[SewnLine]:
    """The lines meant to hold a piece: those stitched before anything else is laid."""
    lines = _holding_lines(done, sheet)
    if not lines:
        return []
    laid = sorted({other.step for other in done.sandwich.sheets})
    first = lines[0].step
    until = next((step for step in laid if step > first), float("inf"))
    return [sewn for sewn in lines if sewn.step < until]


def _asked(done: Rehearsed) -> Iterator[Sheet]:
    """Sheets that must be held; a corner of two hems hangs by its folds at both of them."""
    return (sheet for sheet in done.sandwich.single if sheet.leaf is not Leaf.CORNER)


def _missed(done: Rehearsed) -> Iterator[Finding]:
    seen: set[tuple[str, str]] = set()
    for sheet in _asked(done):
        raw = _own_edges(done, sheet)
        shapely.prepare(raw)
        met = firm = 0.0

        def hugging(spots: SpotArray, edge: BaseGeometry = raw) -> NDArray[np.bool_]:
            return np.asarray(shapely.dwithin(edge, spots, HOLD - 0.05))

        lines = _next_lines(done, sheet)
        for sewn in lines:
            key = (sheet.piece, sewn.line.name)
            hugs = raw.dwithin(sewn.path, HOLD)
            near = list(stretches(sewn.path, hugging)) if hugs else []
            inside = sewn.path & sheet.area
            met += float(inside.length)
            firm += float(inside.length) - (beside(inside, raw, HOLD - 0.05) if hugs else 0.0)
            close = [part for part in near if part.length > CROSSING and key not in seen]
            close = [part for part in close if not goes_over(sewn, part, raw)]
            if close:
                seen.add(key)
                away = min(float(part.distance(raw)) for part in close)
                past = not any(part.intersects(sheet.area) for part in close)
                yield Finding(
                    "needle-near-edge",
                    Severity.CANNOT,
                    facts(line=sewn.line.called, piece=sheet.called, has=Mm(away), needs=Mm(HOLD)),
                    variant="past" if past else "inside",
                    amount=HOLD - away,
                    place=place_of(close),
                    step=sewn.step,
                    piece=sheet.piece,
                )
        told = any(piece == sheet.piece for piece, _ in seen)
        if lines and firm < enough(sheet.area) and not told:
            seen.add((sheet.piece, ""))
            variant, known = _too_little(sheet, met, firm)
            yield Finding(
                "needle-misses",
                Severity.CANNOT,
                facts(line=lines[0].line.called, piece=sheet.called) + known,
                variant=variant,
                place=place_of([sheet.area]),
                step=lines[0].step,
                piece=sheet.piece,
            )


def _too_little(sheet: Sheet, met: float, firm: float) -> tuple[str, Facts]:
    """How a line does not hold a sheet: it misses it, hardly meets it, or runs at its edge."""
    if met == 0.0:
        return "", facts()
    known = facts(has=Mm(firm), needs=Mm(enough(sheet.area)))
    if met < enough(sheet.area):
        return "hardly", known
    return "at-its-edge", known + facts(hold=Mm(HOLD))


def enough(area: BaseGeometry) -> float:
    """Length of stitching that holds what has an area: less if that is narrow, mm."""
    box = Box(*area.bounds)
    return min(CROSSING, 0.5 * min(box.width, box.height))


def _own_edges(done: Rehearsed, sheet: Sheet) -> BaseGeometry:
    """Edges that a line must keep from: no folds, and of a zip's tape not the slit."""
    if not sheet.of_zip:
        return sheet.raw_edges
    slit = next(one.line for one in done.sandwich.slits if one.layer == sheet.layer)
    # The long edges are those that run the way of the slit; the near one is the slit's own.
    return max(
        (edge for edge in _sides(sheet.area) if _alike(edge, slit)),
        key=lambda edge: float(edge.distance(slit)),
    )


def _sides(area: shapely.Polygon) -> list[shapely.LineString]:
    points = shapely.get_coordinates(area.exterior)
    return [shapely.LineString(pair) for pair in pairwise(points)]


def _alike(one: shapely.LineString, other: shapely.LineString) -> bool:
    """Whether two straight lines run the same way."""
    (ax, ay), (bx, by) = shapely.get_coordinates(one)[[0, -1]]
    (cx, cy), (dx, dy) = shapely.get_coordinates(other)[[0, -1]]
    cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    return bool(abs(cross) < 0.01 * one.length * other.length)


def _loose(done: Rehearsed) -> Iterator[Finding]:
    room = done.project.seam.area
    left = trimmed_to(done.project, done.sandwich)
    seen: set[str] = set()
    for sheet in _asked(done):
        if sheet.piece in seen:
            continue
        # What holds it when it is laid, and the seams: other pieces' lines hold it no better. A hem
        # lies pressed under its own piece until any line catches it.
        later = _holding_lines(done, sheet)
        seams = [one for one in later if one.line.role is Role.SEAM or sheet.leaf in _HEMS]
        kept = sheet.area & left
        lines = each_once(one.path for one in (*_next_lines(done, sheet), *seams))
        parts = shapely.intersection(lines, kept)
        held = shapely.union_all(parts[shapely.length(parts) > 0])
        if held.length < enough(sheet.area):
            seen.add(sheet.piece)
            yield Finding(
                "loose",
                Severity.CANNOT,
                facts(piece=sheet.called),
                place=place_of([sheet.area]),
                step=sheet.step,
                piece=sheet.piece,
            )
            continue
        if not sheet.frays:
            continue  # what does not fray may end in the open: a mouth, a loop
        shapely.prepare(held)

        def hanging(spots: SpotArray, by: BaseGeometry = held) -> NDArray[np.bool_]:
            return ~np.asarray(shapely.dwithin(by, spots, LOOSE))

        inside = sheet.raw_edges & room
        open_parts = [part for part in stretches(inside, hanging) if part.length > CROSSING]
        if open_parts:
            seen.add(sheet.piece)
            length = sum(float(part.length) for part in open_parts)
            yield Finding(
                "edge-not-held",
                Severity.DISAPPOINT,
                facts(piece=sheet.called, length=Mm(length)),
                amount=length,
                place=place_of(open_parts),
                step=sheet.step,
                piece=sheet.piece,
            )
