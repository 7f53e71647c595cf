"""Which curves of a seam want cuts before it is turned: by their radius and by how far they bend.

Outward curves are notched, as they have too much cloth once turned, inward ones clipped, as they
have too little (common practice, no source). Curves of a radius over 120 mm, and what turns by no
more than 20° in all, lie flat without (from memory).
"""

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from turned_mats import finished, mat

from paramgen.finished.finished_limits import BENDS, TIGHT
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.turned_curves import curves, tight
from paramgen.geometry.outlines import arc_points, oval, rectangle, regular_polygon
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.kinds import Act, FinishWay, Side
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import Project, Step


@cache
def bag() -> FinishedThing:
    return finished(mat())


def bowed(radius: float, degrees: float, *, outward: bool) -> Path:
    """A strip 80 mm high of which the bottom is an arc, bowed out or in; all else is straight."""
    sweep = math.radians(degrees)
    start = math.pi / 2 - sweep / 2
    arc = arc_points((0.0, 0.0), radius, radius, start, sweep) - (0.0, radius)
    arc = arc if outward else arc * (1.0, -1.0)
    wide = radius * math.sin(sweep / 2)
    return path(np.concatenate([[(-wide, -80.0), (wide, -80.0)], arc]), closed=True)


def told(seam: Path, *acts: Act) -> list[Finding]:
    """What is said of a thing with this seam, if these things are done to it before turning."""
    done = bag().done
    cuts = tuple(
        Step(number=0, stop=None, act=act, title=act, say="Cut.", seen_from=Side.FRONT)
        for act in acts
    )
    project: Project = replace(done.project, seam=seam, steps=(*cuts, *done.project.steps))
    return list(curves(replace(bag(), done=replace(done, project=project))))


@pytest.mark.parametrize(
    ("outward", "code"), [(True, "curve-not-notched"), (False, "curve-not-clipped")]
)
@pytest.mark.parametrize("radius", [30.0, 119.0])
def test_a_tight_curve_wants_its_own_kind_of_cuts(radius: float, outward: bool, code: str) -> None:
    seam = bowed(radius, 40.0, outward=outward)
    (one,) = told(seam)
    assert one.code == code
    # The arc is r · 40° long.
    assert one.amount == pytest.approx(radius * math.radians(40.0), rel=0.05)
    right, wrong = (Act.NOTCH, Act.CLIP) if outward else (Act.CLIP, Act.NOTCH)
    assert told(seam, right) == []
    assert [other.code for other in told(seam, wrong)] == [code]


@pytest.mark.parametrize("outward", [True, False])
def test_a_wide_curve_and_one_that_hardly_turns_want_none(outward: bool) -> None:
    assert (TIGHT, BENDS) == (120.0, 20.0)
    assert told(bowed(121.0, 60.0, outward=outward)) == []
    assert told(bowed(100.0, 19.5, outward=outward)) == []
    assert len(told(bowed(100.0, 22.0, outward=outward))) == 1


def test_corners_are_no_curves() -> None:
    assert told(rectangle(-50.0, -30.0, 50.0, 30.0)) == []
    # Of twelve sides each corner turns by 30°, of 24 by 15°: more than 12°, so a corner.
    for sides in (3, 12, 24):
        assert told(regular_polygon((0.0, 0.0), sides, 100.0)) == []


@pytest.mark.parametrize(("across", "wants"), [(60.0, True), (238.0, True), (242.0, False)])
def test_a_round_seam_is_notched_up_to_twice_that_radius_across(across: float, wants: bool) -> None:
    round_it = oval((0.0, 0.0), across, across)
    assert tight(round_it, outward=True).all() == wants
    assert not tight(round_it, outward=False).any()
    found = told(round_it)
    assert [one.code for one in found] == (["curve-not-notched"] if wants else [])
    for one in found:
        assert one.amount == pytest.approx(math.pi * across, rel=1e-3)


def test_rounded_corners_are_as_long_as_a_circle_of_their_radius() -> None:
    (one,) = told(rectangle(-60.0, -40.0, 60.0, 40.0, rounded=12.0))
    assert one.amount == pytest.approx(2 * math.pi * 12.0, rel=0.05)


def test_what_is_not_turned_wants_none() -> None:
    thing = bag()
    raw = replace(thing.done.project, seam=oval((0.0, 0.0), 60.0, 60.0))
    raw = replace(raw, finish=replace(raw.finish, way=FinishWay.RAW_EDGE))
    assert list(curves(replace(thing, done=replace(thing.done, project=raw)))) == []
