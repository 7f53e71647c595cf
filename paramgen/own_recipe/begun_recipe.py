"""A recipe begun for a person, tried before it is given to them."""

import shlex
from collections.abc import Sequence

from paramgen.hooping import Room
from paramgen.making import Attempt, Made, Order
from paramgen.own_recipe.first_sizes import first_size
from paramgen.own_recipe.recipe_text import recipe_text
from paramgen.own_recipe.wanted_recipe import WantedRecipe
from paramgen.recipe.read_recipe import read_recipe
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.vocabulary.findings import CannotMakeError, Fault, Finding, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: What is thick needs more room than is reckoned: the first of these that does is taken, mm.
ROOMIER = (0, 10, 20, 35)
#: The largest size that a recipe begun here can be asked for, mm.
MOST_SIZE = 330


@dataclass(frozen=True)
class BegunRecipe:
    """A recipe that can be made as it begins.

    Parameters
    ----------
    name : str
        Of its file, without the ending.
    text : str
    hoop : Hoop
        One that takes it: a person's own, if one does, else the smallest.
    findings : tuple of Finding
        What is worth knowing of it.
    """

    name: str
    text: str
    hoop: Hoop
    findings: tuple[Finding, ...]


def begun(wanted: WantedRecipe, hoops: Sequence[Hoop]) -> BegunRecipe:
    """Write a recipe and try it.

    Raises
    ------
    InputError
        If what it is to hold is larger than any of them can be.
    CannotMakeError
        If no hoop takes it, or the thing cannot be held so: every finding.
    """
    rooms = [Room(hoop) for hoop in smallest_first(hoops)]
    refused: CannotMakeError | None = None
    if max(size := first_size(wanted)) > MOST_SIZE:
        what = f"it would be {size[0]} × {size[1]} mm with that in it; at most {MOST_SIZE} mm"
        hint = "Let it hold something smaller, or take another outline."
        raise InputError([Fault(what, "--holds", hint=hint)])
    for roomier in ROOMIER if wanted.thing else (0,):
        if max(first_size(wanted, roomier)) > MOST_SIZE:
            break
        try:
            found = _tried(wanted, recipe_text(wanted, "HOOP", roomier), rooms, hoops)
        except CannotMakeError as problem:
            refused = refused or problem
            continue
        hoop = found.room.hoop
        text = recipe_text(wanted, shlex.quote(hoop.name), roomier)
        made = _tried(wanted, text, [Room(hoop)], hoops)
        return BegunRecipe(wanted.name, text, hoop, made.project.findings)
    assert refused is not None
    raise refused


def _tried(wanted: WantedRecipe, text: str, rooms: Sequence[Room], hoops: Sequence[Hoop]) -> Made:
    recipe = read_recipe(text, name=wanted.name, source=f"{wanted.name}.toml")
    return Attempt(Order(recipe, {}, rooms[0], further=tuple(rooms[1:])), hoops).sound
