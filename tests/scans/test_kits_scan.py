"""Cutting plans of thousands of random orders: each is valid, and its cuts in order cut it."""

from cutting_orders import cloths, one_way, print_repeats, there, ways_to_cut
from hypothesis import given, settings
from hypothesis import strategies as st
from plans_checked import check_random_motifs, check_random_order

from paramgen.amounts.project_materials import ClothToCut
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay


@settings(deadline=None, max_examples=3000)
@given(cloths(), there(), ways_to_cut(), one_way())
def test_the_cuts_of_every_order_cut_it(
    cloth: ClothToCut, stock: tuple[ClothThere, ...], cutting: Cutting, way: OneWay
) -> None:
    check_random_order(cloth, stock, cutting, way)


@settings(deadline=None, max_examples=3000)
@given(
    cloths(),
    there(),
    ways_to_cut(),
    print_repeats(),
    st.sampled_from([OneWay.ALONG, OneWay.ACROSS]),
)
def test_the_pieces_of_every_order_lie_on_motifs(
    cloth: ClothToCut,
    stock: tuple[ClothThere, ...],
    cutting: Cutting,
    repeat: tuple[int, int],
    way: OneWay,
) -> None:
    check_random_motifs(cloth, stock, cutting, repeat, way)
