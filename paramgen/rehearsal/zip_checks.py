"""Zips: that they open, that the needle keeps clear of metal, that the coil shows."""

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import COIL_GAPES, HOLD, STOP_CLEAR
from paramgen.rehearsal.sheets import Sheet, Slit
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, Side


def zips(done: Rehearsed) -> Iterator[Finding]:
    """Find what is wrong with each zip."""
    for slit in done.sandwich.slits:
        yield from _slider(done, slit)
        yield from _stops(done, slit)
        shut = list(_opening(done, slit))
        yield from shut or _coil(done, slit)


def _laid(done: Rehearsed, slit: Slit) -> int:
    return next(sheet.step for sheet in done.sandwich.sheets if sheet.layer == slit.layer)


def _slider(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """Lines across the slit before the slider is inside."""
    opened = next((s.number for s in done.project.steps if s.act is Act.OPEN_ZIP), None)
    laid = _laid(done, slit)
    crossing = next(
        (
            sewn
            for sewn in done.sandwich.sewn
            if sewn.step > laid and sewn.path.intersects(slit.line)
        ),
        None,
    )
    if crossing is None or (opened is not None and opened < crossing.step):
        return
    yield Finding(
        "zip-crossed-closed",
        Severity.CANNOT,
        facts(line=crossing.line.called, crossed=crossing.step, opened=opened),
        variant="" if opened else "never-opened",
        place=place_of([crossing.path & slit.line]),
        step=crossing.step,
        piece=slit.piece,
    )


def _stops(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """Lines and trimming too near to the stops, and a zip whose stops lie inside."""
    seam = shapely.Polygon(done.project.seam.points)
    laid = _laid(done, slit)
    ends = [shapely.Point(xy) for xy in shapely.get_coordinates(slit.line)[[0, -1]]]
    short = max((_short(seam, end) for end in ends), default=0.0)
    if short > 0:
        yield Finding(
            "zip-short",
            Severity.CANNOT,
            facts(short=Mm(short), needs=Mm(STOP_CLEAR), longer=Mm(2 * short)),
            amount=short,
            place=tuple((float(end.x), float(end.y)) for end in ends),
            piece=slit.piece,
        )
        return
    for sewn in done.sandwich.sewn:
        away = min(float(sewn.path.distance(end)) for end in ends)
        if sewn.step > laid and away < STOP_CLEAR:
            yield Finding(
                "needle-meets-stop",
                Severity.CANNOT,
                facts(
                    line=sewn.line.called,
                    has=Mm(away),
                    needs=Mm(STOP_CLEAR),
                    longer=Mm(2 * (STOP_CLEAR - away)),
                ),
                amount=STOP_CLEAR - away,
                place=tuple((float(end.x), float(end.y)) for end in ends),
                step=sewn.step,
                piece=slit.piece,
            )
            return


def _short(seam: shapely.Polygon, end: shapely.Point) -> float:
    """How much too far in a stop lies, mm."""
    inside = float(seam.exterior.distance(end)) if seam.contains(end) else 0.0
    outside = float(seam.distance(end))
    return max(0.0, STOP_CLEAR + inside - outside)


def _opening(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """Lines along or across the coil inside the seam, which sew the opening shut."""
    seam = done.project.seam.area
    opening = slit.line & seam
    coil = opening.buffer(max(slit.coil / 2, 0.1), cap_style="flat")
    laid = _laid(done, slit)
    later = [sewn for sewn in done.sandwich.sewn if sewn.step > laid]
    along = sum(float((sewn.path & coil).length) for sewn in later)
    if opening.length > 0 and along > 0.5 * opening.length:
        yield Finding(
            "sewn-shut",
            Severity.CANNOT,
            variant="zip",
            place=place_of([opening]),
            piece=slit.piece,
        )
        return
    ends = shapely.boundary(opening)
    for sewn in later:
        crossings = [
            spot
            for spot in shapely.get_parts(sewn.path & opening)
            if spot.geom_type == "Point" and spot.distance(ends) > HOLD
        ]
        if crossings:
            yield Finding(
                "zip-crossed-inside",
                Severity.CANNOT,
                facts(line=sewn.line.called),
                place=tuple((float(spot.x), float(spot.y)) for spot in crossings),
                step=sewn.step,
                piece=slit.piece,
            )


def _coil(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """Sheets sewn to the tapes that cover the coil, or leave too much beside it."""
    opening = slit.line & done.project.seam.area
    if opening.length <= 0:
        return
    sheets = done.sandwich.sheets
    tapes = [sheet for sheet in sheets if sheet.layer == slit.layer]
    coil = opening.buffer(slit.coil / 2, cap_style="flat")
    # Less what only crosses at the ends of the opening: the seam itself.
    strips = [opening.buffer(tape.area.length, cap_style="flat").buffer(-HOLD) for tape in tapes]
    along = [(tape, tape.area & part) for tape, part in zip(tapes, strips, strict=True)]
    sewn_on = [sheet for sheet in sheets if _sewn_to(done, sheet, along, opening)]
    deepest = max((float((sheet.area & coil).area) for sheet in sewn_on), default=0.0)
    if deepest > 0.02 * opening.length:
        over = deepest / opening.length
        yield Finding(
            "coil-covered",
            Severity.CANNOT,
            facts(coil=Mm(slit.coil), over=Mm(over)),
            amount=over,
            place=place_of([opening]),
            piece=slit.piece,
        )
        return
    fronts = [sheet for sheet in sewn_on if sheet.side is Side.FRONT]
    beside = [
        min(
            (float(sheet.area.distance(opening)) for sheet in fronts if _meets(sheet, tape)),
            default=None,
        )
        for tape in tapes
    ]
    if None in beside or not beside:
        return
    gap = sum(value for value in beside if value is not None)
    if gap > slit.coil + COIL_GAPES + 0.01:
        yield Finding(
            "coil-gap-wide",
            Severity.DISAPPOINT,
            facts(gap=Mm(gap), coil=Mm(slit.coil), most=Mm(slit.coil + COIL_GAPES)),
            amount=gap - slit.coil - COIL_GAPES,
            place=place_of([opening]),
            piece=slit.piece,
        )


def _meets(sheet: Sheet, tape: Sheet) -> bool:
    return bool((sheet.area & tape.area).area > (sheet.area & tape.area).length * 0.1)


def _sewn_to(
    done: Rehearsed,
    sheet: Sheet,
    tapes: list[tuple[Sheet, BaseGeometry]],
    opening: BaseGeometry,
) -> bool:
    """Whether a sheet laid on a zip is stitched to its tape along the opening.

    Each tape comes with the part of it that lies along the opening.
    """
    if sheet.step <= tapes[0][0].step:
        return False
    for _, along in tapes:
        both = sheet.area & along
        if both.area <= 0:
            continue
        later = [sewn.path for sewn in done.sandwich.sewn if sewn.step > sheet.step]
        if (shapely.length(shapely.intersection(later, both)) > opening.length / 3).any():
            return True
    return False
