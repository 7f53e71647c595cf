"""Outlines on the mat of a cutting machine: all there, inside, apart, and never too few mats.

Published heights: `tests/specimens/packing/`, one file for each instance, with its
paper. Rectangles that are not turned go in no lower strip than `optimum_height_fixed_orientation`.
"""

import json
import math
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

import pytest
from hypothesis import given, settings
from mats_laid import ELL, assert_sound, check_laid, laid_on_mats

from paramgen.geometry.outlines import oval, rectangle
from paramgen.mats.nest import nest
from paramgen.mats.outlines_to_nest import Mat, MatPlan, OutlineToNest
from paramgen.vocabulary.findings import InputError

PUBLISHED = FilePath(__file__).resolve().parents[1] / "specimens" / "packing"
STRIPS = [
    found
    for file in sorted(PUBLISHED.glob("*.json"))
    if (found := json.loads(file.read_text()))["kind"] == "strip_packing"
]


def strip(instance: dict[str, Any], height: float) -> MatPlan:
    """An instance on mats of a height, a tenth of a millimetre to a unit."""
    outlines = [
        OutlineToNest(name=str(n), outline=rectangle(0, 0, w, h), quantity=1, turns=(0,))
        for n, (w, h) in enumerate(instance["items"])
    ]
    return nest(outlines, Mat(width=instance["strip_width"], height=height, edge=0, gap=0))


@pytest.mark.parametrize("instance", STRIPS, ids=lambda each: each["name"])
def test_no_published_instance_goes_in_a_lower_strip_than_is_proven(
    instance: dict[str, Any],
) -> None:
    least = instance["optimum_height_fixed_orientation"]
    if max(height for _, height in instance["items"]) < least:
        assert strip(instance, least - 0.5).count > 1
    assert strip(instance, math.ceil(1.13 * least)).count == 1  # nor much more than it


def test_what_fits_exactly_fits() -> None:
    # Inside 6 mm all round 212 mm leave 200: two of 99 mm and the gap of 2 mm.
    square = OutlineToNest(name="top", outline=rectangle(0, 0, 99, 99), quantity=4)
    plan = nest([square], Mat(width=212, height=212))
    assert plan.count == plan.least == 1
    assert_sound(plan, [square])
    larger = OutlineToNest(name="top", outline=rectangle(0, 0, 99.1, 99.1), quantity=4)
    assert nest([larger], Mat(width=212, height=212)).count > 1


def test_a_gap_next_to_nothing_is_none() -> None:
    # Four squares of 100 mm fill a mat of 200 mm inside its clear edge; a fifth wants a second.
    square = OutlineToNest(name="square", outline=rectangle(0, 0, 100, 100), quantity=5)
    for gap in (0.0, 9.4e-178, 1e-12):
        plan = nest([square], Mat(width=212, height=212, gap=gap))
        assert plan.count == 2
        assert_sound(plan, [square])


def test_what_is_not_convex_goes_into_the_corner_of_another() -> None:
    # Two L of 60 mm with legs of 20 mm make a square of 80 mm, one turned by half a turn:
    # 2 · (60 · 20 + 40 · 20) = 4000 mm²; side by side they take 120 mm.
    ell = OutlineToNest(name="ell", outline=ELL, quantity=2)
    plan = nest([ell], Mat(width=80, height=80, edge=0, gap=0))
    assert plan.count == 1
    assert {one.turned for one in plan.mats[0][0].pieces} == {0, 180}
    assert_sound(plan, [ell])
    unturned = OutlineToNest(name="ell", outline=ELL, quantity=2, turns=(0,))
    assert nest([unturned], Mat(width=79, height=79, edge=0, gap=0)).count == 2


def test_only_what_may_be_turned_is_turned() -> None:
    mat = Mat(width=112, height=212)
    wide = OutlineToNest(name="strap", outline=rectangle(0, 0, 190, 40), quantity=1)
    assert nest([replace(wide, turns=(0, 90))], mat).mats[0][0].pieces[0].turned == 90
    with pytest.raises(
        InputError, match=r"strap: 190 × 40 mm, does not go on a mat that has 100 × 200 mm"
    ):
        nest([wide], mat)


def test_round_corners_do_not_lead_away_from_rows() -> None:
    # Two beside each other, 2 · 110 + 2, leave 66 of 288; five below, 5 · 110 + 8, fit 588.
    round_one = rectangle(0, 0, 110, 110, rounded=15)
    mat = OutlineToNest(name="mat", outline=round_one, quantity=10)
    plan = nest([mat], Mat(width=300, height=600))
    assert plan.count == 1
    assert_sound(plan, [mat])


def test_mats_that_are_laid_alike_are_told_once() -> None:
    one = OutlineToNest(name="top", outline=rectangle(0, 0, 150, 150), quantity=7)
    plan = nest([one], Mat(width=200, height=200))
    assert [times for _, times in plan.mats] == [7]
    assert len(list(plan.each())) == plan.count == 7


@settings(max_examples=40)
@given(laid_on_mats())
def test_whatever_is_laid_is_all_there_inside_and_apart(
    asked: tuple[list[OutlineToNest], Mat],
) -> None:
    check_laid(*asked)


def test_the_same_is_laid_the_same_each_time() -> None:
    outlines = [
        OutlineToNest(name="ell", outline=ELL, quantity=5),
        OutlineToNest(name="tag", outline=oval((0, 0), 70, 40), quantity=9, turns=(0, 90)),
    ]
    first, second = (nest(outlines, Mat(width=200, height=180)) for _ in range(2))
    assert [one.pieces for one in first.each()] == [one.pieces for one in second.each()]
