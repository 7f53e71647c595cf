"""Tie-ins and tie-offs: small stitches along the line, so that the thread holds.

A tie-in begins a little way along the line and sews back to its end; a tie-off leaves
the end the same way. So the end itself is one hole, and ends that meet do not perforate
the fabric. The two differ in length, so that they miss each other's holes where a run
ends where it began.

They are our own, since those of the stitch library have no length.
"""

#: Needle points of a tie-in before the end of the line, mm from that end.
TIE_IN = (0.4, 0.7)

#: Needle points of a tie-off after the end of the line, mm from that end.
TIE_OFF = (0.8, 0.45)

#: A first stitch that is longer than the longest tie by less than this, mm, is itself
#: sewn to and fro: a tie beside its hole would tear out into it.
_CLEAR = 0.2


def tie_in(end: float, stitch_end: float, *, short: bool) -> list[float]:
    """Needle points before the first stitch, as readings along the line.

    Parameters
    ----------
    end, stitch_end : float
        Where the first stitch begins and ends, mm.
    short : bool
        One small stitch, which is enough where the kind sews over it again; else two.

    Examples
    --------
    From the end at 10 mm forward to the stitch at 13, two small stitches back to the end:

    >>> tie_in(10.0, 13.0, short=False), tie_in(10.0, 13.0, short=True)
    ([10.4, 10.7], [10.7])

    A first stitch of 0.8 mm is shorter than the longest tie and 0.2: it is sewn to and fro itself.

    >>> tie_in(10.0, 10.8, short=False)
    [10.8]
    """
    return _tie(TIE_IN[1:] if short else TIE_IN, end, stitch_end)


def tie_off(end: float, stitch_start: float, *, short: bool) -> list[float]:
    """Needle points after the last stitch, as readings along the line.

    Parameters
    ----------
    end, stitch_start : float
        Where the last stitch ends and begins, mm.
    short : bool
        One small stitch, which is enough where the kind has sewn over it before; else two.

    Examples
    --------
    Backwards along the line, from its end:

    >>> tie_off(10.0, 7.0, short=False), tie_off(10.0, 7.0, short=True)
    ([9.2, 9.55], [9.2])
    >>> tie_off(10.0, 10.0, short=False)
    [10.0]
    """
    return _tie(TIE_OFF[:1] if short else TIE_OFF, end, stitch_start)


def _tie(tie: tuple[float, ...], end: float, other: float) -> list[float]:
    if abs(other - end) < max(tie) + _CLEAR:
        return [other]
    return [end + (reach if other > end else -reach) for reach in tie]
