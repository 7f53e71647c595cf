"""The colours of the steps: seen on white, told from their neighbours, kept apart in files."""

import struct
from itertools import pairwise, product

import pytest
from files_designs import many_steps
from layout_orders import laid
from pyembroidery import EmbThread
from pyembroidery.EmbThreadJef import get_thread_set as jef_chart
from pyembroidery.EmbThreadPec import get_thread_set as pec_chart

from paramgen.files.format_choice import formats_named
from paramgen.files.proven_files import write_stitch_files
from paramgen.layout.stop_colours import COLOURS, colour_of
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.vocabulary.findings import CannotMakeError

_NEIGHBOURS = tuple(pairwise([*COLOURS, COLOURS[0]]))


def _linear(colour: str) -> list[float]:
    """Red, green and blue in linear light, WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    return [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]


def _luminance(colour: str) -> float:
    red, green, blue = _linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast_on_white(colour: str) -> float:
    return 1.05 / (_luminance(colour) + 0.05)


def _lab(colour: str) -> tuple[float, float, float]:
    """CIE 1976 L*a*b* (CIE 15) for D65; matrix and white of IEC 61966-2-1, from memory."""
    red, green, blue = _linear(colour)
    x = 0.4124 * red + 0.3576 * green + 0.1805 * blue
    z = 0.0193 * red + 0.1192 * green + 0.9505 * blue
    fx, fy, fz = (
        t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29
        for t in (x / 0.9505, _luminance(colour), z / 1.0890)
    )
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


@pytest.mark.parametrize(
    ("colour", "ratio"), [("#767676", 4.542), ("#777777", 4.478), ("#949494", 3.034)]
)
def test_contrast_is_that_of_wcag(colour: str, ratio: float) -> None:
    assert _contrast_on_white(colour) == pytest.approx(ratio, abs=1e-3)


@pytest.mark.parametrize("colour", COLOURS)
def test_every_colour_is_seen_on_white(colour: str) -> None:
    assert _contrast_on_white(colour) >= 3  # WCAG 2.2, 1.4.11


@pytest.mark.parametrize(("one", "two"), _NEIGHBOURS)
def test_neighbours_differ_plainly_and_in_lightness_too(one: str, two: str) -> None:
    # A difference of 2.3 is just noticed (common practice, no source); these are far more.
    # Lightness alone tells them apart for who does not see the hue.
    lab = list(zip(_lab(one), _lab(two), strict=True))
    assert sum((a - b) ** 2 for a, b in lab) ** 0.5 > 40
    assert abs(lab[0][0] - lab[0][1]) > 12


def test_all_colours_are_different_and_come_round_again() -> None:
    assert len(set(COLOURS)) == len(COLOURS)
    assert [colour_of(stop) for stop in range(1, 2 * len(COLOURS) + 1)] == [*COLOURS, *COLOURS]


@pytest.mark.parametrize("name", list(listed()))
def test_no_shipped_recipe_has_two_stops_of_one_colour(name: str) -> None:
    recipe = find_recipe(name)
    choices = recipe.file.choices
    for options in product(*(sorted(choice.options) for choice in choices.values())):
        try:
            project = laid(recipe, dict(zip(choices, options, strict=True)))
        except CannotMakeError:  # some do not go together
            continue
        colours = [step.colour for step in project.steps if step.stop]
        assert len(set(colours)) == len(colours) > 1


@pytest.mark.parametrize(("one", "two"), _NEIGHBOURS)
def test_neighbours_are_nearest_to_different_colours_of_the_fixed_charts(
    one: str, two: str
) -> None:
    for chart in (pec_chart(), jef_chart()):
        nearest = [EmbThread(colour).find_nearest_color_index(chart) for colour in (one, two)]
        assert nearest[0] != nearest[1]


def _chart_of_pes_1(data: bytes, steps: int) -> list[int]:
    """Colour numbers of the steps: they follow 48 bytes of the last block and their count."""
    (block,) = struct.unpack("<I", data[8:12])
    assert data[block + 48] == steps - 1
    return list(data[block + 49 : block + 49 + steps])


@pytest.mark.parametrize("count", [*range(1, 41), 160, 255])
def test_pes_1_keeps_all_neighbouring_steps_apart(count: int) -> None:
    (pes1,) = formats_named(["pes1"])
    (file,) = write_stitch_files(many_steps(count), [pes1], "tag")
    chart = _chart_of_pes_1(file.data, count)
    assert all(one != two for one, two in pairwise(chart))
    # However many steps there are, a colour gets the one of the chart nearest to it.
    nearest = [EmbThread(colour).find_nearest_color_index(pec_chart()) for colour in COLOURS]
    assert chart == [nearest[n % len(COLOURS)] for n in range(count)]
