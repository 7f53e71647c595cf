"""What is known of a finding, as values: lengths, counts, names; no sentences and no unit.

Whoever shows them puts them in words, in the person's unit; see `wording`.
"""

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class Mm:
    """A length.

    Parameters
    ----------
    value : float
        Millimetres.
    towards : str
        `up` or `down` where what is shown must be enough; empty for the nearest.
    """

    value: float
    towards: str = ""


@dataclass(frozen=True)
class MmByMm:
    """A width and height, mm."""

    width: float
    height: float


@dataclass(frozen=True)
class SquareMm:
    """An area, mm²."""

    value: float


@dataclass(frozen=True)
class Degrees:
    """An angle."""

    value: float


@dataclass(frozen=True)
class Position:
    """A place in the hoop, mm from its centre: right, and down."""

    x: float
    y: float


@dataclass(frozen=True)
class Name:
    """What something is called.

    Parameters
    ----------
    kind : str
        What it names: `piece`, `notion`, `line`, `thing`, `hoop`, `size`, `fabric`, `file`, or
        `key`: anything that a recipe names, said as it is written there.
    name : str
        Stable: as the recipe or a list has it.
    title : str
        As the person reads it.
    """

    kind: str
    name: str
    title: str


@dataclass(frozen=True)
class NamesInTurn:
    """What several things are called, in order; at least one."""

    each: tuple[Name, ...]


@dataclass(frozen=True)
class StepName:
    """A step: its number, from 1, and its title."""

    number: int
    title: str


@dataclass(frozen=True)
class Term:
    """A word of a closed set: `Term("opening", "zip")`."""

    group: str
    word: str


@dataclass(frozen=True)
class Written:
    """A sentence of someone else's, a recipe's say, with its lengths and numbers as values."""

    parts: tuple[str | Mm | float | Name, ...]


@dataclass(frozen=True)
class Clause:
    """A part of a sentence, or a sentence of several, with facts of its own.

    Parameters
    ----------
    key : str
        What the file of sentences has it under.
    facts : Facts
    """

    key: str
    facts: "Facts" = ()


@dataclass(frozen=True)
class Clauses:
    """Several of them, in order."""

    each: tuple[Clause, ...]


Fact = (
    Mm
    | MmByMm
    | SquareMm
    | Degrees
    | Position
    | int
    | Name
    | NamesInTurn
    | StepName
    | Term
    | Written
    | Clause
    | Clauses
)
#: What is known, by name, in the order given.
Facts = tuple[tuple[str, Fact], ...]


def facts(**known: Fact | None) -> Facts:
    """Put together what is known; what is None is not.

    Examples
    --------
    >>> facts(has=Mm(3.0), thick=None, layers=4)
    (('has', Mm(value=3.0, towards='')), ('layers', 4))

    >>> facts(thick=None)
    ()
    """
    return tuple((name, value) for name, value in known.items() if value is not None)


def names_in(known: Facts) -> tuple[object, ...]:
    """What facts are about, whatever their numbers are: equal where the same thing is meant.

    Examples
    --------
    >>> step = StepName(3, "Seam")
    >>> names_in(facts(step=step, has=Mm(3.0))) == names_in(facts(step=step, has=Mm(3.2)))
    True

    >>> names_in(facts(has=Mm(3.0)))
    ()
    """
    return tuple((name, _named(fact)) for name, fact in known if _named(fact))


def _named(fact: Fact) -> tuple[object, ...]:
    match fact:
        case Name() | NamesInTurn() | StepName() | Term():
            return (fact,)
        case Written():
            return tuple(part for part in fact.parts if isinstance(part, str | Name))
        case Clause():
            return (fact.key, names_in(fact.facts))
        case Clauses():
            return tuple(_named(one) for one in fact.each)
        case _:
            return ()
