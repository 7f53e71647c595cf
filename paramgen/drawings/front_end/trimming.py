"""What is cut off the work once it is out of the hoop, and what that leaves of a layer."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import chain

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.primitives.drawn_paths import (
    area_within,
    line_within,
    lines_of,
    point_along,
    straight,
)
from paramgen.geometry.offset import signed_area
from paramgen.layout.turning_gaps import PAST_GAP, is_open_edge
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import FloatArray, Path, Point
from paramgen.vocabulary.project import Layer, Step

#: A corner that turns by less than this, degrees, lies flat when it is turned, uncut (from memory).
FLAT = 25.0
#: A corner cut off and a notch end so far from the stitching, a snip so far, mm: common practice,
#: no source. Where that leaves less than the least to cut into, they end half way.
CLEAR, SNIP_CLEAR, LEAST = 2.0, 1.0, 0.9

#: Two outer corners no farther apart than this are the blunt end of one point, mm (from memory).
BLUNT_END = 9.0

#: Farthest from one snip to the next along a curve, mm: common practice, every 1/4 to 1/2 in.
APART = 12.0

#: Farthest from one notch to the next along the seam line: this share of the radius, which makes
#: three round a corner, and from least to most, mm: common practice, no source. Sentences of the
#: recipes say so.
NOTCHES_APART, LEAST_APART, MOST_APART = 0.65, 6.0, 15.0

# Half the width of a notch at the raw edge for its depth, and at most for the next one's sake, mm.
_HALF_WIDE, _WIDEST = 0.7, 2.5

# Chords of a curve are no longer than this, mm, and turn by more than this, degrees.
_CHORD, _TURNS = 2.0, 1e-3

# Far less than can be seen, mm.
_THREAD = 0.01

# Beyond anything that is cut, and beyond any allowance, mm.
_FAR, _DEEP = 2000.0, 60.0

# Where no corner is spared.
_NOWHERE = shapely.Point()

# A corner this near to an edge that stays open is at its end, mm.
_AT_END = 0.2


@dataclass(frozen=True, eq=False)
class TrimCut:
    """A corner cut off, or a notch cut out.

    Parameters
    ----------
    line : Path
        Where it is cut.
    tip : BaseGeometry
        What comes off.
    clear : float
        How far the cut stays from the stitching, mm.
    """

    line: Path
    tip: BaseGeometry
    clear: float


@dataclass(frozen=True, eq=False)
class PointCut:
    """A point cut off: straight across, and then a sliver from either side of it.

    Parameters
    ----------
    across : TrimCut
    slivers : tuple of TrimCut
        Off what is left beside it.
    """

    across: TrimCut
    slivers: tuple[TrimCut, ...]


@dataclass(frozen=True, eq=False, kw_only=True)
class TrimCuts:
    """What a step cuts off the work once it is out of the hoop.

    Parameters
    ----------
    before, after : BaseGeometry or None
        What is left of the work when the step begins and when it is done; None if nothing has
        been cut off.
    trimmed_along : tuple of Path
        The line along which the step trims; it ends at the edge of what is left at a gap.
    points : tuple of PointCut
        Points that are cut off, if the recipe does not mark them itself.
    corners, notches : tuple of TrimCut
        All other corners that are cut off, and notches that are cut out of curves which turn
        outwards, if the recipe does not mark them itself.
    snips : tuple of Path
        Snips where the seam turns inwards, if the recipe does not mark them itself; along every
        curve if no step notches those that turn outwards.
    """

    before: BaseGeometry | None
    after: BaseGeometry | None
    trimmed_along: tuple[Path, ...] = ()
    points: tuple[PointCut, ...] = ()
    corners: tuple[TrimCut, ...] = ()
    notches: tuple[TrimCut, ...] = ()
    snips: tuple[Path, ...] = ()

    @property
    def off(self) -> tuple[TrimCut, ...]:
        """All that comes off corners and points."""
        at_points = ((one.across, *one.slivers) for one in self.points)
        return (*chain.from_iterable(at_points), *self.corners)


def cuts_of(
    steps: Sequence[Step],
    seam: Path,
    gaps: Sequence[Path],
    whole: BaseGeometry,
    uncut: BaseGeometry = _NOWHERE,
) -> tuple[TrimCuts, ...]:
    """What each step cuts off, in their order.

    Only what is cut after the work is out of the hoop goes through all its layers. At a turning
    gap nothing is trimmed: the edges there are folded in when it is closed.

    Parameters
    ----------
    steps : sequence of Step
        All of a project.
    seam : Path
        As finely as it was laid out.
    gaps : sequence of Path
        Parts of the seam line that are left open.
    whole : BaseGeometry
        All that was laid.
    uncut : BaseGeometry
        Where no corner of the seam is clipped: those that are sewn across.
    """
    found: list[TrimCuts] = []
    room: BaseGeometry | None = None
    out = False
    notched = any(step.act is Act.NOTCH for step in steps)
    folded_in = [gap for gap in gaps if not is_open_edge(seam, gap.line)]
    open_edges = shapely.union_all([gap.line for gap in gaps if gap not in folded_in])
    open_runs = shapely.union_all([gap.line for gap in gaps])
    for step in steps:
        before = room
        left = whole if room is None else room
        points: tuple[PointCut, ...] = ()
        corners: tuple[TrimCut, ...] = ()
        notches: tuple[TrimCut, ...] = ()
        snips: tuple[Path, ...] = ()
        along: tuple[Path, ...] = ()
        flaps = at_gaps(seam, folded_in, left) if out else shapely.Polygon()
        # Nothing is clipped or notched there either.
        beside = left - flaps
        if out and step.act is Act.TRIM and step.mark and step.mark[0].closed:
            kept = step.mark[0].area | flaps
            room = kept if room is None else room & kept
            along = _trimmed_along(step.mark[0], flaps, left)
        if out and step.act is Act.CLIP and not step.mark:
            kept_whole = shapely.union_all([uncut, open_edges])
            points = point_cuts(seam, beside, kept_whole)
            corners = corner_cuts(seam, beside, kept_whole)
            snips = (
                *inward_corner_snips(seam, beside, uncut),
                *curve_snips(seam, beside, open_runs, inward_only=notched),
            )
        if out and step.act is Act.NOTCH and not step.mark:
            notches = curve_notches(seam, beside, open_runs)
        cut_off = TrimCuts(before=before, after=room, points=points, corners=corners).off
        tips = shapely.union_all([cut.tip for cut in (*cut_off, *notches)])
        if not tips.is_empty:
            # A little more comes off, that no thread of the tips stays.
            room = left - tips.buffer(_THREAD, join_style="mitre")
        out = out or step.act is Act.UNHOOP
        found.append(
            TrimCuts(
                before=before,
                after=room,
                trimmed_along=along,
                points=points,
                corners=corners,
                notches=notches,
                snips=snips,
            )
        )
    return tuple(found)


def at_gaps(seam: Path, gaps: Sequence[Path], left: BaseGeometry) -> BaseGeometry:
    """What lies outside the seam line along its gaps, and a little past their ends.

    Parameters
    ----------
    seam : Path
        Closed.
    gaps : sequence of Path
    left : BaseGeometry
        What is left of the work.
    """
    found = []
    for gap in gaps:
        near = seam.line & gap.line.buffer(PAST_GAP)
        open_run = shapely.union_all([run.line for run in lines_of(near)])
        beside = (open_run.buffer(_DEEP, cap_style="flat", join_style="mitre") & left) - seam.area
        found += [part for part in shapely.get_parts(beside) if part.dwithin(gap.line, _THREAD)]
    return shapely.union_all(found)


def _trimmed_along(mark: Path, flaps: BaseGeometry, left: BaseGeometry) -> tuple[Path, ...]:
    """Where it is trimmed: along a mark, and out to the edge beside what is left at gaps."""
    if flaps.is_empty:
        return (mark,)
    edge = (left.boundary & flaps.buffer(_THREAD)).buffer(_THREAD)
    return lines_of((mark.area | flaps).boundary - edge)


def trimmed(layer: Layer, room: BaseGeometry) -> tuple[Layer, ...]:
    """Cut a layer to what lies within an area: nothing, one part or several."""
    folds = tuple(part for edge in layer.folded_edges for part in _straight_within(edge, room))
    slit = _straight_within(layer.slit, room) if layer.slit else ()
    return tuple(
        replace(layer, outline=part, folded_edges=folds, slit=slit[0] if slit else None)
        for part in area_within(layer.outline, room)
    )


def corner_cuts(
    seam: Path, room: BaseGeometry, keep: BaseGeometry = _NOWHERE
) -> tuple[TrimCut, ...]:
    """Cut every outer corner of a seam line off diagonally, but for those of points.

    Parameters
    ----------
    seam : Path
        Closed.
    room : BaseGeometry
        The trimmed work.
    keep : BaseGeometry
        Where no corner is cut off: at edges that stay open nothing is turned.
    """
    return tuple(_corner_cuts(seam, room, keep))


def point_cuts(
    seam: Path, room: BaseGeometry, keep: BaseGeometry = _NOWHERE
) -> tuple[PointCut, ...]:
    """Cut every point of a seam line off straight across, and a sliver from either side of it.

    Parameters
    ----------
    seam, room, keep
        As for `corner_cuts`.
    """
    found = []
    for pair in _points(_outer_corners(seam, keep)):
        middle = np.mean([corner for corner, _ in pair], axis=0)
        out = _unit(np.sum([out for _, out in pair], axis=0))
        for across in _cut_off(middle, out, room, room):
            rest = room - across.tip
            slivers = tuple(cut for at, way in pair for cut in _cut_off(at, way, room, rest))
            found.append(PointCut(across, slivers))
    return tuple(found)


def curve_snips(
    seam: Path, room: BaseGeometry, keep: BaseGeometry, *, inward_only: bool = False
) -> tuple[Path, ...]:
    """Snip straight into the allowance, evenly along every curve of a seam line.

    Parameters
    ----------
    seam : Path
        Closed, with chords short enough to be told from straight sides.
    room : BaseGeometry
        The trimmed work.
    keep : BaseGeometry
        Parts of the seam line at which nothing is cut.
    inward_only : bool
        Whether only curves that turn inwards are snipped.
    """
    spots = _on_curves(seam, lambda _: APART, keep, (-1,) if inward_only else (-1, 1))
    return tuple(line for spot, out in spots for line in _snip(spot, out, room))


def inward_corner_snips(
    seam: Path, room: BaseGeometry, uncut: BaseGeometry = _NOWHERE
) -> tuple[Path, ...]:
    """Snip straight into every corner of a seam line that turns inwards."""
    return tuple(
        line
        for corner, out, inwards in _corners(seam)
        if inwards and not uncut.covers(shapely.Point(corner))
        for line in _snip(corner, out, room)
    )


def curve_notches(seam: Path, room: BaseGeometry, keep: BaseGeometry) -> tuple[TrimCut, ...]:
    """Cut notches out of the allowance, evenly along every curve that turns outwards.

    Parameters
    ----------
    seam, room, keep
        As for `curve_snips`.
    """
    spots = _on_curves(seam, notches_apart, keep, (1,))
    return tuple(cut for spot, out in spots for cut in _notch(spot, out, room))


def notches_apart(radius: float) -> float:
    """Farthest from one notch to the next round a curve, mm.

    >>> notches_apart(5.0), notches_apart(20.0), notches_apart(54.0)
    (6.0, 13.0, 15.0)
    """
    return min(max(NOTCHES_APART * radius, LEAST_APART), MOST_APART)


def _straight_within(
    edge: tuple[Point, Point], room: BaseGeometry
) -> tuple[tuple[Point, Point], ...]:
    ends = [part.points[[0, -1]].tolist() for part in line_within(straight(*edge), room)]
    return tuple(((ax, ay), (bx, by)) for (ax, ay), (bx, by) in ends)


def _corners(seam: Path) -> Iterator[tuple[FloatArray, FloatArray, bool]]:
    """Each corner of a seam line, the way out of it, and whether it turns inwards."""
    inside, points = seam.area, seam.points
    for place in seam.corners:
        corner = points[place]
        back = _unit(points[place - 1] - corner)
        on = _unit(points[(place + 1) % len(points)] - corner)
        out = -_unit(back + on)
        inwards = bool(inside.contains(shapely.Point(corner + out * 0.1)))
        if not inwards and abs(float(seam.turns[place])) < FLAT:
            continue
        yield corner, -out if inwards else out, inwards


def _outer_corners(seam: Path, keep: BaseGeometry) -> tuple[tuple[FloatArray, FloatArray], ...]:
    """Each outer corner that may be cut off, and the way out of it, in the order of the path."""
    return tuple(
        (corner, out)
        for corner, out, inwards in _corners(seam)
        if not inwards and not keep.dwithin(shapely.Point(corner), _AT_END)
    )


def _points(
    corners: Sequence[tuple[FloatArray, FloatArray]],
) -> tuple[tuple[tuple[FloatArray, FloatArray], ...], ...]:
    """Corners two by two that are the blunt ends of points, each with the way out of it."""
    found: list[tuple[tuple[FloatArray, FloatArray], ...]] = []
    taken: set[int] = set()
    for place in range(len(corners) if len(corners) > 1 else 0):
        pair = corners[place - 1], corners[place]
        ends = {(place - 1) % len(corners), place}
        if np.hypot(*(pair[0][0] - pair[1][0])) <= BLUNT_END and not taken & ends:
            found.append(pair)
            taken |= ends
    return tuple(found)


def _corner_cuts(seam: Path, room: BaseGeometry, keep: BaseGeometry) -> Iterator[TrimCut]:
    corners = _outer_corners(seam, keep)
    at_points = {id(corner) for pair in _points(corners) for corner, _ in pair}
    for corner, out in corners:
        if id(corner) not in at_points:
            yield from _cut_off(corner, out, room, room)


def _cut_off(
    corner: FloatArray, out: FloatArray, room: BaseGeometry, left: BaseGeometry
) -> Iterator[TrimCut]:
    """What a cut across the way out of a corner takes off what is left of the trimmed work."""
    clear = _clear(corner, out, room, CLEAR)
    middle, aside = corner + out * clear, np.array((-out[1], out[0])) * _FAR
    far = middle + out * _FAR
    beyond = shapely.Polygon([middle - aside, far - aside, far + aside, middle + aside])
    spot = shapely.Point(corner + out * clear * 1.01)
    for tip in shapely.get_parts(left & beyond):
        if isinstance(tip, shapely.Polygon) and tip.dwithin(spot, 0.1):
            across = shapely.LineString([middle - aside, middle + aside])
            for line in lines_of(left & across):
                if line.line.dwithin(spot, 0.1):
                    yield TrimCut(line, tip, clear)


def _notch(spot: FloatArray, out: FloatArray, room: BaseGeometry) -> Iterator[TrimCut]:
    """A V from the raw edge towards the stitching."""
    clear = _clear(spot, out, room, CLEAR)
    depth = _reach(spot, out, room) - clear
    if depth <= 0.0:
        return
    half = min(_HALF_WIDE * depth, _WIDEST)
    point, far = spot + out * clear, spot + out * (clear + 2.0 * depth)
    aside = np.array((-out[1], out[0])) * 2.0 * half
    wedge = shapely.Polygon([point, far - aside, far + aside])
    for tip in shapely.get_parts(room & wedge):
        if isinstance(tip, shapely.Polygon) and tip.dwithin(shapely.Point(point), 0.1):
            sides = shapely.LineString([far - aside, point, far + aside])
            for line in lines_of(room & sides):
                if line.line.dwithin(shapely.Point(point), 0.1):
                    yield TrimCut(line, tip, clear)


def _snip(spot: FloatArray, out: FloatArray, room: BaseGeometry) -> Iterator[Path]:
    near = spot + out * _clear(spot, out, room, SNIP_CLEAR)
    ray = shapely.LineString([near, near + out * _FAR])
    for line in lines_of(room & ray):
        if np.hypot(*(line.points - near).T).min() < 0.1:
            yield line


def _on_curves(
    seam: Path, apart: Callable[[float], float], keep: BaseGeometry, ways: Sequence[int]
) -> Iterator[tuple[FloatArray, FloatArray]]:
    """Places evenly along the curves that turn one of some ways, each with the way out.

    How far apart follows from the radius of the curve.
    """
    outward = 1 if signed_area(seam.points) > 0.0 else -1
    for way in ways:
        for start, length, angle in _curves(seam, way * outward):
            count = math.ceil(length / apart(length / angle))
            for number in range(count):
                at = (start + (number + 0.5) / count * length) % seam.length
                spot, along = point_along(seam, at)
                # A ring that runs clockwise as seen has its outside at the left.
                out = np.array((along[1], -along[0])) * outward
                if not keep.dwithin(shapely.Point(spot), 0.5):
                    yield spot, out


def _curves(seam: Path, way: int) -> Iterator[tuple[float, float, float]]:
    """Where along a closed path each curve that turns one way starts, how long, how far it turns.

    The last is an angle in radians.
    """
    lengths = np.diff(seam.reach)
    bends = (way * seam.turns > _TURNS) & ~np.isin(np.arange(len(seam.points)), seam.corners)
    curved = (lengths <= _CHORD) & (bends | np.roll(bends, -1))
    if curved.all():
        yield 0.0, seam.length, 2.0 * math.pi
        return
    starts = np.flatnonzero(curved & ~np.roll(curved, 1))
    for start in starts.tolist():
        run = 0
        while curved[(start + run) % len(curved)]:
            run += 1
        taken = [(start + step) % len(curved) for step in range(run)]
        turned = math.radians(float(np.abs(seam.turns[taken]).sum()))
        yield float(seam.reach[start]), float(lengths[taken].sum()), max(turned, _TURNS)


def _clear(spot: FloatArray, out: FloatArray, room: BaseGeometry, wanted: float) -> float:
    """How far from the stitching a cut ends."""
    reach = _reach(spot, out, room)
    return wanted if reach >= wanted + LEAST else min(wanted, reach / 2)


def _reach(spot: FloatArray, out: FloatArray, room: BaseGeometry) -> float:
    """How much allowance there is one way, mm."""
    ray = shapely.LineString([spot, spot + out * _FAR]) & room
    parts = [part for part in shapely.get_parts(ray) if part.dwithin(shapely.Point(spot), 0.1)]
    return float(parts[0].length) if parts else 0.0


def _unit(vector: FloatArray) -> FloatArray:
    found: FloatArray = vector / (np.hypot(*vector) or 1.0)
    return found
