"""What a person says once: put to use where they say nothing else, set, and shown.

Settings are words, filled in where nothing was typed, so that all that reads words, and what a row
of a table is made from, needs to know nothing of them.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from paramgen.cli.known import known_hoops, unit_asked
from paramgen.cli.text_tables import table
from paramgen.cli.typed_request import TypedRequest
from paramgen.files.format_choice import formats_named
from paramgen.nearest_word import did_you_mean
from paramgen.pack.whole_file import put
from paramgen.reference.hoops import with_mine
from paramgen.reference.lists_file import read_toml
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.reference.settings import (
    KEYS,
    Settings,
    changed,
    line_of,
    own_settings,
    read_settings,
)
from paramgen.vocabulary.findings import Fault, Faults, InputError, WriteError
from paramgen.vocabulary.unit import Unit

_MEANS = {
    "hoops": "your hoops, asked in turn where no --hoop is given",
    "files": "the stitch files that are written",
    "unit": "shown first, where nothing you type has a unit",
    "paper": "for templates, fit sheet and booklet",
}
_ELSE = {"hoops": "none", "files": "all", "unit": "mm", "paper": "by the unit"}


def with_settings(words: TypedRequest, settings: Settings | None = None) -> TypedRequest:
    """Fill in what a person said once, where they say nothing now.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    said = _sound(own_settings()) if settings is None else settings
    inches = bool(said.hoops) and not said.unit
    return replace(
        words,
        more_hoops=words.more_hoops if words.hoop.strip() else said.hoops,
        files=words.files or ",".join(said.files),
        paper=words.paper or said.paper,
        usual_unit=said.unit or (str(unit_asked("", said.hoops[:1])) if inches else ""),
    )


def unit_shown(typed: str) -> Unit:
    """The unit of what is only shown: the one typed, else as a person said once."""
    return unit_asked(typed, (), with_settings(TypedRequest()).usual_unit)


def change_settings(changes: Mapping[str, Sequence[str]], forget: Sequence[str]) -> str:
    """Change the file, and say what is set then.

    Raises
    ------
    InputError
        With every fault in what is to be set.
    WriteError
        If the file cannot be written.
    """
    file = own_settings()
    gone = dict(_forgotten(forget))
    if both := [key for key in changes if key in gone]:
        raise InputError([Fault("is set and forgotten at once", f"--forget {both[0]}")])
    said = {
        key: value if isinstance(value, str) else tuple(value) for key, value in changes.items()
    }
    wanted = {**gone, **said}
    if wanted:
        _check(
            Settings(
                tuple(changes.get("hoops", ())),
                tuple(changes.get("files", ())),
                str(changes.get("unit", "")),
                str(changes.get("paper", "")),
            )
        )
        _put(file, wanted)
    return settings_text(file)


def settings_text(file: Path) -> str:
    """What is set, and where."""
    said = _sound(file)
    rows = []
    for key in KEYS:
        value = getattr(said, key)
        shown = value if isinstance(value, str) else ", ".join(value)
        rows.append((key, shown or f"not set: {_ELSE[key]}", _MEANS[key]))
    there = f"In {file}" if file.exists() else f"Nothing is set yet; it would be in {file}"
    return f"{table(('', 'set to', 'what it is'), rows)}\n{there}"


def _forgotten(forget: Iterable[str]) -> Iterable[tuple[str, str]]:
    for typed in forget:
        word = typed.strip().lower().removeprefix("--")
        key = {"hoop": "hoops", "file": "files", "units": "unit", "papers": "paper"}.get(word, word)
        if key == "all":
            yield from ((one, "") for one in KEYS)
        elif key in KEYS:
            yield key, ""
        else:
            hint = did_you_mean(key, KEYS) or f"There are {', '.join(KEYS)} and all."
            raise InputError([Fault(f"`{typed}` is nothing that is set", "--forget", hint=hint)])


def _sound(file: Path) -> Settings:
    """The settings of a file whose words are all known."""
    said = read_settings(file)
    try:
        _check(said)
    except InputError as problem:
        # Whoever typed nothing of the kind must know where it stands.
        raise InputError(_in_file(file, fault) for fault in problem.faults) from None
    return said


def _in_file(file: Path, fault: Fault) -> Fault:
    """A fault of what an option would say, with its place in the file."""
    option, *_ = [*fault.where.split(), ""]
    keys = {"--hoop": "hoops", "--files": "files", "--unit": "unit", "--paper": "paper"}
    if option not in keys:
        return fault
    line = line_of(file.read_text("utf-8-sig"), keys[option])
    return replace(fault, where=f"{file}, key `{keys[option]}`", line=line)


def _check(said: Settings) -> None:
    """Refuse words that are not known; raises InputError with every fault."""
    faults = Faults()
    hoops = faults.tried(lambda: known_hoops(mine=()))
    if hoops and said.hoops:
        faults.tried(lambda: with_mine(hoops, said.hoops, where="--hoop"))
    if said.files:
        faults.tried(lambda: formats_named(said.files))
    if said.unit:
        faults.tried(lambda: unit_asked(said.unit))
    if said.paper:
        faults.tried(lambda: find_paper(said.paper, listed_papers(), where="--paper"))
    if faults:
        raise InputError(faults)


def _put(file: Path, wanted: Mapping[str, str | tuple[str, ...]]) -> None:
    """Write settings into the file, whole or not at all; what else it holds stays."""
    try:
        text = ""
        if file.exists():
            read_toml(file)
            text = file.read_text("utf-8-sig")
        new = changed(text, wanted)
        if new is None:
            hint = f"Change {' and '.join(wanted)} in it by hand."
            raise InputError([Fault("is not written one key a line", str(file), hint=hint)])
        file.parent.mkdir(parents=True, exist_ok=True)
        put(file, [new.encode()])
    except (OSError, UnicodeDecodeError) as problem:
        said = getattr(problem, "strerror", None) or problem
        raise WriteError(f"{file} cannot be written: {said}. Nothing was changed.") from None
