"""Ruler marks along the edge of a picture that is not at true size."""

import math
from collections.abc import Iterator

from paramgen.drawings.primitives.lettering import text_width
from paramgen.lengths import INCH, TOLERANCE, show
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True)
class RulerStep:
    """How far the marks with a number lie apart.

    Parameters
    ----------
    length : float
        From one number to the next, mm.
    parts : int
        What the marks between them divide it into.
    """

    length: float
    parts: int


@dataclass(frozen=True)
class RulerMark:
    """A mark of a ruler.

    Parameters
    ----------
    at : float
        The length that it stands for, mm.
    number : str
        Empty for the marks between.
    """

    at: float
    number: str


def step_for(low: float, high: float, unit: Unit, scale: float, em: float) -> RulerStep:
    """Find the shortest round step whose numbers have room beside each other.

    Parameters
    ----------
    low, high : float
        What the ruler goes over, mm.
    unit : Unit
    scale : float
        How long a millimetre of it is drawn, mm.
    em : float
        Size of the numbers, mm.
    """
    for step in _steps(unit):
        if step.length * scale < 2 * em:
            continue
        numbers = [mark.number for mark in marks(low, high, step, unit) if mark.number]
        widest = max((text_width(number, em) for number in numbers), default=0.0)
        if step.length * scale >= widest + em:
            return step
    raise AssertionError("steps go on for ever")


def marks(low: float, high: float, step: RulerStep, unit: Unit) -> tuple[RulerMark, ...]:
    """Marks of a ruler from one length to another, none below 0."""
    apart = step.length / step.parts
    first = math.ceil((max(low, 0.0) - TOLERANCE) / apart)
    last = math.floor((high + TOLERANCE) / apart)
    return tuple(
        RulerMark(place * apart, "" if place % step.parts else _number(place * apart, unit))
        for place in range(first, last + 1)
    )


def _steps(unit: Unit) -> Iterator[RulerStep]:
    """Round steps, ever longer: inches are halved on a ruler, all else goes by tens."""
    of, decade = 1.0, 1
    if unit is Unit.INCH:
        of = INCH
        yield from (RulerStep(INCH / 8, 2), RulerStep(INCH / 4, 4), RulerStep(INCH / 2, 4))
    while True:
        yield from (RulerStep(of * decade, 5 if of == 1.0 else 4),)
        yield from (RulerStep(of * 2 * decade, 4), RulerStep(of * 5 * decade, 5))
        decade *= 10


def _number(mm: float, unit: Unit) -> str:
    return show(mm, unit).removesuffix(f" {unit}")
