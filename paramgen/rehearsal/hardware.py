"""Snaps and rings: clear of stitches, and meeting where they should."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.findings import Finding, Severity
from paramgen.geometry.path import Point
from paramgen.lengths import show_apart, show_both
from paramgen.rehearsal.limits import MEETS
from paramgen.rehearsal.turned import Rehearsed


def hardware(done: Rehearsed) -> Iterator[Finding]:
    """Find halves that do not meet, and stitches too near to hardware."""
    unit = done.project.unit
    lines = _lines(done) if done.project.notions else []
    for notion in done.project.notions:
        if notion.halves:
            first, second = notion.halves
            one, other = folded_over(first, second, done.project.finish.folds)
            apart = float(np.hypot(one[0] - other[0], one[1] - other[1]))
            if apart > MEETS:
                yield Finding(
                    "halves-apart",
                    Severity.CANNOT,
                    f"when it is closed the halves of the {notion.title} lie "
                    f"{show_both(apart, unit)} apart",
                    f"Move the second half by {show_both(apart, unit)}.",
                    amount=apart,
                    place=(first, second),
                    piece=notion.name,
                )
        for spot in (*notion.halves, *notion.at):
            near = _nearest(lines, spot)
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
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    along = ((spot[0] - ax) * dx + (spot[1] - ay) * dy) / (dx * dx + dy * dy)
    return 2 * (ax + along * dx) - spot[0], 2 * (ay + along * dy) - spot[1]


def _lines(done: Rehearsed) -> list[tuple[BaseGeometry, str, int]]:
    """Stitched lines inside the seam that go through more than the stabiliser."""
    inside = done.project.seam.area.buffer(0.01)
    lines = [
        (sewn.path & inside, sewn.line.title, sewn.step)
        for sewn in done.sandwich.sewn
        if any(sheet.step < sewn.step for sheet in done.sandwich.sheets)
    ]
    return [one for one in lines if not one[0].is_empty]


def _nearest(
    lines: Sequence[tuple[BaseGeometry, str, int]], spot: Point
) -> tuple[float, str, int] | None:
    """Nearest of some stitched lines to a place: how far, its title and its step."""
    point = shapely.Point(spot)
    away = ((float(line.distance(point)), title, step) for line, title, step in lines)
    return min(away, default=None)
