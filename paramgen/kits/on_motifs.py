"""Strips laid so that every piece of them is centred on a motif of the print.

Motifs stand in rows across the cloth and in columns along it, one repeat apart. A strip is cut so
that its middle is a row of motifs, and each piece so that its middle is a column. Where the first
motif stands is seen on the cloth alone: one repeat is kept for it either way.

Pieces are planned as if each took whole repeats. Those of an odd and of an even number of repeats
do not stand side by side without half a repeat between them, so that they stand apart, each kind
together.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

from paramgen.kits.cut_order import LaidStrip
from paramgen.lengths import TOLERANCE

#: Across and along the cloth, mm.
PrintRepeat = tuple[float, float]


def whole_repeats(size: float, repeat: float) -> int:
    """So many repeats hold a size.

    >>> whole_repeats(80.0, 80.0), whole_repeats(80.5, 80.0)
    (1, 2)
    """
    return max(1, math.ceil(size / repeat - TOLERANCE))


def lost_to_motifs(sizes: Sequence[float], repeat: float) -> float:
    """What finding the first motif takes, and half a repeat where odd meets even, mm.

    >>> lost_to_motifs([70.0, 60.0], 80.0), lost_to_motifs([70.0, 120.0], 80.0)
    (80.0, 120.0)
    """
    odd = {whole_repeats(size, repeat) % 2 for size in sizes}
    return repeat * (1.5 if len(odd) > 1 else 1.0)


def on_motifs(strips: Sequence[LaidStrip], repeat: PrintRepeat, squaring: float) -> list[LaidStrip]:
    """Lay strips and their pieces anew, each with its middle on a motif.

    Parameters
    ----------
    strips : sequence of LaidStrip
    repeat : (float, float)
        Across and along the cloth, mm.
    squaring : float
        Taken off the end of the cloth, mm.

    Returns
    -------
    list of LaidStrip
        In their order along the cloth, numbered anew; with room between them and between pieces.
    """
    across, along = repeat
    by_parity = sorted(strips, key=lambda one: whole_repeats(one.height, along) % 2 == 0)
    rows = [one.height for one in by_parity]
    middles = _middles(rows, along, squaring, phase=squaring + along + rows[0] / 2)
    laid: list[LaidStrip] = []
    phase = None
    for number, (strip, middle) in enumerate(zip(by_parity, middles, strict=True), 1):
        pieces = sorted(strip.pieces, key=lambda one: whole_repeats(one.width, across) % 2 == 0)
        phase = across + pieces[0].width / 2 if phase is None else phase
        columns = _middles([one.width for one in pieces], across, phase=phase)
        placed = tuple(
            replace(
                one,
                x=round(column - one.width / 2, 6),
                y=round(middle - one.height / 2, 6),
                strip=number,
            )
            for one, column in zip(pieces, columns, strict=True)
        )
        laid.append(LaidStrip(number, round(middle - strip.height / 2, 6), strip.height, placed))
    return laid


def _middles(
    sizes: Sequence[float], repeat: float, begin: float = 0.0, *, phase: float
) -> list[float]:
    """Middles of sizes one after the other, on motifs, one of which stands at `phase`.

    The first begins past a place, so that up to one repeat is lost there.

    >>> _middles([90.0, 150.0, 150.0], 100.0, phase=145.0)
    [145.0, 345.0, 545.0]
    """
    found, end = list[float](), begin
    for size in sizes:
        after = (end + size / 2 - phase) / repeat
        number = math.ceil(after - TOLERANCE) if found else math.floor(after + TOLERANCE) + 1
        found.append(phase + number * repeat)
        end = found[-1] + size / 2
    return found
