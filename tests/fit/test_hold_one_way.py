"""Where a project cannot be stitched turned by 90°, no hoop takes it turned."""

import pytest
from layout_orders import HOOPS

from paramgen.fit.smallest_holding import held
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop
from paramgen.reference.things import SeveralThings, Thing
from paramgen.sizing import Sized
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.works import Stitched, stitch


def test_what_cannot_be_stitched_turned_lies_in_no_hoop_turned(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def one_way(sized: Sized, *, turned: bool = False, half: bool = False) -> Stitched:
        if turned:
            raise CannotMakeError([Finding("line-short", Severity.CANNOT)])
        return stitch(sized, turned=turned, half=half)

    monkeypatch.setattr("paramgen.works.stitch", one_way)
    order = Order(find_recipe("plant-tag"), {}, Room(find_hoop("130x180", HOOPS)))
    best = held(
        order, [SeveralThings(Thing(name="label", width=30, height=52))], hoops=HOOPS, any_hoop=True
    ).best
    assert best is not None
    upright = best.needs[0]
    fits = {hoop.name for hoop in HOOPS if hoop.width >= upright[0] and hoop.height >= upright[1]}
    assert best.hoops
    assert all(not turned for _, turned in best.hoops)
    assert {hoop.name for hoop, _ in best.hoops} == fits
