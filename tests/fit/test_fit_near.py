"""The nearest sizes that work, held to trying every mark; and the hoops that take a project."""

from collections.abc import Callable
from dataclasses import astuple
from functools import lru_cache
from math import floor, hypot

import numpy as np
import pytest
from fit_flat import asking, field, flat
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from told import says

from paramgen.fit.fitting_hoops import hoops_that_take
from paramgen.fit.nearest_sizes import nearest_alone, nearest_that_works
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import Hoop, listed, smallest_first
from paramgen.vocabulary.findings import CannotMakeError, InputError

HOOPS = listed()

recipe = lru_cache(find_recipe)

#: Conditions, and the same by arithmetic.
SHAPES: dict[str, Callable[[float, float], bool]] = {
    "height >= 20 + width / 2": lambda w, h: h >= 20 + w / 2,
    "height <= 290 - 0.3 * width": lambda w, h: h <= 290 - 0.3 * w,
    "width >= 60 or height >= 100": lambda w, h: w >= 60 or h >= 100,
}


def sewn(side: float) -> float:
    """Field that a side needs: its two ends on the grid of tenths, halves up, and centred."""
    low, high = floor(-side * 5 + 0.5), floor(side * 5 + 0.5)
    move = round((low + high) / 2)
    return max(move - low, high - move) / 5


@pytest.mark.parametrize("condition", SHAPES)
@settings(max_examples=5, suppress_health_check=[HealthCheck.too_slow])
@given(
    wished=st.tuples(st.integers(1, 800), st.integers(1, 800)),
    size=st.tuples(st.integers(60, 320), st.integers(60, 320)),
    mark=st.sampled_from([1.0, 25.4 / 16]),
)
def test_the_nearest_is_the_nearest_of_all_marks(
    condition: str, wished: tuple[float, float], size: tuple[float, float], mark: float
) -> None:
    room = field(*size)
    found = nearest_that_works(asking(flat(condition)), "width", "height", wished, room, mark)

    def works(w: float, h: float) -> bool:
        """Within the recipe's limits, its condition, and the field either way round."""
        fits = any(sewn(w) <= a and sewn(h) <= b for a, b in (size, size[::-1]))
        return fits and 20 <= w <= 300 and 20 <= h <= 300 and SHAPES[condition](w, h)

    if works(*wished):
        assert found == wished
        return
    marks = [round(count * mark, 9) for count in range(1, 320)]
    every = [(w, h) for w in marks for h in marks if works(w, h)]
    if not every:
        assert found is None
        return
    assert found is not None
    assert works(*found)
    least = min(hypot(w - wished[0], h - wished[1]) for w, h in every)
    assert hypot(found[0] - wished[0], found[1] - wished[1]) == pytest.approx(least)


def test_far_from_a_slanted_edge_the_nearest_mark_is_not_the_nearest_to_its_foot() -> None:
    # height <= 60 + width * 5 / 13: steps of 13 mm across have marks on the line itself.
    one = asking(flat("13 * height <= 780 + 5 * width"))
    wished = (30.0, 290.0)
    found = nearest_that_works(one, "width", "height", wished, field(400, 400), 1.0)
    assert found is not None
    every = [(w, h) for w in range(20, 301) for h in range(20, 301) if 13 * h <= 780 + 5 * w]
    assert hypot(found[0] - 30, found[1] - 290) == min(hypot(w - 30, h - 290) for w, h in every)


def test_what_works_already_is_not_changed_to_a_mark() -> None:
    one = asking(flat())
    assert nearest_that_works(one, "width", "height", (33.3, 44.4), field(90, 90), 1.0) == (
        33.3,
        44.4,
    )
    assert nearest_alone(one, "width", 33.3, field(90, 90), 1.0) == 33.3


@settings(max_examples=20)
@given(
    wished=st.integers(1, 500),
    ends=st.tuples(st.integers(20, 280), st.integers(0, 20)),
    mark=st.sampled_from([1.0, 0.25, 25.4 / 16]),
)
def test_one_size_alone_is_the_nearest_of_all_marks(
    wished: int, ends: tuple[int, int], mark: float
) -> None:
    least, most = ends[0] + 0.3, ends[0] + 0.3 + ends[1]
    one = asking(flat(f"width >= {least}", f"width <= {most}"), {"width": least})
    found = nearest_alone(one, "width", wished, field(400, 400), mark)
    if least <= wished <= most:
        assert found == wished
        return
    marks = [round(count * mark, 9) for count in range(1, 1400)]
    inside = [value for value in marks if least - 1e-9 <= value <= most + 1e-9]
    if inside:
        assert found is not None
        assert abs(found - wished) == pytest.approx(min(abs(value - wished) for value in inside))
    else:
        assert found is None


def test_nothing_is_nearest_where_nothing_works() -> None:
    one = asking(flat("width >= 100"))
    assert nearest_that_works(one, "width", "height", (50, 50), field(90, 90), 1.0) is None
    assert nearest_alone(one, "width", 50, field(90, 90), 1.0) is None


def makes(name: str, room: Room, width: float, height: float) -> bool:
    try:
        make(Order(recipe(name), {"width": width, "height": height}, room))
    except (CannotMakeError, InputError):
        return False
    return True


def test_the_nearest_coaster_can_be_made_and_no_nearer_mark_can() -> None:
    # In centimetres, so that all nearer ones can be made.
    room = Room(Hoop("own", 120, 150))
    one = RememberedChecks(Order(recipe("coaster"), {}, room))
    wished, mark = (60.0, 170.0), 10.0
    found = nearest_that_works(one, "width", "height", wished, room, mark)
    assert found is not None
    assert makes("coaster", room, *found)
    reach = hypot(found[0] - wished[0], found[1] - wished[1])
    for width, height in np.ndindex(34, 34):
        value = (width * mark, height * mark)
        if hypot(value[0] - wished[0], value[1] - wished[1]) < reach - 1e-9:
            assert not makes("coaster", room, *value)


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("coaster", {"width": "120mm", "height": "150mm"}),
        ("plant-tag", {}),
        ("zip-pouch", {"width": "150mm"}),
    ],
)
@pytest.mark.parametrize(("margin", "may_turn"), [(0.0, True), (4.0, False)])
def test_the_hoops_that_take_a_project_are_those_that_it_is_made_in(
    name: str, asked: dict[str, str | float], margin: float, may_turn: bool
) -> None:
    rooms = [Room(hoop, margin, may_turn) for hoop in HOOPS]
    taken = hoops_that_take(RememberedChecks(Order(recipe(name), asked, rooms[0])), rooms)
    assert [one.room.hoop for one in taken] == list(smallest_first(HOOPS))
    assert {one.takes for one in taken} == {True, False}
    for one in taken:
        order = Order(recipe(name), asked, one.room)
        if not one.takes:
            with pytest.raises(CannotMakeError):
                make(order)
            continue
        made = make(order)
        assert made.project.turned == one.turned
        # The field, less both margins, less what the needle points need about its middle.
        left, top, right, bottom = astuple(made.extent)
        across, down = one.room.hoop.width - 2 * margin, one.room.hoop.height - 2 * margin
        assert one.left == pytest.approx(
            (across - 2 * max(-left, right), down - 2 * max(-top, bottom))
        )


@pytest.mark.parametrize(
    ("room", "takes", "turned", "left"),
    [
        (field(90, 150), True, False, (10, 10)),
        (field(150, 90), True, True, (10, 10)),
        (field(150, 90, may_turn=False), False, False, (70, -50)),
        (Room(Hoop("own", 100, 160), margin=10), True, False, (0, 0)),
        (Room(Hoop("own", 99, 160), margin=10), False, False, (-1, 0)),
        # 10 too wide as it is, 70 turned: as it sticks out less.
        (field(70, 150), False, False, (-10, 10)),
    ],
)
def test_how_a_flat_of_80_by_140_lies(
    room: Room, takes: bool, turned: bool, left: tuple[float, float]
) -> None:
    one = asking(flat(), {"width": 80, "height": 140})
    (taking,) = hoops_that_take(one, [room])
    assert (taking.takes, taking.turned) == (takes, turned)
    assert taking.left == pytest.approx(left)


def test_what_no_hoop_would_mend_is_refused_with_all_that_is_found() -> None:
    one = asking(flat("width >= 100", "height >= 100", says=("too narrow", "too low")))
    with pytest.raises(CannotMakeError) as refused:
        hoops_that_take(one, [field(400, 400)])
    assert [says(finding) for finding in refused.value.findings] == ["too narrow", "too low"]
