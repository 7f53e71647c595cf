"""The text of a shipped recipe with its parts put in, written as one would write it by hand."""

import json
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from paramgen.recipe.file_tables import file_tables
from paramgen.recipe.join_parts import join_parts
from paramgen.recipe.read_recipe import find_source

#: Tables that are written as one line for each entry.
_ON_LINES = ("lengths", "values")
_LONGEST = 100


@lru_cache
def flat_text(name: str) -> str:
    """A recipe as if it used no parts; without the remarks in it."""
    source = find_source(name)
    own = file_tables(source.text, source.source)
    raw = join_parts(own, source.parts, source.known).raw
    raw.pop("uses", None)
    return "\n\n".join(_blocks(raw)) + "\n"


def _blocks(raw: Mapping[str, Any]) -> Iterator[str]:
    yield _keys({key: value for key, value in raw.items() if not isinstance(value, dict | list)})
    for table, entries in raw.items():
        if table in _ON_LINES:
            yield f"[{table}]\n" + _keys(entries, longest=10_000)
        elif table == "finish" and isinstance(entries, dict):
            yield f"[{table}]\n{_keys(entries)}"
        elif isinstance(entries, list):
            for entry in entries:
                yield f"[[{table}]]\n" + _keys({k: v for k, v in entry.items() if k != "steps"})
                yield from (f"[[{table}.steps]]\n{_keys(one)}" for one in entry.get("steps", []))
        elif isinstance(entries, dict):
            for name, entry in entries.items():
                several = isinstance(entry, list)
                for one in entry if several else [entry]:
                    yield (
                        f"[[{table}.{name}]]\n{_keys(one)}"
                        if several
                        else (f"[{table}.{name}]\n{_keys(one)}")
                    )


def _keys(entry: Mapping[str, Any], longest: int = _LONGEST) -> str:
    return "\n".join(_line(key, value, longest) for key, value in entry.items())


def _line(key: str, value: Any, longest: int) -> str:
    line = f"{key} = {_value(value)}"
    if len(line) <= longest or not isinstance(value, list) or len(value) < 2:
        return line
    return f"{key} = [\n" + "".join(f"    {_value(one)},\n" for one in value) + "]"


def _value(value: Any) -> str:
    match value:
        case dict():
            return "{ " + ", ".join(f"{key} = {_value(one)}" for key, one in value.items()) + " }"
        case list():
            return f"[{', '.join(map(_value, value))}]"
        case _:
            return json.dumps(value, ensure_ascii=False)
