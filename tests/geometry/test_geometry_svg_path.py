"""SVG path data: the grammar of SVG 1.1, the curves it draws, and what is no path data."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.geometry.figures import FIGURES_DRAWN, figure, fitted_figure
from paramgen.geometry.svg_path import (
    LONGEST_DATA,
    MOST_STROKES,
    closed_outlines,
    drawn,
    read_path_data,
)
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.path import CHORD_ERROR


def _points(data: str) -> list[list[float]]:
    (line,) = drawn(read_path_data(data))
    found: list[list[float]] = line.points.round(6).tolist()
    return found


@pytest.mark.parametrize(
    "data",
    [
        # SVG 1.1 (second edition), 8.3.1: these two are the same; 8.3.9: what may be left out.
        "M 100 100 L 200 200",
        "M100 100L200 200",
        "M 100 100 200 200",
        "m100,100 l 100,100",
        "M100 100 l 50,50 50,50",
        "\tM 1e2\r\n 10.0E+1,L+200 200",
    ],
)
def test_ways_to_write_one_line(data: str) -> None:
    if "0E+1,L" in data:  # a comma may stand between numbers, and not before a command
        with pytest.raises(InputError, match="`,` is no command"):
            read_path_data(data)
        return
    assert _points(data)[0] == [100.0, 100.0]
    assert _points(data)[-1] == [200.0, 200.0]


def test_numbers_need_no_space_where_they_cannot_run_together() -> None:
    # SVG 1.1, 8.3.9: "M 100-200" is 100 and -200, "M 0.6.5" is 0.6 and .5.
    assert read_path_data("M 100-200")[0].numbers == (100.0, -200.0)
    assert read_path_data("M 0.6.5")[0].numbers == (0.6, 0.5)
    assert read_path_data("M0 0a5 5 0 0110 10")[1].numbers == (5.0, 5.0, 0.0, 0.0, 1.0, 10.0, 10.0)


def test_what_follows_a_closed_part_begins_where_that_began() -> None:
    # SVG 1.1, 8.3.3: the next part starts at the same point as the one before.
    lines = drawn(read_path_data("M 1 1 h 4 v 3 z l -2 0 v -1 z"))
    assert [line.points[0].tolist() for line in lines] == [[1.0, 1.0], [1.0, 1.0]]
    assert [line.closed for line in lines] == [True, True]
    assert [line.area.area for line in lines] == [6.0, 1.0]  # 4 × 3 / 2 and 2 × 1 / 2


@pytest.mark.parametrize("large", [0, 1])
@pytest.mark.parametrize("sweep", [0, 1])
def test_the_flags_of_an_arc_choose_one_of_four(large: int, sweep: int) -> None:
    # SVG 1.1, 8.3.8. Ends (0, 0) and (10, 0) on a circle of radius 10: its middle lies
    # √(100 - 25) above or below; the arc spans 60° or 300°, and runs clockwise for sweep 1.
    (line,) = drawn(read_path_data(f"M0 0 A10 10 0 {large} {sweep} 10 0"))
    assert line.length == pytest.approx(10 * math.radians(300 if large else 60), abs=1e-3)
    centre = np.array([5.0, math.sqrt(75) * (1 if large != sweep else -1)])
    assert np.hypot(*(line.points - centre).T) == pytest.approx(10.0)
    assert (line.turns.sum() > 0) == bool(sweep)


def test_an_arc_that_is_too_small_is_made_large_enough() -> None:
    # SVG 1.1, F.6.6: radii that do not reach are scaled up until they just do: a half circle.
    (line,) = drawn(read_path_data("M0 0 A1 1 0 0 1 10 0"))
    assert line.length == pytest.approx(5 * math.pi, abs=1e-3)


def test_a_turned_ellipse_keeps_its_area() -> None:
    # Two half ellipses of half axes 10 and 4, turned by 30°: π × 10 × 4.
    x, y = 10 * math.cos(math.pi / 6), 10 * math.sin(math.pi / 6)
    data = f"M{-x} {-y} A10 4 30 0 1 {x} {y} A10 4 30 0 1 {-x} {-y} Z"
    (line,) = drawn(read_path_data(data))
    assert line.area.area == pytest.approx(40 * math.pi, rel=1e-4)


def test_bezier_curves_have_the_areas_of_their_integrals() -> None:
    # A quadratic curve cuts off two thirds of the triangle of its handles (Archimedes, Quadrature
    # of the Parabola): 2/3 × 10 × 10 / 2. Raised to a cubic it is the same curve; S and T go on
    # with the handle mirrored, to a curve alike.
    third = 2 * 10 * 10 / 2 / 3
    cubic = f"M0 0 C{10 / 3} {20 / 3} {20 / 3} {20 / 3} 10 0 Z"
    for data in ("M0 0 Q5 10 10 0 Z", cubic):
        assert drawn(read_path_data(data))[0].area.area == pytest.approx(third, abs=0.01)
    two = drawn(read_path_data("M0 0 Q5 10 10 0 T20 0"))[0]
    assert np.abs(two.points[:, 1]).max() == pytest.approx(5.0, abs=0.01)
    assert two.points[:, 1].min() == pytest.approx(-5.0, abs=0.01)


def test_chords_leave_a_curve_by_no_more_than_the_limit_at_any_scale() -> None:
    # A circle: every chord's middle lies within the error of it.
    for scale in (0.1, 1.0, 8.0):
        (line,) = drawn(read_path_data("M0 -10 A10 10 0 0 1 0 10 A10 10 0 0 1 0 -10 Z"), scale)
        middles = (line.points + np.roll(line.points, -1, axis=0)) / 2
        assert 10 * scale - np.hypot(*middles.T).min() <= CHORD_ERROR * 1.01


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ("L 1 1", "letter 1: SVG path data begins with `M`"),
        ("M 0 0 X", "letter 7: `X` is no command"),
        ("M 0 0 L 1", "ends where `L` takes another number"),
        ("M 0 0 L 1 , , 2", "letter 13: `,` stands where `L` takes another number"),
        ("M 0 0 A 1 1 0 2 0 5 5", "`2` stands where `A` takes 0 or 1"),
        ("M 0 0 A -1 1 0 0 0 5 5", "less than 0"),
        ("M 0 0 L 1e9 0", "too large a number"),
        ("M 0 0 L 1e999 0", "too large a number"),
        ("M 9e4 0" + "h 9e4" * 9, "leads farther than 100,000 away"),
        ("M 0 0 L \u0663 1", "stands where `L` takes another number"),
        ("M0 0" + "h1" * MOST_STROKES, "more than 2,000 strokes"),
        ("M" + " " * LONGEST_DATA, "letters long"),
        ("javascript:alert(1)", "`j` is no command"),
        ("M0 0 L nan 1", "`n` stands where"),
    ],
)
def test_what_is_no_path_data_is_told_with_its_place(data: str, said: str) -> None:
    with pytest.raises(InputError) as problem:
        read_path_data(data)
    assert said in str(problem.value)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ("", "draws nothing"),
        ("M 5 5 z", "draws nothing"),
        ("M 0 0 H 5 V 5", "is not closed"),
        ("M 0 0 H 5 Z", "no area"),
        ("M 0 0" + "A 50 50 0 1 1 0 1 A 50 50 0 1 1 0 0" * 400 + "Z", "than can be stitched"),
    ],
)
def test_what_encloses_nothing_is_told(data: str, said: str) -> None:
    with pytest.raises(InputError) as problem:
        closed_outlines(data)
    assert said in str(problem.value)


@given(st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,+-eE \t\n", max_size=60))
@settings(max_examples=300, deadline=None)
def test_whatever_is_typed_is_a_shape_or_a_fault(data: str) -> None:
    try:
        strokes = closed_outlines("M0 0" + data)
    except InputError:
        return
    assert all(np.isfinite(line.points).all() for line in drawn(strokes))


@pytest.mark.parametrize("name", FIGURES_DRAWN)
def test_a_figure_is_as_large_as_asked_and_crosses_itself_nowhere(name: str) -> None:
    (line,) = figure(name, 40.0, 30.0)
    assert line.bounds == pytest.approx((-20.0, -15.0, 20.0, 15.0), abs=1e-3)
    assert line.line.is_simple
    (alike,) = figure(name, 40.0, None)
    (twice,) = figure(name, 80.0, None)
    assert twice.area.area == pytest.approx(4 * alike.area.area, rel=1e-4)


def test_figures_have_the_areas_of_their_geometry() -> None:
    # Circle π r²; hexagon of corner to corner w: 3√3/8 w²; triangle with equal sides s: √3/4 s².
    areas = {name: figure(name, 40.0, None)[0].area.area for name in FIGURES_DRAWN}
    assert areas["oval"] == pytest.approx(400 * math.pi, rel=1e-4)
    assert areas["hexagon"] == pytest.approx(3 * math.sqrt(3) / 8 * 1600, rel=1e-4)
    assert areas["triangle"] == pytest.approx(math.sqrt(3) / 4 * 1600, rel=1e-4)
    # A star of five points, its notches half as far from its middle: ten triangles from there, of
    # the sides R and R/2 with 36° between them.
    radius = 40 / (2 * math.sin(math.radians(72)))
    star = 10 * radius * radius / 2 * math.sin(math.radians(36)) / 2
    assert areas["star"] == pytest.approx(star, rel=1e-3)


def test_a_hole_stays_a_part_of_its_own() -> None:
    strokes = closed_outlines("M0 0H10V10H0Z M2 2H8V8H2Z")
    assert [round(one.area.area, 6) for one in fitted_figure(strokes, 20.0, None)] == [400.0, 144.0]
