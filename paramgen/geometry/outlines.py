"""Closed outlines by their usual names. All run clockwise as seen (y down)."""

import math

import numpy as np

from paramgen.vocabulary.facts import Clause, Fact, Mm, MmByMm, facts
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, Point, path

#: Largest angle one chord of a curve may span, so that no curve looks like corners.
MOST_DEGREES_A_CHORD = 3.0
#: Not even the sharp ends of a sliver of an oval get finer chords for the sake of their turn.
LEAST_DEGREES_A_CHORD = 0.02
#: More chords than any curve in a hoop has: the finest oval has 18,000.
MOST_CHORDS = 20_000


#: A polygon of more sides than this cannot be told from a circle.
MOST_SIDES = 120


class ShapeError(ValueError):
    """The measures given do not make the shape asked for.

    Its text is for a developer. `wording` has the words for a person.

    Parameters
    ----------
    why : str
        A clause in the file of sentences.
    **known : Fact or None
        What the clause says it with.
    """

    def __init__(self, why: str, /, **known: Fact | None) -> None:
        self.why = Clause(why, facts(**known))
        super().__init__(f"{why} {dict(self.why.facts)}" if known else why)


def arc_points(
    centre: Point,
    radius_x: float,
    radius_y: float,
    start: float,
    sweep: float,
    chord_error: float = CHORD_ERROR,
) -> FloatArray:
    """Points along an arc, both ends included, no chord leaving it by more than an error.

    Parameters
    ----------
    centre : Point
    radius_x, radius_y : float
        In millimetres, along x and y.
    start, sweep : float
        Radians; positive runs clockwise as seen (y down).
    chord_error : float
        Most a chord may leave the arc, mm.

    Returns
    -------
    array of float, shape (n, 2)

    Raises
    ------
    ShapeError
        If the curve is far larger than any hoop, or a point.

    Examples
    --------
    A quarter of a circle, clockwise with y down: from the right to the bottom.

    >>> arc_points((0, 0), 5, 5, 0, math.pi / 2)[[0, -1]].round(6).tolist()
    [[5.0, 0.0], [0.0, 5.0]]

    An arc of no sweep stays where it starts; one of no radius is none:

    >>> np.unique(arc_points((0, 0), 5, 5, 0, 0), axis=0).tolist()
    [[5.0, 0.0]]
    >>> arc_points((0, 0), 0, 0, 0, 1)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: curve-of-no-radius
    """
    narrowest, widest = sorted((radius_x, radius_y))
    if widest == 0:
        raise ShapeError("curve-of-no-radius")
    # Equal steps of the parameter turn fastest at the ends of the long axis.
    step = math.radians(max(MOST_DEGREES_A_CHORD * narrowest / widest, LEAST_DEGREES_A_CHORD))
    if widest > chord_error:
        # sagitta of a chord spanning t on radius r: r (1 - cos t/2)
        step = min(step, 2 * math.acos(1 - chord_error / widest))
    chords = abs(sweep) / max(step, 1e-9)
    if chords > MOST_CHORDS:
        raise ShapeError("curve-too-large", radius=Mm(widest))
    # A multiple of four puts the ends of the axes of a full oval on vertices.
    count = 4 * max(1, math.ceil(chords / 4)) + 1
    angle = start + np.linspace(0.0, sweep, count)
    return np.stack(
        [centre[0] + radius_x * np.cos(angle), centre[1] + radius_y * np.sin(angle)], axis=1
    )


def rectangle(
    left: float,
    top: float,
    right: float,
    bottom: float,
    *,
    rounded: float = 0.0,
    cut: float = 0.0,
    chord_error: float = CHORD_ERROR,
) -> Path:
    """Rectangle with square, rounded or cut corners.

    Parameters
    ----------
    left, top, right, bottom : float
        Edges in millimetres.
    rounded, cut : float
        Corner radius, or how far along each edge a corner is cut off; at most one is not 0.

    Raises
    ------
    ShapeError
        If the rectangle has no area, or the corners do not leave room for each other.

    Examples
    --------
    >>> rectangle(0, 0, 4, 3).points.tolist()
    [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]

    Corners cut off by half of each side leave a square on its tip:

    >>> rectangle(0, 0, 4, 4, cut=2).points.tolist()
    [[2.0, 0.0], [4.0, 2.0], [2.0, 4.0], [0.0, 2.0]]
    >>> rectangle(0, 0, 0, 3)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: rectangle-of-no-area {'size': MmByMm(width=0, height=3)}
    """
    width, height = right - left, bottom - top
    if width <= 0 or height <= 0:
        raise ShapeError("rectangle-of-no-area", size=MmByMm(width, height))
    corner = rounded or cut
    if rounded and cut:
        raise ShapeError("corners-rounded-and-cut")
    if corner < 0 or corner > min(width, height) / 2 + 1e-9:
        raise ShapeError("corners-too-large", corner=Mm(corner), side=Mm(min(width, height)))
    corner = min(corner, min(width, height) / 2)
    if not corner:
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        return Path(np.array(corners, dtype=np.float64), True)
    if cut:
        return path(
            [
                (left + corner, top),
                (right - corner, top),
                (right, top + corner),
                (right, bottom - corner),
                (right - corner, bottom),
                (left + corner, bottom),
                (left, bottom - corner),
                (left, top + corner),
            ],
            closed=True,
        )
    quarter = math.pi / 2
    # Each centre stands where its corner's first point is; starting on a straight edge.
    arcs = [
        arc_points((x, y), corner, corner, start, quarter, chord_error)
        for x, y, start in (
            (right - corner, top + corner, -quarter),
            (right - corner, bottom - corner, 0.0),
            (left + corner, bottom - corner, quarter),
            (left + corner, top + corner, 2 * quarter),
        )
    ]
    return path(np.concatenate([arcs[3][-1:], *arcs[:3], arcs[3][:-1]]), closed=True)


def oval(centre: Point, width: float, height: float, chord_error: float = CHORD_ERROR) -> Path:
    """Ellipse of the width and height given, starting at its lowest point.

    Examples
    --------
    From the centre its lowest point is half the height away:

    >>> oval((1, 1), 4, 6).points[0].round(6).tolist()
    [1.0, 4.0]
    >>> oval((1, 1), 4, 0)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: oval-of-no-area {'size': MmByMm(width=4, height=0)}
    """
    if width <= 0 or height <= 0:
        raise ShapeError("oval-of-no-area", size=MmByMm(width, height))
    points = arc_points(centre, width / 2, height / 2, math.pi / 2, 2 * math.pi, chord_error)
    return path(points[:-1], closed=True)


def regular_polygon(centre: Point, sides: int, across: float) -> Path:
    """Regular polygon with a flat side at the bottom.

    Parameters
    ----------
    centre : Point
        Centre of the circle through its corners.
    sides : int
        At least 3.
    across : float
        Diameter of the circle through its corners, mm.

    Examples
    --------
    A square in a circle of 10 mm has two diagonals of 10, and the area of half their product:

    >>> round(regular_polygon((0, 0), 4, 10).area.area, 6)
    50.0
    >>> regular_polygon((0, 0), 4, 0)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: polygon-of-no-area {'across': Mm(value=0, towards='')}
    """
    if sides < 3:
        raise ShapeError("polygon-of-few-sides", sides=sides)
    if sides > MOST_SIDES:
        raise ShapeError("polygon-of-many-sides", sides=sides, most=MOST_SIDES)
    if across <= 0:
        raise ShapeError("polygon-of-no-area", across=Mm(across))
    first = math.pi / 2 + math.pi / sides
    angle = first + 2 * math.pi * np.arange(sides) / sides
    points = np.stack([np.cos(angle), np.sin(angle)], axis=1) * (across / 2)
    return path(points + np.array(centre), closed=True)


def arc_through(
    start: Point, through: Point, end: Point, chord_error: float = CHORD_ERROR
) -> FloatArray:
    """Points of the circular arc from `start` through `through` to `end`, ends included.

    Raises
    ------
    ShapeError
        If the three points lie on one straight line.

    Examples
    --------
    Over the top of a circle of 5 mm round the origin, (3, -4) lies on it too, as 9 + 16 = 25:

    >>> arc = arc_through((-5, 0), (3, -4), (5, 0))
    >>> arc[[0, -1]].tolist()
    [[-5.0, 0.0], [5.0, 0.0]]
    >>> np.unique(np.hypot(arc[:, 0], arc[:, 1]).round(6)).tolist()
    [5.0]
    >>> arc_through((0, 0), (1, 0), (2, 0))
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: arc-in-one-line
    """
    (ax, ay), (bx, by), (cx, cy) = start, through, end
    cross = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(cross) < 1e-9:
        raise ShapeError("arc-in-one-line")
    a2, b2, c2 = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    x = (a2 * (by - cy) + b2 * (cy - ay) + c2 * (ay - by)) / cross
    y = (a2 * (cx - bx) + b2 * (ax - cx) + c2 * (bx - ax)) / cross
    radius = math.hypot(ax - x, ay - y)
    first, middle, last = (math.atan2(py - y, px - x) for px, py in (start, through, end))
    turn = 2 * math.pi
    sweep = (last - first) % turn
    if (middle - first) % turn > sweep:
        sweep -= turn
    points = arc_points((x, y), radius, radius, first, sweep, chord_error)
    points[0], points[-1] = start, end
    return points
