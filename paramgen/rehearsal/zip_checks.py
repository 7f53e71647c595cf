"""Zips: that they open, that the needle keeps clear of metal, that the coil shows."""

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.lengths import show_apart, show_both
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import COIL_GAPES, HOLD, STOP_CLEAR
from paramgen.rehearsal.sheets import Sheet, Slit
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
    when = f"pulled inside in step {opened}" if opened else "never pulled inside"
    yield Finding(
        "zip-crossed-closed",
        Severity.CANNOT,
        f"the {crossing.line.title} crosses the zip in step {crossing.step}, but the slider is "
        f"{when}: it could never be opened again",
        f"Open the zip before step {crossing.step}.",
        place=place_of([crossing.path & slit.line]),
        step=crossing.step,
        piece=slit.piece,
    )


def _stops(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """Lines and trimming too near to the stops, and a zip whose stops lie inside."""
    seam = shapely.Polygon(done.project.seam.points)
    unit = done.project.unit
    laid = _laid(done, slit)
    ends = [shapely.Point(xy) for xy in shapely.get_coordinates(slit.line)[[0, -1]]]
    short = max((_short(seam, end) for end in ends), default=0.0)
    if short > 0:
        yield Finding(
            "zip-short",
            Severity.CANNOT,
            f"a stop of the zip lies {show_both(short, unit)} too far in: it must lie "
            f"{show_both(STOP_CLEAR, unit)} outside the seam line",
            f"Take a zip at least {show_both(2 * short, unit)} longer.",
            amount=short,
            place=tuple((float(end.x), float(end.y)) for end in ends),
            piece=slit.piece,
        )
        return
    for sewn in done.sandwich.sewn:
        away = min(float(sewn.path.distance(end)) for end in ends)
        if sewn.step > laid and away < STOP_CLEAR:
            has, needs = show_apart(away, STOP_CLEAR, unit)
            yield Finding(
                "needle-meets-stop",
                Severity.CANNOT,
                f"the {sewn.line.title} passes {has} from a stop of the zip; "
                f"the needle must keep {needs} from metal",
                f"Take a zip at least {show_both(2 * (STOP_CLEAR - away), unit)} longer.",
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
            "a line runs along the opening of the zip and sews it shut",
            "Move the line beside the coil.",
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
                f"the {sewn.line.title} crosses the opening of the zip inside the seam: the "
                "slider cannot pass it",
                "Let lines cross the zip only at the seam.",
                place=tuple((float(spot.x), float(spot.y)) for spot in crossings),
                step=sewn.step,
                piece=slit.piece,
            )


def _coil(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """Sheets sewn to the tapes that cover the coil, or leave too much beside it."""
    unit = done.project.unit
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
            f"an edge sewn to the zip covers its coil, {show_both(slit.coil, unit)} wide, by "
            f"{show_both(over, unit)}",
            f"Lay it {show_both(over, unit)} farther from the middle of the zip.",
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
            f"the folds leave {show_both(gap, unit)} for a coil of {show_both(slit.coil, unit)}: "
            "the tape shows",
            f"Lay the folds at most {show_both(slit.coil + COIL_GAPES, unit)} apart.",
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
