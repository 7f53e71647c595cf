"""How high letters must be to be sewn, and how high they come out in a given width."""

import math
from functools import lru_cache

from paramgen.embellishment.satin_column import LEAST_WIDTH
from paramgen.letters.set_words import SetWords, set_words

#: Width of a stroke in satin, as a share of a capital's height (our own choice).
PEN = 0.14

#: Capitals of a single line are at least so high, mm: the bowls of its small letters then have
#: some eight stitches, none much shorter than 0.7 mm (from memory; arithmetic in the tests).
LEAST_SINGLE_LINE = 5.0
#: Capitals in satin: so high that a stroke is as wide as the narrowest satin, rounded up to 0.1 mm.
LEAST_SATIN = math.ceil(10 * LEAST_WIDTH / PEN) / 10

#: Highest that can be asked for, mm: a figure as high as a large hoop.
MOST_HEIGHT = 300.0

#: So often a height is halved in looking for one: finer than a needle's hole.
_HALVINGS = 30


def least_height(*, satin: bool) -> float:
    """Height of the lowest capitals that can be sewn, mm.

    Examples
    --------
    Strokes are 0.14 of the height; 1.0 mm are 0.14 of 7.14 mm:

    >>> least_height(satin=True)
    7.2
    """
    return LEAST_SATIN if satin else LEAST_SINGLE_LINE


@lru_cache(maxsize=256)
def words_set(text: str, height: float, satin: bool, bend: float | None) -> SetWords:
    """Words at a height; raises ValueError if they do not go round the arc."""
    return set_words(text, height, height * PEN if satin else 0.0, bend)


def height_in_width(text: str, width: float, satin: bool, bend: float | None) -> float:
    """The greatest height of capitals at which words are no wider than so much, mm.

    Examples
    --------
    >>> height = height_in_width("IT", 30.0, True, None)
    >>> round(words_set("IT", height, True, None).box.width, 6)
    30.0
    """
    if bend is None:
        return 10.0 * width / words_set(text, 10.0, satin, None).box.width
    low, high = 0.0, min(MOST_HEIGHT, abs(bend) / 2)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        try:
            narrow = words_set.__wrapped__(text, middle, satin, bend).box.width <= width
        except ValueError:
            narrow = False
        low, high = (middle, high) if narrow else (low, middle)
    return low
