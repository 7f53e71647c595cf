"""Reading recipe files: strict, and every fault of a file in one run."""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from paramgen import installed
from paramgen.findings import Fault, InputError
from paramgen.nearest import did_you_mean
from paramgen.recipe.check import clashes
from paramgen.recipe.faults import said
from paramgen.recipe.file import RecipeFile
from paramgen.recipe.place import Loc, key_lines, line_of

#: A recipe is a page or five of text; anything larger is something else.
MOST_BYTES = 500_000


@dataclass(frozen=True)
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
    """

    name: str
    source: str
    file: RecipeFile


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
    known = listed()
    path = known.get(wanted)
    if path is None:
        path = Path(wanted)
        if path.suffix != ".toml" or not path.is_file():
            what = "no such file" if path.suffix == ".toml" else "no recipe of that name"
            hint = did_you_mean(wanted, known) or f"There are {', '.join(known)}."
            raise InputError([Fault(what, where=wanted, hint=hint)])
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as problem:
        raise InputError([Fault(problem.strerror or "cannot be read", where=wanted)]) from None
    if len(data) > MOST_BYTES:
        raise InputError([Fault("this is too large to be a recipe", where=wanted)])
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise InputError([Fault("this is not a text in UTF-8", where=wanted)]) from None
    return read_recipe(text, name=path.stem, source=wanted if wanted not in known else path.name)


def read_recipe(text: str, *, name: str, source: str) -> Recipe:
    """Read a recipe from the text of its file.

    Raises
    ------
    InputError
        With every fault found: first those of form, and only if there are none those of
        names.
    """
    try:
        raw = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as problem:
        raise InputError([Fault(f"not TOML: {problem}", where=source)]) from None
    lines = key_lines(text)
    try:
        file = RecipeFile.model_validate(raw)
    except ValidationError as problem:
        found = [said(dict(error), raw, RecipeFile) for error in problem.errors()]
    else:
        found = [(clash.loc, clash.message, clash.hint) for clash in clashes(file)]
    if found:
        faults = [
            Fault(message, _where(source, loc), line_of(lines, loc), hint)
            for loc, message, hint in found
        ]
        raise InputError(sorted(faults, key=lambda fault: fault.line or 0))
    return Recipe(name, source, file)


def _where(source: str, loc: Loc) -> str:
    key = "".join(f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in loc)
    return f"{source}: {key.removeprefix('.')}" if key else source
