"""The small terms recipe files are written in: formulas, sentences, references, lengths."""

import re
from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cached_property
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from paramgen.embellishment.kind_options import Embellishment
from paramgen.lengths import parse_length
from paramgen.recipe.arithmetic import Formula, FormulaError, read_formula, without_units
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.frozen_data import dataclass

#: The name that something in a recipe has, and in brackets which of those repeated.
NAME_AND_INDEX = re.compile(r"([a-z][a-z0-9-]*)(?:\[(.+)\])?\Z", re.DOTALL)
_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_TITLE_OF = re.compile(r"\s*title\s+of\s+([a-z][a-z0-9-]*)\s*")

#: Of words that a part is given, no more characters than these.
MOST_GIVEN = 600

#: Words for the project's own directions; they follow it when it lies turned in the hoop.
DIRECTIONS = ("top", "right", "bottom", "left")


@dataclass(frozen=True)
class ReadBy:
    """How a term is read, for pydantic.

    Its own `PlainValidator` works out, at every use, how what is read would be written, and
    that took most of the time of loading the language.

    Parameters
    ----------
    read : callable
    what : str
        What it is: `formula`, `default`, `sentence`, or the kind of a reference; empty where
        nothing in it can be a name.
    form : mapping
        JSON schema of how it is written. What that refuses, `read` refuses.
    """

    read: Callable[[Any], object]
    what: str = ""
    form: Mapping[str, Any] = field(kw_only=True, hash=False)

    def __get_pydantic_core_schema__(self, _: object, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, __: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return dict(self.form)


@dataclass(frozen=True)
class PlainText:
    """Notes what a text is that is kept as it is written: `words`, or the name of a fabric."""

    what: str


@dataclass(frozen=True)
class ShownMeasure:
    """A formula in a sentence, shown as a length, or as a number if it is made of counts alone.

    Parameters
    ----------
    formula : Formula
    rounding : str
        `up` or `down` where the number shown must be no less or no more than the true
        one, as in a remedy: then it is a length, whatever it is made of. Otherwise
        empty, and the nearest is shown.
    """

    formula: Formula
    rounding: str = ""


@dataclass(frozen=True)
class TitleOf:
    """What a thing that the project holds is called, in a sentence: `{title of packet}`."""

    thing: "Reference"


@dataclass(frozen=True)
class Sentence:
    """A text with measures in braces: `at least {2 * depth : up}`.

    Parameters
    ----------
    text : str
        As written.
    parts : tuple of str, ShownMeasure or TitleOf
        In order.
    """

    text: str
    parts: tuple[str | ShownMeasure | TitleOf, ...]

    @cached_property
    def plain(self) -> tuple[str, ...]:
        """Its parts if none is a measure or a title; else none."""
        plain = tuple(part for part in self.parts if isinstance(part, str))
        return plain if len(plain) == len(self.parts) else ()


@dataclass(frozen=True)
class Reference:
    """The name of a piece, line or outline, with its index where it is repeated.

    Parameters
    ----------
    kind : str
        The table it names something in: `pieces`, `lines`, `outlines` or `holds`; `laid` for
        a piece or a notion, `flaps` for one or for all turns of one that is repeated.
    name : str
    index : Formula or None
    """

    kind: str
    name: str
    index: Formula | None = None

    def __str__(self) -> str:
        return f"{self.name}[{self.index.text}]" if self.index else self.name


@dataclass(frozen=True)
class Default:
    """The default of a size or length: a fixed length (mm), or a formula of earlier sizes."""

    length: float | None
    formula: Formula | None


def _formula(raw: Any) -> Formula:
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise ValueError("a number or a formula in quotes is wanted")
    return read_formula(raw)


def _truth(raw: Any) -> Formula:
    return read_formula("1 == 1" if raw else "1 == 0") if isinstance(raw, bool) else _formula(raw)


def _sentence(raw: Any) -> Sentence:
    if not isinstance(raw, str) or not raw.strip():
        raise ValueError("a text is wanted")
    parts: list[str | ShownMeasure | TitleOf] = []
    for index, bit in enumerate(_PLACEHOLDER.split(raw)):
        if index % 2 and (named := _TITLE_OF.fullmatch(bit)):
            parts.append(TitleOf(Reference("holds", named[1])))
        elif index % 2:
            formula, _, rounding = (word.strip() for word in bit.partition(":"))
            if rounding not in ("", "up", "down"):
                raise ValueError(f"`{rounding}` after a colon: only up or down can stand there")
            direct = formula in DIRECTIONS
            parts.append(formula if direct else ShownMeasure(read_formula(formula), rounding))
        elif "{" in bit or "}" in bit:
            raise ValueError("a brace without its partner")
        elif bit:
            parts.append(bit)
    return Sentence(raw, tuple(parts))


def _reference_to(kind: str) -> ReadBy:
    def read(raw: Any) -> Reference:
        found = NAME_AND_INDEX.match(raw) if isinstance(raw, str) else None
        if not found:
            raise ValueError("a name is wanted: small letters, digits, hyphens, [k] if repeated")
        return Reference(kind, found[1], read_formula(found[2]) if found[2] else None)

    return ReadBy(read, kind, form=_REFERENCE)


def _length(raw: Any) -> float:
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise ValueError("a length is wanted, such as 10mm")
    try:
        return parse_length(raw, zero=True)
    except InputError as problem:
        raise ValueError(str(problem.faults[0])) from None


def _default(raw: Any) -> Default:
    try:
        return Default(_length(raw), None)
    except ValueError as problem:
        if not isinstance(raw, str) or not re.search("[a-z]", raw):
            raise
        try:
            return Default(None, read_formula(raw))
        except FormulaError as fault:
            like_a_length = re.match(r"\s*[\d.+-]", raw) and without_units(raw) is None
            raise ValueError(str(problem if like_a_length else fault)) from None


def _gift(raw: Any) -> str | int | float | tuple[str, ...]:
    if isinstance(raw, list) and raw and all(isinstance(one, str) for one in raw):
        return tuple(raw)
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise ValueError("a name, a list of names, a number, a formula or words are wanted")
    if isinstance(raw, str) and len(raw) > MOST_GIVEN:
        raise ValueError("this text is too long")
    return raw


def _work(raw: Any) -> Embellishment:
    if not isinstance(raw, str) or not raw.strip():
        raise ValueError("a text is wanted, such as quilting:diagonal,20mm")
    # Few recipes ask for any, and all kinds of it take longer to load than the language.
    from paramgen.embellishment.read_embellishment import read_embellishment  # noqa: PLC0415

    try:
        return read_embellishment(raw, "", "")
    except InputError as problem:
        raise ValueError(" ".join(str(fault) for fault in problem.faults)) from None


_REFERENCE = {
    "type": "string",
    "pattern": r"^[a-z][a-z0-9-]*(\[[\s\S]+\])?$",
    "description": "A name; of what is repeated, in brackets which of them.",
}
_FORMULA = {
    "type": ["number", "string"],
    "description": "A number in mm, a length with its unit, or a formula in quotes.",
}
_TRUTH = {"type": ["boolean", "string", "number"], "description": "true, false or a formula."}
_SENTENCE = {
    "type": "string",
    "pattern": r"\S",
    "description": "A text, with {measures} in braces.",
}
_LENGTH = {
    "type": ["number", "string"],
    "minimum": 0,
    "description": "A length with its unit in quotes, or a number in mm.",
}
_WORK = {
    "type": "string",
    "pattern": r"\S",
    "description": "What is stitched on a panel, such as quilting:diagonal,20mm.",
}
_DEFAULT = {**_LENGTH, "description": "A length, or a formula of what is known before."}
_GIFT = {
    "anyOf": [
        {"type": ["number", "string"]},
        {"type": "array", "items": {"type": "string"}, "minItems": 1},
    ],
    "description": "A name or a list of names, a number, a formula, or words.",
}

FormulaTerm = Annotated[Formula, ReadBy(_formula, "formula", form=_FORMULA)]
TruthTerm = Annotated[Formula, ReadBy(_truth, "formula", form=_TRUTH)]
SentenceTerm = Annotated[Sentence, ReadBy(_sentence, "sentence", form=_SENTENCE)]
PieceRef = Annotated[Reference, _reference_to("pieces")]
LaidRef = Annotated[Reference, _reference_to("laid")]
FlapRef = Annotated[Reference, _reference_to("flaps")]
LineRef = Annotated[Reference, _reference_to("lines")]
OutlineRef = Annotated[Reference, _reference_to("outlines")]
LengthTerm = Annotated[float, ReadBy(_length, form=_LENGTH)]
DefaultTerm = Annotated[Default, ReadBy(_default, "default", form=_DEFAULT)]
WorkTerm = Annotated[Embellishment, ReadBy(_work, form=_WORK)]
GiftTerm = Annotated[str | int | float | tuple[str, ...], ReadBy(_gift, form=_GIFT)]
