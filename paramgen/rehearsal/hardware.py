"""Snaps and rings: clear of stitches, and meeting where they should."""

from collections.abc import Iterator

import numpy as np
import shapely

from paramgen.findings import Finding, Severity
from paramgen.geometry.path import Point
from paramgen.lengths import show_both
from paramgen.rehearsal.limits import MEETS
from paramgen.rehearsal.turned import Rehearsed


def hardware(done: Rehearsed) -> Iterator[Finding]:
    """Find halves that do not meet, and stitches too near to hardware."""
    unit = done.project.unit
    for notion in done.project.notions:
        if notion.halves:
            first, second = notion.halves
            folded = folded_over(first, done.project.finish.folds)
            apart = float(np.hypot(folded[0] - second[0], folded[1] - second[1]))
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
            near = _nearest(done, spot)
            if near is not None and near[0] < notion.clearance - 0.01:
                away, title, step = near
                yield Finding(
                    "stitch-near-hardware",
                    Severity.CANNOT,
                    f"the {title} passes {show_both(away, unit)} from the {notion.title}; it needs "
                    f"{show_both(notion.clearance, unit)}",
                    f"Move it {show_both(notion.clearance - away, unit)} away.",
                    amount=notion.clearance - away,
                    place=(spot,),
                    step=step,
                    piece=notion.name,
                )


def folded_over(spot: Point, folds: tuple[tuple[Point, Point], ...]) -> Point:
    """Where a point of the finished thing comes to lie when the folds are made in order.

    Examples
    --------
    >>> folded_over((0.0, -10.0), (((-1.0, 2.0), (1.0, 2.0)),))
    (0.0, 14.0)
    """
    x, y = spot
    for (ax, ay), (bx, by) in folds:
        dx, dy = bx - ax, by - ay
        along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)
        x, y = 2 * (ax + along * dx) - x, 2 * (ay + along * dy) - y
    return x, y


def _nearest(done: Rehearsed, spot: Point) -> tuple[float, str, int] | None:
    """Nearest stitched line to a place, that goes through more than the stabiliser."""
    point = shapely.Point(spot)
    inside = shapely.Polygon(done.project.seam.points)
    near = [
        (float((sewn.path & inside.buffer(0.01)).distance(point)), sewn.line.title, sewn.step)
        for sewn in done.sandwich.sewn
        if any(sheet.step < sewn.step for sheet in done.sandwich.sheets)
        and not (sewn.path & inside.buffer(0.01)).is_empty
    ]
    return min(near, default=None)
