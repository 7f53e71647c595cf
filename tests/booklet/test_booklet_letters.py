"""Letters in the booklet's pictures: they hide no snap, no slider, no arrow and no other letter."""

import re
from collections.abc import Mapping
from functools import cache
from itertools import combinations

import pytest
import shapely
from booklets import made_as, said_of

from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.lettered_pictures import SMALL, lettered
from paramgen.drawings.back_end.looks import look_of
from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.drawings.pictures.section import section_sheet
from paramgen.drawings.pictures.step import step_sheet
from paramgen.drawings.primitives.items import Shape, Style, Text, flat
from paramgen.vocabulary.unit import Unit

Asked = Mapping[str, str | float]
SMALLEST_WALLET: Asked = {
    "width": 75, "height": 110, "pockets": 1, "packet_width": 50, "packet_height": 50,
}  # fmt: skip
PROJECTS: tuple[tuple[str, str, Asked], ...] = (
    ("fold-wallet", "130x180", {}),
    ("fold-wallet", "100x200mm", SMALLEST_WALLET),
    ("fold-wallet", "360x350", {"width": 330, "height": 330}),
    ("zip-pouch", "200x200", {}),
    ("plant-tag", "130x180", {"hang": "hole"}),
    ("plant-tag", "200x300", {"hang": "strap"}),
    ("plant-tag", "360x350", {"width": 330, "height": 276}),
)
#: Small strips, slots and cuts in a large field, or on a small thing.
SMALL_PARTS: tuple[tuple[str, str, Asked], ...] = (
    ("plant-tag", "360x350", {"width": 330, "height": 276}),
    ("coaster", "360x350", {"width": 330}),
    ("coaster", "360x350", {"outline": "polygon", "sides": 3, "width": 50}),
)
#: A turning gap that is short in its picture, one that is long, and a zip to turn through.
ARROWS: tuple[tuple[str, str, Asked], ...] = (
    ("coaster", "360x350", {"width": 330}),
    ("coaster", "130x180", {}),
    ("coaster", "360x350", {"outline": "polygon", "sides": 3, "width": 300}),
    ("fold-wallet", "360x350", {"width": 330, "height": 330}),
    ("zip-pouch", "200x200", {}),
)


def sheets(place: int) -> tuple[FramedPicture, ...]:
    """Pictures of all steps of a project, and of the finished thing."""
    return drawn(*PROJECTS[place][:2], tuple(PROJECTS[place][2].items()))


@cache
def drawn(
    recipe: str, hoop: str, sizes: tuple[tuple[str, str | float], ...]
) -> tuple[FramedPicture, ...]:
    asked = dict(sizes)
    one = made_as(asked, recipe, hoop, Unit.MM)
    field = one.room.hoop
    scene = hooped(one.project, field.name, field.width, field.height, one.thing, one.move)
    steps = (step_sheet(scene, step.number) for step in one.project.steps)
    return (*steps, *finished_sheets(one.thing))


def rings(svg: str) -> list[shapely.Polygon]:
    """Rings of the letters: the closed white paths of their group."""
    group = svg[svg.index('-letters"') :]
    found = []
    for data in re.findall(r'<path d="M([^"]+)Z" fill="#ffffff"', group):
        points = [tuple(map(float, pair.split())) for pair in data.split("L")]
        found.append(shapely.Polygon(points))
    return found


def test_a_section_has_all_its_words_in_its_picture() -> None:
    # The gap of a round coaster is at its bottom, so its name stands at the end of the section.
    one = made_as({"outline": "round", "width": 330}, "coaster", "360x350", Unit.MM)
    for em in (3.0, 9.0):
        sheet = section_sheet(one.thing.done, em, titled=False)
        texts = [item for item in flat(sheet.picture) if isinstance(item, Text)]
        assert "turning gap" in {text.words for text in texts}
        assert all(sheet.view.holds(text.box) for text in texts)
        # Every layer has a letter, as none has its title on it.
        titles = {layer.title for step in one.project.steps for layer in step.layers}
        assert {label.lines[0].text for label in sheet.labels} == titles


@pytest.mark.parametrize("place", range(len(PROJECTS)))
@pytest.mark.parametrize("room", [(76.0, 70.0), (120.0, 110.0), (36.0, 42.0)])
def test_no_letter_covers_a_snap_or_slider_or_another_letter(
    place: int, room: tuple[float, float]
) -> None:
    small_things = 0
    for sheet in sheets(place):
        letters = rings(lettered(sheet, *room).svg)
        below = sheet.inset.labels if sheet.inset else ()
        assert len(letters) == len(sheet.labels) + len(below)
        for one, other in combinations(letters, 2):
            assert not one.intersects(other), sheet.name
        for item in flat(sheet.picture):
            if isinstance(item, Shape) and item.style in SMALL:
                small_things += 1
                drawn = item.path.area
                assert not any(ring.intersects(drawn) for ring in letters), sheet.name
    assert small_things  # each of these has a zip, a snap or an eyelet


@pytest.mark.parametrize(("recipe", "hoop", "asked"), SMALL_PARTS)
def test_no_letter_hides_what_the_step_is_about(recipe: str, hoop: str, asked: Asked) -> None:
    told = 0
    for sheet in drawn(recipe, hoop, tuple(asked.items())):
        letters = rings(lettered(sheet).svg)
        for item in flat(sheet.picture):
            if isinstance(item, Shape) and (item.now or item.style is Style.TAPE_OFF):
                told += 1
                outline = item.path.line
                assert not any(ring.covers(outline) for ring in letters), sheet.name
    assert told > 20


@pytest.mark.parametrize(("recipe", "hoop", "asked"), ARROWS)
def test_no_letter_lies_on_an_arrow(recipe: str, hoop: str, asked: Asked) -> None:
    arrows = 0
    for sheet in drawn(recipe, hoop, tuple(asked.items())):
        picture = lettered(sheet)
        (wide,) = re.findall(r'viewBox="\S+ \S+ (\S+) ', picture.svg)
        # Half the line of the ring and half that of the arrow, as on paper.
        lines = (Style.BADGE, Style.WAY)
        apart = sum(look_of(style).width for style in lines) / 2 * float(wide) / picture.width
        letters = shapely.union_all(rings(picture.svg))
        for item in flat(sheet.picture):
            if isinstance(item, Shape) and item.style is Style.WAY:
                arrows += 1
                arrow = item.path.area if item.path.closed else item.path.line
                assert letters.distance(arrow) > apart, sheet.name
    assert arrows >= 2  # a shaft and a head


@pytest.mark.parametrize("form", BookletLength)
@pytest.mark.parametrize("place", [0, 1, 3])
def test_pictures_with_many_letters_are_larger_so_that_letters_cover_little(
    place: int, form: BookletLength
) -> None:
    recipe, hoop, asked = PROJECTS[place]
    crowded = 0
    for steps in said_of(made_as(asked, recipe, hoop, Unit.MM), form).together:
        picture = steps.picture
        letters = shapely.union_all(rings(picture.svg))
        (box,) = re.findall(r'viewBox="\S+ \S+ (\S+) (\S+)"', picture.svg)
        wide, high = map(float, box)
        # In few of them letters take more than a tenth of a picture that has many.
        if len(picture.key) > 4:
            crowded += 1
            assert letters.area < 0.1 * wide * high, picture.name
    assert crowded >= 2  # turning, and what follows it
