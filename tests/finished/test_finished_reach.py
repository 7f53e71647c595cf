"""How the far side of a snap is reached: through a zip, a mouth or a gap, or by nothing.

Hardware goes only through layers whose back can be reached: through an open zip, a mouth, or before
the gap is closed (common practice, no source). How far in is a distance on the flat thing.
"""

from dataclasses import replace

import pytest
from finished_things import sewn
from told import says
from turned_mats import TOP_STITCH, finished, mat, pocket, sewn_by_hand

from paramgen.finished.finished_limits import FINGERS_WIDE, HAND, HAND_WIDE, PLIERS
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.hardware import hardware
from paramgen.finished.hardware_reach import Fastening, places
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import NotionSort, Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Notion, Project

FIT = """
[[steps]]
title = "Fit it"
do = "fit the snap or ring"
say = "Fit it."
"""


def ring(at: Point, *through: str) -> Notion:
    return Notion(
        name="ring",
        title="ring",
        sort=NotionSort.RING,
        quantity=1,
        length=None,
        width=10.0,
        coil=None,
        at=(at,),
        through=(through,),
    )


def with_ring(project: Project, at: Point, *through: str) -> FinishedThing:
    return finished(replace(project, notions=(ring(at, *through),)))


def one_place(thing: FinishedThing) -> Fastening:
    (found,) = places(thing)
    return found


def reached(thing: FinishedThing) -> list[Finding]:
    told = ("hardware-out-of-reach", "hardware-past-pliers")
    return [one for one in hardware(thing) if one.code in told]


# --- A mat with a pocket, its mouth at y = 0 between x = -50 and 50 ---------------------------

POCKETED = mat(pocket("pocket"), after=TOP_STITCH + FIT)


def test_what_goes_through_everything_is_reached_from_outside() -> None:
    place = one_place(with_ring(POCKETED, (0.0, 15.0), "pocket", "work", "closing"))
    assert (place.opening, place.depth) == ("outside", 0.0)
    assert [ply.sheet.piece for ply in place.pierced] == ["pocket", "pocket", "work", "closing"]


@pytest.mark.parametrize(("x", "y", "depth"), [(0.0, 12.0, 12.0), (30.0, 20.5, 20.5)])
def test_behind_a_pocket_it_is_reached_from_its_mouth(x: float, y: float, depth: float) -> None:
    place = one_place(with_ring(POCKETED, (x, y), "pocket"))
    assert place.opening == "mouth"
    assert place.depth == pytest.approx(depth)
    # It is as wide as the mouth is between the lines that are stitched 2 mm inside the edges.
    assert place.wide == pytest.approx(96.0, abs=0.1)
    assert place.side == "front"


def test_what_would_be_pierced_besides_is_named() -> None:
    place = one_place(with_ring(POCKETED, (0.0, 15.0), "work"))
    assert place.foreign is not None
    assert place.opening is None
    # Seen from the outer side the pocket lies over the work, from the other the closing piece.
    assert place.foreign.sheet.piece == "pocket"
    (found,) = hardware(with_ring(POCKETED, (0.0, 15.0), "work"))
    assert (found.code, found.piece) == ("hardware-pierces", "pocket")


def test_where_a_piece_does_not_lie_it_cannot_be_pierced() -> None:
    thing = with_ring(POCKETED, (0.0, -15.0), "pocket")
    assert one_place(thing).pierced == ()
    assert [one.code for one in hardware(thing)] == ["hardware-pierces"]
    # Past the edge nothing lies at all.
    (found,) = hardware(with_ring(POCKETED, (0.0, 35.0), "work"))
    assert (found.code, found.piece) == ("hardware-pierces", "work")
    assert "does not lie there" in says(found)


# --- Between work and closing piece: the gap, 40 mm long at the top, y = -31 -------------------


def test_before_the_gap_is_closed_it_leads_between_the_two_sides() -> None:
    open_still = mat(after=FIT + TOP_STITCH)
    place = one_place(with_ring(open_still, (10.0, -16.0), "work"))
    # Straight down from the gap, which runs from x = -20 to 20 on the seam line at y = -31.
    assert place.opening == "gap"
    assert place.depth == pytest.approx(31.0 - 16.0)
    assert place.wide == pytest.approx(40.0)
    # Beside it, from its nearer end: 49 - 20 to the side, 31 + 9 down.
    place = one_place(with_ring(open_still, (-49.0, 9.0), "work"))
    assert place.depth == pytest.approx((29.0**2 + 40.0**2) ** 0.5)


@pytest.mark.parametrize("closed_by", [TOP_STITCH, sewn_by_hand("closing", "work")])
def test_once_the_gap_is_closed_nothing_leads_there(closed_by: str) -> None:
    thing = with_ring(mat(after=closed_by + FIT), (10.0, -16.0), "work")
    assert (one_place(thing).opening, one_place(thing).depth) == (None, 0.0)
    (found,) = reached(thing)
    assert found.code == "hardware-out-of-reach"
    assert "is closed by then" in says(found)
    # What is said to be the way out is one: before the gap is closed, and no farther in than 28 mm.
    assert reached(with_ring(mat(after=FIT + closed_by), (10.0, -16.0), "work")) == []


def test_it_is_set_from_the_side_where_what_it_pierces_lies_outermost() -> None:
    place = one_place(with_ring(mat(pocket("pocket"), after=FIT), (0.0, 15.0), "closing"))
    assert (place.side, place.opening) == ("back", "gap")
    # Behind the hoop it is the other way round.
    behind = mat(pocket("pocket"), closing=Side.BACK, after=FIT)
    assert one_place(with_ring(behind, (0.0, 15.0), "closing")).side == "front"


# --- The shipped pouch: 160 × 120 mm, its zip 25 mm below the seam at y = -61 -----------------


def pouch(at: Point, *through: str) -> FinishedThing:
    done = sewn("zip-pouch")
    zip_, *_ = done.project.notions
    return finish(replace(done, project=replace(done.project, notions=(zip_, ring(at, *through)))))


@pytest.mark.parametrize(("x", "y"), [(0.0, -10.0), (30.0, 4.0), (0.0, 40.0), (20.0, -55.0)])
def test_inside_a_pouch_it_is_reached_through_the_zip(x: float, y: float) -> None:
    front = ("lower-front", "lower-lining") if y > -36.0 else ("upper-front", "upper-lining")
    place = one_place(pouch((x, y), *front))
    assert place.opening == "zip"
    assert place.depth == pytest.approx(abs(y - -36.0))
    assert place.wide == pytest.approx(160.0, abs=2.1)


@pytest.mark.parametrize(
    ("depth", "code"),
    [(27.9, None), (28.1, "hardware-past-pliers"), (90.0, "hardware-past-pliers")],
)
def test_pliers_reach_28_and_a_hand_through_a_wide_zip_farther(
    depth: float, code: str | None
) -> None:
    assert PLIERS == (25.0, 28.0)  # from memory, and it differs by the tool
    found = reached(pouch((0.0, -36.0 + depth), "lower-front", "lower-lining"))
    assert [one.code for one in found] == ([] if code is None else [code])
    for one in found:
        assert one.severity is Severity.KNOW
        assert one.amount == pytest.approx(depth - 28.0)


def test_through_a_gap_of_two_fingers_width_they_reach_a_fingers_length() -> None:
    # 40 mm let in two fingers (25) and no hand (80): a finger's length, 100 mm (from memory).
    assert (FINGERS_WIDE, HAND_WIDE, HAND) == (25.0, 80.0, (100.0, 200.0))
    thing = with_ring(mat(after=FIT + TOP_STITCH), (10.0, 20.0), "work")
    (found,) = reached(thing)
    assert found.code == "hardware-past-pliers"
    assert found.amount == pytest.approx(31.0 + 20.0 - 28.0)


def test_between_front_and_its_lining_nothing_leads_once_the_gap_is_sewn() -> None:
    thing = pouch((0.0, 20.0), "lower-front")
    assert one_place(thing).opening is None
    assert [one.code for one in reached(thing)] == ["hardware-out-of-reach"]
