"""Words as people type them find what they mean, or are told what there is."""

import pytest
from command_line import paramgen

from paramgen.recipe.read_recipe import listed
from paramgen.reference.things import find_several, find_thing, listed_things
from paramgen.vocabulary.findings import InputError


@pytest.mark.parametrize(
    ("typed", "name", "number"),
    [
        ("dollars", "banknote", 1),
        ("3 euros", "banknote", 3),
        ("six bank cards", "bank card", 6),
        ("Two of passports", "passport", 2),
        ("a passport", "passport", 1),
        ("twelve phones", "phone", 12),
        ("phone large", "large phone", 1),
        ("case phone small in a", "small phone in a case", 1),
    ],
)
def test_a_thing_is_found_by_words_that_people_use(typed: str, name: str, number: int) -> None:
    found = find_several(typed, listed_things())
    assert (found.thing.name, found.number) == (name, number)


def test_every_thing_is_still_found_by_its_own_names() -> None:
    things = listed_things()
    for thing in things:
        for name in thing.names:
            assert find_thing(name, things) == thing
            assert find_several(name, things).thing == thing


@pytest.mark.parametrize("command", ["about", "fit", "make", "check"])
def test_without_a_recipe_it_is_said_which_there_are(command: str) -> None:
    ran = paramgen(command)
    assert (ran.status, ran.out) == (2, "")
    assert f"There are {', '.join(listed())}. A file of your own ends in .toml." in ran.err


@pytest.mark.parametrize(
    ("words", "shortened"),
    [
        # 60 letters at most; the last space within 61 is that before "printed".
        (
            "A very long title that is far too long to be quite so nicely printed",
            "Shorten it: `A very long title that is far too long to be quite so nicely`, say.",
        ),
        ("x" * 61, "Shorten it."),
    ],
)
def test_a_title_is_shortened_between_words(words: str, shortened: str) -> None:
    ran = paramgen("make", "coaster", "--hoop", "5x7in", "--title", words)
    assert ran.status == 2
    assert ran.err.endswith(shortened)


@pytest.mark.parametrize("typed", ["heart", "outline=heart", "Heart", "outline=zigzagged"])
def test_an_outline_that_there_is_not_is_answered_with_those_there_are(typed: str) -> None:
    ran = paramgen("make", "coaster", typed, "--hoop", "5x7in")
    assert ran.status == 2
    assert "square, rectangle, rounded, round, oval, polygon" in ran.err
    assert "Any other outline is one of your own" in ran.err


@pytest.mark.parametrize("typed", ["hexagon", "outline=hexagon"])
def test_a_hexagon_is_told_as_it_is_written(typed: str) -> None:
    ran = paramgen("make", "coaster", typed, "--hoop", "5x7in")
    assert "outline=polygon sides=6" in ran.err


def test_a_thing_that_is_not_known_is_answered_with_those_that_are_near() -> None:
    ran = paramgen("make", "zip-pouch", "--hoop", "180x300", "--holds", "pasport")
    assert "Did you mean `passport`?" in ran.err
    with pytest.raises(InputError):
        find_several("six bank crads", listed_things())
