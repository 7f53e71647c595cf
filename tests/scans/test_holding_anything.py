"""Whatever things there are, in every recipe that holds something: held and made, or told why."""

import pytest
from fit_held import THINGS, held_or_told
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from paramgen.reference.things import Thing

ANY_THING = st.sampled_from(THINGS) | st.builds(
    Thing,
    name=st.just("typed"),
    width=st.integers(20, 170),
    height=st.integers(20, 170),
    thickness=st.integers(0, 3),
)


@pytest.mark.parametrize("recipe", ["fold-wallet", "plant-tag", "zip-pouch"])
@settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow])
@given(thing=ANY_THING, number=st.integers(1, 9))
def test_whatever_is_held_is_made_and_whatever_is_not_is_told_why(
    recipe: str, thing: Thing, number: int
) -> None:
    held_or_told(recipe, thing, number)
