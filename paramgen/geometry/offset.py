"""Outlines a length inside or outside another.

Convex outlines are offset by moving their vertices, which is exact and keeps them one for one;
only others go through the geometry library.
"""

import math

import numpy as np
import shapely

from paramgen.budget import CORNERS_MOVED, POINTS
from paramgen.geometry.outlines import ShapeError
from paramgen.vocabulary.facts import Clause, Mm
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, following, path, preceding

#: Less is the noise of arithmetic, mm².
NO_AREA = 1e-9


def clockwise(outline: Path) -> Path:
    """Turn a closed path so that it runs clockwise as seen (y down).

    Examples
    --------
    With y down, right and then down is clockwise:

    >>> round_right = path([(0, 0), (4, 0), (4, 3)], closed=True)
    >>> clockwise(round_right) is round_right
    True
    >>> clockwise(path([(4, 3), (4, 0), (0, 0)], closed=True)).points.tolist()
    [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0]]

    What has no area runs neither way, and stays:

    >>> there_and_back = path([(0, 0), (4, 0)], closed=True)
    >>> clockwise(there_and_back) is there_and_back
    True
    """
    return outline if signed_area(outline.points) >= 0 else Path(outline.points[::-1].copy(), True)


def signed_area(points: FloatArray) -> float:
    """Area in mm² of a closed ring, positive if it runs clockwise as seen (y down).

    Examples
    --------
    >>> ring = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 3.0]])
    >>> signed_area(ring), signed_area(ring[::-1])  # 4 × 3 / 2
    (6.0, -6.0)
    >>> signed_area(ring[:2]), signed_area(ring[:0])
    (0.0, 0.0)
    """
    x, y = points[:, 0], points[:, 1]
    return float(np.dot(x, following(y)) - np.dot(y, following(x))) / 2


def offset(outline: Path, by: float, *, round_corners: bool = False) -> Path:
    """Outline at a distance from a closed one.

    Parameters
    ----------
    outline : Path
        Closed.
    by : float
        Millimetres; positive outside, negative inside; less than `CHORD_ERROR` is nothing.
    round_corners : bool
        Keep the distance round the corners that point away, instead of keeping them sharp.

    Raises
    ------
    ShapeError
        If nothing is left, it falls into several parts, or the outline has no area.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle

    >>> sheet = rectangle(0, 0, 4, 3)
    >>> offset(sheet, 1).bounds
    (-1.0, -1.0, 5.0, 4.0)

    Round corners take away four squares of 1 mm, and leave a circle of 1 mm radius of them:

    >>> rounded = offset(sheet, 1, round_corners=True)
    >>> round(rounded.area.area, 2) == round(6 * 5 - 4 + math.pi, 2)
    True

    Nothing outside is the outline; 1.5 mm from both sides of 3 mm leave nothing:

    >>> offset(sheet, 0) is sheet
    True
    >>> offset(sheet, -1.5)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: nothing-inside {'by': Mm(value=1.5, towards='')}
    >>> offset(path([(0, 0), (4, 0)], closed=True), 1)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: outline-of-no-area
    """
    outline = clockwise(outline)
    if abs(by) < CHORD_ERROR:
        return outline
    if abs(signed_area(outline.points)) < NO_AREA and outline.area.area < NO_AREA:
        raise ShapeError("outline-of-no-area")
    if not (round_corners and by > 0):
        moved = _mitred(outline, by)
        if moved is not None:
            return moved
    ring = shapely.Polygon(outline.points)
    CORNERS_MOVED.ask(_bends(outline), Clause("in-a-moved-outline"))
    if round_corners:
        # Chords to a quarter circle, see `arc_points` for the sagitta. Half as many again, as
        # the chords round a corner are rounded to a whole number: one may span 3/2 of its share.
        chords = math.ceil(1.5 * math.pi / 4 / math.acos(1 - CHORD_ERROR / abs(by)))
        round_all = np.abs(outline.turns).sum() / 90.0
        POINTS.ask(len(outline.points) + chords * round_all, Clause("round-corners"))
        grown = ring.buffer(by, quad_segs=max(12, chords), join_style="round")
    else:
        grown = ring.buffer(by, join_style="mitre", mitre_limit=10.0)
    if grown.is_empty or grown.area <= 0:
        raise ShapeError("nothing-inside", by=Mm(abs(by)))
    if grown.geom_type != "Polygon":
        raise ShapeError("outline-in-parts", by=Mm(abs(by)))
    return clockwise(path(shapely.get_coordinates(grown.exterior), closed=True))


def _bends(outline: Path) -> int:
    """Corners, and places where a curve bends the other way: each may cut across all others."""
    bent = outline.turns[np.abs(outline.turns) > 1e-6]
    other_way = (bent * following(bent) < 0).sum()
    return len(outline.corners) + int(other_way)


def _mitred(outline: Path, by: float) -> Path | None:
    """Move every edge of a convex ring along its normal; None if that is not the answer.

    Exact, and keeps the vertices of a curve one for one.
    """
    if (outline.turns < -1e-7).any():
        return None
    chords = outline.chords
    unit = chords / np.hypot(chords[:, 0], chords[:, 1])[:, None]
    normal = np.stack([unit[:, 1], -unit[:, 0]], axis=1)
    before = preceding(normal)
    # Where the moved edges meet: along the bisector, by / cos(half the turn).
    scale = by / (1 + np.einsum("ij,ij->i", before, normal))
    moved = outline.points + (before + normal) * scale[:, None]
    after = following(moved) - moved
    if (np.einsum("ij,ij->i", after, chords) <= 0).any():
        return None  # an edge has shrunk away
    return path(moved, closed=True)
