"""Thread in a lockstitch, ISO 4915 type 301, from the geometry that is published of it."""

from paramgen.vocabulary.frozen_data import dataclass

#: Thread to a length of seam by the trade's ratio for type 301, needle and bobbin together, waste
#: not included (seen in thread makers' bulletins).
USUAL_301 = 2.5
#: Metres to a thousand stitches by the rule for embroidery: of the needle, and of the bobbin (seen,
#: no standard).
USUAL_NEEDLE, USUAL_BOBBIN = (5.0, 5.0), (3.0, 3.5)


@dataclass(frozen=True)
class ThreadSplit:
    """Thread of needle and bobbin, mm."""

    needle: float
    bobbin: float

    @property
    def both(self) -> float:
        """Together."""
        return self.needle + self.bobbin


def lockstitch(length: float, through: float, lock: float = 0.5) -> ThreadSplit:
    """Thread in stitches of lockstitch.

    A stitch of length L through a thickness T takes 2·(L + T): `C = 2 + 2·T·S` for S stitches to a
    length, as the textile literature has it. Each thread runs along its face, and into the layers
    and out again as far as the lock.
    A zigzag's stitches are as long as they run aslant.

    Parameters
    ----------
    length : float
        Of all stitches together, mm.
    through : float
        Thickness under each of them, summed, mm.
    lock : float
        Where the two lock: 0 at the front, 0.5 in the middle, 1 at the back.

    Examples
    --------
    A seam of 100 mm, 40 stitches through 1 mm: 2·(1 + 1/2.5) = 2.8 times its length.

    >>> lockstitch(100.0, 40.0).both, lockstitch(100.0, 40.0)
    (280.0, ThreadSplit(needle=140.0, bobbin=140.0))
    >>> lockstitch(100.0, 40.0, lock=1.0)
    ThreadSplit(needle=180.0, bobbin=100.0)
    """
    return ThreadSplit(length + 2 * lock * through, length + 2 * (1 - lock) * through)
