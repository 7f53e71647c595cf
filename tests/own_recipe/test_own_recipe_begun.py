"""Recipes that are begun for a person: every combination that is offered can be made."""

import re
import tomllib
from functools import cache
from itertools import product
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from told import mends, says

from paramgen.finished.all_findings import prove
from paramgen.hooping import Room
from paramgen.layout.lay_out import lay_out
from paramgen.making import Attempt, Order
from paramgen.own_recipe.begun_recipe import BegunRecipe, begun
from paramgen.own_recipe.first_sizes import first_size
from paramgen.own_recipe.wanted_recipe import (
    MOST_POCKETS,
    WITH_ZIP,
    Construction,
    FirstOutline,
    PocketClosing,
    WantedRecipe,
    recipe_wanted,
)
from paramgen.recipe.file_schema import file_schema
from paramgen.recipe.read_recipe import Recipe, read_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.things import find_thing, listed_things
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError, InputError, Severity
from paramgen.vocabulary.kinds import FinishWay
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

THINGS = listed_things()
HOOPS = listed()
#: Findings of a recipe as it begins that a maker is only told: it is thick, or lies turned.
TOLD = {"bulky-by-machine", "bulky-by-hand", "thickness-jump", "turned-in-hoop"}


#: Lengths of a remedy, and which way each goes.
REMEDY = re.compile(r"([\d.]+) mm \([^)]*\) (wide|high|one way|the other)")


def wanted(
    outline: str = "rounded",
    construction: str = "turned",
    pockets: int = 0,
    closing: str = "none",
    zipped: bool = False,
    holds: str = "",
    title: str = "",
) -> WantedRecipe:
    return recipe_wanted(
        "row-tag",
        THINGS,
        title=title,
        outline=outline,
        construction=construction,
        pockets=pockets,
        closing=closing,
        zipped=zipped,
        holds=holds,
    )


#: Outline, construction, number of pockets, closing and zip: all that is offered.
EVERY = [
    (str(outline), str(way), *rest)
    for outline, way in product(FirstOutline, Construction)
    for rest in [
        *((pockets, "none", False) for pockets in range(MOST_POCKETS + 1)),
        (1, "snap", False),
        *([(0, "none", True)] if outline in WITH_ZIP else []),
    ]
]
every_one = pytest.mark.parametrize(
    "asked", EVERY, ids=lambda asked: "-".join(str(one) for one in asked)
)
#: From the smallest to the largest, one thick, one that is taller than it is wide.
SOME_THINGS = ["chip card of a phone", "bank card", "passport", "pack of playing cards", "A5"]


@cache
def made(asked: tuple[Any, ...], holds: str = "") -> BegunRecipe:
    outline, construction, pockets, closing, zipped = asked
    return begun(wanted(outline, construction, pockets, closing, zipped, holds), HOOPS)


def recipe(text: str) -> Recipe:
    return read_recipe(text, name="row-tag", source="row-tag.toml")


def laid(own: Recipe, asked: dict[str, str | float] | None = None) -> Project:
    return lay_out(size(own, asked or {}, unit=Unit.MM), chord_error=COARSE)


def holds_something(asked: tuple[Any, ...]) -> bool:
    return bool(asked[2] or asked[4])


def test_what_is_offered() -> None:
    # 4 outlines, 2 constructions, 5 ways with pockets or none; and a zip in 2 outlines.
    assert len(EVERY) == 4 * 2 * 5 + 2 * 2


@every_one
def test_every_combination_can_be_made_in_a_listed_hoop(asked: tuple[Any, ...]) -> None:
    found = made(asked)
    attempt = Attempt(Order(recipe(found.text), {}, Room(find_hoop(found.hoop.name, HOOPS))), HOOPS)
    assert attempt.made is not None
    assert {one.code for one in attempt.findings} <= TOLD
    assert not [one for one in attempt.findings if one.severity is not Severity.KNOW]
    assert f"--hoop {found.hoop.name}\n" in found.text


@every_one
def test_every_combination_is_what_was_asked_for(asked: tuple[Any, ...]) -> None:
    outline, construction, pockets, closing, zipped = asked
    file = recipe(made(asked).text).file
    ways = {"turned": FinishWay.TURNED, "raw-edge": FinishWay.RAW_EDGE}
    assert [one.way for one in file.finish] == [ways[construction]]
    project = laid(recipe(made(asked).text))
    names = [piece.name for piece in project.pieces]
    assert len([name for name in names if name.startswith("pocket")]) == pockets
    assert {str(notion.sort) for notion in project.notions} >= (
        {"snap"} if closing == "snap" else {"zip"} if zipped else set()
    )
    assert bool(file.holds) == bool(pockets or zipped)
    assert {use.part for use in file.uses.values()} >= {"hooping", "taking-out"}
    shape = {"oval": "oval", "hexagon": "regular polygon"}.get(outline, "rectangle")
    (finished,) = file.outlines["finished"]
    assert finished.shape == shape
    assert (getattr(finished, "rounded", None) is not None) == (outline == "rounded")


@every_one
def test_every_combination_is_valid_by_the_schema_and_commented(asked: tuple[Any, ...]) -> None:
    text = made(asked).text
    raw = tomllib.loads(text)
    assert not list(Draft202012Validator(file_schema("recipe")).iter_errors(raw))
    assert text.startswith("# Row tag: ")
    assert text.count("\n# --- ") >= 7
    assert "\n\n\n" not in text
    assert not [line for line in text.splitlines() if line != line.rstrip()]
    assert "<<" not in text
    assert "<%" not in text
    assert text.endswith("\n")
    assert not text.endswith("\n\n")


@pytest.mark.parametrize("holds", SOME_THINGS)
@pytest.mark.parametrize(
    "asked",
    [
        ("rounded", "turned", 2, "none", False),
        ("rectangle", "raw-edge", 3, "none", False),
        ("hexagon", "turned", 1, "snap", False),
        ("oval", "raw-edge", 1, "snap", False),
        ("rounded", "turned", 0, "none", True),
        ("rounded", "raw-edge", 0, "none", True),
    ],
    ids=lambda asked: "-".join(str(one) for one in asked),
)
def test_what_it_holds_goes_in_by_its_own_size(asked: tuple[Any, ...], holds: str) -> None:
    thing = find_thing(holds, THINGS)
    found = made(asked, holds)
    project = laid(recipe(found.text))
    (held,) = project.holds
    assert sorted(held.size) == sorted((thing.width, thing.height))
    assert held.title == thing.name


@pytest.mark.parametrize("asked", [one for one in EVERY if holds_something(one)][::3], ids=str)
def test_a_size_too_small_is_refused_and_the_size_of_the_remedy_is_enough(
    asked: tuple[Any, ...],
) -> None:
    own = recipe(made(asked).text)
    small: dict[str, str | float] = dict.fromkeys(own.file.sizes, 80.0)
    with pytest.raises(CannotMakeError) as refusal:
        laid(own, small)
    assert "seed packet" in says(refusal.value.findings[0])
    enough = dict(small)
    for finding in refusal.value.findings:
        for length, way in REMEDY.findall(mends(finding)):
            name = {"wide": "width", "one way": "width"}.get(way, "height")
            enough[name] = max(float(enough[name]), float(length))
    assert not [one for one in prove(laid(own, enough)).findings if one.stops]


def test_the_reckoned_size_is_that_of_the_sum() -> None:
    # A bank card of 85.6 × 53.98 × 0.76 in one pocket, raw edges, sharp corners: beside it 0.76 for
    # its thickness, 4 of ease and twice 3 of edge, 96.36; above it 15 more, 79.74; in steps of 5.
    assert first_size(wanted("rectangle", "raw-edge", 1, holds="bank card")) == (100, 80)
    # In an oval a rectangle takes 1/√2 of each: √2 · 90.36 + 6 = 133.8; √2 · 58.74 + 6 = 89.1.
    assert first_size(wanted("oval", "raw-edge", 1, holds="bank card")) == (135, 90)


def test_what_is_tall_and_narrow_gets_an_oval_flat_enough_at_its_top_for_the_gap() -> None:
    # Of an ellipse of half axes a and b the radius at its top is a²/b: with a gap of no more than
    # 0.8 of that, the edge there bends by 2 asin 0.4, 47°.
    made(("oval", "turned", 1, "none", False), "small seed packet")
    made(("oval", "turned", 1, "none", False), "pen")


def test_what_is_too_large_is_refused_with_how_large_it_would_be() -> None:
    with pytest.raises(InputError, match="mm with that in it; at most 330 mm"):
        made(("oval", "turned", 1, "none", False), "Letter")


@pytest.mark.parametrize("pockets", ["1", "3"])
def test_another_number_of_pockets_is_asked_for_without_touching_the_file(pockets: str) -> None:
    own = recipe(made(("rounded", "turned", 2, "none", False)).text)
    project = laid(own, {"pockets": pockets})
    assert not [one for one in prove(project).findings if one.stops]
    assert len([one for one in project.pieces if one.name.startswith("pocket")]) == int(pockets)


APART: dict[str, tuple[dict[str, Any], str]] = {
    "zip in an oval": ({"outline": "oval", "zipped": True}, "straight side"),
    "zip and pockets": ({"zipped": True, "pockets": 1}, "no pockets to begin with"),
    "snap of two pockets": ({"pockets": 2, "closing": "snap"}, "closes one pocket"),
    "nothing to hold it in": ({"holds": "passport"}, "nothing to hold it in"),
    "no such outline": ({"outline": "ovel"}, "Did you mean `oval`?"),
    "four pockets": ({"pockets": 4}, "not one of 0 to 3"),
    "several things": ({"pockets": 1, "holds": "4 bank cards"}, "begins with one thing"),
    "no such thing": ({"pockets": 1, "holds": "pasport"}, "passport"),
    "markers of direction in a title": ({"title": "a\u202eb"}, "cannot be shown"),
}


@pytest.mark.parametrize(("asked", "told"), APART.values(), ids=APART)
def test_what_does_not_go_together_is_told(asked: dict[str, Any], told: str) -> None:
    with pytest.raises(InputError) as refusal:
        wanted(**asked)
    assert told in str(refusal.value)


@pytest.mark.parametrize(
    "name", ["", "../up", "a/b", "Big", "a b", "con", "com1", "-x", "x" * 41, "a\nb", ".toml", "é"]
)
def test_a_name_that_is_no_file_of_this_folder_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="cannot be the name of a recipe"):
        recipe_wanted(name, THINGS)


@pytest.mark.parametrize(
    "title", ['Sam\'s "best" tag', "a \\ b", "{width} # [x]", "<% if %> << x >>"]
)
def test_a_title_stays_a_text(title: str) -> None:
    found = begun(wanted(title=title), HOOPS)
    assert recipe(found.text).file.title == title


def test_the_closing_is_one_of_those_named() -> None:
    assert {str(one) for one in PocketClosing} == {asked[3] for asked in EVERY}
