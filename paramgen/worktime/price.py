"""What a thing costs to make: what goes into it, and the time at a rate."""

from collections.abc import Mapping

from paramgen.vocabulary.frozen_data import dataclass

#: An hour, s.
HOUR = 3600.0


@dataclass(frozen=True, kw_only=True)
class BatchPrice:
    """What so many things of a kind cost; nothing is rounded.

    Parameters
    ----------
    count : int
    materials : tuple of (name, price)
        Of all of them; the currency is whatever the prices were given in.
    work : float
        Time at the rate; 0 where none was given.
    unpriced : tuple of str
        What goes into it and has no price.
    """

    count: int
    materials: tuple[tuple[str, float], ...]
    work: float
    unpriced: tuple[str, ...] = ()

    @property
    def whole(self) -> float:
        """Of all."""
        return sum(price for _, price in self.materials) + self.work

    @property
    def each(self) -> float:
        """Of one."""
        return self.whole / self.count


def batch_price(
    amounts: Mapping[str, float],
    prices: Mapping[str, float],
    *,
    count: int,
    seconds: float,
    rate: float = 0.0,
) -> BatchPrice:
    """What a batch costs.

    Parameters
    ----------
    amounts : mapping of name to float
        How much is bought of each, in whatever its price is for one of.
    prices : mapping of name to float
    count : int
        Things in the batch; at least 1.
    seconds : float
        Work on all of them.
    rate : float
        For an hour.

    Examples
    --------
    >>> found = batch_price(
    ...     {"outer": 1.5, "thread": 2.0}, {"outer": 12.0}, count=4, seconds=5400, rate=10.0
    ... )
    >>> found.materials, found.work, found.whole, found.each  # 1.5 · 12 + 1.5 h · 10
    ((('outer', 18.0),), 15.0, 33.0, 8.25)
    >>> found.unpriced
    ('thread',)
    """
    return BatchPrice(
        count=count,
        materials=tuple(
            (name, much * prices[name]) for name, much in amounts.items() if name in prices
        ),
        work=seconds / HOUR * rate,
        unpriced=tuple(name for name in amounts if name not in prices),
    )
