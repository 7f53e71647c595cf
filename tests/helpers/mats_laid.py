"""Outlines drawn for mats, and whether what is laid of them is sound."""

from collections import Counter

import pytest
import shapely
from hypothesis import strategies as st

from paramgen.geometry.outlines import oval, rectangle, regular_polygon
from paramgen.mats.nest import nest
from paramgen.mats.outlines_to_nest import Mat, MatPlan, OutlineToNest
from paramgen.vocabulary.path import path

ELL = path([(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)], closed=True)


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
        covered = float(shapely.area(shapely.union_all(each.shapes)))
        assert covered == pytest.approx(sum(shape.area for shape in each.shapes), rel=1e-4)
    assert plan.closest() >= mat.gap - 1e-3
    assert plan.least <= plan.count


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


@st.composite
def laid_on_mats(draw: st.DrawFn) -> tuple[list[OutlineToNest], Mat]:
    """Outlines of any shape, and a mat that takes each of them."""
    kinds = draw(st.lists(st.tuples(SHAPES, st.integers(1, 3), TURNS), min_size=1, max_size=5))
    outlines = [
        OutlineToNest(name=str(number), outline=shape, quantity=quantity, turns=turns)
        for number, (shape, quantity, turns) in enumerate(kinds)
    ]
    width, height = (draw(st.floats(180, 320)) for _ in range(2))
    return outlines, Mat(width=width, height=height, gap=draw(st.floats(0, 8)))


def check_laid(outlines: list[OutlineToNest], mat: Mat) -> None:
    """Lay them, in two orders at most, and look at what comes of it."""
    tries = iter([True])
    assert_sound(nest(outlines, mat, lambda: next(tries, False)), outlines)
