"""Pieces and notions: cut from folded, with the creases on the piece as cut.

The folded size is rounded up before the cut size follows from it, so that a person can measure
both on a ruler.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from math import prod

import numpy as np

from paramgen.budget import CREASES, LONGEST_CUT, LONGEST_NOTION, PIECES, PLIES, up_to
from paramgen.geometry.outlines import ShapeError, rectangle
from paramgen.layout.name_scope import (
    NamedValues,
    all_of,
    as_named,
    holds,
    label,
    pointed_at,
    spot,
    whole,
    within_reach,
)
from paramgen.layout.outline_shapes import Shapes, find
from paramgen.lengths import round_up
from paramgen.recipe.language import FoldTable, Hold, PieceTable
from paramgen.sizing import Sized, repeats
from paramgen.vocabulary.facts import Clause, Mm, MmByMm, Name, Written, facts
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Along, Edge, FoldKind
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, path
from paramgen.vocabulary.project import Crease, FusedPatch, Held, Notion, Piece

#: Layers of fabric that a fold makes of one.
PLIES_OF = {FoldKind.HALF: 2, FoldKind.QUARTER: 4, FoldKind.THIRDS: 3, FoldKind.HEM: 1}


@dataclass(frozen=True, kw_only=True)
class SizedFold:
    """One fold with its numbers: how much it turns in (a hem), what the cloth takes, mm.

    A hem may be turned in at an edge of its own; else it lies where a step lays it.

    Examples
    --------
    Each outer third 1 mm less than the middle one; a hem takes what is turned in:

    >>> thirds = SizedFold(kind=FoldKind.THIRDS, along=Along.WIDTH, take=-2.0)
    >>> thirds.flat(25.0), thirds.folded(73.0)
    (73.0, 25.0)
    >>> thirds.beside
    1.0
    >>> SizedFold(kind=FoldKind.HEM, along=Along.WIDTH, turn=8.0).flat(73.0)
    81.0
    """

    kind: FoldKind
    along: Along
    turn: float = 0.0
    take: float = 0.0
    towards: str = "right sides out"
    edge: Edge | None = None

    def flat(self, folded: float) -> float:
        """Size before this fold from the size after it."""
        if self.kind is FoldKind.HEM:
            return folded + self.turn + self.take
        return folded * PLIES_OF[self.kind] + self.take

    def folded(self, flat: float) -> float:
        """Size after this fold from the size before it."""
        if self.kind is FoldKind.HEM:
            return flat - self.turn - self.take
        return (flat - self.take) / PLIES_OF[self.kind]

    @property
    def beside(self) -> float:
        """How far the edge of an outer third lies inside the far edge of the middle one, mm.

        Three thirds m of the middle one and `take` are the middle one and two outer ones of
        m + take / 2 each.
        """
        return max(0.0, -self.take / 2) if self.kind is FoldKind.THIRDS else 0.0

    @property
    def low(self) -> bool:
        """Whether a hem lies at the top or the left."""
        return self.edge in (Edge.TOP, Edge.LEFT)


@dataclass(frozen=True, kw_only=True)
class CutPiece:
    """A piece with what laying it needs to know.

    Parameters
    ----------
    piece : Piece
    folds : tuple of SizedFold
        In order.
    lies : Path
        Its folded outline where it lies if a step says nothing else.
    two_sided, frays, clear, faceless, unlined : bool
        See `Layer`.
    ply : (float, float)
        Least and most thickness of a layer, mm.
    """

    piece: Piece
    folds: tuple[SizedFold, ...]
    lies: Path
    two_sided: bool
    frays: bool
    clear: bool
    faceless: bool
    unlined: bool
    ply: tuple[float, float]


def _fold(table: FoldTable, names: NamedValues) -> SizedFold:
    turn = table.turn.number(names) if table.turn else 0.0
    take = table.take.number(names) if table.take else 0.0
    return SizedFold(
        kind=FoldKind(table.fold),
        along=table.along,
        turn=turn,
        take=take,
        towards=f"right sides {table.right_side}",
        edge=table.edge,
    )


def pieces(
    sized: Sized, shapes: Shapes, laid: Mapping[str, int], at_edge: Mapping[str, Edge]
) -> dict[str, CutPiece]:
    """Every piece there is to cut, by name, in the recipe's order.

    Parameters
    ----------
    shapes : mapping of name to Path
    laid : mapping of name to int
        How often the steps lay each piece.
    at_edge : mapping of name to Edge
        Where the steps say that the last fold or the hem of a piece lies.

    Raises
    ------
    ShapeError
        If a piece has no size, is laid more often than it is cut, or cannot be edge-stitched so.
    """
    return {cut.piece.name: cut for cut in _pieces(sized, shapes, laid, at_edge)}


def _pieces(
    sized: Sized, shapes: Shapes, laid: Mapping[str, int], at_edge: Mapping[str, Edge]
) -> Iterator[CutPiece]:
    all_cut = 0
    for name, table in sized.recipe.file.pieces.items():
        for index, names in repeats(table.repeat, sized.names):
            if not holds(table.when, names):
                continue
            one = label(name, index, names)
            called = facts(name=as_named(one))
            times = laid.get(one, 0)
            quantity = times
            if table.quantity:
                quantity = whole(
                    Clause("quantity-of-piece", called), table.quantity.number(names), 0
                )
            all_cut += quantity
            PIECES.ask(all_cut, up_to("pieces", one))
            if times > quantity:
                raise ShapeError("laid-more-than-cut", name=as_named(one), cut=quantity, laid=times)
            folds = tuple(_fold(fold, names) for fold in table.folds if holds(fold.when, names))
            plies = prod(PLIES_OF[fold.kind] for fold in folds)
            PLIES.ask(plies, Clause("in-a-folded-piece", facts(piece=Name("piece", one, one))))
            if table.outline:
                lies = find(table.outline, names, shapes)
                outline = path(lies.points - middle_of(lies), closed=True)
                box = outline.box
                cut = folded = (box.width, box.height)
            else:
                wanted = _wanted(table, names, shapes)
                if min(wanted) <= 0:
                    raise ShapeError("piece-of-no-size", name=as_named(one), size=MmByMm(*wanted))
                mark = names["ruler_mark"]
                cut, folded = cut_and_folded(wanted, folds, mark, measured=times > 0)
                within_reach(Clause("the-piece", called), [side / 2 for side in folded])
                if max(cut) > LONGEST_CUT:
                    raise ShapeError(
                        "piece-too-long",
                        name=as_named(one),
                        size=MmByMm(*cut),
                        most=Mm(LONGEST_CUT),
                    )
                outline = _box(cut)
                lies = _box(folded)
                if table.around:
                    middle = middle_of(find(table.around, names, shapes))
                    lies = path(lies.points + middle, closed=True)
            title = sized.speaker.say(table.title, names, index)
            lines = creases(cut, _as_laid(folds, at_edge.get(one)))
            edge = table.edge_stitched.number(names) if table.edge_stitched else None
            _check_edge_stitched(one, edge, folded)
            piece = Piece(
                name=one,
                title=title,
                fabric=table.fabric,
                quantity=quantity,
                cut=cut,
                folded=folded,
                outline=outline,
                creases=lines,
                grain=table.grain,
                edge_stitched=edge,
                one_sheet=table.one_sheet,
            )
            fabric = sized.fabrics[table.fabric]
            unlined = table.unlined is not None and table.unlined.truth(names)
            yield CutPiece(
                piece=piece,
                folds=folds,
                lies=lies,
                two_sided=table.two_sided,
                frays=table.frays,
                clear=table.clear,
                faceless=fabric.material.faceless,
                unlined=unlined,
                ply=fabric.ply,
            )


def _check_edge_stitched(name: str, inside: float | None, folded: tuple[float, float]) -> None:
    """Stitching inside the edges of a piece lies on it, and both sides do not meet."""
    if inside is None or 0 < inside < min(folded) / 2:
        return
    raise ShapeError(
        "not-edge-stitched",
        name=as_named(name),
        size=MmByMm(*folded),
        inside=Mm(inside),
        less=Mm(min(folded) / 2),
    )


def _wanted(table: PieceTable, names: NamedValues, shapes: Shapes) -> tuple[float, float]:
    """Folded size a piece must have at least."""
    if table.around:
        assert table.past is not None
        box = find(table.around, names, shapes).box
        # An outline of chords may be larger than its curve by so little: no ruler mark more for it.
        past = 2 * table.past.number(names) - CHORD_ERROR
        return box.width + past, box.height + past
    assert table.width is not None
    assert table.height is not None
    return table.width.number(names), table.height.number(names)


def _box(size: tuple[float, float]) -> Path:
    return rectangle(-size[0] / 2, -size[1] / 2, size[0] / 2, size[1] / 2)


def middle_of(outline: Path) -> FloatArray:
    """Middle of the box around an outline, shape (2,).

    Examples
    --------
    >>> middle_of(rectangle(0, 0, 4, 3)).tolist()
    [2.0, 1.5]
    """
    box = outline.box
    return np.array(box.centre)


def cut_and_folded(
    wanted: tuple[float, float],
    folds: tuple[SizedFold, ...],
    mark: float,
    *,
    measured: bool = True,
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Cut size, and the folded size it then has, both on ruler marks where they can be.

    The folded size is rounded up first, so that a person can measure it too; the cut size
    follows from it by undoing the folds, and is rounded up again where a fold takes cloth.

    Parameters
    ----------
    wanted : (width, height)
        Least folded size, mm.
    folds : tuple of SizedFold
    mark : float
        Ruler mark, mm.
    measured : bool
        Whether it is measured folded. A binding that no step lays is not: it is rounded up as
        it is cut alone, as four times as much would be added to it.

    Returns
    -------
    cut, folded : (width, height) each, mm
    """
    cuts, folded = [], []
    for way, size in zip(Along, wanted, strict=True):
        mine = [fold for fold in folds if fold.along is way]
        cut = round_up(size, mark) if measured else size
        for fold in reversed(mine):
            cut = fold.flat(cut)
        cut = round_up(cut, mark)
        after = cut
        for fold in mine:
            after = fold.folded(after)
        cuts.append(cut)
        folded.append(after)
    return (cuts[0], cuts[1]), (folded[0], folded[1])


def _as_laid(folds: tuple[SizedFold, ...], edge: Edge | None) -> tuple[SizedFold, ...]:
    """A hem is turned in where it is to lie, twice too: the top is the top face down as well."""
    if edge is not Edge.TOP or not folds or folds[-1].kind is not FoldKind.HEM:
        return folds
    hem = (FoldKind.HEM, Along.HEIGHT, None)
    return tuple(
        replace(one, edge=edge) if (one.kind, one.along, one.edge) == hem else one for one in folds
    )


def creases(cut: tuple[float, float], folds: tuple[SizedFold, ...]) -> tuple[Crease, ...]:
    """Fold lines on a piece as cut, centred on the origin, in the order of folding."""
    found: list[Crease] = []
    orders: dict[int, int] = {}
    order = 1
    for place, fold in enumerate(folds):
        orders[place] = order
        order += 2 if fold.kind in (FoldKind.QUARTER, FoldKind.THIRDS) else 1
    for axis, way in enumerate(Along):
        across = cut[1 - axis] / 2
        for at, kind, number, towards in _unfolded(cut[axis], folds, way, orders):
            place_on = at - cut[axis] / 2
            ends = (
                ((place_on, -across), (place_on, across))
                if axis == 0
                else ((-across, place_on), (across, place_on))
            )
            found.append(Crease(number, kind, *ends, towards))
    return tuple(sorted(found, key=lambda crease: (crease.order, crease.start)))


def _unfolded(
    cut: float, folds: tuple[SizedFold, ...], way: Along, orders: Mapping[int, int]
) -> list[tuple[float, FoldKind, int, str]]:
    """Places of the creases along one size, measured from its low end, by undoing the folds."""
    mine = [(place, fold) for place, fold in enumerate(folds) if fold.along is way]
    sizes = [cut]
    for _, fold in mine:
        sizes.append(fold.folded(sizes[-1]))
    marks: list[tuple[float, FoldKind, int, str]] = []
    for (place, fold), size in zip(reversed(mine), reversed(sizes[:-1]), strict=True):
        order, half = orders[place], size / 2
        CREASES.ask(len(marks), Clause("in-one-piece"))
        if fold.kind is FoldKind.HEM:
            marks = [
                *_with_hem(marks, size, fold),
                (_hem_at(size, fold), fold.kind, order, fold.towards),
            ]
            continue
        if fold.kind is FoldKind.THIRDS:
            aside = (size - fold.folded(size)) / 2
            # One outer third goes in first, the other over it.
            marks = [
                *_in_thirds(marks, size, aside),
                (aside, fold.kind, order, fold.towards),
                (size - aside, fold.kind, order + 1, fold.towards),
            ]
            continue
        if fold.kind is FoldKind.QUARTER:
            marks = [(at, k, n, t) for a, k, n, t in marks for at in (a, half - a)]
        marks = [(at, k, n, t) for a, k, n, t in marks for at in (a, size - a)]
        if fold.kind is FoldKind.QUARTER:
            marks += [(half / 2, fold.kind, order, fold.towards)]
            marks += [(size - half / 2, fold.kind, order, fold.towards)]
            order += 1
        marks += [(half, fold.kind, order, fold.towards)]
    return marks


def _hem_at(size: float, fold: SizedFold) -> float:
    """Where the crease of a hem lies along a size, from its low end."""
    return fold.turn if fold.low else size - fold.turn


def _with_hem(
    marks: list[tuple[float, FoldKind, int, str]], size: float, fold: SizedFold
) -> list[tuple[float, FoldKind, int, str]]:
    """Later creases on what is not yet hemmed; those near the edge go through the hem as well."""
    edge = _hem_at(size, fold)
    if fold.low:
        marks = [(edge + a, k, n, t) for a, k, n, t in marks]
    near = fold.turn - 1e-6
    through = [(2 * edge - a, k, n, t) for a, k, n, t in marks if abs(a - edge) < near]
    return [*marks, *through]


def _in_thirds(
    marks: list[tuple[float, FoldKind, int, str]], size: float, aside: float
) -> list[tuple[float, FoldKind, int, str]]:
    """Later creases go through all three; an outer third may be less than the middle one."""
    return [
        (at, k, n, t)
        for a, k, n, t in marks
        for at in (aside - a, aside + a, 2 * size - 3 * aside - a)
        if 0.0 < at < size
    ]


def notions(sized: Sized, cut: Iterable[str], outlines: Shapes) -> tuple[Notion, ...]:
    """Every notion to have ready, in the recipe's order.

    Parameters
    ----------
    sized : Sized
    cut : iterable of str
        Names of the pieces there are.
    outlines : mapping of name to Path
    """
    names = sized.names
    there = [*cut, *sized.recipe.file.notions]
    mark = names["ruler_mark"]
    found = tuple(
        Notion(
            name=name,
            title=sized.speaker.say(table.title, names),
            sort=table.sort,
            quantity=whole(
                Clause("quantity-of-notion", facts(name=as_named(name))),
                table.quantity.number(names),
                0,
            )
            if table.quantity
            else 1,
            length=round_up(table.length.number(names), mark) if table.length else None,
            width=table.width.number(names) if table.width else None,
            coil=table.coil.number(names) if table.coil else None,
            halves=tuple(spot(pair, names) for pair in table.halves or ()),
            at=tuple(spot(pair, names) for pair in table.at),
            hangs=tuple(spot(pair, names) for pair in table.hangs),
            fused_to=tuple(
                FusedPatch(pointed_at(one.piece, names), find(one.outline, names, outlines))
                for one in table.fused_to
                if holds(one.when, names)
            ),
            over_edge=tuple(spot(pair, names) for pair in table.over_edge or ()),
            clearance=table.clearance.number(names) if table.clearance else 0.0,
            once=table.once,
            through=tuple(all_of(refs, names, there) for refs in table.through),
            needed=Act(table.needed) if table.needed else Act.FASTEN,
        )
        for name, table in sized.recipe.file.notions.items()
        if holds(table.when, names)
    )
    PIECES.ask(sum(one.quantity for one in found), Clause("to-have-ready"))
    for one in found:
        length = one.length or 0.0
        if one.width is None:  # so it is never laid
            if length > LONGEST_NOTION:
                most = Mm(LONGEST_NOTION)
                raise ShapeError(
                    "notion-too-long", name=as_named(one.name), length=Mm(length), most=most
                )
            length = 0.0
        sides = [length, one.width or 0.0, one.clearance]
        within_reach(
            Clause("the-notion", facts(name=as_named(one.name))), [max(sides) / 2, min(sides) / 2]
        )
    return found


def held(sized: Sized, shapes: Shapes) -> tuple[Held, ...]:
    """The things the project is meant to hold.

    Raises
    ------
    ShapeError
        If one of them has no size, or its other numbers cannot be.
    """
    names = sized.names
    return tuple(
        _held(name, sized.recipe.title_of(name), sized.recipe.number_of(name), table, names, shapes)
        for name, table in sized.recipe.file.holds.items()
        if holds(table.when, names)
    )


def _held(
    name: str, title: str, asked: int, table: Hold, names: NamedValues, shapes: Shapes
) -> Held:
    called = as_named(name)
    size = table.width.number(names), table.height.number(names)
    if min(size) <= 0:
        raise ShapeError("held-of-no-size", name=called, size=MmByMm(*size))
    thickness = table.thickness.number(names) if table.thickness else 0.0
    if thickness < 0:
        raise ShapeError("held-of-no-thickness", name=called, thickness=Mm(thickness))
    share = table.share.number(names) if table.share else 1.0
    if not 0 <= share <= 1:
        raise ShapeError("held-by-no-share", name=called, share=Written((share,)))
    return Held(
        name=name,
        title=title,
        size=size,
        ease=table.ease.number(names),
        against=pointed_at(table.against, names),
        face=table.face,
        share=share,
        shows=table.shows.number(names) if table.shows else 0.0,
        within=find(table.within, names, shapes) if table.within else None,
        thickness=thickness,
        opens=table.opens,
        number=whole(Clause("number-held", facts(name=called)), table.number.number(names), 1)
        if table.number
        else 1,
        asked=asked,
        folds=table.folds,
    )
