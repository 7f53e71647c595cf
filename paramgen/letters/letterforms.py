"""From a character to the strokes it is drawn with."""

import unicodedata
from functools import lru_cache

import numpy as np

from paramgen.geometry.svg_path import drawn, read_path_data
from paramgen.letters.accents import (
    ABOVE,
    BELOW,
    BESIDE,
    BESIDE_LETTERS,
    CARON,
    CEDILLA,
    COMMA_ABOVE,
    COMMA_BELOW,
    COMMA_LETTERS,
    OGONEK,
)
from paramgen.letters.capitals import CAPITALS
from paramgen.letters.figures_and_marks import FIGURES, MARKS
from paramgen.letters.small_letters import SMALL_LETTERS
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Path

#: Lines on which letters stand and end, in hundredths of a capital's height, y down.
HEAD, SMALL_HEAD, FOOT, DESCENDER = -100.0, -66.0, 0.0, 30.0

_DRAWN = {**CAPITALS, **SMALL_LETTERS, **FIGURES, **MARKS}
#: Drawn alike.
_AS = {"Ð": "Đ", "\u2010": "-", "\u2011": "-", "\u02bc": "’", "\u2032": "'", "\u00ad": "-"}
#: Letters whose dot gives way to an accent.
_DOTLESS = {"i": "ı", "j": "ȷ"}
#: The strokes are drawn at this size before they are scaled, so that they stay smooth.
_FINE = 0.3
#: Accents stand so far above the head of a letter besides, in hundredths.
_CLEAR = 5.0


@dataclass(frozen=True, eq=False)
class Letterform:
    """A character as it is drawn.

    Parameters
    ----------
    character : str
    strokes : tuple of Path
        In hundredths of a capital's height, y down, the foot at 0. One that ends on another comes
        after it.
    """

    character: str
    strokes: tuple[Path, ...]


def unknown_letters(text: str) -> tuple[str, ...]:
    """Characters of a text that are not drawn, each once, in the order they come.

    Examples
    --------
    >>> unknown_letters("Saatgut für alle, ō ✂")
    ('✂',)
    """
    composed = unicodedata.normalize("NFC", text)
    return tuple(dict.fromkeys(one for one in composed if one != " " and letterform(one) is None))


@lru_cache(maxsize=512)
def letterform(character: str) -> Letterform | None:
    """The strokes of a character; None if it is not drawn.

    Examples
    --------
    >>> [len(letterform(one).strokes) for one in "Iiï"]
    [1, 2, 3]
    >>> letterform("✂") is None
    True
    """
    character = _AS.get(character, character)
    if character in _DRAWN:
        return Letterform(character, _strokes(_DRAWN[character]))
    base, *accents = list(unicodedata.normalize("NFD", character))
    if base not in _DRAWN or not accents:
        return None
    if any(one in ABOVE for one in accents):
        base = _DOTLESS.get(base, base)
    strokes = _strokes(_DRAWN[base])
    whole = strokes
    for accent in accents:
        added = _accent(base, accent, whole)
        if added is None:
            return None
        whole = (*whole, *added)
    return Letterform(character, whole)


def _accent(base: str, accent: str, strokes: tuple[Path, ...]) -> tuple[Path, ...] | None:
    """Strokes of an accent where it stands on a letter; None if it is not drawn."""
    points = np.concatenate([one.points for one in strokes])
    left, top = points.min(axis=0).tolist()
    right, foot = points.max(axis=0).tolist()
    middle = (left + right) / 2
    if accent == CARON and base in BESIDE_LETTERS:
        edge = max(float(one.points[one.points[:, 1] < -60, 0].max()) for one in strokes[:1])
        return _moved(BESIDE, edge + 20, 0.0)
    if accent == CEDILLA and base in COMMA_LETTERS:
        if base == "g":
            return _moved(ABOVE[COMMA_ABOVE], middle, top)
        accent = COMMA_BELOW
    if accent in ABOVE:
        return _moved(ABOVE[accent], middle, top - _CLEAR)
    if accent == OGONEK:
        at_foot = points[points[:, 1] > -1.0, 0]
        return _moved(BELOW[accent], float(at_foot.max()) - (0 if base in "AaiıI" else 6), 0.0)
    if accent in BELOW:
        return _moved(BELOW[accent], middle, max(FOOT, foot))
    return None


def _moved(data: str, right: float, down: float) -> tuple[Path, ...]:
    return tuple(Path(one.points + np.array([right, down]), one.closed) for one in _strokes(data))


@lru_cache(maxsize=256)
def _strokes(data: str) -> tuple[Path, ...]:
    fine = drawn(read_path_data(data), _FINE)
    return tuple(Path(one.points / _FINE, one.closed) for one in fine)
