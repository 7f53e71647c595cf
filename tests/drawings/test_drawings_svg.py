import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from specimens import coaster, smallest, wallet

from paramgen.drawings.back_end.svg import number, to_svg
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.piece_template import piece_template
from paramgen.drawings.pictures.step import step_picture
from paramgen.drawings.pictures.whole_project import whole
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, Text
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import path
from paramgen.vocabulary.unit import Unit

OFF = Style.TAPE_OFF

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def drawings() -> Iterator[Drawing]:
    wallet_in_hoop = hooped(wallet(), "130 × 180", 130, 180)
    yield whole(wallet_in_hoop)
    yield step_picture(wallet_in_hoop, 4)
    yield step_picture(wallet_in_hoop, 8)
    yield step_picture(hooped(coaster(100, 90), "100 × 100", 100, 100), 7)
    yield step_picture(hooped(smallest(), "360 × 350", 360, 350), 4)
    yield piece_template(wallet().pieces[0], Unit.INCH)


every_drawing = pytest.mark.parametrize(
    "drawing", list(drawings()), ids=lambda d: f"{d.name} {d.title}"
)


def little(*items: Shape | Text | Group, title: str = "A title") -> Drawing:
    return Drawing(
        name="little",
        title=title,
        description="What it shows.",
        box=Box(-10, -20, 30, 40),
        scale=1.0,
        items=items,
    )


def bars(root: ET.Element) -> list[float]:
    """Lengths of the level lines among the check marks, in user units."""
    (group,) = (g for g in root.iter(f"{SVG}g") if (g.get("id") or "").endswith("check-marks"))
    lengths = []
    for line in group.iter(f"{SVG}path"):
        points = np.array(NUMBER.findall(line.get("d") or ""), dtype=float).reshape(-1, 2)
        if points[0, 1] == points[-1, 1]:
            lengths.append(abs(points[-1, 0] - points[0, 0]))
    return lengths


@every_drawing
def test_one_user_unit_is_one_millimetre(drawing: Drawing) -> None:
    root = ET.fromstring(to_svg(drawing))
    _, _, width, height = (root.get("viewBox") or "").split()
    assert (root.get("width"), root.get("height")) == (f"{width}mm", f"{height}mm")


@every_drawing
def test_check_marks_are_5_cm_and_2_in_long(drawing: Drawing) -> None:
    # 5 cm = 50 mm; 2 in = 2 × 25.4 mm (international inch, 1959).
    assert bars(ET.fromstring(to_svg(drawing))) == pytest.approx([50.0, 50.8], abs=0.0015)


@every_drawing
def test_a_screen_reader_finds_title_and_description(drawing: Drawing) -> None:
    root = ET.fromstring(to_svg(drawing))
    title, description = root[0], root[1]
    assert (title.tag, title.text) == (f"{SVG}title", drawing.title)
    assert (description.tag, description.text) == (f"{SVG}desc", drawing.description)
    assert root.get("role") == "img"
    assert (root.get("aria-labelledby") or "").split() == [title.get("id"), description.get("id")]


@every_drawing
def test_names_are_the_drawings_own_and_none_is_used_twice(drawing: Drawing) -> None:
    text = to_svg(drawing)
    names = [e.get("id") or "" for e in ET.fromstring(text).iter() if e.get("id")]
    assert len(names) == len(set(names))
    prefix = names[0]
    assert all(name == prefix or name.startswith(f"{prefix}-") for name in names)
    assert set(re.findall(r"url\(#([^)]*)\)", text)) <= set(names)
    assert "href" not in text


@every_drawing
def test_every_coordinate_has_three_decimals_and_none_is_minus_nothing(drawing: Drawing) -> None:
    text = to_svg(drawing)
    assert "-0.000" not in text
    for data in re.findall(r' d="([^"]*)"', text):
        for value in NUMBER.findall(data):
            assert value == "0" or len(value.partition(".")[2]) == 3, data


def test_every_text_is_written() -> None:
    drawing = step_picture(hooped(wallet(), "130 × 180", 130, 180), 11)
    written = [e.text for e in ET.fromstring(to_svg(drawing)).iter(f"{SVG}text")]
    assert written == [text.words for text in drawing.texts]


@given(st.floats(-1e4, 1e4))
def test_a_number_is_written_to_the_nearest_thousandth(value: float) -> None:
    text = number(value)
    assert re.fullmatch(r"-?\d+\.\d{3}", text)
    assert text != "-0.000"
    assert abs(float(text) - value) <= 0.0005 + 1e-9


@given(st.text(max_size=40))
def test_any_words_make_well_formed_xml(words: str) -> None:
    text = Text((0.0, 0.0), words, 3.0)
    root = ET.fromstring(to_svg(little(Group("g", (text,), words), title=words)).encode())
    (written,) = root.iter(f"{SVG}text")
    # Reading XML makes every line end a line feed (XML 1.0, section 2.11).
    if all(letter.isprintable() for letter in words):
        assert (written.text or "", root[0].text or "") == (words, words)


@pytest.mark.parametrize("words", ["<b>&amp;\"'</b>", "]]>", "a\x00b\x1b", "\ud800", "-->"])
def test_words_that_look_like_markup_or_nothing_are_kept_harmless(words: str) -> None:
    root = ET.fromstring(to_svg(little(Text((0.0, 0.0), words, 3.0), title=words)).encode())
    assert root[0].text == re.sub("[\x00\x1b\ud800]", "\ufffd", words)
    assert root.find(f".//{SVG}b") is None


def test_a_shape_is_written_where_it_lies() -> None:
    shape = Shape(path([(1.0, 2.0), (3.5, -4.25), (0.0, -1e-9)], closed=True), Style.CUT_LINE)
    assert 'd="M1.000 2.000L3.500 -4.250L0.000 0.000Z"' in to_svg(little(shape))


def test_a_stops_colour_takes_the_place_of_the_looks_own() -> None:
    line = path([(0, 0), (9, 0)], closed=False)
    assert "#123456" in to_svg(little(Shape(line, Style.STITCHED_NOW, colour="#123456")))
    assert "#123456" not in to_svg(little(Shape(line, Style.STITCHED_NOW)))


@pytest.mark.parametrize(("style", "filled"), [(Style.WRONG_SIDE, 1), (Style.SEE_THROUGH, 0)])
def test_a_texture_covers_what_is_under_it_unless_it_is_see_through(
    style: Style, filled: int
) -> None:
    square = path([(0, 0), (9, 0), (9, 9), (0, 9)], closed=True)
    root = ET.fromstring(to_svg(little(Shape(square, style))))
    (pattern,) = root.iter(f"{SVG}pattern")
    # The fill lies under the pattern and not in it: tiles do not quite meet where they are printed.
    assert all(part.get("fill") is None for part in pattern)
    outline = "M0.000 0.000L9.000 0.000L9.000 9.000L0.000 9.000Z"
    fills = [one.get("fill") or "" for one in root.iter(f"{SVG}path") if one.get("d") == outline]
    assert len(fills) == 1 + filled
    assert fills[-1].startswith("url(#")
    assert all(fill.startswith("#") for fill in fills[:-1])


def test_lines_grow_with_the_scale_of_a_drawing() -> None:
    line = Shape(path([(0, 0), (9, 0)], closed=False), Style.CUT_LINE)
    box = Box(0, 0, 9, 9)
    widths = [
        float(
            re.findall(
                r'stroke-width="([^"]*)"',
                to_svg(
                    Drawing(name="d", title="", description="", box=box, scale=s, items=(line,))
                ),
            )[0]
        )
        for s in (1.0, 2.0)
    ]
    assert widths[1] == pytest.approx(2 * widths[0], abs=0.001)


def test_the_same_project_gives_the_same_bytes_in_another_process() -> None:
    program = (
        "import sys\n"
        "from specimens import wallet\n"
        "from paramgen.drawings.front_end.scene import hooped\n"
        "from paramgen.drawings.pictures.step import step_picture\n"
        "from paramgen.drawings.back_end.svg import to_svg\n"
        "drawing = step_picture(hooped(wallet(), 'hoop', 130, 180), 12)\n"
        "sys.stdout.buffer.write(to_svg(drawing).encode())"
    )
    tests = str(Path(__file__).parents[1] / "specimens")
    run = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        check=True,
        env={"PYTHONHASHSEED": "7", "PYTHONPATH": os.pathsep.join([tests, *sys.path])},
    )
    assert run.stdout.decode() == to_svg(step_picture(hooped(wallet(), "hoop", 130, 180), 12))


def test_a_small_strip_is_drawn_with_dashes_all_round_however_large_the_scale() -> None:
    # A strip of tape, 20 × 12 mm, is 64 mm round; 8 dashes with their gaps take no more.
    strip = path([(0, 0), (20, 0), (20, 12), (0, 12)], closed=True)
    for scale in (1.0, 4.0, 12.0):
        svg = to_svg(
            Drawing(
                name="strip",
                title="",
                description="",
                box=Box(0, 0, 20, 12),
                scale=scale,
                items=(Shape(strip, OFF),),
            )
        )
        (dashes,) = re.findall(r'stroke-dasharray="([^"]+)"', svg)
        dash, gap = map(float, dashes.split())
        assert 8 * (dash + gap) <= 64.0 + 0.01
        assert dash / gap == pytest.approx(1.5, abs=0.01)
    # Where there is room for more the dashes are as long as everywhere: 1.2 and 0.8 mm.
    long = path([(0, 0), (200, 0), (200, 120), (0, 120)], closed=True)
    svg = to_svg(
        Drawing(
            name="long",
            title="",
            description="",
            box=Box(0, 0, 200, 120),
            scale=2.0,
            items=(Shape(long, OFF),),
        )
    )
    assert 'stroke-dasharray="2.400 1.600"' in svg
