"""Wrong sides that are seen: on the outside, and of a pocket by who looks into it.

A pocket of one ply is unlined: its wrong side may be seen in it, but not from without. What stays
on the work shows the face that lay away from it in the hoop, what is pulled over the other one
(common practice, no source).
"""

import pytest
from told import says
from turned_mats import finished, mat, pocket

from paramgen.finished.wrong_sides import faces
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.kinds import Side

UNLINED = "unlined = true"


def found(
    up: str, keys: str = "", *, plies: int = 1, over: bool = False, closing: Side = Side.FRONT
) -> list[Finding]:
    part = pocket("pocket", plies=plies, keys=keys, up=up)
    return list(faces(finished(mat(part, pulled_over=("pocket",) * over, closing=closing))))


@pytest.mark.parametrize("up", ["right", "wrong"])
@pytest.mark.parametrize("over", [False, True])
def test_folded_double_a_pocket_shows_right_sides_however_it_is_laid(up: str, over: bool) -> None:
    assert found(up, plies=2, over=over) == []


@pytest.mark.parametrize(
    ("closing", "over", "up"),
    [
        ("front", False, "right"),
        ("front", True, "wrong"),
        ("back", False, "wrong"),
        ("back", True, "right"),
    ],
)
def test_an_unlined_pocket_may_show_its_wrong_side_within_it_alone(
    closing: Side, over: bool, up: str
) -> None:
    assert found(up, UNLINED, over=over, closing=closing) == []
    # Unless it is said to be unlined, its wrong side may not be seen in it either.
    (inside,) = found(up, over=over, closing=closing)
    assert (inside.code, inside.piece) == ("wrong-side-shows", "pocket")
    # Laid the other way up, its wrong side is seen from without: 100 × 30 mm of it.
    other = "wrong" if up == "right" else "right"
    (outside,) = found(other, UNLINED, over=over, closing=closing)
    assert (outside.code, outside.piece) == ("wrong-side-shows", "pocket")


def test_it_is_told_how_much_of_a_wrong_side_is_seen() -> None:
    # From without the pocket of 100 × 30 mm, less the hem of 8 mm at its mouth, whose right side
    # is out: 100 × 22 mm.
    (one,) = found("wrong", UNLINED)
    assert "over 22.0 cm²" in says(one)
