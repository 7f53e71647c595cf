"""The map of all sizes says of each what the whole check says, where the picture shows it."""

import json
import re
from html import unescape
from typing import Any
from urllib.parse import parse_qsl

import pytest
import shapely

from paramgen.drawings.pictures.region_chart import region, sizes_in_picture
from paramgen.drawings.primitives.items import Group, Text
from paramgen.fit.size_regions import regions
from paramgen.hooping import Room
from paramgen.lengths import parse_length
from paramgen.page.desk import Desk, desk
from paramgen.page.long_jobs import JobResult, JobStage, JobState
from paramgen.page.project_parts import ShownProject
from paramgen.page.sizes_tasks import EVERY, sizes, sizes_page

#: Upright, so that what works across is not what works down.
QUERY = "recipe=coaster&my.outline=rectangle&hoop=130x180&upright=yes"


@pytest.fixture(scope="module")
def table() -> Desk:
    return desk({})


@pytest.fixture(scope="module")
def told(table: Desk) -> dict[str, Any]:
    return map_of(table, QUERY, "")


def map_of(table: Desk, query: str, over: str) -> dict[str, Any]:
    """What the page is told of the map besides its picture."""
    *states, last = sizes(table, query, over)
    assert isinstance(last, JobResult)
    assert all(isinstance(one, JobState) and one.stage is JobStage.WORKING for one in states)
    found = re.search(r'data-map="([^"]*)"', last.data.decode())
    assert found
    data = json.loads(unescape(found[1]))
    assert isinstance(data, dict)
    return data


def test_the_map_says_what_the_whole_check_says(table: Desk, told: dict[str, Any]) -> None:
    (hoop,) = told["hoops"]
    rings = [shapely.Polygon(ring) for ring in hoop["rings"]]
    area = shapely.union_all(rings)
    left, low, right, high = shapely.bounds(area)
    places = [
        (left + across * (right - left), low + up * (high - low))
        for across in (-0.1, 0.1, 0.5, 0.9, 1.1)
        for up in (0.1, 0.5, 0.9)
    ]
    answers = set()
    for width, height in places:
        inside = shapely.Point(width, height)
        if shapely.boundary(area).distance(inside) < 1.0:
            continue
        query = f"{QUERY}&my.width={width:.1f}mm&my.height={height:.1f}mm"
        attempt = ShownProject(table, query).attempt
        works = attempt is not None and not attempt.faults and attempt.made is not None
        assert works == bool(area.contains(inside)), query
        answers.add(works)
    assert answers == {True, False}


def test_taking_sizes_of_the_map_keeps_all_else(told: dict[str, Any]) -> None:
    assert (told["first"], told["second"]) == ("width", "height")
    assert "my.outline=rectangle" in str(told["query"])
    assert "hoop=130x180" in str(told["query"])
    # Both sizes are asked for by name, so that none follows from the other when one is taken.
    typed = dict(parse_qsl(str(told["query"])))
    names = ("my.width", "my.height")
    assert [parse_length(typed[name]) for name in names] == pytest.approx(told["asked"])


def test_what_is_scaled_is_not_scaled_once_more(table: Desk) -> None:
    half = map_of(table, f"{QUERY}&my.width=200mm&my.height=160mm&scale=0.5", "")
    assert half["asked"] == pytest.approx((100, 80))
    assert "scale" not in dict(parse_qsl(half["query"]))
    assert ShownProject(table, half["query"]).words.values[-2:] == ("width=100mm", "height=80mm")


def test_every_hoop_that_leaves_room_is_shown_when_that_is_asked(table: Desk) -> None:
    every = {one.name for one in table.hoops if min(Room(one).field) > 0}
    assert {one["name"] for one in map_of(table, QUERY, EVERY)["hoops"]} == every
    assert len(every) > 1


def test_sizes_lie_where_the_rulers_of_the_picture_say(table: Desk, told: dict[str, Any]) -> None:
    shown = ShownProject(table, QUERY)
    assert shown.wanted is not None
    asking = table.workshop.asking(shown.wanted.order)
    found = regions(asking, "width", "height", [shown.wanted.order.room])
    there = sizes_in_picture(found, shown.unit)
    assert tuple(told["middle"]) == there.middle
    assert told["scale"] == there.scale
    assert told["box"][:2] == [there.box.left, there.box.top]
    rulers = next(
        one
        for one in region(found, shown.unit, "Mat").items
        if isinstance(one, Group) and one.name == "rulers"
    )
    numbers = [one for one in rulers.items if isinstance(one, Text) and one.words.isdigit()]
    below = [one for one in numbers if one.at[1] > there.box.bottom]
    assert len(below) > 1
    for one in below:
        # A number stands under its mark: the ruler is read as any ruler is.
        assert there.at((float(one.words), 0.0))[0] == pytest.approx(one.at[0])
    beside = [one for one in numbers if one.at[0] < there.box.left]
    assert len(beside) > 1
    ups = [(float(one.words), there.at((0.0, float(one.words)))[1] - one.at[1]) for one in beside]
    assert {round(by, 6) for _, by in ups} == {round(ups[0][1], 6)}


def test_what_is_not_understood_is_refused(table: Desk) -> None:
    *_, last = sizes(table, f"{QUERY}&my.width=abc", EVERY)
    assert isinstance(last, JobState)
    assert last.stage is JobStage.REFUSED
    assert "abc" in last.says


def test_the_page_offers_both_hoops_and_every_hoop(table: Desk) -> None:
    html = sizes_page(table, QUERY, "")
    assert f"over={EVERY}" in html
    assert "data-part" in html
    assert "There is nothing at this address" in sizes_page(table, "recipe=nothing", "")
