"""Paths that can be sewn: corners nearer to each other than a stitch are one."""

import numpy as np

from paramgen.vocabulary.path import Path

#: Corners are at least so far apart along a path, mm: on the grid of stitch files then still 0.4.
LEAST_APART = 0.6


def sewable(line: Path) -> Path:
    """A path without the corners that lie nearer to the one before than a stitch.

    Examples
    --------
    >>> from paramgen.vocabulary.path import path
    >>> cut = path([(0, 0), (10, 0), (10.2, 0.2), (10.2, 10), (0, 10)], closed=True)
    >>> sewable(cut).points.tolist()
    [[0.0, 0.0], [10.0, 0.0], [10.2, 10.0], [0.0, 10.0]]
    >>> sewable(path([(0, 0), (5, 0), (5, 5)], closed=False)).points.tolist()
    [[0.0, 0.0], [5.0, 0.0], [5.0, 5.0]]
    """
    while len(line.points) > 3:
        corners = line.corners
        if len(corners) < 2:
            return line
        reach = line.reach[corners]
        span = np.diff(reach, append=reach[0] + line.length)
        if not line.closed:
            span = span[:-1]
        short = np.flatnonzero(span < LEAST_APART)
        if not len(short):
            return line
        # Every other one of those that follow each other; the ends of an open path stay.
        drop, last = [], -2
        for at in short.tolist():
            vertex = int(corners[(at + 1) % len(corners)])
            ends = not line.closed and vertex == len(line.points) - 1
            if at - last > 1:
                drop.append(int(corners[at]) if ends and corners[at] else vertex)
                last = at
        kept = np.delete(line.points, [one for one in drop if line.closed or one], axis=0)
        if len(kept) == len(line.points):
            return line
        line = Path(kept, line.closed)
    return line
