"""What one copy takes of the hoop: all that is laid, taped, cut or notioned, and its stitches."""

import math
from collections.abc import Iterator
from dataclasses import astuple

import numpy as np

from paramgen.copies.copy_tiles import CopyTile, FillRectangle
from paramgen.hooping import Room
from paramgen.lengths import TOLERANCE
from paramgen.stitches.needle_points import GRID_MM
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Project
from paramgen.works import Stitched

#: Kept free between two copies, mm, so that scissors can part them (common practice, no
#: source).
BETWEEN = 6.0


def footprint(project: Project) -> Box:
    """Box round everything of a project that lies in the hoop but its stitches, mm."""
    points = np.concatenate(list(_points(project)))
    (left, top), (right, bottom) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return Box(left, top, right, bottom)


def _points(project: Project) -> Iterator[FloatArray]:
    yield project.seam.points
    for step in project.steps:
        yield from (path.points for line in step.lines for path in line.paths)
        yield from (layer.outline.points for layer in step.layers)
        yield from (strip.points for strip in step.tape)
        yield from (mark.points for mark in step.mark)
    for notion in project.notions:
        reach = max(notion.clearance, (notion.width or 0.0) / 2)
        for place in (*notion.halves, *notion.at):
            yield np.array(place) + np.array([[-reach, -reach], [reach, reach]])


def tile_of(one: Stitched, claim: Box | None = None, between: float = BETWEEN) -> CopyTile:
    """The room of one copy, with half of what is kept free between two on every side.

    Parameters
    ----------
    one : Stitched
    claim : Box or None
        Box round what it takes, mm; its footprint unless said.
    between : float
        Kept free between two, mm.
    """
    half = round(between / 2 / GRID_MM)
    box, needles = claim or footprint(one.project), one.extent
    # Counted outwards from the needle points, which lie on the grid.
    left, top, right, bottom = (
        max(0, math.ceil(past / GRID_MM - _HAIR)) + half
        for past in (
            needles.left - box.left,
            needles.top - box.top,
            box.right - needles.right,
            box.bottom - needles.bottom,
        )
    )
    first_x, first_y, last_x, last_y = needle_box(one)
    return CopyTile(
        wide=last_x - first_x + left + right,
        high=last_y - first_y + top + bottom,
        left=left,
        top=top,
        right=right,
        bottom=bottom,
    )


def needle_box(one: Stitched) -> tuple[int, int, int, int]:
    """Smallest and largest needle points, in tenths of a millimetre."""
    left, top, right, bottom = (round(edge / GRID_MM) for edge in astuple(one.extent))
    return left, top, right, bottom


def field_of(room: Room) -> FillRectangle:
    """What stitches may take of a hoop; even, as the grid has a point in its middle."""
    wide, high = (2 * math.floor(side / 2 / GRID_MM + TOLERANCE / GRID_MM) for side in room.field)
    return FillRectangle(wide=wide, high=high)


_HAIR = 1e-6
