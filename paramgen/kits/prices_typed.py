"""Prices as typed and as a file of them says: `outer=14.50 per m`, `zip=0.90`."""

import csv
import io
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum

from paramgen.lengths import as_typed
from paramgen.nearest_word import did_you_mean
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass

_PRICE, _FILE_HEAD = "--price", ("name", "price", "per")
_FORM = "Write a price such as outer=14.50 per m, or zip=0.90."
_MOST = 1e9
_TYPED = re.compile(r"(?P<much>[0-9.,]+)\s*(?:(?:per|/)\s*(?P<per>[a-z]+))?", re.IGNORECASE)


class PricePer(StrEnum):
    """What a price is for."""

    EACH = "each"
    METRE = "m"
    YARD = "yd"


_PER = {
    "each": PricePer.EACH,
    "piece": PricePer.EACH,
    "sheet": PricePer.EACH,
    "spool": PricePer.EACH,
    "m": PricePer.METRE,
    "metre": PricePer.METRE,
    "meter": PricePer.METRE,
    "yd": PricePer.YARD,
    "yard": PricePer.YARD,
}


@dataclass(frozen=True)
class TypedPrice:
    """What one of something costs.

    Parameters
    ----------
    much : float
        In the person's currency.
    per : PricePer or None
        None for what it is sold by.
    where : str
        Where it was said.
    """

    much: float
    per: PricePer | None
    where: str


def prices_typed(words: Sequence[str]) -> dict[str, TypedPrice]:
    """Understand prices, the last of a name the one that counts.

    Raises
    ------
    InputError
        With every fault.

    Examples
    --------
    >>> found = prices_typed(["outer=14,50 per m", "zip = 0.90"])
    >>> found["outer"].much, found["outer"].per.value, found["zip"].per
    (14.5, 'm', None)
    """
    faults, found = Faults(), dict[str, TypedPrice]()
    for word in words:
        one = faults.tried(lambda word=word: _one(word))  # type: ignore[misc]
        if one is not None:
            found[one[0]] = one[1]
    if faults:
        raise InputError(faults)
    return found


def prices_in(text: str, source: str) -> dict[str, TypedPrice]:
    r"""Read a table of prices: columns `name`, `price` and, if need be, `per`.

    Parameters
    ----------
    text : str
        CSV; a semicolon may part its cells.
    source : str
        What the file is called.

    Raises
    ------
    InputError
        With every fault and its row.

    Examples
    --------
    >>> prices_in("name,price,per\nouter,12,yd\n", "prices.csv")["outer"].per.value
    'yd'
    """
    text = text.removeprefix("\ufeff")
    parted = ";" if ";" in text.partition("\n")[0] else ","
    rows = [row for row in csv.reader(io.StringIO(text), delimiter=parted) if any(row)]
    head = [one.strip().casefold() for one in rows[0]] if rows else []
    if not set(_FILE_HEAD[:2]) <= set(head) <= set(_FILE_HEAD):
        hint = "Its first line is `name,price,per`."
        raise InputError([Fault("this is no table of prices", source, hint=hint)])
    faults, found = Faults(), dict[str, TypedPrice]()
    for number, row in enumerate(rows[1:], 2):
        cells = dict(zip(head, (one.strip() for one in row), strict=False))
        where = f"{source}, row {number}"
        said = " per ".join(one for one in (cells.get("price", ""), cells.get("per", "")) if one)
        price = faults.tried(lambda said=said, where=where: _price(said, where))  # type: ignore[misc]
        name = cells.get("name", "").casefold()
        if not name:
            faults.append(Fault("this price is of nothing", where, hint="Write a name before it."))
        elif price is not None:
            found[name] = price
    if faults:
        raise InputError(faults)
    return found


def known_names(typed: Mapping[str, TypedPrice], names: Sequence[str]) -> Iterator[Fault]:
    """Faults of prices for what is not in the kit."""
    for name, one in typed.items():
        if name not in names:
            hint = did_you_mean(name, names) or f"There are {', '.join(names)}."
            yield Fault(f"nothing in this kit is called {as_typed(name)}", one.where, hint=hint)


def amount_typed(typed: str, where: str) -> float:
    """A sum of money, 0 where nothing was typed.

    Raises
    ------
    InputError
    """
    return _price(typed, where, "Write a sum such as 14.50.").much if typed.strip() else 0.0


def _one(word: str) -> tuple[str, TypedPrice]:
    name, equals, said = (part.strip() for part in word.partition("="))
    if not equals or not name:
        raise InputError([Fault(f"{as_typed(word)} says no price", _PRICE, hint=_FORM)])
    return name.casefold(), _price(said, f"{_PRICE} {name}")


def _price(said: str, where: str, hint: str = _FORM) -> TypedPrice:
    found = _TYPED.fullmatch(said.strip())
    much = _number(found["much"]) if found else math.nan
    if found is None or not 0 <= much <= _MOST:
        raise InputError([Fault(f"{as_typed(said)} is no price", where, hint=hint)])
    per = None
    if word := found["per"]:
        per = _PER.get(word.casefold())
        if per is None:
            hint = did_you_mean(word.casefold(), _PER) or f"There are {', '.join(_PER)}."
            raise InputError([Fault(f"nothing is sold per {as_typed(word)}", where, hint=hint)])
    return TypedPrice(much, per, where)


def _number(text: str) -> float:
    """A decimal, with a point or a comma; not a number where it is none.

    >>> _number("14,50"), _number("1,200.50")
    (14.5, nan)
    """
    plain = text.replace(",", ".")
    try:
        return float(plain)
    except ValueError:
        return math.nan
