"""How much room a booklet takes."""

from enum import StrEnum


class BookletLength(StrEnum):
    """How much room a booklet takes; it says the same in both forms."""

    SHORT = "short"
    FULL = "full"
