from dataclasses import replace

import pytest
from specimens import oblong

from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.facing_sides import face_seen, fold_sides
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_source, read_recipe
from paramgen.sizing import size
from paramgen.vocabulary.kinds import Face, Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Layer
from paramgen.vocabulary.unit import Unit

BOX = oblong(-10, -20, 30, 40)
TOP = ((-10.0, -20.0), (30.0, -20.0))
LEFT = ((-10.0, 40.0), (-10.0, -20.0))


def layer(up: Face, folds: tuple[tuple[Point, Point], ...] = (), plies: int = 1) -> Layer:
    return Layer(
        piece="p",
        title="P",
        fabric="outer",
        side=Side.FRONT,
        up=up,
        outline=BOX,
        folded_edges=folds,
        plies=plies,
    )


@pytest.mark.parametrize(
    ("up", "side", "face"),
    [
        (Face.RIGHT, Side.FRONT, Face.RIGHT),
        (Face.WRONG, Side.FRONT, Face.WRONG),
        (Face.RIGHT, Side.BACK, Face.WRONG),
        (Face.WRONG, Side.BACK, Face.RIGHT),
    ],
)
def test_a_single_piece_shows_its_other_face_behind(up: Face, side: Side, face: Face) -> None:
    assert face_seen(layer(up), side) == face


@pytest.mark.parametrize("up", ["right", "wrong"])
def test_a_piece_folded_double_shows_one_face_on_both_sides(up: Face) -> None:
    # Folded right sides out the wrong sides lie within, and the other way round.
    folded = layer(up, (TOP,), 2)
    assert face_seen(folded, Side.FRONT) == face_seen(folded, Side.BACK) == "right"
    folded = replace(folded, right_sides_in=True)
    assert face_seen(folded, Side.FRONT) == face_seen(folded, Side.BACK) == "wrong"


def test_a_fabric_with_two_right_sides_shows_one_on_either_side() -> None:
    felt = replace(layer(Face.WRONG), two_sided=True)
    assert face_seen(felt, Side.FRONT) == face_seen(felt, Side.BACK) == "right"


def test_batting_has_no_right_side() -> None:
    batting = replace(layer(Face.RIGHT), faceless=True)
    assert face_seen(batting, Side.FRONT) is face_seen(batting, Side.BACK) is None


def test_a_fabric_is_what_its_material_is_and_not_what_it_is_called() -> None:
    # Batting called `fleece-inside`, and cotton called `batting`: the recipe says what each is.
    text = find_source("coaster").text.replace("[fabrics.batting]", "[fabrics.fleece-inside]")
    text = text.replace('fabric = "batting"', 'fabric = "fleece-inside"')
    text = text.replace('fabric = "back"', 'fabric = "batting"').replace(
        "[fabrics.back]", "[fabrics.batting]"
    )
    own = read_recipe(text, name="mat", source="mat.toml")
    project = lay_out(size(own, {}, unit=Unit.MM))
    laid = {one.piece: face_seen(one, Side.FRONT) for step in project.steps for one in step.layers}
    assert laid == {"batting": None, "top": Face.RIGHT, "back": Face.WRONG}
    assert project.faceless == {"fleece-inside"}
    assert [name for name, tone in tones_of(project).items() if not tone.faced] == ["fleece-inside"]


def test_folds_are_named_by_the_side_they_lie_at_as_seen() -> None:
    folded = layer(Face.RIGHT, (TOP, LEFT), 4)
    assert fold_sides(folded, Side.FRONT) == ("top", "left")
    assert fold_sides(folded, Side.BACK) == ("top", "right")
    assert fold_sides(layer(Face.RIGHT), Side.FRONT) == ()
