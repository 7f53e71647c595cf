"""From cloths to cut and the cloth there is to a plan for each length of cloth."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from paramgen.amounts.project_materials import ClothToCut, PieceToCut
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay
from paramgen.kits.cut_order import LaidStrip, cuts_of
from paramgen.kits.cutting_plan import PlacedPiece, SheetPlan
from paramgen.kits.on_motifs import PrintRepeat, lost_to_motifs, on_motifs, whole_repeats
from paramgen.kits.strip_choice import SecondsLeft, choose_strips
from paramgen.kits.strip_sizes import (
    FINEST,
    ChosenStrip,
    InStrip,
    SizeToCut,
    StripsChosen,
    StripStock,
    whole_down,
    whole_up,
)
from paramgen.lengths import INCH, TOLERANCE, round_up, show
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

#: Cloth is sold by this, mm: 10 cm; 1/8 yd (common practice, no source).
SOLD_BY = {Unit.MM: 100.0, Unit.INCH: 4.5 * INCH}


@dataclass(frozen=True)
class _Stock:
    """Some of the cloth there is, as it is cut."""

    there: ClothThere
    usable: float
    selvedges: tuple[float, float]
    length: float | None


def plan_cutting(
    cloth: ClothToCut,
    there: Sequence[ClothThere],
    cutting: Cutting,
    unit: Unit,
    left: SecondsLeft,
) -> tuple[SheetPlan, ...]:
    """Plan how a cloth is cut.

    Parameters
    ----------
    cloth : ClothToCut
    there : sequence of ClothThere
        All of its role; one of them is bought as it is needed, and stands last.
    cutting : Cutting
    unit : Unit
        Cloth is bought as it is sold where the person measures so.
    left : callable
        Seconds left.

    Returns
    -------
    tuple of SheetPlan
        One for each length that something is cut from, what is there first.

    Raises
    ------
    InputError
        If a piece is larger than the cloth that is bought, or a print and the grain disagree.
    """
    stocks = [_stock(one, cutting) for one in there for _ in range(_lengths(one))]
    check_print(cloth, stocks[-1].there)
    last = stocks[-1].there
    motif = last.motif
    upright = motif is not None and last.one_way is OneWay.NO
    kinds = _kinds(cloth, OneWay.ALONG if upright else last.one_way)
    if motif is not None:
        return _on_motifs(
            cloth, kinds, stocks, motif, replace(cutting, layers=1, stages=2), unit, left
        )
    _check(cloth, kinds, stocks[-1], unit)
    sizes = [kind.size for kind in kinds]
    chosen = choose_strips(sizes, [_as_strips(one, cutting) for one in stocks], left)
    sheets = list(_sheets(chosen, stocks, cutting, left))
    return tuple(_planned(cloth, kinds, sheets, cutting, unit))


@dataclass(frozen=True)
class _Kind:
    """Pieces of one size that lie alike."""

    size: SizeToCut
    pieces: tuple[tuple[PieceToCut, bool], ...]
    across: float
    along: float


@dataclass(frozen=True)
class _Sheet:
    """A length of cloth with the strips that are cut from it."""

    stock: _Stock
    strips: tuple[ChosenStrip, ...]
    bound: float
    proven: bool


def _on_motifs(
    cloth: ClothToCut,
    kinds: Sequence[_Kind],
    stocks: Sequence[_Stock],
    motif: PrintRepeat,
    cutting: Cutting,
    unit: Unit,
    left: SecondsLeft,
) -> tuple[SheetPlan, ...]:
    """Plan with every piece on a motif, one layer at a time, as the motifs must be seen.

    What no plan in strips is under, motifs or none, is the bound.
    """
    across, along = motif
    lost = (
        lost_to_motifs([kind.across for kind in kinds], across),
        lost_to_motifs([kind.along for kind in kinds], along),
    )
    whole = [_in_whole_repeats(kind, motif) for kind in kinds]
    narrowed = [
        replace(
            one,
            usable=one.usable - lost[0],
            length=None if one.length is None else one.length - lost[1],
        )
        for one in stocks
    ]
    _check(cloth, whole, narrowed[-1], unit)
    half = left() / 2
    least = choose_strips(
        [kind.size for kind in kinds],
        [_as_strips(one, cutting) for one in stocks],
        lambda: left() - half,
    ).bound
    chosen = choose_strips(
        [kind.size for kind in whole], [_as_strips(one, cutting) for one in narrowed], left
    )
    sheets = _sheets(replace(chosen, bound=least), narrowed, cutting, left)
    before = {id(one): stock for one, stock in zip(narrowed, stocks, strict=True)}
    there = [replace(one, stock=before[id(one.stock)]) for one in sheets]
    return tuple(_planned(cloth, kinds, there, cutting, unit))


def _in_whole_repeats(kind: _Kind, motif: PrintRepeat) -> _Kind:
    across = whole_repeats(kind.across, motif[0]) * motif[0]
    along = whole_repeats(kind.along, motif[1]) * motif[1]
    size = replace(kind.size, across=whole_up(across), along=whole_up(along))
    return replace(kind, size=size, across=across, along=along)


def _lengths(there: ClothThere) -> int:
    return there.pieces if there.pieces is not None and not there.bought else 1


def _stock(there: ClothThere, cutting: Cutting) -> _Stock:
    """Cloth as it is cut: washed, its selvedges off."""
    kept = 1 - cutting.shrinkage
    first, second = (cutting.selvedge if there.selvedges > side else 0.0 for side in (0, 1))
    usable = there.width * kept - first - second
    length = None if there.length is None else there.length * kept
    return _Stock(there, usable, (first, second), length)


def _as_strips(stock: _Stock, cutting: Cutting) -> StripStock:
    room = None if stock.length is None else whole_down(max(0.0, stock.length - cutting.squaring))
    width, behind = max(0, whole_down(stock.usable)), cutting.stages > 2
    if stock.there.bought:
        return StripStock(width=width, highest=room, behind=behind)
    return StripStock(width=width, length=room, costs=False, behind=behind)


def _kinds(cloth: ClothToCut, one_way: OneWay) -> tuple[_Kind, ...]:
    """Pieces by the size that they have across and along the cloth."""
    found: dict[tuple[float, float, bool], list[tuple[PieceToCut, bool]]] = defaultdict(list)
    for piece in cloth.pieces:
        width, height = piece.cut
        lies_turned = piece.grain is Grain.WIDTH or (
            one_way is OneWay.ACROSS and piece.grain is Grain.ANY
        )
        turns = piece.grain is Grain.ANY and one_way is OneWay.NO
        across, along = (height, width) if lies_turned else (width, height)
        if turns and across < along:
            across, along, lies_turned = along, across, not lies_turned
        found[across, along, turns].append((piece, lies_turned))
    return tuple(
        _Kind(
            SizeToCut(
                across=whole_up(across),
                along=whole_up(along),
                count=sum(piece.quantity for piece, _ in pieces),
                turns=turns,
            ),
            tuple(pieces),
            across,
            along,
        )
        for (across, along, turns), pieces in found.items()
    )


def _check(cloth: ClothToCut, kinds: Sequence[_Kind], last: _Stock, unit: Unit) -> None:
    faults: list[Fault] = []
    wide, long = last.usable, last.length
    for kind in kinds:
        ways = [(kind.across, kind.along)]
        ways += [(kind.along, kind.across)] if kind.size.turns else []
        if not any(_fits(way, wide, long) for way in ways):
            needs = min(across for across, _ in ways) + last.there.width - last.usable
            title = kind.pieces[0][0].title
            text = (
                f"the {title} takes {show(kind.across, unit)} across the cloth, of which "
                f"{show(max(0.0, wide), unit)} can be used"
            )
            hint = f"Take one at least {show(round_up(needs, 1.0), unit)} wide"
            hint += "." if long is None else ", by the length."
            faults.append(Fault(text, f"--fabric {cloth.role}", hint=hint))
    if faults:
        raise InputError(faults)


def _fits(way: tuple[float, float], wide: float, long: float | None) -> bool:
    across, along = way
    return across <= wide + TOLERANCE and (long is None or along <= long + TOLERANCE)


def check_print(cloth: ClothToCut, there: ClothThere) -> None:
    """Raise InputError with all pieces whose grain would lay a one-way print on its side."""
    if faults := list(_against_the_print(cloth, there)):
        raise InputError(faults)


def _against_the_print(cloth: ClothToCut, there: ClothThere) -> Iterator[Fault]:
    wrong = {OneWay.ALONG: Grain.WIDTH, OneWay.ACROSS: Grain.HEIGHT}.get(there.one_way)
    for piece in cloth.pieces:
        if wrong is not None and piece.grain is wrong:
            text = f"the grain of the {piece.title} lays a {there.one_way} print on its side"
            other = OneWay.ACROSS if there.one_way is OneWay.ALONG else OneWay.ALONG
            hint = f"Take a cloth whose print is {other}, or one without an upper end."
            yield Fault(text, f"--fabric {cloth.role}", hint=hint)


def _sheets(
    chosen: StripsChosen, stocks: Sequence[_Stock], cutting: Cutting, left: SecondsLeft
) -> Iterator[_Sheet]:
    """Every length of cloth with its strips."""
    for place, stock in enumerate(stocks):
        strips = tuple(one for one in chosen.strips if one.stock == place)
        if not strips:
            continue
        if not stock.there.bought:
            yield _Sheet(stock, strips, 0.0, chosen.proven)
        elif stock.length is None:
            bound = chosen.bound / FINEST + cutting.squaring
            yield _Sheet(stock, strips, bound, chosen.proven)
        else:
            yield from _by_the_piece(strips, chosen, stock, cutting, left)


def _by_the_piece(
    strips: Sequence[ChosenStrip],
    chosen: StripsChosen,
    stock: _Stock,
    cutting: Cutting,
    left: SecondsLeft,
) -> Iterator[_Sheet]:
    """Share strips out over as few pieces of a length as may be: cutting stock in one direction."""
    assert stock.length is not None
    room = whole_down(stock.length - cutting.squaring)
    heights: dict[int, list[ChosenStrip]] = defaultdict(list)
    for strip in strips:
        heights[strip.height].append(strip)
    sizes = [SizeToCut(across=h, along=1, count=len(found)) for h, found in heights.items()]
    shared = choose_strips(sizes, [StripStock(width=room)], left)
    least = max(1, math.ceil(chosen.bound / room - TOLERANCE))
    queues = list(heights.values())
    for piece in shared.strips:
        held = tuple(queues[one.size].pop() for one in piece.pieces)
        yield _Sheet(stock, held, 0.0, len(shared.strips) <= least)


def _planned(
    cloth: ClothToCut,
    kinds: Sequence[_Kind],
    sheets: Sequence[_Sheet],
    cutting: Cutting,
    unit: Unit,
) -> Iterator[SheetPlan]:
    queues = [list(_each(kind)) for kind in kinds]
    for number, sheet in enumerate(sheets, 1):
        stock = sheet.stock
        ordered = sorted(sheet.strips, key=lambda one: (-one.height, _shape(one, kinds)))
        strips = _laid(ordered, kinds, queues, cutting.squaring)
        if stock.there.motif is not None:
            strips = on_motifs(strips, stock.there.motif, cutting.squaring)
        length = strips[-1].y + strips[-1].height
        by_length = stock.there.bought and stock.length is None
        yield SheetPlan(
            role=cloth.role,
            sort=cloth.sort,
            title=cloth.title,
            called=stock.there.called,
            number=number,
            sold_width=stock.there.width,
            width=stock.usable,
            selvedges=stock.selvedges,
            length=length,
            bound=min(length, sheet.bound),
            proven=sheet.proven and stock.there.motif is None,
            there=stock.length,
            bought=stock.there.bought,
            buy=round_up(length / (1 - cutting.shrinkage), SOLD_BY[unit]) if by_length else None,
            cuts=cuts_of(
                strips,
                width=stock.usable,
                selvedges=stock.selvedges,
                squaring=cutting.squaring,
                sheet=stock.length,
                layers=cutting.layers,
            ),
            placed=tuple(piece for strip in strips for piece in strip.pieces),
            motif=stock.there.motif,
        )


def _each(kind: _Kind) -> Iterator[tuple[PieceToCut, bool]]:
    for piece, turned in kind.pieces:
        for _ in range(piece.quantity):
            yield piece, turned


def _shape(strip: ChosenStrip, kinds: Sequence[_Kind]) -> tuple[tuple[float, ...], ...]:
    """Columns from left to right: the highest first, so that those to be trimmed lie together."""
    return tuple(sorted(_by_height(one, kinds) for one in strip.pieces))


def _by_height(column: InStrip, kinds: Sequence[_Kind]) -> tuple[float, ...]:
    """What columns are ordered by: the higher first, of those the wider."""
    sizes = [_size(kinds[one.size], turned=one.turned) for one in column.column]
    return (-sum(along for _, along in sizes), -sizes[0][0], *(along for _, along in sizes))


def _size(kind: _Kind, *, turned: bool) -> tuple[float, float]:
    return (kind.along, kind.across) if turned else (kind.across, kind.along)


def _laid(
    ordered: Iterable[ChosenStrip],
    kinds: Sequence[_Kind],
    queues: Sequence[list[tuple[PieceToCut, bool]]],
    squaring: float,
) -> list[LaidStrip]:
    """Give every strip its place and every place its piece."""
    strips: list[LaidStrip] = []
    y = squaring
    for number, strip in enumerate(ordered, 1):
        x, placed = 0.0, []
        for column in sorted(strip.pieces, key=lambda one: _by_height(one, kinds)):
            top = y
            for one in column.column:
                across, along = _size(kinds[one.size], turned=one.turned)
                piece, turned = queues[one.size].pop(0)
                placed.append(
                    PlacedPiece(
                        piece=piece.name,
                        title=piece.title,
                        x=round(x, 6),
                        y=round(top, 6),
                        width=across,
                        height=along,
                        turned=turned != one.turned,
                        strip=number,
                        by_template=piece.by_template,
                    )
                )
                top += along
            x += across
        height = round(max(piece.y + piece.height for piece in placed) - y, 6)
        strips.append(LaidStrip(number, round(y, 6), height, tuple(placed)))
        y = round(y + height, 6)
    return strips


def as_one_cloth(cloths: Iterable[ClothToCut]) -> tuple[ClothToCut, ...]:
    """Interfacing of one kind is one cloth, whatever it is fused to."""
    joined: dict[tuple[str, str, str], ClothToCut] = {}
    for cloth in cloths:
        role = "interfacing" if cloth.sort == "interfacing" else cloth.role
        key = role, cloth.sort, cloth.title
        before = joined.get(key)
        pieces = (*before.pieces, *cloth.pieces) if before else cloth.pieces
        joined[key] = replace(cloth, role=role, pieces=pieces)
    return tuple(joined.values())
