"""A box has its edges in order whatever is done to it; what has none says so."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.path import path

places = st.floats(-400, 400)
sizes = st.floats(0, 400)


@given(places, places, sizes, sizes, st.floats(-500, 500))
def test_no_move_of_its_edges_turns_a_box_inside_out(
    left: float, top: float, wide: float, high: float, by: float
) -> None:
    box = Box(left, top, left + wide, top + high)
    grown = box.grown(by)
    # Each side is as much longer at both ends, and never shorter than nothing.
    assert grown.width == pytest.approx(max(0.0, box.width + 2 * by), abs=1e-9)
    assert grown.height == pytest.approx(max(0.0, box.height + 2 * by), abs=1e-9)
    assert grown.centre == pytest.approx(box.centre, abs=1e-9)


def test_what_has_no_place_lies_in_no_box() -> None:
    with pytest.raises(ValueError, match="no points"):
        path([], closed=True).box  # noqa: B018
    with pytest.raises(ValueError, match="no boxes"):
        around([])
