"""Strips that take no more cloth and fewer cuts: what would be trimmed moves to strips as low."""

from collections.abc import Sequence
from dataclasses import replace

from paramgen.kits.strip_sizes import ChosenStrip, InStrip, SizeToCut, StripStock


def with_fewer_trims(
    strips: Sequence[ChosenStrip], sizes: Sequence[SizeToCut], stocks: Sequence[StripStock]
) -> tuple[ChosenStrip, ...]:
    """Move pieces lower than their strip into strips of their height that have room.

    Examples
    --------
    >>> sizes = [SizeToCut(across=4, along=5, count=1), SizeToCut(across=2, along=3, count=2)]
    >>> high = ChosenStrip(0, 5, (InStrip(0, False), InStrip(1, False)))
    >>> low = ChosenStrip(0, 3, (InStrip(1, False),))
    >>> [len(one.pieces) for one in with_fewer_trims([high, low], sizes, [StripStock(width=6)])]
    [1, 2]
    """
    held = [list(one.pieces) for one in strips]

    def across(piece: InStrip) -> int:
        return sizes[piece.size].ways[piece.turned][0]

    room = [stocks[one.stock].width - sum(map(across, one.pieces)) for one in strips]
    for place, strip in enumerate(strips):
        for piece in strip.pieces:
            along = sizes[piece.size].ways[piece.turned][1]
            if along == strip.height or piece.behind:
                continue
            other = next(
                (
                    at
                    for at, low in enumerate(strips)
                    if (low.stock, low.height) == (strip.stock, along) and room[at] >= across(piece)
                ),
                None,
            )
            if other is not None:
                held[place].remove(piece)
                held[other].append(piece)
                room[place] += across(piece)
                room[other] -= across(piece)
    return tuple(
        replace(one, pieces=tuple(pieces)) for one, pieces in zip(strips, held, strict=True)
    )
