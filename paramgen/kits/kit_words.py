"""A plan in words: the cuts in their order, with what the ruler is set to; the bags."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from paramgen.amounts.project_materials import materials
from paramgen.booklet.cautions import CUTTING
from paramgen.drawings.primitives.paragraphs import fabric_name, listed
from paramgen.kits.cutting_plan import ClothCut, CutKind, PlacedPiece, SheetPlan
from paramgen.kits.worked_kit import Kit
from paramgen.lengths import INCH, show, show_both, show_size_both
from paramgen.sentences import number_of
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: Marks that a ruler has, mm, and how near to one a setting is on it.
_MARKS, _ON_IT = {Unit.MM: 0.5, Unit.INCH: INCH / 16}, 0.02

#: Edges and cuts meet within this, mm.
_NEAR = 1e-4

#: What the papers say before the first cut; common practice, no source.
BEFORE_CUTTING = (
    "Press the cloth, square up its end, and cut strips across its width.",
    "Stack strips that are alike edge on edge, and cut pieces from them from left to right.",
    "Let the ruler lie on what you keep, its mark on the edge that you cut last.",
)
ROTARY_CARE = (
    f"{CUTTING.title}: {CUTTING.says} Cut on a mat made for it, fingers off the ruler's edge; keep "
    "blades from children, and heed what came with the cutter."
)


@dataclass(frozen=True)
class CutLine:
    """Cuts of one kind after each other, as one line to do.

    Parameters
    ----------
    does : str
    ruler : str
        What it is set to.
    layers : int
    """

    does: str
    ruler: str
    layers: int


@dataclass(frozen=True)
class BagLabel:
    """What goes into one bag.

    Parameters
    ----------
    title, number : str
        What it makes, and which of how many it is.
    rows : tuple of str
    """

    title: str
    number: str
    rows: tuple[str, ...]


def ruler_words(mm: float, unit: Unit) -> str:
    """What a ruler is set to; what it has no mark for is told as about.

    >>> ruler_words(114.3, Unit.INCH), ruler_words(21.7, Unit.MM)
    ('4 1/2 in (114.3 mm)', 'about 21.7 mm (7/8 in)')
    """
    mark = _MARKS[unit]
    on = abs(mm - round(mm / mark) * mark) <= _ON_IT
    return f"{'' if on else 'about '}{show_both(mm, unit)}"


def plan_title(plan: SheetPlan, kit: Kit) -> str:
    """Which cloth, and which of several."""
    name = fabric_name(plan.role)
    several = sum(one.role == plan.role and one.title == plan.title for one in kit.sheets)
    title = f"{name}, {plan.title}" if plan.title else name
    return f"{title[:1].upper()}{title[1:]}{f', {plan.number} of {several}' if several > 1 else ''}"


def taken_words(plan: SheetPlan, unit: Unit) -> str:
    """What a cloth is and what the plan takes of it."""
    usable = f"usable width {show_both(plan.width, unit)}"
    takes = f"the plan takes {show_both(plan.length, unit)}"
    waste = f"{1 - plan.used:.0%} of that is left over"
    there = "" if plan.there is None else f" of {show_both(plan.there, unit)}"
    motif = ""
    if plan.motif is not None:
        motif = (
            " Each piece is centred on a motif, which repeats every "
            f"{show_size_both(*plan.motif, unit)}, across × along; one repeat is kept either way "
            "to find the first."
        )
    called = f"{plan.called}, " if plan.called else "" if plan.bought else "what is there, "
    said = f"{called}{usable}; {takes}{there}; {waste}."
    return f"{said[:1].upper()}{said[1:]}{motif}"


def letters_of(plan: SheetPlan) -> dict[str, str]:
    """A letter for each piece, in the order in which they are cut."""
    names = list(dict.fromkeys(one.piece for one in plan.placed))
    return {name: letter_of(place) for place, name in enumerate(names)}


def letter_of(place: int) -> str:
    """The letter of a place, from 0: A to Z, then AA.

    >>> letter_of(0), letter_of(25), letter_of(26)
    ('A', 'Z', 'AA')
    """
    first, last = divmod(place, 26)
    return (letter_of(first - 1) if first else "") + chr(ord("A") + last)


def key_rows(plan: SheetPlan, unit: Unit) -> Iterator[tuple[str, str, str, int]]:
    """Letter, title, size and how many of each piece of a plan; the size as the piece is made."""
    for name, letter in letters_of(plan).items():
        same = [one for one in plan.placed if one.piece == name]
        one = same[0]
        size = (one.height, one.width) if one.turned else (one.width, one.height)
        shaped = ", then by its template" if one.by_template else ""
        yield letter, one.title, f"{show_size_both(*size, unit)}{shaped}", len(same)


def cut_lines(plan: SheetPlan, unit: Unit) -> Iterator[CutLine]:
    """The cuts in their order, those alike in one line, clearing to a motif with what follows."""
    letters = letters_of(plan)
    groups = groupby(
        _cleared_first(plan.cuts),
        key=lambda pair: (
            _from_motif(pair[0]),
            pair[1].kind,
            round(pair[1].ruler, 3),
            _stack(pair[1]),
        ),
    )
    for _, group in groups:
        pairs = list(group)
        cuts = [cut for _, cut in pairs]
        does = _does(cuts, plan, letters, unit)
        first = cuts[0]
        clear = pairs[0][0] or (first if first.kind is CutKind.CLEAR else None)
        then = ruler_words(first.ruler, unit)
        if clear is None:
            yield CutLine(does, then, first.layers)
            continue
        before = f"{ruler_words(clear.from_motif or 0.0, unit)} before the middle of a motif"
        if clear is first:
            yield CutLine(does, before, first.layers)
        else:
            each = "each from the next motif" if len(cuts) > 1 else "from the next motif"
            yield CutLine(f"{does}, {each}", f"{before}, then {then}", first.layers)


def _cleared_first(cuts: Sequence[ClothCut]) -> Iterator[tuple[ClothCut | None, ClothCut]]:
    """Each cut, and the one that clears to the motif for it."""
    clear: ClothCut | None = None
    for cut in cuts:
        if clear is not None and not (
            cut.kind in (CutKind.STRIP, CutKind.PIECE) and cut.strips == clear.strips
        ):
            yield None, clear
            clear = None
        if cut.kind is CutKind.CLEAR:
            clear = cut
        else:
            yield clear, cut
            clear = None
    if clear is not None:
        yield None, clear


def _from_motif(cut: ClothCut | None) -> float | None:
    return None if cut is None else round(cut.from_motif or 0.0, 3)


def _stack(cut: ClothCut) -> tuple[int, ...]:
    return () if cut.kind is CutKind.STRIP else cut.strips


def _does(cuts: Sequence[ClothCut], plan: SheetPlan, letters: dict[str, str], unit: Unit) -> str:
    first, many = cuts[0], len(cuts)
    times = "" if many == 1 else f", {many} times"
    if first.kind is CutKind.SQUARE:
        fold = "Fold the cloth selvedge to selvedge; square up its end"
        return fold if first.folded else "Square up the end of the cloth"
    strips = _numbers([number for cut in cuts for number in cut.strips])
    if first.kind is CutKind.STRIP:
        return f"Cut {number_of(many, 'strip')} across the width: {strips}"
    if first.kind is CutKind.SELVEDGE:
        if len(first.strips) == 1:
            return f"Lay {strips} open; cut the selvedge off its left end"
        return f"Stack {strips}, open; cut the selvedges off their left ends"
    if first.kind is CutKind.CLEAR:
        return f"Find the next motif; cut off what lies before {_cleared(first, plan, letters)}"
    made = listed(list(dict.fromkeys(f"{letters[p.piece]} {p.title}" for p in _made(cuts, plan))))
    if first.kind is CutKind.TRIM:
        size = show(first.ruler, unit)
        if _cuts_apart(first, plan):
            return f"Cut {made} off at {size}{times}"
        return f"Trim {made} to {size}{times}"
    several = any(_behind(cut, plan) for cut in cuts)
    lie = ", with pieces that lie behind each other" if several else ""
    return f"From {_numbers(first.strips)} cut {made}{times}{lie}"


def _cleared(cut: ClothCut, plan: SheetPlan, letters: dict[str, str]) -> str:
    """What begins where a cut clears to a motif: a strip, or a piece at its left or upper edge."""
    (x1, y1, x2, _), *_ = cut.lines
    strips = _numbers(cut.strips)
    if x2 - x1 > plan.width:
        return strips
    for one in plan.placed:
        at_left = x1 == x2 or abs(one.y - y1) < _NEAR
        if one.strip in cut.strips and abs(one.x - x1) < _NEAR and at_left:
            edge = "" if x1 == x2 else "the upper edge of "
            return f"{edge}{letters[one.piece]} {one.title} in {strips}"
    return strips


def _cuts_apart(cut: ClothCut, plan: SheetPlan) -> bool:
    """Whether it goes between two pieces that lie behind each other."""
    (x1, y1, _, _), *_ = cut.lines
    return any(abs(one.x - x1) < _NEAR and abs(one.y - y1) < _NEAR for one in plan.placed)


def _behind(cut: ClothCut, plan: SheetPlan) -> bool:
    """Whether what a cut ends are several pieces behind each other."""
    return len(list(_made([cut], plan))) > len(cut.lines)


def _made(cuts: Sequence[ClothCut], plan: SheetPlan) -> Iterator[PlacedPiece]:
    """The pieces that cuts end."""
    for cut in cuts:
        for (x1, y1, x2, y2), number in zip(cut.lines, cut.strips, strict=True):
            for one in plan.placed:
                if one.strip != number:
                    continue
                right, low = one.x + one.width, one.y + one.height
                ended = x1 == x2 and abs(right - x1) < _NEAR
                trimmed = y1 == y2 and abs(low - y1) < _NEAR and abs(right - x2) < _NEAR
                if ended or trimmed:
                    yield one


def _numbers(strips: Sequence[int]) -> str:
    """Strips by their numbers: `strip 4`, `strips 1 to 3`."""
    found = sorted(dict.fromkeys(strips))
    if len(found) == 1:
        return f"strip {found[0]}"
    if found[-1] - found[0] == len(found) - 1 and len(found) > 2:
        return f"strips {found[0]} to {found[-1]}"
    return f"strips {listed([str(one) for one in found])}"


def bags(kit: Kit) -> Iterator[BagLabel]:
    """A label for each bag: one hooping with all that is cut and counted for it."""
    for order in kit.orders:
        project = order.made.project
        one = materials(order.made)
        rows = [
            f"{piece.quantity} × {piece.title}, {fabric_name(cloth.role)}"
            f"{' (interfacing)' if cloth.sort == 'interfacing' else ''}, "
            f"{show_size_both(*piece.cut, kit.unit)}"
            for cloth in one.cloths
            for piece in cloth.pieces
        ]
        rows += [
            f"{notion.quantity} × {english().as_used(notion.title, kit.unit)}"
            for notion in one.notions
        ]
        rows += [
            f"{sheet.sheets} × stabiliser, {show_size_both(*sheet.size, kit.unit)}"
            for sheet in one.stabiliser
        ]
        makes = f", makes {project.copies}" if project.copies > 1 else ""
        size = show_size_both(*project.finished, kit.unit)
        for number in range(1, order.hoopings + 1):
            yield BagLabel(
                f"{project.title}, {size}",
                f"Bag {number} of {order.hoopings}{makes}, hoop {order.made.room.hoop.name}",
                tuple(rows),
            )
