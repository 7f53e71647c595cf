"""Kinds written as words in a recipe file, each read as the kind that it names."""

from enum import StrEnum
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class WordOf:
    """Reads a word as the kind that it names, for pydantic; see `one_of`."""

    kinds: tuple[StrEnum, ...]

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        by_word = {kind.value: kind for kind in self.kinds}

        def read(word: object) -> StrEnum:
            kind = by_word.get(word) if isinstance(word, str) else None
            if kind is None:
                words = ", ".join(f"'{one}'" for one in by_word)
                raise PydanticCustomError("literal_error", "one of {expected}", {"expected": words})
            return kind

        return core_schema.no_info_before_validator_function(read, handler(source))

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, __: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {"type": "string", "enum": [kind.value for kind in self.kinds]}


def one_of(*kinds: StrEnum) -> WordOf:
    """Read a word as the one of some kinds that it names; any other word lists them all.

    >>> from typing import Annotated
    >>> from pydantic import TypeAdapter
    >>> from paramgen.vocabulary.kinds import Side
    >>> TypeAdapter(Annotated[Side, one_of(*Side)]).validate_python("back")
    <Side.BACK: 'back'>
    """
    return WordOf(kinds)
