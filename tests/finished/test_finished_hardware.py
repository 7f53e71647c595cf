"""Snaps: halves that meet when it is closed, and that keep clear of stitches, folds and coil."""

import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from finished_things import sewn
from hypothesis import given, settings
from hypothesis import strategies as st
from told import mends
from turned_mats import TOP_STITCH, finished, mat, stitched

from paramgen.finished.finished_limits import MEETS, ROUND_THE_EDGE
from paramgen.finished.finished_thing import finish
from paramgen.finished.hardware import folded_over, hardware
from paramgen.lengths import show_both
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.kinds import NotionSort
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Notion, Project
from paramgen.vocabulary.unit import Unit

offsets = st.floats(-15.0, 15.0)


def snap(first: Point, second: Point, clearance: float = 0.0) -> Notion:
    return Notion(
        name="snap",
        title="snap",
        sort=NotionSort.SNAP,
        quantity=1,
        length=None,
        width=12.0,
        coil=None,
        halves=(first, second),
        clearance=clearance,
    )


def found(project: Project, notion: Notion, code: str) -> list[Finding]:
    thing = finished(replace(project, notions=(notion,)))
    return [one for one in hardware(thing) if one.code == code]


# --- Halves that meet -------------------------------------------------------------------------

FOLDED = mat(folds='{ across = "height", at = "-5" }')


def test_folded_once_the_first_half_lies_where_it_is_mirrored() -> None:
    # 20 mm above the fold at y = -5 it comes to lie 20 mm below it.
    assert folded_over((12.0, -25.0), (12.0, 15.0), FOLDED.finish.folds) == (
        (12.0, 15.0),
        (12.0, 15.0),
    )
    assert found(FOLDED, snap((12.0, -25.0), (12.0, 15.0)), "halves-apart") == []


@pytest.mark.parametrize(
    ("second", "apart"),
    [((12.0, 15.9), None), ((12.0, 16.2), 1.2), ((15.0, 19.0), 5.0), ((12.0, 11.0), 4.0)],
)
def test_halves_apart_are_told_by_how_much(second: Point, apart: float | None) -> None:
    assert MEETS == 1.0  # from memory
    said = found(FOLDED, snap((12.0, -25.0), second), "halves-apart")
    assert [one.amount for one in said] == ([] if apart is None else [pytest.approx(apart)])


@given(dx=offsets, dy=offsets)
@settings(max_examples=15)
def test_moving_the_second_half_by_what_is_said_makes_them_meet(dx: float, dy: float) -> None:
    away = float(np.hypot(dx, dy))
    said = found(FOLDED, snap((12.0, -25.0), (12.0 + dx, 15.0 + dy)), "halves-apart")
    assert bool(said) == (away > MEETS)
    for one in said:
        assert one.amount is not None
        assert mends(one) == f"Move the second half by {show_both(one.amount, Unit.MM)}."
        back = 1.0 - one.amount / away
        moved = snap((12.0, -25.0), (12.0 + dx * back, 15.0 + dy * back))
        assert found(FOLDED, moved, "halves-apart") == []


# --- The wallet: a tab goes round the closed edge and spends the thickness there ----------------


@cache
def wallet() -> Rehearsed:
    return sewn("fold-wallet", {"width": 124, "height": 172})


def shifted_stud(dx: float, dy: float) -> list[Finding]:
    done = wallet()
    notions = tuple(
        replace(one, halves=(one.halves[0], (one.halves[1][0] + dx, one.halves[1][1] + dy)))
        if one.halves
        else one
        for one in done.project.notions
    )
    thing = finish(replace(done, project=replace(done.project, notions=notions)))
    return [one for one in hardware(thing) if one.code == "halves-apart"]


#: Closed and full the wallet is 15 plies, the zip's tape and 8 mm thick: 10.65 to 13.2 mm, and the
#: way round takes 1 to 3 mm more. The snap on the tab lies 26 mm past the edge, so that the stud
#: may lie 26 - 16.2 to 26 - 11.65 mm below the edge at y = -86; it lies 12.625 mm below it.
LEAST, MOST = 26.0 - 16.2 - 12.625, 26.0 - 11.65 - 12.625


def test_a_tab_meets_at_any_thickness_within_the_estimate() -> None:
    assert ROUND_THE_EDGE == (1.0, 3.0)
    (notion,) = (one for one in wallet().project.notions if one.sort == "snap")
    # Cut 2 · 42 mm, 5 of them past the seam and 1 within the edge: 36 stand out, 10 past the snap.
    assert [y for _, y in notion.halves] == pytest.approx([86 + 26, -86 + 12.625])
    for dy in (LEAST, 0.0, MOST, LEAST - 0.9, MOST + 0.9):
        assert shifted_stud(0.0, dy) == []
    for dx, dy, amount in (
        (0.0, LEAST - 3.0, 3.0),
        (0.0, MOST + 4.0, 4.0),
        (3.0, 0.0, 3.0),
        (-3.0, MOST + 4.0, 5.0),
    ):
        (one,) = shifted_stud(dx, dy)
        assert one.amount == pytest.approx(amount)


@given(dx=offsets, dy=st.floats(-12.0, 15.0))  # beyond that it lies past the edge
@settings(max_examples=15)
def test_the_stud_moved_back_as_far_as_is_said_meets_the_tab(dx: float, dy: float) -> None:
    for one in shifted_stud(dx, dy):
        assert one.amount is not None
        # Straight to the nearest place where it may lie.
        lacks = np.array((dx, dy - min(max(dy, LEAST), MOST)))
        away = float(np.hypot(*lacks))
        assert one.amount == pytest.approx(away, abs=1e-3)
        x, y = (np.array((dx, dy)) - lacks / away * one.amount).tolist()
        assert shifted_stud(x, y) == []


# --- Stitches near it -------------------------------------------------------------------------


@pytest.mark.parametrize(("away", "clearance", "lacks"), [(8.0, 7.0, 0.0), (4.5, 7.0, 2.5)])
def test_stitches_in_the_hoop_keep_clear_of_it(away: float, clearance: float, lacks: float) -> None:
    line = stitched("line", "top-stitch", (-30.0, 0.0), (30.0, 0.0))
    said = found(mat(line), snap((0.0, away), (0.0, away), clearance), "stitch-near-hardware")
    assert [one.amount for one in said] == [pytest.approx(lacks)] * (2 if lacks else 0)


def test_what_is_stitched_by_hand_keeps_clear_of_it_too() -> None:
    # Top-stitched 2 mm inside the edge at y = 30, 8 - 2 = 6 mm below the snap.
    held = snap((0.0, 0.0), (0.0, 22.0), clearance=7.0)
    (one,) = found(mat(after=TOP_STITCH), held, "stitch-near-hardware")
    assert one.amount == pytest.approx(1.0)
    # Only the seam is left, 9 mm away.
    assert found(mat(after=""), held, "stitch-near-hardware") == []


@given(x=st.floats(-25.0, 25.0), y=st.floats(-6.5, 6.5), clearance=st.floats(1.0, 12.0))
@settings(max_examples=15)
def test_moved_away_as_far_as_is_said_it_is_clear(x: float, y: float, clearance: float) -> None:
    project = mat(stitched("line", "top-stitch", (-40.0, 0.0), (40.0, 0.0)))
    said = found(project, snap((x, y), (0.0, 15.0), clearance), "stitch-near-hardware")
    said = [one for one in said if one.place == ((x, y),)]
    assert bool(said) == (abs(y) < clearance - 0.01)
    for one in said:
        assert one.amount is not None
        assert one.amount == pytest.approx(clearance - abs(y))
        told = re.fullmatch(r"Move it ([\d.]+) mm \(.* in\) away\.", mends(one))
        assert told, mends(one)
        assert 0 <= float(told[1]) - one.amount + 1e-6 < 0.1 + 2e-6  # enough, to the tenth
        aside = y + one.amount * (1 if y >= 0 else -1)
        again = found(project, snap((x, aside), (0.0, 15.0), clearance), "stitch-near-hardware")
        assert [other for other in again if other.place == ((x, aside),)] == []


# --- The sleeve: its flap goes over what it holds and spends that thickness ----------------------

#: Within the fold lie a notebook of 10 mm and two plies of the front, and the flap is itself an
#: outer and a lining thick: 10 + 3 · 0.3 + 0.15 to 10 + 3 · 0.6 + 0.3 mm, with the interfacing of
#: the outer, and 1 to 3 mm for the way round. Flat, the snap of the flap lies 58 - 12 = 46 mm from
#: the fold; the other lies 32 mm below it, so that 14 are spent.
OVER_LEAST, OVER_MOST = 46 - 12.1 - 3 - 32, 46 - 11.05 - 1 - 32


def sleeve_stud(dy: float, **asked: str | float) -> list[Finding]:
    done = sewn("flap-sleeve", asked)
    (snap,) = (one for one in done.project.notions if one.halves)
    (x, y) = snap.halves[1]
    moved = replace(snap, halves=(snap.halves[0], (x, y + dy)))
    notions = tuple(moved if one is snap else one for one in done.project.notions)
    thing = finish(replace(done, project=replace(done.project, notions=notions)))
    return [one for one in hardware(thing) if one.code == "halves-apart"]


def test_a_flap_meets_over_what_it_holds_at_any_thickness_within_the_estimate() -> None:
    for dy in (OVER_LEAST, 0.0, OVER_MOST, OVER_LEAST - 0.9, OVER_MOST + 0.9):
        assert sleeve_stud(dy) == []
    for dy, amount, way in (
        (OVER_LEAST - 3.0, 3.0, "farther from the fold"),
        (OVER_MOST + 4.0, 4.0, "towards the fold"),
    ):
        (one,) = sleeve_stud(dy)
        assert one.amount == pytest.approx(amount)
        assert way in mends(one)


def test_over_a_thing_that_it_does_not_reach_a_flap_may_also_lie_flat() -> None:
    # A packet of 60 at the bottom of a body of 165 ends some 100 below the fold, the flap at 58.
    low = {"thing_width": 60.0, "thing_height": 60.0}
    assert sleeve_stud(14.0, **low) == []
    assert sleeve_stud(0.0, **low) == []
    (one,) = sleeve_stud(14.0 + 3.0, **low)
    assert one.amount == pytest.approx(3.0)
