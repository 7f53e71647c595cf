"""The corners of a flat project that are sewn across, and how large it is once they are.

A bag that lies flat has two layers. A corner of it, opened and laid seam on seam, is a point with a
right angle: half a depth in from its tip along the seams it is a whole depth wide. A seam across it
there takes half a depth off both ends of the boxed edge, and half a depth off what stands on it
(geometry of cloth that does not stretch).
"""

import shapely

from paramgen.geometry.outlines import ShapeError
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Mm, Term
from paramgen.vocabulary.kinds import Edge
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Bend, Boxed

#: A corner is cut out if so little of its square is left, mm².
_NOTHING = 0.01


def boxed_corners(seam: Path, finished: Path, edge: Edge, depth: float) -> Boxed:
    """Find where the corners at an edge are sewn across.

    Parameters
    ----------
    seam, finished : Path
        The seam line and the finished edge, their corners cut out.
    edge : Edge
    depth : float
        mm.

    Raises
    ------
    ShapeError
        If the corners are not cut out of both by half the depth.

    Examples
    --------
    Of a seam line of 6 by 4 mm without a square of 1 at both ends of its bottom:

    >>> from paramgen.geometry.along_path import corners_out
    >>> from paramgen.geometry.outlines import rectangle
    >>> seam = corners_out(rectangle(0, 0, 6, 4), Edge.BOTTOM, 1)
    >>> left, right = boxed_corners(seam, seam, Edge.BOTTOM, 2).seams
    >>> [(float(x), float(y)) for x, y in left]
    [(1.0, 4.0), (1.0, 3.0), (0.0, 3.0)]
    """
    half = depth / 2
    courses = [_courses(outline.box, edge, half) for outline in (seam, finished)]
    for outline, both in zip((seam, finished), courses, strict=True):
        for (ax, ay), inner, (bx, by) in both:
            tip = (bx, ay) if edge in (Edge.TOP, Edge.BOTTOM) else (ax, by)
            square = shapely.MultiPoint([inner, tip]).envelope
            if depth <= 0 or (outline.area & square).area > _NOTHING:
                raise ShapeError("corners-still-there", edge=Term("edge", edge), by=Mm(half))
    return Boxed(depth, *courses)


def _courses(box: Box, edge: Edge, half: float) -> tuple[Bend, Bend]:
    left, right, top, bottom = box.left, box.right, box.top, box.bottom
    if edge in (Edge.TOP, Edge.BOTTOM):
        y, into = (bottom, bottom - half) if edge is Edge.BOTTOM else (top, top + half)
        return (
            ((left + half, y), (left + half, into), (left, into)),
            ((right - half, y), (right - half, into), (right, into)),
        )
    x, into = (right, right - half) if edge is Edge.RIGHT else (left, left + half)
    return (
        ((x, top + half), (into, top + half), (into, top)),
        ((x, bottom - half), (into, bottom - half), (into, bottom)),
    )


def finished_size(box: Box, boxed: Boxed | None) -> tuple[float, float]:
    """Width and height of the finished thing, mm.

    Parameters
    ----------
    box : Box
        Round the finished edge, open and flat.
    boxed : Boxed or None

    Examples
    --------
    A pouch 60 deep that lies flat is 60 wider than it stands, and 30 higher up its front:

    >>> bends = (((-80, 70), (-80, 40), (-110, 40)), ((80, 70), (80, 40), (110, 40)))
    >>> finished_size(Box(-110, -70, 110, 70), Boxed(60, bends, bends))
    (160, 110.0)
    >>> finished_size(Box(-110, -70, 110, 70), None)
    (220, 140)
    """
    if boxed is None:
        return box.width, box.height
    both, once = boxed.depth, boxed.depth / 2
    (_, first), (_, other) = boxed.folds[0][0], boxed.folds[1][0]
    if first == other:  # the boxed edge is level
        return box.width - both, box.height - once
    return box.width - once, box.height - both
