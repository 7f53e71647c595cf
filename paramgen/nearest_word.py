"""The valid word nearest to one that is not."""

from collections.abc import Iterable
from difflib import get_close_matches


def did_you_mean(word: str, valid: Iterable[str]) -> str:
    """Suggest a valid word.

    Returns
    -------
    str
        A question naming the nearest valid word; empty if none is near.

    Examples
    --------
    >>> did_you_mean("widht", ["width", "height"])
    'Did you mean `width`?'
    >>> did_you_mean("zip", ["width", "height"])
    ''
    """
    near = get_close_matches(word.lower(), sorted(valid), n=1, cutoff=0.6)
    return f"Did you mean `{near[0]}`?" if near else ""
