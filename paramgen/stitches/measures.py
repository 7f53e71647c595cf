"""Measures of what is sewn."""

from collections.abc import Sequence

import numpy as np

from paramgen.stitches.needle_points import GRID_MM, SewnStep
from paramgen.vocabulary.box import Box


def needle_bounds(steps: Sequence[SewnStep]) -> Box:
    """The smallest box that all needle points lie in; a point at the origin where there are none.

    Examples
    --------
    Needle points are in tenths of a millimetre:

    >>> from paramgen.stitches.needle_points import Run
    >>> run = Run("seam", np.array([[0, 0], [25, 0], [25, -10]]), (0, 0))
    >>> needle_bounds([SewnStep(1, "Seam", "#000000", (run,))])
    Box(left=0.0, top=-1.0, right=2.5, bottom=0.0)
    >>> needle_bounds([])
    Box(left=0.0, top=0.0, right=0.0, bottom=0.0)
    """
    runs = [run.needles for step in steps for run in step.runs]
    if not runs:
        return Box(0.0, 0.0, 0.0, 0.0)
    needles = np.concatenate(runs)
    return grid_box(needles.min(axis=0).tolist(), needles.max(axis=0).tolist())


def grid_box(low: Sequence[int], high: Sequence[int]) -> Box:
    """The box, mm, from one place on the grid of stitch files to another.

    Examples
    --------
    >>> grid_box((-3, 0), (25, 10))
    Box(left=-0.3, top=0.0, right=2.5, bottom=1.0)
    """
    # Divided, not multiplied by 0.1: 3 tenths are 0.3 mm, not 0.30000000000000004.
    return Box(*(place / _PER_MM for place in (*low, *high)))


def sewn_length(step: SewnStep) -> float:
    """Length of all the stitches of a step, ties included and moves between runs not, mm.

    Examples
    --------
    >>> from paramgen.stitches.needle_points import Run
    >>> one = Run("", np.array([[0, 0], [30, 40]]), (0, 0))
    >>> other = Run("", np.array([[9, 0], [9, 10]]), (0, 0))
    >>> sewn_length(SewnStep(1, "", "#000000", (one, other)))  # 5 mm and 1 mm; the move is not sewn
    6.0
    >>> sewn_length(SewnStep(1, "", "#000000", ()))
    0.0
    """
    total = 0.0
    for run in step.runs:
        stitches = np.diff(run.needles, axis=0)
        total += float(np.hypot(stitches[:, 0], stitches[:, 1]).sum())
    return total / _PER_MM


_PER_MM = round(1 / GRID_MM)
