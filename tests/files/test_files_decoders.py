"""The tests' own decoders, against the published record layouts of DST and EXP."""

import decode_dst
import decode_exp
import pytest
from decode_dst import Record
from hypothesis import given
from hypothesis import strategies as st


# DST record layout as published; the bytes are arithmetic from it: 1 is the digit 1, 2 is
# 3 - 1, 121 is 81 + 27 + 9 + 3 + 1.
@pytest.mark.parametrize(
    ("three", "expected"),
    [
        ("01 00 03", Record("stitch", 1, 0)),
        ("02 01 03", Record("stitch", 2, 0)),
        ("05 05 07", Record("stitch", 121, 0)),
        ("A0 A0 23", Record("stitch", 0, 121)),
        ("00 00 83", Record("jump", 0, 0)),
        ("00 00 C3", Record("stop", 0, 0)),
        ("00 00 F3", Record("end", 0, 0)),
    ],
)
def test_dst_records_mean_what_the_layout_says(three: str, expected: Record) -> None:
    assert decode_dst.record(bytes.fromhex(three)) == expected


def _ternary(value: int) -> list[int]:
    """Balanced ternary digits, lowest first, five of them."""
    digits = []
    for _ in range(5):
        digit = (value + 1) % 3 - 1
        digits.append(digit)
        value = (value - digit) // 3
    assert value == 0
    return digits


@given(st.integers(-121, 121), st.integers(-121, 121))
def test_dst_digits_are_balanced_ternary(x: int, y: int) -> None:
    # Bits of each digit as (byte, bit of +1, bit of -1), lowest digit first, from the layout.
    x_bits = ((0, 0, 1), (1, 0, 1), (0, 2, 3), (1, 2, 3), (2, 2, 3))
    y_bits = ((0, 7, 6), (1, 7, 6), (0, 5, 4), (1, 5, 4), (2, 5, 4))
    three = bytearray([0, 0, 3])
    for value, bits in ((x, x_bits), (y, y_bits)):
        for digit, (byte, plus, minus) in zip(_ternary(value), bits, strict=True):
            if digit:
                three[byte] |= 1 << (plus if digit > 0 else minus)
    assert decode_dst.record(bytes(three)) == Record("stitch", x, y)


def test_exp_records_mean_what_the_layout_says() -> None:
    data = bytes.fromhex("05 FB  80 04 7F 81  80 80 07 00  80 01 00 00  FF 01")
    assert decode_exp.records(data) == [
        Record("stitch", 5, -5),
        Record("jump", 127, -127),
        Record("trim", 0, 0),
        Record("stop", 0, 0),
        Record("stitch", -1, 1),
    ]
