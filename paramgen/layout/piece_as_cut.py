"""Where what lies in the hoop lies on a piece as it is cut, before it is folded."""

from itertools import pairwise

from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import FoldKind
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Layer, Piece


def upright(start: Point, end: Point) -> bool:
    """Whether an edge runs rather from top to bottom than from side to side."""
    return abs(end[0] - start[0]) < abs(end[1] - start[1])


def to_cut(piece: Piece, layer: Layer) -> Point:
    """By how much a layer is moved to lie on the piece as cut, on what of it shows, mm.

    That is what is not turned in at a hem, or one half.
    """
    (x, y), (to_x, to_y) = layer.outline.box.centre, _unhemmed(piece).centre
    dx, dy = to_x - x, to_y - y
    crease = next((one for one in piece.creases if one.kind is FoldKind.HALF), None)
    if crease is None or not layer.folded_edges:
        return dx, dy
    (ax, ay), (bx, by) = layer.folded_edges[0]
    if abs(by - ay) <= abs(bx - ax):
        return dx, crease.start[1] - (ay + by) / 2
    return crease.start[0] - (ax + bx) / 2, dy


def _unhemmed(piece: Piece) -> Box:
    """What of a piece as cut is not turned in at its hems."""
    width, height = piece.cut
    sides = [[-width / 2, width / 2], [-height / 2, height / 2]]
    for crease in piece.creases:
        if crease.kind is FoldKind.HEM:
            axis = 0 if upright(crease.start, crease.end) else 1
            sides[axis].append(crease.start[axis])
    # Of what hems part off, that as wide as the piece is when they are turned in.
    (left, right), (top, bottom) = (
        min(pairwise(sorted(at)), key=lambda pair: abs(pair[1] - pair[0] - folded))
        for at, folded in zip(sides, piece.folded, strict=True)
    )
    return Box(left, top, right, bottom)
