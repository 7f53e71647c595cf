"""Whether a project fits its hoop, which way round, and what would.

What a wallet needs: its seam box (the size asked and twice the turn of cloth, 1 mm) and the
tack-downs 1 mm outside it, so width + 4 by height + 4 mm. A coaster: turn of cloth 0.5 mm
and a tack-down 2 mm outside, so width + 5 by height + 5 mm.
"""

import math
import re
from collections.abc import Callable
from dataclasses import astuple

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from layout_orders import COASTER, HOOPS, WALLET, Asked, hooped, stitched
from told import mends, says

from paramgen.hooping import Hooped, largest
from paramgen.lengths import parse_length
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.hoops import Hoop
from paramgen.vocabulary.findings import CannotMakeError, Finding
from paramgen.vocabulary.unit import Unit

INCH = 25.4


def hoop(width: float, height: float) -> Hoop:
    return Hoop("trial hoop", width, height)


Excess = Callable[[float], float | None]


def fits(
    recipe: Recipe, asked: Asked, room: str | Hoop, *, may_turn: bool = True, margin: float = 0
) -> bool:
    try:
        hooped(recipe, asked, room, may_turn=may_turn, margin=margin, search=False)
    except CannotMakeError as problem:
        if [one.code for one in problem.findings if one.stops] != ["hoop-exceeded"]:
            raise
        return False
    return True


def refusal(
    recipe: Recipe, asked: Asked, room: str | Hoop, unit: Unit = Unit.MM, **kept: bool
) -> Finding:
    with pytest.raises(CannotMakeError) as caught:
        hooped(recipe, asked, room, unit, **kept)
    (found,) = (one for one in caught.value.findings if one.stops)
    assert found.code == "hoop-exceeded"
    return found


def needles(made: Hooped) -> np.ndarray:
    """Every needle point, mm, shape (n, 2)."""
    return np.concatenate([run.needles for step in made.sewn for run in step.runs]) / 10


# --- Fit and margin ---------------------------------------------------------------------


@given(st.integers(80, 250), st.integers(150, 340))
@settings(max_examples=3)
def test_a_wallet_fits_to_the_tenth_of_a_millimetre(width: int, height: int) -> None:
    asked = {"width": width, "height": height}
    assert fits(WALLET, asked, hoop(width + 4, height + 4), may_turn=False)
    assert not fits(WALLET, asked, hoop(width + 3.9, height + 4), may_turn=False)
    assert not fits(WALLET, asked, hoop(width + 4, height + 3.9), may_turn=False)


@pytest.mark.parametrize("outline", ["rectangle", "rounded", "oval"])
def test_a_coaster_fits_to_the_tenth_of_a_millimetre(outline: str) -> None:
    asked: Asked = {"outline": outline, "width": 120, "height": 90}
    assert fits(COASTER, asked, hoop(125, 95), may_turn=False)
    assert not fits(COASTER, asked, hoop(124.9, 95), may_turn=False)
    assert not fits(COASTER, asked, hoop(125, 94.9), may_turn=False)


def test_the_margin_is_kept_free_on_every_side() -> None:
    asked: Asked = {"outline": "square", "width": 100}
    assert fits(COASTER, asked, hoop(105 + 2 * 7.5, 105 + 2 * 7.5), margin=7.5)
    assert not fits(COASTER, asked, hoop(105 + 2 * 7.5, 105 + 2 * 7.5), margin=7.6)
    points = needles(hooped(COASTER, asked, hoop(130, 130), margin=7.5))
    assert np.abs(points).max() <= 130 / 2 - 7.5


@given(
    st.sampled_from([WALLET, COASTER]),
    st.floats(75, 300),
    st.floats(140, 300),
    st.sampled_from(HOOPS),
    st.floats(0, 10),
)
@settings(max_examples=8)
def test_every_needle_point_of_what_is_made_lies_in_the_field(
    recipe: Recipe, width: float, height: float, listed: Hoop, margin: float
) -> None:
    asked = {"width": width, "height": height}
    try:
        made = hooped(recipe, asked, listed, margin=margin, search=False)
    except CannotMakeError:
        # Only because it is too large: the project needs at most 6 mm more than its size.
        long, short = max(width, height), min(width, height)
        room = sorted((listed.width - 2 * margin, listed.height - 2 * margin))
        assert short + 6 > room[0] or long + 6 > room[1]
        return
    points = needles(made)
    across, down = np.abs(points).max(axis=0)
    assert across <= listed.width / 2 - margin + 1e-9
    assert down <= listed.height / 2 - margin + 1e-9
    low, high = points.min(axis=0), points.max(axis=0)
    assert astuple(made.extent) == pytest.approx((*low, *high))
    # In the middle, to a step of the grid.
    assert np.abs(low + high).max() <= 0.1 + 1e-9


@pytest.mark.parametrize("may_turn", [True, False])
def test_what_is_drawn_moves_with_the_needle_points_into_the_middle(may_turn: bool) -> None:
    # A triangle reaches twice as far above the middle of its circle as below: the tack-down,
    # 0.5 + 2 mm outside one of 75 and 37.5, reaches 80 and 40. Its middle is 20 higher.
    asked: Asked = {"outline": "polygon", "sides": "3", "width": 150}
    room = hoop(130, 180) if may_turn else hoop(180, 130)
    made = hooped(COASTER, asked, room, may_turn=may_turn)
    assert made.project.turned == may_turn
    (tack,) = (path for one in made.project.lines if one.name == "top-tack" for path in one.paths)
    points = needles(made)
    assert tack.bounds == pytest.approx((*points.min(axis=0), *points.max(axis=0)), abs=0.11)
    assert made.move == pytest.approx((-20, 0) if may_turn else (0, 20), abs=0.1)


# --- Which way round --------------------------------------------------------------------


def test_it_is_not_turned_where_it_fits_as_it_is() -> None:
    for room in ("130x180", "200x200", "240x360"):
        made = hooped(WALLET, {}, room)
        assert not made.project.turned
        assert not [one for one in made.project.findings if one.code == "turned-in-hoop"]


def test_it_is_turned_where_it_fits_only_so_and_says_so() -> None:
    made = hooped(WALLET, {}, hoop(180, 130))
    assert made.project.turned
    (said,) = (one for one in made.project.findings if one.code == "turned-in-hoop")
    assert not said.stops
    assert "turned by 90°" in says(said)
    assert "trial hoop" in says(said)
    assert made.project.finished == pytest.approx((124, 172))
    left, top, right, bottom = made.project.seam.bounds
    assert (right - left, bottom - top) == pytest.approx((174, 126))


def test_the_words_for_sides_follow_a_turned_project() -> None:
    def seam_step(made: Hooped) -> str:
        return next(step.say for step in made.project.steps if step.title == "Seam")

    assert "on the left side" in seam_step(hooped(WALLET, {}, "130x180"))
    assert "on the top side" in seam_step(hooped(WALLET, {}, hoop(180, 130)))


def test_turning_can_be_forbidden() -> None:
    found = refusal(WALLET, {}, hoop(180, 130), may_turn=False, search=False)
    # 172 + 4 - 130 = 46 too high, 23 at the top and at the bottom
    assert "23 mm (7/8 in) too high at both top and bottom" in says(found)
    assert "too wide" not in says(found)
    assert found.amount == pytest.approx(23)


@given(st.integers(80, 160), st.integers(160, 240))
@settings(max_examples=3)
def test_a_turned_project_needs_the_same_field_turned(width: int, height: int) -> None:
    asked = {"width": width, "height": height}
    assert stitched(WALLET, asked, turned=True).needs == pytest.approx((height + 4, width + 4))


# --- What does not fit ------------------------------------------------------------------


def test_the_excess_on_each_side_is_said_in_millimetres() -> None:
    # 150 + 4 - 130 = 24, and 190 + 4 - 180 = 14: half of each on each side
    found = refusal(WALLET, {"width": 150, "height": 190}, "130x180", search=False)
    assert "the stitches need 154 × 194 mm, and the field of 130x180 has 130 × 180 mm" in says(
        found
    )
    assert "12 mm (1/2 in) too wide on each side" in says(found)
    assert "7 mm (1/4 in) too high at both top and bottom" in says(found)
    assert found.amount == pytest.approx(12)


def test_the_excess_on_each_side_is_said_in_inches() -> None:
    # Seam box and tack-downs: 6 in + 4 mm = 156.4 mm; 156.4 - 130 = 26.4, half is 13.2 mm or
    # 0.52 in, 1/2 on a ruler. 8 in + 4 mm = 207.2; 27.2 / 2 = 13.6 mm or 0.535 in, 9/16.
    found = refusal(WALLET, {"width": "6 in", "height": "8 in"}, "5x7in", Unit.INCH, search=False)
    assert "1/2 in (13.2 mm) too wide" in says(found, Unit.INCH)
    assert "9/16 in (13.6 mm) too high" in says(found, Unit.INCH)
    # 156.4 mm is 6.157 in, 6 3/16; 207.2 is 8.157, 8 3/16; 130 is 5 1/8, 180 is 7 1/16
    assert "need 6 3/16 × 8 3/16 in" in says(found, Unit.INCH)
    assert "has 5 1/8 × 7 1/16 in" in says(found, Unit.INCH)


def test_the_margin_is_left_out_of_the_field_that_is_said() -> None:
    with pytest.raises(CannotMakeError) as caught:
        hooped(WALLET, {}, "130x180", margin=10, search=False)
    assert "has 110 × 160 mm" in says(caught.value.findings[-1])


def test_the_way_round_that_sticks_out_less_is_spoken_of() -> None:
    # 214 × 134 needed: turned it is 4 and 34 over in 130 × 180, as it is 84 over.
    asked: Asked = {"outline": "rectangle", "width": 209, "height": 129}
    found = refusal(COASTER, asked, "130x180", search=False)
    assert "need 134 × 214 mm, turned by 90°" in says(found)
    assert "2 mm (1/16 in) too wide" in says(found)
    assert "17 mm (11/16 in) too high" in says(found)


ROOMY: Asked = {
    "corner_radius": 5,
    "gap_most": 50,
}


def named(remedy: str) -> dict[str, float]:
    """Sizes that a remedy names, mm."""
    sizes = re.findall(r"(width|height)(?: that fits is)? ([0-9./ ]+ (?:mm|in))", remedy)
    return {name: parse_length(text) for name, text in sizes}


def parted(found: Finding) -> tuple[dict[str, float], dict[str, float]]:
    """Sizes that a remedy names for one at a time, and for all at once, mm."""
    alone, _, together = mends(found).partition("The largest that fits is")
    return named(alone), named(together)


MARK = {Unit.MM: 0.1, Unit.INCH: INCH / 16}


def a_mark_more(value: float, unit: Unit) -> float:
    """The next mark above one that is told in tenths of a millimetre, rounded down."""
    return (round(value / MARK[unit]) + 1) * MARK[unit]


@given(
    st.floats(70, 180),
    st.floats(70, 180),
    st.floats(90, 190),
    st.floats(90, 190),
    st.sampled_from(list(Unit)),
    st.booleans(),
)
# 84.2 - 5 = 79.2: 3 1/16 in is 77.79 mm, told as 77.7, and the next mark 79.375 is too large.
@example(84.2, 138.2, 90.0, 90.0, Unit.INCH, False)
@settings(max_examples=5)
def test_the_largest_size_said_fits_and_one_mark_more_does_not(
    across: float, down: float, width: float, height: float, unit: Unit, may_turn: bool
) -> None:
    room = hoop(round(across, 1), round(down, 1))
    asked: Asked = {
        "outline": "rectangle",
        "width": round(width, 3),
        "height": round(height, 3),
        **ROOMY,
    }
    assume(not fits(COASTER, asked, room, may_turn=may_turn))
    found = refusal(COASTER, asked, room, unit, may_turn=may_turn)
    alone, together = parted(found)
    for name, value in alone.items():
        assert fits(COASTER, {**asked, name: value}, room, may_turn=may_turn)
        more = {**asked, name: a_mark_more(value, unit)}
        assert not fits(COASTER, more, room, may_turn=may_turn)
    if not alone:
        for name in ("width", "height"):
            assert not fits(COASTER, {**asked, name: 50}, room, may_turn=may_turn)
    # All sizes at once: one of them alone may have come out as the largest, too.
    if together:
        assert set(together) == {"width", "height"}
        assert fits(COASTER, {**asked, **together}, room, may_turn=may_turn)
        for name, value in together.items():
            more = {**asked, **together, name: a_mark_more(value, unit)}
            assert not fits(COASTER, more, room, may_turn=may_turn)
        # A coaster needs 5 mm more than its size each way: the whole field, down to a mark and
        # to the tenths that needle points lie on.
        mark = MARK[unit]
        whole = [math.floor((side - 5) / mark + 1e-6) * mark for side in (across, down)]
        assert sorted(together.values()) == pytest.approx(sorted(whole), abs=mark + 0.11)


def test_the_largest_width_and_the_largest_height_are_worked_out() -> None:
    # Of a wallet in 130 × 180: 130 - 4 = 126 wide; turned, 172 + 4 is too high for 130.
    found = refusal(WALLET, {"width": 150}, "130x180")
    assert "With the other sizes as asked, the largest width that fits is 126 mm." in mends(found)
    # In inches, down to a sixteenth: 126 mm is 4.96 in, 4 15/16
    found = refusal(WALLET, {"width": 150}, "130x180", Unit.INCH)
    assert "the largest width that fits is 4 15/16 in" in mends(found, Unit.INCH)
    # The other size need not be as asked: 180 - 4 = 176 high with it.
    assert "width 4 15/16 in with height 6 7/8 in." in mends(found, Unit.INCH)
    found = refusal(WALLET, {"height": 190}, "130x180")
    assert "the largest height that fits is 176 mm" in mends(found)
    # Both are too large: 126 with 176, not one alone.
    found = refusal(WALLET, {"width": 150, "height": 190}, "130x180")
    assert "The largest that fits is width 126 mm with height 176 mm." in mends(found)


def test_a_narrow_range_of_sizes_that_can_be_made_and_fit_is_found() -> None:
    # Two pockets need a height of 2 (51 + 2 × 8) - 2 = 132 mm; a hoop 137 high takes 133.
    small = {"packet_width": 60}
    found = refusal(WALLET, {"height": 360, **small}, hoop(130, 137), may_turn=False)
    assert "the largest height that fits is 133 mm" in mends(found)


def test_a_size_that_fits_the_field_and_not_the_packet_is_not_named() -> None:
    # 133 mm again; but a packet of 108 mm does not go into a pocket of less than half of that.
    found = refusal(WALLET, {"height": 360}, hoop(130, 137), may_turn=False)
    assert "Nothing that the recipe can make, with the rest as asked, fits" in mends(found)


def test_where_nothing_can_be_made_that_fits_it_says_so() -> None:
    found = refusal(WALLET, {}, hoop(130, 60), may_turn=False)
    assert "Nothing that the recipe can make, with the rest as asked, fits" in mends(found)


def test_sizes_looked_for_are_scaled_ones() -> None:
    # 124 × 1.2 = 148.8 and 172 × 1.2 = 206.4, with 4 mm round them. In 140 × 220 the largest
    # width is 136; no height helps.
    with pytest.raises(CannotMakeError) as caught:
        hooped(WALLET, {}, hoop(140, 220), scale=1.2, may_turn=False)
    (found,) = (one for one in caught.value.findings if one.stops)
    assert "need 152.8 × 210.4 mm" in says(found)
    assert parted(found)[0] == {"width": 136}


def test_a_size_that_follows_another_follows_it_when_a_smaller_one_is_looked_for() -> None:
    # The height of a coaster is its width unless asked.
    found = refusal(COASTER, {"outline": "square", "width": 150}, "130x180")
    assert "the largest width that fits is 125 mm" in mends(found)


# --- Another hoop -----------------------------------------------------------------------


@given(st.floats(97, 330), st.floats(150, 340), st.booleans())
@settings(max_examples=5)
def test_the_smallest_listed_hoop_is_the_smallest_of_all_that_take_it(
    width: float, height: float, may_turn: bool
) -> None:
    asked = {"width": round(width, 1), "height": round(height, 1)}
    found = refusal(WALLET, asked, "100x100", may_turn=may_turn, search=False)
    ways = [
        stitched(WALLET, asked, turned=turned).needs for turned in (False, True)[: 1 + may_turn]
    ]
    taking = [
        one for one in HOOPS if any(wide <= one.width and high <= one.height for wide, high in ways)
    ]
    if not taking:
        assert "No listed hoop takes it as asked." in mends(found)
        return
    smallest = min(one.width * one.height for one in taking)
    (named_hoop,) = re.findall(r"The smallest listed hoop .* is (\S+?)[ .]", mends(found))
    (chosen,) = (one for one in HOOPS if one.name == named_hoop)
    assert chosen in taking
    assert chosen.width * chosen.height == smallest
    straight = ways[0][0] <= chosen.width and ways[0][1] <= chosen.height
    assert ("(turned by 90°)" in mends(found)) == (not straight)


def test_where_no_listed_hoop_takes_it_that_is_said() -> None:
    # 334 × 364 needed, and the largest has 360 × 350: 14 too high, and turned 4 too wide.
    found = refusal(WALLET, {"width": 330, "height": 360}, "360x350", search=False)
    assert "No listed hoop takes it as asked." in mends(found)
    assert "need 364 × 334 mm, turned by 90°" in says(found)
    assert says(found).endswith("2 mm (1/16 in) too wide on each side")


# --- How the largest is looked for ------------------------------------------------------


def tried(limit: float, least: float, growth: float = 1.0) -> Excess:
    """Need that grows with a value: too much above a limit, not to be made below a least."""
    seen: list[float] = []

    def excess(value: float) -> float | None:
        seen.append(value)
        assert len(seen) <= 100, "tried too often"
        return None if value < least - 1e-9 else max(0.0, (value - limit) * growth)

    return excess


@given(
    st.integers(1, 400),
    st.integers(0, 300),
    st.integers(0, 1000),
    st.integers(0, 700),
    st.sampled_from([0.25, 1.0, 3.0]),
)
@settings(max_examples=100)
def test_the_largest_value_that_will_do_is_found(
    low: int, span: int, limit: int, least: int, growth: float
) -> None:
    found = largest(low, low + span, tried(limit, least, growth), step=0.5)
    best = min(low + span, limit)
    assert found == (best if best >= max(low, least) else 0)


def test_what_will_do_is_found_between_what_is_too_large_and_what_cannot_be_made() -> None:
    # The need grows three times as fast as the value: the first step down goes far too low.
    assert largest(110, 360, tried(140, 138, growth=3), step=0.5) == 140
    assert largest(110, 360, tried(140, 140.2, growth=3), step=0.5) == 0


def test_what_will_do_is_found_below_what_cannot_be_made() -> None:
    def excess(value: float) -> float | None:
        return 0.0 if 120 <= value <= 200 else None

    assert largest(50, 330, excess, step=0.5) == 200


@pytest.mark.parametrize(("high", "step"), [(150.07, 0.1), (150.07, INCH / 16)])
def test_what_is_found_is_a_whole_number_of_steps(high: float, step: float) -> None:
    found = largest(50, high, tried(120.03, 50), step=step)
    assert found / step == pytest.approx(round(found / step))
    assert found <= 120.03 < found + step


def test_a_value_that_does_not_help_is_given_up_soon() -> None:
    seen: list[float] = []

    def excess(value: float) -> float:
        seen.append(value)
        return 0.2  # of another size, whatever this one is

    assert largest(50, 330, excess, step=0.1) == 0
    assert len(seen) <= 4
