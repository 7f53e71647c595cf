"""What a process that works for the page has before it: recipes, hoops and a warm workshop."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import field, replace
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from paramgen.budget import MOST_BYTES
from paramgen.lengths import as_typed
from paramgen.making import Attempt
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.known_lists import known_hoops
from paramgen.ordering.order_from_words import UnderstoodRequest, asked
from paramgen.ordering.settings_filled_in import sound_settings, with_settings
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.given_files import MOST_FILES, GivenFiles, file_called, stem_and_ending
from paramgen.page.typed_address import asked_in
from paramgen.recipe.read_recipe import Recipe, RecipeSource, find_source, listed, source_of
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.reference.settings import Settings, own_settings
from paramgen.vocabulary.cloth import Cloth
from paramgen.vocabulary.findings import CannotMakeError, Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.works import Kept
from paramgen.workshop import Workshop

if TYPE_CHECKING:
    from paramgen.embellishment.motif_stitches import MotifStitches

#: So many motifs are kept as they were read: those of one project.
_MOST_MOTIFS = 8


@dataclass(frozen=True, kw_only=True)
class Desk:
    """A workshop, and the recipes that an address may name.

    Parameters
    ----------
    hoops : tuple of Hoop
    workshop : Workshop
    settings : Settings
        What a person said once, as it was when the page was opened.
    own : mapping of name to path
        Recipe files that were given when the page was opened: no other is ever read, but for
        the parts that lie beside them.
    given : GivenFiles
        Pictures of fabrics and stitch files of motifs that were given to the page.
    """

    hoops: tuple[Hoop, ...]
    workshop: Workshop
    settings: Settings
    own: Mapping[str, str]
    given: GivenFiles = field(default_factory=GivenFiles)
    _cloths: Kept[Cloth] = field(default_factory=lambda: Kept(MOST_FILES))
    _motifs: Kept["MotifStitches"] = field(default_factory=lambda: Kept(_MOST_MOTIFS))

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
            if len(text.encode("utf-8", "replace")) > MOST_BYTES:
                raise InputError([Fault("this is too large to be a recipe", "recipe")])
            file = PurePath(name)
            folder = Path(self.own[name]).parent if name in self.own else None
            return self.workshop.read(source_of(text, file.stem, f"{file.stem}.toml", folder))
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
        usual = filled_in(found.words, self.hoops, self.settings)
        wanted = self._asked(usual, text)
        if usual == found.words:
            return wanted
        hoop = self._that_takes(wanted)
        return wanted if hoop == usual.hoop else self._asked(replace(usual, hoop=hoop), text)

    def _that_takes(self, wanted: UnderstoodRequest) -> str:
        """The hoop of one who named none: the usual if that takes it, else the smallest that does.

        Where none does it is the usual one.
        """
        order, works, sized = wanted.order, self.workshop.works, self.attempt(wanted).sized
        larger = (replace(order.room, hoop=one) for one in smallest_first(self.hoops))
        if sized is None or order.copies != 1:
            return order.room.hoop.name
        for room in (order.room, *larger):
            for turned in room.ways:
                with suppress(CannotMakeError):
                    if room.takes(works.stitched(sized, turned=turned).needs):
                        return room.hoop.name
        return order.room.hoop.name

    def _asked(self, words: TypedRequest, text: str | None) -> UnderstoodRequest:
        return asked(
            with_settings(words, self.settings),
            find=lambda name: self.recipe(name, text),
            among=self.hoops,
            hoop_by="hoop",
            works=self.workshop.works,
            read=self.print_given,
            motifs=self.motif_given,
        )

    def print_given(self, name: str, repeat: float | None) -> Cloth:
        """A picture that was given to the page: no other is read, and no address names a file."""
        data = self.given.get(name)
        if data is None:
            text = (
                f"{as_typed(name)} is no colour, and no picture of that name was given to the page"
            )
            hint = "Write a colour, such as teal or #7a9e3f, or choose the picture again."
            raise InputError([Fault(text, hint=hint)])
        # The first picture waits for whatever is loaded before it.
        from paramgen.cloths.print_picture import USUAL_REPEAT, cloth_of_picture  # noqa: PLC0415

        wide = USUAL_REPEAT if repeat is None else repeat
        return self._cloths.get((name, wide), lambda: cloth_of_picture(data, name, repeat=wide))

    def motif_given(self, name: str) -> "MotifStitches":
        """A motif that was given to the page: no other is read, and no address names a file."""
        data = self.given.get(name)
        if data is None:
            text = f"no stitch file {as_typed(name)} was given to the page"
            hint = "Choose it again under “A motif of your own”."
            raise InputError([Fault(text, hint=hint)])
        return self._motifs.get(name, lambda: _motif(data, file_called(name)))

    def attempt(self, wanted: UnderstoodRequest) -> Attempt:
        """What comes of it."""
        return self.workshop.attempt(wanted.order, wanted.hoops)


def keep_print(table: Desk, data: bytes) -> tuple[str, str]:
    """Keep a picture of a fabric.

    Returns
    -------
    name : str
        What it is called in an address; empty if it is none.
    fault : str
        What is wrong with it; empty if nothing is.
    """
    from paramgen.cloths.print_picture import cloth_of_picture  # noqa: PLC0415 (as above)

    try:
        cloth_of_picture(data, "the picture")
    except InputError as problem:
        return "", str(problem)
    return table.given.add(data), ""


def keep_motif(table: Desk, data: bytes, file: str) -> tuple[str, str]:
    """Keep the stitch file of a motif.

    Parameters
    ----------
    table : Desk
    data : bytes
    file : str
        What it is called; no file of that name is looked for.

    Returns
    -------
    name : str
        What it is called in an address; empty if it is none.
    fault : str
        What is wrong with it; empty if nothing is.
    """
    stem, ending = stem_and_ending(file)
    try:
        _motif(data, f"{stem}{ending}")
    except InputError as problem:
        return "", " ".join(str(replace(one, where="")) for one in problem.faults)
    return table.given.add(data, stem, ending), ""


def _motif(data: bytes, file: str) -> "MotifStitches":
    # The stitch library is slow to load, and seldom asked for here.
    from paramgen.reading.read_motif import motif_of  # noqa: PLC0415

    return motif_of(data, file)


def desk(own: Mapping[str, str], given: GivenFiles | None = None) -> Desk:
    """Make a desk ready; raises InputError if a person's own lists have faults."""
    hoops = known_hoops()
    settings = sound_settings(own_settings())
    return Desk(
        hoops=hoops,
        workshop=Workshop(hoops),
        settings=settings,
        own=own,
        given=given or GivenFiles(),
    )


def filled_in(
    words: TypedRequest, hoops: tuple[Hoop, ...], settings: Settings | None = None
) -> TypedRequest:
    """Words with a hoop, where a person said none at any time: one that is in most machines."""
    said = with_settings(words, settings)
    if said.hoop or said.more_hoops:
        return words
    usual = next((hoop.name for hoop in hoops if (hoop.width, hoop.height) == (130, 180)), "")
    return replace(words, hoop=usual or hoops[0].name)
