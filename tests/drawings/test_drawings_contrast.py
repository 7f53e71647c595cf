"""Contrast against WCAG 2.2: success criteria 1.4.3 (text, 4.5) and 1.4.11 (graphics, 3)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.drawings.back_end.contrast import contrast, darkened, luminance
from paramgen.drawings.back_end.looks import (
    INK,
    LOOKS,
    LOOKS_NOW,
    PAPER,
    WEAVES,
    Look,
    look_of,
    weave_of,
)
from paramgen.drawings.primitives.items import Style, Tone

TEXT, GRAPHICS = 4.5, 3.0

colours = st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06x}")
#: What is of a fabric, and as many fabrics as have a tone of their own.
WOVEN = (
    Style.RIGHT_SIDE,
    Style.WRONG_SIDE,
    Style.NO_RIGHT_SIDE,
    Style.SEE_THROUGH,
    Style.SHEET,
    Style.SWATCH,
)
TONES = [Tone(place, "") for place in range(len(WEAVES))]
every_look = [
    *((f"{style}", look) for style, look in LOOKS.items()),
    *((f"{style}, now", look) for style, look in LOOKS_NOW.items()),
    *(
        (f"{style} {tone.place}{', now' if now else ''}", look_of(style, now=now, tone=tone))
        for style in WOVEN
        for tone in TONES
        for now in (False, True)
    ),
]


def light(colour: str) -> bool:
    return luminance(colour) > 0.5


TINTS = {tint for weave in WEAVES for tint in (weave.pale, weave.strong)}
GROUNDS = sorted(
    {PAPER, *TINTS, *(look.fill for _, look in every_look if look.fill and light(look.fill))}
)


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [
        # Ends of the scale: (1 + 0.05) / (0 + 0.05), WCAG 2.2 definition of contrast ratio.
        ("#000000", 21.0),
        ("#ffffff", 1.0),
        # Pure red has luminance 0.2126, so 1.05 / 0.2626; blue 0.0722, so 1.05 / 0.1222.
        ("#ff0000", 1.05 / 0.2626),
        ("#0000ff", 1.05 / 0.1222),
    ],
)
def test_contrast_with_white_is_as_wcag_defines_it(colour: str, ratio: float) -> None:
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=1e-9)


def test_the_lightest_grey_for_text_on_white_is_767676() -> None:
    # Widely quoted consequence of WCAG's definition, from memory.
    assert contrast("#767676", "#ffffff") >= TEXT > contrast("#777777", "#ffffff")


def test_every_style_has_a_look() -> None:
    assert set(LOOKS) == set(Style)


@pytest.mark.parametrize("ground", GROUNDS)
def test_text_stands_out_from_every_ground(ground: str) -> None:
    assert contrast(INK, ground) >= TEXT


@pytest.mark.parametrize(("name", "look"), every_look)
def test_a_line_stands_out_from_what_it_lies_on(name: str, look: Look) -> None:
    if look.stroke is None or look.stroke == PAPER:
        return
    # A halo lays paper under a line; the field and the outlines in the picture of the
    # whole lie on nothing but the field.
    on_the_field = [PAPER, LOOKS[Style.HOOP_FIELD].fill or PAPER]
    low = name in (Style.HOOP_FIELD, Style.PIECE_OUTLINE)
    for ground in [PAPER] if look.halo else on_the_field if low else GROUNDS:
        assert contrast(look.stroke, ground) >= GRAPHICS, (name, ground)


@pytest.mark.parametrize(("name", "look"), every_look)
def test_a_texture_stands_out_from_its_fill(name: str, look: Look) -> None:
    if look.texture and look.fill:
        assert contrast(look.texture_ink, look.fill) >= GRAPHICS, name


@pytest.mark.parametrize(("name", "look"), every_look)
def test_a_halo_is_wider_than_its_line_and_a_core_narrower(name: str, look: Look) -> None:
    assert look.halo == 0.0 or look.halo >= look.width + 0.3
    assert look.core <= 0.6 * look.width


def test_faces_are_told_apart_without_colour() -> None:
    sides = (Style.RIGHT_SIDE, Style.WRONG_SIDE, Style.NO_RIGHT_SIDE, Style.HOLDING_TAPE)
    for looks in (LOOKS, {**LOOKS, **LOOKS_NOW}):
        assert len({looks[side].texture for side in sides}) == len(sides)


def test_fabrics_are_told_apart_by_their_marks_without_colour() -> None:
    # From the ninth on the tones come again, and the marks are doubled.
    marks = [weave_of(Tone(place, "")).mark for place in range(4 * len(WEAVES))]
    assert len(set(marks)) == len(marks)
    assert all(marks)
    for style in WOVEN:
        assert {look_of(style, tone=tone).strewn for tone in TONES} == set(marks[: len(TONES)])


def test_all_that_is_laid_now_is_darker_than_all_that_was_laid_before() -> None:
    # So it stands out when it is printed in grey: 1.2 as told apart side by side, from memory.
    before = [luminance(look_of(Style.RIGHT_SIDE, tone=tone).fill or "") for tone in TONES]
    now = [luminance(look_of(Style.RIGHT_SIDE, now=True, tone=tone).fill or "") for tone in TONES]
    assert min(before) > max(now)
    assert all(b + 0.05 > 1.2 * (n + 0.05) for b, n in zip(before, now, strict=True))


def test_right_and_wrong_side_of_a_fabric_are_told_apart_without_colour() -> None:
    for tone in TONES:
        for now in (False, True):
            right = look_of(Style.RIGHT_SIDE, now=now, tone=tone)
            wrong = look_of(Style.WRONG_SIDE, now=now, tone=tone)
            assert right.texture != wrong.texture
            # The right side is the shaded one.
            assert luminance(right.fill or "") < luminance(wrong.fill or "")


def test_what_is_done_now_is_told_apart_without_colour() -> None:
    for edge in (Style.RAW_EDGE, Style.FOLDED_EDGE):
        assert LOOKS_NOW[edge].width > 1.4 * LOOKS[edge].width
    assert LOOKS[Style.STITCHED_NOW].width > 2 * LOOKS[Style.STITCHED_BEFORE].width


@given(colours)
def test_any_stop_colour_is_made_to_stand_out_on_paper(colour: str) -> None:
    darker = darkened(colour, PAPER, GRAPHICS)
    assert contrast(darker, PAPER) >= GRAPHICS
    if contrast(colour, PAPER) >= GRAPHICS:
        assert darker == colour


@given(colours)
def test_a_darkened_colour_keeps_the_shares_of_its_parts(colour: str) -> None:
    darker = darkened(colour, PAPER, GRAPHICS)
    before, after = ([int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in (colour, darker))
    for i in range(3):
        # Rounding to whole steps of 255 moves each part by less than one.
        assert abs(after[i] * max(before) - max(after) * before[i]) <= 2 * max(before)
