"""Corners that make a flat project deep: where they are sewn across, and when they are none."""

import pytest
from layout_orders import laid

from paramgen.geometry.along_path import corners_out
from paramgen.geometry.outlines import ShapeError, rectangle
from paramgen.layout.boxed_corners import boxed_corners, finished_size
from paramgen.layout.lay_out import moved
from paramgen.recipe.read_recipe import find_recipe
from paramgen.vocabulary.kinds import Edge
from paramgen.vocabulary.path import quarter_turn

SIZE = {Edge.TOP: (50, 25), Edge.BOTTOM: (50, 25), Edge.LEFT: (65, 10), Edge.RIGHT: (65, 10)}


@pytest.mark.parametrize("edge", Edge)
def test_a_boxed_edge_loses_the_depth_and_what_stands_on_it_half(edge: Edge) -> None:
    # 80 × 40 and 30 deep: 80 - 30 by 40 - 15, or 80 - 15 by 40 - 30.
    flat = corners_out(rectangle(-40, -20, 40, 20), edge, 15)
    boxed = boxed_corners(flat, flat, edge, 30)
    assert finished_size(flat.box, boxed) == pytest.approx(SIZE[edge])
    for end, corner, side in boxed.seams:
        for one in (end, side):
            assert abs(one[0] - corner[0]) + abs(one[1] - corner[1]) == pytest.approx(15)


@pytest.mark.parametrize("depth", [0.0, -4.0, 30.1])
def test_corners_are_cut_out_of_both_outlines_by_half_the_depth(depth: float) -> None:
    flat = corners_out(rectangle(-40, -20, 40, 20), Edge.BOTTOM, 15)
    with pytest.raises(ShapeError, match="corners-still-there"):
        boxed_corners(flat, flat, Edge.BOTTOM, depth)
    with pytest.raises(ShapeError, match="corners-still-there"):
        boxed_corners(flat, rectangle(-40, -20, 40, 20), Edge.BOTTOM, 30)


def test_they_are_moved_and_turned_with_the_project() -> None:
    project = laid(find_recipe("boxed-pouch"), {})
    turned = moved(project, quarter_turn).finish.boxed
    assert turned is not None
    assert project.finish.boxed is not None
    (end, *_), _ = project.finish.boxed.seams
    # What lay at the bottom lies at the left.
    assert turned.seams[0][0] == pytest.approx((-end[1], end[0]))
