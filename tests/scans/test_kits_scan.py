"""Cutting plans of thousands of random orders: each is valid, and its cuts in order cut it."""

from cutting_orders import cloths, one_way, there, ways_to_cut
from hypothesis import given, settings
from plans_checked import check_random_order

from paramgen.amounts.project_materials import ClothToCut
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay


@settings(deadline=None, max_examples=3000)
@given(cloths(), there(), ways_to_cut(), one_way())
def test_the_cuts_of_every_order_cut_it(
    cloth: ClothToCut, stock: tuple[ClothThere, ...], cutting: Cutting, way: OneWay
) -> None:
    check_random_order(cloth, stock, cutting, way)
