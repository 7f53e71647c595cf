"""What a person says once: set, and shown."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from paramgen.cli.text_tables import table
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.settings_filled_in import check_settings, sound_settings
from paramgen.pack.whole_file import put
from paramgen.reference.lists_file import read_toml
from paramgen.reference.settings import (
    KEYS,
    Settings,
    changed,
    own_settings,
)
from paramgen.vocabulary.findings import Fault, InputError, WriteError

_MEANS = {
    "hoops": "your hoops, asked in turn where no --hoop is given",
    "files": "the stitch files that are written",
    "unit": "shown first, where nothing you type has a unit",
    "paper": "for templates, fit sheet and booklet",
}
_ELSE = {"hoops": "none", "files": "all", "unit": "mm", "paper": "by the unit"}


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
        check_settings(
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
    said = sound_settings(file)
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
