"""What was read back from a stitch file, compared with what was asked."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from paramgen.stitches.needle_points import GridArray, SewnStep
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, eq=False)
class ReadStep:
    """One stop of the machine as a file has it.

    Parameters
    ----------
    needles : array of float, shape (n, 2)
        Where the needle goes down, in tenths of a millimetre, x right and y down. Not
        rounded, so that nothing is mended on the way in.
    colour : str
        `#rrggbb` of its thread; empty if the file has none.
    """

    needles: NDArray[np.float64]
    colour: str


def needles_of(step: SewnStep) -> GridArray:
    """All needle points of a step in sewing order, tenths of a millimetre, shape (n, 2)."""
    return np.concatenate([run.needles for run in step.runs])


def difference(asked: Sequence[SewnStep], read: Sequence[ReadStep], *, colours: bool) -> str | None:
    """Say where a file first differs from what was to be written, or None if nowhere.

    Parameters
    ----------
    asked : sequence of SewnStep
    read : sequence of ReadStep
    colours : bool
        Whether the colours of the steps must agree too.
    """
    if len(asked) != len(read):
        return f"{len(read)} steps instead of {len(asked)}"
    for want, have in zip(asked, read, strict=True):
        needles = needles_of(want)
        common = min(len(needles), len(have.needles))
        off = np.flatnonzero((needles[:common] != have.needles[:common]).any(axis=1))
        if off.size:
            place = int(off[0])
            return (
                f"needle point {place + 1} of stop {want.stop} is at "
                f"{_mm(have.needles[place])} mm instead of {_mm(needles[place])} mm"
            )
        if len(needles) != len(have.needles):
            return (
                f"stop {want.stop} has {len(have.needles)} needle points instead of {len(needles)}"
            )
        if colours and have.colour != want.colour.lower():
            return f"stop {want.stop} is coloured {have.colour} instead of {want.colour}"
    return None


def _mm(point: GridArray | NDArray[np.float64]) -> str:
    return f"({point[0] / 10:g}, {point[1] / 10:g})"
