"""What is laid wrong side up is cut mirrored where the cloth lies right side up."""

from collections import Counter
from dataclasses import replace

import pytest
from booklets import made

from paramgen.amounts.shapes_to_cut import outline_of, shapes_to_cut
from paramgen.vocabulary.kinds import Face
from paramgen.vocabulary.path import path
from paramgen.vocabulary.project import Piece, Project
from paramgen.vocabulary.unit import Unit

#: An L about the middle of its box, its foot to the right as it is seen.
FOOT_RIGHT = [(-20.0, -30.0), (-10.0, -30.0), (-10.0, 20.0), (20.0, 20.0), (20.0, 30.0)]
ELL = path([*FOOT_RIGHT, (-20.0, 30.0)], closed=True)


def project(*ups: Face) -> tuple[Piece, Project]:
    """A piece of the shape of an L that is laid so many times."""
    whole = made("coaster", "130x180", Unit.MM).project
    piece = replace(whole.pieces[0], outline=ELL, quantity=len(ups))
    step = next(one for one in whole.steps if one.layers)
    layer = replace(step.layers[0], piece=piece.name, two_sided=False, faceless=False)
    layers = tuple(replace(layer, up=up) for up in ups)
    return piece, replace(whole, pieces=(piece,), steps=(replace(step, layers=layers),))


@pytest.mark.parametrize(
    ("ups", "feet"),
    [
        ((Face.RIGHT,), {"right": 1}),
        ((Face.WRONG,), {"left": 1}),
        ((Face.RIGHT, Face.WRONG, Face.WRONG), {"right": 1, "left": 2}),
    ],
)
def test_each_side_up_has_its_shape(ups: tuple[Face, ...], feet: dict[str, int]) -> None:
    found: Counter[str] = Counter()
    for corners, count in shapes_to_cut(*project(*ups)):
        shape = outline_of(corners).area
        assert shape.area == pytest.approx(10 * 50 + 40 * 10)
        found["right" if foot(corners) > 0 else "left"] += count
    assert found == feet


def foot(corners: tuple[tuple[float, float], ...]) -> float:
    """More than 0 if the foot points to the right: the upright stands on the other side."""
    return -sum(x for x, y in corners if y == min(y for _, y in corners))
