"""What to buy, line by line, and as a table for a spreadsheet."""

import csv
import io
from collections.abc import Iterator
from itertools import groupby

from paramgen.amounts.project_materials import ClothToCut, NotionToHave
from paramgen.drawings.primitives.paragraphs import fabric_name
from paramgen.grading.summary_sheet import BOM, harmless
from paramgen.kits.cutting_plan import SheetPlan
from paramgen.kits.kit_thread import KitThread
from paramgen.kits.kit_told import KitTold
from paramgen.kits.plan_cutting import SOLD_BY
from paramgen.kits.price_names import BOBBIN_THREAD, STABILISER, TAPE, THREAD
from paramgen.kits.thread_section import count_words, thread_words
from paramgen.kits.worked_kit import Kit
from paramgen.lengths import round_up, show, show_both, show_size_both
from paramgen.supplies.machine_supplies import SHEET_MARK, metres_words
from paramgen.supplies.thread_length import whole_metres
from paramgen.supplies.yards import yards
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import NotionSort
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

COLUMNS = (
    *("what", "kind", "buy", "exact length", "quantity", "length mm", "width mm", "note"),
    *("price", "per", "costs", "currency"),
)
#: Notions that are sold by the length.
_BY_LENGTH = (NotionSort.RIBBON, NotionSort.ELASTIC)


@dataclass(frozen=True, kw_only=True)
class ShoppingRow:
    """Something to buy.

    Parameters
    ----------
    name : str
        As a price names it.
    what, kind : str
    buy : str
        As it is sold, in the person's unit and the other.
    exact : str
        The length before it is rounded; empty where nothing is.
    quantity : int or None
    length, width : float or None
        To buy, mm.
    note : str
    """

    name: str
    what: str
    kind: str
    buy: str
    exact: str = ""
    quantity: int | None = None
    length: float | None = None
    width: float | None = None
    note: str = ""


def shopping(told: KitTold) -> tuple[ShoppingRow, ...]:
    """List what to buy: cloths, then stabiliser, notions, tape, thread."""
    kit = told.kit
    return (
        *_cloths(kit),
        *_trims(kit),
        *_stabiliser(kit),
        *_notions(kit),
        *_tape(kit),
        *_threads(told.thread, kit.unit),
    )


def shopping_csv(told: KitTold) -> str:
    """Write the list as CSV after RFC 4180, with what is paid for each where prices are given."""
    text = io.StringIO(newline="")
    out = csv.writer(text)
    out.writerow(COLUMNS)
    paid = {} if told.price is None else {one.name: one for one in told.price.rows}
    for one in shopping(told):
        numbers = (one.length, one.width)
        plain = ["" if mm is None else f"{mm:.2f}".rstrip("0").rstrip(".") for mm in numbers]
        count = "" if one.quantity is None else str(one.quantity)
        # A price is of all cloths of a role: it stands at the first.
        price = paid.pop(one.name, None)
        costs = ("",) * 4
        if price is not None and told.price is not None:
            much = f"{price.price * price.bought:.2f}"
            costs = (f"{price.price:g}", price.per.value, much, told.price.currency)
        cells = (one.what, one.kind, one.buy, one.exact, count, *plain, one.note, *costs)
        out.writerow([harmless(cell) for cell in cells])
    return BOM + text.getvalue()


def _cloths(kit: Kit) -> Iterator[ShoppingRow]:
    for (role, title), group in groupby(kit.sheets, key=lambda one: (one.role, one.title)):
        plans = [one for one in group if one.bought]
        if not plans:
            yield ShoppingRow(
                name=role,
                what=fabric_name(role),
                kind=title,
                buy="nothing: what is there is enough",
                quantity=0,
            )
            continue
        first = plans[0]
        whole = first.sold_width
        if first.buy is None:
            size = show_size_both(whole, first.there or 0.0, kit.unit)
            yield ShoppingRow(
                name=role,
                what=fabric_name(role),
                kind=title,
                buy=f"{len(plans)} × {first.called}, {size}",
                quantity=len(plans),
                length=first.there,
                width=whole,
                note=proof_words(first, kit.unit),
            )
            continue
        yield ShoppingRow(
            name=role,
            what=fabric_name(role),
            kind=title,
            buy=f"{sold_words(first.buy, kit.unit)}, {show(whole, kit.unit)} wide",
            exact=show_both(first.length, kit.unit),
            length=first.buy,
            width=whole,
            note=proof_words(first, kit.unit),
        )


def sold_words(length: float, unit: Unit) -> str:
    """A length as cloth is sold: yards where the person measures in inches.

    >>> sold_words(228.6, Unit.INCH), sold_words(300, Unit.MM)
    ('1/4 yd (228.6 mm)', '30 cm (3/8 yd)')
    """
    if unit is Unit.INCH:
        return f"{yards(length)} ({show(length, Unit.MM)})"
    return f"{length / 10:g} cm ({yards(length)})"


def proof_words(plan: SheetPlan, unit: Unit) -> str:
    """How good a plan is.

    Parameters
    ----------
    plan : SheetPlan
        Of something that is bought.
    unit : Unit
    """
    if plan.proven:
        return "No plan in strips takes less."
    if plan.buy is None:
        return "One fewer may be enough."
    over = plan.length - plan.bound
    if plan.motif is not None:
        return (
            f"{show_both(over, unit)} ({over / plan.length:.0%}) over what no plan in strips is "
            "under, as each piece is centred on a motif."
        )
    return (
        f"The best found in the time: {show_both(over, unit)} ({over / plan.length:.1%}) over what "
        "no plan in strips is under."
    )


def _trims(kit: Kit) -> Iterator[ShoppingRow]:
    for cloth in kit.materials.cloths:
        if cloth.sort == "trim":
            for width, length in _narrow(cloth).items():
                buy = round_up(length, SOLD_BY[kit.unit])
                yield ShoppingRow(
                    name=cloth.role,
                    what=fabric_name(cloth.role),
                    kind=cloth.title,
                    buy=f"{sold_words(buy, kit.unit)}, {show_both(width, kit.unit)} wide",
                    exact=show_both(length, kit.unit),
                    length=buy,
                    width=width,
                )


def _narrow(cloth: ClothToCut) -> dict[float, float]:
    """Length by width of what is bought by its length alone."""
    found: dict[float, float] = {}
    for piece in cloth.pieces:
        width = min(piece.cut)
        found[width] = found.get(width, 0.0) + piece.quantity * max(piece.cut)
    return found


def _stabiliser(kit: Kit) -> Iterator[ShoppingRow]:
    rolls = [one for one in kit.sheets if one.sort == "stabiliser"]
    for one in kit.materials.stabiliser if not rolls else ():
        wide, high = (round_up(side, SHEET_MARK[kit.unit]) for side in one.size)
        yield ShoppingRow(
            name=STABILISER,
            what="stabiliser",
            kind=one.title,
            buy=f"{one.sheets} sheets, each at least {show_size_both(wide, high, kit.unit)}",
            quantity=one.sheets,
            length=high,
            width=wide,
            note=f"For hoop {one.hoop}.",
        )


def _notions(kit: Kit) -> Iterator[ShoppingRow]:
    for one in kit.materials.notions:
        yield _notion(one, kit.unit)


def _notion(one: NotionToHave, unit: Unit) -> ShoppingRow:
    title = english().as_used(one.title, unit)
    if one.length is None:
        return ShoppingRow(
            name=one.name, what=title, kind="", buy=f"{one.quantity}", quantity=one.quantity
        )
    exact = one.quantity * one.length
    buy = round_up(exact, SOLD_BY[unit])
    wide = f", {show_both(one.width, unit)} wide" if one.width else ""
    if one.sort in _BY_LENGTH:
        return ShoppingRow(
            name=one.name,
            what=title,
            kind="",
            buy=f"{sold_words(buy, unit)}{wide}",
            exact=show_both(exact, unit),
            quantity=one.quantity,
            length=buy,
            width=one.width,
            note=f"Cut into {one.quantity}, each {show_both(one.length, unit)}.",
        )
    zips = one.sort is NotionSort.ZIP
    chain = f"Or {sold_words(buy, unit)} by the length, and {one.quantity} sliders." if zips else ""
    return ShoppingRow(
        name=one.name,
        what=title,
        kind="",
        buy=f"{one.quantity}, each at least {show_both(one.length, unit)} long{wide}",
        exact=show_both(exact, unit) if zips else "",
        quantity=one.quantity,
        length=one.length,
        width=one.width,
        note=chain,
    )


def _tape(kit: Kit) -> Iterator[ShoppingRow]:
    for one in kit.materials.tape:
        metres = whole_metres(one.length)
        yield ShoppingRow(
            name=TAPE,
            what="tape to hold pieces",
            kind="",
            buy=f"about {metres_words(metres, kit.unit)}, {show_both(one.width, kit.unit)} wide",
            length=metres * 1000.0,
            width=one.width,
            note=f"For {one.strips} strips.",
        )


def _threads(thread: KitThread, unit: Unit) -> Iterator[ShoppingRow]:
    sold, taken = thread.sold, thread.all
    same = sold.bobbin.same
    yield ShoppingRow(
        name=THREAD,
        what="thread for needle and bobbin" if same else "needle thread",
        kind=f"{sold.needle.tex:g} tex",
        buy=f"{count_words(thread.spools, 'spool')} of {sold.needle.spool:g} m",
        exact=thread_words(taken.both if same else taken.needle, unit),
        quantity=thread.spools[1],
        length=1000 * sold.needle.spool,
        note=f"{count_words(thread.bobbins, 'bobbin')} to wind." if same else "",
    )
    if not same:
        yield ShoppingRow(
            name=BOBBIN_THREAD,
            what="bobbin thread",
            kind=f"{sold.bobbin.tex:g} tex",
            buy=f"{count_words(thread.bobbin_spools, 'spool')} of {sold.bobbin.spool:g} m",
            exact=thread_words(taken.bobbin, unit),
            quantity=thread.bobbin_spools[1],
            length=1000 * sold.bobbin.spool,
            note=f"{count_words(thread.bobbins, 'bobbin')} to wind.",
        )
