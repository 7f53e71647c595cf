"""How often straight parts may meet: counted, against arithmetic."""

import pytest
import shapely

from paramgen.geometry.crossing_work import meetings


@pytest.mark.parametrize(("across", "down"), [(1, 1), (3, 2), (1, 0), (0, 0)])
def test_each_line_across_meets_each_line_down(across: int, down: int) -> None:
    grid = [shapely.LineString([(-1, y), (9, y)]) for y in range(across)]
    grid += [shapely.LineString([(x, -1), (x, 9)]) for x in range(down)]
    assert meetings(grid) == across * down


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (4, 0), (4, 3)],
        [(0, 0), (4, 0), (4, 3), (0, 3), (0, 0)],
        [(0, 0), (4, 0), (0, 0)],
        [(1, 1), (1, 1)],
    ],
)
def test_parts_that_follow_each_other_do_not_meet(points: list[tuple[float, float]]) -> None:
    assert meetings([shapely.LineString(points)]) == 0


def test_a_line_that_crosses_itself_meets_itself() -> None:
    # Right, up, left and down again through the first part.
    assert meetings([shapely.LineString([(0, 0), (4, 0), (4, -3), (2, -3), (2, 1)])]) == 1
