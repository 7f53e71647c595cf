"""The formulas, sentences and names in plain tables, found by the declaration of the language."""

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from paramgen.recipe.terms import PlainText, ReadBy

#: What becomes of a term: told what it is (`ReadBy.what`) and how it is written.
Change = Callable[[str, Any], Any]


def rewritten(raw: Any, kind: Any, change: Change) -> Any:
    """The same tables with every term put in other words.

    Parameters
    ----------
    raw : dict, list, str, number or bool
        As the file has it.
    kind : type
        What it is declared to be. What is not declared is left as it is.
    change : callable
        What it gives as a list is put, each for itself, in the list where the term stands.

    Examples
    --------
    >>> from paramgen.recipe.language import TapeOn
    >>> tape = {"piece": "top", "at": ["left"], "over": [["0", "2 * depth"]]}
    >>> rewritten(tape, TapeOn, lambda what, text: f"{what} {text}")
    {'piece': 'laid top', 'at': ['left'], 'over': [['formula 0', 'formula 2 * depth']]}
    """
    return _rewritten(raw, list(_kinds(kind, ())), change)


def _rewritten(raw: Any, kinds: list[tuple[Any, str]], change: Change) -> Any:
    match raw:
        case dict():
            return _table(raw, kinds, change)
        case list():
            inside = next((get_args(kind)[0] for kind, _ in kinds if get_origin(kind) is list), Any)
            each = [(one, rewritten(one, inside, change)) for one in raw]
            return [
                two
                for one, new in each
                for two in (new if isinstance(new, list) and not isinstance(one, list) else [new])
            ]
        case _:
            what = next((what for _, what in kinds if what), "")
            return change(what, raw) if what else raw


def _table(raw: dict[str, Any], kinds: list[tuple[Any, str]], change: Change) -> dict[str, Any]:
    models = [kind for kind, _ in kinds if isinstance(kind, type) and issubclass(kind, BaseModel)]
    if models:
        keys = _fields(max(models, key=lambda model: _fits(model, raw)))
        return {
            key: _rewritten(value, keys[key], change) if key in keys else value
            for key, value in raw.items()
        }
    for kind, _ in kinds:
        if get_origin(kind) is dict:
            return {key: rewritten(one, get_args(kind)[1], change) for key, one in raw.items()}
        if get_origin(kind) is list:  # a list of one, written without brackets
            return _table(raw, list(_kinds(get_args(kind)[0], ())), change)
    return raw


@lru_cache(maxsize=128)
def _fields(model: type[BaseModel]) -> Mapping[str, list[tuple[Any, str]]]:
    return {
        info.alias or key: list(_kinds(info.annotation, tuple(info.metadata)))
        for key, info in model.model_fields.items()
    }


def _fits(model: type[BaseModel], raw: Mapping[str, Any]) -> tuple[bool, int]:
    """How well a table is one of a model: by its shape, then by its keys."""
    shape = model.model_fields.get("shape")
    shaped = shape is not None and raw.get("shape") in get_args(shape.annotation)
    return shaped, len(_fields(model).keys() & raw.keys())


def _kinds(kind: Any, notes: tuple[Any, ...]) -> Iterator[tuple[Any, str]]:
    """Types that a type stands for, each with what a term of it is; empty if it is no term."""
    origin = get_origin(kind)
    if origin is Annotated:
        yield from _kinds(get_args(kind)[0], (*get_args(kind)[1:], *notes))
    elif origin in (Union, UnionType):
        for one in get_args(kind):
            yield from _kinds(one, ())
    elif kind is not NoneType and origin is not Literal:
        what = (one.what for one in notes if isinstance(one, ReadBy | PlainText))
        yield kind, next(what, "")
