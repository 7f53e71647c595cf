"""What was found stands where it is read: what disappoints first, the rest with the troubles."""

import pytest
from booklets import CASES, Case, made_as, said, said_of
from papers_read import outside, read
from test_booklet_page import Reader
from test_booklet_pdf import overlaps, told
from told import mends, says

from paramgen.booklet.as_html import to_html
from paramgen.booklet.as_pdf import to_pdf, to_strip
from paramgen.booklet.booklet_length import BookletLength
from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.findings import Severity
from paramgen.vocabulary.unit import Unit

every = pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])


@every
def test_what_may_go_wrong_says_how_to_see_it_and_what_helps(case: Case) -> None:
    for one in said(*case[:3]).troubles:
        assert one.what
        assert one.see
        assert one.do


#: So short a strap takes a thinner stem than that: the recipe says that it disappoints.
DISAPPOINTED: dict[str, str | float] = {"hang": "strap", "stem": 40, "strap_length": 90}


@pytest.mark.parametrize("form", BookletLength)
def test_what_will_disappoint_stands_before_all_else_with_its_remedy(form: BookletLength) -> None:
    one = made_as(DISAPPOINTED, "plant-tag", "200x300", Unit.MM)
    words = said_of(one, form)
    (bad,) = (each for each in one.project.findings if each.severity is Severity.DISAPPOINT)
    (notice,) = words.disappoints
    assert notice.what.lower().startswith(says(bad))
    assert notice.do == mends(bad)
    a4 = find_paper("a4", listed_papers())
    page = told("".join(text for _, text in Reader(to_html(words)).texts))
    assert page.index(mends(bad)) < page.index("What you need")
    cover = told(read(to_pdf(words, a4, 10.0))[0].words)
    (strip,) = read(to_strip(words, a4, 10.0))
    for first in (cover, told(strip.words)):
        assert told(notice.what) in first
        assert told(notice.do) in first
    assert outside(strip) == []
    assert overlaps(strip) == []


def test_which_hoop_was_chosen_is_nothing_to_know_at_the_machine() -> None:
    hoops = listed()
    rooms = [Room(find_hoop(name, hoops)) for name in ("100x100", "130x180")]
    order = Order(find_recipe("fold-wallet"), {}, rooms[0], further=(rooms[1],))
    one = make(order, hoops)
    assert any(finding.code == "hoop-in-turn" for finding in one.project.findings)
    words = said_of(one)
    assert "does not take it" not in to_html(words)
