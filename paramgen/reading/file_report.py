"""What is told of a stitch file; lengths are millimetres."""

import numpy as np
from numpy.typing import NDArray

from paramgen.files.file_ends import FileEnd
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point


@dataclass(frozen=True)
class StitchAt:
    """One stitch, and where it is.

    Parameters
    ----------
    length : float
    start, end : Point
        Its two needle points.
    stop : int
        From 1.
    number : int
        Which of that stop's stitches, from 1.
    """

    length: float
    start: Point
    end: Point
    stop: int
    number: int


@dataclass(frozen=True)
class NearestHoles:
    """The two needle holes that lie nearest to each other.

    Holes in one place are one hole, and the two ends of one stitch are told of as the
    shortest stitch, so neither is meant here. Those of ties are: they perforate as others do.

    Parameters
    ----------
    distance : float
    holes : pair of Point
    stops : pair of int
        In which the needle first went down there, from 1.
    """

    distance: float
    holes: tuple[Point, Point]
    stops: tuple[int, int]


@dataclass(frozen=True, eq=False)
class ReadStop:
    """What the machine sews until it halts.

    Parameters
    ----------
    number : int
        From 1.
    colour : str
        `#rrggbb`; empty if the file has none for it.
    needles : array of float, shape (n, 2)
        Where the needle goes down, in order.
    stitches : int
        Needle points less one for each run sewn without a move or a cut in it.
    length : float
        Of all its stitches together.
    """

    number: int
    colour: str
    needles: NDArray[np.float64]
    stitches: int
    length: float


@dataclass(frozen=True, eq=False, kw_only=True)
class FileReport:
    """All that is told of a stitch file.

    Parameters
    ----------
    name : str
        Of the file, without its folder.
    kind : str
        As its name ends.
    size : int
        Bytes.
    sha256 : str
    end : FileEnd
        Whether it is all there.
    exact_colours : bool
        Whether its kind keeps any colour as it is, and not the nearest of a chart.
    stops : tuple of ReadStop
    extent : Box
        The smallest that all needle points lie in, from where the machine starts; that is
        the middle of the hoop in a file that has a middle.
    longest, shortest : StitchAt or None
        None if it has no stitch that goes from one place to another.
    in_place : int
        Stitches that go nowhere.
    closest : NearestHoles or None
        None if there are no two holes but the ends of one stitch.
    moves : int
        How often the needle goes from one place to another without sewing.
    longest_move : float
    cuts : int or None
        None if its kind does not say.
    """

    name: str
    kind: str
    size: int
    sha256: str
    end: FileEnd
    exact_colours: bool
    stops: tuple[ReadStop, ...]
    extent: Box
    longest: StitchAt | None
    shortest: StitchAt | None
    in_place: int
    closest: NearestHoles | None
    moves: int
    longest_move: float
    cuts: int | None

    @property
    def width(self) -> float:
        """From the leftmost to the rightmost needle point."""
        return self.extent.width

    @property
    def height(self) -> float:
        """From the topmost to the lowest needle point."""
        return self.extent.height

    @property
    def stitches(self) -> int:
        """Stitches of all stops."""
        return sum(stop.stitches for stop in self.stops)

    @property
    def colours(self) -> tuple[str, ...]:
        """Different colours, in the order of their first use."""
        return tuple(dict.fromkeys(stop.colour for stop in self.stops if stop.colour))
