"""Measures of what is sewn."""

from collections.abc import Sequence

import numpy as np

from paramgen.stitches.needle_points import GRID_MM, SewnStep


def needle_bounds(steps: Sequence[SewnStep]) -> tuple[float, float, float, float]:
    """Smallest x, smallest y, largest x and largest y of all needle points, mm.

    All four are 0 where nothing is sewn.
    """
    runs = [run.needles for step in steps for run in step.runs]
    if not runs:
        return 0.0, 0.0, 0.0, 0.0
    needles = np.concatenate(runs)
    # Divided, not multiplied by 0.1: 3 tenths are 0.3 mm, not 0.30000000000000004.
    low, high = (needles.min(axis=0) / _PER_MM).tolist(), (needles.max(axis=0) / _PER_MM).tolist()
    return low[0], low[1], high[0], high[1]


def sewn_length(step: SewnStep) -> float:
    """Length of all the stitches of a step, ties included and moves between runs not, mm."""
    total = 0.0
    for run in step.runs:
        stitches = np.diff(run.needles, axis=0)
        total += float(np.hypot(stitches[:, 0], stitches[:, 1]).sum())
    return total / _PER_MM


_PER_MM = round(1 / GRID_MM)
