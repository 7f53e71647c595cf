"""Letters in a single line: each stroke sewn out, and back with the needle between its holes."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
import shapely.ops

from paramgen.embellishment.needle_holes import not_piled_up
from paramgen.embellishment.satin_rungs import LEAST_RUNG
from paramgen.embellishment.stroke_tree import Branch, stroke_tree
from paramgen.geometry.along_path import part, points_at
from paramgen.letters.set_words import SetWords
from paramgen.vocabulary.path import FloatArray, Path

#: Longest stitch, and what no stitch of an equal share is shorter than, mm (common practice, no
#: source); and by how much a curve may turn over one, degrees (our own choice).
LONGEST, SHORTEST, MOST_TURN = 1.8, 0.7, 26.0
#: A dot is a dash of at least so much, mm: less is no stitch.
LEAST_DASH = 1.0
#: Strokes whose ends come so near to another leave it, mm.
_NEAR = 0.05
#: Places so near are one, mm.
_SAME = 1e-6


def single_line_letters(words: SetWords) -> tuple[FloatArray, ...]:
    """Needle points of words in a single line.

    Returns
    -------
    tuple of array of float, shape (n, 2)
        Each sewn without a cut, mm.

    Examples
    --------
    >>> from paramgen.letters.set_words import set_words
    >>> (upright,) = single_line_letters(set_words("I", 6, 0))
    >>> upright[:, 1].round(2).tolist()  # four stitches of 1.5 mm, and back between their holes
    [3.0, 1.5, 0.0, -1.5, -3.0, -2.25, -0.75, 0.75, 2.25, 3.0]
    """
    found = []
    for letter in words.letters:
        lines = _parted([_dash(one) for one in letter.strokes])
        roots = stroke_tree([one.points for one in lines], _NEAR)
        found += [_sewn(root, lines) for root in roots]
    return not_piled_up(found)


def _dash(stroke: Path) -> Path:
    """A stroke that is too short for a stitch, made longer about its middle."""
    if stroke.length >= LEAST_DASH:
        return stroke
    middle = stroke.points.mean(axis=0)
    return Path(middle + (stroke.points - middle) * (LEAST_DASH / stroke.length), stroke.closed)


def _parted(strokes: Sequence[Path]) -> list[Path]:
    """Strokes cut in two where they cross one before them; rings opened where they touch one."""
    found: list[Path] = []
    for stroke in strokes:
        found += [_opened(stroke, found)] if stroke.closed else _cut(stroke, found)
    return found


def _cut(stroke: Path, before: Sequence[Path]) -> list[Path]:
    marks = [0.0, stroke.length]
    for other in before:
        for place in shapely.get_parts(stroke.line.intersection(other.line)):
            at = float(stroke.line.project(place)) if place.geom_type == "Point" else 0.0
            if min(abs(at - mark) for mark in marks) > LEAST_DASH / 2:
                marks.append(at)
    marks.sort()
    if len(marks) == 2:
        return [stroke]
    return [part(stroke, a, b) for a, b in pairwise(marks)]


def _opened(ring: Path, before: Sequence[Path]) -> Path:
    """A closed stroke as an open one that ends where it began: on one before it, if it can."""
    begin = 0.0
    for other in before:
        if ring.line.distance(other.line) <= _NEAR:
            on_it, _ = shapely.ops.nearest_points(ring.line, other.line)
            begin = float(ring.line.project(on_it))
    points = points_at(ring, np.array([begin]))
    passed = ring.reach[:-1]
    after, first = ring.points[passed > begin + 1e-6], ring.points[passed < begin - 1e-6]
    return Path(np.concatenate([points, after, first, points]), False)


def _sewn(branch: Branch, strokes: Sequence[Path]) -> FloatArray:
    """Out along a stroke, with all that leaves it, and back."""
    stroke, own = strokes[branch.stroke], branch.branches
    if branch.turned:
        stroke = Path(stroke.points[::-1].copy(), stroke.closed)
    leaving = sorted(
        ((stroke.length - one.along if branch.turned else one.along), at)
        for at, one in enumerate(own)
    )
    marks = _marks(stroke, [along for along, _ in leaving])
    out: list[FloatArray] = []
    for start, end in pairwise(marks):
        out.append(points_at(stroke, np.array([start])))
        while leaving and leaving[0][0] <= start + _SAME:
            out.append(_sewn(own[leaving.pop(0)[1]], strokes))
        count = _stitches(stroke, start, end)
        places = start + (end - start) * np.arange(1, count) / count
        out.append(points_at(stroke, places))
    out.append(points_at(stroke, np.array([stroke.length])))
    out += [_sewn(own[at], strokes) for _, at in leaving]
    return np.concatenate([*out, _back(stroke, marks)])


def _marks(stroke: Path, leaving: Sequence[float]) -> list[float]:
    """Places between which the stitches are equal: corners, where one leaves, ends of curves."""
    reach = stroke.reach
    chords = np.diff(reach)
    longer, shorter = np.maximum(chords[1:], chords[:-1]), np.minimum(chords[1:], chords[:-1])
    bends = np.flatnonzero((longer > 3 * shorter) & (longer > SHORTEST)) + 1
    marks: list[float] = []
    exact = reach[stroke.corners].tolist()
    for one in [*exact, *leaving]:
        if all(abs(one - other) > _SAME for other in marks):
            marks.append(one)
    for one in reach[bends].tolist():
        if all(abs(one - other) > SHORTEST for other in marks):
            marks.append(one)
    return sorted(marks)


def _back(stroke: Path, marks: Sequence[float]) -> FloatArray:
    """Needle points of the way back: between those of the way out, and at corners."""
    corners = set(stroke.reach[stroke.corners].tolist())
    places: list[float] = []
    for start, end in pairwise(marks):
        count = _stitches(stroke, start, end)
        places += [start] if start in corners else []
        if count > 1 or end - start >= 2 * LEAST_RUNG:
            places += (start + (end - start) * (np.arange(count) + 0.5) / count).tolist()
    return points_at(stroke, np.array(places[::-1]))


def _stitches(stroke: Path, start: float, end: float) -> int:
    """Equal stitches between two places."""
    span, at = end - start, stroke.reach[: len(stroke.points)]
    inner = (at > start + _SAME) & (at < end - _SAME)
    turn = float(np.abs(stroke.turns[inner]).sum())
    wanted = max(math.ceil(span / LONGEST - 1e-9), math.ceil(turn / MOST_TURN - 1e-9), 1)
    return max(1, min(wanted, math.floor(span / SHORTEST)))
