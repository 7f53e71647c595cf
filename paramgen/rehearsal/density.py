"""Too many stitches for the stabiliser, or too close together for the cloth."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from paramgen.findings import Finding, Severity
from paramgen.geometry.path import FloatArray
from paramgen.rehearsal.limits import CROWD, CROWD_WITHIN, STITCHES_A_SHEET
from paramgen.stitches.sewn import GRID_MM, SewnStep


def density(steps: Sequence[SewnStep]) -> Iterator[Finding]:
    """Find where the stitching is too much for stabiliser or cloth."""
    count = sum(step.stitch_count for step in steps)
    if count > STITCHES_A_SHEET:
        sheets = -(-count // STITCHES_A_SHEET)
        yield Finding(
            "many-stitches",
            Severity.DISAPPOINT,
            f"{count} stitches are more than one light tear-away sheet carries "
            f"({STITCHES_A_SHEET})",
            f"Hoop {sheets} sheets, or a heavier one.",
            amount=float(count - STITCHES_A_SHEET),
        )
    for step in steps:
        crowded = _crowded(step)
        if len(crowded):
            yield Finding(
                "stitches-crowded",
                Severity.DISAPPOINT,
                f"at stop {step.stop}, {step.title}, {CROWD} or more stitches meet in one place "
                "and may cut the cloth",
                "Use longer stitches, or a simpler kind of stitch.",
                amount=float(len(crowded)),
                place=tuple((float(x), float(y)) for x, y in crowded[:8]),
            )


def _crowded(step: SewnStep) -> FloatArray:
    """Needle points of a step with too many others near, ties and ends left out, mm."""
    kept = []
    for run in step.runs:
        first, last = run.ties
        # A line that comes back to its start meets itself there once, and that is well.
        kept.append(run.needles[first + 1 : len(run.needles) - last - 1])
    if not kept:
        return np.empty((0, 2))
    points = np.concatenate(kept) * GRID_MM
    spots = list(shapely.get_parts(shapely.MultiPoint(points)))
    pairs = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=CROWD_WITHIN)
    near = np.bincount(pairs[0], minlength=len(points))  # each is near itself
    return np.asarray(points[near >= CROWD], dtype=np.float64)
