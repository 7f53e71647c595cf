"""A motif of one's own: stitches that were read from a file, in the stops they are sewn in."""

from collections.abc import Sequence
from dataclasses import field

import numpy as np

from paramgen.embellishment.needle_holes import Holes
from paramgen.embellishment.satin_column import at_least_apart
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: A motif is made no more than a tenth larger or smaller: its stitches stay as many, and would come
#: too far apart to cover, or so close that they pile up (common practice, no source).
SMALLEST, LARGEST = 90.0, 110.0

#: Stitches that are longer than this once it is larger get needle points between, mm: kinds of
#: stitch files carry 12.1 mm and more.
LONGEST_STITCH = 12.0

#: Runs and stitches of a motif: no more than a project may have of them.
MOST_RUNS, MOST_NEEDLES = 500, 50_000


@dataclass(frozen=True, eq=False)
class MotifStop:
    """What is sewn in one stop.

    Parameters
    ----------
    colour : str
        `#rrggbb` of its thread; empty if the file does not say.
    runs : tuple of array of float, shape (n, 2)
        Needle points sewn without a cut, mm.
    """

    colour: str
    runs: tuple[FloatArray, ...]


@dataclass(frozen=True)
class MotifStitches:
    """A motif as it was read.

    Parameters
    ----------
    name : str
        Of its file.
    digest : str
        Of what is in it: motifs of one digest are one motif.
    stops : tuple of MotifStop
        At least one; their middle is at the origin.
    """

    name: str
    digest: str
    stops: tuple[MotifStop, ...] = field(compare=False, repr=False)

    @property
    def box(self) -> Box:
        """What its needle points take, mm."""
        points = np.concatenate([run for stop in self.stops for run in stop.runs])
        (left, top), (right, bottom) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        return Box(left, top, right, bottom)


def about_its_middle(name: str, digest: str, stops: Sequence[MotifStop]) -> MotifStitches:
    """A motif with its middle at the origin; what holds no stitch is left out."""
    kept = [MotifStop(stop.colour, _stitched(stop.runs)) for stop in stops]
    kept = [stop for stop in kept if stop.runs]
    points = np.concatenate([run for stop in kept for run in stop.runs])
    middle = (points.min(axis=0) + points.max(axis=0)) / 2
    moved = tuple(MotifStop(stop.colour, tuple(run - middle for run in stop.runs)) for stop in kept)
    return MotifStitches(name, digest, moved)


def _stitched(runs: Sequence[FloatArray]) -> tuple[FloatArray, ...]:
    """Runs of two needle points or more."""
    return tuple(run for run in runs if len(run) > 1)


def placed_runs(
    motif: MotifStitches, *, percent: float = 100.0, turn: float = 0.0, mirrored: bool = False
) -> tuple[tuple[FloatArray, ...], ...]:
    """Needle points of each stop, mirrored, turned and made larger or smaller about its middle.

    Parameters
    ----------
    motif : MotifStitches
    percent : float
        From `SMALLEST` to `LARGEST`.
    turn : float
        Degrees clockwise as seen.
    mirrored : bool
        Left and right changed, before it is turned.

    Returns
    -------
    tuple of tuples of array of float, shape (n, 2)
        mm; needle points that would come too near to the one before are left out.

    Examples
    --------
    >>> stop = MotifStop("", (np.array([[0.0, 0], [4, 0]]),))
    >>> (((run,),)) = placed_runs(about_its_middle("a.dst", "", [stop]), percent=110.0, turn=90.0)
    >>> run.round(6).tolist()  # 4.4 mm, from top to bottom
    [[-0.0, -2.2], [0.0, 2.2]]
    """
    angle = np.radians(turn)
    cos, sin = np.cos(angle), np.sin(angle)
    change = np.array([[cos, sin], [-sin, cos]]) * (percent / 100)
    if mirrored:
        change = np.array([[-1.0, 0.0], [0.0, 1.0]]) @ change
    return tuple(
        _stitched([_not_too_long(at_least_apart(run @ change)) for run in stop.runs])
        for stop in motif.stops
    )


def _not_too_long(run: FloatArray) -> FloatArray:
    """Needle points with others between them where a stitch is too long."""
    steps = np.diff(run, axis=0)
    parts = np.ceil(np.hypot(steps[:, 0], steps[:, 1]) / LONGEST_STITCH - 1e-9).astype(int)
    if (parts <= 1).all():
        return run
    found = [run[:1]]
    for at, count in enumerate(parts.tolist()):
        share = (np.arange(1, count + 1) / count)[:, None]
        found.append(run[at] + steps[at] * share)
    return np.concatenate(found)


def crowded(stops: Sequence[Sequence[FloatArray]]) -> int:
    """How many needle points lie where the cloth already bears no more."""
    holes = Holes()
    return sum(int((~holes.room_for(run)).sum()) for stop in stops for run in stop)
