"""Things for which a recipe has a place of its own that only some choices make.

Of several kinds each must be held in what is made for the box round them all, but for those.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress

from paramgen.fit.holding_lengths import ways
from paramgen.recipe.language import Hold
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.things import SeveralThings, Thing, find_thing, thing_key
from paramgen.sizing import size
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True)
class Placed:
    """Things parted by the places that they go into.

    Parameters
    ----------
    recipe : Recipe
        That calls what lies beside by its name.
    things : tuple of SeveralThings
        What goes into the place that is sized for it.
    place : str
        Its name under `holds`; empty for the one that the recipe is made for.
    asked : mapping of name to mm
        Lengths of what lies in a place of its own beside that.
    beside : tuple of (SeveralThings, str)
        That, and the title of the piece it lies against.
    """

    recipe: Recipe
    things: tuple[SeveralThings, ...]
    place: str
    asked: Mapping[str, float]
    beside: tuple[tuple[SeveralThings, str], ...]


def placed_apart(
    recipe: Recipe,
    things: Sequence[SeveralThings],
    known: Sequence[Thing],
    asked: Mapping[str, str | float],
    unit: Unit,
) -> Placed:
    """Part things by the places that a recipe has for them, with the choices that are asked.

    A place with a `when` is for the thing that its title names, and for all that are called so:
    `banknotes` takes any `euro note`, as the listed banknote has that word. All other things go
    into the place that the recipe is made for.
    """
    names = size(recipe, asked, unit=unit).names
    main = list(things)
    found: dict[str, list[SeveralThings]] = {}
    for name, hold in _of_their_own(recipe):
        assert hold.when is not None
        if not hold.when.truth(names):
            continue
        found[name] = [one for one in main if _is_for(hold, one.thing, known)]
        main = [one for one in main if one not in found[name]]
    found = {name: several for name, several in found.items() if several}
    if not main and len(found) == 1:
        ((place, several),) = found.items()
        return Placed(recipe, tuple(several), place, {}, ())
    lengths: dict[str, float] = {}
    beside: list[tuple[SeveralThings, str]] = []
    for name, several in found.items():
        every = ways(recipe, several, asked=asked, unit=unit, place=name)
        hold = recipe.file.holds[name]
        upright = names[hold.height.text] >= names[hold.width.text]
        # The way round that the recipe has its own.
        way = next(
            (
                one
                for one in every
                if (one.asked[hold.height.text] >= one.asked[hold.width.text]) is upright
            ),
            every[0],
        )
        lengths |= way.asked
        against = recipe.file.pieces[hold.against.name].title.text
        beside += [(one, against) for one in several]
    return Placed(recipe, tuple(main), "", lengths, tuple(beside))


def place_to_choose(
    recipe: Recipe,
    things: Sequence[SeveralThings],
    known: Sequence[Thing],
    asked: Mapping[str, str | float],
    unit: Unit,
) -> tuple[tuple[str, str], ...]:
    """Things that another choice has a place for.

    Returns
    -------
    tuple of (thing, choice)
        The choice as it is typed, `pouch=long`; only where one alone makes the place.
    """
    names = size(recipe, asked, unit=unit).names
    found = []
    for _, hold in _of_their_own(recipe):
        assert hold.when is not None
        choice = _ONE_CHOICE.fullmatch(hold.when.text)
        if choice is None or hold.when.truth(names):
            continue
        found += [
            (one.thing.name, f"{choice[1]}={choice[2]}")
            for one in things
            if _is_for(hold, one.thing, known)
        ]
    return tuple(found)


#: A formula that asks for one option of a choice.
_ONE_CHOICE = re.compile(r"\s*(\w+)\s*==\s*['\"]([\w-]+)['\"]\s*")


def _of_their_own(recipe: Recipe) -> Iterator[tuple[str, Hold]]:
    """The places that only some choices make, and whose thing can be set."""
    file = recipe.file
    for name, hold in file.holds.items():
        able = hold.width.text in file.lengths and hold.height.text in file.lengths
        if hold.when is not None and able:
            yield name, hold


def _is_for(hold: Hold, thing: Thing, known: Sequence[Thing]) -> bool:
    """Whether a place is for a thing, by what both are called."""
    keys = {thing_key(hold.title)}
    with suppress(InputError):
        listed = find_thing(hold.title, known)
        keys |= {thing_key(name) for name in (*listed.names, *listed.words)}
    own = map(thing_key, thing.names)
    return any(name == key or name.endswith(f" {key}") for name in own for key in keys)
