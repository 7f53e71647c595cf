"""Reading recipe files: strict, and every fault of a file in one run."""

import tomllib
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from itertools import islice
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from paramgen import installed
from paramgen.budget import MOST_BYTES
from paramgen.nearest_word import did_you_mean
from paramgen.recipe.key_lines import Loc, key_lines, line_of
from paramgen.recipe.language import RecipeFile
from paramgen.recipe.name_check import clashes
from paramgen.recipe.not_toml import torn
from paramgen.recipe.reader_faults import in_file, said
from paramgen.reference.dotted import TOO_DOTTED, too_dotted
from paramgen.vocabulary.findings import UNSHOWN, Fault, InputError
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: No more faults than these are looked for in one run.
MOST_FAULTS = 100

_MESSAGE = "a character that cannot be shown stands in it"


@dataclass(frozen=True, kw_only=True)
class Recipe:
    """A recipe, read and checked.

    Parameters
    ----------
    name : str
        The file's name without its ending.
    source : str
        Where it was read, for messages.
    file : RecipeFile
        What it says.
    digest : str
        Of the text of its file; empty if it was read from none.
    title : str
        What a person calls the project that is made from it; empty for its own title.
    held : tuple of (name, title)
        What the things that it holds are called, where that is not what the file says.
    held_number : tuple of (name, number)
        How many of them a person asked for, where they said so.
    """

    name: str
    source: str
    file: RecipeFile
    digest: str = ""
    title: str = ""
    held: tuple[tuple[str, str], ...] = ()
    held_number: tuple[tuple[str, int], ...] = ()

    def number_of(self, thing: str) -> int:
        """How many of a thing a person asked for; 0 where they did not say."""
        return dict(self.held_number).get(thing, 0)

    def kind_for(self, unit: Unit) -> str:
        """What the thing that it makes is called by who measures in a unit."""
        return english().as_used(self.file.title, unit)

    @property
    def key(self) -> tuple[Hashable, ...]:
        """Equal for recipes that say the same."""
        said = (self.title, self.held, self.held_number)
        return (self.digest or id(self.file), self.name, self.source, *said)

    def title_of(self, thing: str) -> str:
        """What a thing that it holds is called, by its name under `holds`."""
        return dict(self.held).get(thing) or self.file.holds[thing].title


@dataclass(frozen=True)
class RecipeSource:
    """A recipe's file as it was found, not yet understood.

    Parameters
    ----------
    name : str
        The file's name without its ending.
    source : str
        Where it was found, for messages.
    text : str
    """

    name: str
    source: str
    text: str

    def read(self) -> Recipe:
        """Understand it; raises InputError with its faults."""
        return read_recipe(self.text, name=self.name, source=self.source)


def listed() -> dict[str, Path]:
    """Names of the recipes that come with the program, and their files, in order."""
    return {path.stem: path for path in sorted(installed.templates().glob("*.toml"))}


def find_recipe(wanted: str) -> Recipe:
    """Read a recipe by its name, or any by the path of its file.

    Raises
    ------
    InputError
        If there is no such recipe or file, or it has faults.
    """
    return find_source(wanted).read()


def find_source(wanted: str) -> RecipeSource:
    """Find a recipe by its name, or any by the path of its file.

    Raises
    ------
    InputError
        If there is no such recipe or file, or it is no text.
    """
    known = listed()
    wanted = next((name for name in known if name == wanted.casefold()), wanted)
    path = known.get(wanted, Path(wanted))
    if path.suffix != ".toml":
        hint = did_you_mean(wanted, known) or f"There are {', '.join(known)}."
        hint += " A file of your own ends in .toml."
        raise InputError([Fault("no recipe of that name", wanted, hint=hint)])
    try:
        text = _text(path)
    except FileNotFoundError:
        raise InputError([Fault("there is no such file", wanted)]) from None
    except OSError as problem:
        raise InputError([Fault(f"cannot be read: {problem.strerror}", wanted)]) from None
    except ValueError as problem:
        raise InputError([Fault(str(problem), wanted)]) from None
    return RecipeSource(
        _shown(path.stem), _shown(wanted if wanted not in known else path.name), text
    )


def _shown(name: str) -> str:
    """A name of a file with what is no letter in it replaced, so that papers can bear it."""
    return name.encode("utf-8", "replace").decode()


def _text(path: Path) -> str:
    if path.is_fifo():
        raise ValueError("this is not a file")
    with path.open("rb") as stream:
        data = stream.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise ValueError("this is too large to be a recipe")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError("this is not a text in UTF-8") from None


def read_recipe(text: str, *, name: str, source: str) -> Recipe:
    """Read a recipe from the text of its file.

    Raises
    ------
    InputError
        With every fault found, up to `MOST_FAULTS`: first those of form, and only if there
        are none those of names.
    """
    if dotted := too_dotted(text):
        raise InputError([Fault(TOO_DOTTED, source, dotted)])
    try:
        raw = tomllib.loads(text)
    except RecursionError:
        raise InputError([Fault("brackets are nested too deeply", source)]) from None
    except ValueError:  # not TOML, or a number of thousands of digits
        raise InputError(torn(text, source)) from None
    lines = key_lines(text)
    if unshown := list(_unshown(raw, ())):
        raise InputError(
            Fault(message, _where(source, loc), line_of(lines, loc)) for loc, message in unshown
        )
    raw = _on_one_line(raw)
    found: Iterable[tuple[Loc, str, str, bool]]
    try:
        file = RecipeFile.model_validate(raw)
    except ValidationError as problem:
        found = ((*said(dict(error), raw, RecipeFile), False) for error in problem.errors())
    else:
        found = ((in_file(one.loc, raw), one.message, one.hint, one.last) for one in clashes(file))
    told = [
        (last, Fault(message, _where(source, loc), line_of(lines, loc), hint))
        for loc, message, hint, last in islice(found, MOST_FAULTS + 1)
    ]
    # What is only too much comes after all else.
    faults = [
        fault
        for too_much in (False, True)
        for fault in _by_line([one for last, one in told if last is too_much])
    ]
    if len(faults) > MOST_FAULTS:
        more = Fault(f"there are more faults than these {MOST_FAULTS}", source)
        raise InputError([*faults[:MOST_FAULTS], more])
    if faults:
        raise InputError(faults)
    return Recipe(
        name=name,
        source=source,
        file=file,
        digest=sha256(text.encode("utf-8", "replace")).hexdigest(),
    )


def _by_line(faults: list[Fault]) -> list[Fault]:
    return sorted(faults, key=lambda fault: fault.line or 0)


def _unshown(raw: object, loc: Loc) -> Iterator[tuple[Loc, str]]:
    """Places of texts that would do more to a screen or a paper than be read there, and why."""
    match raw:
        case str() if UNSHOWN.search(raw):
            yield loc, _MESSAGE
        case str() if "\n" in raw and loc[-1] == "title":
            yield loc, "a title stands on one line"
        case dict():
            for key, value in raw.items():
                if UNSHOWN.search(key) or "\n" in key:
                    yield loc, _MESSAGE
                yield from _unshown(value, (*loc, UNSHOWN.sub("?", key)))
        case list():
            for index, value in enumerate(raw):
                yield from _unshown(value, (*loc, index))
        case _:
            pass


def _on_one_line(raw: Any) -> Any:
    """The same with every text on one line: a line of output is never made up by a recipe."""
    match raw:
        case str() if "\n" in raw:
            return " ".join(raw.split())
        case dict():
            return {key: _on_one_line(value) for key, value in raw.items()}
        case list():
            return [_on_one_line(value) for value in raw]
        case _:
            return raw


def _where(source: str, loc: Loc) -> str:
    key = "".join(f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in loc)
    return f"{source}: {key.removeprefix('.')}" if key else source
