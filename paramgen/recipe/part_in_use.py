"""A part with what a recipe gives it, and how the terms of the part read in that recipe."""

import re
from collections.abc import Mapping
from dataclasses import field
from typing import Any

from paramgen.lengths import parse_length
from paramgen.recipe.arithmetic import FormulaError, read_formula
from paramgen.recipe.built_in_lengths import ply_names_of
from paramgen.recipe.file_tables import FileTables
from paramgen.recipe.language import OF_NAMES, OF_NUMBERS
from paramgen.recipe.read_part import GIVEN_WORDS, OF_OTHERS, OF_WORDS, RecipePart
from paramgen.recipe.terms import DIRECTIONS, NAME_AND_INDEX
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.frozen_data import dataclass

#: What a use gives a part for one of its needs.
Gift = str | int | float | tuple[str, ...]

#: Of what a part makes, the tables whose names formulas use.
NUMBERS_OF_PARTS = ("lengths", "values")

#: Words of a formula, and texts in it.
WORDS = re.compile(r"'[^']*'|\"[^\"]*\"|(?<![\w.])[a-z_]\w*")
_BRACES = re.compile(r"(\{[^{}]*\})")
#: What can stand in a formula without brackets round it.
_BARE = re.compile(r"[a-z]\w*|\d+(?:\.\d+)?")


#: Where a name of each kind of reference stands.
KIND_TABLES: Mapping[str, tuple[str, ...]] = {
    "pieces": ("pieces",),
    "laid": ("pieces", "notions"),
    "flaps": ("pieces", "notions"),
    "lines": ("lines",),
    "outlines": ("outlines",),
    "fabrics": ("fabrics",),
}


@dataclass(frozen=True)
class PartInUse:
    """A part with what a recipe gives it.

    Parameters
    ----------
    name : str
        Of the use.
    part : RecipePart
    given : mapping of need to value
    prefix : str
        Put before all its names; empty if they stay.
    tables : FileTables
        Of its file, called so that a fault names who used it.
    """

    name: str
    part: RecipePart
    given: Mapping[str, Gift]
    prefix: str
    tables: FileTables

    def called(self, name: str, *, number: bool) -> str:
        """Tell what one of its names is in the whole recipe."""
        if not self.prefix:
            return name
        return f"{self.prefix}-{name}".replace("-", "_") if number else f"{self.prefix}-{name}"


@dataclass(frozen=True)
class GivenTerms:
    """How the terms of a part read in the recipe that uses it."""

    use: PartInUse
    numbers: Mapping[str, str] = field(init=False)
    labels: Mapping[str, Mapping[str, str | list[str]]] = field(init=False)
    texts: Mapping[str, str] = field(init=False)

    def __post_init__(self) -> None:
        use, file = self.use, self.use.part.file
        needs = {name: use.given.get(name, need.default) for name, need in file.needs.items()}
        numbers = {
            name: use.called(name, number=True)
            for table in NUMBERS_OF_PARTS
            for name in getattr(file, table)
        }
        labels: dict[str, dict[str, str | list[str]]] = {
            table: {name: use.called(name, number=False) for name in getattr(file, table)}
            for table in OF_OTHERS
            if table not in NUMBERS_OF_PARTS
        }
        texts = {}
        for name, need in file.needs.items():
            value = needs[name]
            if need.kind in OF_WORDS:
                texts[name] = str(value)
            elif need.kind in OF_NUMBERS:
                numbers[name] = _in_arithmetic(value)
            else:
                new = list(value) if isinstance(value, tuple) else str(value)
                labels[OF_NAMES[need.kind]][name] = new
        for old, fabric in labels["fabrics"].items():
            numbers.update(zip(ply_names_of(old), ply_names_of(str(fabric)), strict=True))
        object.__setattr__(self, "numbers", numbers)
        object.__setattr__(self, "labels", labels)
        object.__setattr__(self, "texts", texts)

    def changed(self, what: str, text: Any) -> Any:
        """A term, as `declared_terms` tells what it is, in the recipe's words."""
        if not isinstance(text, str):
            return text
        match what:
            case "formula":
                return self._formula(text)
            case "default":
                return self._default(text)
            case "sentence" | "words":
                return self._sentence(text)
            case "fabrics":
                return self.labels["fabrics"].get(text, text)
            case _ if what in KIND_TABLES:
                return self._reference(what, text)
            case _:
                return text

    def _formula(self, text: str) -> str:
        try:
            names = read_formula(text).names
        except FormulaError:
            return text  # a length of its own
        if text.strip() in names:
            return self.numbers.get(text.strip(), text)

        def other(word: re.Match[str]) -> str:
            new = self.numbers.get(word[0], word[0]) if word[0] in names else word[0]
            return new if _BARE.fullmatch(new) or new == word[0] else f"({new})"

        return WORDS.sub(other, text)

    def _default(self, text: str) -> str:
        """A formula, which of numbers alone would be no default: worked out, if it is that."""
        new = self._formula(text)
        if new == text or re.search("[a-z]", new):
            return new
        try:
            return f"{read_formula(new).number({}):.10g}"
        except FormulaError:
            return new  # told when the whole is read

    def _reference(self, kind: str, text: str) -> str | list[str]:
        found = NAME_AND_INDEX.match(text)
        if found is None:
            return text
        name, index = found[1], found[2]
        new = next(
            (self.labels[table][name] for table in KIND_TABLES[kind] if name in self.labels[table]),
            name,
        )
        if not isinstance(new, str):
            return new
        return new + (f"[{self._formula(index)}]" if index else "")

    def _sentence(self, text: str) -> str:
        bits = _BRACES.split(text)
        spoken = GIVEN_WORDS.search("".join(bits[::2]))
        new = "".join(
            self._measure(bit) if index % 2 else GIVEN_WORDS.sub(self._given, bit)
            for index, bit in enumerate(bits)
        )
        return " ".join(new.split()) if spoken else new

    def _given(self, words: re.Match[str]) -> str:
        return self.texts.get(words[1], words[0])

    def _measure(self, braces: str) -> str:
        formula, colon, rounding = braces[1:-1].partition(":")
        if formula.strip() in DIRECTIONS or formula.split()[:2] == ["title", "of"]:
            return braces
        stripped = formula.strip()
        new = self._formula(stripped)
        return "{" + formula.replace(stripped, new) + colon + rounding + "}" if stripped else braces


def _in_arithmetic(value: Gift | None) -> str:
    """What is given for a number, as it can stand among other terms."""
    text = str(value).strip()
    if not text.endswith(("mm", "cm", "in", '"')):
        return text
    try:
        return f"{parse_length(text, zero=True):.10g}"
    except InputError:
        return text  # a name may end so too
