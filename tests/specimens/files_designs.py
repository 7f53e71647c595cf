"""Designs for the tests of stitch files."""

from collections.abc import Sequence

import numpy as np
from hypothesis import strategies as st

from paramgen.layout.stop_colours import colour_of
from paramgen.stitches.needle_points import Run, SewnStep

Points = Sequence[tuple[int, int]]

#: Half of the longest field a hoop is likely to have, tenths of a millimetre.
REACH = 1800


def run(points: Points) -> Run:
    return Run("edge", np.array(points, dtype=np.int64), (0, 0))


def step(stop: int, *runs: Points, colour: str | None = None, title: str = "tag") -> SewnStep:
    return SewnStep(stop, title, colour or colour_of(stop), tuple(run(points) for points in runs))


def many_steps(count: int) -> list[SewnStep]:
    """Short steps side by side, one stitch each."""
    return [step(n, [(n, -n), (n + 20, 7 - n)]) for n in range(1, count + 1)]


def outline(corner: tuple[int, int], width: int, height: int) -> Points:
    """A closed rectangle, a needle point at each corner only."""
    x, y = corner
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)]


@st.composite
def designs(draw: st.DrawFn, longest: int = 121, most_steps: int = 6) -> list[SewnStep]:
    """Steps of one to three runs, no stitch longer than `longest` along either axis."""
    moves = st.tuples(st.integers(-longest, longest), st.integers(-longest, longest))
    starts = st.tuples(st.integers(-REACH, REACH), st.integers(-REACH, REACH))
    walks = st.tuples(starts, st.lists(moves, min_size=1, max_size=8))
    plan = st.lists(st.lists(walks, min_size=1, max_size=3), min_size=1, max_size=most_steps)
    return [
        SewnStep(stop, "tag", colour_of(stop), tuple(_walk(*walk) for walk in walked))
        for stop, walked in enumerate(draw(plan), start=1)
    ]


def _walk(start: tuple[int, int], moves: list[tuple[int, int]]) -> Run:
    return run(np.cumsum([start, *moves], axis=0).tolist())
