"""Thread that a hooping takes, stitch by stitch, with the thickness under each of them.

The thickness at a needle point is that of all the sheets that lie there when it is sewn, and of the
stabiliser; a stitch goes through the mean of its two ends. It is a range, as a ply is.
"""

from collections.abc import Sequence

import numpy as np

from paramgen.amounts.lockstitch import ThreadSplit, lockstitch
from paramgen.finished.bulk import by_hand
from paramgen.finished.finished_thing import FinishedThing
from paramgen.layout.copies_apart import taken
from paramgen.making import Made
from paramgen.reference.thread_sold import ThreadSold
from paramgen.rehearsal.distinct_areas import DistinctAreas
from paramgen.rehearsal.rehearsal_limits import sheets_for
from paramgen.stitches.measures import sewn_length
from paramgen.stitches.needle_points import GRID_MM, SewnStep
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import SEWN_THROUGH
from paramgen.vocabulary.path import BoolArray, FloatArray
from paramgen.vocabulary.project import Placement, Step

#: Thickness of a sheet of stabiliser under stitches, least and most, mm (from memory).
SHEET_THICK = (0.1, 0.3)
#: Length of a stitch on a sewing machine, mm (common practice: 2 to 2.5).
BY_HAND_LENGTH = 2.5


@dataclass(frozen=True, kw_only=True)
class StepThread:
    """Thread of one step, without waste.

    Parameters
    ----------
    step : int
    stop : int or None
        None for what is sewn on a sewing machine.
    title : str
    stitches : int
    length : float
        Of all of them together, mm.
    through : (float, float)
        Thickness under each of them, summed, least and most, mm.
    """

    step: int
    stop: int | None
    title: str
    stitches: int
    length: float
    through: tuple[float, float]

    @property
    def thick(self) -> tuple[float, float]:
        """Mean thickness under its stitches, least and most, mm."""
        least, most = (one / max(1, self.stitches) for one in self.through)
        return least, most


@dataclass(frozen=True)
class ThreadTaken:
    """Thread to have, waste included, least and most, mm.

    Where one thread takes the most the other takes less, so `both` is not their sum.
    """

    needle: tuple[float, float]
    bobbin: tuple[float, float]
    both: tuple[float, float]

    def times(self, count: int) -> "ThreadTaken":
        """For so many of the same.

        >>> ThreadTaken((1.0, 2.0), (3.0, 4.0), (5.0, 6.0)).times(2)
        ThreadTaken(needle=(2.0, 4.0), bobbin=(6.0, 8.0), both=(10.0, 12.0))
        """
        several = (
            (count * least, count * most) for least, most in (self.needle, self.bobbin, self.both)
        )
        return ThreadTaken(*several)


def step_threads(made: Made) -> tuple[StepThread, ...]:
    """What goes into each step that is sewn, in their order.

    On a sewing machine it is what is stitched along lines through the finished thing, where that is
    thickest; edges that are stitched before the hooping, and what hands sew, are not counted.
    """
    sewn = {one.stop: one for one in made.sewn}
    stitches = sum(one.stitch_count for one in made.sewn)
    under = sheets_for(stitches)
    found = []
    hands = {one.step: one.thick for one in sorted(by_hand(made.thing), key=lambda o: o.thick[1])}
    for step in made.project.steps:
        if step.stop in sewn and step.stop is not None:
            found.append(_in_hoop(step, sewn[step.stop], made, under))
        elif step.act in SEWN_THROUGH and step.number in hands:
            length = sum(path.length for path in step.mark)
            many = max(1, round(length / BY_HAND_LENGTH))
            least, most = hands[step.number]
            found.append(
                StepThread(
                    step=step.number,
                    stop=None,
                    title=step.title,
                    stitches=many,
                    length=length,
                    through=(many * least, many * most),
                )
            )
    return tuple(found)


def thread_of(steps: Sequence[StepThread], sold: ThreadSold) -> ThreadTaken:
    """Thread of needle and bobbin for some steps, waste included.

    The least is through the thinnest layers, with the lock where that thread takes least.

    Parameters
    ----------
    steps : sequence of StepThread
    sold : ThreadSold
    """
    least = [_split(steps, 0, sold, lock) for lock in (sold.lock.least, sold.lock.most)]
    most = [_split(steps, 1, sold, lock) for lock in (sold.lock.least, sold.lock.most)]
    return ThreadTaken(
        (min(one.needle for one in least), max(one.needle for one in most)),
        (min(one.bobbin for one in least), max(one.bobbin for one in most)),
        (least[0].both, most[0].both),
    )


def _split(steps: Sequence[StepThread], end: int, sold: ThreadSold, lock: float) -> ThreadSplit:
    """At one end of the thickness and of the waste."""
    length = sum(one.length for one in steps)
    found = lockstitch(length, sum(one.through[end] for one in steps), lock)
    more = 1 + (sold.waste.least, sold.waste.most)[end]
    return ThreadSplit(found.needle * more, found.bobbin * more)


def _in_hoop(step: Step, sewn: SewnStep, made: Made, under: int) -> StepThread:
    runs = [run.needles * GRID_MM for run in sewn.runs]
    least = most = 0.0
    if runs:
        thick = _thickness(np.concatenate(runs), step.number, made.thing, made.project.placed)
        thick += under * np.array(SHEET_THICK)[:, np.newaxis]
        start = 0
        for run in runs:
            ends = thick[:, start : start + len(run)]
            low, high = ((ends[:, :-1] + ends[:, 1:]) / 2).sum(axis=1)
            least, most = least + float(low), most + float(high)
            start += len(run)
    return StepThread(
        step=step.number,
        stop=step.stop,
        title=step.title,
        stitches=sewn.stitch_count,
        length=sewn_length(sewn),
        through=(least, most),
    )


def _thickness(
    spots: FloatArray, step: int, thing: FinishedThing, placed: Sequence[Placement]
) -> FloatArray:
    """Least and most thickness of what lies at places of the hoop before a step, shape (2, n)."""
    pile = thing.done.sandwich
    laid = [place for place, (sheet, _) in enumerate(pile.whole) if sheet.step < step]
    patches = [sheet for sheet in pile.applied if sheet.step < step]
    sheets = [*(pile.whole[place][0] for place in laid), *patches]
    cut_back = DistinctAreas([sheet.area for sheet in patches])
    there: BoolArray = np.zeros((len(sheets), len(spots)), dtype=bool)
    for where in placed:  # of each copy; what lies at a place is one copy's alone
        own = taken(spots, where)
        there |= np.concatenate([pile.areas.cover(own, laid), cut_back.cover(own)])
    plies = np.array([[one * sheet.plies for one in sheet.ply] for sheet in sheets]).reshape(-1, 2)
    return np.asarray(plies.T @ there)
