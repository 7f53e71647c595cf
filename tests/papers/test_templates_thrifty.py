"""Few sheets: one template for what is alike, halves on a fold, no seam along a fold."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from layout_orders import COASTER, laid
from papers_checked import complaints
from papers_read import read
from specimens import wallet
from test_templates_pdf import blank, frame, halved, pdf_of

from paramgen.drawings.primitives.drawn_paths import box_of
from paramgen.drawings.primitives.items import Shape, Style, flat
from paramgen.geometry.mirror import mirrored
from paramgen.making import make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.papers.alike_pieces import alike
from paramgen.papers.joined_sheets import tiled
from paramgen.papers.prepared_template import half_template
from paramgen.papers.sheet_foot import SheetFoot
from paramgen.papers.sheet_frame import UnnumberedSheet
from paramgen.papers.templates import template_leaves
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.path import path
from paramgen.vocabulary.project import Piece
from paramgen.vocabulary.unit import Unit


def pouch(*words: str) -> list[UnnumberedSheet]:
    """Sheets for a pouch of 7 × 5 1/4 in on Letter, as the command line makes them."""
    wanted = asked(
        TypedRequest(
            recipe="zip-pouch",
            values=["width=7in", "height=5 1/4 in", *words],
            hoop="200x300",
            unit="in",
        )
    )
    form = replace(frame("letter"), printing=wanted.printing)
    return list(template_leaves(make(wanted.order, wanted.hoops).project, form))


def test_a_pouch_of_seven_by_five_and_a_quarter_inches_takes_two_sheets() -> None:
    # Cut 7 7/8 in wide, its pieces are 6 1/8, 9 1/4 and 2 1/2 in high, the last two folded, and
    # 3 1/2 × 7/8 in. Letter within margins of 6 mm is 8.03 × 10.53 in: 6 1/8 and the squares of 2
    # in go on one sheet, half of 9 1/4 and 2 1/2 in on another.
    leaves = pouch()
    assert [leaf.foot is SheetFoot.SCALE for leaf in leaves] == [False, True]
    said = " ".join(leaf.says for leaf in leaves)
    assert "back lining and back; Cut 1 from lining, 1 from outer" in said
    assert "lower front and lower front lining; Cut 1 from outer, 1 from lining, on a fold" in said


def test_each_leaf_is_one_page_of_a_pdf_that_a_checker_finds_nothing_in() -> None:
    project = laid(COASTER, {"width": "250mm", "outline": "polygon"}, Unit.MM)
    form = frame("a4")
    pdf = pdf_of(project, form)
    assert complaints(pdf) == []
    assert len(read(pdf)) == len(template_leaves(project, form)) > 1


# --- Pieces that are alike -----------------------------------------------------------------

LEFT = [(-40.0, -30.0), (40.0, -30.0), (10.0, 30.0), (-40.0, 30.0)]


def cut_to(corners: list[tuple[float, float]], name: str) -> Piece:
    outline = path(corners, closed=True)
    return Piece(
        name=name,
        title=name,
        fabric="outer",
        quantity=1,
        cut=(80, 60),
        folded=(80, 60),
        outline=outline,
        creases=(),
        grain=Grain.ANY,
    )


def names(pieces: list[Piece]) -> list[list[str]]:
    return [[one.name for one in group] for group in alike(pieces)]


def test_the_same_outline_is_the_same_from_wherever_and_whichever_way_it_runs() -> None:
    turned = [*LEFT[2:], *LEFT[:2]]
    pieces = [cut_to(LEFT, "a"), cut_to(turned, "b"), cut_to(LEFT[::-1], "c")]
    assert names(pieces) == [["a", "b", "c"]]


def test_a_mirror_image_is_not_the_same_unless_the_outline_is_symmetric() -> None:
    right = [(-x, y) for x, y in LEFT]
    assert names([cut_to(LEFT, "a"), cut_to(right, "b")]) == [["a"], ["b"]]
    both = [(-40.0, -30.0), (40.0, -30.0), (10.0, 30.0), (-10.0, 30.0)]
    mirror = [(-x, y) for x, y in both]
    assert names([cut_to(both, "a"), cut_to(mirror, "b")]) == [["a", "b"]]


def test_other_marks_make_another_template() -> None:
    plain = blank(120, 90)
    others = [
        replace(plain, name="fabric", fabric="lining"),
        blank(120, 90, Grain.WIDTH),
        blank(120, 90, folds=1),
        blank(120, 90.5),
    ]
    assert [len(group) for group in alike([plain, *others])] == [2, 1, 1, 1]


def test_a_template_for_two_names_both_and_says_how_often_each_is_cut() -> None:
    outer = replace(blank(100, 80), name="a", title="front", quantity=2)
    lining = replace(outer, name="b", title="front lining", fabric="clear-vinyl", quantity=1)
    (sheet,) = read(pdf_of(replace(wallet(), pieces=(outer, lining)), frame("a4")))
    assert len(sheet.sized(100.0, 80.0)) == 1
    assert "front and front lining" in sheet.words
    assert "Cut 2 from outer, 1 from clear vinyl" in sheet.words


# --- Halves on a fold ----------------------------------------------------------------------


@settings(max_examples=30)
@given(st.floats(20, 330), st.floats(20, 330), st.sampled_from([1, 3]), st.booleans())
def test_a_half_opened_out_over_its_fold_is_the_piece(
    width: float, height: float, folds: int, upright: bool
) -> None:
    piece = blank(width, height, folds=folds)
    if upright:  # the same piece, folded across its other size
        turn = np.array([[0.0, 1.0], [1.0, 0.0]])
        creases = tuple(
            replace(one, start=one.start[::-1], end=one.end[::-1]) for one in piece.creases
        )
        outline = path(piece.outline.points @ turn, closed=True)
        piece = replace(piece, cut=(height, width), outline=outline, creases=creases)
    half = half_template((piece,), replace(wallet(), pieces=(piece,)), 190.0)
    assert half is not None
    assert half.fold is not None
    axis = half.fold.edge.line
    opened = shapely.union_all([half.outline.area, mirrored(half.outline.area, axis)])
    assert opened.symmetric_difference(piece.outline.area).area < 0.01 * piece.outline.length
    # All its sides are cut but the one on the fold, and all other folds are on it.
    cut = shapely.union_all([one.path.line for one in half.lines if one.style is Style.CUT_LINE])
    assert cut.length == pytest.approx(half.outline.length - axis.length, abs=0.1)
    assert cut.intersection(axis.buffer(0.01)).length < 0.1
    lines = shapely.union_all([crease.line for _, crease in half.creases])
    both = shapely.union_all([lines, mirrored(lines, axis)])
    creases_of = shapely.MultiLineString([(one.start, one.end) for one in piece.creases])
    assert both.hausdorff_distance(creases_of) < 0.05


def test_a_piece_that_is_not_folded_in_half_has_no_half() -> None:
    project = wallet()
    assert half_template((blank(120, 90),), project, 190.0) is None
    assert half_template((blank(120, 90, folds=2),), project, 190.0) is None
    # Nor one whose two parts do not mirror each other.
    odd = replace(
        blank(120, 90, folds=1),
        outline=path([(-60, -45), (60, -45), (40, 45), (-40, 45)], closed=True),
    )
    assert half_template((odd,), project, 190.0) is None


def test_a_piece_is_halved_only_where_that_saves_a_sheet() -> None:
    # A4 within margins of 10 mm is 190 × 277 mm, less some 9 mm of heading and 51 mm of squares.
    # 180 × 150 mm goes there whole; 180 × 240 mm does not, but half of it does.
    for height, on_a_fold in ((150.0, False), (240.0, True)):
        piece = blank(180.0, height, folds=1)
        project = replace(wallet(), pieces=(piece,))
        (sheet,) = read(pdf_of(project, frame("a4")))
        assert ("Cut 3 from outer, on a fold" in sheet.words) == on_a_fold
        ((size,),) = [halved(piece)[:1]]
        assert len(sheet.sized(*size)) == on_a_fold
        whole = read(pdf_of(project, frame("a4", halves=False)))
        assert len(whole) == (2 if on_a_fold else 1)
        assert not any("on a fold" in one.words for one in whole)


def test_of_two_pieces_one_is_halved_where_one_is_enough() -> None:
    # 180 × 100 and 180 × 110 mm come to 214 mm and what is between them, more than 277 mm less
    # heading and squares; half of either is enough.
    sizes = ((180.0, 100.0), (180.0, 110.0))
    pieces = tuple(
        replace(blank(*size, folds=1), name=f"p{i}", title=f"Tag {i}")
        for i, size in enumerate(sizes)
    )
    (sheet,) = read(pdf_of(replace(wallet(), pieces=pieces), frame("a4")))
    assert sheet.words.count("on a fold") == 1 + sheet.words.count("lay on a fold of the fabric")


def test_whole_pieces_can_be_asked_for() -> None:
    assert asked(TypedRequest(recipe="coaster", values=[], hoop="5x7in")).printing.halves
    assert not asked(
        TypedRequest(recipe="coaster", values=[], hoop="5x7in", whole_pieces=True)
    ).printing.halves


# --- Seams ---------------------------------------------------------------------------------


@settings(max_examples=200)
@given(
    st.floats(40, 900),
    st.floats(100, 260),
    st.lists(st.floats(0.02, 0.98), max_size=3),
    st.booleans(),
)
@example(817.0, 100.0, [0.75, 0.453125], False)
def test_no_sheets_are_joined_along_a_fold(
    size: float, room: float, parts: list[float], full: bool
) -> None:
    folds = sorted(part * size for part in parts)
    # Folds nearer to each other leave no room for a seam between them, or no sheet for one.
    assume(all(b - a > 40.0 for a, b in pairwise(folds)))
    view = Box(0.0, 0.0, size, 50.0)
    drawn = shapely.box(0.0, 0.0, size, 50.0)
    tiles = tiled(view, room, 200.0, drawn, (folds, ()), full=full)
    across = [one.trim for one in tiles]
    assert (across[0].left, across[-1].right) == (0.0, size)
    assert all(a.right == b.left for a, b in pairwise(across))
    # What a part shows and the strips beside it are no wider than the room.
    for tile in tiles:
        assert tile.window.width + 2 * tile.strip[0] <= room + 1e-6
    for seam in (one.right for one in across[:-1]):
        # Neighbours show 5 mm of each other on either side of a seam; a fold is 3 mm clear of that.
        assert all(abs(seam - fold) >= 8.0 - 1e-6 for fold in folds)
    # Not many more than area alone asks for: each shares 24 mm at least with strips and neighbours.
    assert len(tiles) <= max(1, np.ceil(size / (room - 24.0))) + 2


def test_a_folded_piece_in_parts_is_not_joined_at_its_fold() -> None:
    # Of 350 mm two equal parts would meet at the fold in the middle.
    piece = blank(180.0, 350.0, folds=1)
    leaves = template_leaves(replace(wallet(), pieces=(piece,)), frame("a4", halves=False))
    found: dict[Style, list[tuple[UnnumberedSheet, Box]]] = {Style.JOIN_LINE: [], Style.CREASE: []}
    for leaf in leaves:
        for one in flat(leaf.picture):
            if isinstance(one, Shape) and one.path.line.length > 100:
                found.get(one.style, []).append((leaf, box_of((one.path,))))
    joins, folds = found.values()
    assert len(joins) == 2
    assert folds
    for leaf, join in joins:
        for other, fold in folds:
            assert leaf is not other or abs(join.top - fold.top) > 7.9
