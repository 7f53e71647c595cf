"""On which panel something can be stitched: named as a person would, refused for a reason."""

from dataclasses import replace

import pytest
from adorned import PANELS, adorned, found_of, own_steps, recipe_with

from paramgen import installed
from paramgen.embellishment.read_embellishment import embellishments_asked
from paramgen.hooping import Room
from paramgen.layout.lay_out import lay_out
from paramgen.making import Attempt, Order
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.recipe.read_recipe import find_recipe, read_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.sizing import size
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.unit import Unit

#: What lies the wrong way, under others, or out of sight, and how that is said.
REFUSED = (
    ("coaster", "back", "face-down"),
    ("coaster", "batting", "never-seen"),
    ("fold-wallet", "pocket 1", "sewn-to"),
    ("fold-wallet", "pocket 2", "sewn-to"),
    ("fold-wallet", "lining", "face-down"),
    ("fold-wallet", "pouch lining", "on-the-back"),
    ("flap-sleeve", "front", "sewn-to"),
    ("flap-sleeve", "lining", "face-down"),
    ("notebook-cover", "flap", "sewn-to"),
    ("plant-tag", "back", "on-the-back"),
    ("card-case", "slot 2", "sewn-to"),
    ("card-case", "outer", "face-down"),
    ("zip-pouch", "back", "face-down"),
    ("zip-pouch", "lower front lining", "on-the-back"),
    ("tissue-cover", "upper front", "sewn-to"),
    ("bunting-flag", "back", "face-down"),
)


@pytest.mark.parametrize(("recipe", "panel", "why"), REFUSED)
def test_what_cannot_be_is_refused(recipe: str, panel: str, why: str) -> None:
    project = adorned(recipe, f"{panel}=quilting")
    (found,) = [one for one in found_of(project) if one.stops]
    assert found.key == f"embellishment-not-there.{why}"
    assert not own_steps(project, "quilting")
    plain = adorned(recipe, "")
    assert project.steps == plain.steps or len(project.steps) == len(plain.steps)


def test_every_panel_of_every_recipe_is_taken_or_refused() -> None:
    known = {*PANELS, *((recipe, panel) for recipe, panel, _ in REFUSED)}
    for recipe in {one for one, _ in known}:
        for piece in adorned(recipe, "").pieces:
            project = adorned(recipe, f"{piece.title}=quilting:9mm")
            refused = any(one.code.startswith("embellishment-") for one in found_of(project))
            assert bool(own_steps(project, "quilting")) != refused
            if not refused:
                assert (recipe, piece.title) in PANELS


def test_a_panel_that_is_not_there_is_told_with_every_other_fault() -> None:
    words = TypedRequest(recipe="fold-wallet", hoop="nowhere", on="lowr outer=quilting:diagnal")
    with pytest.raises(InputError) as told:
        asked(words)
    said = [str(one) for one in told.value.faults]
    assert any("Did you mean `lower outer`?" in one for one in said)
    assert any("Did you mean `diagonal`?" in one for one in said)
    assert any("nowhere" in one for one in said)


def test_an_order_of_a_program_is_told_too() -> None:
    recipe = replace(find_recipe("coaster"), on=embellishments_asked("lid=quilting"))
    with pytest.raises(InputError, match="`lid` is no panel of this project"):
        lay_out(size(recipe, {}, unit=Unit.MM))


def test_what_is_asked_for_makes_another_order() -> None:
    plain, quilted = find_recipe("coaster"), recipe_with("coaster", "top=quilting")
    assert plain.key != quilted.key
    assert quilted.key != recipe_with("coaster", "top=quilting:level").key


TEXT = """
[[embellishments]]
on = "top"
work = "quilting: crossed, 8mm"
when = "width > 90"
"""


def own_recipe(more: str) -> str:
    """The coaster, as a person's own recipe."""
    return f"{(installed.templates() / 'coaster.toml').read_text('utf-8')}\n{more}"


def test_a_recipe_asks_for_it_itself() -> None:
    text = own_recipe(TEXT)
    recipe = read_recipe(text, name="mat", source="mat.toml")
    small, large = (
        lay_out(size(recipe, {"width": width}, unit=Unit.MM)) for width in ("85mm", "100mm")
    )
    assert small.embellishments == ()
    assert [(one.piece, one.asked) for one in large.embellishments] == [
        ("top", "quilting:crossed,8mm")
    ]


def test_faults_in_a_recipe_stand_at_their_line() -> None:
    text = own_recipe(TEXT.replace("crossed", "crosed").replace('"top"', '"topp"'))
    with pytest.raises(InputError) as told:
        read_recipe(text, name="mat", source="mat.toml")
    (fault,) = told.value.faults
    assert fault.where == "mat.toml: embellishments[1].work"
    assert fault.line == text.splitlines().index('work = "quilting: crosed, 8mm"') + 1
    assert "Did you mean `crossed`?" in str(fault)
    with pytest.raises(InputError, match="Did you mean `top`"):
        read_recipe(own_recipe(TEXT.replace('"top"', '"topp"')), name="mat", source="mat.toml")


def test_batting_is_laid_under_the_panel_before_it_and_held() -> None:
    project = adorned("notebook-cover", "outer=quilting:15mm,batting")
    (piece,) = [one for one in project.pieces if one.fabric == "batting"]
    assert piece.title == "batting for the outer"
    # 1 mm inside the seam all round.
    box = project.seam.box
    assert piece.cut == pytest.approx((box.width - 2, box.height - 2))
    acts = [step.act for step in project.steps if "batting for the outer" in step.title]
    assert acts == [Act.STITCH, Act.LAY, Act.TAPE, Act.STITCH]
    laid = [x.title for step in project.steps for x in step.layers]
    assert laid.index("batting for the outer") < laid.index("outer")


def test_no_batting_is_laid_where_it_would_be_seen() -> None:
    project = adorned("fold-wallet", "lower outer=quilting:batting")
    assert [one.key for one in found_of(project) if one.stops] == [
        "embellishment-not-there.batting-shows"
    ]


@pytest.mark.parametrize("recipe", ["notebook-cover", "coaster", "zip-pouch"])
def test_with_batting_it_can_be_made(recipe: str) -> None:
    panel = {"coaster": "top", "zip-pouch": "lower front"}.get(recipe, "outer")
    asks = {"padding": "none"} if recipe == "coaster" else {}
    of = recipe_with(recipe, f"{panel}=quilting:crossed,20mm,batting")
    hoops = listed()
    attempt = Attempt(Order(of, asks, Room(find_hoop("360x360mm", hoops))), hoops)
    assert [one.key for one in attempt.findings if one.stops] == []
    assert "quilting-takes-up" in [one.code for one in attempt.findings]
