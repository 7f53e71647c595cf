"""Options that a command does not take: what is meant, and the command that takes it."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace

from paramgen.nearest_word import did_you_mean
from paramgen.ordering.meant_words import names_of
from paramgen.recipe.language import RecipeFile
from paramgen.recipe.read_recipe import find_recipe
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: Options of each command by name, and whether each is followed by a value.
OptionsTaken = Mapping[str, bool]

#: Where an option belongs that several commands take; the first that does is meant.
_FIRST = ("fit", "make", "check", "grade")


@dataclass(frozen=True)
class _Word:
    """An option with its value, or any other word."""

    name: str = ""
    value: str | None = None
    plain: str = ""

    @property
    def typed(self) -> list[str]:
        """As it is typed."""
        if not self.name:
            return [self.plain]
        return [self.name] if self.value is None else [self.name, self.value]


def unknown_options(
    command: str, words: Sequence[str], commands: Mapping[str, OptionsTaken]
) -> tuple[tuple[Fault, ...], list[str]]:
    """Say what is meant by options that a command does not take.

    Parameters
    ----------
    command : str
        Its name.
    words : sequence of str
        What was typed after it.
    commands : mapping of name to options
        Every command.

    Returns
    -------
    faults : tuple of Fault
        One for each such option; none if there is none.
    meant : list of str
        The whole command that is meant; empty if that is not plain.
    """
    takes = commands[command]
    read = list(_read(words, takes))
    unknown = [one for one in read if one.name and one.name not in takes]
    if not unknown:
        return (), []
    file = _recipe(read)
    names = names_of(file) if file else []
    said: dict[tuple[str, str], list[str]] = {}
    going, plain = command, True
    own = {one.name: name for one in unknown if (name := _one_or_several(one.name, takes))}
    for one in unknown:
        bare = _as_name(one.name)
        there = [other for other in _FIRST if one.name in commands[other]]
        if bare in names:
            message, hint = "sizes and choices are written without dashes", ""
        elif one.name in own:
            message, hint = f"`{command}` has no such option", f"Did you mean `{own[one.name]}`?"
            hint += "".join(f" `{other}` has `{one.name}`." for other in there)
        elif there:
            going = there[0] if going == command else going
            plain = plain and going in there
            listed = ", ".join(f"`{other}`" for other in there)
            have = "have it" if len(there) > 1 else "has it"
            message, hint = f"`{command}` has no such option; {listed} {have}", ""
        else:
            plain = False
            message = f"`{command}` has no such option"
            near = did_you_mean(bare, names)
            hint = near.replace("`?", "=...`?") if near else did_you_mean(one.name, takes)
        said.setdefault((message, hint), []).append(one.name)
    faults = [Fault(text, ", ".join(which), hint=hint) for (text, hint), which in said.items()]
    read = [replace(one, name=own.get(one.name, one.name)) for one in read]
    meant = _rewritten(going, read, names, commands[going])
    return tuple(faults), ["paramgen", *meant] if plain and meant else []


def _read(words: Sequence[str], takes: OptionsTaken) -> Iterator[_Word]:
    """Part words into options with their values and all others."""
    rest = list(words)
    while rest:
        word = rest.pop(0)
        if word == "--":
            yield from (_Word(plain=one) for one in rest)
            return
        if not word.startswith("--"):
            yield _Word(plain=word)
            continue
        name, equals, value = word.partition("=")
        follows = takes.get(name, bool(rest) and not rest[0].startswith("--"))
        if equals:
            yield _Word(name, value)
        else:
            yield _Word(name, rest.pop(0) if follows and rest else None)


def _one_or_several(option: str, takes: OptionsTaken) -> str:
    """An option of the command itself that is the same word for one or for several."""
    return next((name for name in (f"{option}s", option.removesuffix("s")) if name in takes), "")


def _as_name(option: str) -> str:
    """An option as the name of a size or choice."""
    return option.removeprefix("--").lower().replace("-", "_")


def _recipe(read: Sequence[_Word]) -> RecipeFile | None:
    """The recipe that is spoken of: the first word that is no option."""
    name = next((one.plain for one in read if not one.name), "")
    with suppress(InputError):
        return find_recipe(name).file if name else None
    return None


def _rewritten(
    command: str, read: Sequence[_Word], names: Sequence[str], takes: OptionsTaken
) -> list[str]:
    """The words as a command takes them; nothing if it would lose what is asked."""
    found = [command]
    for one in read:
        bare = _as_name(one.name)
        if not one.name or one.name in takes:
            found += one.typed
        elif bare in names and one.value:
            found.append(f"{bare}={one.value}")
        elif command != "fit":
            return []
    return found
