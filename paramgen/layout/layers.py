"""Pieces as they lie in the hoop, and the tape that holds them."""

import math
from collections.abc import Collection, Iterator, Sequence

import numpy as np

from paramgen.geometry.offset import signed_area
from paramgen.geometry.outlines import ShapeError, rectangle
from paramgen.layout.name_scope import NamedValues, as_named, pointed_at, spot, within_reach
from paramgen.layout.pieces import PLIES_OF, CutPiece, SizedFold
from paramgen.lengths import TOLERANCE
from paramgen.recipe.language import FOLD_EDGES, LayTable, TapeOn
from paramgen.reference.materials import ANY_CLOTH, NOTIONS, listed_materials
from paramgen.vocabulary.facts import Clause, Mm, Term, facts
from paramgen.vocabulary.kinds import Along, Edge, FoldKind, NotionSort
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Hem, Layer, Notion

#: A strip of tape, and how far it reaches onto the piece, mm. Our own choice: it holds
#: without reaching the stitching.
TAPE_WIDTH, TAPE_LENGTH, TAPE_ONTO = 12.0, 20.0, 3.0
#: A strip laid over a zip, mm.
TAPE_OVER = 45.0
#: Edges longer than this get two strips, mm, and those of one sheet over all copies a strip for
#: each such length, up to so many.
ONE_STRIP, MOST_STRIPS = 120.0, 20
#: Zip tape beyond the stops at each end, mm; common practice, no source.
PAST_STOPS = 10.0

EdgesByName = dict[Edge, tuple[Point, Point]]


def edges_of(outline: Path) -> EdgesByName:
    """Sides of the box around an outline, each from its first to its last point clockwise.

    Examples
    --------
    >>> edges_of(rectangle(0, 0, 4, 3))[Edge.BOTTOM]
    ((4.0, 3.0), (0.0, 3.0))
    """
    box = outline.box
    return {
        Edge.TOP: ((box.left, box.top), (box.right, box.top)),
        Edge.RIGHT: ((box.right, box.top), (box.right, box.bottom)),
        Edge.BOTTOM: ((box.right, box.bottom), (box.left, box.bottom)),
        Edge.LEFT: ((box.left, box.bottom), (box.left, box.top)),
    }


def layer(lay: LayTable, cut: CutPiece, names: NamedValues) -> Layer:
    """Put a piece where a step lays it.

    Raises
    ------
    ShapeError
        If the fold that it has cannot lie where the step says.
    """
    outline = _moved(cut.lies, lay, names)
    sides = edges_of(outline)
    hemmed = _laid_by_its_hem(cut)
    folded, at = [], _fold_at(lay, cut)
    if at and not hemmed:
        folded.append(sides[at])
    plies = 1
    hems: dict[Edge, Hem] = {}
    for place, fold in enumerate(cut.folds):
        if fold.kind in (FoldKind.QUARTER, FoldKind.THIRDS):
            folded += [sides[edge] for edge in FOLD_EDGES[fold.along] if sides[edge] not in folded]
        if fold.kind is FoldKind.HEM:
            edge = fold.edge or (at if hemmed else None) or FOLD_EDGES[fold.along][1]
            twice = edge in hems and sides[edge] in folded
            folded += [sides[edge]] if not twice else []
            lies_at = _lies_at(edge, cut.folds[place:], hems)
            hems[edge] = _hem(outline, cut, place, lies_at, twice=twice)
        plies *= PLIES_OF[fold.kind]
    halved = any(fold.kind is FoldKind.HALF for fold in cut.folds)
    piece = cut.piece
    return Layer(
        piece=piece.name,
        title=piece.title,
        fabric=piece.fabric,
        side=lay.side,
        up=lay.up,
        outline=outline,
        folded_edges=tuple(folded),
        plies=plies,
        two_sided=cut.two_sided,
        frays=cut.frays,
        clear=cut.clear,
        faceless=cut.faceless,
        right_sides_in=any(fold.towards.endswith("in") for fold in cut.folds),
        unlined=cut.unlined,
        ply=cut.ply,
        hems=() if halved else tuple(hems.values()),
    )


def _lies_at(edge: Edge, folds: Sequence[SizedFold], hems: Collection[Edge]) -> Edge:
    """The edge at which a hem, the first of these folds, comes to lie.

    Folded in four, both edges of a piece meet at its middle and so lie at its last fold, which is
    where the first hem is to be.
    """
    along = folds[0].along
    if all(one.along is not along or one.kind is not FoldKind.QUARTER for one in folds):
        return edge
    return next((first for first in hems if first in FOLD_EDGES[along]), edge)


def _hem(outline: Path, cut: CutPiece, place: int, edge: Edge, *, twice: bool) -> Hem:
    """What one of the folds of a piece turns in at an edge, as all of them leave it.

    Raises
    ------
    ShapeError
        If it is so deep that a later fold bends it, or that it reaches past the whole piece.
    """
    folds, fold = cut.folds, cut.folds[place]
    before = [one for one in folds[:place] if one.along is fold.along]
    after = [one for one in folds[place:] if one.along is fold.along]
    across = [one for one in folds if one.along is not fold.along]
    box, beside = outline.box, sum(one.beside for one in after)
    most = (box.width if fold.along is Along.WIDTH else box.height) - beside
    if fold.turn > most + TOLERANCE:
        name = as_named(cut.piece.name)
        bent = len(after) > 1  # the first of them is the hem
        clause = "hem-past-a-fold" if bent else "hem-past-the-piece"
        raise ShapeError(clause, name=name, turn=Mm(fold.turn), most=Mm(most))
    lies = {
        Edge.TOP: rectangle(box.left, box.top + beside, box.right, box.bottom),
        Edge.RIGHT: rectangle(box.left, box.top, box.right - beside, box.bottom),
        Edge.BOTTOM: rectangle(box.left, box.top, box.right, box.bottom - beside),
        Edge.LEFT: rectangle(box.left + beside, box.top, box.right, box.bottom),
    }[edge]
    return Hem(
        _along(lies, edge, fold.turn),
        edges_of(lies)[edge],
        twice,
        times=math.prod(PLIES_OF[one.kind] for one in across),
        takes=math.prod(PLIES_OF[one.kind] for one in before),
    )


def _laid_by_its_hem(cut: CutPiece) -> bool:
    """Whether the last fold of a piece is a hem of which a step says at which edge it lies."""
    last = cut.folds[-1] if cut.folds else None
    return last is not None and last.kind is FoldKind.HEM and last.edge is None


def _fold_at(lay: LayTable, cut: CutPiece) -> Edge | None:
    """The edge at which a step lays a piece's last fold in half, or its hem.

    Nothing of it holds where the choices leave no such fold.

    Raises
    ------
    ShapeError
        If the fold that is there cannot lie at that edge, or a step does not say at which.
    """
    hem = cut.folds[-1:] if _laid_by_its_hem(cut) else ()
    meant = hem or tuple(fold for fold in cut.folds if fold.kind is FoldKind.HALF)
    if not meant:
        return None
    name, last = cut.piece.name, meant[-1]
    one, other = (Term("edge", edge) for edge in FOLD_EDGES[last.along])
    if lay.fold is None and not hem:
        raise ShapeError("fold-not-said", name=as_named(name), one=one, other=other)
    if lay.fold and lay.fold not in FOLD_EDGES[last.along]:
        raise ShapeError(
            "hem-not-there" if hem else "fold-not-there",
            name=as_named(name),
            edge=Term("edge", lay.fold),
            along=Term("along", last.along),
            one=one,
            other=other,
        )
    return lay.fold


def _along(outline: Path, edge: Edge, depth: float) -> Path:
    """The part of the box around an outline that lies along one edge, so deep, mm."""
    box = outline.box
    low_x, low_y = max(box.left, box.right - depth), max(box.top, box.bottom - depth)
    high_x, high_y = min(box.right, box.left + depth), min(box.bottom, box.top + depth)
    return {
        Edge.TOP: rectangle(box.left, box.top, box.right, high_y),
        Edge.RIGHT: rectangle(low_x, box.top, box.right, box.bottom),
        Edge.BOTTOM: rectangle(box.left, low_y, box.right, box.bottom),
        Edge.LEFT: rectangle(box.left, box.top, high_x, box.bottom),
    }[edge]


def notion_layer(lay: LayTable, notion: Notion, names: NamedValues) -> Layer:
    """Put a zip, a ribbon or another flat notion where a step lays it.

    Raises
    ------
    ShapeError
        If a zip is too short to have a slit.
    """
    assert notion.length is not None
    assert notion.width is not None
    if notion.sort is NotionSort.ZIP and notion.length <= 2 * PAST_STOPS:
        raise ShapeError("zip-too-short", length=Mm(notion.length))
    long, wide = notion.length / 2, notion.width / 2
    half, tall = (wide, long) if lay.along is Along.HEIGHT else (long, wide)
    outline = _moved(rectangle(-half, -tall, half, tall), lay, names)
    slit = None
    if notion.sort is NotionSort.ZIP:
        box = outline.box
        x, y = box.centre
        slit = ((box.left + PAST_STOPS, y), (box.right - PAST_STOPS, y))
        if lay.along is Along.HEIGHT:
            slit = ((x, box.top + PAST_STOPS), (x, box.bottom - PAST_STOPS))
    return Layer(
        piece=notion.name,
        title=notion.title,
        fabric=notion.sort,
        side=lay.side,
        up=lay.up,
        outline=outline,
        folded_edges=(),
        plies=1,
        slit=slit,
        two_sided=slit is None,
        frays=False,
        ply=listed_materials()[NOTIONS.get(notion.sort, ANY_CLOTH)].ply,
    )


def _moved(outline: Path, lay: LayTable, names: NamedValues) -> Path:
    """Move an outline to where a step says; along an axis of which it says nothing, not at all."""
    box = outline.box
    ways = (
        (box.left, box.right, lay.left, lay.right, lay.middle),
        (box.top, box.bottom, lay.top, lay.bottom, lay.centre),
    )
    shift = np.zeros(2)
    for axis, (low, high, first, last, centre) in enumerate(ways):
        if first is not None:
            shift[axis] = first.number(names) - low
        elif last is not None:
            shift[axis] = last.number(names) - high
        elif centre is not None:
            shift[axis] = centre.number(names) - (low + high) / 2
    moved = Path(outline.points + shift, closed=True)
    within_reach(Clause("where-it-is-laid", facts(name=as_named(lay.piece.name))), moved.bounds)
    return moved


def tape(on: TapeOn, names: NamedValues, laid: list[Layer]) -> Iterator[Path]:
    """Strips of tape for every layer of a piece laid so far and not taped yet."""
    for x, y in (spot(pair, names) for pair in on.over):
        half, tall = TAPE_WIDTH / 2, TAPE_OVER / 2
        yield rectangle(x - half, y - tall, x + half, y + tall)
    if on.over:
        return
    piece = pointed_at(on.piece, names)
    for one in laid:
        if one.piece == piece:
            sides = edges_of(one.outline)
            raw = [side for side in sides if sides[side] not in one.folded_edges]
            wanted = list(on.at) if on.at else raw
            for side in wanted:
                yield from _strips(one.outline, side, sides[side])


def strips_round(outline: Path) -> Iterator[Path]:
    """Strips of tape at all edges of a sheet, one for each `ONE_STRIP` of an edge or part of it."""
    for side, edge in edges_of(outline).items():
        yield from _strips(outline, side, edge, most=MOST_STRIPS)


def _strips(outline: Path, side: Edge, edge: tuple[Point, Point], most: int = 2) -> Iterator[Path]:
    """Strips across an edge, spread along it: as many as its length asks for, up to the most."""
    (ax, ay), (bx, by) = edge
    length = abs(bx - ax) + abs(by - ay)
    upright = side in FOLD_EDGES[Along.WIDTH]
    outward = -1.0 if side in ("left", "top") else 1.0
    middle_x, middle_y = (ax + bx) / 2, (ay + by) / 2
    box = outline.box
    shaped = signed_area(outline.points) < box.width * box.height - 1e-6
    count = 1 if shaped else min(most, max(1, math.ceil((length - TOLERANCE) / ONE_STRIP)))
    for place in ((number + 0.5) / count * length - length / 2 for number in range(count)):
        x, y = (middle_x, middle_y + place) if upright else (middle_x + place, middle_y)
        if shaped:
            x, y = _outermost(outline, side)
        near, far = -outward * TAPE_ONTO, outward * (TAPE_LENGTH - TAPE_ONTO)
        low, high = min(near, far), max(near, far)
        half = TAPE_WIDTH / 2
        if upright:
            yield rectangle(x + low, y - half, x + high, y + half)
        else:
            yield rectangle(x - half, y + low, x + half, y + high)


def _outermost(outline: Path, side: str) -> Point:
    """Middle of what reaches farthest out on a side: a strip across it lies square on it."""
    axis = 0 if side in ("left", "right") else 1
    sign = -1.0 if side in ("left", "top") else 1.0
    out = outline.points[:, axis] * sign
    farthest = outline.points[out > out.max() - 1e-6]
    low, high = farthest.min(axis=0), farthest.max(axis=0)
    return float(low[0] + high[0]) / 2, float(low[1] + high[1]) / 2
