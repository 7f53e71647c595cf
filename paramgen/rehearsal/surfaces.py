"""Raw edges that show, allowances too short, and what is sewn flat to the outside or shut in."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.layout.turning_gaps import is_open_edge
from paramgen.rehearsal.faces import NEAR, trimmed_to
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.line_stretches import runs
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.overcast import overcast, overcast_once_trimmed
from paramgen.rehearsal.rehearsal_limits import (
    ALLOWANCE,
    CORNER_CUT_OFF,
    CROSSING,
    RAW_EDGE,
    TRIMMED_CLEAR,
)
from paramgen.rehearsal.sheets import Sheet, each_once
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Role


def surfaces(done: Rehearsed) -> Iterator[Finding]:
    """Find everything wrong with what shows."""
    if not all(done.indices(name) for name in done.project.finish.between):
        return  # there is no finished thing to look at
    yield from _raw_edges(done)
    yield from _trimming(done)
    if done.turned:
        yield from _allowances(done)
    if done.walled:
        yield from _sewn_flat(done)
        yield from _sewn_together(done)
        yield from _edges_inside(done)


def _raw_edges(done: Rehearsed) -> Iterator[Finding]:
    """Raw ends inside the seam line round which the outside reaches."""
    plane, spaces, sheets = done.plane, done.spaces, done.sandwich.sheets
    bare: dict[str, list[shapely.LineString]] = {}
    ending = (plane.covers[plane.faces[:, 0]] != plane.covers[plane.faces[:, 1]]).any(axis=1)
    for index in np.flatnonzero(plane.inner & ending).tolist():
        edge = plane.edges[index]
        f, g = edge.faces
        for face, other in ((f, g), (g, f)):
            stack = plane.stack(face)
            for place, sheet in enumerate(stack):
                one = sheets[sheet]
                if plane.covers[other][sheet] or not one.frays or one.layer in edge.fold:
                    continue
                start = int(spaces.first[face]) + place
                if done.shows(start) or done.shows(start + 1):
                    bare.setdefault(one.piece, []).append(edge.line)
    for piece, lines in sorted(bare.items()):
        one = _sheet(done, piece)
        length = float((shapely.union_all(lines) - overcast(done.sandwich, one)).length)
        if length > 1.0:
            yield Finding(
                "raw-edge-shows",
                Severity.CANNOT,
                facts(piece=one.called, length=Mm(length)),
                variant="both-faces-alike" if one.front and one.back else "",
                amount=length,
                place=place_of(lines),
                step=one.step,
                piece=piece,
            )


def _edges_inside(done: Rehearsed) -> Iterator[Finding]:
    """Raw edges round the inside that an opening leads to, which nothing overcasts."""
    if not done.looked_into or not any(sheet.frays for sheet in done.sandwich.sheets):
        return
    edge = trimmed_to(done.project, done.sandwich).boundary
    seam = done.project.seam
    corners = shapely.MultiPoint(seam.points[seam.corners])  # cut off across
    away = float(edge.distance(seam.line))
    bare = edge - overcast_once_trimmed(done.sandwich) - corners.buffer(CORNER_CUT_OFF * away)
    if float(bare.length) > 1.0:
        yield Finding(
            "raw-edge-inside",
            Severity.DISAPPOINT,
            facts(length=Mm(float(bare.length)), most=Mm(TRIMMED_CLEAR)),
            amount=float(bare.length),
            place=place_of([bare]),
        )


def _trimming(done: Rehearsed) -> Iterator[Finding]:
    """Trimming too near to the last line."""
    project = done.project
    trimmed = project.finish.trimmed
    if trimmed is None:
        return
    inside = project.seam.area
    cut = shapely.Polygon(trimmed.points)
    least = ALLOWANCE if done.turned else RAW_EDGE
    # An edge that stays open has no seam to fray away; near its ends the rest is not looked at.
    free = [gap for gap in done.plane.gaps if is_open_edge(project.seam, gap)]
    along = cut.exterior - shapely.union_all(free).buffer(2 * least, cap_style="square")
    left = float(shapely.distance(along, inside)) if cut.covers(inside) else 0.0
    if left < least - 0.01:
        yield Finding(
            "allowance-trimmed-away",
            Severity.CANNOT,
            facts(has=Mm(left), needs=Mm(least)),
            amount=least - left,
            place=place_of([shapely.LineString(trimmed.points)]),
        )


def _allowances(done: Rehearsed) -> Iterator[Finding]:
    """Raw edges that run along the seam line too near outside it."""
    inside = done.project.seam.area
    band = inside.buffer(ALLOWANCE - 0.01, join_style="mitre") - inside
    seen: set[str] = set()
    for sheet in done.sandwich.single:
        if not sheet.frays or sheet.piece in seen:
            continue
        raw = sheet.raw_edges.intersection(band)
        near = [part for part in runs(raw) if part.length > CROSSING]
        if near:
            seen.add(sheet.piece)
            least = min(float(part.distance(inside)) for part in near)
            yield Finding(
                "allowance-short",
                Severity.CANNOT,
                facts(
                    piece=sheet.called,
                    has=Mm(least),
                    needs=Mm(ALLOWANCE),
                    lacks=Mm(ALLOWANCE - least),
                ),
                amount=ALLOWANCE - least,
                place=place_of(near),
                step=sheet.step,
                piece=sheet.piece,
            )


def _sewn_flat(done: Rehearsed) -> Iterator[Finding]:
    """Pieces between the right sides that a line inside the seam goes through.

    What is top-stitched to the outside on purpose stays there, if it is not to be pulled over or
    to stand out.
    """
    low, high = done.between
    plane = done.plane
    finish = done.project.finish
    flaps = {*finish.pulled_over, *finish.stands_out}
    sewn = done.sandwich.sewn
    meant = each_once(one.path for one in sewn if one.line.role is Role.TOP_STITCH)
    on_purpose: BaseGeometry | None = None
    caught: dict[str, list[shapely.LineString]] = {}
    for at, sheet in np.argwhere(plane.bound[:, low + 1 : high]).tolist():
        edge = plane.edges[plane.binding[at]]
        piece = done.sandwich.sheets[low + 1 + sheet].piece
        if piece not in flaps and meant:
            if on_purpose is None:  # round many lines it takes long
                on_purpose = shapely.union_all(meant).buffer(NEAR)
                shapely.prepare(on_purpose)
            if on_purpose.covers(edge.line):
                continue
        caught.setdefault(piece, []).append(edge.line)
    for piece, lines in sorted(caught.items()):
        length = float(shapely.union_all(lines).length)
        if length > 1.0:
            one = _sheet(done, piece)
            yield Finding(
                "sewn-to-outside",
                Severity.CANNOT,
                facts(piece=one.called, length=Mm(length)),
                amount=length,
                place=place_of(lines),
                step=one.step,
                piece=piece,
            )


def _sewn_together(done: Rehearsed) -> Iterator[Finding]:
    """Lines inside the seam through both pieces that lie right sides together.

    Once it is turned their right sides are the outside, one on either side of the work.
    """
    plane, sheets, finish = done.plane, done.sandwich.sheets, done.project.finish
    work = next(one for one in done.between if sheets[one].piece == finish.work)
    for name in finish.closing:
        other = min(done.indices(name), key=lambda one: abs(one - work))
        first, last = sorted((work, other), key=lambda one: sheets[one].step)
        both = plane.binding[plane.bound[:, [first, last]].all(axis=1)]
        together = [plane.edges[one].line for one in both.tolist()]
        length = float(shapely.union_all(together).length)
        if length > 1.0:
            yield Finding(
                "right-sides-sewn-together",
                Severity.CANNOT,
                facts(
                    piece=sheets[first].called,
                    other=sheets[last].called,
                    length=Mm(length),
                    laid=sheets[last].step,
                ),
                amount=length,
                place=place_of(together),
                step=sheets[last].step,
                piece=sheets[last].piece,
            )


def _sheet(done: Rehearsed, piece: str) -> Sheet:
    return done.sandwich.sheets[done.indices(piece)[0]]
