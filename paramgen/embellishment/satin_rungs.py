"""The rungs of a satin column: where its edges lie at each place along its middle.

A column follows a line, its middle, half its width to either side. A rung lies across it at each
place where the needle goes in, and never further than to where the middle comes as near from
elsewhere. So at a corner the rungs of either leg end on the line that halves it (a mitre), and in
a bend that is tighter than the column is wide no edge folds back on itself.
"""

import math
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import (
    BoolArray,
    FloatArray,
    IntArray,
    Path,
    Point,
    following,
    preceding,
)

#: No stitch of a column is shorter, mm: shorter ones, rounded to the grid of stitch files, might
#: come under the 0.4 mm that no stitch may be shorter than.
LEAST_RUNG = 0.5

#: A sharp corner is cut off square once its mitre reaches so many half widths past the corner of
#: its middle, along either leg (common practice, no source).
LONGEST_MITRE = 2.0

#: A corner sharper than this, degrees between its legs, is no corner: the line turns back.
_TURNS_BACK = 2.0

#: How much nearer the middle may be from elsewhere, mm and as a share: above what chords and
#: directions between them are off.
_NEARER, _NEARER_SHARE = 2e-3, 5e-4

#: So often the stretch in which a rung ends is halved: to a millionth of a millimetre.
_HALVINGS = 24


@dataclass(frozen=True)
class EndCut:
    """How a column ends at an end of its middle that is free.

    Parameters
    ----------
    past : float
        So far past the end it goes on, mm, at most.
    along : Point or None
        Direction of the edge that it ends at, a unit vector, where that is not square across.
    reach : float
        How far past the end that edge is, square to itself, mm.
    """

    past: float
    along: Point | None = None
    reach: float = 0.0


@dataclass(frozen=True, eq=False)
class Rungs:
    """Rungs of one leg of a column, in order, a half spacing apart.

    Parameters
    ----------
    left, right : array of float, shape (n, 2)
        Ends of each, mm, left and right of the middle as seen along it.
    tip : Point or None
        The corner of the outer edge that follows the last of them; None if it is cut off square
        or none follows.
    joined : bool
        Whether another leg follows at a corner.
    """

    left: FloatArray
    right: FloatArray
    tip: Point | None = None
    joined: bool = False

    @property
    def middles(self) -> FloatArray:
        """Middle of each rung, mm."""
        return (self.left + self.right) / 2


@dataclass(frozen=True)
class _HalfPlane:
    """What lies on one side of a line: the other is cut off, near that end of a leg."""

    through: FloatArray
    beyond: FloatArray  # unit vector


@dataclass(frozen=True, eq=False, kw_only=True)
class _Leg:
    points: FloatArray
    closed: bool
    before: float = 0.0  # how far it begins before its first point, mm
    after: float = 0.0
    cuts: tuple[_HalfPlane | None, _HalfPlane | None] = (None, None)
    tip: Point | None = None
    joined: bool = False


def column_rungs(
    middle: Path,
    width: float,
    spacing: float,
    ends: tuple[EndCut, EndCut] = (EndCut(0.0), EndCut(0.0)),
    blocked: BaseGeometry | None = None,
    mitre: float = LONGEST_MITRE,
) -> tuple[tuple[Rungs, ...], ...]:
    """Lay rungs along a line.

    Parameters
    ----------
    middle : Path
    width, spacing : float
        Width of the column; from needle point to needle point along its longer edge; mm.
    ends : tuple of EndCut
        How an open one begins and ends.
    blocked : Polygon, MultiPolygon or None
        Where there is another column already.
    mitre : float
        A corner whose mitre reaches further past it is cut off square, in half widths.

    Returns
    -------
    tuple of tuples of Rungs
        For each stretch that is not blocked its legs, from corner to corner.

    Examples
    --------
    >>> from paramgen.vocabulary.path import path
    >>> (((leg,),)) = column_rungs(path([(0, 0), (4, 0)], closed=False), 2, 1)
    >>> leg.left[:2].tolist(), leg.right[:2].tolist()
    ([[0.0, -1.0], [0.5, -1.0]], [[0.0, 1.0], [0.5, 1.0]])
    """
    half = width / 2
    stretches: list[list[Rungs]] = [[]]
    for leg in _legs(middle, half, ends, mitre):
        laid = _lay(leg, middle, half, spacing, blocked)
        for number, rungs in enumerate(laid):
            if number or not (stretches[-1] and stretches[-1][-1].joined):
                stretches.append([])
            stretches[-1].append(rungs)
        if not laid:
            stretches.append([])
    found = [tuple(legs) for legs in stretches if legs]
    if middle.closed and len(found) > 1 and found[-1][-1].joined:
        found = [(*found[-1], *found[0]), *found[1:-1]]
    return tuple(found)


def _legs(middle: Path, half: float, ends: tuple[EndCut, EndCut], mitre: float) -> list[_Leg]:
    """Stretches from corner to corner."""
    corners = middle.corners.tolist()
    points = middle.points
    if middle.closed:
        if not corners:
            return [_Leg(points=points, closed=True)]
        rolled = np.concatenate([points[corners[0] :], points[: corners[0] + 1]])
        stops = [one - corners[0] for one in corners] + [len(rolled) - 1]
    else:
        rolled, stops = points, corners
    parts = [rolled[a : b + 1] for a, b in pairwise(stops)]
    legs = []
    for number, part in enumerate(parts):
        first, last = number == 0, number == len(parts) - 1
        prior = parts[number - 1] if not first or middle.closed else None
        later = parts[(number + 1) % len(parts)] if not last or middle.closed else None
        turned = None if prior is None else prior[::-1]
        before, cut_before, _ = _end(part[::-1], turned, half, ends[0], mitre)
        after, cut_after, tip = _end(part, later, half, ends[1], mitre)
        joined = later is not None and cut_after is not None
        cuts = (cut_before, cut_after)
        legs.append(
            _Leg(
                points=part,
                closed=False,
                before=before,
                after=after,
                cuts=cuts,
                tip=tip,
                joined=joined,
            )
        )
    return legs


def _end(
    leg: FloatArray, later: FloatArray | None, half: float, end: EndCut, most: float
) -> tuple[float, _HalfPlane | None, Point | None]:
    """How far past its last point a leg goes on, where it is cut off, and its outer corner."""
    corner, along = leg[-1], _unit(leg[-1] - leg[-2])
    if later is None:
        if end.along is None:
            return end.past, None, None
        beyond = np.array([-end.along[1], end.along[0]])
        beyond = beyond if beyond @ along > 0 else -beyond
        return end.past, _HalfPlane(corner + beyond * end.reach, beyond), None
    onward = _unit(later[1] - later[0])
    between = math.pi - abs(math.atan2(_cross(along, onward), float(along @ onward)))
    if math.degrees(between) < _TURNS_BACK:
        return half, None, None
    mitre = half / math.tan(between / 2)
    cut = _HalfPlane(corner, _unit(along + onward))
    if mitre > most * half * (1 + 1e-9):
        return most * half, cut, None
    outward = -half if _cross(along, onward) > 0 else half
    tip = corner + along * mitre + np.array([-along[1], along[0]]) * outward
    return mitre, cut, (float(tip[0]), float(tip[1]))


def _lay(
    leg: _Leg, middle: Path, half: float, spacing: float, blocked: BaseGeometry | None
) -> list[Rungs]:
    """Rungs of a leg, in one stretch or several."""
    points, normals = _lengthened(leg)
    where, own = _stations(leg, points, normals, half, spacing)
    at, across = _between(points, where), _between(normals, where)
    across = across / np.hypot(across[:, 0], across[:, 1])[:, None]
    low, high = np.full(len(at), -half), np.full(len(at), half)
    run = _between(np.stack([_reach(points)] * 2, axis=1), where)[:, 0]
    for cut, away in zip(leg.cuts, (run, run[-1] - run), strict=True):
        if cut is not None:
            near = away <= 3 * half + leg.before + leg.after
            low, high = _kept(cut, at, across, low, high, near)
    both = _clear(
        middle,
        np.concatenate([at, at]),
        np.concatenate([across, -across]),
        np.concatenate([high, -low]),
        np.concatenate([own, own]),
    )
    high, low = np.minimum(high, both[: len(at)]), -np.minimum(-low, both[len(at) :])
    left, right = at + across * high[:, None], at + across * low[:, None]
    good = high - low >= LEAST_RUNG
    if blocked is not None and not blocked.is_empty:
        left, right = _unblocked(left, right, blocked)
        good &= np.hypot(*(left - right).T) >= LEAST_RUNG
    return _parted(leg, left, right, good)


def _lengthened(leg: _Leg) -> tuple[FloatArray, FloatArray]:
    """Points of a leg with those past its ends, and the direction to the left at each."""
    points = leg.points
    if leg.closed:
        ahead, behind = following(points) - points, points - preceding(points)
    else:
        ahead = np.concatenate([np.diff(points, axis=0), points[-1:] - points[-2:-1]])
        behind = np.concatenate([points[1:2] - points[:1], np.diff(points, axis=0)])
    along = _units(ahead) + _units(behind)
    normals = _units(np.stack([along[:, 1], -along[:, 0]], axis=1))
    if leg.closed:
        return np.concatenate([points, points[:1]]), np.concatenate([normals, normals[:1]])
    if leg.before > 0:
        first = points[0] - _unit(points[1] - points[0]) * leg.before
        points, normals = np.concatenate([[first], points]), np.concatenate([normals[:1], normals])
    if leg.after > 0:
        last = points[-1] + _unit(points[-1] - points[-2]) * leg.after
        points, normals = np.concatenate([points, [last]]), np.concatenate([normals, normals[-1:]])
    return points, normals


def _stations(
    leg: _Leg, points: FloatArray, normals: FloatArray, half: float, spacing: float
) -> tuple[FloatArray, BoolArray]:
    """Places half a spacing apart along the longer edge, and whether each is on the leg itself."""
    moved = [np.diff(points + normals * side, axis=0) for side in (half, -half)]
    advance = np.maximum(*[np.hypot(one[:, 0], one[:, 1]) for one in moved])
    gone = np.concatenate([[0.0], np.cumsum(advance)])
    count = max(2, math.ceil(gone[-1] / (spacing / 2) - 1e-9))
    count += count % 2 if leg.closed else 0
    wanted = np.linspace(0.0, gone[-1], count + 1)
    where = np.interp(wanted, gone, np.arange(len(points), dtype=np.float64))
    if leg.closed:
        where = where[:-1]
    first = 1.0 if leg.before > 0 else 0.0
    last = len(points) - 1 - (1.0 if leg.after > 0 else 0.0)
    own: BoolArray = (where >= first - 1e-9) & (where <= last + 1e-9)
    return where, own


def _kept(
    cut: _HalfPlane,
    at: FloatArray,
    across: FloatArray,
    low: FloatArray,
    high: FloatArray,
    near: BoolArray,
) -> tuple[FloatArray, FloatArray]:
    """What a half plane leaves of each rung."""
    over = (at - cut.through) @ cut.beyond
    slope = across @ cut.beyond
    flat = np.abs(slope) < 1e-9
    meets = np.divide(-over, slope, out=np.zeros_like(over), where=~flat)
    new_high = np.where(near & ~flat & (slope > 0), np.minimum(high, meets), high)
    new_low = np.where(near & ~flat & (slope < 0), np.maximum(low, meets), low)
    gone = near & flat & (over > 1e-9)
    return np.where(gone, new_high, new_low), new_high


def _clear(
    middle: Path, at: FloatArray, across: FloatArray, most: FloatArray, own: BoolArray
) -> FloatArray:
    """How far one can go to a side before the middle is nearer from elsewhere, mm."""
    if len(middle.points) == 2:  # a straight one is nowhere else
        return most
    line = middle.line
    shapely.prepare(line)

    def nearest(which: IntArray, far: FloatArray) -> BoolArray:
        place = at[which] + across[which] * far[:, None]
        nearer = far * (1 - _NEARER_SHARE) - _NEARER
        spots = np.asarray(shapely.points(place), dtype=np.object_)
        # Each its own distance, which the stubs know of one for all alone.
        return ~np.asarray(shapely.dwithin(line, spots, nearer))  # type: ignore[call-overload]

    reach = most.copy()
    which = np.flatnonzero(own & (most > 0))
    which = which[~nearest(which, most[which])]
    if not len(which):
        return reach
    low, high = np.zeros(len(which)), most[which]
    for _ in range(_HALVINGS):
        half = (low + high) / 2
        good = nearest(which, half)
        low, high = np.where(good, half, low), np.where(good, high, half)
    reach[which] = low
    return reach


def _unblocked(
    left: FloatArray, right: FloatArray, blocked: BaseGeometry
) -> tuple[FloatArray, FloatArray]:
    """The longest part of each rung that is free."""
    left, right = left.copy(), right.copy()
    shapely.prepare(blocked)
    rungs = np.asarray(shapely.linestrings(np.stack([left, right], axis=1)))
    hit = np.flatnonzero(shapely.intersects(blocked, rungs))
    parts, of = shapely.get_parts(shapely.difference(rungs[hit], blocked), return_index=True)
    lengths = shapely.length(parts)
    begins = np.searchsorted(of, np.arange(len(hit) + 1))
    for one, first, end in zip(hit.tolist(), begins[:-1], begins[1:], strict=True):
        if first == end or not lengths[first]:
            right[one] = left[one]
            continue
        ends = shapely.get_coordinates(parts[first + int(lengths[first:end].argmax())])
        left[one], right[one] = ends[0], ends[-1]
    return left, right


def _parted(leg: _Leg, left: FloatArray, right: FloatArray, good: BoolArray) -> list[Rungs]:
    """Stretches of rungs that are long enough."""
    bounds = np.flatnonzero(np.diff(np.concatenate([[False], good, [False]]).astype(np.int8)))
    spans = [(int(a), int(b)) for a, b in zip(bounds[::2], bounds[1::2], strict=True)]
    spans = [(a, b) for a, b in spans if b - a >= 2]
    found = []
    for a, b in spans:
        ends_it = b == spans[-1][1] and not leg.closed
        tip, joined = (leg.tip, leg.joined) if ends_it else (None, False)
        found.append(Rungs(left[a:b], right[a:b], tip, joined))
    return found


def _between(values: FloatArray, where: FloatArray) -> FloatArray:
    """Values at places between those of an array."""
    at = np.minimum(where.astype(np.intp), len(values) - 2)
    share = (where - at)[:, None]
    found: FloatArray = values[at] * (1 - share) + values[at + 1] * share
    return found


def _reach(points: FloatArray) -> FloatArray:
    steps = np.diff(points, axis=0)
    return np.concatenate([[0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))])


def _units(vectors: FloatArray) -> FloatArray:
    found: FloatArray = vectors / np.hypot(vectors[:, 0], vectors[:, 1])[:, None]
    return found


def _unit(vector: FloatArray) -> FloatArray:
    found: FloatArray = vector / math.hypot(*vector)
    return found


def _cross(one: FloatArray, other: FloatArray) -> float:
    return float(one[0] * other[1] - one[1] * other[0])


def turned_round(legs: tuple[Rungs, ...]) -> tuple[Rungs, ...]:
    """The same column from its other end."""
    found = []
    for at in range(len(legs) - 1, -1, -1):
        leg, before = legs[at], legs[at - 1] if at else None
        tip, joined = (before.tip, before.joined) if before else (None, False)
        found.append(Rungs(leg.right[::-1], leg.left[::-1], tip, joined))
    return tuple(found)


def covered(legs: tuple[Rungs, ...], *, closed: bool = False) -> BaseGeometry:
    """What a column covers.

    Parameters
    ----------
    legs : tuple of Rungs
    closed : bool
        Whether it comes back to its start without a corner.

    Examples
    --------
    >>> from paramgen.vocabulary.path import path
    >>> (legs,) = column_rungs(path([(0, 0), (4, 0)], closed=False), 2, 1)
    >>> covered(legs).area
    8.0
    """
    parts = [_covered(leg, closed) for leg in legs]
    return parts[0] if len(parts) == 1 else shapely.union_all(parts)


def _covered(leg: Rungs, closed: bool) -> BaseGeometry:
    """What a leg covers: the outline of its rungs, or all between two of them where it folds."""
    left, right = leg.left, leg.right
    if closed:
        left, right = (np.concatenate([side, side[:1]]) for side in (left, right))
    elif _unfolded(left, right):
        outline = shapely.Polygon(np.concatenate([right, left[::-1]]))
        if outline.is_valid:
            return outline
    pieces = shapely.polygons(np.stack([left[:-1], left[1:], right[1:], right[:-1]], axis=1))
    return shapely.union_all(shapely.make_valid(pieces))


def _unfolded(left: FloatArray, right: FloatArray) -> bool:
    """Whether each rung lies on from the one before, at both its ends: no piece is turned over."""
    across = left - right
    on = [np.diff(side, axis=0) for side in (left, right)]
    ways = [
        side[:, 0] * one[:, 1] - side[:, 1] * one[:, 0]
        for side in on
        for one in (across[:-1], across[1:])
    ]
    return bool((np.array(ways) < 0).all())
