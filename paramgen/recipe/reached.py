"""Which of a recipe's lengths its shapes are made from."""

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.built_in import BUILT_IN
from paramgen.recipe.file import RecipeFile


def lengths_in_shapes(file: RecipeFile) -> tuple[str, ...]:
    """Names of the lengths that pieces, outlines and stitched lines are worked out from.

    By way of values too, and not by way of another length: that one is named itself. The
    lengths of stitches that every recipe has come last.
    """
    reached = _names((file.pieces, file.outlines, file.lines))
    while True:
        values = {name: value for name, value in file.values.items() if name in reached}
        more = reached | _names(tuple(values.values()))
        if more == reached:
            break
        reached = more
    return (*(name for name in file.lengths if name in reached), *BUILT_IN)


def _names(part: Any) -> frozenset[str]:
    return frozenset(name for formula in _formulas(part) for name in formula.names)


def _formulas(part: Any) -> Iterator[Formula]:
    """Every formula in a part of a recipe file, however deep."""
    if isinstance(part, Formula):
        yield part
    elif isinstance(part, BaseModel):
        for name in type(part).model_fields:
            yield from _formulas(getattr(part, name))
    elif isinstance(part, dict):
        for one in part.values():
            yield from _formulas(one)
    elif isinstance(part, list | tuple):
        for one in part:
            yield from _formulas(one)
