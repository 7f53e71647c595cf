"""The booklet and the strip, read from the PDF by other libraries."""

import io
import math
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pypdf
import pytest
from booklets import CASES, BookletSet, Case, in_mm, made_as, said_of, set_in_full
from papers_checked import complaints
from papers_read import MM, Sheet, opened, outside, read

from paramgen.booklet.as_pdf import to_pdf, to_strip
from paramgen.booklet.lettered_pictures import LetteredPicture
from paramgen.booklet.said import Booklet
from paramgen.drawings.back_end.contrast import GRAPHICS_CONTRAST, TEXT_CONTRAST, contrast
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.unit import Unit

every = pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]}-{case[3]}")


@cache
def pages_of(case: Case) -> list[Sheet]:
    return read(set_in_full(case).pdf)


def in_words(pages: list[Sheet]) -> str:
    return told(" ".join(page.words for page in pages))


def told(words: str) -> str:
    """Words on one line; one that has a hyphen may have been broken at it."""
    return " ".join(words.replace("\u00a0", " ").split()).replace("- ", "-")


def root_of(pdf: bytes) -> Any:
    return pypdf.PdfReader(io.BytesIO(pdf)).trailer["/Root"]


def outline(pdf: bytes) -> list[str]:
    """Bookmarks of a PDF, those below others after them."""

    def flat(entries: Any) -> Iterator[str]:
        for entry in entries:
            if isinstance(entry, list):
                yield from flat(entry)
            else:
                yield told(entry.title)

    return list(flat(pypdf.PdfReader(io.BytesIO(pdf)).outline))


def alternatives(pdf: bytes) -> list[str | None]:
    """Alternative text of every figure in the order of the structure tree (ISO 32000, 14.7)."""
    found = []

    def walk(node: Any) -> None:
        node = node.get_object()
        if isinstance(node, list):
            for one in node:
                walk(one)
        elif isinstance(node, dict):
            if node.get("/S") == "/Figure":
                found.append(node.get("/Alt"))
            if "/K" in node:
                walk(node["/K"])

    walk(root_of(pdf)["/StructTreeRoot"])
    return found


def pictures(said: Booklet) -> list[LetteredPicture]:
    return [
        *said.finished,
        *(folding.picture for folding in said.folding),
        *(sample.picture for sample in said.samples),
        said.whole,
        *(block.picture for block in said.blocks),
    ]


def overlaps(page: Sheet) -> list[tuple[str, str]]:
    """Lines over each other; a line's box is reckoned without a third for what lies between."""
    boxes = []
    for text, (left, top, right, bottom) in page.texts:
        slack = (bottom - top) / 6
        boxes.append((text, left, top + slack, right, bottom - slack))
    return [
        (a[0], b[0])
        for i, a in enumerate(boxes)
        for b in boxes[:i]
        if a[1] + 0.1 < b[3] and b[1] + 0.1 < a[3] and a[2] < b[4] and b[2] < a[4]
    ]


@every
def test_every_step_is_there_in_order(case: Case) -> None:
    one = set_in_full(case)
    steps = one.made.project.steps
    marks = [mark for mark in outline(one.pdf) if mark.startswith("Step ")]
    assert [int(re.findall(r"\d+", mark)[0]) for mark in marks] == [s.number for s in steps]
    for mark, step in zip(marks, steps, strict=True):
        assert mark.endswith(told(step.title))
        # By hand there is no number of the machine.
        assert (f"stop {step.stop} " in mark) if step.stop else ("stop" not in mark.split(",")[1])
    words = in_words(pages_of(case))
    places = [words.find(told(step.say)) for step in steps]
    assert min(places) >= 0
    starts = [words.find(f"Step {step.number}, ") for step in steps]
    assert starts == sorted(starts)


@every
def test_every_piece_is_in_the_cut_list_with_its_sizes_in_both_units(case: Case) -> None:
    one = set_in_full(case)
    words = in_words(pages_of(case))
    for piece in one.made.project.pieces:
        for width, height in {piece.cut, piece.folded}:
            mm = in_mm(width, height)
            assert f"{mm} mm" in words, (piece.name, mm)
            assert re.search(rf"{re.escape(mm)} mm \([\d /]+ × [\d /]+ in\)", words) or re.search(
                rf"in \({re.escape(mm)} mm\)", words
            )
        assert f"{piece.quantity} × {piece.title}" in words
    boxes = [s for page in pages_of(case) for s in page.sized(3.6, 3.6, 0.02)]
    ticks = [box for box in boxes if box.fill is None]
    interfaced = {each.role for each in one.made.project.fabrics if each.interfacing}
    pieces = one.made.project.pieces
    fused = [piece for piece in pieces if piece.fabric in interfaced]
    assert len(ticks) == sum(piece.quantity for piece in (*pieces, *fused))


@every
def test_no_text_leaves_its_page_or_lies_over_another(case: Case) -> None:
    one = set_in_full(case)
    for page in (*pages_of(case), *read(one.strip)):
        assert outside(page) == []
        assert overlaps(page) == []


@pytest.mark.parametrize(
    ("recipe", "hoop", "asked", "paper"),
    [
        (
            "fold-wallet",
            "100x200mm",
            {
                "width": 75,
                "height": 130,
                "pockets": 1,
                "tab": "none",
                "packet_width": 50,
                "packet_height": 50,
            },
            "letter",
        ),
        ("fold-wallet", "400x500mm", {"width": 330, "height": 360, "pockets": 4}, "a4"),
    ],
    ids=["small wallet", "large wallet"],
)
def test_the_smallest_and_the_largest_fit_their_pages(
    recipe: str, hoop: str, asked: dict[str, str | float], paper: str
) -> None:
    words = said_of(made_as(asked, recipe, hoop, Unit.MM))
    sheet = find_paper(paper, listed_papers())
    pages, strip = read(to_pdf(words, sheet, 10.0)), read(to_strip(words, sheet, 10.0))
    assert len(strip) <= 2
    for page in (*pages, *strip):
        assert outside(page) == []
        assert overlaps(page) == []


@every
def test_the_number_of_pages_is_no_more_than_the_steps_need(case: Case) -> None:
    one = set_in_full(case)
    pages = len(pages_of(case))
    steps = len(one.made.project.steps)
    # Three steps a page, and no more than nine for all the rest; a small paper takes twice.
    assert pages <= (math.ceil(steps / 3) + 9) * (2 if case[3] == "a5" else 1)
    assert len(read(one.strip)) <= 2


@every
def test_pictures_of_the_strip_are_large_enough_to_be_seen_from_the_machine(case: Case) -> None:
    one = set_in_full(case)
    sheets = read(one.strip)
    # Within 10 mm all round 48 steps on A4 have 190 × 260 / 48 = 1029 mm² each, words and all, and
    # 37 on A5 128 × 173 / 37 = 598 mm²; 20 on Letter 196 × 242 / 20 = 2372 mm², some 22 × 31 for
    # the picture.
    assert len(sheets) == (2 if case[0] in ("fold-wallet", "zip-pouch") else 1)
    marks = [mark for mark in outline(one.strip) if mark[0].isdigit()]
    assert [int(mark.split()[0]) for mark in marks] == [s.number for s in one.made.project.steps]


@every
def test_every_picture_has_words_in_its_place(case: Case) -> None:
    one = set_in_full(case)
    assert alternatives(one.pdf) == [picture.says for picture in pictures(one.said)]
    small = [block.small.says for block in one.said.blocks]
    assert alternatives(one.strip) == small
    for step, alt in zip(one.made.project.steps, small, strict=True):
        assert step.title in alt
        assert told(step.say) in told(alt)


@every
def test_text_and_lines_stand_out_from_what_they_lie_on(case: Case) -> None:
    # WCAG 2.2, 1.4.3: text 4.5:1; 1.4.11: graphics 3:1. Text lies on the paper or on a caution's
    # tint; in pictures it has a light ring or ground of its own, which the drawings' tests see to.
    one = set_in_full(case)
    colours: set[str] = set()
    with opened(one.pdf) as document:
        for page in document:
            for block in page.get_text("dict")["blocks"]:
                for line in block.get("lines", ()):
                    colours |= {f"#{span['color']:06x}" for span in line["spans"]}
    for colour in colours:
        assert all(contrast(colour, ground) >= TEXT_CONTRAST for ground in ("#ffffff", "#fdf3f2"))
    # Rules of the tables and over the steps are half a point thick.
    rules = {
        "#" + "".join(f"{round(part * 255):02x}" for part in stroke.colour)
        for page in pages_of(case)
        for stroke in page.strokes
        if stroke.colour and abs(stroke.width - 0.5 * MM) < 1e-4 and stroke.size[0] > 20
    }
    assert rules
    assert all(contrast(colour, "#ffffff") >= GRAPHICS_CONTRAST for colour in rules)


@every
def test_a_screen_reader_is_told_title_and_language(case: Case) -> None:
    one = set_in_full(case)
    for pdf in (one.pdf, one.strip):
        assert complaints(pdf) == []
        reader = pypdf.PdfReader(io.BytesIO(pdf))
        assert root_of(pdf)["/Lang"] == "en"
        assert reader.metadata is not None
        assert reader.metadata.title is not None
        assert reader.metadata.title.startswith(one.made.project.title)
        # PDF/UA-1, ISO 14289-1: the document says that it keeps to it.
        assert b"pdfuaid" in root_of(pdf)["/Metadata"].get_object().get_data()


@every
def test_the_strip_shows_every_step_in_order(case: Case) -> None:
    one = set_in_full(case)
    marks = [mark for mark in outline(one.strip) if mark[0].isdigit()]
    assert [int(mark.split()[0]) for mark in marks] == [s.number for s in one.made.project.steps]
    for mark, step in zip(marks, one.made.project.steps, strict=True):
        assert mark.endswith(told(step.title))
        assert (f"stop {step.stop} " in mark) == (step.stop is not None)


def test_a_size_in_inches_is_set_with_a_fraction() -> None:
    # The coaster is 108 mm, 4 1/4 in on a ruler. A glyph of the fraction is narrower than 1, /
    # and 4 one after the other, which take more than their height.
    one = set_in_full(CASES[1])
    assert "4 1/4 × 4 1/4 in (108 × 108 mm)" in in_words(pages_of(CASES[1])[:1])
    with opened(one.pdf) as document:
        letters = [
            (char["c"], char["bbox"])
            for block in document[0].get_text("rawdict")["blocks"]
            for line in block.get("lines", ())
            for span in line["spans"]
            for char in span["chars"]
        ]
    text = "".join(char for char, _ in letters)
    start = text.index("1/4")
    (_, whole), (_, top) = letters[start - 2], letters[start]
    assert top[2] - top[0] < 0.8 * (whole[2] - whole[0])


def test_the_same_project_gives_the_same_bytes_in_any_process() -> None:
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); from booklets import CASES, set_in_full;"
        "one = set_in_full(CASES[1]);"
        "sys.stdout.buffer.write(one.html.encode() + one.pdf + one.strip)"
    )
    here = str(Path(__file__).parents[1] / "specimens")
    other = subprocess.run([sys.executable, "-c", code, here], capture_output=True, check=True)
    one: BookletSet = set_in_full(CASES[1])
    assert one.html.encode() + one.pdf + one.strip == other.stdout


def test_what_may_go_wrong_does_not_stand_alone_on_a_page() -> None:
    asked: dict[str, str | float] = {"outline": "polygon", "sides": 6, "width": 90}
    words = said_of(made_as(asked, "coaster", "360x350", Unit.MM))
    a4, a5 = (find_paper(name, listed_papers()) for name in ("a4", "a5"))
    pages = [told(page.words) for page in read(to_pdf(words, a4, 10.0))]
    (page,) = (page for page in pages if "What may go wrong" in page)
    # A few rows leave room for all the notes, or the last steps for them; none stands elsewhere.
    for one in words.troubles:
        assert told(one.what) in page
    assert "Test-sew and notes" in page or re.search(r"Step \d+, by hand", page)
    # On a small sheet the notes have one to themselves.
    assert told(read(to_pdf(words, a5, 10.0))[-1].words).startswith("Test-sew and notes")
