"""The letters that are drawn: which there are, and that each can be told from the others."""

import string
import unicodedata
from typing import Literal

import numpy as np
import pytest
import shapely

from paramgen.letters.kerning import outline
from paramgen.letters.letterforms import (
    DESCENDER,
    FOOT,
    HEAD,
    SMALL_HEAD,
    letterform,
    unknown_letters,
)

#: Letters of some languages that are written with the Latin alphabet, beside A to Z (CLDR, main
#: exemplar characters; from memory).
ALPHABETS = {
    "Catalan": "àçéèíïóòúü·",
    "Croatian": "čćđšž",
    "Czech": "áčďéěíňóřšťúůýž",
    "Danish": "æøå",
    "Dutch": "áäéëíïóöúü",
    "Estonian": "šžõäöü",
    "Faroese": "áðíóúýæø",
    "French": "àâæçéèêëîïôœùûüÿ",
    "German": "äöüß",
    "Hungarian": "áéíóöőúüű",
    "Icelandic": "áðéíóúýþæö",
    "Italian": "àèéìòù",
    "Latvian": "āčēģīķļņšūž",
    "Lithuanian": "ąčęėįšųūž",
    "Maltese": "ċġħż",
    "Northern Sami": "áčđŋšŧž",
    "Polish": "ąćęłńóśźż",
    "Portuguese": "ãáàâçéêíõóôú",
    "Romanian": "ăâîșț",
    "Slovak": "áäčďéíĺľňóôŕšťúýž",
    "Spanish": "áéíñóúü¿¡",
    "Swedish": "åäö",
    "Turkish": "çğıöşüİ",
    "Welsh": "âêîôûŵŷẁẃẅ",
}


@pytest.mark.parametrize("language", ALPHABETS)
def test_a_language_has_all_its_letters(language: str) -> None:
    letters = ALPHABETS[language]
    upper = letters.replace("ß", "ẞ").upper()
    assert unknown_letters(string.ascii_letters + letters + upper) == ()


def test_figures_and_marks_are_there() -> None:
    assert unknown_letters(string.digits + "!\"#$%&'()*+,-./:;=?[]_«»‹›“”„‚‘’–—×°·…€£") == ()


def test_all_letters_of_two_blocks_of_unicode_are_there() -> None:
    # Latin-1 Supplement and Latin Extended-A (Unicode, code charts), letters alone; but for the
    # Greenlandic kra, the long s and the joined ij, which stand in no alphabet of today, and n with
    # an apostrophe, which Unicode deprecates; and L with its dot, written as two.
    block = [chr(one) for one in range(0xC0, 0x180) if chr(one).isalpha()]
    assert set(unknown_letters("".join(block))) == set("ĸſĲĳŉĿŀ")


def test_what_is_not_drawn_is_told_once() -> None:
    assert unknown_letters("a✂b✂日 a") == ("✂", "日")


@pytest.mark.parametrize("form", ["NFC", "NFD"])
def test_an_accent_may_come_as_a_character_of_its_own(form: Literal["NFC", "NFD"]) -> None:
    assert unknown_letters(unicodedata.normalize(form, "ŽLUŤÁSEK")) == ()


def test_letters_stand_on_their_lines() -> None:
    for one in string.ascii_uppercase + string.digits:
        _, top, _, bottom = _box(one)
        assert top == pytest.approx(HEAD, abs=0.5), one
        assert bottom == pytest.approx(6.0 if one == "Q" else FOOT, abs=0.5), one
    for one in "acemnorsuvwxz":
        assert _box(one)[1::2] == pytest.approx((SMALL_HEAD, FOOT), abs=0.5), one
    for one in "gpqyj":
        assert _box(one)[3] == pytest.approx(DESCENDER, abs=0.5), one


def _box(letter: str) -> tuple[float, float, float, float]:
    form = letterform(letter)
    assert form is not None
    points = np.concatenate([stroke.points for stroke in form.strokes])
    (left, top), (right, bottom) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return float(left), float(top), float(right), float(bottom)


#: Drawn alike on purpose: a mark for either, told apart by its place.
ALIKE = {frozenset("‘’"), frozenset("“”"), frozenset(",‚"), frozenset("-–"), frozenset("–—")}


def test_no_letter_looks_like_another() -> None:
    # Of any two of one width, at least a tenth of what they cover is covered by one alone.
    plain = string.ascii_letters + string.digits + "&?!.,:;+-=/()[]%#*æœøðþßł"
    shapes = {
        one: shapely.affinity.translate(outline(one, 14.0), -outline(one, 14.0).bounds[0])
        for one in plain
    }
    for one, mine in shapes.items():
        for other, theirs in shapes.items():
            if one < other and frozenset((one, other)) not in ALIKE:
                alone = mine.symmetric_difference(theirs).area
                assert alone > 0.1 * mine.union(theirs).area, (one, other)


@pytest.mark.parametrize("letter", "äöüÄÖÜéÉčČåÅñÑőŐșğ")
def test_an_accent_stands_clear_of_its_letter(letter: str) -> None:
    # By 0.04 of the height at least, drawn as wide as satin is, so that its columns do not touch.
    form, base = letterform(letter), letterform(unicodedata.normalize("NFD", letter)[0])
    assert form is not None
    assert base is not None
    own = [one.line.buffer(7, cap_style="square") for one in form.strokes]
    body, accent = own[: len(base.strokes)], own[len(base.strokes) :]
    assert shapely.union_all(body).distance(shapely.union_all(accent)) > 4.0


def test_i_and_j_lose_their_dots_under_an_accent() -> None:
    for dotted, plain in (("í", "ı"), ("ĵ", "ȷ"), ("į", "i")):
        form, other = letterform(dotted), letterform(plain)
        assert form is not None
        assert other is not None
        assert len(form.strokes) == len(other.strokes) + 1
