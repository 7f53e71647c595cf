"""Letters in satin: each stroke a column, cut back where it meets one before it."""

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.needle_holes import Holes
from paramgen.embellishment.satin_column import Satin, at_least_apart, over_satin, under_by_rung
from paramgen.embellishment.satin_rungs import (
    EndCut,
    Rungs,
    column_rungs,
    covered,
    turned_round,
)
from paramgen.embellishment.stroke_tree import Branch, stroke_tree
from paramgen.letters.letterforms import DESCENDER, FOOT, HEAD, SMALL_HEAD
from paramgen.letters.set_words import SetLetter, SetWords
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path

#: A stroke reaches so far under the edge of one that it ends on, mm (common practice, no source).
OVERLAP = 0.3

#: Corners in letters are no longer than square ones, in half widths.
_MITRE = 1.0

#: A stroke ends level with the letters where it ends on one of their lines, in hundredths of a
#: height, and is steep: rises more than it goes along.
_LEVEL_WITHIN, _STEEP = 1.0, 0.55


#: A stroke ends on another to whose middle it comes so near, in hundredths of a height; columns
#: touch so near to each other, mm.
_ON_IT, _TOUCHES = 1.5, 0.6


@dataclass(frozen=True, eq=False)
class _Column:
    legs: tuple[Rungs, ...]
    closed: bool

    @property
    def middles(self) -> FloatArray:
        return np.concatenate([one.middles for one in self.legs])


def satin_letters(words: SetWords, satin: Satin) -> tuple[FloatArray, ...]:
    """Needle points of words in satin.

    Parameters
    ----------
    words : SetWords
        Set with a pen as wide as the satin comes out.
    satin : Satin

    Returns
    -------
    tuple of array of float, shape (n, 2)
        Each sewn without a cut, mm.
    """
    holes = Holes()
    return tuple(
        run for letter in words.letters for run in _satin_letter(letter, words, satin, holes)
    )


def _satin_letter(
    letter: SetLetter, words: SetWords, satin: Satin, holes: Holes
) -> list[FloatArray]:
    columns: list[_Column] = []
    areas: list[BaseGeometry] = []
    for number, stroke in enumerate(letter.strokes):
        # What a column covers is asked for by those after it alone.
        areas += [covered(one.legs, closed=one.closed) for one in columns[len(areas) :]]
        lines = shapely.union_all([one.line for one in letter.strokes[:number]])
        ends = _end_cuts(stroke, letter, words, lines)
        blocked = shapely.union_all(areas).buffer(-OVERLAP) if areas else None
        laid = column_rungs(stroke, satin.stitched, satin.spacing, ends, blocked, _MITRE)
        whole = stroke.closed and len(laid) == 1 and _unbroken(laid[0], satin)
        columns += [_Column(legs, whole) for legs in laid]
    if not columns:
        return []
    areas += [covered(one.legs, closed=one.closed) for one in columns[len(areas) : -1]]
    roots = stroke_tree([one.middles for one in columns], _TOUCHES, areas)
    return [at_least_apart(_sewn(root, columns, satin, holes)) for root in roots]


def _unbroken(legs: tuple[Rungs, ...], satin: Satin) -> bool:
    """Whether a closed column is still closed."""
    gap = legs[0].middles[0] - legs[-1].middles[-1]
    return len(legs) == 1 and math.hypot(*gap) <= satin.spacing


def _end_cuts(
    stroke: Path, letter: SetLetter, words: SetWords, before: BaseGeometry
) -> tuple[EndCut, EndCut]:
    """How a stroke ends: on one before it, level on a line of the letters, else square."""
    half, scale = words.pen / 2, (words.height - words.pen) / 100
    up, foot = np.array(letter.up), np.array(letter.foot)
    cuts = []
    for end, inner in ((0, 1), (-1, -2)):
        place, away = stroke.points[end], stroke.points[end] - stroke.points[inner]
        steep = abs(float(away @ up)) / math.hypot(*away)
        rise = -float((place - foot) @ up) / scale
        lines = (HEAD, SMALL_HEAD, FOOT, DESCENDER)
        if before.distance(shapely.Point(place)) <= _ON_IT * scale:
            cuts.append(EndCut(0.0))
            continue
        level = min(abs(rise - one) for one in lines) <= _LEVEL_WITHIN
        if level and steep > _STEEP:
            past = half / steep + half * math.sqrt(max(0.0, 1 / steep**2 - 1)) + half / 2
            cuts.append(EndCut(past, (-letter.up[1], letter.up[0]), half))
        else:
            cuts.append(EndCut(half))
    return cuts[0], cuts[1]


def _sewn(branch: Branch, columns: list[_Column], satin: Satin, holes: Holes) -> FloatArray:
    """Out along a column under it, with all that leaves it, and back over it."""
    column = columns[branch.stroke]
    legs = turned_round(column.legs) if branch.turned else column.legs
    under, rungs = under_by_rung(legs, satin)
    room = holes.room_for(under)
    under, rungs = under[room], rungs[room]
    middles = np.concatenate([one.middles for one in legs])
    gone = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(middles, axis=0).T))])
    parts, done = [], 0
    leaving = [
        (gone[-1] - one.along if branch.turned else one.along, one) for one in branch.branches
    ]
    for along, one in sorted(leaving, key=lambda pair: pair[0]):
        at = int(np.searchsorted(rungs, np.searchsorted(gone, along), side="right"))
        parts += [under[done:at], _sewn(one, columns, satin, holes)]
        done = max(done, at)
    over = over_satin(legs, holes)
    return np.concatenate([*parts, under[done:], over if column.closed else over[::-1]])
