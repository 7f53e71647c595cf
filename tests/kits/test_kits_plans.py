"""Cutting plans of random orders: valid, cut as they say, and never longer than first fit."""

from dataclasses import replace

import pytest
from cutting_orders import cloths, one_way, there, ways_to_cut
from hypothesis import given, settings
from plans_checked import check_random_order

from paramgen.amounts.project_materials import ClothToCut, PieceToCut
from paramgen.kits.cloth_there import (
    FAT_QUARTER,
    ClothThere,
    Cutting,
    OneWay,
)
from paramgen.kits.kit_words import cut_lines
from paramgen.kits.plan_cutting import plan_cutting
from paramgen.lengths import INCH
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit


def second() -> float:
    return 1.0


def squares(side: float, many: int, grain: Grain = Grain.ANY) -> ClothToCut:
    piece = PieceToCut(name="square", title="square", quantity=many, cut=(side, side), grain=grain)
    return ClothToCut(role="outer", sort="fabric", title="", wash=False, pieces=(piece,))


BARE = Cutting(selvedge=0.0, squaring=0.0)


@settings(deadline=None, max_examples=100)
@given(cloths(), there(), ways_to_cut(), one_way())
def test_the_cuts_in_their_order_cut_every_piece(
    cloth: ClothToCut, stock: tuple[ClothThere, ...], cutting: Cutting, way: OneWay
) -> None:
    check_random_order(cloth, stock, cutting, way)


def test_a_column_is_cut_from_its_upper_end_on() -> None:
    # 60 × 100 and two of 40 × 50 in a width of 100 mm: one strip, a column of two beside the high
    # one, and a cut between them.
    pieces = tuple(
        PieceToCut(name=name, title=name, quantity=many, cut=size, grain=Grain.HEIGHT)
        for name, many, size in (("high", 1, (60.0, 100.0)), ("low", 2, (40.0, 50.0)))
    )
    cloth = ClothToCut(role="outer", sort="fabric", title="", wash=False, pieces=pieces)
    bolt = ClothThere(role="outer", width=100, selvedges=0)
    cutting = replace(BARE, stages=3)
    (plan,) = plan_cutting(cloth, [bolt], cutting, Unit.MM, second)
    assert (plan.length, plan.proven) == (100, True)
    told = [(str(cut.kind), cut.ruler) for cut in plan.cuts]
    assert told == [("strip", 100), ("piece", 60), ("trim", 50)]
    assert [one.does for one in cut_lines(plan, Unit.MM)][-1] == "Cut B low off at 50 mm"


def test_the_squares_that_a_fat_quarter_gives() -> None:
    # Published charts of squares from 18 × 22 in, all alike (quilt books); side in inches.
    chart = {2: 99, 3: 42, 3.5: 30, 4: 20, 4.5: 16, 5: 12, 6: 9, 6.5: 6}
    across, along = FAT_QUARTER
    quarter = ClothThere(role="outer", width=across, length=along, pieces=None, selvedges=0)
    for side, many in chart.items():
        one = plan_cutting(squares(side * INCH, many), [quarter], BARE, Unit.INCH, second)
        assert len(one) == 1, side
        two = plan_cutting(squares(side * INCH, many + 1), [quarter], BARE, Unit.INCH, second)
        assert len(two) == 2, side
        assert all(plan.proven for plan in (*one, *two))


def test_a_length_to_buy_is_squared_up_shrinks_and_is_sold_by_the_eighth() -> None:
    # 44 in wide, 1 in off each side and 5 % lost: 44 × 0.95 - 2 = 39.8 in, so 7 squares of 5 1/2 in
    # in a strip and 3 strips for 20. 3 × 5.5 + 1 = 17.5 in; before the wash 17.5 / 0.95 = 18.42 in;
    # sold by 4 1/2 in: 22 1/2 in.
    bolt = ClothThere(role="outer", width=44 * INCH)
    cutting = Cutting(selvedge=INCH, squaring=INCH, shrinkage=0.05)
    (plan,) = plan_cutting(squares(5.5 * INCH, 20), [bolt], cutting, Unit.INCH, second)
    assert plan.width == pytest.approx(39.8 * INCH)
    assert plan.sold_width == 44 * INCH
    assert plan.length == pytest.approx(17.5 * INCH)
    assert plan.bound == pytest.approx(17.5 * INCH)
    assert plan.buy == pytest.approx(22.5 * INCH)
    assert plan.proven


def test_the_cuts_of_a_small_plan_are_those_people_make() -> None:
    # Six squares of 100 mm in 350 mm: two strips of three, stacked and cut at once.
    bolt = ClothThere(role="outer", width=350)
    cutting = Cutting(selvedge=20, squaring=25, layers=2)
    (plan,) = plan_cutting(squares(100, 6), [bolt], cutting, Unit.MM, second)
    told = [(str(cut.kind), cut.ruler, len(cut.lines)) for cut in plan.cuts]
    assert told == [
        ("square up", 25, 1),
        ("strip", 100, 1),
        ("strip", 100, 1),
        ("selvedge", 20, 2),
        ("piece", 100, 2),
        ("piece", 100, 2),
        ("piece", 100, 2),
    ]
    one_by_one = Cutting(selvedge=20, squaring=25, layers=1)
    (alone,) = plan_cutting(squares(100, 6), [bolt], one_by_one, Unit.MM, second)
    assert len(alone.cuts) == 3 + 2 * 4


def test_remnants_are_used_before_cloth_is_bought() -> None:
    # 3 × 2 squares of 100 mm from the remnant; the seventh from the bolt.
    remnant = ClothThere(role="outer", width=310, length=210, bought=False, selvedges=0)
    bolt = ClothThere(role="outer", width=1000)
    there, bought = plan_cutting(squares(100, 7), [remnant, bolt], BARE, Unit.MM, second)
    assert (len(there.placed), len(bought.placed)) == (6, 1)
    assert (bought.length, bought.bound, bought.proven) == (100, 100, True)
    (enough,) = plan_cutting(squares(100, 6), [remnant, bolt], BARE, Unit.MM, second)
    assert not enough.bought


def test_what_is_wider_than_the_cloth_is_refused_with_what_would_do() -> None:
    # 400 mm and 2 × 20 mm of selvedges.
    narrow = ClothThere(role="outer", width=400)
    cutting = Cutting(selvedge=20, squaring=0)
    with pytest.raises(InputError) as refused:
        plan_cutting(squares(400, 1), [narrow], cutting, Unit.MM, second)
    (fault,) = refused.value.faults
    assert "takes 400 mm across the cloth, of which 360 mm can be used" in str(fault)
    assert "at least 440 mm wide" in str(fault)
    enough = ClothThere(role="outer", width=440)
    assert plan_cutting(squares(400, 1), [enough], cutting, Unit.MM, second)


def test_a_print_that_the_grain_lays_on_its_side_is_refused() -> None:
    wide = squares(100, 1, Grain.WIDTH)
    bolt = ClothThere(role="outer", width=1000, one_way=OneWay.ALONG)
    with pytest.raises(InputError, match="on its side"):
        plan_cutting(wide, [bolt], BARE, Unit.MM, second)
    across = ClothThere(role="outer", width=1000, one_way=OneWay.ACROSS)
    assert plan_cutting(wide, [across], BARE, Unit.MM, second)
