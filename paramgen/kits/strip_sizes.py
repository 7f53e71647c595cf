"""What strips are chosen for: sizes to cut, and the cloth that there is, in whole numbers."""

from paramgen.lengths import TOLERANCE
from paramgen.vocabulary.frozen_data import dataclass

#: Parts of a millimetre that lengths are counted in: 1/64 in is 39,687.5 of them, all others whole.
FINEST = 100_000


@dataclass(frozen=True, kw_only=True)
class SizeToCut:
    """A size of which so many are to be cut.

    Parameters
    ----------
    across, along : int
        Of the width and of the length of the cloth.
    count : int
    turns : bool
        Whether it may lie the other way round.
    """

    across: int
    along: int
    count: int
    turns: bool = False

    @property
    def ways(self) -> tuple[tuple[int, int], ...]:
        """Across and along, as it lies and turned."""
        if self.turns and self.across != self.along:
            return (self.across, self.along), (self.along, self.across)
        return ((self.across, self.along),)


@dataclass(frozen=True, kw_only=True)
class StripStock:
    """Cloth that strips are cut across.

    Parameters
    ----------
    width : int
    length : int or None
        None for what is bought by the length.
    costs : bool
        Whether the length taken from it counts: what is there already does not.
    highest : int or None
        No strip of it is higher; None where any may be.
    behind : bool
        Whether pieces as wide may lie behind each other in a strip, together no higher than the
        highest piece: cut in three stages.
    """

    width: int
    length: int | None = None
    costs: bool = True
    highest: int | None = None
    behind: bool = False

    def takes(self, across: int, along: int) -> bool:
        """Whether a piece that lies so can be cut from it at all."""
        limits = (one for one in (self.length, self.highest) if one is not None)
        return across <= self.width and all(along <= one for one in limits)


@dataclass(frozen=True, order=True)
class InStrip:
    """A piece in a strip: its place among the sizes, and whether it lies turned.

    Behind it, farther along the cloth, may lie others that are as wide.
    """

    size: int
    turned: bool
    behind: tuple["InStrip", ...] = ()

    @property
    def column(self) -> tuple["InStrip", ...]:
        """It, and all behind it."""
        return (InStrip(self.size, self.turned), *self.behind)


@dataclass(frozen=True)
class ChosenStrip:
    """A strip.

    Parameters
    ----------
    stock : int
        Place of its cloth.
    height : int
        Along the cloth.
    pieces : tuple of InStrip
        From left to right.
    """

    stock: int
    height: int
    pieces: tuple[InStrip, ...]


@dataclass(frozen=True)
class StripsChosen:
    """Strips that hold all sizes.

    Parameters
    ----------
    strips : tuple of ChosenStrip
    length : int
        Of all cloth that counts.
    bound : int
        No choice of strips takes less.
    """

    strips: tuple[ChosenStrip, ...]
    length: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether none is shorter."""
        return self.length <= self.bound


def whole_up(mm: float) -> int:
    """A length in mm as a whole number, no shorter than it is.

    >>> whole_up(3.175), whole_up(0.1 + 0.2)
    (317500, 30000)
    """
    return -int(-(mm - TOLERANCE / 10) * FINEST // 1)


def whole_down(mm: float) -> int:
    """A length in mm as a whole number, no longer than it is."""
    return int((mm + TOLERANCE / 10) * FINEST // 1)
