"""Tapes over an edge and patches of interfacing: where there is nothing for them, it is said."""

import pytest
from layout_orders import tag
from told import cannot

from paramgen.vocabulary.project import Notion, Project

#: The finished tag is 80 × 40 mm about the origin: its edges lie at x = ±40 and y = ±20.
SEW_ON = """
[[steps]]
title = "Sew on the tape"
do = "top-stitch"
mark = ["finished"]
say = "Stitch along it."
"""

#: Its front is cut 5 past them; the pocket is 40 × 20 folded, its fold at y = 0, and 40 × 40 cut.
POCKET = """
[pieces.pocket]
title = "pocket"
fabric = "felt"
width = "40"
height = "20"
folds = [{ fold = "half", along = "height" }]
"""
FUSE = """
[[steps]]
title = "Fuse the patch"
do = "fuse the interfacing"
pieces = ["front", "pocket"]
say = "Fuse it."

[[steps]]
title = "Lay the pocket"
lay = [{ piece = "pocket", side = "front", up = "right", fold = "top", top = "0" }]
say = "Lay it."
"""


def taped(*points: tuple[str | float, str | float]) -> Project:
    """A tape whose four points are these."""
    four = ", ".join(f'["{x}", "{y}"]' for x, y in points)
    return tag(
        f'[notions.tape]\ntitle = "tape"\nsort = "cord"\nneeded = "top-stitch"\n'
        f"over_edge = [{four}]\n",
        steps=SEW_ON,
    )


def patched(piece: str, left: float, top: float, right: float, bottom: float) -> Notion:
    """A patch on a piece, from there to there."""
    project = tag(
        f'{POCKET}\n[outlines.patch]\nshape = "rectangle"\nleft = "{left}"\nright = "{right}"\n'
        f'top = "{top}"\nbottom = "{bottom}"\n\n[notions.patch]\ntitle = "patch"\nsort = "other"\n'
        'needed = "fuse the interfacing"\n'
        f'fused_to = [{{ piece = "{piece}", outline = "patch" }}]\n',
        steps=FUSE,
    )
    (found,) = project.notions
    return found


def test_a_tape_over_an_edge_has_four_points_round_an_area() -> None:
    (tape,) = taped((-40, -26), (40, -26), (40, -14), (-40, -14)).notions
    assert tape.over_edge == ((-40, -26), (40, -26), (40, -14), (-40, -14))


@pytest.mark.parametrize(
    "points",
    [
        ((-40, -26), (40, -14), (40, -26), (-40, -14)),  # its sides cross
        ((0, -20), (0, -20), (0, -20), (0, -20)),
        ((-40, -20), (-10, -20), (10, -20), (40, -20)),  # on one line
        ((0, -26), (0, -26), (40, -14), (-40, -14)),  # its fold has no length
        ((-40, -26), (40, -26), (0, -14), (0, -14)),  # nor have its open edges
        ((-40, -26), (40, -26), (40, -26), (-40, -14)),  # an end has no width
    ],
)
def test_a_tape_of_no_area_is_refused(points: tuple[tuple[float, float], ...]) -> None:
    with cannot("the four points of `tape` over an edge go round no area: give both ends"):
        taped(*points)


@pytest.mark.parametrize(
    ("top", "bottom", "away"),
    [(300, 320, "280 mm"), (20, 32, "0 mm"), (-40, -25, "5 mm")],  # from the edges at y = ±20
)
def test_a_tape_that_lies_in_mid_air_is_refused(top: float, bottom: float, away: str) -> None:
    with cannot(f"`tape` is to lie over an edge .* but lies {away}.* beside it"):
        taped((-40, top), (40, top), (40, bottom), (-40, bottom))


@pytest.mark.parametrize(
    "piece_and_box",
    [
        ("front", -45, -25, 45, 25),  # up to its raw edges
        ("pocket", -20, 0, 20, 20),
        ("pocket", -20, -20, 20, 20),  # over the fold: all of both halves
    ],
)
def test_a_patch_may_cover_its_piece_as_it_is_cut(
    piece_and_box: tuple[str, float, float, float, float],
) -> None:
    (patch,) = patched(*piece_and_box).fused_to
    assert patch.outline.bounds == pytest.approx(piece_and_box[1:])


@pytest.mark.parametrize(
    ("piece_and_box", "out"),
    [
        (("front", -45, -25, 48, 25), "3 mm"),
        (("front", -10, 300, 10, 340), "315 mm"),  # 340 − 25: it lies wholly off
        (("pocket", -20, -26, 20, 20), "6 mm"),  # past the far edge, 20 from the fold
        (("pocket", -20, 0, 20, 22), "2 mm"),
    ],
)
def test_a_patch_that_sticks_out_of_its_piece_is_refused(
    piece_and_box: tuple[str, float, float, float, float], out: str
) -> None:
    with cannot(f"a patch of `patch` sticks out {out} .*past piece `{piece_and_box[0]}`"):
        patched(*piece_and_box)
