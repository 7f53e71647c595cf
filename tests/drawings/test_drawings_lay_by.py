"""How far what is laid reaches past the stitched outline, against arithmetic on its own outline."""

import re
from dataclasses import replace

import pytest
from drawings_read import words
from hypothesis import given
from hypothesis import strategies as st
from specimens import PLACING, line, oblong, stepper, tag

from paramgen.drawings.front_end.laying_distances import laid_by
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.step import step_picture
from paramgen.lengths import show_both
from paramgen.vocabulary.kinds import Act, Face, Role, Side
from paramgen.vocabulary.project import Layer, Step
from paramgen.vocabulary.unit import Unit


def outlined() -> tuple[Step, ...]:
    """A box of 100 × 80 about the middle, stitched to lay pieces by."""
    box = line("seam box, to lay the pieces by", Role.PLACEMENT, PLACING, oblong(-50, -40, 50, 40))
    return (stepper().sew("Placement", box),)


def laid(*edges: float, folds: str = "", side: Side = Side.FRONT) -> list[str]:
    left, top, right, bottom = edges
    ends = {"top": ((left, top), (right, top)), "bottom": ((left, bottom), (right, bottom))}
    layer = Layer(
        piece="piece",
        title="Piece",
        fabric="outer",
        side=side,
        up=Face.RIGHT,
        outline=oblong(*edges),
        folded_edges=(ends[folds],) if folds else (),
        plies=2 if folds else 1,
    )
    found = laid_by(layer, outlined(), side, Unit.MM)
    # Without the other unit, which stands in brackets.
    return [re.sub(r" \(.*?\)", "", one.text.replace("\u00a0", " ")) for one in found]


def test_edges_past_the_outline_are_told_once_where_they_are_alike() -> None:
    # 100 + 2 × 12 wide and 80 + 2 × 12 high.
    assert laid(-62, -52, 62, 52) == ["12 mm past the seam box all round"]
    assert laid(-50, -52, 50, 52) == [
        "12 mm past the seam box at the top and bottom",
        "level with the seam box at the left and right",
    ]


def test_a_fold_is_told_from_the_nearer_of_the_two_lines_along_it() -> None:
    # It ends at y = -10: 30 from the line at -40, 50 from that at 40.
    assert laid(-62, -52, 62, -10, folds="bottom")[1:] == [
        "its fold 30 mm inside the seam box at the top"
    ]
    # It ends at y = 25: 15 from the line at 40, though the piece comes from the top.
    assert laid(-62, -52, 62, 25, folds="bottom")[1:] == [
        "its fold 15 mm inside the seam box at the bottom"
    ]


def test_what_lies_inside_is_told_once_where_it_is_alike_all_round() -> None:
    assert laid(-49, -39, 49, 39) == ["1 mm inside the seam box all round"]


def test_seen_from_the_back_left_and_right_change_places() -> None:
    # It reaches 20 mm past the line at x = 50, which is the left one from the back.
    assert laid(-50, -40, 70, 40, side=Side.BACK)[0] == "20 mm past the seam box at the left"


@given(st.tuples(*[st.floats(0.5, 60.0)] * 4))
def test_every_length_that_is_told_is_that_of_its_edge(past: tuple[float, ...]) -> None:
    top, bottom, left, right = past
    told = " ".join(laid_by_words(-50 - left, -40 - top, 50 + right, 40 + bottom))
    for away in past:
        assert show_both(away, Unit.MM) in told


def laid_by_words(left: float, top: float, right: float, bottom: float) -> list[str]:
    outline = oblong(left, top, right, bottom)
    layer = Layer(
        piece="piece",
        title="Piece",
        fabric="outer",
        side=Side.FRONT,
        up=Face.RIGHT,
        outline=outline,
        folded_edges=(),
        plies=1,
    )
    return [
        one.text.replace("\u00a0", " ") for one in laid_by(layer, outlined(), Side.FRONT, Unit.MM)
    ]


@pytest.mark.parametrize("says", [True, False])
def test_a_picture_tells_it_where_the_words_of_the_step_name_no_length(says: bool) -> None:
    project = tag(40.0)
    steps = tuple(
        replace(step, say="Lay it 5 mm (3/16 in) past the line." if says else "Lay it.")
        if step.act is Act.LAY
        else step
        for step in project.steps
    )
    number = next(step.number for step in steps if step.act is Act.LAY)
    drawing = step_picture(hooped(replace(project, steps=steps), "hoop", 100, 100), number)
    # The front of the tag is as large as its placement line.
    assert ("level with the place all round" in words(drawing, "labels")) is not says
