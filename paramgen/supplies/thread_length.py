"""Lengths of thread as they are told: in whole metres."""

import math


def whole_metres(length: float) -> int:
    """Round a length in mm up to whole metres.

    >>> whole_metres(1000.0), whole_metres(1000.1)
    (1, 2)
    """
    return math.ceil(length / 1000 - 1e-9)
