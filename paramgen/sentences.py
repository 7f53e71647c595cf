"""Filling in a recipe's sentences: lengths in the person's unit, edges as they lie."""

from collections.abc import Mapping
from dataclasses import field
from functools import lru_cache
from typing import Any, NamedTuple

from paramgen.lengths import RULER, LengthTold, show_all_apart
from paramgen.recipe.terms import DIRECTIONS, Sentence, ShownMeasure, TitleOf
from paramgen.vocabulary.facts import Mm, Name, Written
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: Lengths are shown to this, see `show`.
SHOWN_TO = {Unit.MM: 0.1, Unit.INCH: 25.4 / 16}


@dataclass(frozen=True)
class Speaker:
    """Fills in sentences for one person and one way of lying in the hoop.

    Parameters
    ----------
    unit : Unit
    counts : frozenset of str
        Names that are plain numbers and not lengths.
    turned : bool
        Whether the project lies turned by 90° clockwise: its top is at the right.
    titles : mapping of name to str
        What the things that it holds are called.
    half : bool
        Whether it lies half-turned besides, by 180°.
    """

    unit: Unit
    counts: frozenset[str]
    turned: bool = False
    titles: Mapping[str, str] = field(default_factory=dict)
    half: bool = False

    def say(
        self,
        sentence: Sentence,
        names: Mapping[str, Any],
        indices: str = "",
        *,
        from_back: bool = False,
    ) -> str:
        """Fill in one sentence, in the words of who measures in the unit.

        Lengths in it that a ruler tells apart read differently.

        Parameters
        ----------
        names : mapping
            Values for its formulas.
        indices : str
            Name of the repeat's index, a plain number too; empty if there is none.
        from_back : bool
            Whether the person looks at the back of the hoop: left and right change places.

        Raises
        ------
        FormulaError
            If a formula in it cannot be worked out.
        """
        if sentence.plain:
            return _filled_in(sentence.plain, self.unit, self._seen(from_back=from_back))
        plain = self.counts | {indices}
        lengths = {
            part: LengthTold(float(part.formula.number(names)), part.rounding)
            for part in sentence.parts
            if isinstance(part, ShownMeasure) and self._is_length(part, names, plain)
        }
        apart = show_all_apart([*lengths.values()], self.unit, RULER)
        shown = dict(zip(lengths, apart, strict=True))
        return "".join(
            shown[part]
            if isinstance(part, ShownMeasure) and part in shown
            else self._in_words(part, names, from_back=from_back)
            for part in sentence.parts
        )

    def _in_words(
        self, part: str | ShownMeasure | TitleOf, names: Mapping[str, Any], *, from_back: bool
    ) -> str:
        """A part that is no length; what a person named keeps its name."""
        text = self._part(part, names, from_back=from_back)
        return english().as_used(text, self.unit) if isinstance(part, str) else text

    def written(self, sentence: Sentence, names: Mapping[str, Any]) -> Written:
        """A sentence with the values of its measures, to be put in words by whoever shows it.

        Raises
        ------
        FormulaError
            If a formula in it cannot be worked out.
        """
        return Written(tuple(self._written(part, names) for part in sentence.parts))

    def _written(
        self, part: str | ShownMeasure | TitleOf, names: Mapping[str, Any]
    ) -> str | Mm | float | Name:
        if not isinstance(part, ShownMeasure):
            text = self._part(part, names, from_back=False)
            return text if isinstance(part, str) else Name("thing", part.thing.name, text)
        if self._is_length(part, names, self.counts):
            return Mm(part.formula.number(names), part.rounding)
        value = part.formula.value(names)
        return str(value) if isinstance(value, str | bool) else part.formula.number(names)

    @staticmethod
    def _is_length(part: ShownMeasure, names: Mapping[str, Any], plain: frozenset[str]) -> bool:
        if isinstance(part.formula.value(names), str | bool):
            return False
        return not part.formula.names <= plain or bool(part.rounding)

    def _part(
        self, part: str | ShownMeasure | TitleOf, names: Mapping[str, Any], *, from_back: bool
    ) -> str:
        match part:
            case str():
                return _direction(part, self._seen(from_back=from_back))
            case TitleOf():
                return self.titles[part.thing.name]
            case _:
                value = part.formula.value(names)
                if isinstance(value, str | bool):
                    return str(value)
                return f"{part.formula.number(names):g}"  # no more than can be shown

    def _seen(self, *, from_back: bool) -> "_Seen":
        return _Seen(self.turned + 2 * self.half, from_back)


class _Seen(NamedTuple):
    """How the project lies for who looks at it: by so many quarter turns, and from which side."""

    quarters: int
    from_back: bool


def _direction(part: str, seen: _Seen) -> str:
    """Call a direction as the person sees it; other words stay."""
    if part not in DIRECTIONS:
        return part
    at = DIRECTIONS.index(part) + seen.quarters
    return DIRECTIONS[(-at if seen.from_back else at) % 4]


# What has no measure reads the same whatever size is tried.
@lru_cache(maxsize=1024)
def _filled_in(parts: tuple[str, ...], unit: Unit, seen: _Seen) -> str:
    return "".join(english().as_used(_direction(part, seen), unit) for part in parts)


def number_of(number: int, one: str, several: str = "") -> str:
    """Say how many there are of something.

    >>> number_of(1, "stop"), number_of(3, "stop"), number_of(2, "stitch", "stitches")
    ('1 stop', '3 stops', '2 stitches')
    """
    return f"{number} {one if number == 1 else several or f'{one}s'}"
