"""Kinds written as words in a recipe file, each read as the kind that it names."""

from enum import StrEnum

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError


def one_of(*kinds: StrEnum) -> BeforeValidator:
    """Read a word as the one of some kinds that it names; any other word lists them all.

    >>> from typing import Annotated
    >>> from pydantic import TypeAdapter
    >>> from paramgen.vocabulary.kinds import Side
    >>> TypeAdapter(Annotated[Side, one_of(*Side)]).validate_python("back")
    <Side.BACK: 'back'>
    """
    by_word = {kind.value: kind for kind in kinds}

    def read(word: object) -> StrEnum:
        kind = by_word.get(word) if isinstance(word, str) else None
        if kind is None:
            words = ", ".join(f"'{one}'" for one in by_word)
            raise PydanticCustomError("literal_error", "one of {expected}", {"expected": words})
        return kind

    return BeforeValidator(read)
