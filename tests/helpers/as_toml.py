"""Plain tables written as TOML, each key of the top on one line."""

import json
from collections.abc import Mapping
from typing import Any


def as_toml(raw: Mapping[str, Any]) -> str:
    """The text of a file that holds these tables."""
    return "".join(f"{_text(key)} = {_value(value)}\n" for key, value in raw.items())


def _value(value: Any) -> str:
    match value:
        case bool():
            return str(value).lower()
        case str():
            return _text(value)
        case dict():
            inside = (f"{_text(key)} = {_value(one)}" for key, one in value.items())
            return f"{{ {', '.join(inside)} }}"
        case list():
            return f"[{', '.join(map(_value, value))}]"
        case _:
            return repr(value)


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)  # what JSON escapes, TOML reads the same
