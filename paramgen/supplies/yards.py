"""Yards as shops cut them: to the next eighth."""

import math
from fractions import Fraction

from paramgen.lengths import INCH, TOLERANCE

#: 36 in, 0.9144 m exactly: "Refinement of values for the yard and the pound", 1959.
YARD = 36 * INCH
#: What shops cut to (common practice, no source).
EIGHTH = Fraction(1, 8)


def yards(mm: float, to: Fraction = EIGHTH) -> str:
    """Write the yards that hold a length.

    Parameters
    ----------
    mm : float
    to : Fraction
        They are rounded up to this part of a yard.

    Examples
    --------
    >>> yards(228.6), yards(250), yards(3000), yards(50_000, Fraction(1))
    ('1/4 yd', '3/8 yd', '3 3/8 yd', '55 yd')
    """
    whole, rest = divmod(math.ceil((mm - TOLERANCE) / (YARD * float(to))) * to, 1)
    shown = " ".join(str(part) for part in (whole, rest) if part)
    return f"{shown or 0} yd"
