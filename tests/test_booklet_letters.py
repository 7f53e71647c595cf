"""Letters in the booklet's pictures: they hide no snap, no slider and no other letter."""

import re
from collections.abc import Iterator, Mapping

import pytest
import shapely
from booklets import made_as

from paramgen.booklet.pictures import SMALL, lettered
from paramgen.drawings.finished import finished_sheets
from paramgen.drawings.hooped import hooped
from paramgen.drawings.outlines import area
from paramgen.drawings.primitives import Shape, flat
from paramgen.drawings.sheet import Sheet
from paramgen.drawings.step import step_sheet
from paramgen.lengths import Unit

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
)


def sheets(recipe: str, hoop: str, asked: Asked) -> Iterator[Sheet]:
    one = made_as(asked, recipe, hoop, Unit.MM)
    field = one.room.hoop
    scene = hooped(one.project, field.name, field.width, field.height, one.done, one.move)
    yield from (step_sheet(scene, step.number) for step in one.project.steps)
    yield from finished_sheets(one.done)


def rings(svg: str) -> list[shapely.Polygon]:
    """Rings of the letters: the closed white paths of their group."""
    group = svg[svg.index('-letters"') :]
    found = []
    for data in re.findall(r'<path d="M([^"]+)Z" fill="#ffffff"', group):
        points = [tuple(map(float, pair.split())) for pair in data.split("L")]
        found.append(shapely.Polygon(points))
    return found


@pytest.mark.parametrize(("recipe", "hoop", "asked"), PROJECTS)
@pytest.mark.parametrize("room", [(76.0, 70.0), (120.0, 110.0)])
def test_no_letter_covers_a_snap_or_slider_or_another_letter(
    recipe: str, hoop: str, asked: Asked, room: tuple[float, float]
) -> None:
    small_things = 0
    for sheet in sheets(recipe, hoop, asked):
        letters = rings(lettered(sheet, *room).svg)
        assert len(letters) == len(sheet.labels)
        for place, ring in enumerate(letters):
            assert not any(ring.intersects(other) for other in letters[:place]), sheet.name
        for item in flat(sheet.picture):
            if isinstance(item, Shape) and item.style in SMALL:
                small_things += 1
                drawn = area(item.path)
                assert not any(ring.intersects(drawn) for ring in letters), sheet.name
    assert small_things  # each of these has a zip, a snap or an eyelet
