"""Reading recipe files: strict, and every fault of a file in one run."""

import re
from collections.abc import Hashable, Iterable, Iterator, Mapping
from functools import cached_property, lru_cache
from hashlib import sha256
from itertools import chain, islice
from pathlib import Path

from pydantic import ValidationError

from paramgen import installed
from paramgen.budget import MOST_BYTES
from paramgen.embellishment.kind_options import Embellishment
from paramgen.nearest_word import did_you_mean
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.arithmetic_work import work_in
from paramgen.recipe.file_tables import file_tables, toml
from paramgen.recipe.join_parts import JoinedTables, join_parts
from paramgen.recipe.key_lines import Loc
from paramgen.recipe.language import RecipeFile, StepTable
from paramgen.recipe.name_check import clashes
from paramgen.recipe.read_part import PartText
from paramgen.recipe.read_uses import named_parts
from paramgen.recipe.reader_faults import in_file, said
from paramgen.recipe.use_check import use_clashes
from paramgen.reference.dotted import too_dotted
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: No more faults than these are looked for in one run.
MOST_FAULTS = 100

#: Parts beside a recipe lie in a folder of this name, and no more of them are listed.
PARTS = "parts"
MOST_LISTED = 300

_NAME = re.compile(r"[a-z][a-z0-9-]{0,39}")


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
        Of the text of its file and of its parts'; empty if it was read from none.
    title : str
        What a person calls the project that is made from it; empty for its own title.
    held : tuple of (name, title)
        What the things that it holds are called, where that is not what the file says.
    held_number : tuple of (name, number)
        How many of them a person asked for, where they said so.
    on : tuple of Embellishment
        What a person asks for on its panels, besides what the file does.
    """

    name: str
    source: str
    file: RecipeFile
    digest: str = ""
    title: str = ""
    held: tuple[tuple[str, str], ...] = ()
    held_number: tuple[tuple[str, int], ...] = ()
    on: tuple[Embellishment, ...] = ()

    def number_of(self, thing: str) -> int:
        """How many of a thing a person asked for; 0 where they did not say."""
        return dict(self.held_number).get(thing, 0)

    def kind_for(self, unit: Unit) -> str:
        """What the thing that it makes is called by who measures in a unit."""
        return english().as_used(self.file.title, unit)

    @property
    def key(self) -> tuple[Hashable, ...]:
        """Equal for recipes that say the same."""
        said = (self.title, self.held, self.held_number, self.on)
        return (self.digest or id(self.file), self.name, self.source, *said)

    @cached_property
    def repeated_work(self) -> tuple[tuple[Mapping[str, Formula], int], ...]:
        """How often each shape, piece, line and group of steps is repeated; and its terms."""
        file = self.file
        tables = (
            *chain.from_iterable(file.outlines.values()),
            *file.pieces.values(),
            *file.lines.values(),
            *(one for one in file.steps if not isinstance(one, StepTable)),
        )
        return tuple((one.repeat, work_in(one)) for one in tables if one.repeat)

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
    parts : tuple of PartText
        The parts that it names, as far as they were found.
    known : tuple of str
        Names of all parts that it could have named.
    """

    name: str
    source: str
    text: str
    parts: tuple[PartText, ...] = ()
    known: tuple[str, ...] = ()

    @property
    def whole(self) -> str:
        """Its text, and those of its parts: changed where any of them is."""
        return "\0".join((self.text, *(bit for one in self.parts for bit in (one.name, one.text))))

    def read(self) -> Recipe:
        """Understand it; raises InputError with its faults."""
        own = file_tables(self.text, self.source)
        joined = join_parts(own, self.parts, self.known)
        return Recipe(
            name=self.name,
            source=self.source,
            file=_understood(joined),
            digest=sha256(self.whole.encode("utf-8", "replace")).hexdigest(),
        )


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
    source = _shown(wanted if wanted not in known else path.name)
    return source_of(text, _shown(path.stem), source, None if wanted in known else path.parent)


def source_of(text: str, name: str, source: str, folder: Path | None = None) -> RecipeSource:
    """The text of a recipe, and those of the parts that it names.

    Parameters
    ----------
    text : str
    name, source : str
        As in `RecipeSource`.
    folder : Path or None
        Where the recipe lies, if it is a person's own: a part in the folder `parts` there is
        taken before one of that name that comes with the program. No other file is read.
    """
    named = _parts_named(text)
    if not named:
        return RecipeSource(name, source, text)
    folders = [installed.templates() / PARTS, *([folder / PARTS] if folder else [])]
    found = {one: path for place in folders for one in named if (path := _file(place, one))}
    return RecipeSource(
        name,
        source,
        text,
        tuple(_part(one, path) for one, path in found.items()),
        tuple(sorted({one for place in folders for one in _names_in(place)})),
    )


@lru_cache(maxsize=64)
def _parts_named(text: str) -> tuple[str, ...]:
    """Names of the parts that a text asks for: the page finds the same recipe again and again."""
    try:
        raw = toml(text) if PARTS_USED.search(text) and not too_dotted(text) else {}
    except (RecursionError, ValueError):
        return ()  # told when it is read
    return tuple(named_parts(raw))


#: Only a text with this word in it uses parts.
PARTS_USED = re.compile(r"\buses\b")


def _file(folder: Path, name: str) -> Path | None:
    """The file of a part in a folder, whatever it is; None if there is none."""
    if not _NAME.fullmatch(name):
        return None
    path = folder / f"{name}.toml"
    try:
        path.lstat()
    except OSError:
        return None
    return path


def _names_in(folder: Path) -> Iterator[str]:
    """Names of the parts in a folder, to tell them to who asks for another."""
    found = islice(folder.glob("*.toml"), MOST_LISTED)
    return (path.stem for path in found if _NAME.fullmatch(path.stem))


def _part(name: str, path: Path) -> PartText:
    source = f"{PARTS}/{path.name}"
    try:
        return PartText(name, source, _text(path, "a part"))
    except OSError as problem:
        return PartText(name, source, trouble=f"cannot be read: {problem.strerror}")
    except ValueError as problem:
        return PartText(name, source, trouble=str(problem))


def _shown(name: str) -> str:
    """A name of a file with what is no letter in it replaced, so that papers can bear it."""
    return name.encode("utf-8", "replace").decode()


def _text(path: Path, what: str = "a recipe") -> str:
    if path.is_fifo():
        raise ValueError("this is not a file")
    with path.open("rb") as stream:
        data = stream.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise ValueError(f"this is too large to be {what}")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError("this is not a text in UTF-8") from None


def read_recipe(text: str, *, name: str, source: str) -> Recipe:
    """Read a recipe from the text of its file; of parts, those that come with the program.

    Raises
    ------
    InputError
        With every fault found, up to `MOST_FAULTS`: first those of form, and only if there
        are none those of names.
    """
    return source_of(text, name, source).read()


def _understood(joined: JoinedTables) -> RecipeFile:
    raw = joined.raw
    found: Iterable[tuple[Loc, str, str, bool]]
    try:
        file = RecipeFile.model_validate(raw)
    except ValidationError as problem:
        found = ((*said(dict(error), raw, RecipeFile), False) for error in problem.errors())
    else:
        between = list(use_clashes(file, joined))
        wrong = between or clashes(file)
        found = ((in_file(one.loc, raw), one.message, one.hint, one.last) for one in wrong)
    told = []
    for loc, message, hint, last in islice(found, MOST_FAULTS + 1):
        tables, place = joined.place(loc)
        # What is only too much comes after all else.
        told.append((last, joined.rank(tables), tables.fault(place, message, hint)))
    told.sort(key=lambda one: (*one[:2], one[2].line or 0))
    faults = [fault for _, _, fault in told]
    if len(faults) > MOST_FAULTS:
        more = Fault(f"there are more faults than these {MOST_FAULTS}", joined.own.source)
        raise InputError([*faults[:MOST_FAULTS], more])
    if faults:
        raise InputError(faults)
    return file
