"""Papers against ISO 216 and ANSI/ASME Y14.1; what is said of those that are not known."""

import pytest

from paramgen.reference.paper_sizes import Paper, default_paper, find_paper, listed_papers
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit

PAPERS = listed_papers()
INCH = 25.4


def said(text: str) -> str:
    with pytest.raises(InputError) as caught:
        find_paper(text, PAPERS, where="--paper")
    return str(caught.value)


def test_each_a_size_is_the_one_above_cut_in_half() -> None:
    # ISO 216: A0 is 841 × 1189 mm; halves are rounded down to whole millimetres.
    width, height = 841, 1189
    for number in range(6):
        paper = find_paper(f"A{number}", PAPERS)
        assert (paper.width, paper.height) == (width, height)
        width, height = height // 2, width


@pytest.mark.parametrize(
    ("name", "width", "height"),
    # ANSI/ASME Y14.1: sizes A and B; Legal from memory.
    [("letter", 8.5, 11.0), ("tabloid", 11.0, 17.0), ("legal", 8.5, 14.0)],
)
def test_inch_papers_are_whole_and_half_inches(name: str, width: float, height: float) -> None:
    paper = find_paper(name, PAPERS)
    assert paper.height is not None
    assert (paper.width / INCH, paper.height / INCH) == pytest.approx((width, height))


def test_every_paper_stands_upright_and_has_a_name_of_its_own() -> None:
    assert all(paper.height and paper.width < paper.height for paper in PAPERS)
    assert len({paper.name.casefold() for paper in PAPERS}) == len(PAPERS) == 9


@pytest.mark.parametrize(("unit", "name"), [(Unit.MM, "A4"), (Unit.INCH, "Letter")])
def test_the_unit_chooses_the_paper_of_those_who_ask_for_none(unit: Unit, name: str) -> None:
    assert default_paper(unit, PAPERS).name == name


@pytest.mark.parametrize(
    ("text", "name", "width"),
    [
        ("roll:610mm", "roll 610 mm", 610.0),
        ("Roll : 61 cm", "roll 610 mm", 610.0),
        ("roll:24in", "roll 24 in", 24 * INCH),
        ('roll 36"', "roll 36 in", 36 * INCH),
    ],
)
def test_a_roll_has_a_width_and_any_length(text: str, name: str, width: float) -> None:
    found = find_paper(text, PAPERS)
    assert found == Paper(name, found.width, None)
    assert found.width == pytest.approx(width)


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("leter", "Did you mean `letter`?"),
        ("A44", "Did you mean `a4`?"),
        ("parchment", "roll:610mm"),
        ("parchment", "A4, Letter"),
        ("roll", "needs its width"),
        ("roll:", "needs its width"),
        ("roll:wide", "not a length"),
        ("roll:0", "zero"),
        ("", "not a paper"),
    ],
)
def test_what_is_no_paper_is_answered(text: str, part: str) -> None:
    message = said(text)
    assert message.startswith("--paper: ")
    assert part in message
