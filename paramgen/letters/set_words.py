"""Words set on a line or on an arc: where every stroke of every letter lies."""

import math
import unicodedata
from itertools import pairwise

import numpy as np

from paramgen.letters.kerning import WORD_SPACE, apart, outline
from paramgen.letters.letterforms import letterform
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path

#: An arc is no tighter than so many heights of a capital, and letters go no farther round it,
#: degrees (our own choice: then the heads of letters do not run into each other).
TIGHTEST_ARC, FARTHEST_ROUND = 2.0, 300.0
#: Strokes are taken to be no thinner where letters are set apart, in hundredths of a height.
THINNEST = 8.0


@dataclass(frozen=True, eq=False)
class SetLetter:
    """A letter where it stands.

    Parameters
    ----------
    character : str
    strokes : tuple of Path
        mm; one that ends on another comes after it.
    up : tuple of float
        From its foot to its head, a unit vector.
    foot : tuple of float
        A point on the line that it stands on, mm.
    """

    character: str
    strokes: tuple[Path, ...]
    up: tuple[float, float]
    foot: tuple[float, float]


@dataclass(frozen=True, eq=False)
class SetWords:
    """Words as they stand, the middle of what they take at the origin.

    Parameters
    ----------
    text : str
    height, pen : float
        Of a capital from edge to edge, and of the strokes, mm.
    letters : tuple of SetLetter
    box : Box
        What they take, from edge to edge of their strokes.
    """

    text: str
    height: float
    pen: float
    letters: tuple[SetLetter, ...]
    box: Box


def set_words(text: str, height: float, pen: float, bend: float | None = None) -> SetWords:
    """Set a line of words.

    Parameters
    ----------
    text : str
        Of drawn characters, see `unknown_letters`, at least one of them no space.
    height : float
        Of a capital, from edge to edge, mm.
    pen : float
        Width of the strokes, mm; 0 for a single line.
    bend : float or None
        Radius of the arc that the letters stand on, mm: positive over the top of a circle,
        negative along its foot. None for a straight line.

    Raises
    ------
    ValueError
        If the arc is too tight for them; says so for a developer.

    Examples
    --------
    >>> words = set_words("I", 10, 1)
    >>> words.box  # a stroke of 1 mm, as high as asked
    Box(left=-0.5, top=-5.0, right=0.5, bottom=5.0)
    """
    scale = (height - pen) / 100
    share = max(round(100 * pen / (height - pen), 3), THINNEST)
    text = unicodedata.normalize("NFC", " ".join(text.split()))
    places = _places(text, share)
    if bend is None:
        moved = [(one, _straight(at, scale)) for one, at in places]
    else:
        if abs(bend) < TIGHTEST_ARC * height:
            raise ValueError("the arc is too tight for letters so high")
        moved = [(one, _round(one, at, scale, height, bend, share)) for one, at in places]
        if any(abs(turn) > math.radians(FARTHEST_ROUND / 2) for _, (turn, _, _) in moved):
            raise ValueError("the words are too long for the arc")
    letters = [_set(one, turn, scale, origin, foot) for one, (turn, origin, foot) in moved]
    points = np.concatenate([stroke.points for one in letters for stroke in one.strokes])
    low, high = points.min(axis=0) - pen / 2, points.max(axis=0) + pen / 2
    middle = (low + high) / 2
    centred = tuple(_shifted(one, -middle) for one in letters)
    half_width, half_height = float(high[0] - middle[0]), float(high[1] - middle[1])
    box = Box(-half_width, -half_height, half_width, half_height)
    return SetWords(text, height, pen, centred, box)


def _places(text: str, pen: float) -> list[tuple[str, float]]:
    """Letters and where their origins lie along the line, about its middle, in hundredths."""
    found: list[tuple[str, float]] = []
    at = 0.0
    for word in text.split(" "):
        if found:
            last = found[-1][0]
            at += outline(last, pen).bounds[2] + WORD_SPACE - outline(word[0], pen).bounds[0]
        found.append((word[0], at))
        for one, other in pairwise(word):
            at += apart(one, other, pen)
            found.append((other, at))
    left = found[0][1] + outline(found[0][0], pen).bounds[0]
    right = found[-1][1] + outline(found[-1][0], pen).bounds[2]
    return [(one, at - (left + right) / 2) for one, at in found]


_Move = tuple[float, FloatArray, FloatArray]


def _straight(at: float, scale: float) -> _Move:
    origin = np.array([at * scale, 0.0])
    return 0.0, origin, origin


def _round(one: str, at: float, scale: float, height: float, bend: float, pen: float) -> _Move:
    """Turn of a letter about the middle of its width, and where that then lies."""
    left, _, right, _ = outline(one, pen).bounds
    half = (left + right) / 2
    # As far apart at half their height as they are on a line.
    turn = (at + half) * scale / (bend + height / 2)
    foot = np.array([bend * math.sin(turn), -bend * math.cos(turn) + bend])
    along = np.array([math.cos(turn), math.sin(turn)])
    return turn, foot - along * half * scale, foot


def _set(one: str, turn: float, scale: float, origin: FloatArray, foot: FloatArray) -> SetLetter:
    form = letterform(one)
    cos, sin = math.cos(turn), math.sin(turn)
    turned = np.array([[cos, sin], [-sin, cos]]) * scale
    strokes = () if form is None else form.strokes
    moved = tuple(Path(stroke.points @ turned + origin, stroke.closed) for stroke in strokes)
    return SetLetter(one, moved, (sin, -cos), (float(foot[0]), float(foot[1])))


def _shifted(one: SetLetter, by: FloatArray) -> SetLetter:
    strokes = tuple(Path(stroke.points + by, stroke.closed) for stroke in one.strokes)
    return SetLetter(one.character, strokes, one.up, (one.foot[0] + by[0], one.foot[1] + by[1]))
