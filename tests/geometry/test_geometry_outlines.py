"""Outlines by their usual names, against published and worked out measures."""

import math

import numpy as np
import pytest
from geometry_shapes import area, curve_error, distances, middles
from hypothesis import given, settings
from hypothesis import strategies as st
from told import no_shape

from paramgen.geometry.outlines import (
    MOST_DEGREES_A_CHORD,
    arc_points,
    arc_through,
    oval,
    rectangle,
    regular_polygon,
)
from paramgen.vocabulary.path import CHORD_ERROR, Path, path

lengths = st.floats(10.0, 300.0)


def test_a_bank_card_has_the_area_and_the_edge_of_the_standard_one() -> None:
    # ISO/IEC 7810, ID-1: 85.60 × 53.98 mm, corner radius 3.18 mm. A rounded corner takes
    # r² - πr²/4 from the area and 2r - πr/2 from the perimeter:
    # 85.60 × 53.98 - (4 - π) 3.18² = 4612.007; 2 (85.60 + 53.98) - (8 - 2π) 3.18 = 273.700
    card = rectangle(-42.8, -26.99, 42.8, 26.99, rounded=3.18)
    assert area(card) == pytest.approx(4612.007, abs=2e-3)
    assert card.length == pytest.approx(273.700, abs=1e-3)
    assert card.bounds == pytest.approx((-42.8, -26.99, 42.8, 26.99))


def test_cut_corners_take_four_triangles_from_a_rectangle() -> None:
    # 60 × 40 less four right-angled triangles of 5 × 5 / 2: 2400 - 50 = 2350
    # perimeter: 2 (50 + 30) + 4 × 5√2
    outline = rectangle(0, 0, 60, 40, cut=5)
    assert area(outline) == pytest.approx(2350)
    assert outline.length == pytest.approx(160 + 20 * math.sqrt(2))


@given(lengths, lengths)
@settings(max_examples=25)
def test_an_oval_has_the_area_of_an_ellipse_and_its_size(width: float, height: float) -> None:
    # Area of an ellipse: π a b with the half axes a and b (Euclid of it: Archimedes, On
    # Conoids and Spheroids, proposition 4).
    outline = oval((3, -7), width, height)
    assert area(outline) == pytest.approx(
        math.pi * width * height / 4, abs=curve_error(2 * (width + height))
    )
    left, top, right, bottom = outline.bounds
    assert (right - left, bottom - top) == pytest.approx((width, height))
    assert ((left + right) / 2, (top + bottom) / 2) == pytest.approx((3, -7))


@given(lengths, lengths)
@settings(max_examples=25)
def test_no_chord_leaves_an_oval_by_more_than_the_limit_nor_looks_like_a_corner(
    width: float, height: float
) -> None:
    outline = oval((0, 0), width, height)
    a, b = width / 2, height / 2
    x, y = outline.points.T
    assert (x / a) ** 2 + (y / b) ** 2 == pytest.approx(1)
    # From inside, the distance to an ellipse is about (1 - q) / |gradient of q| for
    # q = √(x²/a² + y²/b²), to first order; chords are far too short for the second.
    x, y = middles(outline).T
    q = np.hypot(x / a, y / b)
    away = (1 - q) * q / np.hypot(x / a**2, y / b**2)
    assert away.max() <= CHORD_ERROR * 1.001
    assert np.abs(outline.turns).max() <= MOST_DEGREES_A_CHORD * 1.001


@pytest.mark.parametrize(("width", "height"), [(330, 50), (50, 330), (330, 330), (108, 108)])
def test_an_oval_takes_no_more_chords_than_its_curve_needs(width: float, height: float) -> None:
    # A chord over the angle t leaves a circle of radius r by r (1 - cos t/2). The circle of
    # the larger half axis, or 3° a chord at the sharp ends of the oval, where the direction
    # turns by long/short times the angle, need so many chords; a few more round them up.
    longer, shorter = max(width, height) / 2, min(width, height) / 2
    by_error = math.pi / math.acos(1 - CHORD_ERROR / longer)
    by_turn = 360 / (MOST_DEGREES_A_CHORD * shorter / longer)
    assert len(oval((0, 0), width, height).points) <= max(by_error, by_turn) + 8


@given(st.integers(3, 12), st.floats(50.0, 330.0))
@settings(max_examples=25)
def test_a_regular_polygon_has_equal_sides_and_a_flat_one_at_the_bottom(
    sides: int, across: float
) -> None:
    # Side of a regular polygon in a circle of diameter D: D sin(180°/n);
    # area n/2 (D/2)² sin(360°/n).
    outline = regular_polygon((0, 0), sides, across)
    side = across * math.sin(math.pi / sides)
    assert np.hypot(*outline.chords.T) == pytest.approx([side] * sides)
    assert area(outline) == pytest.approx(
        sides / 2 * (across / 2) ** 2 * math.sin(2 * math.pi / sides)
    )
    lowest = np.sort(outline.points[:, 1])[-2:]
    assert lowest[0] == pytest.approx(lowest[1])
    assert lowest[1] == pytest.approx(across / 2 * math.cos(math.pi / sides))


@given(
    st.floats(1.0, 500.0),
    st.floats(0, 2 * math.pi),
    st.floats(0.1, 6.0),
    st.floats(0.1, 0.9),
    st.booleans(),
)
@settings(max_examples=50)
def test_an_arc_lies_on_the_circle_through_its_three_points(
    radius: float, start: float, sweep: float, share: float, anticlockwise: bool
) -> None:
    centre = np.array([4.0, -9.0])
    way = -1 if anticlockwise else 1
    angles = start + way * sweep * np.array([0.0, share, 1.0])
    spots = centre + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    first, through, last = ((float(x), float(y)) for x, y in spots)
    arc = path(arc_through(first, through, last), closed=False)
    assert tuple(arc.points[0]) == first
    assert tuple(arc.points[-1]) == last
    away = np.hypot(*(arc.points - centre).T)
    assert away == pytest.approx(np.full(len(away), radius), abs=1e-6)
    half = np.hypot(*((arc.points[1:] + arc.points[:-1]) / 2 - centre).T)
    assert radius - half.min() <= CHORD_ERROR * 1.001
    # It goes by way of the middle point and not round the other side.
    assert arc.length == pytest.approx(radius * sweep, rel=1e-3)
    assert np.hypot(*(arc.points - spots[1]).T).min() <= np.hypot(*arc.chords.T).max()


def test_three_points_in_one_line_make_no_arc() -> None:
    with no_shape("not in one line"):
        arc_through((0, 0), (5, 5), (10, 10))


@given(lengths, lengths, st.floats(0.01, 0.5))
@settings(max_examples=25)
def test_chords_of_rounded_corners_stay_on_their_circles(
    width: float, height: float, share: float
) -> None:
    radius = share * min(width, height)
    outline = rectangle(0, 0, width, height, rounded=radius)
    sharp = Path(np.array([(0, 0), (width, 0), (width, height), (0, height)], dtype=float), True)
    # 4 corners, each taking (1 - π/4) r² from the area.
    assert area(outline) == pytest.approx(
        width * height - (4 - math.pi) * radius**2, abs=curve_error(2 * math.pi * radius)
    )
    x, y = middles(outline).T
    # In a corner's square the middle of a chord is r from the corner's centre.
    from_x = np.maximum(np.maximum(radius - x, x - (width - radius)), 0)
    from_y = np.maximum(np.maximum(radius - y, y - (height - radius)), 0)
    in_corner = (from_x > 1e-6) & (from_y > 1e-6)
    away = radius - np.hypot(from_x, from_y)[in_corner]
    assert away.min() >= -1e-9
    assert away.max() <= CHORD_ERROR * 1.001
    assert distances(middles(outline)[~in_corner], sharp) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    "make",
    [
        lambda: rectangle(0, 0, 60, 40, rounded=3),
        lambda: rectangle(0, 0, 60, 40, cut=3),
        lambda: rectangle(0, 0, 60, 40),
        lambda: oval((0, 0), 60, 40),
        lambda: regular_polygon((0, 0), 5, 60),
    ],
)
def test_every_outline_runs_clockwise_as_seen(make: object) -> None:
    assert callable(make)
    outline = make()
    # y is down: the shoelace sum is positive for clockwise.
    x, y = outline.points.T
    assert float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) > 0


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: rectangle(0, 0, 0, 40), "0 × 40 mm .* has no area"),
        (lambda: rectangle(0, 0, 60, -1), "60 × -1 mm .* has no area"),
        (lambda: rectangle(0, 0, 60, 40, rounded=20.1), "20.1 mm .* do not fit on a side of 40 mm"),
        (lambda: rectangle(0, 0, 60, 40, cut=-1), "-1 mm .* do not fit"),
        (lambda: rectangle(0, 0, 60, 40, cut=1, rounded=1), "either rounded or cut"),
        (lambda: oval((0, 0), 0, 40), "0 × 40 mm .* has no area"),
        (lambda: oval((0, 0), 1e9, 1e9), "radius 500000000 mm .* is too large"),
        (lambda: oval((0, 0), 1e20, 1), "too large"),
        (lambda: rectangle(0, 0, 1e12, 1e12, rounded=1e11), "too large"),
        (lambda: regular_polygon((0, 0), 2, 40), "at least 3 sides, not 2"),
        (lambda: regular_polygon((0, 0), 5, 0), "0 mm .* across has no area"),
    ],
)
def test_measures_that_make_no_shape_are_refused(make: object, said: str) -> None:
    assert callable(make)
    with no_shape(said):
        make()


def test_a_polygon_of_too_many_sides_is_refused() -> None:
    with no_shape("it may have 120"):
        regular_polygon((0, 0), 121, 100)
    assert len(regular_polygon((0, 0), 120, 100).points) == 120


def test_an_arc_of_no_radius_is_refused() -> None:
    with no_shape("no radius is a point"):
        arc_points((3, 4), 0, 0, 0, 1)
