"""What a person wants their recipe to begin with, and what goes with what."""

import re
from collections.abc import Iterator, Sequence
from enum import StrEnum

from paramgen.nearest_word import did_you_mean
from paramgen.ordering.titles import title_asked
from paramgen.reference.things import Thing, find_several
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: Taken where it has pockets or a zip and nothing is said of what goes in.
USUAL_THING = "seed packet"

#: So many pockets lie one on the other at most: more are too thick to be stitched.
MOST_POCKETS = 3

_NAME = re.compile(r"[a-z][a-z0-9-]{0,39}")
#: Names of files that cannot be made on every system.
_RESERVED = re.compile(r"con|prn|aux|nul|com[0-9]|lpt[0-9]")


class FirstOutline(StrEnum):
    """Outline of the finished thing."""

    RECTANGLE = "rectangle"
    ROUNDED = "rounded"
    OVAL = "oval"
    HEXAGON = "hexagon"


class Construction(StrEnum):
    """How its edge is made."""

    TURNED = "turned"
    RAW_EDGE = "raw-edge"


class PocketClosing(StrEnum):
    """How a pocket is kept closed."""

    NONE = "none"
    SNAP = "snap"


#: A zip runs across from one straight side to the other.
WITH_ZIP = (FirstOutline.RECTANGLE, FirstOutline.ROUNDED)


@dataclass(frozen=True, kw_only=True)
class WantedRecipe:
    """What a recipe begins with.

    Parameters
    ----------
    name : str
        Of its file, without the ending.
    title : str
    outline : FirstOutline
    construction : Construction
    zipped : bool
        Whether a zip runs across its front.
    pockets : int
    closing : PocketClosing
    thing : Thing or None
        What it holds.
    """

    name: str
    title: str
    outline: FirstOutline
    construction: Construction
    zipped: bool = False
    pockets: int = 0
    closing: PocketClosing = PocketClosing.NONE
    thing: Thing | None = None


def recipe_wanted(
    name: str,
    things: Sequence[Thing],
    *,
    title: str = "",
    outline: str = "",
    construction: str = "",
    zipped: bool = False,
    pockets: int = 0,
    closing: str = "",
    holds: str = "",
) -> WantedRecipe:
    """Understand what was typed; what is empty is as usual.

    Raises
    ------
    InputError
        With every fault.

    Examples
    --------
    >>> made = recipe_wanted("dibber-sleeve", [], construction="raw-edge")
    >>> made.title, str(made.outline), made.thing
    ('Dibber sleeve', 'rounded', None)
    """
    faults: list[Fault] = []
    file = name.removesuffix(".toml")
    if not _NAME.fullmatch(file) or _RESERVED.fullmatch(file):
        hint = "Small letters, digits and hyphens, a letter first: my-wallet, say."
        faults.append(Fault("this cannot be the name of a recipe", _shown(name), hint=hint))
    if title:
        try:
            title = title_asked(title)
        except InputError as problem:
            faults += problem.faults
    shape = _word(FirstOutline, outline or FirstOutline.ROUNDED, "--outline", faults)
    way = _word(Construction, construction or Construction.TURNED, "--construction", faults)
    closed = _word(PocketClosing, closing or PocketClosing.NONE, "--closing", faults)
    if not 0 <= pockets <= MOST_POCKETS:
        faults.append(Fault(f"{pockets} is not one of 0 to {MOST_POCKETS}", "--pockets"))
    elif not faults:
        faults += _apart(shape, closed, zipped=zipped, pockets=pockets, holds=bool(holds))
    thing: Thing | None = None
    if holds or ((zipped or pockets) and things):
        try:
            thing = thing_held(holds or USUAL_THING, things)
        except InputError as problem:
            faults += problem.faults
    if faults:
        raise InputError(faults)
    return WantedRecipe(
        name=file,
        title=title or file.replace("-", " ").capitalize(),
        outline=FirstOutline(shape),
        construction=Construction(way),
        zipped=zipped,
        pockets=pockets,
        closing=PocketClosing(closed),
        thing=thing,
    )


def thing_held(typed: str, things: Sequence[Thing]) -> Thing:
    """The thing that is meant, under a name that can stand on papers.

    Raises
    ------
    InputError
        If it is none, or several, or cannot be named.
    """
    several = find_several(typed, things, where="--holds")
    if several.number != 1:
        hint = "Name one of them; set thing_thickness in the recipe to what several are thick."
        raise InputError([Fault("a recipe begins with one thing", "--holds", hint=hint)])
    title_asked(several.thing.name, "--holds")
    return several.thing


def _word(kinds: type[StrEnum], typed: str, option: str, faults: list[Fault]) -> str:
    words = [str(kind) for kind in kinds]
    if typed not in words:
        message = f"`{_shown(typed)}` is not one of {', '.join(words)}"
        faults.append(Fault(message, option, hint=did_you_mean(typed, words)))
    return typed


def _apart(
    outline: str, closing: str, *, zipped: bool, pockets: int, holds: bool
) -> Iterator[Fault]:
    """What does not go together."""
    if zipped and outline not in WITH_ZIP:
        hint = f"Take --outline {' or '.join(WITH_ZIP)}."
        yield Fault("a zip runs from one straight side to the other", "--zip", hint=hint)
    if zipped and pockets:
        hint = "Copy the recipe fold-wallet for both: it has pockets at the other end of its zip."
        yield Fault("what has a zip has no pockets to begin with", "--pockets", hint=hint)
    if closing == PocketClosing.SNAP and (zipped or pockets != 1):
        hint = "Take --pockets 1 and no zip."
        yield Fault("a snap closes one pocket", "--closing", hint=hint)
    if holds and not (zipped or pockets):
        hint = "Add --zip or --pockets 1."
        yield Fault("there is nothing to hold it in", "--holds", hint=hint)


def _shown(typed: str) -> str:
    """What was typed, short and in letters that can be shown."""
    return "".join(letter if letter.isprintable() else "?" for letter in typed[:60])
