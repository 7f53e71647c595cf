"""The lines of an appliqué: where its patch goes, what holds it, and the satin over its raw edge.

The placement line is the outline. The tack-down runs inside it; the patch is then cut back by hand
to the outline, outside the tack-down. The satin lies half inside the outline and half outside, and
so covers the raw edge and, under it, the tack-down.
"""

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.needle_holes import Holes
from paramgen.embellishment.satin_column import Satin, satin_along
from paramgen.geometry.offset import offset
from paramgen.geometry.outlines import ShapeError
from paramgen.vocabulary.facts import Mm
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path, path

#: The tack-down runs so far inside the outline, mm: as close as scissors with a bent blade cut
#: outside it by hand (common practice, no source).
TACK_INSIDE = 1.0

#: The satin reaches over the raw edge by so much at least, and past the tack-down, mm: a hand cuts
#: no truer (from memory).
COVERS = 0.5

#: Longest stitch of the placement line and of the tack-down, mm (common practice, no source).
PLACED, TACKED = 3.0, 2.5

#: A patch has no more outlines, points of them, and mm along all of them: as much as is stitched of
#: one within a few seconds.
MOST_OUTLINES, MOST_POINTS, LONGEST_OUTLINE = 12, 6_000, 4_000.0

#: So the narrowest edge that covers both, and the widest whose stitches do not catch, mm.
LEAST_EDGE, MOST_EDGE = 2 * (TACK_INSIDE + COVERS), 7.0


@dataclass(frozen=True, eq=False)
class AppliqueLines:
    """What is stitched of an appliqué.

    Parameters
    ----------
    outline : tuple of Path
        Where it is placed, and what it is cut back to.
    tack_down : tuple of Path
    edge : tuple of array of float, shape (n, 2)
        Needle points of the satin, each sewn without a cut, mm.
    covered : Polygon or MultiPolygon
        What the patch and its edge take.
    """

    outline: tuple[Path, ...]
    tack_down: tuple[Path, ...]
    edge: tuple[FloatArray, ...]
    covered: BaseGeometry


def applique_lines(outlines: tuple[Path, ...], satin: Satin) -> AppliqueLines:
    """Work out the lines of an appliqué.

    Parameters
    ----------
    outlines : tuple of Path
        Closed.
    satin : Satin
        Its edge.

    Raises
    ------
    ShapeError
        If the shape is too small or too narrow for its edge, or its outline crosses itself.

    Examples
    --------
    >>> from paramgen.geometry.outlines import rectangle
    >>> lines = applique_lines((rectangle(-20, -15, 20, 15),), Satin(width=3.0, pull=0.0))
    >>> lines.covered.bounds  # half of 3 mm outside
    (-21.5, -16.5, 21.5, 16.5)
    >>> lines.tack_down[0].bounds
    (-19.0, -14.0, 19.0, 14.0)
    """
    covered = covered_by(outlines, satin.stitched)
    if any(not shapely.Polygon(one.points).is_valid for one in outlines):
        raise ShapeError("outline-crosses-itself")
    tack_down = tuple(_inside(one) for one in outlines)
    holes = Holes()
    for lines, longest in ((outlines, PLACED), (tack_down, TACKED)):
        for line in lines:
            holes.add_stitched(line, longest)
    edge = tuple(run for one in outlines for run in satin_along(one, satin, holes=holes))
    if not all(len(run) > 1 for run in edge) or not edge:
        raise ShapeError("nothing-inside", by=Mm(TACK_INSIDE))
    return AppliqueLines(outlines, tack_down, edge, covered)


def covered_by(outlines: tuple[Path, ...], edge: float) -> BaseGeometry:
    """What a patch and its edge, so wide, take.

    Raises
    ------
    ShapeError
        If there is more to its outlines than can be stitched as one patch.
    """
    points, length = (sum(each) for each in zip(*map(_measured, outlines), strict=True))
    if len(outlines) > MOST_OUTLINES or points > MOST_POINTS or length > LONGEST_OUTLINE:
        raise ShapeError("path-too-fine")
    whole = shapely.union_all([one.area for one in outlines])
    return whole.buffer(edge / 2, join_style="mitre")


def _measured(outline: Path) -> tuple[int, float]:
    return len(outline.points), outline.length


def _inside(outline: Path) -> Path:
    """The tack-down of an outline; what is too narrow for one is left without."""
    return offset(outline, -TACK_INSIDE)


def moved(lines: AppliqueLines, by: tuple[float, float]) -> AppliqueLines:
    """The same elsewhere, so far right and down, mm."""
    return AppliqueLines(
        tuple(path(one.points + by, closed=True) for one in lines.outline),
        tuple(path(one.points + by, closed=True) for one in lines.tack_down),
        tuple(one + by for one in lines.edge),
        shapely.affinity.translate(lines.covered, *by),
    )
