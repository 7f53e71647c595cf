"""Where a formula takes its names from, and what a reference points at."""

from collections.abc import Mapping
from typing import Any

from paramgen.geometry.path import Point
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.terms import Reference

Names = Mapping[str, Any]


def label(name: str, index: str, names: Names) -> str:
    """Name of one of a repeated thing, `pocket[2]`; the plain name if it is not repeated."""
    return f"{name}[{names[index]:g}]" if index else name


def pointed_at(reference: Reference, names: Names) -> str:
    """Name that a reference points at, with its index worked out."""
    if reference.index is None:
        return reference.name
    return f"{reference.name}[{reference.index.number(names):g}]"


def holds(when: Formula | None, names: Names) -> bool:
    """Whether a thing is there at all."""
    return when is None or when.truth(names)


def spot(pair: list[Formula], names: Names) -> Point:
    """Point given by two formulas, mm."""
    return pair[0].number(names), pair[1].number(names)
