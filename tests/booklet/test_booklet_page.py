"""The booklet as a page, read with a parser of HTML."""

import re
from collections import Counter
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from booklets import CASES, Case, in_mm, set_in_full
from hypothesis import given
from hypothesis import strategies as st

from paramgen.booklet.word_setting import fraction_parts
from paramgen.drawings.back_end.contrast import GRAPHICS_CONTRAST, TEXT_CONTRAST, contrast
from paramgen.lengths import unbroken
from paramgen.vocabulary.project import Project

every = pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])

_VOID = {"meta", "link", "br", "input"}


class Reader(HTMLParser):
    """What a page is made of: tags with their attributes, and the text in each."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[tuple[str, dict[str, str]]] = []
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.texts: list[tuple[tuple[str, ...], str]] = []
        self.declared = ""
        self.feed(page)
        self.close()

    def handle_decl(self, decl: str) -> None:
        self.declared = decl

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        one = (tag, {name: value or "" for name, value in attrs})
        self.tags.append(one)
        if tag not in _VOID:
            self.open.append(one)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, tag
        assert self.open.pop()[0] == tag

    def handle_data(self, data: str) -> None:
        self.texts.append((tuple(tag for tag, _ in self.open), data))

    def within(self, tag: str) -> list[str]:
        """Text within each such tag, whatever is nested in it."""
        found: list[str] = []
        inside = False
        for tags, text in self.texts:
            if tag in tags:
                found = [*found[:-1], found[-1] + text] if inside else [*found, text]
            inside = tag in tags
        return [" ".join(one.split()) for one in found]


def told(words: str) -> str:
    return " ".join(words.replace("\u00a0", " ").split())


@every
def test_every_tag_is_closed_and_the_page_says_what_it_is(case: Case) -> None:
    one = set_in_full(case)
    page = Reader(one.html)
    assert page.open == []
    assert page.declared == "doctype html"
    assert ("html", {"lang": "en"}) in page.tags
    assert page.within("title")[0].startswith(one.made.project.title)
    assert ("meta", {"charset": "utf-8"}) in page.tags


@every
def test_every_step_is_there_in_order(case: Case) -> None:
    one = set_in_full(case)
    page = Reader(one.html)
    headings = [one for one in page.within("h3") if one.startswith("Step ")]
    steps = one.made.project.steps
    assert [int(re.findall(r"\d+", heading)[0]) for heading in headings] == [
        step.number for step in steps
    ]
    words = told("".join(text for tags, text in page.texts if "svg" not in tags))
    at = 0
    for heading, step in zip(headings, steps, strict=True):
        assert heading.endswith(told(step.title))
        assert (f"stop {step.stop} of" in heading) if step.stop else ("by hand" in heading)
        at = words.index(told(step.say), at)


def to_cut(project: Project) -> dict[str, int]:
    """Every piece, and the interfacing for those of a fabric that has it."""
    interfaced = {one.role for one in project.fabrics if one.interfacing}
    fused = [piece for piece in project.pieces if piece.fabric in interfaced]
    return {piece.title: piece.quantity for piece in project.pieces} | {
        f"interfacing for the {piece.title}": piece.quantity for piece in fused
    }


@every
def test_every_piece_is_in_the_cut_list_with_a_box_for_each(case: Case) -> None:
    one = set_in_full(case)
    page = Reader(one.html)
    boxes = Counter(
        re.sub(r", \d+ of \d+, is cut$", "", attributes["aria-label"])
        for tag, attributes in page.tags
        if tag == "input"
    )
    assert boxes == Counter(to_cut(one.made.project))
    words = told("".join(text for tags, text in page.texts if "table" in tags))
    for piece in one.made.project.pieces:
        for width, height in (piece.cut, piece.folded):
            mm = in_mm(width, height)
            assert mm in words


@every
def test_headings_go_down_one_level_at_a_time(case: Case) -> None:
    # WCAG 2.2, technique H42: headings mark up the structure.
    levels = [int(tag[1]) for tag, _ in Reader(set_in_full(case).html).tags if tag in HEADINGS]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


HEADINGS = {"h1", "h2", "h3", "h4"}


@every
def test_no_name_is_used_twice_and_every_reference_is_met(case: Case) -> None:
    html = set_in_full(case).html
    names = [attributes["id"] for _, attributes in Reader(html).tags if "id" in attributes]
    assert [name for name, count in Counter(names).items() if count > 1] == []
    referred = set(re.findall(r'(?:href="#|url\(#)([^")]+)', html))
    for _, attributes in Reader(html).tags:
        referred |= set(attributes.get("aria-labelledby", "").split())
    assert referred - set(names) == set()


@every
def test_nothing_is_asked_from_outside(case: Case) -> None:
    html = set_in_full(case).html
    without = re.sub(r'xmlns(:\w+)?="http://www\.w3\.org/[\w/-]+"', "", html)
    assert "http:" not in without
    assert "https:" not in without
    page = Reader(html)
    assert {tag for tag, _ in page.tags} & {"script", "img", "iframe", "object", "embed"} == set()
    links = [one for _, attributes in page.tags for name, one in attributes.items()
             if name in ("href", "src", "xlink:href")]  # fmt: skip
    assert [one for one in links if not one.startswith("#")] == ["data:,"]
    assert "@import" not in html


@every
def test_every_picture_is_drawn_and_has_words_in_its_place(case: Case) -> None:
    one = set_in_full(case)
    page = Reader(one.html)
    drawn = [attributes for tag, attributes in page.tags if tag == "svg"]
    said = one.said
    count = len(said.finished) + len(said.folding) + len(said.samples) + 1 + len(said.blocks)
    assert len(drawn) == count
    assert all(one["role"] == "img" and one["aria-labelledby"] for one in drawn)
    described = page.within("desc")
    for step in one.made.project.steps:
        assert any(told(step.say) in told(one) for one in described)


@every
def test_a_letter_in_a_picture_is_explained_beside_it(case: Case) -> None:
    for block in set_in_full(case).said.blocks:
        drawn = re.findall(r"<text[^>]*>([A-Z]\d?)</text>", block.picture.svg)
        assert drawn == [one.letter for one in block.picture.key]


def test_fractions_are_marked_as_such() -> None:
    page = set_in_full(CASES[1]).html
    # Of plain figures, raised and lowered: no font lacks those. A size is not broken up.
    fraction = '<span class="fr"><sup>1</sup>/<sub>4</sub></span>'
    assert f"4\u00a0{fraction}\u00a0×\u00a04\u00a0{fraction}\u00a0in (108" in page
    assert "4 1/4 × 4 1/4 in (108 × 108 mm)" in told(
        "".join(text for tags, text in Reader(page).texts if "dd" in tags)
    )
    # A needle's two numbers are no fraction.
    assert "needle 80/12" in page


@pytest.mark.parametrize(
    ("words", "kept"),
    [
        ("lay 2 strips 4 1/2 in apart", "lay 2 strips 4_1/2_in apart"),
        ("5 1/2 × 12 3/8 in (139.7 × 314.3 mm)", "5_1/2_×_12_3/8_in (139.7_×_314.3_mm)"),
        ("stops 1 to 6, needle 80/12 in it", "stops 1 to 6, needle 80/12 in it"),
        ("625 cm² (97 sq in)", "625_cm² (97_sq in)"),
        ("up to 3 inner layers", "up to 3 inner layers"),
    ],
)
def test_a_length_stays_with_its_unit(words: str, kept: str) -> None:
    assert unbroken(words).replace("\u00a0", "_").replace("sq_in", "sq in") == kept


@given(st.text(alphabet="0123456789/ in80", max_size=20))
def test_parting_fractions_loses_nothing(words: str) -> None:
    parts = list(fraction_parts(words))
    assert "".join(part for part, _ in parts) == words
    for part, fraction in parts:
        if fraction:
            top, bottom = map(int, part.split("/"))
            assert 0 <= top < bottom


def test_colours_stand_out_from_what_they_lie_on() -> None:
    # WCAG 2.2, 1.4.3: text 4.5:1; 1.4.11: graphics 3:1.
    page = set_in_full(CASES[0]).html
    style = page[page.index("<style>") : page.index("</style>")]
    grounds = {"#fff", *re.findall(r"background:(#\w+)", style)} - {"#1a1f24"}
    for colour in set(re.findall(r"[;{]color:(#\w+)", style)):
        assert all(contrast(colour, full(ground)) >= TEXT_CONTRAST for ground in grounds), colour
    for colour in set(re.findall(r"solid (#\w+)", style)):
        assert contrast(colour, "#ffffff") >= GRAPHICS_CONTRAST, colour
    for colour in set(re.findall(r"border-left-color:(#\w+)", page)):
        assert contrast(colour, "#ffffff") >= GRAPHICS_CONTRAST, colour


def full(colour: str) -> str:
    return colour if len(colour) == 7 else "#" + "".join(2 * letter for letter in colour[1:])
