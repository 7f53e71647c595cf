"""Panels by what a person calls them: the title of a piece, or its name in the recipe."""

from collections.abc import Mapping
from functools import partial

from paramgen.embellishment.panels_asked import panels_typed
from paramgen.layout.name_scope import holds, label
from paramgen.lengths import as_typed
from paramgen.nearest_word import did_you_mean
from paramgen.sizing import Sized, repeats
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.wording.load import english


def panel_titles(sized: Sized) -> dict[str, str]:
    """Title of every piece that there is, by its name."""
    found = {}
    for name, table in sized.recipe.file.pieces.items():
        for index, names in repeats(table.repeat, sized.names):
            if holds(table.when, names):
                title = sized.speaker.say(table.title, names, index)
                found[label(name, index, names)] = english().as_used(title, sized.unit)
    return found


def find_panel(typed: str, titles: Mapping[str, str], where: str) -> str:
    """The name of the piece that a person means.

    Raises
    ------
    InputError
        If no piece is called so.

    Examples
    --------
    >>> titles = {"lower-outer": "lower outer", "pocket[1]": "pocket 1"}
    >>> find_panel("Lower  Outer", titles, "--on"), find_panel("pocket 1", titles, "--on")
    ('lower-outer', 'pocket[1]')
    >>> find_panel("lower-outer", titles, "--on"), find_panel("the lower outer", titles, "--on")
    ('lower-outer', 'lower-outer')
    """
    plain = _plain(typed)
    for name, title in titles.items():
        if plain in (_plain(name), _plain(title)):
            return name
    named = sorted(set(titles.values()))
    hint = did_you_mean(plain, named) or f"Its panels are {', '.join(named)}."
    raise InputError([Fault(f"{as_typed(typed)} is no panel of this project", where, hint=hint)])


def panel_faults(sized: Sized, typed: str) -> list[Fault]:
    """What is wrong with the panels that a person asks for something on."""
    faults = Faults()
    titles = panel_titles(sized) if typed.strip() else {}
    for panel, where in panels_typed(typed):
        faults.tried(partial(find_panel, panel, titles, where))
    return faults


def _plain(text: str) -> str:
    """A name or a title in one form: small, without hyphens, brackets and article."""
    words = text.lower().replace("-", " ").replace("[", " ").replace("]", " ").split()
    return " ".join(words[1:] if words[:1] == ["the"] else words)
