"""What a process that works for the page has before it: recipes, hoops and a warm workshop."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath

from paramgen.lengths import as_typed
from paramgen.making import Attempt
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.known_lists import known_hoops
from paramgen.ordering.order_from_words import UnderstoodRequest, asked
from paramgen.ordering.settings_filled_in import with_settings
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.typed_address import asked_in
from paramgen.recipe.read_recipe import Recipe, RecipeSource, find_source, listed
from paramgen.reference.hoops import Hoop
from paramgen.vocabulary.cloth import Cloth
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.workshop import Workshop

#: The longest text of a recipe that is read from the page, letters.
MOST_TEXT = 300_000


@dataclass(frozen=True)
class Desk:
    """A workshop, and the recipes that an address may name.

    Parameters
    ----------
    hoops : tuple of Hoop
    workshop : Workshop
    own : mapping of name to path
        Recipe files that were given when the page was opened: no other is ever read.
    """

    hoops: tuple[Hoop, ...]
    workshop: Workshop
    own: Mapping[str, str]

    @property
    def names(self) -> tuple[str, ...]:
        """Of all recipes, a person's own first."""
        return (*self.own, *listed())

    def recipe(self, name: str, text: str | None = None) -> Recipe:
        """A recipe by its name, as its file is now; or of a text that stands on the page.

        Raises
        ------
        InputError
            If there is none, or it has faults.
        """
        if text is not None:
            if len(text) > MOST_TEXT:
                raise InputError([Fault("this is too large to be a recipe", "recipe")])
            file = PurePath(name)
            return self.workshop.read(RecipeSource(file.stem, f"{file.stem}.toml", text))
        return self.workshop.read(self.source(name))

    def source(self, name: str) -> RecipeSource:
        """The text of a recipe by its name, as its file is now.

        Raises
        ------
        InputError
            If there is none, or it cannot be read.
        """
        if name in self.own:
            return replace(find_source(self.own[name]), source=name)
        if name not in listed():
            hint = did_you_mean(name, self.names) or f"There are {', '.join(self.names)}."
            raise InputError([Fault("no recipe of that name", "recipe", hint=hint)])
        return find_source(name)

    def understood(self, query: str, text: str | None = None) -> UnderstoodRequest:
        """What an address asks for.

        Raises
        ------
        InputError
            With every fault in it.
        """
        found = asked_in(query)
        if found.faults:
            raise InputError(found.faults)
        return asked(
            with_settings(filled_in(found.words, self.hoops)),
            find=lambda name: self.recipe(name, text),
            among=self.hoops,
            hoop_by="hoop",
            works=self.workshop.works,
            read=_not_given,
        )

    def attempt(self, wanted: UnderstoodRequest) -> Attempt:
        """What comes of it."""
        return self.workshop.attempt(wanted.order, wanted.hoops)


def _not_given(name: str, _repeat: float | None) -> Cloth:
    """No picture of a fabric is read by its name: no address reaches the disk."""
    text = f"{as_typed(name)} is no colour, and no picture of that name was given to the page"
    raise InputError([Fault(text, "cloth", hint="Write a colour: outer=#7a9e3f, lining=teal.")])


def desk(own: Mapping[str, str]) -> Desk:
    """Make a desk ready; raises InputError if a person's own lists have faults."""
    hoops = known_hoops()
    return Desk(hoops, Workshop(hoops), own)


def filled_in(words: TypedRequest, hoops: tuple[Hoop, ...]) -> TypedRequest:
    """Words with a hoop, where a person said none at any time: one that is in most machines."""
    said = with_settings(words)
    if said.hoop or said.more_hoops:
        return words
    usual = next((hoop.name for hoop in hoops if (hoop.width, hoop.height) == (130, 180)), "")
    return replace(words, hoop=usual or hoops[0].name)
