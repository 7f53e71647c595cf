"""Snaps and rings: what they pierce, how they are reached, clear of stitches, and meeting."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.bulk import thickness_at
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
from paramgen.finished.hardware_reach import Fastening, nearest_coil, nearest_fold, places
from paramgen.geometry.mirror import mirrored, mirrored_points
from paramgen.lengths import show_apart, show_both
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Notion


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
    lines: Sequence[tuple[BaseGeometry, str, int]],
) -> Iterator[Finding]:
    unit, near = thing.project.unit, _nearest(lines, spot)
    if near is not None and near[0] < notion.clearance - 0.01:
        away, title, step = near
        has, needs = show_apart(away, notion.clearance, unit)
        yield Finding(
            "stitch-near-hardware",
            Severity.CANNOT,
            f"the {title} passes {has} from the {notion.title}; it needs {needs}",
            f"Move it {show_both(notion.clearance - away, unit)} away.",
            amount=notion.clearance - away,
            place=(spot,),
            step=step,
            piece=notion.name,
        )


def _meeting(thing: FinishedThing, notion: Notion) -> Iterator[Finding]:
    """Halves that do not come to lie on each other when it is closed.

    What is folded over a closed edge last spends the thickness there on its way round: that is
    an estimate, so only halves that do not meet at any thickness in its range are found.
    """
    if not notion.halves:
        return
    unit, folds = thing.project.unit, thing.project.finish.folds
    first, second = notion.halves
    one, other = folded_over(first, second, folds)
    apart = np.subtract(one, other)
    lacks, how, way = float(np.hypot(*apart)), "", ""
    if thing.wraps:
        (ax, ay), (bx, by) = folds[-1]
        along = np.array((bx - ax, by - ay)) / np.hypot(bx - ax, by - ay)
        aside = abs(float(apart @ along))
        # Beyond the place of the second half, seen from the edge it comes round.
        inward = np.array((-along[1], along[0]))
        inward = inward if (np.array(other) - (ax, ay)) @ inward > 0 else -inward
        past = float(apart @ inward)
        thick = thickness_at(thing, _foot(other, folds[-1]))
        least, most = (thick[end] + ROUND_THE_EDGE[end] for end in (0, 1))
        short = max(least - past, past - most, 0.0)
        way = " towards the edge it comes round" if past < least else " farther from the edge"
        lacks = float(np.hypot(short, aside))
        thin, full = (show_both(one, unit) for one in thick)
        how = f", going round a thickness of {thin} to {full},"
    if lacks > MEETS:
        yield Finding(
            "halves-apart",
            Severity.CANNOT,
            f"when it is closed{how} the halves of the {notion.title} lie "
            f"{show_both(lacks, unit)} apart",
            f"Move the second half by {show_both(lacks, unit)}{way}.",
            amount=lacks,
            place=(first, second),
            piece=notion.name,
        )


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
    titles = " and the ".join(_title(thing, name) for name in lacking)
    if one.foreign is not None:
        foreign = one.foreign.sheet
        message = (
            f"to go through the {titles} the {one.notion.title} would pierce the {foreign.title} "
            "as well"
        )
        remedy = f"Set it where the {foreign.title} does not lie, or let it go through that too."
    else:
        does, lies = ("does", "lies") if len(lacking) == 1 else ("do", "lie")
        message = (
            f"the {one.notion.title} is to go through the {titles}, which {does} not lie there"
        )
        remedy = f"Set it where the {titles} {lies}."
    yield Finding(
        "hardware-pierces",
        Severity.CANNOT,
        message,
        remedy,
        place=(one.at,),
        step=_fastened(thing),
        piece=one.foreign.sheet.piece if one.foreign else lacking[0],
    )


def _title(thing: FinishedThing, name: str) -> str:
    titles = {piece.name: piece.title for piece in thing.project.pieces}
    titles |= {notion.name: notion.title for notion in thing.project.notions}
    return titles.get(name, name)


def _reached(thing: FinishedThing, one: Fastening) -> Iterator[Finding]:
    """Hardware whose far side no hand or tool can reach when it is set."""
    unit = thing.project.unit
    last = one.pierced[-1].sheet.title if one.pierced else one.notion.title
    if not one.opening:
        yield Finding(
            "hardware-out-of-reach",
            Severity.CANNOT,
            f"nobody can reach the far side of the {last} where the {one.notion.title} is set: "
            "what lies behind it does not open any more",
            "Set it where a zip, a mouth or an open gap leads behind it, or before the gap is "
            "closed.",
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
    by = {"zip": "the zip", "mouth": "the mouth", "gap": "the gap"}[one.opening]
    if one.depth > most:
        has, needs = show_apart(one.depth, most, unit)
        yield Finding(
            "hardware-out-of-reach",
            Severity.CANNOT,
            f"the {one.notion.title} is set {has} from {by}, through which its far side is "
            f"reached; at most {needs} can be",
            f"Set it {show_both(one.depth - most, unit)} nearer to {by}.",
            amount=one.depth - most,
            place=(one.at,),
            step=_fastened(thing),
            piece=one.notion.name,
        )
    elif one.depth > PLIERS[1]:
        yield Finding(
            "hardware-past-pliers",
            Severity.KNOW,
            f"the {one.notion.title} is set {show_both(one.depth, unit)} from {by}: pliers reach "
            f"{show_both(PLIERS[0], unit)} to {show_both(PLIERS[1], unit)}",
            "Lay a small anvil inside and set it from above.",
            amount=one.depth - PLIERS[1],
            place=(one.at,),
            step=_fastened(thing),
            piece=one.notion.name,
        )


def _on_coil_or_fold(thing: FinishedThing, one: Fastening) -> Iterator[Finding]:
    """Hardware on the coil of a zip or on a fold of what it pierces; tape may be pierced."""
    unit, rim = thing.project.unit, (one.notion.width or HARDWARE) / 2
    for code, away, what in (
        ("hardware-on-coil", nearest_coil(thing, one.at), "the coil of the zip"),
        ("hardware-on-fold", nearest_fold(one), "a fold of what it goes through"),
    ):
        if away < rim - 0.01:
            has, needs = show_apart(max(away, 0.0), rim, unit)
            yield Finding(
                code,
                Severity.CANNOT,
                f"the middle of the {one.notion.title} lies {has} from {what}; it needs {needs}",
                f"Set it {show_both(rim - away, unit)} farther away.",
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


def _lines(thing: FinishedThing) -> list[tuple[BaseGeometry, str, int]]:
    """Stitched lines inside the seam that go through more than the stabiliser, by hand too.

    On what stands out they lie where it does.
    """
    done = thing.done
    inside = done.project.seam.area.buffer(0.01)
    by_hand = [
        (mark.line, "stitching by hand", step.number)
        for step in top_stitched(done.project)
        for mark in step.mark
    ]
    sewn = [
        one
        for one in done.sandwich.sewn
        if any(sheet.step < one.step for sheet in done.sandwich.sheets)
    ]
    lines = [(one.path & inside, one.line.title, one.step) for one in sewn]
    out = [
        (mirrored(one.path & ply.sheet.area & thing.room, ply.swung), one.line.title, one.step)
        for ply in thing.plies
        if ply.swung is not None
        for one in sewn
        if one.step > ply.sheet.step
    ]
    return [one for one in (*lines, *out, *by_hand) if not one[0].is_empty]


def _nearest(
    lines: Sequence[tuple[BaseGeometry, str, int]], spot: Point
) -> tuple[float, str, int] | None:
    """Nearest of some stitched lines to a place: how far, its title and its step."""
    point = shapely.Point(spot)
    away = ((float(line.distance(point)), title, step) for line, title, step in lines)
    return min(away, default=None)
