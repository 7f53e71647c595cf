"""The booklet's short form: it says what the full one does, on half the pages."""

import re
from itertools import chain

import pytest
from booklets import CASES, Case, made, made_as, said, said_of, set_in_full, set_short
from papers_read import outside, read
from test_booklet_page import Reader
from test_booklet_page import told as on_one_line
from test_booklet_pdf import alternatives, in_words, outline, overlaps, pictures, told

from paramgen.booklet.as_pdf import to_pdf
from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.joined_steps import belonging
from paramgen.booklet.said import Booklet
from paramgen.drawings.front_end.scene import hooped
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Step
from paramgen.vocabulary.unit import Unit

every = pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]}-{case[3]}")


def short(case: Case) -> Booklet:
    return said(*case[:3], BookletLength.SHORT)


def runs(case: Case) -> tuple[tuple[Step, ...], ...]:
    one = made(*case[:3])
    hoop = one.room.hoop
    return belonging(hooped(one.project, hoop.name, hoop.width, hoop.height, one.thing, one.move))


@pytest.mark.parametrize(("unit", "paper"), [(Unit.INCH, "letter"), (Unit.MM, "a4")])
def test_the_wallet_takes_twelve_pages_at_most(unit: Unit, paper: str) -> None:
    case = ("fold-wallet", "130x180", unit, paper)
    assert len(read(set_short(case).pdf)) <= 12
    assert len(read(set_in_full(case).pdf)) > 20


@every
def test_every_step_is_there_with_its_number_and_words_in_order(case: Case) -> None:
    one = set_short(case)
    steps = one.made.project.steps
    marks = [mark for mark in outline(one.pdf) if mark.startswith("Step ")]
    assert [int(re.findall(r"\d+", mark)[0]) for mark in marks] == [s.number for s in steps]
    for mark, step in zip(marks, steps, strict=True):
        assert mark.endswith(told(step.title))
        assert (f"stop {step.stop} " in mark) if step.stop else ("by hand" in mark)
    words = in_words(read(one.pdf))
    page = Reader(one.html)
    assert page.open == []
    html = on_one_line("".join(text for tags, text in page.texts if "svg" not in tags))
    headings = [one for one in page.within("h3") if one.startswith("Step ")]
    assert [int(re.findall(r"\d+", one)[0]) for one in headings] == [s.number for s in steps]
    at = 0
    for step in steps:
        assert told(step.say) in words
        at = html.index(on_one_line(step.say), at)


@every
def test_no_caution_check_or_note_is_lost_and_each_stands_in_its_block(case: Case) -> None:
    full = {block.number: block for block in said(*case[:3]).blocks}
    paper, page = in_words(read(set_short(case).pdf)), Reader(set_short(case).html)
    html = on_one_line("".join(text for tags, text in page.texts if "svg" not in tags))
    for together in short(case).together:
        given = [one for block in together.blocks for one in together.cautions(block)]
        assert len(given) == len(set(given))
        for block in together.blocks:
            other = full[block.number]
            assert set(other.cautions) <= set(given)
            assert set(other.look) <= set(together.look)
            assert (block.say, block.notes) == (other.say, other.notes)
            for one in (*other.look, *other.notes, *(each.says for each in other.cautions)):
                assert told(one) in paper
                assert on_one_line(one) in html


@every
def test_what_is_said_of_a_stop_stands_in_its_block(case: Case) -> None:
    stops = [block for block in said(*case[:3]).blocks if block.stop]
    blocks = {b.number: one for one in short(case).together for b in one.blocks}
    for block in stops:
        assert blocks[block.number].about == block.about


@every
def test_steps_that_share_a_picture_follow_on_each_other_on_one_side_with_one_stop(
    case: Case,
) -> None:
    found = runs(case)
    numbers = [step.number for step in chain.from_iterable(found)]
    assert numbers == [step.number for step in made(*case[:3]).project.steps]
    for run in found:
        assert sum(step.stop is not None for step in run) <= 1
        # What is laid is laid on one side, and no piece covers one that was laid before it.
        assert sum(bool(step.layers) for step in run) <= 1
        assert len({step.seen_from for step in run if step.act is not Act.FLIP}) <= 1
        # Of what is out of its hoop every step has a picture of its own.
        assert len(run) == 1 or not {step.act for step in run} & {Act.UNHOOP, Act.TURN, Act.TRIM}
    laid = [run for run in found if any(step.act is Act.LAY for step in run)]
    assert laid
    assert all(any(step.act is Act.TAPE for step in run) for run in laid)


@every
def test_a_shared_picture_names_what_each_of_its_steps_names(case: Case) -> None:
    full = {block.number: block for block in said(*case[:3]).blocks}
    for together in short(case).together:
        named = {key.title for key in together.picture.key}
        for block in together.blocks:
            turned_over = "Turn" in block.title and len(together.blocks) > 1
            wanted = {key.title for key in full[block.number].picture.key}
            assert turned_over or wanted <= named, block.title
            assert on_one_line(block.say) in on_one_line(together.picture.says)
        drawn = re.findall(r"<text[^>]*>([A-Z]\d?)</text>", together.picture.svg)
        assert drawn == [key.letter for key in together.picture.key]


@every
def test_every_picture_has_words_in_its_place(case: Case) -> None:
    one = set_short(case)
    before = pictures(one.said)[: -len(one.said.blocks)]
    wanted = [*before, *(together.picture for together in one.said.together)]
    assert sorted(map(str, alternatives(one.pdf))) == sorted(one.says for one in wanted)


@every
def test_no_text_leaves_its_page_or_lies_over_another(case: Case) -> None:
    for page in read(set_short(case).pdf):
        assert outside(page) == []
        assert overlaps(page) == []


def test_the_largest_wallet_fits_its_pages() -> None:
    asked: dict[str, str | float] = {"width": 330, "height": 360, "pockets": 4}
    words = said_of(made_as(asked, "fold-wallet", "400x500mm", Unit.MM), BookletLength.SHORT)
    for page in read(to_pdf(words, find_paper("a4", listed_papers()), 10.0)):
        assert outside(page) == []
        assert overlaps(page) == []
