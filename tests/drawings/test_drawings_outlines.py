import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from specimens import oblong, open_path, oval

from paramgen.drawings.primitives.drawn_paths import (
    DRAWN_ERROR,
    area_within,
    arrow_head,
    line_within,
    seen,
    thinned,
)
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import path

sizes = st.floats(5, 350)


@settings(max_examples=30)
@given(sizes, sizes)
def test_a_thinned_outline_stays_within_a_hundredth_of_a_millimetre(w: float, h: float) -> None:
    exact = oval(w, h)
    (thin,) = thinned((exact,))
    assert thin.closed
    assert len(thin.points) < len(exact.points) / 2
    apart = shapely.distance(thin.line, shapely.points(exact.points))
    assert apart.max() <= DRAWN_ERROR + 1e-9
    assert {tuple(p) for p in thin.points.tolist()} <= {tuple(p) for p in exact.points.tolist()}


def test_corners_and_ends_are_never_thinned_away() -> None:
    square, line = oblong(0, 0, 40, 30), open_path((0, 0), (5, 0), (9, 0), (9, 4))
    thin_square, thin_line = thinned((square, line))
    assert {tuple(p) for p in thin_square.points.tolist()} == {(0, 0), (40, 0), (40, 30), (0, 30)}
    assert thin_line.points.tolist() == [[0, 0], [9, 0], [9, 4]]
    assert not thin_line.closed


def test_the_back_is_mirrored_left_to_right_and_the_front_is_not() -> None:
    line = open_path((1, 2), (30, -4))
    assert seen(line, Side.BACK).points.tolist() == [[-1, 2], [-30, -4]]
    assert seen(line, Side.FRONT) is line
    assert line.mirrored.mirrored.points.tolist() == line.points.tolist()


def test_what_lies_within_an_area_is_kept_and_the_rest_cut_off() -> None:
    room = oblong(0, 0, 10, 10).area
    (part,) = area_within(oblong(5, 5, 20, 20), room)
    assert part.area.area == pytest.approx(25.0)
    assert area_within(oblong(20, 20, 30, 30), room) == ()
    parts = line_within(open_path((-5, 2), (15, 2), (15, 8), (-5, 8)), room)
    assert sorted(part.length for part in parts) == pytest.approx([10.0, 10.0])
    inner = oblong(2, 2, 4, 4)
    assert line_within(inner, room) == (inner,)


def test_an_arrow_ends_at_its_tip() -> None:
    head = arrow_head((10.0, 0.0), (0.0, 0.0), 3.0)
    assert head.points[0].tolist() == [10.0, 0.0]
    assert head.bounds == pytest.approx((7.0, -0.5, 10.0, 0.5))


def test_a_single_point_is_no_trouble() -> None:
    (thin,) = thinned((path([(3.0, 4.0)], closed=False),))
    assert np.allclose(thin.points, [(3.0, 4.0)])
