"""What is typed of a kit, understood, and what is told of it; for the command line and the page."""

from collections.abc import Callable, Mapping

from paramgen.kits.class_asked import class_of
from paramgen.kits.cloth_asked import cutting_asked
from paramgen.kits.cloth_there import Cutting
from paramgen.kits.kit_price import kit_price
from paramgen.kits.kit_question import KitQuestion
from paramgen.kits.kit_thread import kit_thread
from paramgen.kits.kit_time import hooping_times
from paramgen.kits.kit_told import KitTold
from paramgen.kits.prices_typed import TypedPrice, amount_typed, prices_typed
from paramgen.kits.worked_kit import MOST_KITS, Kit
from paramgen.lengths import as_typed
from paramgen.reference.thread_sold import thread_sold
from paramgen.reference.work_times import work_times
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Seconds to plan in, unless given.
SECONDS = 2.0
_MOST_SECONDS = 3600.0
#: A currency has no longer label.
_LONGEST_LABEL = 12


def count_asked(typed: str, where: str) -> int:
    """How many to make.

    Raises
    ------
    InputError
    """
    word = typed.strip()
    if word.isascii() and word.isdigit() and len(word) < 6 and 1 <= int(word) <= MOST_KITS:
        return int(word)
    text = f"{as_typed(typed)} is no number of kits from 1 to {MOST_KITS}"
    raise InputError([Fault(text, where, hint="Write how many to make, such as 12.")])


def kit_cutting(question: KitQuestion, unit: Unit) -> Cutting:
    """How cloth is cut, in the person's unit.

    Raises
    ------
    InputError
        With every fault.
    """
    return cutting_asked(
        unit,
        selvedge=question.selvedge,
        squaring=question.squaring,
        layers=question.layers,
        stages=question.stages,
        shrinkage=question.shrinkage,
        mat=question.mat,
    )


def seconds_asked(typed: str) -> float:
    """How long to plan.

    Raises
    ------
    InputError
    """
    try:
        found = float(typed.strip().removesuffix("s") or SECONDS)
    except ValueError:
        found = -1.0
    if not 0 <= found <= _MOST_SECONDS:
        text = f"{as_typed(typed)} is no number of seconds from 0 to {_MOST_SECONDS:g}"
        raise InputError([Fault(text, "--seconds", hint="Write how long to look, such as 2.")])
    return found


@dataclass(frozen=True)
class AskedPrices:
    """Prices asked for, understood.

    Parameters
    ----------
    known : mapping of name to TypedPrice
    rate : float
        For an hour; 0 where none was given.
    currency : str
    """

    known: Mapping[str, TypedPrice]
    rate: float
    currency: str


def prices_asked(
    question: KitQuestion, listed: Callable[[], Mapping[str, TypedPrice]] = dict
) -> AskedPrices | None:
    """Understand prices; None where there are none.

    Parameters
    ----------
    question : KitQuestion
    listed : callable
        Reads a table of them; what was typed comes over it.

    Raises
    ------
    InputError
        With every fault.
    """
    faults = Faults()
    table = faults.tried(listed)
    typed = faults.tried(lambda: prices_typed(question.prices))
    rate = faults.tried(lambda: amount_typed(question.rate, "--rate"))
    currency = faults.tried(lambda: _currency(question.currency))
    if faults or table is None or typed is None or rate is None or currency is None:
        raise InputError(faults)
    known = {**table, **typed}
    return AskedPrices(known, rate, currency) if known or rate else None


def _currency(typed: str) -> str:
    word = typed.strip()
    if len(word) > _LONGEST_LABEL or not word.isprintable():
        text = f"{as_typed(typed)} is no label of at most {_LONGEST_LABEL} characters"
        raise InputError([Fault(text, "--currency", hint="Write one such as EUR.")])
    return word


def tell_kit(kit: Kit, in_class: tuple[int, int] | None, prices: AskedPrices | None) -> KitTold:
    """Work out what else is told of a kit: thread, time, price.

    Raises
    ------
    InputError
    """
    known = work_times()
    thread = kit_thread(kit.orders, thread_sold())
    times = hooping_times(kit.orders, known)
    price = None
    if prices is not None:
        price = kit_price(
            kit, thread, times, prices.known, rate=prices.rate, currency=prices.currency
        )
    return KitTold(
        kit=kit,
        thread=thread,
        times=times,
        pace=known.machine,
        in_class=class_of(times, in_class),
        price=price,
    )
