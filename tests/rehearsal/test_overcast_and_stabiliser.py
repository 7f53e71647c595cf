"""Raw edges that a zigzag overcasts, and stabiliser that is left where it opens.

An overcast edge has the zigzag on both sides of it, 1 mm at least: from memory.
"""

from dataclasses import replace

import pytest
from layout_orders import laid
from turned_mats import mat

from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.overcast import BOTH_SIDES, overcast
from paramgen.rehearsal.rehearse import rehearsed
from paramgen.rehearsal.sheets import sandwich
from paramgen.rehearsal.stabiliser_left_in import stabiliser_left_in
from paramgen.vocabulary.kinds import Act, Side, StitchKind
from paramgen.vocabulary.project import Project


def with_zigzag(swing: float, *, outward: bool = False) -> Project:
    """The card case with two slots, the zigzag over the raw edge of slot 2 so wide."""
    project = laid(find_recipe("card-case"), {"slots": "2"})
    steps = tuple(
        replace(
            step,
            lines=tuple(
                replace(one, stitch=replace(one.stitch, swing=swing, outward=outward))
                if one.stitch.kind is StitchKind.ZIGZAG
                else one
                for one in step.lines
            ),
        )
        for step in project.steps
    )
    return replace(project, steps=steps)


def found(project: Project) -> set[tuple[str, str]]:
    codes = ("raw-edge-shows", "needle-near-edge", "wrong-side-shows")
    return {
        (one.code, str(one.piece)) for one in rehearsed(work_through(project)) if one.code in codes
    }


# The line lies 0.4 mm inside the edge: a zigzag 3 mm wide reaches 1.1 mm past it and 1.9 within.
@pytest.mark.parametrize(("swing", "over"), [(3.0, True), (2.9, True), (2.7, False), (1.5, False)])
def test_a_raw_edge_is_overcast_by_a_zigzag_wide_enough_on_both_sides(
    swing: float, over: bool
) -> None:
    assert (swing / 2 - BOTH_SIDES >= 0.4) is over
    assert (not found(with_zigzag(swing))) is over


def test_a_zigzag_that_swings_one_way_overcasts_nothing() -> None:
    assert ("raw-edge-shows", "slot[2]") in found(with_zigzag(6.0, outward=True))


def test_a_sheet_is_overcast_only_once_it_lies_there() -> None:
    pile = sandwich(with_zigzag(3.0))
    (slot,) = (one for one in pile.sheets if one.piece == "slot[2]" and not one.leaf)
    (outer,) = (one for one in pile.sheets if one.piece == "outer")
    assert not overcast(pile, slot).is_empty
    assert overcast(pile, outer).is_empty


def test_stabiliser_between_right_sides_is_left_in_and_what_lies_behind_the_work_is_not() -> None:
    # Work on the front and closing piece on the back, right sides together, the stabiliser lies
    # between them; with both on the front it lies behind the work, and in the finished thing.
    (told,) = stabiliser_left_in(work_through(mat(closing=Side.BACK)))
    assert told.stops
    assert not list(stabiliser_left_in(work_through(mat())))


def test_torn_out_once_it_is_turned_it_is_not_left_in() -> None:
    project = mat(closing=Side.BACK)
    last = project.steps[-1]
    torn = replace(last, number=last.number + 1, act=Act.TEAR, mark=())
    cleared = replace(project, steps=(*project.steps, torn))
    assert not list(stabiliser_left_in(work_through(cleared)))
