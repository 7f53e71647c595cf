"""Panels and hinges of what is folded once, twice, only over its edge, or not at all."""

from itertools import combinations

import numpy as np
import pytest
import shapely
from finished_things import empty, worked
from turned_mats import finished, mat

from paramgen.finished.bulk import body_thickness, open_thickness
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.fold_room import folding, over_what_is_held


def folded(*folds: tuple[str, float]) -> FinishedThing:
    """A mat of 100 × 60 mm, folded across its width or height at these places."""
    listed = ", ".join(f'{{ across = "{across}", at = "{at}" }}' for across, at in folds)
    return finished(mat(folds=listed))


def boxes(thing: FinishedThing) -> list[tuple[float, ...]]:
    return sorted(tuple(float(round(x, 6)) for x in panel.bounds) for panel in thing.panels)


def test_what_is_not_folded_is_one_panel_without_hinges() -> None:
    thing = folded()
    assert boxes(thing) == [(-50.0, -30.0, 50.0, 30.0)]
    assert thing.hinges == ()


def test_folded_once_it_has_two_panels_and_a_hinge_between_them() -> None:
    # Across its height 10 mm above the middle: 20 mm lie above the fold and 40 mm below it.
    thing = folded(("height", -10.0))
    assert boxes(thing) == [(-50.0, -30.0, 50.0, -10.0), (-50.0, -10.0, 50.0, 30.0)]
    (hinge,) = thing.hinges
    assert sorted(hinge.panels) == [0, 1]


@pytest.mark.parametrize("folds", [(-10.0, 15.0), (15.0, -10.0)])
def test_folded_twice_the_same_way_it_has_three_panels_in_a_row(folds: tuple[float, float]) -> None:
    thing = folded(*(("height", at) for at in folds))
    assert boxes(thing) == [
        (-50.0, -30.0, 50.0, -10.0),
        (-50.0, -10.0, 50.0, 15.0),
        (-50.0, 15.0, 50.0, 30.0),
    ]
    # The hinges come in the order of folding, each between the two panels along its line.
    assert [hinge.line[0][1] for hinge in thing.hinges] == list(folds)
    for hinge in thing.hinges:
        one, other = (thing.panels[number] for number in hinge.panels)
        assert one.bounds[3] == pytest.approx(hinge.line[0][1]) or other.bounds[3] == pytest.approx(
            hinge.line[0][1]
        )
        assert (one.boundary & other.boundary).length == pytest.approx(100.0)


def test_folded_twice_crosswise_it_has_four_panels() -> None:
    thing = folded(("height", 0.0), ("width", 20.0))
    assert boxes(thing) == [
        (-50.0, -30.0, 20.0, 0.0),
        (-50.0, 0.0, 20.0, 30.0),
        (20.0, -30.0, 50.0, 0.0),
        (20.0, 0.0, 50.0, 30.0),
    ]


def test_a_fold_over_its_very_edge_parts_nothing() -> None:
    # A tab that only goes round the closed edge, at y = -60 / 2.
    thing = folded(("height", 0.0), ("height", -30.0))
    assert len(thing.panels) == 2
    assert [hinge.line[0][1] for hinge in thing.hinges] == [0.0]


@pytest.mark.parametrize(
    "folds", [(("width", -7.5),), (("width", 3.0), ("height", 4.0)), (("height", 29.0),)]
)
def test_the_panels_are_the_finished_thing_and_do_not_overlap(
    folds: tuple[tuple[str, float], ...],
) -> None:
    thing = folded(*folds)
    assert sum(panel.area for panel in thing.panels) == pytest.approx(100.0 * 60.0)
    assert shapely.union_all(list(thing.panels)).symmetric_difference(thing.room).area < 1e-6
    assert all((one & other).area < 1e-6 for one, other in combinations(thing.panels, 2))


def test_folded_crosswise_each_fold_has_a_hinge_for_both_pairs_of_panels() -> None:
    thing = folded(("height", 0.0), ("width", 20.0))
    assert len(thing.hinges) == 4
    assert {frozenset(hinge.panels) for hinge in thing.hinges} == {
        frozenset(pair)
        for pair in combinations(range(4), 2)
        if (thing.panels[pair[0]].boundary & thing.panels[pair[1]].boundary).length > 1.0
    }


@pytest.mark.parametrize(
    ("folds", "layers"),
    # Once across either way: two of the mat lie on each other; in quarters four; in thirds, 20 mm
    # each, three. A fold off the middle leaves part of it single, and two where it lies double.
    [
        ((), 1),
        ((("height", 0.0),), 2),
        ((("width", 10.0),), 2),
        ((("height", 0.0), ("width", 0.0)), 4),
        ((("height", -10.0), ("height", 10.0)), 3),
        ((("height", -20.0),), 2),
    ],
)
def test_closed_it_is_as_many_times_as_thick_as_its_folds_lay_it(
    folds: tuple[tuple[str, float], ...], layers: int
) -> None:
    flat, closed = (body_thickness(folded(*some)) for some in ((), folds))
    assert closed == pytest.approx(tuple(layers * one for one in flat))


def test_nothing_lies_past_the_edge_of_what_is_finished() -> None:
    # The edge lies at y = 30, the allowances turned in end 5 mm inside it: work and closing piece
    # alone farther in, and each twice beside the edge.
    thing = folded()
    body, edge, past = (open_thickness(thing, np.array([[0.0, y]])) for y in (20.0, 28.5, 33.0))
    assert edge == pytest.approx((2 * body[0], 2 * body[1]))
    assert past == (0.0, 0.0)


@pytest.mark.parametrize("at", [31.5, -60.0, 500.0])
def test_a_fold_beside_the_thing_is_found(at: float) -> None:
    found = [one for one in folding(folded(("height", at))) if one.code == "fold-outside"]
    # The edge lies 30 mm from the middle.
    assert [one.amount for one in found] == [pytest.approx(abs(at) - 30.0)]


@pytest.mark.parametrize("at", [30.0, 30.9, 0.0])
def test_a_fold_along_the_edge_or_across_is_none_beside_it(at: float) -> None:
    assert [one.code for one in folding(folded(("height", at)))] == []


def test_only_a_part_that_holds_nothing_goes_round_what_the_other_holds() -> None:
    sleeve = worked("flap-sleeve")
    (fold,) = sleeve.project.finish.folds
    assert over_what_is_held(sleeve, fold) is not None
    # The notebook ends 165 - 3 - 2.5 - 148 mm from the fold: less than half of its thickness and
    # the cloth's, which would be too little if the other part held something as well.
    deep = worked("flap-sleeve", {"body": 160, "thing_ease": 2})
    assert list(folding(deep)) == []
    assert over_what_is_held(empty(sleeve), fold) is None
    wallet = worked("fold-wallet", {"tab": "none"})
    assert over_what_is_held(wallet, wallet.project.finish.folds[0]) is None
    mat_folded = folded(("height", -10.0))
    assert over_what_is_held(mat_folded, mat_folded.project.finish.folds[0]) is None
