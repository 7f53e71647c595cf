"""The nearest valid name to one that is not known."""

import difflib
from collections.abc import Iterable

#: Longer words are not compared: no valid name comes near them.
_LONGEST = 60


def nearest(word: str, names: Iterable[str]) -> str:
    """Find the name that looks most like a word, whatever its case; empty if none does.

    >>> nearest("Widht", ["width", "height"])
    'width'
    """
    by_fold = {name.casefold(): name for name in names}
    if len(word) > _LONGEST:
        return ""
    found = difflib.get_close_matches(word.casefold(), by_fold, n=1)
    return by_fold[found[0]] if found else ""


def did_you_mean(word: str, names: Iterable[str]) -> str:
    """Ask for the nearest name in a sentence; empty if none is near.

    >>> did_you_mean("widht", ["width", "height"])
    'Did you mean `width`?'
    """
    found = nearest(word, names)
    return f"Did you mean `{found}`?" if found else ""
