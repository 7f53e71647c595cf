"""Thread of a hooping: against published figures, sums by hand, and copies of one thing."""

from collections.abc import Mapping

import numpy as np
import pytest
import shapely

from paramgen.amounts.lockstitch import USUAL_301, USUAL_BOBBIN, USUAL_NEEDLE, lockstitch
from paramgen.amounts.stitched_thread import SHEET_THICK, StepThread, step_threads, thread_of
from paramgen.hooping import Room
from paramgen.lengths import INCH
from paramgen.making import Made, Order, make
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.thread_sold import LockDepth, ThreadWaste, usual_thread
from paramgen.vocabulary.unit import Unit


def worked(recipe: str, hoop: str, asked: Mapping[str, str] | None = None, copies: int = 1) -> Made:
    hoops = listed()
    room = Room(find_hoop(hoop, hoops))
    return make(Order(find_recipe(recipe), asked or {}, room, Unit.MM, copies=copies), hoops)


@pytest.mark.parametrize(
    ("stitch", "thick", "ratio"),
    [
        # ISO 4915 type 301, C = 2 + 2·T·S as worked in the textile literature: T = 0.01 in at 10
        # stitches an inch is 2.2.
        (INCH / 10, 0.01 * INCH, 2.2),
        # The same relation as 2·(1 + T/L): 2·(1 + 1/2.5) and 2·(1 + 1.5/2).
        (2.5, 1.0, 2.8),
        (2.0, 1.5, 3.5),
    ],
)
def test_thread_of_a_lockstitch(stitch: float, thick: float, ratio: float) -> None:
    found = lockstitch(200 * stitch, 200 * thick)
    assert found.both == pytest.approx(ratio * 200 * stitch)
    assert found.needle == pytest.approx(found.bobbin)


def test_the_rule_of_the_trade_is_that_of_a_worked_seam() -> None:
    """A seam of 220 cm takes 550 cm, half from the bobbin (a thread maker's bulletin)."""
    assert USUAL_301 * 220 == 550
    # It is a seam of 2.5 mm stitches through 0.625 mm: 2·(1 + 0.625/2.5) = 2.5.
    found = lockstitch(2200.0, 2200 / 2.5 * 0.625)
    assert found.needle == pytest.approx(2750)
    assert found.bobbin == pytest.approx(2750)


def test_a_lock_at_the_back_shares_thread_as_embroidery_does() -> None:
    """5 m of needle thread to 3 to 3.5 m of bobbin thread for 1000 stitches: 1.43 to 1.67."""
    (needle, _), bobbin = USUAL_NEEDLE, USUAL_BOBBIN
    assert needle == 5
    # 1000 stitches of 2.5 mm through three plies of 0.25 mm: 2.5 + 2·0.75 to 2.5.
    found = lockstitch(2500.0, 750.0, lock=1.0)
    assert (found.needle, found.bobbin) == (4000.0, 2500.0)
    assert needle / bobbin[1] < found.needle / found.bobbin < needle / bobbin[0]


def test_least_and_most_are_of_thickness_lock_and_waste() -> None:
    one = StepThread(step=1, stop=1, title="Seam", stitches=40, length=100.0, through=(20.0, 60.0))
    lock, waste = LockDepth(least=0.5, most=1.0), ThreadWaste(least=0.1, most=0.2)
    sold = usual_thread().model_copy(update={"lock": lock, "waste": waste})
    found = thread_of([one, one], sold)
    # Needle: 1.1·2·(100 + 2·0.5·20) and 1.2·2·(100 + 2·1·60).
    assert found.needle == pytest.approx((264, 528))
    # Bobbin: 1.1·2·(100 + 0) with the lock at the back, and 1.2·2·(100 + 60) in the middle.
    assert found.bobbin == pytest.approx((220, 384))
    assert one.thick == (0.5, 1.5)


def test_before_anything_is_laid_a_stitch_goes_through_the_stabiliser_alone() -> None:
    mat = worked("coaster", "130x180")
    first = step_threads(mat)[0]
    assert first.title.startswith("Placement")
    assert first.thick == pytest.approx(SHEET_THICK)


@pytest.mark.parametrize(
    ("recipe", "asked", "hoop"),
    [
        ("fold-wallet", {}, "5x7in"),
        ("zip-pouch", {}, "180x300"),
        ("coaster", {"outline": "round", "width": "90"}, "130x180"),
    ],
)
def test_thickness_is_that_of_the_layers_of_the_steps(
    recipe: str, asked: dict[str, str], hoop: str
) -> None:
    """Another way to the same: the layers of the project where they lie in the hoop, one by one.

    Laid folded in half a layer lies double; hems and cut-outs are none here but the zip's slit.
    """
    found = worked(recipe, hoop, asked)
    sewn = {one.stop: one for one in found.sewn}
    for told in step_threads(found):
        if told.stop is None:
            continue
        least = 0.0
        for run in sewn[told.stop].runs:
            spots = run.needles / 10
            at = np.array([_lying(x, y, told.step, found) for x, y in spots])
            least += float(((at[:-1] + at[1:]) / 2).sum())
        assert told.through[0] == pytest.approx(least, rel=0.03)


def _lying(x: float, y: float, step: int, found: Made) -> float:
    spot = shapely.Point(x, y)
    total = SHEET_THICK[0]
    for past in found.project.steps[: step - 1]:
        for layer in past.layers:
            if layer.outline.area.contains(spot):
                total += layer.ply[0] * layer.plies
    return total


def test_so_many_copies_take_so_many_times_the_thread() -> None:
    one = worked("coaster", "130x180", {"width": "90"})
    four = worked("coaster", "200x300", {"width": "90"}, copies=4)
    assert four.project.copies == 4
    for single, all_four in zip(step_threads(one), step_threads(four), strict=True):
        # Stitches are spaced along each copy alike; the way from one to the next is cut.
        assert all_four.stitches == pytest.approx(4 * single.stitches, rel=0.03)
        assert all_four.length == pytest.approx(4 * single.length, rel=0.03)
        assert all_four.through[1] == pytest.approx(4 * single.through[1], rel=0.03)


def test_a_seam_through_many_layers_takes_more_to_a_length_than_a_placement() -> None:
    told = step_threads(worked("fold-wallet", "5x7in"))
    seam = next(one for one in told if one.title == "Seam")
    assert seam.thick[0] > 3 * told[0].thick[0]
