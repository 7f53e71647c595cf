"""From the bytes of a stitch file to what is told of it."""

from hashlib import sha256

import numpy as np
from numpy.typing import NDArray

from paramgen.files.read_any_kind import CUT, SEWN, STOPPED, Records, read_records
from paramgen.reading.file_report import FileReport, NearestHoles, ReadStop, StitchAt
from paramgen.reading.nearest_holes import nearest_pair
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import Point

#: Tenths of a millimetre in one.
_PER_MM = 10.0
#: Places nearer than this are one hole, mm; files that count finer are rare.
_HOLE = 0.01


def read(data: bytes, name: str) -> FileReport:
    """Read a stitch file and measure it.

    Parameters
    ----------
    data : bytes
    name : str
        Of the file; its ending says its kind.

    Raises
    ------
    InputError
        If it is no stitch file that can be read whole: what is wrong, and what to do.
    """
    records = read_records(data, name)
    sewn = _Sewn(records)
    low, high = (sewn.needles.min(axis=0) / _PER_MM), (sewn.needles.max(axis=0) / _PER_MM)
    longest, shortest = sewn.extremes()
    moved = np.hypot(*sewn.away[sewn.apart].T) / _PER_MM
    return FileReport(
        name=name,
        kind=records.kind,
        size=len(data),
        sha256=sha256(data).hexdigest(),
        end=records.end,
        exact_colours=records.exact_colours,
        stops=sewn.stops(records.colours),
        extent=Box(*_point(low), *_point(high)),
        longest=longest,
        shortest=shortest,
        in_place=int((sewn.lengths == 0).sum()),
        closest=sewn.closest(),
        moves=int((moved > 0).sum()),
        longest_move=float(moved.max(initial=0.0)),
        cuts=int((records.acts == CUT).sum()) if records.says_cuts else None,
    )


class _Sewn:
    """Needle points, and between which of them a stitch lies.

    Attributes
    ----------
    needles : array of float, shape (n, 2)
        Tenths of a millimetre, as files have them.
    stop : array of int, shape (n,)
        The stop of each, from 0.
    away : array of float, shape (n - 1, 2)
        From each to the next, tenths of a millimetre.
    apart : array of bool, shape (n - 1,)
        Whether there is a move, a cut or a stop between them, and not a stitch.
    lengths : array of float
        Of the stitches, in order, mm.
    """

    def __init__(self, records: Records) -> None:
        sewn = records.acts == SEWN
        at = np.flatnonzero(sewn)
        self.needles: NDArray[np.float64] = records.places[sewn]
        stops = np.cumsum(records.acts == STOPPED)
        # A machine that is told its needle first has not halted yet.
        self._begun = int(stops[at[0]])
        self._halts = int(stops[-1]) - self._begun + 1
        self.stop = stops[at] - self._begun
        self.away = np.diff(self.needles, axis=0)
        self.apart = np.diff(at) > 1
        self._from = np.flatnonzero(~self.apart)
        ends = self.away[self._from]
        # Divided last: 3 tenths are 0.3 mm, not 0.30000000000000426.
        self.lengths = np.hypot(ends[:, 0], ends[:, 1]) / _PER_MM

    def stops(self, colours: tuple[str, ...]) -> tuple[ReadStop, ...]:
        """Each stop; one in which nothing is sewn is one too, for the machine halts."""
        stop_of_stitch = self.stop[self._from]
        counts = np.bincount(stop_of_stitch, minlength=self._halts)
        lengths = np.bincount(stop_of_stitch, weights=self.lengths, minlength=self._halts)
        parts = np.split(
            self.needles / _PER_MM, np.searchsorted(self.stop, np.arange(1, self._halts))
        )
        shades = [*colours[self._begun :], *[""] * self._halts]
        return tuple(
            ReadStop(at + 1, shades[at], part, int(counts[at]), float(lengths[at]))
            for at, part in enumerate(parts)
        )

    def extremes(self) -> tuple[StitchAt | None, StitchAt | None]:
        """The longest stitch, and the shortest that goes anywhere; the first of equals."""
        going = np.flatnonzero(self.lengths > 0)
        if not going.size:
            return None, None
        # Rounded, so that the noise of arithmetic does not choose among equals.
        sizes = np.round(self.lengths[going], 6)
        longest, shortest = going[int(sizes.argmax())], going[int(sizes.argmin())]
        return self._stitch(int(longest)), self._stitch(int(shortest))

    def _stitch(self, which: int) -> StitchAt:
        place = int(self._from[which])
        stop = int(self.stop[place])
        before = int(np.searchsorted(self.stop[self._from], stop))
        start, end = (_point(self.needles[at] / _PER_MM) for at in (place, place + 1))
        return StitchAt(float(self.lengths[which]), start, end, stop + 1, which - before + 1)

    def closest(self) -> NearestHoles | None:
        """The nearest two holes that are not the ends of one stitch."""
        cells = np.rint(self.needles / _PER_MM / _HOLE).astype(np.int64)
        step = int(np.gcd.reduce((cells - cells[0]).ravel())) or 1
        places, first, hole = np.unique(
            (cells - cells[0]) // step, axis=0, return_index=True, return_inverse=True
        )
        hole = hole.reshape(-1)
        ends = np.stack([hole[self._from], hole[self._from + 1]], axis=1)
        pair = nearest_pair(places, ends[ends[:, 0] != ends[:, 1]])
        if pair is None:
            return None
        one, two = sorted(int(first[each]) for each in pair)
        return NearestHoles(
            float(np.hypot(*(self.needles[one] - self.needles[two]))) / _PER_MM,
            (_point(self.needles[one] / _PER_MM), _point(self.needles[two] / _PER_MM)),
            (int(self.stop[one]) + 1, int(self.stop[two]) + 1),
        )


def _point(place: NDArray[np.float64]) -> Point:
    return float(place[0]), float(place[1])
