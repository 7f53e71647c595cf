"""The plane cut by all edges and stitched lines into faces with a constant stack."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.budget import FACES, FIELDS
from paramgen.geometry.crossing_work import ask_for_meetings
from paramgen.rehearsal.sheets import GRID, Sandwich, each_once
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.path import BoolArray
from paramgen.vocabulary.project import Project

#: A line within this of an edge runs along it, mm.
NEAR = 1e-3


@dataclass(frozen=True, kw_only=True)
class FaceEdge:
    """A piece of line between two faces.

    Parameters
    ----------
    line : LineString
    faces : (int, int)
        Faces on its two sides; -1 is the world outside the trimmed work.
    binds : (int, int) or None
        Lowest and highest sheet that stitches along it bind together; None if none do.
    fold : frozenset of int
        Layers whose fold it lies on.
    zipped : frozenset of int
        Layers of zips whose tapes are held together along it: beyond the stops.
    seam : bool
        Whether it lies on the seam line.
    """

    line: shapely.LineString
    faces: tuple[int, int]
    binds: tuple[int, int] | None
    fold: frozenset[int]
    zipped: frozenset[int]
    seam: bool

    @property
    def length(self) -> float:
        """Length, mm."""
        return float(self.line.length)


@dataclass(frozen=True, eq=False, kw_only=True)
class Plane:
    """The faces, what lies in each, and the edges between them.

    Parameters
    ----------
    sandwich : Sandwich
    areas : tuple of Polygon
        One for each face.
    covers : array of bool, shape (faces, sheets)
        Which sheets lie in which face.
    within : array of bool, shape (faces,)
        Which faces lie inside the seam line.
    edges : tuple of FaceEdge
    gaps : tuple of LineString
        Parts of the seam line that are left open for turning.
    """

    sandwich: Sandwich
    areas: tuple[shapely.Polygon, ...]
    covers: BoolArray
    within: BoolArray
    edges: tuple[FaceEdge, ...]
    gaps: tuple[shapely.LineString, ...]

    def stack(self, face: int) -> list[int]:
        """Sheets of a face from the back to the front; none in the world outside."""
        return [] if face < 0 else list(np.flatnonzero(self.covers[face]))


def plane(project: Project, sandwich: Sandwich) -> Plane:
    """Cut the plane along everything that can end a sheet or bind two."""
    sheets = sandwich.sheets
    seam_ring = project.seam.line
    seam_area = project.seam.area
    room = trimmed_to(project, sandwich)
    binding = [(sewn, sum(sheet.step < sewn.step for sheet in sheets)) for sewn in sandwich.sewn]
    stitched = [(sewn, sewn.path) for sewn, before in binding if before > 1]
    linework = [
        shapely.boundary(room),
        seam_ring,
        *{sheet.outline_key: sheet.area.exterior for sheet in sheets}.values(),
        *{path.wkb: path for _, path in stitched}.values(),
        # An edge does not run on past the end of a fold: beyond it the layer is open.
        *{fold.wkb: fold for sheet in sheets for fold in sheet.folds}.values(),
    ]
    shapely.prepare(room)
    ask_for_meetings(linework, Clause("of-edges-in-the-hoop"))
    inside = [shapely.intersection(line, room) for line in linework[1:]]
    noded = shapely.union_all([linework[0], *inside], grid_size=GRID)
    lines = [line for line in shapely.get_parts(noded) if line.length > GRID]
    whole = shapely.get_parts(shapely.polygonize(lines))
    middle = shapely.point_on_surface(whole)
    kept = (shapely.area(whole) > GRID) & shapely.covers(room, middle)
    areas = tuple(whole[kept])
    FIELDS.ask(len(areas), Clause("in-the-hoop"))
    FACES.ask(len(areas) * (1 + len(sheets)), Clause("in-the-hoop"))
    spots = shapely.get_coordinates(middle[kept])
    covers = np.zeros((len(areas), len(sheets)), dtype=bool)
    for number, sheet in enumerate(sheets):
        covers[:, number] = shapely.contains_xy(sheet.area, spots[:, 0], spots[:, 1])
    within = np.asarray(shapely.contains_xy(seam_area, spots[:, 0], spots[:, 1]))
    middles = np.asarray(shapely.line_interpolate_point(lines, 0.5, normalized=True))
    sides = _sides(lines, middles, areas)
    on_seam = shapely.dwithin(middles, seam_ring, NEAR)
    # Many lines run the same way: each way is looked at once, at the last that goes it.
    last = {path.wkb: (sewn.step, path) for sewn, path in stitched}
    along = [(step, shapely.dwithin(middles, path, NEAR)) for step, path in last.values()]
    folds = [
        (sheet.layer, shapely.dwithin(middles, fold, NEAR))
        for sheet in sheets
        if sheet.leaf != "front"
        for fold in sheet.folds
    ]
    zipped = []
    for slit in sandwich.slits:
        tape = next(sheet for sheet in sheets if sheet.layer == slit.layer)
        rim = tape.area.exterior
        beyond = shapely.dwithin(middles, rim, NEAR) & ~shapely.dwithin(middles, slit.line, NEAR)
        other = [sheet for sheet in sheets if sheet.layer == slit.layer][1]
        zipped.append((slit.layer, beyond & shapely.dwithin(middles, other.area.exterior, NEAR)))
    steps = np.array([sheet.step for sheet in sheets])
    edges = tuple(
        FaceEdge(
            line=line,
            faces=sides[index],
            binds=_bound(covers, sides[index], steps, [s for s, on in along if on[index]]),
            fold=frozenset(layer for layer, on in folds if on[index]),
            zipped=frozenset(layer for layer, on in zipped if on[index]),
            seam=bool(on_seam[index]),
        )
        for index, line in enumerate(lines)
        if sides[index] != (-1, -1)
    )
    seams = each_once(sewn.path for sewn in sandwich.sewn if sewn.line.role == "seam")
    open_parts = shapely.difference(seam_ring, shapely.union_all(seams), grid_size=GRID)
    merged = shapely.get_parts(shapely.line_merge(open_parts))
    gaps = tuple(part for part in merged if part.length > 1.0)
    return Plane(
        sandwich=sandwich, areas=areas, covers=covers, within=within, edges=edges, gaps=gaps
    )


def trimmed_to(project: Project, sandwich: Sandwich) -> BaseGeometry:
    """What is left after trimming; everything where nothing is trimmed."""
    if project.finish.trimmed is not None:
        return project.finish.trimmed.area
    seam = project.seam.area
    return shapely.union_all([seam, *(sheet.area for sheet in sandwich.sheets)])


def _sides(
    lines: Sequence[shapely.LineString],
    middles: NDArray[np.object_],
    areas: Sequence[shapely.Polygon],
) -> list[tuple[int, int]]:
    """Faces on both sides of each line, found by the first step along it that they share.

    A line that ends within a face has that face on both sides.
    """
    found: dict[tuple[float, ...], list[int]] = {}
    for number, area in enumerate(areas):
        for ring in (area.exterior, *area.interiors):
            points = shapely.get_coordinates(ring)
            for (ax, ay), (bx, by) in pairwise(points):
                key = (ax, ay, bx, by) if (ax, ay) < (bx, by) else (bx, by, ax, ay)
                found.setdefault(key, []).append(number)
    sides = []
    for line in lines:
        (ax, ay), (bx, by) = shapely.get_coordinates(line)[:2]
        key = (ax, ay, bx, by) if (ax, ay) < (bx, by) else (bx, by, ax, ay)
        near = [*found.get(key, []), -1, -1]
        sides.append((near[0], near[1]))
    loose = [number for number, pair in enumerate(sides) if pair == (-1, -1)]
    if loose:
        tree = shapely.STRtree(areas)
        which, faces = tree.query(middles[loose], predicate="within")
        for place, face in zip(which, faces, strict=True):
            sides[loose[int(place)]] = (int(face), int(face))
    return sides


def _bound(
    covers: BoolArray, faces: tuple[int, int], laid: NDArray[np.int64], steps: list[int]
) -> tuple[int, int] | None:
    """Lowest and highest sheet bound by lines sewn in the steps given along an edge."""
    if not steps or -1 in faces:
        return None
    # A line on the very edge of a sheet does not hold it: it must lie on both sides.
    there = covers[faces[0]] & covers[faces[1]] & (laid < max(steps))
    sheets = np.flatnonzero(there)
    return (int(sheets[0]), int(sheets[-1])) if len(sheets) > 1 else None
