"""Booklets of the shipped recipes, made once for the tests that read them."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

from paramgen.booklet.as_html import to_html
from paramgen.booklet.as_pdf import to_pdf, to_strip
from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.compose import BookletPictures, booklet
from paramgen.booklet.said import Booklet
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.drawings.pictures.solid_views import solid_sheets
from paramgen.drawings.pictures.step import step_sheet
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.unit import Unit

#: Recipe, hoop, unit and paper.
Case = tuple[str, str, Unit, str]
CASES: tuple[Case, ...] = (
    ("fold-wallet", "130x180", Unit.MM, "a4"),
    ("coaster", "130x180", Unit.INCH, "letter"),
    ("zip-pouch", "160x260", Unit.INCH, "a5"),
    ("plant-tag", "130x180", Unit.MM, "letter"),
)


@dataclass(frozen=True)
class BookletSet:
    """A project, what its booklet says, and the booklet set three ways."""

    made: Made
    said: Booklet
    html: str
    pdf: bytes
    strip: bytes


def in_mm(width: float, height: float) -> str:
    """A size as millimetres to a tenth, halves up: 133.35 is 133.4."""
    tenths = [Decimal(str(round(one, 6))).quantize(Decimal("0.1"), ROUND_HALF_UP)
              for one in (width, height)]  # fmt: skip
    return " × ".join(str(one).removesuffix(".0") for one in tenths)


@cache
def made(recipe: str, hoop: str, unit: Unit) -> Made:
    return made_as({}, recipe, hoop, unit)


def made_as(asked: Mapping[str, str | float], recipe: str, hoop: str, unit: Unit) -> Made:
    hoops = listed()
    return make(Order(find_recipe(recipe), asked, Room(find_hoop(hoop, hoops)), unit), hoops)


@cache
def said(recipe: str, hoop: str, unit: Unit, form: BookletLength = BookletLength.FULL) -> Booklet:
    return said_of(made(recipe, hoop, unit), form)


def said_of(one: Made, form: BookletLength = BookletLength.FULL) -> Booklet:
    hoop = one.room.hoop
    scene = hooped(one.project, hoop.name, hoop.width, hoop.height, one.thing, one.move)
    steps = tuple(step_sheet(scene, step.number) for step in one.project.steps)
    shown = BookletPictures(steps, finished_sheets(one.thing), solid_sheets(one.thing))
    return booklet(one, scene, shown, form)


@cache
def set_in_full(case: Case) -> BookletSet:
    return _set_in(case, BookletLength.FULL)


@cache
def set_short(case: Case) -> BookletSet:
    return _set_in(case, BookletLength.SHORT)


def _set_in(case: Case, form: BookletLength) -> BookletSet:
    recipe, hoop, unit, paper = case
    one, words = made(recipe, hoop, unit), said(recipe, hoop, unit, form)
    sheet = find_paper(paper, listed_papers())
    return BookletSet(
        one, words, to_html(words), to_pdf(words, sheet, 10.0), to_strip(words, sheet, 10.0)
    )
