"""The shipped recipes as solids, against arithmetic on their sizes and on what their plies take."""

import random

import numpy as np
import pytest
import shapely
from bodies import box, corners, overlapping
from finished_things import empty, worked
from random_settings import settings

from paramgen.finished.finished_limits import MEETS
from paramgen.finished.finished_thing import FinishedThing
from paramgen.recipe.read_recipe import find_recipe
from paramgen.solid.hinge_turns import standing
from paramgen.solid.posed import posed
from paramgen.solid.solid_model import Solid
from paramgen.solid.solid_of import solid_of
from paramgen.vocabulary.findings import CannotMakeError, InputError

#: Middle of what a ply of quilting cotton, of ribbon and of zip tape takes, mm, as the lists of
#: materials have it: 0.15 to 0.3, 0.3 to 0.5, 0.4 to 0.7.
COTTON, RIBBON, TAPE = 0.225, 0.4, 0.55
RECIPES = ("fold-wallet", "zip-pouch", "plant-tag", "coaster")


def wallet(**asked: str | float) -> tuple[FinishedThing, Solid]:
    thing = empty(worked("fold-wallet", asked))
    return thing, solid_of(thing)


def test_a_closed_wallet_is_half_as_high_and_as_thick_as_its_halves() -> None:
    # 124 × 172 mm. Behind the zip lie two pockets folded double, two linings, the tape and two
    # plies of an outer; on the other half two pockets, the lining, an outer and, past the fold
    # line, the end of the pouch's lining, where no pocket is.
    _, solid = wallet(tab="none")
    low, high = box(posed(solid, closed=1.0))
    upper, lower = 8 * COTTON + TAPE, 7 * COTTON
    assert high - low == pytest.approx([124, 86, upper + lower])
    low, high = box(posed(solid))
    assert high - low == pytest.approx([124, 172, upper])


@pytest.mark.parametrize("pockets", [1, 2, 3, 4])
def test_each_pocket_makes_a_half_two_plies_thicker(pockets: int) -> None:
    _, solid = wallet(tab="none", pockets=pockets, height="260mm")
    low, high = box(posed(solid, closed=1.0))
    assert high[2] - low[2] == pytest.approx(COTTON * (2 * 2 * pockets + 4 + 3) + TAPE)


def test_a_packet_makes_it_thicker_by_its_own() -> None:
    solid = solid_of(worked("fold-wallet", {"tab": "none", "packet_thickness": "2mm"}))
    (packet,) = solid.held
    assert (packet.side, packet.out) == (-1, (0.0, -1.0))  # into a pocket on the inside
    bare, full = (box(posed(solid, closed=1.0, held=held)) for held in (0.0, 1.0))
    assert (full[1] - full[0])[2] - (bare[1] - bare[0])[2] == pytest.approx(2.0)


def test_the_tab_goes_round_both_halves_and_its_snap_meets() -> None:
    thing, solid = wallet()
    tab = next(k for k, one in enumerate(solid.panels) if one.hinge and one.hinge.between)
    stands = posed(solid, closed=1.0)
    (plate,) = (one for one in stands.plates if one.panel == tab)
    # On the outside of the zip half, which is as thick as above.
    assert corners(plate)[:, 2].min() == pytest.approx(8 * COTTON + TAPE)
    assert np.ptp(corners(plate)[:, 2]) == pytest.approx(2 * RIBBON)
    first, second = next(one.halves for one in thing.project.notions if one.halves)
    there = standing(plate.place, np.array([first]) + plate.moved, plate.high)[0, :2]
    assert np.hypot(*(there - second)) <= MEETS


def test_what_folds_hangs_together_and_the_rest_is_one_panel() -> None:
    hangs = {name: [one.parent for one in solid_of(worked(name)).panels] for name in RECIPES}
    assert hangs == {
        "fold-wallet": [None, 0, 1],  # upper half, lower half, tab
        "zip-pouch": [None, 0],  # and its loop
        "plant-tag": [None, 0],  # and its strap
        "coaster": [None],
    }


def test_notes_in_a_long_pouch_lie_in_both_halves_and_fold_with_them() -> None:
    solid = solid_of(worked("fold-wallet", {"pouch": "long", "height": "190mm"}))
    (notes,) = (k for k, one in enumerate(solid.held) if one.title == "banknotes")
    # 77 × 140 mm, 1.1 mm thick.
    for closed in (0.0, 0.3, 1.0):
        parts = [one for one in posed(solid, closed=closed).plates if one.held == notes]
        assert {one.panel for one in parts} == {0, 1}
        assert sum(one.volume for one in parts) == pytest.approx(77 * 140 * 1.1)


def test_through_a_zip_it_stands_off_on_the_side_of_the_zip() -> None:
    solid = solid_of(worked("zip-pouch"))
    half = posed(solid, held=0.5)
    outside, inside = sorted(
        (one for one in half.plates if one.held == 0), key=lambda one: -corners(one)[:, 2].max()
    )
    assert corners(inside)[:, 2].max() < box(half)[1][2] < corners(outside)[:, 2].max()
    assert sum(one.volume for one in half.plates if one.held == 0) == pytest.approx(114 * 83 * 2)


@pytest.mark.parametrize(
    ("name", "asked"),
    [("tissue-cover", {}), ("clear-pouch", {"width": "136mm", "height": "103mm"})],
)
def test_what_is_in_through_a_slit_lies_within_even_where_it_reaches_past_the_slit(
    name: str, asked: dict[str, str]
) -> None:
    # Tissues are 55 mm wide under an opening in the middle; a packet of 82 mm reaches up past a
    # zip that is 73 mm above the bottom edge.
    solid = solid_of(worked(name, asked))
    bare, filled = box(posed(solid)), box(posed(solid, held=1.0), held=True)
    assert filled == pytest.approx(bare, abs=1e-6)
    ways = shapely.get_coordinates(solid.held[0].outline) @ np.array(solid.held[0].out)
    assert ways.max() > solid.held[0].mouth + 5
    # A little of its way before, its end stands out; nothing of it goes through the cloth.
    nearly = posed(solid, held=1.0 - 8.0 / solid.held[0].travel)
    assert np.ptp(box(nearly, held=True), axis=0)[2] > np.ptp(bare, axis=0)[2] + 2
    assert overlapping(nearly) == []


def test_openings_go_through() -> None:
    thing = worked("plant-tag")
    solid = solid_of(thing)
    holes = sum(len(part.interiors) for part in shapely.get_parts(thing.room))
    through = solid.panels[0].slabs[0].outline
    assert holes > 0
    assert sum(len(part.interiors) for part in shapely.get_parts(through)) == holes


@pytest.mark.parametrize("name", RECIPES)
@pytest.mark.parametrize("seed", range(12))
def test_of_random_sizes_nothing_goes_through_another(name: str, seed: int) -> None:
    chance = random.Random(f"{name}-{seed}")
    for _ in range(40):
        try:
            thing = worked(name, settings(find_recipe(name), chance))
            break
        except (CannotMakeError, InputError):
            continue
    else:
        raise AssertionError("of forty settings at random none has a shape")
    solid = solid_of(thing)
    flat = sum(part.area for part in (thing.room, *(p.outline for p in solid.panels if p.level)))
    assert sum(one.outline.area for one in solid.panels) == pytest.approx(flat, rel=1e-6)
    volume = sum(one.outline.area * one.thickness for p in solid.panels for one in p.slabs)
    for closed in (0.0, 0.2, 0.5, 0.74, 0.8, 0.9, 1.0):
        stands = posed(solid, closed=closed)
        slabs = [one for one in stands.plates if one.held < 0]
        assert [
            pair for pair in overlapping(stands) if all(stands.plates[k].held < 0 for k in pair)
        ] == []
        if not any(one.hinge and one.hinge.spends for one in solid.panels):
            assert sum(one.volume for one in slabs) == pytest.approx(volume, rel=1e-6)
