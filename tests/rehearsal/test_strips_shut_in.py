"""Strips that are shut in: how wide one may be before it is told of, on either side of the limit.

The limits are rules of thumb from memory: a strip of a pocket 12 mm wide is narrower than a card or
a key, one of stabiliser 5 mm wide comes out with the seam's own. Of the mat, whose pockets have
their mouth at its middle, side seams lie 51 from the middle, the others 31.
"""

from dataclasses import replace

import pytest
from turned_mats import mat, pocket, stitched

from paramgen.geometry.outlines import rectangle
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import rehearsed
from paramgen.rehearsal.stabiliser_left_in import stabiliser_left_in
from paramgen.vocabulary.kinds import Act, Side


@pytest.mark.parametrize(
    ("wide", "told"), [(6.0, False), (11.8, False), (12.2, True), (20.0, True)]
)
def test_a_pocket_is_sewn_shut_where_more_than_a_strip_of_it_is(wide: float, told: bool) -> None:
    floor = stitched("floor", "top-stitch", (-60, 31 - wide), (60, 31 - wide))
    found = rehearsed(work_through(mat(pocket("pocket"), floor)))
    assert (("sewn-shut", "pocket") in {(one.code, one.piece) for one in found}) is told


@pytest.mark.parametrize(("wide", "told"), [(1.0, False), (4.8, False), (5.2, True), (20.0, True)])
def test_stabiliser_is_left_in_where_more_than_a_strip_of_it_is(wide: float, told: bool) -> None:
    project = mat(closing=Side.BACK)
    first, closing, *after = project.steps
    assert [one.piece for one in closing.layers] == ["closing"]
    # It is cut away from past every seam to a strip below the top seam.
    cut_away = rectangle(-60, wide - 31, 60, 40)
    cut = replace(closing, act=Act.TEAR, layers=(), lines=(), mark=(cut_away,))
    steps = (first, cut, closing, *after)
    steps = tuple(replace(one, number=number) for number, one in enumerate(steps, 1))
    found = stabiliser_left_in(work_through(replace(project, steps=steps)))
    assert [one.code for one in found] == ["stabiliser-left-in"] * told
