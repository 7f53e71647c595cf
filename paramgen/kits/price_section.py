"""The price in a kit's papers: of what goes into it and of the work, for all and for one."""

from paramgen.kits.kit_price import KitPrice, OrderPrice, PriceRow
from paramgen.kits.kit_section import KitSection, KitTable
from paramgen.kits.time_section import as_time
from paramgen.sentences import number_of


def price_section(price: KitPrice) -> KitSection:
    """What a kit's papers say of the price."""
    return KitSection(
        name="price",
        title="What it costs",
        says=tuple(_says(price)),
        tables=(_each(price), *([_materials(price)] if price.rows else [])),
    )


def money(much: float, currency: str) -> str:
    """A sum as it is shown, to the hundredth; only here is it rounded.

    >>> money(1234.5, "EUR"), money(0.125, "")
    ('1234.50 EUR', '0.12')
    """
    return f"{much:.2f} {currency}".rstrip()


def each_words(one: OrderPrice, currency: str) -> str:
    """The price of one: `Folding wallet: 9.40 EUR each, for 12`."""
    return f"{one.title}: {money(one.each, currency)} each, for {one.count}"


def _says(price: KitPrice) -> list[str]:
    said = [
        (
            "The price of a piece is that of what goes into it, to the exact length, and of time "
            "at its rate, shared out over all that the hoopings give. What is bought is more, as "
            f"lengths and spools are sold whole: {money(price.bought, price.currency)} in all. "
            "Cloth that is there already costs nothing here."
        )
    ]
    if price.rate:
        said.append(
            f"{as_time(price.seconds)} of work by one person at "
            f"{money(price.rate, price.currency)} an hour: "
            f"{money(price.batch.work, price.currency)}."
        )
    if price.batch.unpriced:
        said.append(f"Without a price, and not in it: {', '.join(price.batch.unpriced)}.")
    return said


def _each(price: KitPrice) -> KitTable:
    return KitTable(
        head=("Project", "How many", "Materials", "Work", "All", "Each"),
        rows=tuple(
            (
                one.title,
                number_of(one.count, "piece"),
                money(one.materials, price.currency),
                money(one.work, price.currency),
                money(one.materials + one.work, price.currency),
                money(one.each, price.currency),
            )
            for one in price.orders
        ),
        widths=(5, 2, 3, 3, 3, 3),
    )


def _materials(price: KitPrice) -> KitTable:
    return KitTable(
        caption="Materials",
        head=("What", "Price", "Goes into it", "Costs", "Bought", "Costs"),
        rows=tuple(_row(one, price.currency) for one in price.rows),
        widths=(4, 3, 3, 3, 3, 3),
    )


def _row(one: PriceRow, currency: str) -> tuple[str, ...]:
    per = one.per.value if one.per.value == "each" else f"per {one.per.value}"
    return (
        one.title,
        f"{money(one.price, currency)} {per}",
        _amount(one.used, one),
        money(one.price * one.used, currency),
        _amount(one.bought, one),
        money(one.price * one.bought, currency),
    )


def _amount(much: float, one: PriceRow) -> str:
    unit = "" if one.per.value == "each" else f" {one.per.value}"
    return f"{round(much, 2):g}{unit}"
