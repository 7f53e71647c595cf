"""A TOML file as plain tables, with the line of each key: safe to show, not yet understood."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import field
from functools import cached_property, lru_cache
from typing import Any

from paramgen.recipe.key_lines import Loc, key_lines, line_of
from paramgen.reference.dotted import TOO_DOTTED, too_dotted
from paramgen.vocabulary.findings import UNSHOWN, Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

_MESSAGE = "a character that cannot be shown stands in it"


@dataclass(frozen=True)
class FileTables:
    """What a file holds.

    Parameters
    ----------
    source : str
        Where it was read, for messages.
    raw : dict
        Its tables, every text on one line.
    text : str
        As it was read.
    """

    source: str
    raw: Mapping[str, Any]
    text: str = field(repr=False)

    @cached_property
    def _lines(self) -> Mapping[Loc, int]:
        """Line of each key: looked up only where something is wrong."""
        return key_lines(self.text)

    def fault(self, loc: Loc, message: str, hint: str = "") -> Fault:
        """Say what is wrong at a key."""
        return Fault(message, _where(self.source, loc), line_of(self._lines, loc), hint)


def file_tables(text: str, source: str) -> FileTables:
    """Read the tables of a file.

    Raises
    ------
    InputError
        If it is no TOML, or would do more to a screen or a paper than be read there.
    """
    if dotted := too_dotted(text):
        raise InputError([Fault(TOO_DOTTED, source, dotted)])
    try:
        raw = toml(text)
    except RecursionError:
        raise InputError([Fault("brackets are nested too deeply", source)]) from None
    except ValueError:  # not TOML, or a number of thousands of digits
        from paramgen.recipe.not_toml import torn  # noqa: PLC0415 (seldom wanted)

        raise InputError(torn(text, source)) from None
    tables = FileTables(source, raw, text)
    if unshown := list(_unshown(raw, ())):
        raise InputError(tables.fault(loc, message) for loc, message in unshown)
    return FileTables(source, _on_one_line(raw), text)


# Which parts a recipe names is asked before it is read.
@lru_cache(maxsize=2)
def toml(text: str) -> Mapping[str, Any]:
    """What a text holds; raises as `tomllib.loads`."""
    return tomllib.loads(text)


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
