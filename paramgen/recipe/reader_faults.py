"""The reader's complaints, said in the words of the file: table, key, value."""

import json
import re
from collections.abc import Iterator
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from paramgen.nearest_word import did_you_mean
from paramgen.recipe.key_lines import Loc

_WANTED = {
    "string_type": "a text in quotes is wanted",
    "int_type": "a whole number is wanted",
    "bool_type": "true or false is wanted",
    "list_type": "a list in [ ] is wanted",
    "dict_type": "a table is wanted",
    "model_type": "a table is wanted",
    "model_attributes_type": "a table is wanted",
    "string_too_short": "a text is wanted, this is empty",
    "string_too_long": "this text is too long",
}


#: How a piece is named in lists that want tables.
_OF_PIECES: dict[Loc, str] = {
    ("lay",): '{{ piece = "{}", side = "front", up = "right" }}',
    ("tape",): '{{ piece = "{}" }}',
}
#: Words that belong elsewhere, by the key that they were given for.
_ELSEWHERE: dict[Loc, str] = {
    ("do", "tape"): 'Taping has a key of its own: tape = [{ piece = "front" }].',
    ("do", "lay"): 'Laying has a key of its own: lay = [{ piece = "front", side = "front", '
    'up = "right" }].',
    ("do", "stitch"): 'Stitching has a key of its own: stitch = ["seam"].',
    ("up", "down"): "What lies right side down has its wrong side up.",
}


def said(error: dict[str, Any], raw: object, top: type[BaseModel]) -> tuple[Loc, str, str]:
    """Put one of pydantic's errors in the words of the file.

    Parameters
    ----------
    error : dict
        One of ``ValidationError.errors()``.
    raw : object
        What was read, as plain dicts and lists.
    top : type of BaseModel
        The model that was asked for.

    Returns
    -------
    loc : path of keys in the file
    message : str
    hint : str
    """
    loc, kind, context = in_file(error["loc"], raw), error["type"], error.get("ctx", {})
    if kind == "extra_forbidden":
        valid = _keys(top, error["loc"][:-1])
        hint = did_you_mean(str(loc[-1]), valid)
        return loc, f"no key `{loc[-1]}` belongs here", hint or f"There are {', '.join(valid)}."
    if kind == "missing":
        key = error["loc"][-1]
        hint = "Write `format = 1` before the first table." if error["loc"] == ("format",) else ""
        return loc, f"the key `{key}` is missing", hint
    if kind == "value_error":
        return loc, str(context["error"]), ""
    if kind in ("literal_error", "union_tag_invalid"):
        given = context.get("tag") or error["input"]
        valid_text = context.get("expected") or context.get("expected_tags", "")
        options = re.findall(r"'([^']+)'", valid_text) or [valid_text]
        hint = _ELSEWHERE.get((*loc[-1:], str(given)), "") or did_you_mean(str(given), options)
        key = (*loc, "shape") if kind == "union_tag_invalid" else loc
        return key, f"`{given}` is not one of {', '.join(options)}", hint
    if kind == "union_tag_not_found":
        return loc, "the key `shape` is missing", ""
    if kind == "string_pattern_mismatch":
        return loc, f"`{error['input']}` is no name: small letters and digits, a letter first", ""
    if kind in ("too_short", "too_long"):
        bound = context.get("min_length", context.get("max_length"))
        more = "at least" if kind == "too_short" else "at most"
        return loc, f"{more} {bound} wanted, this has {len(error['input'])}", ""
    if kind == "model_type" and isinstance(error["input"], str) and loc[-2:-1] in _OF_PIECES:
        return loc, _WANTED[kind], f"Write {_OF_PIECES[loc[-2:-1]].format(error['input'])}."
    hint = ""
    if kind == "list_type":
        hint = _as_list(loc, error["input"])
    if kind in ("dict_type", "model_type", "model_attributes_type"):
        hint = _as_table(loc, error["input"], _keys(top, error["loc"], needed=True))
    return loc, _WANTED.get(kind, error["msg"]), hint


#: What stands for a key in an example.
_FOR_EXAMPLE = {
    "means": '"what it is"',
    "default": '"10mm"',
    "least": "1",
    "most": "3",
    "title": '"front"',
    "fabric": '"cotton"',
    "piece": '"front"',
    "side": '"front"',
    "up": '"right"',
    "fold": '"half"',
    "along": '"height"',
    "on": '"seam"',
    "length": '"60mm"',
    "repeat": '{ k = "3" }',
    "options": '{ yes = "what it is", no = "what it is" }',
}


def _as_list(loc: Loc, given: object) -> str:
    """What is no list, written as one."""
    if not loc or (shown := _toml(given)) is None:
        return ""
    if isinstance(given, dict) and len(loc) == 1:
        return f"Write [[{loc[0]}]] above its keys, in double brackets."
    return f"Write {loc[-1]} = [{shown}]."


def _as_table(loc: Loc, given: object, needed: list[str]) -> str:
    """What is no table, written as one, with the keys that it must have."""
    name = ".".join(map(str, loc))
    if isinstance(given, list) and given and isinstance(given[0], dict):
        return f"Write [{name}] once, in single brackets."
    keys = {key: _FOR_EXAMPLE.get(key, '"..."') for key in needed}
    if not keys and isinstance(given, list):
        if loc[-1:] == ("repeat",):
            keys = {"k": '"3"'}
        else:
            keys = {one: '"what it is"' for one in given if isinstance(one, str)}
    scalar = _toml(given) if isinstance(given, str | int | float) else None
    for key in ("default", "fold", "piece"):
        if key in keys and scalar is not None:
            keys[key] = scalar
            break
    if not keys:
        return ""
    table = f"{{ {', '.join(f'{key} = {value}' for key, value in keys.items())} }}"
    return f"Write {table}." if isinstance(loc[-1], int) else f"Write, say, {loc[-1]} = {table}."


def _toml(given: object) -> str | None:
    """A value as a recipe has it on one line; None if it is none, or long."""
    shown: str | None = None
    match given:
        case bool():
            shown = str(given).lower()
        case str():
            shown = json.dumps(given, ensure_ascii=False)
        case int() | float():
            shown = f"{given}"
        case dict():
            inside = {key: _toml(value) for key, value in given.items()}
            if all(value is not None for value in inside.values()):
                shown = f"{{ {', '.join(f'{key} = {value}' for key, value in inside.items())} }}"
        case list():
            each = [_toml(value) for value in given]
            if all(value is not None for value in each):
                shown = f"[{', '.join(map(str, each))}]"
        case _:
            pass
    return shown if shown is not None and len(shown) <= _LONGEST_EXAMPLE else None


#: A longer value is not written out.
_LONGEST_EXAMPLE = 110


def in_file(loc: Loc, raw: object) -> Loc:
    """Keep of a path what stands in the file, dropping the reader's own tags and lists of one.

    Examples
    --------
    The first `ring` is the shape, by which the reader tells the tables of a union apart; the second
    is a key of that shape:

    >>> in_file(("leaf", "ring", "ring"), {"leaf": {"shape": "ring", "ring": 3}})
    ('leaf', 'ring')
    """
    kept: list[str | int] = []
    here: Any = raw
    by_shape = False
    for part in loc:
        inside = dict(enumerate(here)) if isinstance(here, list) else here
        if not isinstance(inside, dict):
            continue
        if not by_shape and inside.get("shape") == part:
            by_shape = True
        elif part in inside:
            here = inside[part]
            kept.append(part)
            by_shape = False
    return tuple(kept)


def _keys(top: type[BaseModel], loc: Loc, *, needed: bool = False) -> list[str]:
    """Keys that the table at a path may have; or only those that it must have."""
    kinds: list[Any] = [top]
    for part in loc:
        if part in ("table", "other") and len(kinds) > 1:  # tags, in the order of the union
            kinds = kinds[:1] if part == "table" else kinds[1:]
        elif len(kinds) > 1 and (shaped := [kind for kind in kinds if part in _shapes(kind)]):
            kinds = shaped
        else:
            kinds = [inner for kind in kinds for inner in _step(kind, part)]
    models = [kind for kind in kinds if isinstance(kind, type) and issubclass(kind, BaseModel)]
    return [
        info.alias or key
        for model in models[:1]
        for key, info in model.model_fields.items()
        if info.is_required() or not needed
    ]


def _step(kind: Any, part: str | int) -> Iterator[Any]:
    """Types met at a key of a model, or an entry of a dict or list."""
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        field = kind.model_fields.get(str(part))
        if field is not None:
            yield from _plain(field.annotation)
    elif get_origin(kind) is dict:
        yield from _plain(get_args(kind)[1])
    elif get_origin(kind) is list and isinstance(part, int):
        yield from _plain(get_args(kind)[0])


def _shapes(kind: Any) -> tuple[Any, ...]:
    """Words for `shape` by which a model is chosen from a union."""
    if not (isinstance(kind, type) and issubclass(kind, BaseModel)):
        return ()
    shape = kind.model_fields.get("shape")
    return () if shape is None else get_args(shape.annotation)


def _plain(kind: Any) -> Iterator[Any]:
    """Types a type stands for, without notes, options and tags."""
    origin = get_origin(kind)
    if origin is Annotated:
        yield from _plain(get_args(kind)[0])
    elif origin in (Union, UnionType):
        for one in get_args(kind):
            yield from _plain(one)
    elif origin is not Literal and kind is not type(None):
        yield kind
