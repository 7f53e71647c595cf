"""The edges that a turning gap leaves, what closes them, and what catches them.

Allowances are folded in along the seam line: stitching d inside it catches an edge that reaches
d + 1.5 mm past the line (from memory; turned 1 mm inside the seam and stitched 2 mm inside the
edge, d is 3 mm).
"""

import re
from dataclasses import replace

import pytest
from finished_things import worked
from told import mends
from turned_mats import TOP_STITCH, finished, mat, pocket, sewn_by_hand, stitched

from paramgen.finished.finished_limits import CATCHES
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.gap_closing import closings, edges, gap
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.project import Project


def edge_titles(thing: FinishedThing) -> list[str]:
    (line,) = thing.done.plane.gaps
    return [" and the ".join(one.title for one in edge.called.each) for edge in edges(thing, line)]


def found(project: Project) -> list[Finding]:
    return list(gap(finished(project)))


def not_caught(project: Project) -> dict[str, float | None]:
    said = found(project)
    assert {one.code for one in said} <= {"gap-edge-not-caught"}
    return {str(one.piece): one.amount for one in said}


@pytest.mark.parametrize("closing", ["front", "back"])
def test_at_a_gap_every_ply_is_an_edge_of_its_own(closing: Side) -> None:
    bag = mat(pocket("pocket"), gap="bottom", closing=closing)
    names = ["work", "pocket", "pocket", "closing piece"]
    assert edge_titles(finished(bag)) == (names if closing == "front" else names[::-1])
    # At the top there is no pocket.
    assert set(edge_titles(finished(mat(pocket("pocket"), closing=closing)))) == {
        "work",
        "closing piece",
    }


@pytest.mark.parametrize(("past", "together"), [(0.5, True), (2.9, True), (3.4, False)])
def test_a_line_just_outside_the_gap_makes_one_edge_of_what_it_goes_through(
    past: float, together: bool
) -> None:
    # The gap is 40 mm long, in the middle of the seam line at y = 31.
    closing_line = stitched("closing-line", "tack-down", (-30.0, 31.0 + past), (30.0, 31.0 + past))
    titles = edge_titles(finished(mat(pocket("pocket"), closing_line, gap="bottom")))
    one = ["work and the pocket", "closing piece"]
    assert titles == (one if together else ["work", "pocket", "pocket", "closing piece"])


def test_a_line_that_is_too_short_or_only_marks_holds_no_edges_together() -> None:
    apart = ["work", "pocket", "pocket", "closing piece"]
    short = stitched("closing-line", "tack-down", (-20.0, 31.5), (10.0, 31.5))
    assert edge_titles(finished(mat(pocket("pocket"), short, gap="bottom"))) == apart
    mark = stitched("closing-line", "placement", (-30.0, 31.5), (30.0, 31.5))
    assert edge_titles(finished(mat(pocket("pocket"), mark, gap="bottom"))) == apart
    # What is laid after it was stitched it does not hold.
    before = stitched("closing-line", "tack-down", (-30.0, 31.5), (30.0, 31.5))
    assert edge_titles(finished(mat(before, pocket("pocket"), gap="bottom"))) == apart


def test_the_wallets_gap_is_in_its_lining_alone() -> None:
    # By the line half a millimetre outside the seam all else is closed there; the pouch lining
    # ends 12 mm below the middle of the wallet, within the gap, and is no edge along it.
    outer, lining = edge_titles(worked("fold-wallet"))
    assert outer == "lower outer"
    assert lining == "lining"
    long = edge_titles(worked("fold-wallet", {"pouch": "long"}))
    assert long == ["pouch lining and the lower outer", "lining"]


# --- What catches an edge ---------------------------------------------------------------------


@pytest.mark.parametrize("far_in", [1.5, 2.0, 3.5])
def test_top_stitching_catches_what_is_folded_in_a_little_farther(far_in: float) -> None:
    assert CATCHES == 1.5
    needs = 1.0 + far_in + 1.5
    assert not_caught(mat(past=needs, stitched_in=far_in)) == {}
    # Cut sizes lie on whole millimetres, so that either allowance is a multiple of 0.5 mm.
    lacking = not_caught(mat(past=needs - 0.5, stitched_in=far_in))
    assert lacking == {"work": pytest.approx(0.5), "closing": pytest.approx(0.5)}


def test_an_edge_folded_in_too_little_is_mended_as_is_said() -> None:
    short = mat(past=4.0)
    told = found(short)
    for one in told:
        assert (
            mends(one)
            == "Leave more there, stitch nearer to the edge, or sew the gap by hand first."
        )
        assert one.amount == pytest.approx(0.5)  # 1 + 2 + 1.5 - 4
    assert len(told) == 2
    # "Leave more there", "stitch nearer to the edge", each by as much as lacks.
    assert found(mat(past=4.0 + 0.5)) == []
    assert found(mat(past=4.0, stitched_in=2.0 - 0.5)) == []
    # "or sew the gap by hand first"
    assert found(mat(past=4.0, after=sewn_by_hand("work", "closing") + TOP_STITCH)) == []


def test_sewn_by_hand_only_the_edges_named_are_caught() -> None:
    bag = mat(pocket("pocket"), gap="bottom", after=sewn_by_hand("work", "closing"))
    (one,) = found(bag)  # though it has two leaves
    assert (one.code, one.piece) == ("gap-edge-not-caught", "pocket")
    # "Let step N, …, catch it as well."
    number = int(re.findall(r"Let step (\d+) \(Close the gap\) catch it", mends(one))[0])
    (step,) = (step for step in bag.steps if step.number == number)
    caught = replace(step, pieces=(*step.pieces, "pocket"))
    assert found(replace(bag, steps=(*bag.steps[: number - 1], caught, *bag.steps[number:]))) == []


def test_plies_that_are_one_edge_are_caught_with_any_of_them() -> None:
    closing_line = stitched("closing-line", "tack-down", (-30.0, 31.5), (30.0, 31.5))
    for named in ("work", "pocket"):
        after = sewn_by_hand(named, "closing")
        assert found(mat(pocket("pocket"), closing_line, gap="bottom", after=after)) == []


def test_a_gap_that_no_step_closes_is_found() -> None:
    (one,) = found(mat(after=""))
    assert one.code == "gap-not-closed"
    assert one.amount == pytest.approx(40.0)
    assert closings(finished(mat(after=""))) == ()
    assert [step.title for step in closings(finished(mat()))] == ["Top-stitch"]


def test_what_is_stitched_before_it_is_turned_closes_nothing() -> None:
    bag = mat()
    *steps, turn, stitch = bag.steps
    swapped = [
        replace(step, number=number) for number, step in enumerate([*steps, stitch, turn], start=1)
    ]
    assert [step.act for step in swapped[-2:]] == [Act.TOP_STITCH, Act.TURN]
    assert [one.code for one in found(replace(bag, steps=tuple(swapped)))] == ["gap-not-closed"]
