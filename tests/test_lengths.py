"""Lengths: read as people write them, shown as people read them."""

import math
import re
import subprocess
import sys
import tracemalloc
import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.lengths import (
    LengthTold,
    parse_length,
    round_down,
    round_up,
    show,
    show_all_apart,
    show_apart,
    show_both,
    show_size,
    show_size_both,
    show_sizes_apart,
    split_unit,
)
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit

# 1 in = 25.4 mm exactly: international yard and pound agreement of 1959, as in NIST
# Special Publication 811, appendix B.8. So 4 1/2 in = 9/2 × 25.4 = 114.3 mm.
READ = [
    ("114", 114.0),
    ("114.", 114.0),
    ("+114", 114.0),
    ("114mm", 114.0),
    (" 114  MM ", 114.0),
    ("114 millimetres", 114.0),
    ("11.4 cm", 114.0),
    ("11,4 cm", 114.0),
    ("0,125 m", 125.0),
    ("1.2m", 1200.0),
    ("1e2", 100.0),
    ("4.5in", 114.3),
    ("4.5 in.", 114.3),
    ("4,5IN", 114.3),
    (".5in", 12.7),
    ('4 1/2"', 114.3),
    ("4 1/2″", 114.3),
    ("4 1/2”", 114.3),
    ("4 1/2''", 114.3),
    ("4-1/2 in", 114.3),
    ("4–1/2 in", 114.3),
    ('4½"', 114.3),
    ("4 ½ inches", 114.3),
    ("4-½ in", 114.3),
    ("4 1⁄2 in", 114.3),
    ("4\u00a01/2\u202fin", 114.3),
    ("4 1/2in", 114.3),
    ("4   1 / 2   Inch", 114.3),
    ("⅟8 in", 3.175),
    ("1/4in", 6.35),
    ("9/8 in", 28.575),
    ("1/2 cm", 5.0),
]


@pytest.mark.parametrize(("text", "mm"), READ)
def test_a_length_is_read_exactly_as_it_is_written(text: str, mm: float) -> None:
    assert parse_length(text) == mm


def test_a_plain_number_is_millimetres() -> None:
    assert parse_length(114) == 114.0
    assert parse_length(114.3) == 114.3


# Sheet sizes published in both units: ANSI/ASME Y14.1 size A, 8 1/2 × 11 in =
# 215.9 × 279.4 mm, and size B, 11 × 17 in = 279.4 × 431.8 mm (from memory).
@pytest.mark.parametrize(("inches", "mm"), [("8 1/2 in", 215.9), ("11 in", 279.4), ('17"', 431.8)])
def test_published_sheet_sizes_agree_in_both_units(inches: str, mm: float) -> None:
    assert parse_length(inches) == mm
    assert parse_length(show(mm, Unit.INCH)) == mm


# The numeric values of the characters are those of the Unicode Character Database.
VULGAR = [
    char
    for char in map(chr, range(0xA0, 0x3000))
    if unicodedata.decomposition(char).startswith("<fraction>") and char not in "⅟↉"
]


def test_every_vulgar_fraction_has_the_value_unicode_gives_it() -> None:
    assert len(VULGAR) == 18
    for char in VULGAR:
        value = unicodedata.numeric(char)
        assert parse_length(f"{char}in") == pytest.approx(25.4 * value, abs=1e-6)
        assert parse_length(f'3{char}"') == pytest.approx(25.4 * (3 + value), abs=1e-6)


REFUSED = [
    ("", "is not a length"),
    ("wide", "is not a length"),
    ("4 5 in", "is not a length"),
    ("1.5 1/2 in", "is not a length"),
    ("4 - 1/2 in", "is not a length"),
    ("½4 in", "is not a length"),
    ("4¹⁄₂ in", "is not a length"),
    ("4in5mm", "is not a length"),
    ("1,200.5", "is not a length"),
    ("4 9/8 in", "not less than a whole"),
    ("5 ft", "Use mm, cm, m or in."),
    ("5'", "Use mm, cm, m or in."),
    ("0", "is zero"),
    ("0in", "is zero"),
    ("-0", "is zero"),
    ("0/4 in", "is zero"),
    ("↉ in", "is zero"),
    ("1e-999", "is zero"),
    ("0e9999999", "is zero"),
    ("-5", "is negative"),
    ("−5mm", "is negative"),
    ("- 4 1/2 in", "is negative"),
    ("inf", "is not a finite length"),
    ("-Infinity mm", "is not a finite length"),
    ("∞ in", "is not a finite length"),
    ("nan", "is not a finite length"),
    ("1e999", "is not a finite length"),
    ("1/0", "is not a finite length"),
    ("4 1/0 in", "is not a finite length"),
    ("2000.1", "longer than the limit of 2000 mm"),
    ("3 m", "longer than the limit of 2000 mm"),
    # 2000 / 25.4 = 78.74 in; the last mark below it is 78 11/16 = 78.6875 in.
    ("79in", "longer than the limit of 78 11/16 in (2000 mm)"),
    ("4 1/2", "Are inches meant? Then write 4 1/2 in."),
    ("¼", "Are inches meant? Then write 1/4 in."),
    ("1,200", "Write 1.200 or 1200."),
    ("41/2 in", "or write 20 1/2 in."),
    (True, "is not a length"),
    (None, "is not a length"),
    (0, "is zero"),
    (-1.5, "is negative"),
    (math.inf, "is not a finite length"),
    (math.nan, "is not a finite length"),
    (1e300, "longer than the limit"),
]


@pytest.mark.parametrize(("text", "words"), REFUSED)
def test_a_refusal_names_what_it_is_for_and_what_was_written(text: object, words: str) -> None:
    with pytest.raises(InputError) as refusal:
        parse_length(text, name="width")
    (fault,) = refusal.value.faults
    assert fault.where == "width"
    assert f"`{text}`" in fault.message
    assert words in str(fault)


def test_a_whole_number_of_any_size_is_refused() -> None:
    with pytest.raises(InputError, match="longer than"):
        parse_length(10**5000)
    with pytest.raises(InputError, match="negative"):
        parse_length(-(10**5000))


def test_zero_can_be_allowed_and_nothing_below_it() -> None:
    assert parse_length("0 in", zero=True) == 0.0
    with pytest.raises(InputError, match="negative"):
        parse_length("-1", zero=True)


def test_the_limit_is_itself_allowed_even_when_reached_with_noise() -> None:
    assert parse_length("2 m") == 2000.0
    # 12 × 25.4 = 304.8, but floating-point arithmetic makes it 304.79999999999995.
    assert parse_length("12in", most=12 * 25.4) == 304.8
    with pytest.raises(InputError, match=r"longer than the limit of 304.8 mm \(12 in\)"):
        parse_length("305", most=304.8)


def test_what_was_written_is_quoted_short_and_printable() -> None:
    with pytest.raises(InputError) as refusal:
        parse_length("\x1b[31m" + "9" * 10_000)
    message = str(refusal.value)
    assert message.isprintable()
    assert "…" in message
    assert len(message) < 120


LENGTH_LIKE = st.text("0123456789 ./,-+eEmcinINfa½⅟⁄\"″'\u00a0\n", max_size=40)


@settings(max_examples=400)
@given(st.one_of(st.text(), LENGTH_LIKE))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    message = ""
    try:
        mm = parse_length(text, zero=True)
    except InputError as refusal:
        mm, message = 0.0, str(refusal)
    assert 0.0 <= mm <= 2000.000001
    assert message.isprintable()


@pytest.mark.parametrize(
    "bit",
    ["9", " ", "1 ", "1/", "½", "-", "e9", "in", '"', ",1", "1e9", "inf ", "\udcff"],
)
def test_ten_thousand_characters_are_refused(bit: str) -> None:
    with pytest.raises(InputError):
        parse_length(bit * (10_000 // len(bit)))


def test_what_stands_far_behind_a_length_is_not_overlooked() -> None:
    with pytest.raises(InputError, match="is not a length"):
        parse_length("5 mm" + " " * 100 + "or so")


@pytest.mark.parametrize("text", ["9e9999999", "0e9999999", "9e-9999999", "-1e9999999 in"])
def test_a_huge_exponent_is_never_written_out(text: str) -> None:
    # Ten to the 9,999,999th takes 9,999,999 × log2(10) / 8 = 4.2 million bytes.
    tracemalloc.start()
    with pytest.raises(InputError):
        parse_length(text)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 1_000_000


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("114", ("114", "")),
        ("4½ Inches", ("4 1/2", "inches")),
        ('4 1/2"', ("4 1/2", '"')),
        ("11.4CM", ("11.4", "cm")),
        ("5 ft", ("5 ft", "")),
        ("", ("", "")),
    ],
)
def test_a_length_is_parted_into_number_and_unit(text: str, parts: tuple[str, str]) -> None:
    assert split_unit(text) == parts


SHOWN = [
    (114.3, "4 1/2 in", "114.3 mm"),
    (177.8, "7 in", "177.8 mm"),
    (12.7, "1/2 in", "12.7 mm"),
    (114.0, "4 1/2 in", "114 mm"),  # 114 / 25.4 = 4.488 in; 4 8/16 is the nearest mark
    (101.7, "4 in", "101.7 mm"),
    (101.5, "4 in", "101.5 mm"),  # 3.996 in carries to the whole
    (25.4 / 32, "1/16 in", "0.8 mm"),  # half a mark goes away from zero
    (12.25, "1/2 in", "12.3 mm"),
    (0.0, "0 in", "0 mm"),
    (-0.0, "0 in", "0 mm"),
    (-1e-12, "0 in", "0 mm"),
    (0.5, "0.02 in", "0.5 mm"),  # 0.5 / 25.4 = 0.0197 in
    (0.04, "0.002 in", "0.04 mm"),  # 0.04 / 25.4 = 0.0016 in
    (-0.5, "-0.02 in", "-0.5 mm"),
    (-6.35, "-1/4 in", "-6.4 mm"),
    (-114.3, "-4 1/2 in", "-114.3 mm"),
]


@pytest.mark.parametrize(("mm", "inches", "metric"), SHOWN)
def test_a_length_is_shown_as_on_a_ruler(mm: float, inches: str, metric: str) -> None:
    assert show(mm, Unit.INCH) == inches
    assert show(mm, Unit.MM) == metric
    assert show_both(mm, Unit.INCH) == f"{inches} ({metric})"
    assert show_both(mm, Unit.MM) == f"{metric} ({inches})"


def test_a_size_gives_its_unit_once() -> None:
    assert show_size(114.3, 177.8, Unit.INCH) == "4 1/2 × 7 in"
    assert show_size(130, 180, Unit.MM) == "130 × 180 mm"
    assert show_size_both(114.3, 177.8, Unit.INCH) == "4 1/2 × 7 in (114.3 × 177.8 mm)"
    assert show_size_both(114.3, 177.8, Unit.MM) == "114.3 × 177.8 mm (4 1/2 × 7 in)"


def test_a_finer_or_coarser_ruler_can_be_asked_for() -> None:
    # 2 11/32 in = 2.34375 in = 59.53125 mm; in eighths 2.34375 × 8 = 18.75, so 19/8.
    assert show(59.53125, Unit.INCH, denominator=32) == "2 11/32 in"
    assert show(59.53125, Unit.INCH, denominator=8) == "2 3/8 in"
    assert show_size(59.53125, 25.4, Unit.INCH, denominator=8) == "2 3/8 × 1 in"


@given(st.integers(1, 78 * 64), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_what_is_shown_on_a_mark_reads_back_exactly(marks: int, denominator: int) -> None:
    exact = Fraction(min(marks, 78 * denominator), denominator) * Fraction(254, 10)
    shown = show(float(exact), Unit.INCH, denominator=denominator)
    assert parse_length(shown) == float(exact)


@given(st.floats(0.001, 1999.0))
def test_what_is_shown_is_within_half_a_mark_and_never_nothing(mm: float) -> None:
    # Half of 1/16 in is 25.4 / 32 = 0.794 mm.
    assert abs(parse_length(show(mm, Unit.INCH)) - mm) <= 25.4 / 32 + 1e-6
    assert abs(parse_length(show(mm, Unit.MM)) - mm) <= 0.05 + 1e-6
    assert show(-mm, Unit.MM) == f"-{show(mm, Unit.MM)}"


@given(
    st.floats(0.0, 2000.0),
    st.one_of(st.floats(0.001, 0.2), st.floats(0.2, 300.0)),
    st.sampled_from(Unit),
)
def test_two_lengths_that_differ_read_differently(mm: float, more: float, unit: Unit) -> None:
    one, other = show_apart(mm, mm + more, unit)
    assert one != other
    for text, value in ((one, mm), (other, mm + more)):
        (metric,) = re.findall(r"([\d.]+) mm", text)
        assert abs(float(metric) - value) <= 0.05 + 1e-9


def test_lengths_that_read_differently_anyway_are_not_told_finer() -> None:
    assert show_apart(30.0, 34.0, Unit.INCH) == (
        show_both(30.0, Unit.INCH),
        show_both(34.0, Unit.INCH),
    )
    assert show_apart(25.4, 25.4, Unit.MM) == ("25.4 mm (1 in)",) * 2
    # 20.36 mm are 51.3 sixty-fourths of an inch, 20.44 mm 51.5 and so 52.
    assert show_apart(20.36, 20.44, Unit.INCH) == ("51/64 in (20.4 mm)", "13/16 in (20.4 mm)")


@given(
    st.lists(
        # Rounded up, 1999 mm would be told as 78 3/4 in, which is more than any length may be.
        st.tuples(st.floats(2.0, 1990.0), st.sampled_from(("", "up", "down"))),
        min_size=1,
        max_size=6,
    ),
    st.floats(0.0002, 0.3),
    st.sampled_from(Unit),
)
def test_lengths_that_differ_read_differently_in_the_persons_unit(
    lengths: list[tuple[float, str]], apart: float, unit: Unit
) -> None:
    # Each also a little larger, told to the nearest: what stands on both sides of a limit.
    told = [LengthTold(mm, towards) for mm, towards in lengths]
    told += [LengthTold(mm + apart) for mm, _ in lengths]
    shown = show_all_apart(told, unit)
    for one, text in zip(told, shown, strict=True):
        for other, beside in zip(told, shown, strict=True):
            # No decimals are enough for what differs by less than they show.
            if abs(one.mm - other.mm) >= 0.0002 and not (one.towards or other.towards):
                first, second = (parse_length(it.split(" (")[0]) for it in (text, beside))
                assert (first < second) == (one.mm < other.mm)
                assert first != second
        # What is shown is enough, to the person's unit.
        number = parse_length(text.split(" (")[0])
        if one.towards == "up":
            assert number >= one.mm - 1e-4
        if one.towards == "down":
            assert number <= one.mm + 1e-4


@given(st.floats(50, 400), st.floats(0.0002, 0.2), st.sampled_from(Unit))
def test_a_need_and_a_field_that_it_exceeds_read_differently(
    side: float, more: float, unit: Unit
) -> None:
    needs, has = show_sizes_apart((side + more, 100), (side, 180), unit)
    assert needs.split(" × ")[0] != has.split(" × ")[0]


@pytest.mark.parametrize(
    ("lengths", "unit", "shown"),
    [
        # One that is on its mark stays: 8 in = 203.2 mm. 203.203 / 25.4 = 8.000118.
        ((203.2, 203.203), Unit.INCH, ("8 in (203.2 mm)", "8.0001 in (203.2 mm)")),
        # Too near for any figures: 0.00005 mm.
        ((203.2, 203.20005), Unit.INCH, ("8 in (203.2 mm)", "8 in (203.2 mm)")),
        # 0.1414 in = 9.05 and 0.1482 in = 9.48 sixty-fourths: two decimals are enough.
        ((3.59156, 3.76428), Unit.INCH, ("0.14 in (3.6 mm)", "0.15 in (3.8 mm)")),
        # What is beside is as everywhere: 48 / 25.4 · 16 = 30.2, so 1 7/8 in.
        ((48.0, 47.6), Unit.MM, ("48 mm (1 7/8 in)", "47.6 mm (1 7/8 in)")),
        # 5/16 in = 7.9375 mm is on its mark; 7.973 / 25.4 = 0.31390, and 0.31 would be less.
        ((7.9375, 7.973), Unit.INCH, ("5/16 in (7.9 mm)", "0.314 in (8 mm)")),
    ],
)
def test_no_more_figures_are_shown_than_tell_two_apart(
    lengths: tuple[float, ...], unit: Unit, shown: tuple[str, ...]
) -> None:
    assert show_all_apart([LengthTold(one) for one in lengths], unit) == shown


def test_rounding_up_stays_on_a_mark_that_is_reached() -> None:
    # 1/4 in = 6.35 mm; 114.3 = 18 × 6.35; the next mark is 19 × 6.35 = 120.65.
    assert round_up(114.3, 6.35) == 114.3
    assert round_up(114.3 + 1e-9, 6.35) == 114.3
    assert round_up(4.5 * 25.4, 25.4 / 4) == 114.3
    assert round_up(114.31, 6.35) == 120.65
    assert round_up(113.2, 1.0) == 114.0
    assert round_up(0.0, 1.0) == 0.0


def test_rounding_down_stays_on_a_mark_that_is_reached() -> None:
    # 17 × 6.35 = 107.95.
    assert round_down(114.3, 6.35) == 114.3
    assert round_down(114.3 - 1e-9, 6.35) == 114.3
    assert round_down(114.29, 6.35) == 107.95


@given(st.floats(0.0, 2000.0), st.sampled_from([25.4 / 16, 25.4 / 8, 6.35, 12.7, 0.5, 1.0, 5.0]))
def test_rounding_goes_to_the_neighbouring_marks(mm: float, mark: float) -> None:
    up, down = round_up(mm, mark), round_down(mm, mark)
    assert mm - 2e-6 <= up < mm + mark
    assert mm - mark < down <= mm + 2e-6
    assert round_up(up, mark) == up == round_down(up, mark)
    assert abs(up / mark - round(up / mark)) < 1e-6


def test_nothing_heavy_is_loaded_to_read_a_length_or_know_a_hoop() -> None:
    code = (
        "import sys, paramgen.lengths, paramgen.installed, paramgen.reference.hoops;"
        "print([m for m in ('numpy', 'shapely', 'pydantic', 'pyembroidery') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
