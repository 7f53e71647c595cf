"""An edge pattern laid along a ring: evenly divided between its corners."""

from collections.abc import Iterator
from itertools import groupby, pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.edge_patterns import EdgePattern
from paramgen.embellishment.sewable import sewable
from paramgen.geometry.along_path import points_at
from paramgen.vocabulary.path import FloatArray, Path, path

#: A path is looked at over so much to either side for its direction, mm: less than a stitch.
_REACH = 0.05
#: A pattern on a curve follows it at least so often, mm.
_FOLLOWS = 0.4
#: What is left of a line is at least so long, mm.
_SHORTEST = 6.0
#: Noise, mm.
_HAIR = 0.01


def along_ring(
    ring: Path, pattern: EdgePattern, repeat: float, depth: float, area: BaseGeometry
) -> tuple[tuple[Path, ...], int]:
    """Lay a pattern along a ring, leaving off where there is no room for a repeat.

    Parameters
    ----------
    ring : Path
        Closed, clockwise: its outside is at the left.
    pattern : EdgePattern
    repeat : float
        Wished length of a repeat, mm.
    depth : float
        mm.
    area : Polygon or MultiPolygon
        Where it may lie.

    Returns
    -------
    lines : tuple of Path
        One, closed, where nothing is in its way; else what is left of it.
    number : int
        How many repeats there are.

    Examples
    --------
    Round 90 by 60 mm, 10 mm each: 9 and 6 on a side.

    >>> import shapely
    >>> from paramgen.embellishment.edge_patterns import EDGE_PATTERNS
    >>> from paramgen.geometry.outlines import rectangle
    >>> sheet = rectangle(0, 0, 90, 60)
    >>> scallop, room = EDGE_PATTERNS["scallop"], shapely.box(-5, -5, 95, 65)
    >>> lines, number = along_ring(sheet, scallop, 10.0, 3.0, room)
    >>> [one.closed for one in lines], number
    ([True], 30)
    """
    if not pattern.outward and not pattern.inward:
        return tuple(_clear_parts(ring, area)), 0
    repeats: list[FloatArray] = []
    for start, end in _sides(ring, repeat):
        number = repeats_on(end - start, repeat, pair=pattern.pair)
        length = (end - start) / number
        bends = _bends(ring, start, end)
        by_turns = []
        for one in range(min(number, 2)):
            whole = np.concatenate([pattern.drawn(length, depth, one), [[length, 0.0]]])
            by_turns.append(_closer(whole) if bends else whole)
        drawn = [by_turns[one % 2] + np.array([one * length, 0.0]) for one in range(number)]
        laid = _laid(ring, start, end, np.concatenate(drawn))
        repeats += np.split(laid, np.cumsum([len(one) for one in drawn])[:-1])
    room = area.buffer(_HAIR)
    shapely.prepare(room)
    which = np.repeat(np.arange(len(repeats)), [len(one) for one in repeats])
    lines = shapely.linestrings(np.concatenate(repeats), indices=which)
    there = np.asarray(shapely.covers(room, lines)).tolist()
    if all(there):
        return (sewable(path(np.concatenate(repeats), closed=True)),), len(repeats)
    return tuple(_stretches(repeats, there)), sum(there)


def _clear_parts(ring: Path, area: BaseGeometry) -> Iterator[Path]:
    """A ring, or what of it there is room for."""
    room = area.buffer(_HAIR)
    if shapely.covers(room, ring.line):
        yield sewable(ring)
        return
    left = shapely.line_merge(ring.line & room)
    for part in shapely.get_parts(left):
        if part.geom_type == "LineString" and part.length > _SHORTEST:
            yield sewable(path(shapely.get_coordinates(part), closed=False))


def _bends(ring: Path, start: float, end: float) -> bool:
    """Whether a side is not straight: it has vertices between its ends."""
    reach = np.concatenate([ring.reach, ring.reach[1:] + ring.length])
    return bool(((reach > start + _HAIR) & (reach < end - _HAIR)).any())


def _closer(spots: FloatArray) -> FloatArray:
    """Points with others between them, so that they follow a curve."""
    found = [spots[:1]]
    for a, b in pairwise(spots):
        number = max(1, round(float(np.hypot(*(b - a))) / _FOLLOWS))
        found.append(a + (b - a) * (np.arange(1, number + 1) / number)[:, np.newaxis])
    return np.concatenate(found)


def _sides(ring: Path, repeat: float) -> Iterator[tuple[float, float]]:
    """From corner to corner; of corners that lie too near for half a repeat the first alone."""
    corners: list[float] = []
    for reading in ring.reach[ring.corners].tolist():
        if not corners or reading - corners[-1] >= repeat / 2:
            corners.append(reading)
    if len(corners) > 1 and corners[0] + ring.length - corners[-1] < repeat / 2:
        corners.pop()
    starts = corners or [0.0]
    yield from pairwise([*starts, starts[0] + ring.length])


def _stretches(repeats: list[FloatArray], there: list[bool]) -> Iterator[Path]:
    """Repeats that follow each other, as open lines."""
    gap = there.index(False)
    order = [*range(gap, len(there)), *range(gap)]
    for kept, group in groupby(order, key=lambda at: there[at]):
        if kept:
            spots = np.concatenate([repeats[at] for at in group])
            yield sewable(path(spots, closed=False))


def repeats_on(side: float, repeat: float, *, pair: bool) -> int:
    """How many repeats fill a side: the number that makes them most nearly as long as wished.

    Examples
    --------
    >>> repeats_on(95.0, 10.0, pair=False), repeats_on(95.0, 10.0, pair=True)
    (10, 10)
    >>> repeats_on(85.0, 10.0, pair=True), repeats_on(3.0, 10.0, pair=False)
    (8, 1)
    """
    step = 2 if pair else 1
    return max(1, round(side / (repeat * step) + 1e-9)) * step


def _laid(ring: Path, start: float, end: float, spots: FloatArray) -> FloatArray:
    """Points along a side of a ring, and out from it."""
    at = np.clip(start + spots[:, 0], start, end)
    low, high = np.clip(at - _REACH, start, end), np.clip(at + _REACH, start, end)
    places = points_at(ring, np.concatenate([high, low, at]) % ring.length)
    ahead, behind, there = places.reshape(3, -1, 2)
    along = ahead - behind
    along /= np.hypot(along[:, 0], along[:, 1])[:, np.newaxis]
    out = np.stack([along[:, 1], -along[:, 0]], axis=1)
    laid: FloatArray = there + out * spots[:, 1:]
    return laid
