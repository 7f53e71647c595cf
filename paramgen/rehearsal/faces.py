"""The plane cut by all edges and stitched lines into faces with a constant stack."""

from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.budget import FACES, FIELDS
from paramgen.geometry.crossing_work import ask_for_meetings
from paramgen.rehearsal.sheets import GRID, Sandwich, each_once
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Leaf
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

    @cached_property
    def stacks(self) -> tuple[tuple[int, ...], ...]:
        """Sheets of each face from the back to the front."""
        faces, sheets = np.nonzero(self.covers)
        ends, order = np.cumsum(np.bincount(faces, minlength=len(self.covers))), sheets.tolist()
        return tuple(tuple(order[start:end]) for start, end in pairwise([0, *ends.tolist()]))

    def stack(self, face: int) -> tuple[int, ...]:
        """Sheets of a face from the back to the front; none in the world outside."""
        return () if face < 0 else self.stacks[face]

    @cached_property
    def faces(self) -> NDArray[np.intp]:
        """Faces on the two sides of each edge, -1 the world, shape (edges, 2)."""
        return np.array([edge.faces for edge in self.edges], dtype=np.intp).reshape(-1, 2)

    @cached_property
    def inner(self) -> BoolArray:
        """Which edges have faces inside the seam line on both sides, shape (edges,)."""
        return np.asarray(np.append(self.within, False)[self.faces].all(axis=1))

    @cached_property
    def binding(self) -> NDArray[np.intp]:
        """The inner edges that stitches bind sheets along, but for the seam, in order."""
        bound = np.array([edge.binds is not None for edge in self.edges], dtype=bool)
        return np.flatnonzero(bound & self.inner & ~self.on_seam)

    @cached_property
    def bound(self) -> BoolArray:
        """Which sheets are bound along each of those edges, shape (binding, sheets)."""
        f, g = self.faces[self.binding].T
        lowest, highest = (
            np.array([(self.edges[one].binds or (0, 0))[end] for one in self.binding], np.intp)
            for end in (0, 1)
        )
        sheet = np.arange(self.covers.shape[1])
        between = (sheet >= lowest[:, np.newaxis]) & (sheet <= highest[:, np.newaxis])
        return np.asarray(self.covers[f] & self.covers[g] & between)

    @cached_property
    def on_seam(self) -> BoolArray:
        """Which edges lie on the seam line, shape (edges,)."""
        return np.array([edge.seam for edge in self.edges], dtype=bool)


def plane(project: Project, sandwich: Sandwich, left_out: frozenset[int] = frozenset()) -> Plane:
    """Cut the plane along everything that can end a sheet or bind two.

    Parameters
    ----------
    project : Project
    sandwich : Sandwich
    left_out : frozenset of int
        Stitched lines that need not cut it, by their places in `Sandwich.sewn`.
    """
    sheets = sandwich.sheets
    seam_ring = project.seam.line
    seam_area = project.seam.area
    room = trimmed_to(project, sandwich)
    binding = [(sewn, sum(sheet.step < sewn.step for sheet in sheets)) for sewn in sandwich.sewn]
    stitched = [(sewn, sewn.path) for sewn, before in binding if before > 1]
    last_laid = max((sheet.step for sheet in sheets), default=0)
    spared = [sandwich.sewn[number] for number in left_out]
    linework = [
        shapely.boundary(room),
        seam_ring,
        *{sheet.outline_key: sheet.area.exterior for sheet in sheets}.values(),
        *each_once(sewn.path for sewn, _ in stitched if sewn not in spared),
        *sandwich.across,
        # An edge does not run on past the end of a fold: beyond it the layer is open.
        *each_once(fold for sheet in sheets for fold in sheet.folds),
    ]
    shapely.prepare(room)
    ask_for_meetings(linework, Clause("of-edges-in-the-hoop"))
    noded = shapely.union_all([linework[0], *_within(linework[1:], room)], grid_size=GRID)
    parts = shapely.get_parts(noded)
    lines: list[shapely.LineString] = list(parts[shapely.length(parts) > GRID])
    whole = shapely.get_parts(shapely.polygonize(lines))
    middle = shapely.point_on_surface(whole)
    # However narrow: the world would begin where one is left out.
    kept = (shapely.area(whole) > 0.0) & shapely.covers(room, middle)
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
    on_seam = _along(seam_ring, middles)
    # Many lines run the same way: each way is looked at once, at the last that goes it.
    last = {path.wkb: (sewn.step, path) for sewn, path in stitched}
    last |= {path.wkb: (last_laid + 1, path) for path in sandwich.across}
    stitched_last = np.zeros(len(lines), dtype=np.int64)
    for step, path in last.values():
        on = _along(path, middles)
        stitched_last[on] = np.maximum(stitched_last[on], step)
    folds = [
        (sheet.layer, _along(fold, middles))
        for sheet in sheets
        if sheet.leaf is not Leaf.FRONT
        for fold in sheet.folds
    ]
    zipped = []
    for slit in sandwich.slits:
        tape = next(sheet for sheet in sheets if sheet.layer == slit.layer)
        rim = tape.area.exterior
        beyond = _along(rim, middles) & ~_along(slit.line, middles)
        other = [sheet for sheet in sheets if sheet.layer == slit.layer][1]
        zipped.append((slit.layer, beyond & _along(other.area.exterior, middles)))
    laid = np.array([sheet.step for sheet in sheets], dtype=np.int64)
    bound = _bound(covers, sides, laid, stitched_last)
    fold, beyond_stops = _layers_on(folds, len(lines)), _layers_on(zipped, len(lines))
    edges = tuple(
        FaceEdge(
            line=line,
            faces=(f, g),
            binds=bound.get(index),
            fold=fold[index],
            zipped=beyond_stops[index],
            seam=seam,
        )
        for index, (line, (f, g), seam) in enumerate(
            zip(lines, sides.tolist(), on_seam.tolist(), strict=True)
        )
        if (f, g) != (-1, -1)
    )
    seams = each_once(sewn.path for sewn in sandwich.sewn if sewn.line.role == "seam")
    seams += sandwich.across
    open_parts = shapely.difference(seam_ring, shapely.union_all(seams), grid_size=GRID)
    merged = shapely.get_parts(shapely.line_merge(open_parts))
    gaps = tuple(part for part in merged if part.length > 1.0)
    return Plane(
        sandwich=sandwich, areas=areas, covers=covers, within=within, edges=edges, gaps=gaps
    )


def _within(linework: Sequence[BaseGeometry], room: BaseGeometry) -> NDArray[np.object_]:
    """What of some lines lies in a room that is prepared.

    Few and long: what lies there whole is left as it is, as cut where it meets itself it would be
    many times as much work to lay over the rest.
    """
    parts = np.asarray(shapely.get_parts(list(linework)))
    reaches_out = ~shapely.covers(room, parts)
    parts[reaches_out] = shapely.intersection(parts[reaches_out], room)
    return parts


def _along(line: BaseGeometry, middles: NDArray[np.object_]) -> BoolArray:
    """Which lines run along one, by their middles."""
    shapely.prepare(line)
    return np.asarray(shapely.dwithin(line, middles, NEAR))


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
) -> NDArray[np.intp]:
    """Faces on both sides of each line, found by the first step along it that they share.

    A line that ends within a face has that face on both sides.
    """
    rings, face_of_ring = shapely.get_rings(list(areas), return_index=True)
    points, ring_of = shapely.get_coordinates(rings, return_index=True)
    whole, line_of = shapely.get_coordinates(lines, return_index=True)
    begins = np.searchsorted(line_of, np.arange(len(lines)))
    # Each point by a number, and so each step from one to the next, whichever way it goes.
    at = np.concatenate([points, whole[begins], whole[begins + 1]])
    _, numbers = np.unique(at[:, 0] + 1j * at[:, 1], return_inverse=True)
    around, start, end = np.split(numbers, [len(points), len(points) + len(lines)])
    follows = ring_of[1:] == ring_of[:-1]
    steps = _either_way(around[:-1][follows], around[1:][follows], len(at))
    face_of_step = face_of_ring[ring_of[:-1][follows]]
    order = np.argsort(steps, kind="stable")
    wanted = _either_way(start, end, len(at))
    place = np.searchsorted(steps[order], wanted)
    many = np.searchsorted(steps[order], wanted, side="right") - place
    ordered = np.concatenate([face_of_step[order], [-1, -1]])
    sides = np.stack(
        [np.where(many > near, ordered[place + near], -1) for near in (0, 1)], axis=1
    ).astype(np.intp)
    loose = np.flatnonzero((sides == -1).all(axis=1))
    if len(loose):
        which, faces = shapely.STRtree(areas).query(middles[loose], predicate="within")
        sides[loose[which]] = faces[:, np.newaxis]
    return sides


def _either_way(start: NDArray[np.intp], end: NDArray[np.intp], count: int) -> NDArray[np.intp]:
    """One number for each step between two of so many points, the same there and back."""
    return np.minimum(start, end) * count + np.maximum(start, end)


def _layers_on(marks: Iterable[tuple[int, BoolArray]], count: int) -> list[frozenset[int]]:
    """For each of so many lines the layers of which something lies along it."""
    found: dict[int, set[int]] = {}
    for layer, on in marks:
        for index in np.flatnonzero(on).tolist():
            found.setdefault(index, set()).add(layer)
    return [frozenset(found.get(index, ())) for index in range(count)]


def _bound(
    covers: BoolArray,
    sides: NDArray[np.intp],
    laid: NDArray[np.int64],
    stitched_last: NDArray[np.int64],
) -> dict[int, tuple[int, int]]:
    """Lowest and highest sheet bound along each line that binds any.

    Parameters
    ----------
    covers : array of bool, shape (faces, sheets)
    sides : array of int, shape (lines, 2)
        Faces on both sides of each line.
    laid : array of int, shape (sheets,)
        The step that lays each sheet.
    stitched_last : array of int, shape (lines,)
        The last step that stitches along each line; 0 if none does.
    """
    lines = np.flatnonzero((stitched_last > 0) & (sides >= 0).all(axis=1))
    f, g = sides[lines].T
    # A line on the very edge of a sheet does not hold it: it must lie on both sides.
    there = covers[f] & covers[g] & (laid < stitched_last[lines, np.newaxis])
    binds = there.sum(axis=1) > 1
    there = there[binds]
    if not len(there):
        return {}
    lowest, highest = there.argmax(axis=1), len(laid) - 1 - there[:, ::-1].argmax(axis=1)
    pairs = zip(lowest.tolist(), highest.tolist(), strict=True)
    return dict(zip(lines[binds].tolist(), pairs, strict=True))
