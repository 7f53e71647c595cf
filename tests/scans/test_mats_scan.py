"""Thousands of random orders for mats: all pieces are there, inside, and apart."""

from hypothesis import given, settings
from mats_laid import check_laid, laid_on_mats

from paramgen.mats.outlines_to_nest import Mat, OutlineToNest


@settings(deadline=None, max_examples=2000)
@given(laid_on_mats())
def test_every_piece_of_every_order_lies_on_a_mat(asked: tuple[list[OutlineToNest], Mat]) -> None:
    check_laid(*asked)
