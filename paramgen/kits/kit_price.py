"""What a kit costs: what is bought for it, what goes into it, and of that each thing its share."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from paramgen.amounts.project_materials import ClothToCut, Materials, NotionToHave, materials
from paramgen.kits.kit_order import KitOrder
from paramgen.kits.kit_thread import KitThread
from paramgen.kits.kit_time import HoopingTime
from paramgen.kits.plan_cutting import SOLD_BY
from paramgen.kits.price_names import BOBBIN_THREAD, STABILISER, TAPE, THREAD
from paramgen.kits.prices_typed import PricePer, TypedPrice, known_names
from paramgen.kits.worked_kit import Kit
from paramgen.lengths import as_typed, round_up
from paramgen.supplies.thread_length import whole_metres
from paramgen.supplies.yards import YARD
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import NotionSort
from paramgen.vocabulary.unit import Unit
from paramgen.worktime.price import HOUR, BatchPrice, batch_price

#: What a price may name besides roles and notions.
_BY_LENGTH = (NotionSort.RIBBON, NotionSort.ELASTIC)


@dataclass(frozen=True, kw_only=True)
class PricedAmount:
    """How much there is of something.

    Parameters
    ----------
    name, title : str
        As a price names it, and for the person.
    used, bought : mapping of PricePer to float
        What goes into the kit, and what is bought for it as it is sold; exact. What it is sold by
        stands first.
    shares : tuple of float
        What of it each order takes, in whatever is summed.
    """

    name: str
    title: str
    used: Mapping[PricePer, float]
    bought: Mapping[PricePer, float]
    shares: tuple[float, ...]


@dataclass(frozen=True, kw_only=True)
class OrderPrice:
    """What the things of one order cost.

    Parameters
    ----------
    title : str
    count : int
        Things that its hoopings give.
    materials, work : float
        Of all of them.
    """

    title: str
    count: int
    materials: float
    work: float

    @property
    def each(self) -> float:
        """Of one."""
        return (self.materials + self.work) / self.count


@dataclass(frozen=True, kw_only=True)
class PriceRow:
    """One material and what it costs.

    Parameters
    ----------
    name, title : str
    price : float
        Of one.
    per : PricePer
    used, bought : float
        How much of it.
    """

    name: str
    title: str
    price: float
    per: PricePer
    used: float
    bought: float


@dataclass(frozen=True, kw_only=True)
class KitPrice:
    """What a kit costs; nothing is rounded.

    Parameters
    ----------
    currency : str
        A label, and no more; may be empty.
    rate : float
        For an hour of work.
    seconds : float
        Of work, by one person.
    rows : tuple of PriceRow
    batch : BatchPrice
        Of what goes into it, with the work.
    orders : tuple of OrderPrice
    """

    currency: str
    rate: float
    seconds: float
    rows: tuple[PriceRow, ...]
    batch: BatchPrice
    orders: tuple[OrderPrice, ...]

    @property
    def bought(self) -> float:
        """Of all that is bought, as it is sold."""
        return sum(one.price * one.bought for one in self.rows)


def kit_price(
    kit: Kit,
    thread: KitThread,
    times: Sequence[HoopingTime],
    prices: Mapping[str, TypedPrice],
    *,
    rate: float = 0.0,
    currency: str = "",
) -> KitPrice:
    """What a kit costs.

    Parameters
    ----------
    kit : Kit
    thread : KitThread
    times : sequence of HoopingTime
        One for each order.
    prices : mapping of name to TypedPrice
    rate : float
        For an hour of work.
    currency : str

    Raises
    ------
    InputError
        For prices of what is not in it, or by what it is not sold by.
    """
    amounts = tuple(priced_amounts(kit, thread))
    faults = Faults()
    faults.extend(known_names(prices, [one.name for one in amounts]))
    faults.extend(_not_sold_so(amounts, prices))
    if faults:
        raise InputError(faults)
    known = [one for one in amounts if one.name in prices]
    rows = tuple(_row(one, prices[one.name], kit.unit) for one in known)
    seconds = sum(one.whole for one in times)
    used = {one.name: row.used for one, row in zip(known, rows, strict=True)}
    unpriced = {one.name: 0.0 for one in amounts if one.name not in prices}
    batch = batch_price(
        {**used, **unpriced},
        {one.name: row.price for one, row in zip(known, rows, strict=True)},
        count=sum(one.gives for one in kit.orders),
        seconds=seconds,
        rate=rate,
    )
    return KitPrice(
        currency=currency,
        rate=rate,
        seconds=seconds,
        rows=rows,
        batch=batch,
        orders=tuple(
            OrderPrice(
                title=order.made.project.title,
                count=order.gives,
                materials=sum(
                    row.price * row.used * one.shares[place] / sum(one.shares)
                    for one, row in zip(known, rows, strict=True)
                ),
                work=taken.whole / HOUR * rate,
            )
            for place, (order, taken) in enumerate(zip(kit.orders, times, strict=True))
        ),
    )


def priced_amounts(kit: Kit, thread: KitThread) -> Iterator[PricedAmount]:
    """All that can be given a price."""
    yield from _cloths(kit)
    yield from _trims(kit)
    if not any(one.sort == "stabiliser" for one in kit.sheets):
        sheets = float(sum(one.sheets for one in kit.materials.stabiliser))
        each = {PricePer.EACH: sheets}
        yield PricedAmount(
            name=STABILISER,
            title="stabiliser",
            used=each,
            bought=each,
            shares=_shares(kit.orders, _hooped),
        )
    for name in dict.fromkeys(one.name for one in kit.materials.notions):
        yield _notion(name, kit)
    if kit.materials.tape:
        used = sum(one.length for one in kit.materials.tape)
        yield PricedAmount(
            name=TAPE,
            title="tape to hold pieces",
            used=_lengths(used),
            bought=_lengths(1000.0 * sum(whole_metres(one.length) for one in kit.materials.tape)),
            shares=_shares(kit.orders, lambda one: sum(tape.length for tape in one.tape)),
        )
    yield from _threads(thread)


def _cloths(kit: Kit) -> Iterator[PricedAmount]:
    """What is bought to cut from; several cloths of one role have one price."""
    for role in dict.fromkeys(one.role for one in kit.sheets):
        plans = [one for one in kit.sheets if one.role == role and one.bought]
        if not plans:  # what is there is enough
            used = bought = {PricePer.EACH: 0.0, **_lengths(0.0)}
        elif all(one.buy is None for one in plans):
            used = bought = {PricePer.EACH: float(len(plans))}
        else:
            kept = {one.role: _kept(kit, one.sort) for one in plans}[role]
            used = _lengths(sum(one.length for one in plans if one.buy is not None) / kept)
            bought = _lengths(sum(one.buy for one in plans if one.buy is not None))
        yield PricedAmount(
            name=role,
            title=role,
            used=used,
            bought=bought,
            shares=_shares(kit.orders, lambda one, role=role: _area(one, role)),  # type: ignore[misc]
        )


def _kept(kit: Kit, sort: str) -> float:
    return 1 - (kit.cutting.shrinkage if sort == "fabric" else 0.0)


def _area(one: Materials, role: str) -> float:
    if role == STABILISER:
        return _hooped(one)
    return sum(map(_cloth_area, (cloth for cloth in one.cloths if _role(cloth) == role)))


def _role(cloth: ClothToCut) -> str:
    return "interfacing" if cloth.sort == "interfacing" else cloth.role


def _cloth_area(cloth: ClothToCut) -> float:
    return sum(piece.quantity * piece.cut[0] * piece.cut[1] for piece in cloth.pieces)


def _hooped(one: Materials) -> float:
    return sum(sheet.sheets * sheet.size[0] * sheet.size[1] for sheet in one.stabiliser)


def _trims(kit: Kit) -> Iterator[PricedAmount]:
    for cloth in kit.materials.cloths:
        if cloth.sort != "trim":
            continue

        def length(one: Materials, role: str = cloth.role) -> float:
            trims = (found for found in one.cloths if found.sort == "trim" and found.role == role)
            return sum(p.quantity * max(p.cut) for found in trims for p in found.pieces)

        whole = length(kit.materials)
        yield PricedAmount(
            name=cloth.role,
            title=cloth.role,
            used=_lengths(whole),
            bought=_lengths(round_up(whole, SOLD_BY[kit.unit])),
            shares=_shares(kit.orders, length),
        )


def _notion(name: str, kit: Kit) -> PricedAmount:
    def found(one: Materials) -> list[NotionToHave]:
        return [notion for notion in one.notions if notion.name == name]

    def count(one: Materials) -> float:
        return float(sum(notion.quantity for notion in found(one)))

    def length(one: Materials) -> float:
        return sum(notion.quantity * (notion.length or 0.0) for notion in found(one))

    same = found(kit.materials)
    title = same[0].title
    if same[0].sort in _BY_LENGTH and length(kit.materials):
        whole = length(kit.materials)
        return PricedAmount(
            name=name,
            title=title,
            used=_lengths(whole),
            bought=_lengths(round_up(whole, SOLD_BY[kit.unit])),
            shares=_shares(kit.orders, length),
        )
    each = {PricePer.EACH: count(kit.materials)}
    return PricedAmount(
        name=name, title=title, used=each, bought=each, shares=_shares(kit.orders, count)
    )


def _threads(thread: KitThread) -> Iterator[PricedAmount]:
    """Thread at the most that it may take, by the spool."""
    sold, taken = thread.sold, thread.all
    orders = [one.one.times(one.hoopings) for one in thread.projects]
    needle = taken.both[1] if sold.bobbin.same else taken.needle[1]
    yield _spools(
        THREAD, needle, thread.spools[1], sold.needle.spool, tuple(one.both[1] for one in orders)
    )
    if not sold.bobbin.same:
        shares = tuple(one.bobbin[1] for one in orders)
        many = thread.bobbin_spools[1]
        yield _spools(BOBBIN_THREAD, taken.bobbin[1], many, sold.bobbin.spool, shares)


def _spools(
    name: str, used: float, many: int, spool: float, shares: tuple[float, ...]
) -> PricedAmount:
    return PricedAmount(
        name=name,
        title=name.replace("-", " "),
        used={PricePer.EACH: used / 1000 / spool, **_lengths(used)},
        bought={PricePer.EACH: float(many), **_lengths(1000 * spool * many)},
        shares=shares,
    )


def _lengths(mm: float) -> dict[PricePer, float]:
    return {PricePer.METRE: mm / 1000, PricePer.YARD: mm / YARD}


def _shares(orders: Sequence[KitOrder], of: Callable[[Materials], float]) -> tuple[float, ...]:
    return tuple(of(materials(one.made)) * one.hoopings for one in orders)


def _sold_by(one: PricedAmount, unit: Unit) -> PricePer:
    """What it is sold by, unless a price says otherwise."""
    first = next(iter(one.used))
    return PricePer.YARD if first is PricePer.METRE and unit is Unit.INCH else first


def _not_sold_so(
    amounts: Sequence[PricedAmount], prices: Mapping[str, TypedPrice]
) -> Iterator[Fault]:
    for one in amounts:
        price = prices.get(one.name)
        if price is not None and price.per is not None and price.per not in one.used:
            known = " or ".join(per.value for per in one.used)
            text = f"{as_typed(one.name)} is not sold per {price.per.value}"
            yield Fault(text, price.where, hint=f"Give its price per {known}.")


def _row(one: PricedAmount, price: TypedPrice, unit: Unit) -> PriceRow:
    per = price.per or _sold_by(one, unit)
    return PriceRow(
        name=one.name,
        title=one.title,
        price=price.much,
        per=per,
        used=one.used[per],
        bought=one.bought[per],
    )
