"""Copies of every recipe under one sheet, at random sizes in the larger hoops."""

from copies_made import LARGE
from copies_sheets import HOOPS, WISHES, Asked, keep_apart
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.reference.hoops import Hoop


@settings(max_examples=30)
@given(WISHES, st.sampled_from([LARGE, *(hoop for hoop in HOOPS if hoop.width >= 160)]))
def test_copies_keep_apart_and_in_the_field_and_under_the_sheets(
    wish: tuple[str, Asked], hoop: Hoop
) -> None:
    keep_apart(wish, hoop)
