"""Every recipe's region of sizes, held to a scan of a grid by `make`."""

import pytest
import shapely
from fit_scanned import HOOPS, ROOMS, at_odds, found, scan

from paramgen.hooping import Room
from paramgen.reference.hoops import find_hoop


def test_a_coaster_with_rounded_corners_agrees_with_a_scan() -> None:
    asked: dict[str, str | float] = {"corner_radius": "5mm"}
    one = found("coaster", asked, ROOMS)
    for region in (one.whole, *one.hoops):
        assert not at_odds(region, "coaster", asked, scan((53, 203, 4), (51, 201, 4)))


def test_a_coaster_that_must_be_oblong_agrees_with_a_scan() -> None:
    # Near the diagonal a straight side has no room for the turning gap beside round corners: for
    # one width there are two stretches of heights that work.
    one = found("coaster", {}, ROOMS[:1])
    for region in (one.whole, *one.hoops):
        assert not at_odds(region, "coaster", {}, scan((51, 91, 6), (51, 91, 6)))
    assert shapely.contains(one.whole.area, shapely.Point(76, 55))
    assert not shapely.contains(one.whole.area, shapely.Point(76, 72))
    assert shapely.contains(one.whole.area, shapely.Point(76, 85))


#: Where the turning gap binds the boundary is curved; where it lies the other way it leaps.
SCANS = {
    "fold-wallet": ((80.3, 210.3, 4), (113.7, 263.7, 4)),
    "zip-pouch": ((81.3, 201.3, 4), (72.7, 202.7, 4)),
    "plant-tag": ((61.3, 181.3, 4), (62.7, 182.7, 4)),
}


@pytest.mark.parametrize("name", SCANS)
def test_a_region_agrees_with_a_scan(name: str) -> None:
    one = found(name, {}, (Room(find_hoop("200x200", HOOPS)),))
    for region in (one.whole, *one.hoops):
        assert not shapely.is_empty(region.area)
        assert not at_odds(region, name, {}, scan(*SCANS[name]))
