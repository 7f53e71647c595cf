"""What the machine does: needle points on the grid of stitch files."""

import numpy as np
from numpy.typing import NDArray

from paramgen.vocabulary.frozen_data import dataclass

#: Stitch files count in tenths of a millimetre.
GRID_MM = 0.1

GridArray = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Run:
    """Needle points sewn without a cut between them.

    Parameters
    ----------
    line : str
        Name of the line it belongs to.
    needles : array of int, shape (n, 2)
        Penetrations in order, in tenths of a millimetre; n >= 2; ties included.
    ties : tuple of int
        How many of the first and of the last stitches are the tie-in and the tie-off.
    """

    line: str
    needles: GridArray
    ties: tuple[int, int]

    def __post_init__(self) -> None:
        self.needles.setflags(write=False)


@dataclass(frozen=True)
class SewnStep:
    """One stop of the machine.

    Parameters
    ----------
    stop : int
        The number the machine shows, from 1.
    title : str
    colour : str
        `#rrggbb`.
    runs : tuple of Run
        In sewing order; thread is cut and the machine moves between them.
    """

    stop: int
    title: str
    colour: str
    runs: tuple[Run, ...]

    @property
    def stitch_count(self) -> int:
        """Stitches sewn, ties included: needle points less one for each run."""
        return sum(len(run.needles) - 1 for run in self.runs)
