"""What a batch costs."""

from hypothesis import given
from hypothesis import strategies as st

from paramgen.worktime.price import batch_price

names = st.sampled_from(["outer", "lining", "zip", "thread", "snap"])
amounts = st.dictionaries(names, st.floats(0, 50))


@given(amounts, st.dictionaries(names, st.floats(0, 90)), st.integers(1, 40))
def test_all_that_has_a_price_is_in_the_sum_and_all_else_is_named(
    much: dict[str, float], prices: dict[str, float], count: int
) -> None:
    found = batch_price(much, prices, count=count, seconds=0)
    assert {*dict(found.materials), *found.unpriced} == set(much)
    assert not set(found.unpriced) & set(prices)
    assert found.each * count == found.whole or abs(found.each * count - found.whole) < 1e-9


def test_time_is_paid_by_the_hour() -> None:
    # 2 h 15 min at 12: 27, and 4 m at 2.50: 10; over four things 9.25 each.
    found = batch_price({"outer": 4.0}, {"outer": 2.5}, count=4, seconds=8100, rate=12.0)
    assert (found.work, found.whole, found.each) == (27.0, 37.0, 9.25)
