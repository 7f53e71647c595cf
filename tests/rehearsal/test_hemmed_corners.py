"""A piece of one layer that is hemmed along two neighbouring edges."""

import pytest
from layout_orders import tag

from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import rehearsed
from paramgen.rehearsal.thickness import layers_along
from paramgen.vocabulary.project import Project

PATCH = """
[pieces.patch]
title = "patch"
fabric = "felt"
width = "40"
height = "20"
folds = [{folds}]

[lines.trial]
title = "stitching on three sides"
role = "tack-down"
points = [[["-19", "-{top}"], ["19", "-{top}"], ["19", "-9"], ["19", "9"]{on}]]
"""

LAID = """
[[steps]]
title = "Lay the patch"
lay = [{ piece = "patch", side = "front", up = "right", middle = "0", centre = "0" }]
say = "Lay the patch in the middle."

[[steps]]
title = "Stitch the patch"
stitch = ["trial"]
say = "Stitch it on."
"""


def hemmed(*edges: tuple[str, int], on: str = "") -> Project:
    """A tag with a patch of 40 × 20 mm hemmed 6 deep so often at each edge, stitched 1 inside."""
    folds = [
        f'{{ fold = "hem", along = "{"height" if edge in ("top", "bottom") else "width"}",'
        f' turn = "6", edge = "{edge}" }}'
        for edge, times in edges
        for _ in range(times)
    ]
    return tag(PATCH.format(folds=", ".join(folds), top=9, on=on), steps=LAID)


# Under the needle lie the front of the tag and the patch. Its hems cross at the top right: 1 + 4
# there if they are turned in once, 1 + 9 if twice; beside the corner lies a hem alone, 1 + 2 or
# 1 + 3. The stitching runs along hems all the way.
@pytest.mark.parametrize(("times", "fewest", "most"), [(1, 3, 5), (2, 4, 10)])
def test_the_needle_goes_through_all_that_lies_in_the_corner(
    times: int, fewest: int, most: int
) -> None:
    project = hemmed(("top", times), ("right", times))
    (along,) = (one for one in layers_along(work_through(project)) if one.line == "trial")
    assert (along.fewest, along.most) == (fewest, most)


# Hemmed twice on all four sides it has no raw edge that could show or hang loose, and the line
# holds it. From a hem to a corner it is 4 layers, then 10: 6 more at once, which is told.
def test_all_that_is_found_of_a_corner_is_that_it_is_thick() -> None:
    edges = [("top", 2), ("right", 2), ("bottom", 2), ("left", 2)]
    project = hemmed(*edges, on=', ["-19", "9"], ["-19", "-9"]')
    found = {one.code for one in rehearsed(work_through(project)) if one.code != "not-taped"}
    assert found == {"thickness-jump"}
