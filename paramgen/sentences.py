"""Filling in a recipe's sentences: lengths in the person's unit, edges as they lie."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from paramgen.lengths import Unit, round_down, round_up, show_both
from paramgen.recipe.terms import DIRECTIONS, Measure, Sentence

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
    """

    unit: Unit
    counts: frozenset[str]
    turned: bool = False

    def say(self, sentence: Sentence, names: Mapping[str, Any], indices: str = "") -> str:
        """Fill in one sentence.

        Parameters
        ----------
        names : mapping
            Values for its formulas.
        indices : str
            Name of the repeat's index, a plain number too; empty if there is none.

        Raises
        ------
        FormulaError
            If a formula in it cannot be worked out.
        """
        plain = self.counts | {indices}
        return "".join(self._part(part, names, plain) for part in sentence.parts)

    def _part(self, part: str | Measure, names: Mapping[str, Any], plain: frozenset[str]) -> str:
        if isinstance(part, str):
            if part in DIRECTIONS and self.turned:
                return DIRECTIONS[(DIRECTIONS.index(part) + 1) % 4]
            return part
        value = part.formula.value(names)
        if isinstance(value, str | bool):
            return str(value)
        if part.formula.names <= plain and not part.rounding:
            return f"{value:g}"
        if part.rounding:
            mark = SHOWN_TO[self.unit]
            value = round_up(value, mark) if part.rounding == "up" else round_down(value, mark)
        return show_both(float(value), self.unit)
