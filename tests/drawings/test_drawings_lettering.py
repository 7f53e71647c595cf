import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.drawings.primitives.lettering import BOLD, text_width, wrapped
from paramgen.drawings.primitives.paragraphs import TextLine, paragraph
from paramgen.lengths import unbroken

# Advance widths in 1/1000 em of the two sans-serif faces among the 14 standard PDF fonts,
# from their published metrics files (AFM), from memory.
PLAIN_AFM = {" ": 278, "a": 556, "e": 556, "i": 222, "m": 833, "t": 278, "w": 722, "0": 556}
PLAIN_AFM |= {"A": 667, "M": 833, "W": 944, ".": 278, "-": 333, "/": 278, "(": 333, "@": 1015}
BOLD_AFM = {
    " ": 278,
    "a": 556,
    "f": 333,
    "i": 278,
    "l": 278,
    "m": 889,
    "o": 611,
    "t": 333,
    "W": 944,
}

words_and_spaces = st.text(st.sampled_from("abcmwiW 0189/×½\n\téß漢"), max_size=80)


@pytest.mark.parametrize(("letter", "thousandths"), PLAIN_AFM.items())
def test_room_kept_for_a_letter_is_no_less_than_a_common_font_takes(
    letter: str, thousandths: int
) -> None:
    assert text_width(letter, 1000.0) >= thousandths


@pytest.mark.parametrize(("letter", "thousandths"), BOLD_AFM.items())
def test_room_kept_for_a_bold_letter_is_no_less_than_a_common_font_takes(
    letter: str, thousandths: int
) -> None:
    assert text_width(letter, 1000.0) * BOLD >= thousandths


def test_bold_letters_are_reckoned_as_much_wider_as_they_come() -> None:
    # In the same faces i and l grow most: from 222 to 278.
    assert BOLD >= 278 / 222


def test_room_is_not_kept_without_measure() -> None:
    # 100 digits of the same faces take 55.6 em; more than a fifth over that is waste.
    assert text_width("0" * 100, 1.0) < 1.2 * 55.6


def test_accents_take_no_room_and_unknown_letters_at_least_a_whole_em() -> None:
    assert text_width("é", 1.0) == text_width("e", 1.0) == text_width("e\u0301", 1.0)
    assert text_width("漢", 1.0) >= 1.0


@given(words_and_spaces, st.floats(2, 20))
def test_no_line_is_wider_than_its_room(words: str, width: float) -> None:
    assert all(text_width(line, 1.0) <= width for line in wrapped(words, 1.0, width))


@given(words_and_spaces, st.floats(2, 20))
def test_no_letter_is_lost(words: str, width: float) -> None:
    assert "".join("".join(wrapped(words, 1.0, width)).split()) == "".join(words.split())


@given(words_and_spaces)
def test_words_with_room_stay_on_one_line(words: str) -> None:
    assert wrapped(words, 1.0, 1e6) == ((" ".join(words.split()),) if words.split() else ())


def test_a_size_is_broken_only_before_its_brackets() -> None:
    size = unbroken("5 1/8 × 7 1/16 in (130 × 180 mm)")
    lines = wrapped(size, 1.0, text_width("5 1/8 × 7 1/16 in", 1.0) + 0.1)
    assert [" ".join(line.split()) for line in lines] == ["5 1/8 × 7 1/16 in", "(130 × 180 mm)"]


def test_bold_lines_are_broken_sooner() -> None:
    for bold in (False, True):
        texts = paragraph([TextLine("seed swap " * 40, bold)], (0.0, 0.0), 3.0, 60.0)
        assert all(text.box.right <= 60.0 for text in texts)
        assert max(text.box.right for text in texts) > 40.0


@given(
    st.lists(st.builds(TextLine, words_and_spaces, st.booleans()), max_size=5), st.floats(0.5, 9)
)
def test_lines_of_a_paragraph_keep_clear_of_each_other(lines: list[TextLine], size: float) -> None:
    texts = paragraph(lines, (3.0, 7.0), size, 30 * size)
    boxes = [text.box for text in texts]
    assert all(box.top >= 7.0 - 1e-9 and box.left == 3.0 for box in boxes)
    assert all(box.right <= 3.0 + 30 * size + 1e-9 for box in boxes)
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])
