"""What a person wants a project to hold, by its name and in its size."""

from dataclasses import replace

from paramgen.fit.holding_lengths import Holder, holder, to_hold, ways
from paramgen.lengths import as_typed
from paramgen.ordering.known_things import known_things
from paramgen.ordering.titles import title_asked
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.things import find_several
from paramgen.reference.typed_sizes import read_size
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.unit import Unit


def holding(
    recipe: Recipe,
    asked: dict[str, str],
    unit: Unit,
    typed: str,
    where: str = "--holds",
) -> tuple[Recipe, dict[str, str | float]]:
    """A recipe that speaks of what a person wants it to hold, and what to ask of it.

    The size of a thing that is known is asked for; what of it is asked by name stays as it is.
    Of anything else the whole size must be asked by name.

    Parameters
    ----------
    recipe : Recipe
    asked : mapping of name to text
        What is asked by name.
    unit : Unit
    typed : str
        A thing, listed, the person's own or any name; or a size. As `find_several` takes it.

    Raises
    ------
    InputError
        If the recipe holds nothing, or it is not known how large the thing is.
    """
    name = title_asked(typed, where)
    if not name:
        return recipe, dict(asked)
    place = _holder(recipe, asked, unit, where)
    lengths = [one for one in (place.width, place.height, place.thickness) if one]
    by_name = [one for one in lengths if one in asked]
    try:
        several = find_several(name, known_things(), where=where)
    except InputError as problem:
        if by_name == lengths and not _is_size(name):
            return to_hold(recipe, place, name), dict(asked)
        raise _unknown(name, lengths, where, problem.faults[0].hint) from None
    if (place.width in asked) != (place.height in asked):
        other = place.height if place.width in asked else place.width
        hint = f"Give {other} as well, or leave both to {where}."
        raise InputError([Fault(f"is asked for, and {other} is not", by_name[0], hint=hint)])
    rest = {one: value for one, value in asked.items() if one not in lengths}
    found = dict(ways(recipe, [several], asked=rest, unit=unit)[0].asked)
    if place.thickness:
        found.pop(place.ease, None)  # the recipe's own
    number = several.number if several.number > 1 else 0
    return to_hold(recipe, place, several.thing.title, number), {**found, **asked}


def _holder(recipe: Recipe, asked: dict[str, str], unit: Unit, where: str) -> Holder:
    try:
        return holder(recipe, asked, unit)
    except InputError as problem:
        raise InputError(
            replace(one, where=where) if one.where == "--hold" else one for one in problem.faults
        ) from None


def _unknown(name: str, lengths: list[str], where: str, near: str) -> InputError:
    near = near.partition(" Write any other")[0]
    which = f"{near} " if near.startswith(("Did you mean", "There are")) else ""
    hint = (
        f"{which}Say how large it is too, with {', '.join(lengths[:-1])} and {lengths[-1]}. "
        "`paramgen things` lists what is known."
    )
    return InputError([Fault(f"{as_typed(name)} is not a thing known here", where, hint=hint)])


def _is_size(text: str) -> bool:
    try:
        return read_size(text, "", most=3) is not None
    except InputError:
        return True
