"""Pieces that one template serves."""

from collections.abc import Sequence

from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Piece

# Corners that agree so far are the same, mm: a hundredth of the width of a line.
_DECIMALS = 2


def alike(pieces: Sequence[Piece]) -> tuple[tuple[Piece, ...], ...]:
    """Put pieces together that have the same outline and the same marks, in their order.

    A piece that is another's mirror image is not the same, unless the outline is symmetric:
    then both have the same corners.
    """
    groups: dict[object, list[Piece]] = {}
    for piece in pieces:
        groups.setdefault(_marks(piece), []).append(piece)
    return tuple(map(tuple, groups.values()))


def _marks(piece: Piece) -> object:
    creases = sorted(
        (one.order, one.kind, one.towards, *sorted(map(_rounded, (one.start, one.end))))
        for one in piece.creases
    )
    return frozenset(_sides(piece.outline)), tuple(creases), piece.grain


def _sides(outline: Path) -> list[object]:
    """Straight parts of an outline, whichever way round and from wherever it runs."""
    points: list[Point] = [(x, y) for x, y in outline.points.tolist()]
    return [
        frozenset((_rounded(a), _rounded(b)))
        for a, b in zip(points, [*points[1:], points[0]], strict=True)
    ]


def _rounded(point: Point) -> Point:
    return round(point[0], _DECIMALS) + 0.0, round(point[1], _DECIMALS) + 0.0
