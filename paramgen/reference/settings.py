"""What a person says once: which hoops are theirs, which stitch files, unit and paper."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

from paramgen.nearest_word import did_you_mean
from paramgen.reference.lists_file import read_toml
from paramgen.reference.own_folder import own
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: Every key of the file; the first two are lists of texts, the others a text each.
LISTS, TEXTS = ("hoops", "files"), ("unit", "paper")
KEYS = (*LISTS, *TEXTS)
#: Hoops that are asked in turn; a workshop has some dozen. Kinds of stitch file are fewer.
MOST_IN_A_LIST = 50


@dataclass(frozen=True)
class Settings:
    """What a person said once, as they wrote it; empty where they said nothing.

    Parameters
    ----------
    hoops : tuple of str
        In the order in which they are to be asked.
    files : tuple of str
    unit, paper : str
    """

    hoops: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    unit: str = ""
    paper: str = ""


def own_settings() -> Path:
    """Tell where a person's settings are read from; the file need not be there."""
    return own("settings.toml")


def read_settings(file: Path) -> Settings:
    """Read a person's settings; without a file there are none.

    Raises
    ------
    InputError
        With every fault of the file: key, line and the nearest valid key.
    """
    try:
        said = read_toml(file)
        text = file.read_text("utf-8-sig") if said else ""
    except (FileNotFoundError, NotADirectoryError):
        return Settings()
    faults = []
    texts: dict[str, str] = {}
    lists: dict[str, tuple[str, ...]] = {}
    for key, value in said.items():
        where, line = f"{file}, key `{key}`", line_of(text, key)
        if key not in KEYS:
            hint = did_you_mean(key, KEYS) or f"Keys here: {', '.join(KEYS)}."
            faults.append(Fault("there is no such key.", where, line, hint))
        elif key in TEXTS and not isinstance(value, str):
            faults.append(Fault("this is a text.", where, line, "Put it in quotes."))
        elif key in TEXTS:
            texts[key] = value.strip()
        elif not isinstance(value, list) or not all(isinstance(one, str) for one in value):
            hint = f'Write {key} = ["{"130x180" if key == "hoops" else "dst"}"].'
            faults.append(Fault("this is a list of texts.", where, line, hint))
        elif len(value) > MOST_IN_A_LIST:
            message = f"it lists {len(value):,}; at most {MOST_IN_A_LIST} are asked."
            faults.append(Fault(message, where, line, "Keep in it only what you use."))
        else:
            lists[key] = tuple(one.strip() for one in value if one.strip())
    if faults:
        raise InputError(faults)
    return Settings(
        lists.get("hoops", ()),
        lists.get("files", ()),
        texts.get("unit", ""),
        texts.get("paper", ""),
    )


def line_of(text: str, key: str) -> int | None:
    """Line on which a key stands, from 1."""
    name = re.escape(key)
    found = re.search(rf"^[ \t]*(?:[\"']?{name}[\"']?[ \t]*[=.]|\[+{name})", text, re.MULTILINE)
    return text.count("\n", 0, found.start()) + 1 if found else None


def changed(text: str, changes: Mapping[str, str | tuple[str, ...]]) -> str | None:
    r"""Write settings into the text of the file; what else it holds stays.

    Parameters
    ----------
    text : str
        Of the file as it is; empty if there is none.
    changes : mapping of key to value
        An empty value takes the key out.

    Returns
    -------
    str or None
        None if the file is written so that its keys cannot be changed one by one.

    Examples
    --------
    >>> changed('# mine\nunit = "mm"\n', {"unit": "in", "hoops": ("5x7in",)})
    '# mine\nunit = "in"\nhoops = ["5x7in"]\n'
    """
    lines = text.splitlines()
    for key, value in changes.items():
        own_line = re.compile(rf"[ \t]*{key}[ \t]*=")
        at = next((place for place, line in enumerate(lines) if own_line.match(line)), None)
        said = [f"{key} = {_toml(value)}"] if value else []
        if at is None:
            lines += said
        else:
            lines[at : at + 1] = said
    new = "".join(f"{line}\n" for line in lines)
    try:
        before, after = tomllib.loads(text), tomllib.loads(new)
    except tomllib.TOMLDecodeError:
        return None
    wanted = {**before, **{key: _plain(value) for key, value in changes.items()}}
    return new if after == {key: value for key, value in wanted.items() if value} else None


def _plain(value: str | tuple[str, ...]) -> str | list[str]:
    return value if isinstance(value, str) else list(value)


def _toml(value: str | tuple[str, ...]) -> str:
    if isinstance(value, str):
        escaped = value.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{escaped}"'
    return f"[{', '.join(map(_toml, value))}]"
