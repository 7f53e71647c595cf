"""What quilting takes up: a quilted panel is a little smaller than it was.

An estimate, and said as a range. Between two rows the cloth stands up over what lies under it, as
an arc does over its chord. An arc of height h over a chord s is longer than it by about 8 h² / 3 s²
of the chord (the first term of its series). A row sinks to the middle of what it is stitched
through, so that the cloth rises by half of the thickness at most; what is pressed flat rises by an
eighth. Besides that the thread draws each row in by up to a tenth of a millimetre (from memory).
"""

from paramgen.embellishment.embellishment_kind import FreeGround
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity

#: Least and most rise as a share of the thickness.
LEAST_RISE, MOST_RISE = 0.125, 0.5
#: What the thread draws in at a row at most, mm.
DRAWN_IN = 0.1
#: What takes up less than this of a panel is not worth saying, mm.
WORTH_SAYING = 0.8
#: A least that is less than this is none, mm.
LEAST_SAID = 0.1


def taken_up(thickness: float, spacing: float) -> tuple[float, float]:
    """Least and most share of its size that a panel loses across its rows.

    Parameters
    ----------
    thickness : float
        Of all that is stitched through at most, mm.
    spacing : float
        From row to row, mm.

    Examples
    --------
    2 mm of batting and two layers of cotton of 0.3 mm, rows 20 mm apart: 8/3 × (1.3/20)² is 1.13 %,
    and a tenth of a millimetre at each row another 0.5 %.

    >>> tuple(round(share, 4) for share in taken_up(2.6, 20.0))
    (0.0007, 0.0163)
    """

    def arc(rise: float) -> float:
        return 8 / 3 * (rise / spacing) ** 2

    return arc(LEAST_RISE * thickness), arc(MOST_RISE * thickness) + DRAWN_IN / spacing


def takes_up(ground: FreeGround, spacing: float, thickness: float) -> Finding | None:
    """Say what the quilting of a panel takes up of it; nothing where that is next to nothing."""
    left, top, right, bottom = ground.seen.bounds
    size = max(right - left, bottom - top)
    least, most = (share * size for share in taken_up(thickness, spacing))
    if most < WORTH_SAYING:
        return None
    return Finding(
        "quilting-takes-up",
        Severity.KNOW,
        facts(
            panel=ground.panel.called,
            size=Mm(size),
            least=Mm(least) if least >= LEAST_SAID else None,
            most=Mm(most),
        ),
        piece=ground.panel.piece,
    )
