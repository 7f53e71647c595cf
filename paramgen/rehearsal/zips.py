"""Zips: that they open, that the needle keeps clear of metal, that the coil shows."""

from collections.abc import Iterator

import shapely

from paramgen.findings import Finding, Severity
from paramgen.layout.project import Act
from paramgen.lengths import show_both
from paramgen.rehearsal.holding import alike
from paramgen.rehearsal.limits import COIL_GAPES, STOP_CLEAR
from paramgen.rehearsal.places import place_of
from paramgen.rehearsal.sheets import Slit
from paramgen.rehearsal.turned import Rehearsed


def zips(done: Rehearsed) -> Iterator[Finding]:
    """Find what is wrong with each zip."""
    for slit in done.sandwich.slits:
        yield from _slider(done, slit)
        yield from _stops(done, slit)
        yield from _opening(done, slit)
        yield from _coil(done, slit)


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
            yield Finding(
                "needle-meets-stop",
                Severity.CANNOT,
                f"the {sewn.line.title} passes {show_both(away, unit)} from a stop of the zip; "
                f"the needle must keep {show_both(STOP_CLEAR, unit)} from metal",
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
    """Lines along the coil, which sew the opening shut."""
    seam = shapely.Polygon(done.project.seam.points)
    opening = slit.line & seam
    coil = opening.buffer(max(slit.coil / 2, 0.1), cap_style="flat")
    laid = _laid(done, slit)
    along = [sewn.path & coil for sewn in done.sandwich.sewn if sewn.step > laid]
    if opening.length > 0 and sum(line.length for line in along) > 0.5 * opening.length:
        yield Finding(
            "sewn-shut",
            Severity.CANNOT,
            "a line runs along the opening of the zip and sews it shut",
            "Move the line beside the coil.",
            place=place_of([opening]),
            piece=slit.piece,
        )


def _coil(done: Rehearsed, slit: Slit) -> Iterator[Finding]:
    """The gap between the folds that are stitched to the zip on either side of the coil."""
    unit = done.project.unit
    seam = shapely.Polygon(done.project.seam.points)
    sheets = done.sandwich.sheets
    tapes = [sheet for sheet in sheets if sheet.layer == slit.layer]
    beside = []
    for tape in tapes:
        near = [
            float(fold.distance(slit.line))
            for sheet in sheets
            if sheet.side == "front" and sheet.leaf == "front" and sheet.step > tape.step
            for fold in sheet.folds
            if alike(fold, slit.line)
            and fold.intersection(seam).length > 0
            and tape.area.buffer(0.01).covers(fold.intersection(tape.area.envelope))
            and fold.distance(tape.area) < 0.01
            and _stitched_beside(done, fold, sheet.step)
        ]
        beside.append(min(near, default=None) if near else None)
    if None in beside or not beside:
        return
    low, high = (value for value in beside if value is not None)
    gap = low + high
    half = slit.coil / 2
    place = place_of([slit.line & seam])
    if min(low, high) < half - 0.01:
        yield Finding(
            "coil-covered",
            Severity.CANNOT,
            f"a folded edge lies {show_both(min(low, high), unit)} from the middle of the zip and "
            f"covers its coil, {show_both(slit.coil, unit)} wide",
            f"Lay the folds at least {show_both(slit.coil, unit)} apart.",
            amount=half - min(low, high),
            place=place,
            piece=slit.piece,
        )
    elif gap > slit.coil + COIL_GAPES + 0.01:
        yield Finding(
            "coil-gap-wide",
            Severity.DISAPPOINT,
            f"the folds leave {show_both(gap, unit)} for a coil of {show_both(slit.coil, unit)}: "
            "the tape shows",
            f"Lay the folds at most {show_both(slit.coil + COIL_GAPES, unit)} apart.",
            amount=gap - slit.coil - COIL_GAPES,
            place=place,
            piece=slit.piece,
        )


def _stitched_beside(done: Rehearsed, fold: shapely.LineString, step: int) -> bool:
    """Whether a line runs along a fold within 6 mm: what holds it to the zip."""
    near = fold.buffer(6.0, cap_style="flat")
    return any(
        (sewn.path & near).length > fold.length / 3
        for sewn in done.sandwich.sewn
        if sewn.step > step
    )
