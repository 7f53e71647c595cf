"""Outlines on the mat of a cutting machine: all there, inside, apart, and never too few mats.

Published heights: `tests/specimens/packing/`, one file for each instance, with its
paper. Rectangles that are not turned go in no lower strip than `optimum_height_fixed_orientation`.
"""

import json
import math
from collections import Counter
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.geometry.outlines import oval, rectangle, regular_polygon
from paramgen.mats.nest import nest
from paramgen.mats.outlines_to_nest import Mat, MatPlan, OutlineToNest
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.path import Path, path

PUBLISHED = FilePath(__file__).resolve().parents[1] / "specimens" / "packing"
STRIPS = [
    found
    for file in sorted(PUBLISHED.glob("*.json"))
    if (found := json.loads(file.read_text()))["kind"] == "strip_packing"
]
ELL = path([(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)], closed=True)


def strip(instance: dict[str, Any], height: float) -> MatPlan:
    """An instance on mats of a height, a tenth of a millimetre to a unit."""
    outlines = [
        OutlineToNest(name=str(n), outline=rectangle(0, 0, w, h), quantity=1, turns=(0,))
        for n, (w, h) in enumerate(instance["items"])
    ]
    return nest(outlines, Mat(width=instance["strip_width"], height=height, edge=0, gap=0))


def assert_sound(plan: MatPlan, outlines: list[OutlineToNest]) -> None:
    """All pieces are there as they may be turned, inside the clear edge and apart."""
    mat, allowed = plan.mat, {one.name: one for one in outlines}
    laid = Counter(one.name for each in plan.each() for one in each.pieces)
    assert laid == {one.name: one.quantity for one in outlines if one.quantity}
    field = shapely.box(mat.edge, mat.edge, mat.width - mat.edge, mat.height - mat.edge)
    for each in plan.each():
        for piece, shape in zip(each.pieces, each.shapes, strict=True):
            one = allowed[piece.name]
            assert piece.turned in one.turns
            assert shape.area == pytest.approx(shapely.Polygon(one.outline.points).area)
            assert shape.bounds[:2] == pytest.approx((piece.x, piece.y))
            assert field.buffer(1e-3).covers(shape)
    assert plan.closest() >= mat.gap - 1e-3
    assert plan.least <= plan.count


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


def test_mats_that_are_laid_alike_are_told_once() -> None:
    one = OutlineToNest(name="top", outline=rectangle(0, 0, 150, 150), quantity=7)
    plan = nest([one], Mat(width=200, height=200))
    assert [times for _, times in plan.mats] == [7]
    assert len(list(plan.each())) == plan.count == 7


SHAPES = st.one_of(
    st.builds(lambda w, h: rectangle(0, 0, w, h), st.floats(5, 150), st.floats(5, 150)),
    st.builds(
        lambda w, h: rectangle(0, 0, w, h, rounded=4), st.floats(12, 150), st.floats(12, 150)
    ),
    st.builds(lambda w, h: oval((0, 0), w, h), st.floats(5, 150), st.floats(5, 150)),
    st.builds(lambda n, w: regular_polygon((0, 0), n, w), st.integers(3, 8), st.floats(10, 120)),
    st.just(ELL),
)
TURNS = st.sampled_from([(0,), (0, 180), (0, 90), (0, 90, 180, 270)])


@settings(max_examples=40)
@given(
    st.lists(st.tuples(SHAPES, st.integers(1, 3), TURNS), min_size=1, max_size=5),
    st.floats(180, 320),
    st.floats(180, 320),
    st.floats(0, 8),
)
def test_whatever_is_laid_is_all_there_inside_and_apart(
    given_: list[tuple[Path, int, tuple[int, ...]]], width: float, height: float, gap: float
) -> None:
    outlines = [
        OutlineToNest(name=str(number), outline=shape, quantity=quantity, turns=turns)
        for number, (shape, quantity, turns) in enumerate(given_)
    ]
    tries = iter([True, True])
    plan = nest(outlines, Mat(width=width, height=height, gap=gap), lambda: next(tries, False))
    assert_sound(plan, outlines)


def test_the_same_is_laid_the_same_each_time() -> None:
    outlines = [
        OutlineToNest(name="ell", outline=ELL, quantity=5),
        OutlineToNest(name="tag", outline=oval((0, 0), 70, 40), quantity=9, turns=(0, 90)),
    ]
    first, second = (nest(outlines, Mat(width=200, height=180)) for _ in range(2))
    assert [one.pieces for one in first.each()] == [one.pieces for one in second.each()]
