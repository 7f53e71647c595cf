"""Mirroring about a line."""

import pytest
import shapely
from told import no_shape

from paramgen.geometry.mirror import mirrored


def test_mirrored_about_the_diagonal_x_and_y_change_places() -> None:
    diagonal = shapely.LineString([(0, 0), (5, 5)])
    there = mirrored(shapely.Point(3, 1), diagonal)
    assert shapely.get_coordinates(there).tolist() == [pytest.approx([1, 3])]


def test_a_line_of_no_length_mirrors_nothing() -> None:
    with no_shape("no length"):
        mirrored(shapely.Point(3, 2), shapely.LineString([(1, 0), (1, 0)]))
