"""Folding, move by move, against what paper does."""

from itertools import combinations

import pytest
import shapely
from booklets import CASES, Case, made, made_as, said, said_of

from paramgen.booklet.fold_diagrams import (
    FoldedPart,
    folded_moves,
    folding_drawing,
    folding_picture,
)
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, flat
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Piece
from paramgen.vocabulary.unit import Unit

FOLDED = [
    (case, piece.name)
    for case in CASES
    for piece in made(*case[:3]).project.pieces
    if piece.creases
]


def piece_of(case: Case, name: str) -> Piece:
    return next(one for one in made(*case[:3]).project.pieces if one.name == name)


def tab_of_fabric() -> Piece:
    asked: dict[str, str | float] = {"tab": "fabric"}
    project = made_as(asked, "fold-wallet", "130x180", Unit.MM).project
    return next(one for one in project.pieces if one.name == "tab")


def boxes(pile: tuple[FoldedPart, ...]) -> list[shapely.Polygon]:
    return [shapely.box(p.box.left, p.box.top, p.box.right, p.box.bottom) for p in pile]


@pytest.mark.parametrize(("case", "name"), FOLDED, ids=[f"{c[0]}-{n}" for c, n in FOLDED])
def test_it_ends_at_its_folded_size_with_all_of_its_cloth(case: Case, name: str) -> None:
    piece = piece_of(case, name)
    moves, after = folded_moves(piece, Unit.MM)
    left, top, right, bottom = shapely.union_all(boxes(after)).bounds
    assert (right - left, bottom - top) == pytest.approx(piece.folded, abs=0.01)
    for pile in (*(move.before for move in moves), after):
        # Folding loses no cloth.
        assert sum(box.area for box in boxes(pile)) == pytest.approx(piece.cut[0] * piece.cut[1])
    assert len(moves) == piece.creases[-1].order


@pytest.mark.parametrize(("case", "name"), FOLDED, ids=[f"{c[0]}-{n}" for c, n in FOLDED])
def test_folded_right_sides_out_only_right_sides_show(case: Case, name: str) -> None:
    piece = piece_of(case, name)
    _, after = folded_moves(piece, Unit.MM)
    assert piece.creases[0].towards == "right sides out"
    # The topmost leaf covers all and shows its right side; the lowest shows its wrong side up,
    # so its right side to whoever looks from below.
    assert after[-1].up == "right"
    assert after[0].up == "wrong"


def test_the_tab_is_quartered_and_then_halved() -> None:
    # A square folded to a quarter of its width takes both edges to the middle, then one half
    # on the other, then across: three moves, 4 × 2 leaves.
    piece = tab_of_fabric()
    moves, after = folded_moves(piece, Unit.MM)
    assert [len(move.creases) for move in moves] == [2, 1, 1]
    assert len(after) == 8
    assert "middle" in moves[0].says
    assert "half" in moves[1].says


def test_folded_edges_are_where_the_cloth_turns() -> None:
    # A piece folded in half from top to bottom has its fold at the top, of both leaves.
    _, after = folded_moves(piece_of(CASES[0], "lower-outer"), Unit.MM)
    assert [leaf.folds for leaf in after] == [("top",), ("top",)]
    # The tab: both edges to the middle leave a fold at either side; left on right then leaves all
    # of them at the right, but for the new one at the left; top on bottom, one at the top.
    moves, after = folded_moves(tab_of_fabric(), Unit.MM)
    quarters = moves[1].before
    assert {side for leaf in quarters for side in leaf.folds} == {"left", "right"}
    assert all(set(leaf.folds) == {"left", "right", "top"} for leaf in after)


@pytest.mark.parametrize(("case", "name"), FOLDED, ids=[f"{c[0]}-{n}" for c, n in FOLDED])
def test_the_picture_says_every_move(case: Case, name: str) -> None:
    piece = piece_of(case, name)
    picture = folding_picture(piece, Unit.MM)
    moves, _ = folded_moves(piece, Unit.MM)
    for number, move in enumerate(moves, 1):
        assert f"{number}: {move.says}" in picture.says
        assert f">{number}</text>" in picture.svg


def test_a_hem_says_how_much_is_turned_in_each_time() -> None:
    # The recipe's own: 6 mm, twice; the long pouch's single lower outer turns none.
    asked: dict[str, str | float] = {"layers": "single"}
    one = made_as(asked, "fold-wallet", "130x180", Unit.MM)
    pocket = next(piece for piece in one.project.pieces if piece.name == "pocket[1]")
    moves, _ = folded_moves(pocket, Unit.MM)
    says = "Turn 6 mm (1/4 in) in at the bottom along the line and press."
    assert [move.says for move in moves] == [says] * 2


# Both ends are turned in by 12, the right edge by 8; then the third without the hem goes in first.
def test_each_move_says_at_which_edge_it_is_made() -> None:
    asked: dict[str, str | float] = {"make": "three", "ends": "rivet"}
    project = made_as(asked, "key-fob", "130x180", Unit.MM).project
    moves, _ = folded_moves(project.pieces[0], Unit.MM)
    assert [move.says for move in moves] == [
        "Turn 12 mm (1/2 in) in at the bottom along the line and press.",
        "Turn 12 mm (1/2 in) in at the top along the line and press.",
        "Turn 8 mm (5/16 in) in at the right along the line and press.",
        "Fold the left third over along the line and press.",
        "Fold the right third over along the line and press.",
    ]
    # The middle third is 25 wide, the outer ones 24: what moves is what is named.
    assert [[end[0] - start[0] for start, end in move.arrows] for move in moves[3:]] == [
        [24],
        [-24],
    ]


@pytest.mark.parametrize("make", ["four", "three"])
def test_no_number_hides_the_arrow_of_a_narrow_strip(make: str) -> None:
    asked: dict[str, str | float] = {"make": make, "ends": "rivet"}
    project = made_as(asked, "key-fob", "130x180", Unit.MM).project
    drawing = folding_drawing(project.pieces[0], Unit.MM)
    *moves, _ = (item for item in drawing.items if isinstance(item, Group))
    for move in moves:
        shapes = [one for one in flat(move.items) if isinstance(one, Shape)]
        (number,) = (one for one in shapes if one.style is Style.BADGE)
        arrows = [one for one in shapes if one.style is Style.GRAIN]
        assert len(arrows) >= 2  # a line and a head, each
        assert not any(number.path.area.intersects(one.path.line) for one in arrows)
        assert drawing.box.left <= number.path.bounds[0]


@pytest.mark.parametrize("make", ["four", "three"])
@pytest.mark.parametrize("size", [(15.0, 35.0), (25.0, 65.0), (40.0, 120.0)], ids=str)
def test_no_arrow_reaches_into_the_picture_of_the_next_move(
    make: str, size: tuple[float, float]
) -> None:
    width, length = size
    asked: dict[str, str | float] = {"make": make, "ends": "stitched"}
    asked |= {"width": width, "length": length}
    project = made_as(asked, "key-fob", "240x360", Unit.MM).project
    drawing = folding_drawing(project.pieces[0], Unit.MM)
    rooms = rooms_of(drawing)
    assert len(rooms) == (4 if make == "four" else 5)
    for one, other in combinations(rooms, 2):
        # Those of one row stand side by side, the rows one below the other.
        assert one[2] < other[0] or one[3] < other[1]


def rooms_of(drawing: Drawing) -> list[tuple[float, float, float, float]]:
    """The room that each diagram takes with its number and arrows: its bounds."""
    return [
        shapely.union_all(
            [shape.path.line for shape in flat(move.items) if isinstance(shape, Shape)]
        ).bounds
        for move in drawing.items
        if isinstance(move, Group)
    ]


# Both ends, then one edge are turned in, then one third over the other: six diagrams. In one row
# there would be 56 - 5 * 7.5 = 18.5 mm for all of them, 3 mm each; three in a row have
# (56 - 2 * 3.6 - 2 * 7.5) / 3 = 11 mm each.
@pytest.mark.parametrize("unit", [Unit.MM, Unit.INCH])
@pytest.mark.parametrize("size", [(15.0, 35.0), (25.0, 65.0), (40.0, 170.0)], ids=str)
def test_six_diagrams_stand_in_two_rows_so_that_each_can_be_read(
    size: tuple[float, float], unit: Unit
) -> None:
    width, length = size
    asked: dict[str, str | float] = {"make": "three", "ends": "rivet"}
    asked |= {"width": f"{width}mm", "length": f"{length}mm"}
    project = made_as(asked, "key-fob", "360x360" if length > 100 else "240x360", unit).project
    drawing = folding_drawing(project.pieces[0], unit)
    rooms = rooms_of(drawing)
    assert len(rooms) == 6
    highest = max(bottom for _, _, _, bottom in rooms[:3])
    assert all(top > highest for _, top, _, _ in rooms[3:])
    wide, high = project.pieces[0].cut
    # Or it is as high as a row may be: 0.4 of 70 mm.
    assert wide / drawing.scale == pytest.approx(11.27, abs=0.01) or (
        high / drawing.scale == pytest.approx(28, abs=0.01)
    )
    for left, top, right, bottom in rooms:
        assert drawing.box.left <= left
        assert right <= drawing.box.right
        assert drawing.box.top <= top
        assert bottom <= drawing.box.bottom
    picture = folding_picture(project.pieces[0], unit)
    assert picture.width <= 56.001
    assert "Row by row" in picture.says


@pytest.mark.parametrize(("case", "name"), FOLDED, ids=[f"{c[0]}-{n}" for c, n in FOLDED])
def test_it_is_no_wider_than_there_is_room_for_beside_another(case: Case, name: str) -> None:
    # Three on A4 with margins of 15 mm and 6 mm between two: (210 - 2 * 15 - 2 * 6) / 3 = 56.
    assert folding_picture(piece_of(case, name), Unit.MM).width <= 56.001


def test_a_piece_says_in_which_step_it_is_folded_and_what_comes_first() -> None:
    booklet, project = said(*CASES[2][:3]), made(*CASES[2][:3]).project
    when = {folding.title: folding.when for folding in booklet.folding}
    (fuse,) = (step for step in project.steps if step.act is Act.FUSE)
    for piece in project.pieces:
        if piece.creases:
            laid = next(s for s in project.steps if any(x.piece == piece.name for x in s.layers))
            assert f"laid in step {laid.number}." in when[piece.title]
            first = f"Step {fuse.number} comes first: fuse the interfacing."
            assert (first in when[piece.title]) == (piece.name in fuse.pieces)
    hemmed = said_of(made_as({"layers": "single"}, "fold-wallet", "130x180", Unit.MM))
    numbers = {block.title: block.number for block in hemmed.blocks}
    pocket = next(folding for folding in hemmed.folding if folding.title == "pocket 1")
    assert pocket.when == f"In step {numbers['Turn in the hem of both pieces of pocket 1']}."


def test_what_is_fused_after_folding_is_not_said_to_come_first() -> None:
    # The patch behind the snap is placed from the fold, so the outer is folded first.
    project = made_as({}, "fold-wallet", "130x180", Unit.MM).project
    fold = next(s for s in project.steps if s.act is Act.FOLD and "upper-outer" in s.pieces)
    (fuse,) = (s for s in project.steps if s.act is Act.FUSE)
    assert fold.number < fuse.number
    booklet = said_of(made_as({}, "fold-wallet", "130x180", Unit.MM))
    (outer,) = (one for one in booklet.folding if one.title == "upper outer")
    assert outer.when == f"In step {fold.number}."
