"""How much thread the machine takes: an estimate."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from paramgen.stitches.measures import sewn_length
from paramgen.stitches.needle_points import SewnStep

#: Thickness of a layer of quilting cotton pressed by the foot, and of the stabiliser, mm
#: (from memory).
LAYER, STABILISER = 0.3, 0.2
#: Added for what is cut off and wound: 10 to 15 % is usual.
WASTE = 0.15
#: Part that comes from the needle; the rest is bobbin thread. Half and half where the lock lies
#: in the middle of the layers.
NEEDLE_PART = 0.5


@dataclass(frozen=True)
class ThreadTaken:
    """Thread to have, waste included, mm."""

    needle: float
    bobbin: float


def thread(sewn: Sequence[SewnStep], layers: Mapping[int, int]) -> ThreadTaken:
    """Estimate the thread for a project.

    Parameters
    ----------
    sewn : sequence of SewnStep
    layers : mapping of stop to int
        Most layers of fabric at a stop; 1 where none are named.
    """
    total = 0.0
    for step in sewn:
        thick = layers.get(step.stop, 1) * LAYER + STABILISER
        total += lockstitch(sewn_length(step), step.stitch_count, thick)
    total *= 1 + WASTE
    return ThreadTaken(total * NEEDLE_PART, total * (1 - NEEDLE_PART))


def lockstitch(length: float, stitches: int, thickness: float) -> float:
    """Thread in a line of lockstitch, ISO 4915 type 301, needle and bobbin together.

    A stitch of length L through a thickness T takes 2·(L + T), which is 2·(1 + T/L) times its
    length. A zigzag's stitches are as long as they run aslant.

    Parameters
    ----------
    length : float
        Of all stitches together, mm.
    stitches : int
    thickness : float
        mm.

    Examples
    --------
    >>> lockstitch(100.0, 40, 1.0)
    280.0
    """
    return 2 * (length + thickness * stitches)


def whole_metres(length: float) -> int:
    """Round a length in mm up to whole metres."""
    return math.ceil(length / 1000 - 1e-9)
