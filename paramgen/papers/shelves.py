"""Laying boxes on shelves, so that small pieces share a sheet."""

from collections.abc import Sequence

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class ShelfSpot:
    """Where a box lies.

    Parameters
    ----------
    index : int
        Which box.
    sheet : int
        From 0.
    x, y : float
        Its left and top, from those of the sheet, mm.
    """

    index: int
    sheet: int
    x: float
    y: float


@dataclass
class _Shelf:
    sheet: int
    y: float
    height: float
    filled: float


def shelved(
    sizes: Sequence[tuple[float, float]], width: float, height: float, gap: float
) -> tuple[ShelfSpot, ...]:
    """Lay boxes side by side on shelves, the highest first; none is turned.

    Parameters
    ----------
    sizes : sequence of (width, height)
        mm; one that is larger than a sheet has it to itself and sticks out.
    width, height : float
        Of a sheet, mm; the height may be infinite.
    gap : float
        Least room between two boxes, mm.

    Returns
    -------
    tuple of ShelfSpot
        One for each box, by sheet and shelf.

    Examples
    --------
    >>> [(spot.index, spot.x, spot.y) for spot in shelved([(4, 2), (5, 3)], 10, 9, 1)]
    [(1, 0.0, 0.0), (0, 6.0, 0.0)]
    """
    shelves: list[_Shelf] = []
    low: list[float] = []  # of each sheet, where its next shelf may begin
    spots: list[ShelfSpot] = []
    for index in sorted(range(len(sizes)), key=lambda i: (-sizes[i][1], -sizes[i][0], i)):
        wide, high = sizes[index]
        shelf = next(
            (one for one in shelves if one.filled + wide <= width and high <= one.height), None
        )
        if shelf is None:
            sheet = next((i for i, y in enumerate(low) if y + high <= height), len(low))
            if sheet == len(low):
                low.append(0.0)
            shelf = _Shelf(sheet, low[sheet], high, 0.0)
            low[sheet] += high + gap
            shelves.append(shelf)
        spots.append(ShelfSpot(index, shelf.sheet, shelf.filled, shelf.y))
        shelf.filled += wide + gap
    return tuple(sorted(spots, key=lambda spot: (spot.sheet, spot.y, spot.x)))
