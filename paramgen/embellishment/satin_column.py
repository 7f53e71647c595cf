"""Satin: a zigzag from edge to edge so close that the thread covers what lies under it.

The needle goes in by turns at the left and the right end of the rungs (`satin_rungs.py`). Where
needle points of one edge would come too near to others, on the inside of a bend or at a mitre,
every other one is drawn in towards the other edge, so that they do not pile up and cut the cloth.
Under it lies a run along the middle, or a wide zigzag: it holds the cloth to the stabiliser before
the satin pulls, lifts the satin, and carries the thread from place to place unseen.
"""

import math

import numpy as np

from paramgen.embellishment.needle_holes import Hole, Holes, full
from paramgen.embellishment.satin_rungs import (
    LEAST_RUNG,
    LONGEST_MITRE,
    EndCut,
    Rungs,
    column_rungs,
)
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, IntArray, Path

#: From needle point to needle point along one edge, mm: 40 weight thread, which is about as wide,
#: then covers (common practice, no source). Closer rows pile up, wider ones let the cloth show.
SPACING, LEAST_SPACING, MOST_SPACING = 0.4, 0.35, 1.0

#: Narrower, satin sinks into the cloth and its two edges make one slit; wider, its loose stitches
#: catch, mm (common practice, no source). Wider stitches get needle points between.
LEAST_WIDTH, LONGEST_LOOSE = 1.0, 7.0

#: Stitches draw the cloth together along themselves, so that satin comes out narrower than it is
#: stitched by about so much in all, mm; it is stitched so much wider (from memory: 0.2 to 0.4 on
#: woven cotton, more on what is soft or stretches).
PULL = 0.3

#: How far needle points that would pile up are drawn in, as shares of the stitch, in turn.
_DRAWN_IN = (0.0, 0.13, 0.26, 0.39, 0.5)
#: What is left of a stitch that is drawn in is no shorter, mm.
_LEFT_OF_IT = 0.6
#: The noise of arithmetic, mm.
_HAIR = 1e-6

#: Where a needle goes in, mm: plain numbers, as they are looked at one after another.
_Place = tuple[float, float]

#: Stitches of a run under satin; from needle point to needle point of a zigzag under it, and how
#: far that stays inside the edges; from which width there is one; mm (from memory).
UNDER_RUN, UNDER_SPACING, UNDER_INSET, UNDER_ZIGZAG_FROM = 1.5, 2.0, 0.5, 2.5


@dataclass(frozen=True, kw_only=True)
class Satin:
    """How a column is sewn.

    Parameters
    ----------
    width : float
        As it comes out, mm.
    spacing : float
        From needle point to needle point along one edge, mm.
    pull : float
        So much wider it is stitched, mm in all.
    mitre : float
        A corner whose mitre reaches further past it is cut off square, in half widths.
    """

    width: float
    spacing: float = SPACING
    pull: float = PULL
    mitre: float = LONGEST_MITRE

    @property
    def stitched(self) -> float:
        """Width from needle point to needle point, mm.

        >>> Satin(width=3.0, pull=0.25).stitched
        3.25
        """
        return self.width + self.pull


def satin_along(
    middle: Path,
    satin: Satin,
    ends: tuple[EndCut, EndCut] = (EndCut(0.0), EndCut(0.0)),
    holes: Holes | None = None,
) -> tuple[FloatArray, ...]:
    """Needle points of satin along a line, with what lies under it.

    Parameters
    ----------
    middle : Path
    satin : Satin
    ends : tuple of EndCut
        How an open one begins and ends.
    holes : Holes or None
        Needle points that there are already; these are added.

    Returns
    -------
    tuple of array of float, shape (n, 2)
        Each sewn without a cut, mm: out along the middle, and back over it; a closed line round
        and round once more.

    Examples
    --------
    >>> from paramgen.vocabulary.path import path
    >>> (needles,) = satin_along(path([(0, 0), (10, 0)], closed=False), Satin(width=2, pull=0))
    >>> float(needles[0, 0]), float(needles[-1, 0])  # there and back
    (0.0, 0.0)
    >>> needles.min(axis=0).tolist(), needles.max(axis=0).tolist()
    ([0.0, -1.0], [10.0, 1.0])
    """
    found = []
    holes = holes or Holes()
    for legs in column_rungs(middle, satin.stitched, satin.spacing, ends, mitre=satin.mitre):
        under = under_satin(legs, satin)
        under = under[holes.room_for(under)]
        over = over_satin(legs, holes)
        found.append(at_least_apart(np.concatenate([under, over if middle.closed else over[::-1]])))
    return tuple(found)


def over_satin(legs: tuple[Rungs, ...], holes: Holes) -> FloatArray:
    """Needle points of the satin alone, from the first rung to the last, mm.

    Parameters
    ----------
    legs : tuple of Rungs
    holes : Holes
        Those there are already; these are added.
    """
    placed: list[_Place] = []
    for leg in legs:
        lengths = np.hypot(*(leg.left - leg.right).T).tolist()
        ends = zip(leg.left.tolist(), leg.right.tolist(), lengths, strict=True)
        for at, (left, right, length) in enumerate(ends):
            edge, other = (right, left) if at % 2 else (left, right)
            found = _drawn_in(edge, other, length, holes)
            if found is not None and _apart(found[0], placed):
                place, near = found
                holes.make(*place, near)
                placed.append(place)
        tip = leg.tip
        if tip is not None and _apart(tip, placed) and not holes.full(*tip):
            holes.add(*tip)
            placed.append(tip)
    return _split(np.array(placed).reshape(-1, 2))


def _drawn_in(
    edge: list[float], other: list[float], length: float, holes: Holes
) -> tuple[_Place, list[Hole]] | None:
    """The needle point at an edge, or so far inside it that none pile up, and what is near it.

    None if all pile up.
    """
    across, down = other[0] - edge[0], other[1] - edge[1]
    for share in _DRAWN_IN:
        x, y = edge[0] + across * share, edge[1] + down * share
        near = holes.near(x, y)
        if not full(near):
            return (x, y), near
        if length * (1 - max(_DRAWN_IN)) < _LEFT_OF_IT:
            return None
    return None


def _apart(place: _Place, placed: list[_Place]) -> bool:
    """Whether a stitch from the last needle point to a place is long enough."""
    if not placed:
        return True
    return math.hypot(place[0] - placed[-1][0], place[1] - placed[-1][1]) >= LEAST_RUNG - _HAIR


def _split(needles: FloatArray) -> FloatArray:
    """Put needle points into stitches that are too long to lie loose, not all in one line."""
    steps = np.diff(needles, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    # They are moved by up to a third of a part, so that one part is longer by so much.
    parts = np.where(lengths > LONGEST_LOOSE, np.ceil(lengths * 4 / 3 / LONGEST_LOOSE), 1)
    parts = parts.astype(int)
    if (parts <= 1).all():
        return needles
    found = [needles[:1]]
    for at, count in enumerate(parts.tolist()):
        if count > 1:
            moved = (at % 3 - 1) / (3 * count)
            share = (np.arange(1, count) / count + moved)[:, None]
            found.append(needles[at] + steps[at] * share)
        found.append(needles[at + 1 : at + 2])
    return np.concatenate(found)


def under_satin(legs: tuple[Rungs, ...], satin: Satin) -> FloatArray:
    """Needle points of what lies under satin, from the first rung to the last, mm."""
    return at_least_apart(np.concatenate([needles for needles, _ in _under(legs, satin)]))


def under_by_rung(legs: tuple[Rungs, ...], satin: Satin) -> tuple[FloatArray, IntArray]:
    """The same, and at which rung each of them is, counted through all legs."""
    parts = _under(legs, satin)
    sizes = np.cumsum([0, *(len(leg.left) for leg in legs)])
    which = [rungs + size for (_, rungs), size in zip(parts, sizes[:-1], strict=True)]
    return np.concatenate([needles for needles, _ in parts]), np.concatenate(which)


def _under(legs: tuple[Rungs, ...], satin: Satin) -> list[tuple[FloatArray, IntArray]]:
    """For each leg the needle points under it, and their rungs."""
    found = []
    wide = satin.stitched >= UNDER_ZIGZAG_FROM
    for leg in legs:
        middles = leg.middles
        gone = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(middles, axis=0).T))])
        step = UNDER_SPACING / 2 if wide else UNDER_RUN
        count = max(1, math.ceil(gone[-1] / step - 1e-9))
        at = np.round(np.interp(np.linspace(0, gone[-1], count + 1), gone, np.arange(len(gone))))
        which = np.unique(at.astype(np.intp))
        found.append((_under_zigzag(leg, which) if wide else middles[which], which))
    return found


def _under_zigzag(leg: Rungs, which: IntArray) -> FloatArray:
    """By turns near the left and the right end of some of the rungs."""
    left, right = leg.left[which], leg.right[which]
    long = np.hypot(*(left - right).T)
    share = np.minimum(UNDER_INSET / long, 0.5)[:, None]
    odd = (np.arange(len(which)) % 2 == 1)[:, None]
    near, far = np.where(odd, right, left), np.where(odd, left, right)
    found: FloatArray = near + (far - near) * share
    return found


def at_least_apart(needles: FloatArray) -> FloatArray:
    """Leave out needle points that come too near to the one before.

    >>> at_least_apart(np.array([[0.0, 0.0], [0.2, 0.0], [1.0, 0.0]])).tolist()
    [[0.0, 0.0], [1.0, 0.0]]
    """
    places = needles.tolist()
    kept = [0] if places else []
    for at, (x, y) in enumerate(places):
        before = places[kept[-1]]
        if math.hypot(x - before[0], y - before[1]) >= LEAST_RUNG - _HAIR:
            kept.append(at)
    return needles[kept]
