"""Snaps and rings: what they pierce, how they are reached, clear of stitches, and meeting."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.bulk import ThicknessRange, thickness_at
from paramgen.finished.finished_limits import (
    FINGERS_WIDE,
    HAND,
    HAND_WIDE,
    HARDWARE,
    MEETS,
    PLIERS,
    ROUND_THE_EDGE,
)
from paramgen.finished.finished_thing import FinishedThing, top_stitched
from paramgen.finished.fold_room import over_what_is_held
from paramgen.finished.hardware_reach import Fastening, nearest_coil, nearest_fold, places
from paramgen.geometry.mirror import mirrored, mirrored_points
from paramgen.vocabulary.facts import Mm, Name, NamesInTurn, Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Notion

#: A stitched line: where it runs, its title, empty for stitching by hand, and its step.
_Stitched = tuple[BaseGeometry, str, int]


def hardware(thing: FinishedThing) -> Iterator[Finding]:
    """Find what is pierced that must not be, out of reach, too near, or not meeting."""
    lines = _lines(thing) if thing.project.notions else []
    for notion in thing.project.notions:
        yield from _meeting(thing, notion)
        for spot in (*notion.halves, *notion.at):
            yield from _near_stitches(thing, notion, spot, lines)
    for one in places(thing):
        found = list(_pierced(thing, one))
        yield from found or _reached(thing, one)
        yield from _on_coil_or_fold(thing, one)


def _near_stitches(
    thing: FinishedThing,
    notion: Notion,
    spot: Point,
    lines: Sequence[_Stitched],
) -> Iterator[Finding]:
    near = _nearest(lines, spot)
    if near is not None and near[0] < notion.clearance - 0.01:
        away, title, step = near
        yield Finding(
            "stitch-near-hardware",
            Severity.CANNOT,
            facts(
                line=Name("line", title, title) if title else None,
                step=thing.project.step_called(step),
                notion=notion.called,
                has=Mm(away),
                needs=Mm(notion.clearance),
                lacks=Mm(notion.clearance - away),
            ),
            variant="" if title else "by-hand",
            amount=notion.clearance - away,
            place=(spot,),
            step=step,
            piece=notion.name,
        )


def _meeting(thing: FinishedThing, notion: Notion) -> Iterator[Finding]:
    """Halves that do not come to lie on each other when it is closed.

    What is folded over a closed edge last, or over what is held, spends the thickness there on its
    way round: that is an estimate, so only halves that do not meet at any thickness in its range
    are found.
    """
    if not notion.halves:
        return
    folds = thing.project.finish.folds
    first, second = notion.halves
    one, other = folded_over(first, second, folds)
    apart = np.subtract(one, other)
    lacks, round_it, way = float(np.hypot(*apart)), facts(), ""
    spent = _spent(thing, other) if folds else None
    if spent:
        (ax, ay), (bx, by) = folds[-1]
        along = np.array((bx - ax, by - ay)) / np.hypot(bx - ax, by - ay)
        aside = abs(float(apart @ along))
        # Beyond the place of the second half, seen from the edge it comes round.
        inward = np.array((-along[1], along[0]))
        inward = inward if (np.array(other) - (ax, ay)) @ inward > 0 else -inward
        past = float(apart @ inward)
        least, most = spent
        short = max(least - past, past - most, 0.0)
        nearer = ("from-edge", "towards-edge") if thing.wraps else ("from-fold", "towards-fold")
        way = nearer[past < least]
        lacks = float(np.hypot(short, aside))
        thick = np.subtract(spent, ROUND_THE_EDGE).tolist()
        round_it = facts(thin=Mm(thick[0]), full=Mm(thick[1]))
    if lacks > MEETS:
        yield Finding(
            "halves-apart",
            Severity.CANNOT,
            facts(notion=notion.called, apart=Mm(lacks)) + round_it,
            variant=way,
            amount=lacks,
            place=(first, second),
            piece=notion.name,
        )


def _spent(thing: FinishedThing, at: Point) -> ThicknessRange | None:
    """What the last fold spends on the way round to a place, mm; None if that is nothing."""
    last = thing.project.finish.folds[-1]
    if not thing.wraps:
        return over_what_is_held(thing, last)
    thick = thickness_at(thing, _foot(at, last))
    return thick[0] + ROUND_THE_EDGE[0], thick[1] + ROUND_THE_EDGE[1]


def _foot(spot: Point, line: tuple[Point, Point]) -> Point:
    """The point of a line nearest to a place."""
    x, y = _reflected(spot, line)
    return (spot[0] + x) / 2, (spot[1] + y) / 2


def _fastened(thing: FinishedThing) -> int | None:
    """The step in which hardware is set."""
    return next((step.number for step in thing.project.steps if step.act is Act.FASTEN), None)


def _pierced(thing: FinishedThing, one: Fastening) -> Iterator[Finding]:
    """What is pierced besides the pieces it should go through, or not there to be pierced."""
    there = {ply.sheet.piece for ply in one.pierced}
    lacking = [name for name in one.named if name not in there]
    if not lacking:
        return
    yield Finding(
        "hardware-pierces",
        Severity.CANNOT,
        facts(
            notion=one.notion.called,
            pieces=NamesInTurn(tuple(map(thing.project.titled, lacking))),
            foreign=one.foreign.sheet.called if one.foreign else None,
        ),
        variant="another" if one.foreign else "",
        place=(one.at,),
        step=_fastened(thing),
        piece=one.foreign.sheet.piece if one.foreign else lacking[0],
    )


def _reached(thing: FinishedThing, one: Fastening) -> Iterator[Finding]:
    """Hardware whose far side no hand or tool can reach when it is set."""
    last = one.pierced[-1].sheet.called if one.pierced else one.notion.called
    if not one.opening:
        yield Finding(
            "hardware-out-of-reach",
            Severity.CANNOT,
            facts(notion=one.notion.called, last=last),
            variant="closed-off",
            place=(one.at,),
            step=_fastened(thing),
            piece=one.notion.name,
        )
        return
    if one.opening == "outside":
        return
    # A hand goes in where the opening lets it; two fingers a finger's length; else a tool alone.
    most = HAND[1] if one.wide >= HAND_WIDE else HAND[0]
    most = most if one.wide >= FINGERS_WIDE else PLIERS[1]
    known = facts(notion=one.notion.called, opening=Term("opening", one.opening), has=Mm(one.depth))
    if one.depth > most:
        yield Finding(
            "hardware-out-of-reach",
            Severity.CANNOT,
            known + facts(most=Mm(most), over=Mm(one.depth - most)),
            amount=one.depth - most,
            place=(one.at,),
            step=_fastened(thing),
            piece=one.notion.name,
        )
    elif one.depth > PLIERS[1]:
        yield Finding(
            "hardware-past-pliers",
            Severity.KNOW,
            known + facts(least=Mm(PLIERS[0]), most=Mm(PLIERS[1])),
            amount=one.depth - PLIERS[1],
            place=(one.at,),
            step=_fastened(thing),
            piece=one.notion.name,
        )


def _on_coil_or_fold(thing: FinishedThing, one: Fastening) -> Iterator[Finding]:
    """Hardware on the coil of a zip or on a fold of what it pierces; tape may be pierced."""
    rim = (one.notion.width or HARDWARE) / 2
    for code, away in (
        ("hardware-on-coil", nearest_coil(thing, one.at)),
        ("hardware-on-fold", nearest_fold(one)),
    ):
        if away < rim - 0.01:
            yield Finding(
                code,
                Severity.CANNOT,
                facts(
                    notion=one.notion.called,
                    has=Mm(max(away, 0.0)),
                    needs=Mm(rim),
                    lacks=Mm(rim - away),
                ),
                amount=rim - away,
                place=(one.at,),
                step=_fastened(thing),
                piece=one.notion.name,
            )


def folded_over(
    first: Point, second: Point, folds: tuple[tuple[Point, Point], ...]
) -> tuple[Point, Point]:
    """Where two points of the finished thing come to lie when the folds are made in order.

    In each fold the part that carries the first point goes over; the second goes with it
    only where it lies on the same part.

    Examples
    --------
    >>> folded_over((0.0, -10.0), (0.0, 5.0), (((-1.0, 0.0), (1.0, 0.0)),))
    ((0.0, 10.0), (0.0, 5.0))
    """
    for line in folds:
        together = _side(first, line) * _side(second, line) > 0
        first = _reflected(first, line)
        second = _reflected(second, line) if together else second
    return first, second


def _side(spot: Point, line: tuple[Point, Point]) -> float:
    """On which side of a line a point lies, by its sign."""
    (ax, ay), (bx, by) = line
    return (bx - ax) * (spot[1] - ay) - (by - ay) * (spot[0] - ax)


def _reflected(spot: Point, line: tuple[Point, Point]) -> Point:
    ((x, y),) = mirrored_points(np.array([spot]), shapely.LineString(line)).tolist()
    return float(x), float(y)


def _lines(thing: FinishedThing) -> list[_Stitched]:
    """Stitched lines inside the seam that go through more than the stabiliser, by hand too.

    On what stands out they lie where it does.
    """
    done = thing.done
    inside = done.project.seam.area.buffer(0.01)
    by_hand = [
        (mark.line, "", step.number) for step in top_stitched(done.project) for mark in step.mark
    ]
    sewn = [
        one
        for one in done.sandwich.sewn
        if one.stays and any(sheet.step < one.step for sheet in done.sandwich.sheets)
    ]
    shapely.prepare(inside)
    lines = [
        (one.path if inside.covers(one.path) else one.path & inside, one.line.title, one.step)
        for one in sewn
    ]
    out = [
        (mirrored(one.path & ply.sheet.area & thing.room, ply.swung), one.line.title, one.step)
        for ply in thing.plies
        if ply.swung is not None
        for one in sewn
        if one.step > ply.sheet.step
    ]
    return [one for one in (*lines, *out, *by_hand) if not one[0].is_empty]


def _nearest(lines: Sequence[_Stitched], spot: Point) -> tuple[float, str, int] | None:
    """Nearest of some stitched lines to a place: how far, its title and its step."""
    point = shapely.Point(spot)
    away = ((float(line.distance(point)), title, step) for line, title, step in lines)
    return min(away, default=None)
