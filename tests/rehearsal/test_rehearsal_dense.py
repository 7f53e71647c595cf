"""Too many needle points over an area, found before a needle breaks."""

import numpy as np
import pytest
from quilted import quilted

from paramgen.rehearsal.density import densest, density
from paramgen.stitches.needle_points import Run, SewnStep
from paramgen.vocabulary.facts import StepName

MAT = quilted(0)


def fill(rows: int, stitch: int, passes: int = 1) -> SewnStep:
    """A fill of 12 mm square in the middle, in tenths of a millimetre, so many times over."""
    runs = []
    for number in range(passes):
        x, y = np.meshgrid(np.arange(-60, 61, stitch) + number, np.arange(-60, 61, rows) + number)
        points = np.stack([x.ravel(), y.ravel()], axis=1)
        runs.append(Run("fill", points, (1, 1)))
    return SewnStep(4, "Fill", "#204060", tuple(runs))


@pytest.mark.parametrize(
    ("step", "has"),
    # A square of 4 mm holds 10 rows 0.4 mm apart with a point each 4 mm, or 8 rows of 8.
    [(fill(4, 40), 10 / 16), (fill(5, 5), 64 / 16), (fill(4, 5), 80 / 16)],
)
def test_how_dense_it_is_at_most(step: SewnStep, has: float) -> None:
    assert densest([step], MAT) == pytest.approx(has)
    assert densest([], MAT) == 0


@pytest.mark.parametrize(
    ("step", "dense"),
    [
        (fill(4, 40), False),  # a usual fill: 1 / (0.4 × 4) = 0.6 a square millimetre
        (fill(4, 40, passes=4), False),  # four of them over each other: 2.5
        (fill(4, 8), False),  # 1 / (0.4 × 0.8) = 3.1
        (fill(5, 5), False),  # 1 / 0.5² = 4
        (fill(4, 5), True),  # 1 / (0.4 × 0.5) = 5
        (fill(4, 4), True),  # 1 / 0.4² = 6.3
    ],
)
def test_by_area(step: SewnStep, dense: bool) -> None:
    found = [one for one in density([step], MAT) if one.code == "stitches-dense"]
    assert bool(found) is dense
    for one in found:
        assert dict(one.facts)["stop"] == StepName(4, "Fill")
        assert max(map(abs, one.place[0])) <= 8.0  # in the fill, or in a square at its edge
