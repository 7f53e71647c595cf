"""How far needle points reach, known before runs are put in order, is how far sewn ones do."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from stitches_shapes import Shape, line, polyline, rectangle, shapes, step, stitch

from paramgen.stitches.farthest_needles import farthest_needles
from paramgen.stitches.measures import needle_bounds
from paramgen.stitches.sew import sew
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import SPACED, StitchKind
from paramgen.vocabulary.path import path


def test_a_run_reaches_its_corners_and_a_zigzag_half_a_swing_beyond() -> None:
    outer = line(stitch(StitchKind.RUN), rectangle(-10, -20, 40, 50).path)
    inner = line(stitch(StitchKind.RUN), polyline([(0, 0), (9, 9)]).path)
    assert farthest_needles([step(inner, outer)]) == (Box(-10.0, -20.0, 30.0, 30.0), ())
    # A zigzag along y = 30 that is 2 mm wide goes 1 mm to either side: down to 31.
    swung = line(stitch(StitchKind.ZIGZAG, swing=2.0), polyline([(0, 30), (9, 30)]).path)
    assert farthest_needles([step(outer, swung)]) == (Box(-10.0, -20.0, 30.0, 31.0), ())


def test_nothing_to_sew_reaches_nowhere() -> None:
    assert farthest_needles([]) == (Box(0.0, 0.0, 0.0, 0.0), ())


def test_what_cannot_be_sewn_is_found_and_left_out() -> None:
    # No stitch is made along a tenth of a millimetre, one step of the grid.
    short = line(stitch(StitchKind.RUN), polyline([(50, 0), (50.1, 0)]).path, name="short")
    whole = line(stitch(StitchKind.RUN), polyline([(0, 0), (9, 0)]).path)
    assert farthest_needles([step(short)])[0] == Box(0.0, 0.0, 0.0, 0.0)
    box, found = farthest_needles([step(short, whole)])
    assert box == Box(0.0, 0.0, 9.0, 0.0)
    assert found == sew([step(short, whole)])[1] != ()


@settings(max_examples=60)
@given(st.lists(st.tuples(shapes(), st.sampled_from(SPACED), st.integers(1, 3)), max_size=8))
def test_it_is_where_the_sewn_ones_lie(some: list[tuple[Shape, StitchKind, int]]) -> None:
    steps = [
        step(*(line(stitch(kind), each.path) for each, kind, at in some if at == number))
        for number in (1, 2, 3)
    ]
    sewn, found = sew(steps)
    assert farthest_needles(steps) == (needle_bounds(sewn), found)


@pytest.mark.parametrize("kind", [StitchKind.TRIPLE, StitchKind.DOUBLE])
@pytest.mark.parametrize("before", [0.3, 0.4, 0.5, 0.6, 0.8])
def test_it_is_so_where_it_depends_on_the_end_that_is_sewn_first(
    kind: StitchKind, before: float
) -> None:
    # Round an arc of 1 mm radius whose lowest place lies so far from its end: the small stitches
    # of tie-in and tie-off are not alike, and one of them comes nearer to it.
    angle = np.linspace(math.pi / 2 - before, math.pi / 2 - before + 6, 800)
    arc = path(np.stack([np.cos(angle), np.sin(angle)], axis=1), closed=False)
    steps = [step(line(stitch(kind), arc))]
    assert farthest_needles(steps)[0] == needle_bounds(sew(steps)[0])
