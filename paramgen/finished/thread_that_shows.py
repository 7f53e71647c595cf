"""Thread that shows: needle points of working lines on faces that are seen in the end."""

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_limits import INSIDE, SHOWS, UNDER
from paramgen.finished.finished_thing import SIDES, FinishedThing
from paramgen.finished.flaps import walls
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.line_stretches import spots_along
from paramgen.rehearsal.sheets import SewnLine, each_once
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Role, Side
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Line

#: A line is looked at so often, mm: oftener than any stitch.
EVERY = 0.5
#: Thread is seen where it lies so far within what is seen, mm.
_WITHIN = 0.1


#: A swing reaches no farther from its line at a corner than so many times its width.
MITRED = 6.0


def thread(thing: FinishedThing) -> Iterator[Finding]:
    """Find lines of which needle points lie inside the finished edge, on a face that is seen."""
    inner = thing.room.buffer(-INSIDE, join_style="mitre")
    shapely.prepare(inner)
    for sewn in thing.done.sandwich.sewn:
        aside = sewn.line.stitch.aside
        if sewn.stays and not _meant(thing, sewn.line) and inner.dwithin(sewn.path, MITRED * aside):
            yield from _shows(thing, sewn, inner)


def _meant(thing: FinishedThing, line: Line) -> bool:
    """Whether a line is meant to be seen."""
    return line.role is Role.TOP_STITCH or (line.role is Role.SEAM and not thing.done.turned)


def needles(sewn: SewnLine) -> FloatArray:
    """Places that the needle can come to along a line and nearest to the middle of the work, mm.

    A zigzag that swings outward alone has its inner points on the line.
    """
    stitch = sewn.line.stitch
    reach = stitch.aside
    parts = list(shapely.get_parts(sewn.path))
    if reach and not stitch.outward:
        swung = shapely.buffer(parts, reach, cap_style="flat", join_style="mitre")
        parts += [ring for one in swung for ring in shapely.get_rings(one)]
    return np.concatenate([spots_along(part, EVERY) for part in parts])


def _shows(thing: FinishedThing, sewn: SewnLine, inner: BaseGeometry) -> Iterator[Finding]:
    points = needles(sewn)
    points = points[shapely.contains_xy(inner, *points.T)]
    over = each_once(
        other.path
        for other in (*thing.done.sandwich.sewn, *thing.done.sandwich.drawn)
        if other.step >= sewn.step and _meant(thing, other.line)
    )
    if over and len(points):
        # Not put together where they cross: of satin that takes long.
        hiding = shapely.multilinestrings(shapely.get_parts(over))
        shapely.prepare(hiding)
        points = points[~shapely.dwithin(hiding, shapely.points(points), UNDER)]
    if _closes(thing, sewn):
        # Between the two walls thread is seen in the edge, and draws it in.
        seen, piece = np.ones(len(points), dtype=bool), thing.project.finish.work
    else:
        seen, piece = _seen(thing, sewn.step, points)
    if EVERY * float(seen.sum()) <= SHOWS:
        return
    shown = points[seen]
    inside = float(np.max(shapely.distance(shapely.points(shown), thing.room.boundary)))
    one = next(sheet for sheet in thing.done.sandwich.sheets if sheet.piece == piece)
    yield Finding(
        "thread-shows",
        Severity.CANNOT,
        facts(line=sewn.line.called, piece=one.called, inside=Mm(inside)),
        amount=inside,
        place=place_of([shapely.MultiPoint(shown).convex_hull]),
        step=sewn.step,
        piece=piece,
    )


def _closes(thing: FinishedThing, sewn: SewnLine) -> bool:
    """Whether a line goes through both pieces that it is turned out between."""
    done = thing.done
    if not walls(done):
        return False
    sheets = [
        done.sandwich.sheets[i] for name in done.project.finish.between for i in done.indices(name)
    ]
    return all(sheet.step < sewn.step for sheet in sheets)


def _seen(thing: FinishedThing, step: int, points: FloatArray) -> tuple[NDArray[np.bool_], str]:
    """Which needle points are seen in the end, and on which piece first.

    The thread lies on the frontmost and on the backmost sheet it was sewn through.
    """
    sheets = thing.done.sandwich.sheets
    seen, piece = np.zeros(len(points), dtype=bool), ""
    for side in SIDES:
        left = np.arange(len(points))  # those that lie on no sheet so far
        order = range(len(sheets)) if side is Side.BACK else reversed(range(len(sheets)))
        for index in order:
            if sheets[index].step >= step or not len(left):
                continue
            on = shapely.contains_xy(sheets[index].area, *points[left].T)
            here, left = left[on], left[~on]
            place = thing.place[index]
            here = here[~_hidden(thing, place, side, points[here])]
            if not len(here):
                continue
            shown = thing.seen[side][place].buffer(-_WITHIN)
            showing = here[shapely.contains_xy(shown, *points[here].T)]
            if len(showing):
                seen[showing] = True
                piece = piece or sheets[index].piece
    return seen, piece


def _hidden(thing: FinishedThing, place: int, side: Side, points: FloatArray) -> NDArray[np.bool_]:
    """Which points of a ply something lies over on a side."""
    nearer = range(place + 1, len(thing.plies)) if side is Side.FRONT else range(place)
    hiding = [one for one in nearer if thing.hides(thing.plies[one])]
    return np.asarray(thing.areas.cover(points, hiding).any(axis=0))
