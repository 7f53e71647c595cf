"""Lines to sew and how to measure what was sewn, for the tests of the stitches."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from hypothesis import strategies as st
from numpy.typing import NDArray

from paramgen.stitches.needle_points import Run
from paramgen.stitches.sew import sew
from paramgen.vocabulary.kinds import Act, Role, Side, StitchKind
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import Line, Step, Stitch

Floats = NDArray[np.float64]

#: Noise of floating-point arithmetic allowed on top of every limit, mm.
NOISE = 1e-6


@dataclass(frozen=True)
class Shape:
    """A path with the corners its maker knows of."""

    path: Path
    corners: tuple[tuple[float, float], ...]

    @property
    def exact(self) -> shapely.LineString:
        points = [tuple(point) for point in self.path.points]
        return shapely.LineString(points + points[:1] if self.path.closed else points)


def polyline(points: Sequence[tuple[float, float]], *, closed: bool = False) -> Shape:
    return Shape(path(points, closed=closed), tuple(points))


def rectangle(x: float, y: float, width: float, height: float) -> Shape:
    right, bottom = x + width, y + height
    return polyline([(x, y), (right, y), (right, bottom), (x, bottom)], closed=True)


def _arc(x: float, y: float, rx: float, ry: float, start: float, sweep: float) -> Floats:
    # A chord of angle a leaves an arc of radius r by r (1 - cos(a / 2)), about r a² / 8.
    count = math.ceil(sweep / math.sqrt(8 * 1e-4 / max(rx, ry))) + 8
    angle = start + np.linspace(0, sweep, count)
    return np.stack([x + rx * np.cos(angle), y + ry * np.sin(angle)], axis=1)


def ellipse(x: float, y: float, width: float, height: float) -> Shape:
    return Shape(path(_arc(x, y, width / 2, height / 2, 0, math.tau), closed=True), ())


def rounded(x: float, y: float, width: float, height: float, radius: float) -> Shape:
    """A rectangle with rounded corners; `x`, `y` is its middle."""
    across, down = width / 2 - radius, height / 2 - radius
    arcs = [
        _arc(x + sx * across, y + sy * down, radius, radius, start * math.pi / 2, math.pi / 2)
        for sx, sy, start in ((1, 1, 0), (-1, 1, 1), (-1, -1, 2), (1, -1, 3))
    ]
    return Shape(path(np.concatenate(arcs), closed=True), ())


def half_moon(x: float, y: float, width: float) -> Shape:
    """A half circle closed by its diameter."""
    radius = width / 2
    return Shape(
        path(_arc(x, y, radius, radius, 0, math.pi), closed=True),
        ((x + radius, y), (x - radius, y)),
    )


_places = st.floats(-200, 200)


def sizes(least: float) -> st.SearchStrategy[float]:
    """Sizes of shapes, mm: any, and many that lie on the half of the grid."""
    return st.floats(least, 400) | st.integers(0, 3000).map(lambda tenths: least + tenths / 20)


@st.composite
def shapes(draw: st.DrawFn, least: float = 1.0) -> Shape:
    x, y, width, height = draw(_places), draw(_places), draw(sizes(least)), draw(sizes(least))
    match draw(st.sampled_from(["rectangle", "rounded", "circle", "ellipse", "moon", "open"])):
        case "rectangle":
            return rectangle(x, y, width, height)
        case "rounded":
            return rounded(x, y, width, height, draw(st.floats(0.1, 0.5)) * min(width, height))
        case "circle":
            return ellipse(x, y, width, width)
        case "ellipse":
            # Slimmer ones have ends that are as good as corners.
            return ellipse(x, y, width, min(max(height, width / 5), width * 5))
        case "moon":
            return half_moon(x, y, width)
    points = [(x, y)]
    heading = draw(st.floats(0, math.tau))
    for _ in range(draw(st.integers(1, 5))):
        x += width * math.cos(heading)
        y += width * math.sin(heading)
        points.append((x, y))
        width = draw(sizes(least))
        # A turn of 15° at least, so that each vertex is a corner; of 150° at most.
        heading += draw(st.sampled_from([-1, 1])) * draw(st.floats(0.262, 2.618))
    return polyline(points)


def line(stitch: Stitch, *paths: Path, name: str = "edge", title: str = "Edge") -> Line:
    return Line(name, title, Role.SEAM, stitch, paths)


def step(*lines: Line, number: int = 1) -> Step:
    return Step(
        number=number,
        stop=number,
        act=Act.STITCH,
        title=f"Step {number}",
        say="",
        seen_from=Side.FRONT,
        colour="#204060",
        lines=lines,
    )


def stitch(
    kind: StitchKind, length: float = 2.5, swing: float = 2.0, spacing: float = 1.2
) -> Stitch:
    """As a recipe has it unless it says otherwise: a seam swings outward, a zigzag both ways."""
    return Stitch(kind, length, swing, spacing, outward=kind is StitchKind.SEAM)


def sew_one(shape: Shape, how: Stitch) -> Run:
    """Sew one path that can be sewn."""
    (sewn,), findings = sew([step(line(how, shape.path))])
    assert findings == ()
    (run,) = sewn.runs
    return run


def needles_mm(run: Run) -> Floats:
    return run.needles / 10


def stitch_lengths(run: Run, *, ties: bool) -> Floats:
    lengths: Floats = np.hypot(*np.diff(run.needles, axis=0).T) / 10
    return lengths if ties else lengths[run.ties[0] : len(lengths) - run.ties[1]]


def touches(exact: shapely.LineString, points: Floats, within: float = 0.05) -> NDArray[np.bool_]:
    """Tell which points have a point of the line within so much in x and in y."""
    x, y, reach = points[:, 0], points[:, 1], within + NOISE
    shapely.prepare(exact)
    squares = shapely.box(x - reach, y - reach, x + reach, y + reach)
    touched: NDArray[np.bool_] = shapely.intersects(exact, squares)
    return touched


def hits(points: Floats, corner: tuple[float, float]) -> NDArray[np.bool_]:
    """Tell which points are a place, within half the grid in x and in y."""
    hit: NDArray[np.bool_] = (np.abs(points - np.array(corner)) <= 0.05 + NOISE).all(axis=1)
    return hit


def most_within(points: Floats, reach: float) -> int:
    """Most points that lie within so much of one of them, itself included."""
    apart = np.hypot(*(points[:, None, :] - points[None, :, :]).transpose(2, 0, 1))
    return int((apart <= reach + NOISE).sum(axis=1).max())
