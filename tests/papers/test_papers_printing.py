"""What the person measured, and margins, through the function and the command line."""

import pytest
from command_line import paramgen
from hypothesis import given
from hypothesis import strategies as st

from paramgen.papers.printing import Printing, faults_of, parse_printed
from paramgen.reference.paper_sizes import Paper
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("49.5mm", (49.5, 49.5)),
        ("49.5", (49.5, 49.5)),
        ("5cm", (50.0, 50.0)),
        ("49.5x50.2mm", (49.5, 50.2)),
        ("49,5 mm × 50,2 mm", (49.5, 50.2)),
        ("4.95 x 5.02 cm", (49.5, 50.2)),
        ("2 in", (50.8, 50.8)),
        ("47.5x52.5mm", (47.5, 52.5)),
    ],
)
def test_what_was_measured_is_read(text: str, sides: tuple[float, float]) -> None:
    assert parse_printed(text) == pytest.approx(sides)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("47.4mm", ["--printed: `47.4mm`", "5.2% off", "47.5 mm to 52.5 mm"]),
        ("50x53mm", ["--printed, down: `53mm`", "6.0% off"]),
        ("40x60mm", ["--printed, across: `40 mm`", "--printed, down: `60mm`"]),
        ("49x50x51", ["not what a square measures"]),
        ("wide", ["not a length"]),
        ("-50mm", ["negative"]),
        ("x", ["not a length"]),
        ("1" * 500, ["not what a square measures"]),
    ],
)
def test_what_cannot_be_made_up_for_is_refused_by_name_and_value(
    text: str, parts: list[str]
) -> None:
    with pytest.raises(InputError) as caught:
        parse_printed(text)
    assert [part for part in parts if part not in str(caught.value)] == []


@given(st.floats(40.0, 60.0))
def test_the_limit_is_a_twentieth(side: float) -> None:
    off = abs(side / 50 - 1)
    if off < 0.05 - 1e-6:
        assert parse_printed(f"{side!r}mm") == pytest.approx((side, side))
    elif off > 0.05 + 1e-6:
        with pytest.raises(InputError):
            parse_printed(f"{side!r}mm")


def test_all_is_drawn_larger_by_what_the_printer_takes_away() -> None:
    printing = Printing(Paper("A4", 210.0, 297.0), square=(49.5, 50.2))
    assert printing.corrected
    assert [
        drawn * measured / 50
        for drawn, measured in zip((50 * s for s in printing.stretch), (49.5, 50.2), strict=True)
    ] == pytest.approx([50.0, 50.0])


def test_a_margin_that_leaves_too_little_is_told_with_the_most_it_may_be() -> None:
    paper = Paper("A5", 148.0, 210.0)
    assert list(faults_of(Printing(paper, 8.0), Unit.MM)) == []
    (fault,) = faults_of(Printing(paper, 20.0), Unit.MM)
    assert fault.where == "--paper-margin"
    # 125 mm and a twentieth are kept: (148 − 131.25) / 2 = 8.375 mm, shown rounded down.
    assert "8.3 mm" in fault.hint
    (narrow,) = faults_of(Printing(Paper("roll 100 mm", 100.0, None), 10.0), Unit.MM)
    assert narrow.where == "--paper"


def test_every_fault_of_the_papers_is_told_at_once() -> None:
    words = ("make", "coaster", "--hoop", "130x180", "--out", "never-made")
    ran = paramgen(*words, "--paper", "leter", "--printed", "40mm", "--paper-margin", "-1")
    assert (ran.status, ran.out) == (2, "")
    assert "Did you mean `letter`?" in ran.err
    assert "--printed: `40mm`" in ran.err
    assert "--paper-margin: `-1` is negative" in ran.err
