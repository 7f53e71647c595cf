"""Turning gaps: the parts of a seam line that no seam closes."""

from collections.abc import Iterable

import numpy as np
import shapely

from paramgen.layout.copies_apart import sewn_across
from paramgen.vocabulary.kinds import Role
from paramgen.vocabulary.path import FloatArray, Path, path
from paramgen.vocabulary.project import Project

#: Past each end of a turning gap nothing is trimmed for so far along the seam, mm: common practice,
#: no source.
PAST_GAP = 2.0

#: A stitched line leaves the exact outline by less than this, mm.
_SAME_LINE = 0.05
#: What is open for less than this is no gap, mm.
_LEAST = 1.0


def is_open_edge(seam: Path, gap: shapely.LineString) -> bool:
    """Whether a gap leaves a whole straight edge open, from corner to corner.

    Such an edge is not folded in: it is trimmed, and bound or turned over in the end.

    Examples
    --------
    >>> box = path([(0, 0), (40, 0), (40, 50), (0, 50)], closed=True)
    >>> is_open_edge(box, shapely.LineString([(0, 0), (40, 0)]))
    True
    >>> is_open_edge(box, shapely.LineString([(10, 0), (30, 0)]))
    False
    """
    corners = shapely.MultiPoint(seam.points[seam.corners])
    ends = shapely.get_coordinates(gap)[[0, -1]]
    if gap.length > shapely.LineString(ends).length + _SAME_LINE:
        return False  # it goes round a corner
    return all(bool(corners.dwithin(shapely.Point(end), 2 * _SAME_LINE)) for end in ends)


def _to_ends(gap: FloatArray, ends: FloatArray) -> FloatArray:
    """A gap up to the ends of what is sewn, of which a little is lost beside a line at a corner."""
    for place in (0, -1):
        away = np.hypot(*(ends - gap[place]).T)
        if away.min() <= 2 * _SAME_LINE:
            gap[place] = ends[away.argmin()]
    return gap


def gaps_in(project: Project, closed: Iterable[Path]) -> tuple[Path, ...]:
    """Parts of seam lines that the seams of a project leave open; none if it has no seam.

    Parameters
    ----------
    project : Project
    closed : iterable of Path
        The seam line of each copy that is asked about, without its gaps.
    """
    sewn = [
        one
        for line in project.lines
        if line.role is Role.SEAM
        for one in line.paths
        if len(one.points) > 1
    ]
    if not sewn:
        return ()
    # Many may run the same way: each way is looked at once.
    ways = list({one.line.wkb: one.line for one in (*sewn, *sewn_across(project))}.values())
    near = shapely.union_all(ways).buffer(_SAME_LINE, cap_style="flat")
    ends = np.vstack([one.points[[0, -1]] for one in sewn])
    return tuple(
        path(_to_ends(shapely.get_coordinates(part), ends), closed=False)
        for one in closed
        for part in shapely.get_parts(shapely.line_merge(shapely.difference(one.line, near)))
        if part.length > _LEAST
    )
