"""What is remembered of sizes that were asked about, whether anyone asked why or not."""

from fit_orders import HOOPS, recipe

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.reference.hoops import find_hoop

WALLET = Order(recipe("fold-wallet"), {}, Room(find_hoop("360x350", HOOPS)))

#: Refused by its numbers, by the field, by the rehearsal, and by none.
SIZES = (
    {"width": 5.0, "height": 120.0},
    {"width": 330.0, "height": 360.0},
    {"width": 90.0, "height": 200.0},
    {"width": 124.0, "height": 300.0},
)


def test_whether_sizes_are_refused_is_what_some_reason_against_them_says() -> None:
    why, whether = RememberedChecks(WALLET), RememberedChecks(WALLET)
    reasons = [why.against(sizes, WALLET.room) for sizes in SIZES]
    assert [bool(one) for one in reasons] == [True, True, True, False]
    firsts = [whether.first_against(sizes, WALLET.room) for sizes in SIZES]
    assert [bool(one) for one in firsts] == [True, True, True, False]
    assert all(first in every for one, every in zip(firsts, reasons, strict=True) for first in one)
    assert whether.rehearsals == why.rehearsals == 2
    assert list(whether.sound()) == list(why.sound())
    # What was only known to be refused is asked why, and remembered like the rest.
    assert list(whether.remembered(WALLET.room)) == list(why.remembered(WALLET.room))
    assert [whether.against(sizes, WALLET.room) for sizes in SIZES] == reasons
    assert whether.rehearsals == 2
    assert [why.first_against(sizes, WALLET.room) for sizes in SIZES] == reasons
