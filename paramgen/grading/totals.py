"""What to have for all rows of a table together: one hooping of each."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from paramgen.grading.summary_entry import BY_THE_METRE, FabricToHave, SummaryEntry, ThingToHave
from paramgen.lengths import show_both
from paramgen.supplies.fabrics_to_have import cloth_length
from paramgen.supplies.machine_supplies import metres_words
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Sorts of which lengths are added up.
_LENGTHS = (*BY_THE_METRE, "interfacing")


@dataclass(frozen=True, kw_only=True)
class SupplyTotal:
    """Something to have for all rows.

    Parameters
    ----------
    title, amount : str
    rows : int
        How many rows take it.
    quantity : int or None
        How many, if they are counted.
    length, width : float or None
        mm, of each if they are counted; None where it does not matter.
    """

    title: str
    amount: str
    rows: int
    quantity: int | None = None
    length: float | None = None
    width: float | None = None


@dataclass(frozen=True)
class _Sum:
    """What has been added up of one thing, the unit that of the first row that takes it."""

    what: FabricToHave | ThingToHave
    unit: Unit
    rows: int = 0


def totals(entries: Iterable[SummaryEntry]) -> tuple[SupplyTotal, ...]:
    """Add up what rows need, in the order in which they first need it, fabrics first.

    Lengths of a fabric are those of the rows, each rounded up as it is cut: together they are
    enough. What differs in kind, width or length, as zips do, is told apart.

    Parameters
    ----------
    entries : iterable of SummaryEntry
        Read once; no more than one is held.
    """
    sums: dict[tuple[object, ...], _Sum] = {}
    for entry in entries:
        taken = set()
        every: tuple[FabricToHave | ThingToHave, ...] = (*entry.fabrics, *entry.ready)
        for one in every:
            key, add = _key(one), _ADD[type(one)]
            before = sums.get(key)
            what = add(before.what, one) if before else one
            rows = (before.rows if before else 0) + (key not in taken)
            sums[key] = _Sum(what, before.unit if before else entry.unit, rows)
            taken.add(key)
    fabrics = [one for one in sums.values() if isinstance(one.what, FabricToHave)]
    others = [one for one in sums.values() if not isinstance(one.what, FabricToHave)]
    return tuple(map(_total, (*fabrics, *others)))


def _key(one: FabricToHave | ThingToHave) -> tuple[object, ...]:
    """What two must have in common to be added up."""
    if isinstance(one, FabricToHave):
        return ("fabric", one.name, one.material, round(one.width, 2), one.narrow)
    sizes = (one.width,) if one.sort in _LENGTHS else (one.width, one.length)
    return (one.sort, one.title, *(None if size is None else round(size, 2) for size in sizes))


def _fabrics(one: FabricToHave, other: FabricToHave) -> FabricToHave:
    return replace(one, pieces=one.pieces + other.pieces, length=one.length + other.length)


def _readies(one: ThingToHave, other: ThingToHave) -> ThingToHave:
    if one.sort in _LENGTHS:
        return replace(one, length=(one.length or 0.0) + (other.length or 0.0))
    if one.quantity is None or other.quantity is None:
        return one
    return replace(one, quantity=one.quantity + other.quantity)


_ADD: dict[type, Callable[..., FabricToHave | ThingToHave]] = {
    FabricToHave: _fabrics,
    ThingToHave: _readies,
}


def _total(one: _Sum) -> SupplyTotal:
    what, unit = one.what, one.unit
    if isinstance(what, FabricToHave):
        name = what.name.replace("-", " ")
        title = f"{name}: {what.material}" if what.material else name
        amount = cloth_length(what.length, what.width, unit, narrow=what.narrow)
        return SupplyTotal(
            title=title,
            amount=amount,
            rows=one.rows,
            quantity=None,
            length=what.length,
            width=what.width,
        )
    length, width = what.length or 0.0, what.width or 0.0
    if what.sort in BY_THE_METRE:
        wide = f", {show_both(width, unit)} wide" if width else ""
        amount = f"about {metres_words(round(length / 1000), unit)}{wide}"
    elif what.sort == "interfacing":
        amount = cloth_length(length, width, unit, narrow=False)
    else:
        long = f", each at least {show_both(length, unit)}" if length else ""
        wide = f", {show_both(width, unit)} wide" if width and what.sort == "notion" else ""
        amount = f"{what.quantity or ''}{long}{wide}".removeprefix(", ")
    counted = None if what.sort in _LENGTHS else what.quantity
    return SupplyTotal(
        title=what.title,
        amount=amount,
        rows=one.rows,
        quantity=counted,
        length=what.length,
        width=what.width,
    )
