"""Panels and hinges of what is folded once, twice, only over its edge, or not at all."""

from itertools import combinations

import pytest
import shapely
from turned_mats import finished, mat

from paramgen.finished.thing import Finished


def folded(*folds: tuple[str, float]) -> Finished:
    """A mat of 100 × 60 mm, folded across its width or height at these places."""
    listed = ", ".join(f'{{ across = "{across}", at = "{at}" }}' for across, at in folds)
    return finished(mat(folds=listed))


def boxes(thing: Finished) -> list[tuple[float, ...]]:
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
