"""Where a formula takes its names from, and what a reference points at."""

from collections.abc import Iterable, Mapping
from typing import Any

from paramgen.budget import REACH
from paramgen.geometry.outlines import ShapeError
from paramgen.lengths import TOLERANCE
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.language import FinishTable, RecipeFile
from paramgen.recipe.terms import Reference
from paramgen.vocabulary.facts import Clause, Mm, Name, Position, Written, facts
from paramgen.vocabulary.path import Point

NamedValues = Mapping[str, Any]


def as_named(name: str) -> Name:
    """What a recipe names, said as it is written there.

    >>> as_named("pocket[2]")
    Name(kind='key', name='pocket[2]', title='pocket[2]')
    """
    return Name("key", name, name)


def label(name: str, index: str, names: NamedValues) -> str:
    """Name of one of a repeated thing, `pocket[2]`; the plain name if it is not repeated.

    Examples
    --------
    >>> label("pocket", "k", {"k": 2}), label("pocket", "", {})
    ('pocket[2]', 'pocket')
    """
    return f"{name}[{names[index]:g}]" if index else name


def ending(file: RecipeFile, names: NamedValues) -> FinishTable:
    """How it ends, with the choices that there are: the first of which the condition holds."""
    return next(one for one in file.finish if holds(one.when, names))


def pointed_at(reference: Reference, names: NamedValues) -> str:
    """Name that a reference points at, with its index worked out."""
    if reference.index is None:
        return reference.name
    return f"{reference.name}[{reference.index.number(names):g}]"


def all_of(
    references: Iterable[Reference], names: NamedValues, there: Iterable[str]
) -> tuple[str, ...]:
    """Names that references point at, of those that are there.

    The bare name of what is repeated means all its turns; what the choices leave out is left
    out.
    """
    listed = tuple(there)
    found: dict[str, None] = {}
    for reference in references:
        wanted = pointed_at(reference, names)
        every = f"{wanted}[" if reference.index is None else wanted
        found |= dict.fromkeys(one for one in listed if one == wanted or one.startswith(every))
    return tuple(found)


def holds(when: Formula | None, names: NamedValues) -> bool:
    """Whether a thing is there at all."""
    return when is None or when.truth(names)


def spot(pair: list[Formula], names: NamedValues) -> Point:
    """Point given by two formulas, mm.

    Raises
    ------
    ShapeError
        If it lies farther out than anything in a hoop can.
    """
    point = pair[0].number(names), pair[1].number(names)
    if not all(abs(place) <= REACH for place in point):
        within_reach(Clause("the-point", facts(at=Position(*point))), point)
    return point


def whole(what: Clause, number: float, least: int) -> int:
    """A number of things, which is a whole one.

    Raises
    ------
    ShapeError
        If it is not, or is less than the least.

    Examples
    --------
    >>> whole(Clause("number-of-sides"), 6.0, 3)
    6
    >>> whole(Clause("number-of-sides"), 6.5, 3)
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: not-whole {'what': Clause(key='number-of-sides', \
facts=()), 'number': Written(parts=(6.5,)), 'least': 3}
    """
    nearest = round(number)
    if abs(number - nearest) > TOLERANCE or nearest < least:
        raise ShapeError("not-whole", what=what, number=Written((number,)), least=least)
    return nearest


def within_reach(what: Clause, places: Iterable[float]) -> None:
    """Refuse what lies, or reaches, farther out than anything in a hoop can.

    Parameters
    ----------
    what : Clause
        The start of a sentence.
    places : iterable of float
        In x or y, mm.

    Raises
    ------
    ShapeError

    Examples
    --------
    >>> within_reach(Clause("it"), [-2500.0, 12.0]), within_reach(Clause("it"), [])
    (None, None)
    >>> within_reach(Clause("it"), [2501.0])
    Traceback (most recent call last):
        ...
    paramgen.geometry.outlines.ShapeError: too-far-out {'what': Clause(key='it', facts=()), \
'lies': Mm(value=2501.0, towards=''), 'most': Mm(value=2500.0, towards='')}
    """
    farthest = max(map(abs, places), default=0.0)
    if not farthest <= REACH:
        raise ShapeError("too-far-out", what=what, lies=Mm(farthest), most=Mm(REACH))
