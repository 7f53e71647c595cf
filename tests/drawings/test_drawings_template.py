from dataclasses import replace

import pytest
import shapely
from drawings_read import clipped, of_style, overlapping, picture, words
from hypothesis import given, settings
from hypothesis import strategies as st
from specimens import INCH, coaster, largest, oblong, oval, smallest, wallet

from paramgen.drawings.pictures.piece_template import piece_template
from paramgen.drawings.primitives.items import Drawing, Group, Style, Text, flat
from paramgen.vocabulary.kinds import FoldKind, Grain
from paramgen.vocabulary.project import Crease, Piece
from paramgen.vocabulary.unit import Unit

PIECES = [*wallet().pieces, *coaster(100, 90).pieces, *smallest().pieces, *largest().pieces]
every_piece = pytest.mark.parametrize("piece", PIECES, ids=lambda p: f"{p.title} {p.cut}")


def named(title: str) -> Piece:
    (piece,) = (piece for piece in wallet().pieces if piece.title == title)
    return piece


def blank(width: float, height: float, grain: Grain = Grain.HEIGHT, folds: int = 0) -> Piece:
    creases = tuple(
        Crease(i + 1, FoldKind.HALF, (-width / 2, y), (width / 2, y), "right sides out")
        for i, y in enumerate(height * (j + 1) / (folds + 1) - height / 2 for j in range(folds))
    )
    outline = oblong(-width / 2, -height / 2, width / 2, height / 2)
    folded = (width, height / (folds + 1))
    return Piece(
        name="p",
        title="Plain piece",
        fabric="outer",
        quantity=3,
        cut=(width, height),
        folded=folded,
        outline=outline,
        creases=creases,
        grain=grain,
    )


def inside(drawing: Drawing) -> list[Text]:
    (group,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
    return [item for item in flat(group.items) if isinstance(item, Text)]


@every_piece
def test_the_outline_is_the_piece_as_cut_at_true_size(piece: Piece) -> None:
    (cut,) = of_style(piece_template(piece, Unit.MM), Style.CUT_LINE)
    left, top, right, bottom = cut.path.bounds
    assert (right - left, bottom - top) == pytest.approx(piece.cut, abs=0.02)
    assert cut.path.line.hausdorff_distance(piece.outline.line) <= 0.011


@every_piece
def test_creases_are_drawn_where_they_are_and_numbered(piece: Piece) -> None:
    drawing = piece_template(piece, Unit.MM)
    drawn = [s.path.points.tolist() for s in of_style(drawing, Style.CREASE)]
    assert drawn == [[list(c.start), list(c.end)] for c in piece.creases]
    numbers = {text.words for text in inside(drawing)}
    assert {str(crease.order) for crease in piece.creases} <= numbers


@every_piece
@pytest.mark.parametrize("unit", list(Unit))
def test_all_that_is_to_be_known_is_written(piece: Piece, unit: Unit) -> None:
    drawing = piece_template(piece, unit)
    text = words(drawing)
    assert piece.title in text
    assert f"Cut {piece.quantity} from {piece.fabric}" in text
    assert " mm" in text
    assert " in" in text
    assert ("folded" in text) == bool(piece.creases)
    assert all(crease.towards in text for crease in piece.creases)
    assert clipped(drawing) == []
    assert overlapping(drawing) == []


def test_a_fabric_is_named_in_plain_words() -> None:
    text = words(piece_template(replace(blank(120, 90), fabric="clear-vinyl"), Unit.MM))
    assert "Cut 3 from clear vinyl" in text


def test_sizes_are_those_of_the_piece_in_both_units() -> None:
    # Worked example: the tab is cut 3 × 3 in = 76.2 × 76.2 mm.
    assert "cut 3 × 3 in (76.2 × 76.2 mm)" in words(piece_template(named("Tab"), Unit.INCH))
    assert "cut 76.2 × 76.2 mm (3 × 3 in)" in words(piece_template(named("Tab"), Unit.MM))
    assert "folded 3/4 × 3 in (19.1 × 76.2 mm)" in words(piece_template(named("Tab"), Unit.INCH))


def test_creases_folded_alike_are_told_in_one_line() -> None:
    text = words(piece_template(named("Tab"), Unit.INCH))
    assert "1, 2, 3: fold in quarters, right sides out" in text
    text = words(piece_template(named("Large pocket"), Unit.INCH))
    assert "1: fold in half, right sides out" in text


@pytest.mark.parametrize("grain", [Grain.WIDTH, Grain.HEIGHT])
def test_the_grain_arrow_runs_along_its_size(grain: Grain) -> None:
    drawing = piece_template(blank(120, 90, grain), Unit.MM)
    line = of_style(drawing, Style.GRAIN)[0].path
    left, top, right, bottom = line.bounds
    long, short = (
        (right - left, bottom - top) if grain is Grain.WIDTH else (bottom - top, right - left)
    )
    assert long > 20
    assert short == pytest.approx(0.0)
    assert f"grain along the {grain}" in words(drawing)


def test_the_grain_arrow_of_what_is_cut_on_the_bias_runs_at_45_degrees() -> None:
    drawing = piece_template(blank(120, 90, Grain.BIAS), Unit.MM)
    left, top, right, bottom = of_style(drawing, Style.GRAIN)[0].path.bounds
    assert right - left == pytest.approx(bottom - top)
    assert right - left > 20
    assert "cut on the bias, at 45° to the grain" in words(drawing)


def test_a_piece_with_no_grain_has_no_arrow() -> None:
    drawing = piece_template(blank(120, 90, Grain.ANY), Unit.MM)
    assert of_style(drawing, Style.GRAIN) == []
    assert "grain in any direction" in words(drawing)


def test_words_go_on_a_piece_with_room_and_below_one_without() -> None:
    large, small = piece_template(blank(120, 90), Unit.MM), piece_template(blank(20, 40), Unit.MM)
    assert "Cut 3 from outer" in [text.words for text in inside(large)]
    assert inside(small) == []
    assert "Cut 3 from outer" in words(small, "notes")
    assert words(large, "notes") == ""


@settings(max_examples=40)
@given(
    st.floats(15, 400),
    st.floats(15, 400),
    st.sampled_from(["width", "height", "any"]),
    st.integers(0, 3),
    st.booleans(),
)
def test_nothing_on_a_piece_of_any_size_runs_into_anything_else(
    width: float, height: float, grain: Grain, folds: int, round_piece: bool
) -> None:
    piece = blank(width, height, grain, folds)
    if round_piece:
        piece = replace(piece, outline=oval(width, height))
    drawing = piece_template(piece, Unit.INCH)
    assert clipped(drawing) == []
    assert overlapping(drawing) == []
    lines = [s.path.line for s in picture(drawing) if s.style in (Style.CREASE, Style.GRAIN)]
    room = piece.outline.area.buffer(0.01)
    for text in inside(drawing):
        if text.words.isdigit():
            continue
        shape = shapely.box(text.box.left, text.box.top, text.box.right, text.box.bottom)
        assert room.covers(shape)
        assert not any(shape.intersects(line) for line in lines)
    for arrow in of_style(drawing, Style.GRAIN):
        assert room.covers(arrow.path.line)


def test_the_name_goes_on_the_piece_even_if_nothing_else_fits() -> None:
    drawing = piece_template(named("Tab"), Unit.INCH)
    assert [t.words for t in inside(drawing) if not t.words.isdigit()] == ["Tab"]
    assert named("Tab").cut == (3 * INCH, 3 * INCH)
