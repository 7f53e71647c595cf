"""Words set on a line and on an arc: the room between letters, their height, where they stand."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from paramgen.letters.kerning import LEAST_APART, UPRIGHTS_APART, apart, outline
from paramgen.letters.set_words import SetWords, set_words
from paramgen.vocabulary.path import FloatArray


def ink(words: SetWords) -> list[BaseGeometry]:
    """What each letter covers."""
    found = []
    for letter in words.letters:
        strokes = [
            one.line.buffer(words.pen / 2, cap_style="square", join_style="round")
            for one in letter.strokes
        ]
        found.append(shapely.union_all(strokes))
    return found


def test_a_capital_is_as_high_as_asked_from_edge_to_edge() -> None:
    # 20 mm with strokes of 3 mm: their middles are 17 mm apart.
    words = set_words("HIT", 20.0, 3.0)
    assert words.box.height == pytest.approx(20.0)
    points = np.concatenate([stroke.points for one in words.letters for stroke in one.strokes])
    assert np.ptp(points[:, 1]) == pytest.approx(17.0)


def test_words_grow_in_proportion() -> None:
    one, twice = (set_words("Seed swap", height, height * 0.14) for height in (10.0, 20.0))
    assert twice.box.width == pytest.approx(2 * one.box.width)


def test_uprights_are_evenly_apart() -> None:
    # The same room between all strokes of HIH: a stroke's width and the room from upright to
    # upright.
    pen = 14.0
    assert apart("I", "I", pen) == pytest.approx(pen + UPRIGHTS_APART)
    gaps = [
        outline(b, pen).bounds[0] + apart(a, b, pen) - outline(a, pen).bounds[2]
        for a, b in (("H", "I"), ("I", "H"), ("H", "H"))
    ]
    assert gaps == pytest.approx([UPRIGHTS_APART] * 3)


@pytest.mark.parametrize("pair", ["AV", "VA", "LT", "To", "TA", "LY", "P.", "AW", "Yo", "OO", "oo"])
def test_what_is_open_to_its_neighbour_stands_closer(pair: str) -> None:
    # As printers set them (common practice): closer than two uprights.
    left, right = pair[0], pair[1]
    gap = outline(right, 14.0).bounds[0] + apart(left, right, 14.0) - outline(left, 14.0).bounds[2]
    assert gap < UPRIGHTS_APART - 3


@given(st.text(alphabet="AVTLoeyjfr.,-PWOHIgÁŤ&1247", min_size=2, max_size=8))
@settings(max_examples=60, deadline=None)
def test_no_letter_comes_near_another(text: str) -> None:
    # Nowhere nearer than 0.11 of a capital's height, of what is drawn with square ends; a hair for
    # where the search stops.
    words = set_words(text, 10.0, 1.4)
    shapes = ink(words)
    least = LEAST_APART * (10.0 - 1.4) / 100
    for one, other in pairwise(shapes):
        assert one.distance(other) >= least - 0.02


def test_letters_on_an_arc_stand_square_on_it() -> None:
    # Over the top of a circle of 40 mm: every foot is 40 mm from its middle, every head 40 + 17.
    # The words' middle is moved to the origin; the circle's is found from three feet.
    words = set_words("PEPPERMINT", 10.0, 1.4, bend=40.0)
    feet = np.array([one.foot for one in words.letters])
    centre = _centre(*feet[[0, 4, 9]])
    assert np.hypot(*(feet - centre).T) == pytest.approx(40.0)
    for letter in words.letters:
        outward = (np.array(letter.foot) - centre) / 40.0
        assert letter.up == pytest.approx(outward.tolist())
    assert feet[0, 1] == pytest.approx(feet[-1, 1], abs=1.5)  # level, as P and T differ in width


def _centre(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """Middle of the circle through three points."""
    matrix = 2 * np.array([b - a, c - a])
    right = np.array([b @ b - a @ a, c @ c - a @ a])
    found: FloatArray = np.linalg.solve(matrix, right)
    return found


def test_letters_along_the_foot_of_a_circle_read_upright() -> None:
    words = set_words("PEPPERMINT", 10.0, 1.4, bend=-40.0)
    feet = np.array([one.foot for one in words.letters])
    assert feet[:, 0].tolist() == sorted(feet[:, 0].tolist())
    assert feet[4, 1] > feet[0, 1]  # the middle hangs lowest, y down
    assert words.letters[4].up[1] < -0.9


def test_letters_are_as_far_apart_on_an_arc_as_on_a_line_at_half_their_height() -> None:
    # Along the circle of 60 + 5 mm, or 60 - 5 inside it.
    straight = set_words("IIIII", 10.0, 1.0)
    step = straight.letters[1].foot[0] - straight.letters[0].foot[0]
    for bend in (60.0, -60.0):
        bent = set_words("IIIII", 10.0, 1.0, bend=bend)
        up = np.array([one.up for one in bent.letters])
        turn = np.abs(np.diff(np.arctan2(up[:, 0], -up[:, 1])))
        assert turn * abs(bend + 5.0) == pytest.approx(step)


@pytest.mark.parametrize(
    ("text", "bend", "said"),
    [("A", 15.0, "too tight"), ("PEPPERMINT PEPPERMINT", 21.0, "too long")],
)
def test_an_arc_that_cannot_be_is_refused(text: str, bend: float, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        set_words(text, 10.0, 1.4, bend=bend)


def test_many_blanks_are_one() -> None:
    one, many = (set_words(text, 10.0, 1.4) for text in ("a b", "  a \n  b "))
    assert one.box == many.box
    assert math.isfinite(one.box.width)
