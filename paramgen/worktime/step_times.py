"""How long each step of a project takes, at the machine and by hand."""

from collections.abc import Sequence
from enum import StrEnum

from paramgen.making import Made
from paramgen.reference.work_times import WorkTimes
from paramgen.stitches.needle_points import SewnStep
from paramgen.supplies.sewing import sewings
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Project, Step


class WorkPhase(StrEnum):
    """Where in the whole work a step is."""

    PREPARE = "prepare"
    IN_HOOP = "at the machine"
    FINISH = "finish"


@dataclass(frozen=True, kw_only=True)
class StepTime:
    """How long a step takes.

    Parameters
    ----------
    step : int
        Its number; 0 for what is done before the first: cutting, hooping.
    title : str
    phase : WorkPhase
    machine, hand : float
        While the machine sews, and while hands do, s.
    """

    step: int
    title: str
    phase: WorkPhase
    machine: float = 0.0
    hand: float = 0.0

    @property
    def seconds(self) -> float:
        """In all."""
        return self.machine + self.hand


def step_times(made: Made, times: WorkTimes) -> tuple[StepTime, ...]:
    """Estimate each step, cutting and hooping first.

    Parameters
    ----------
    made : Made
    times : WorkTimes
    """
    project, pace = made.project, times.pace
    slow = {one.step for one in sewings(made) if one.thick or one.near_zip}
    sewn = {one.stop: one for one in made.sewn}
    first, last = _hooped_steps(project)
    pieces = sum(piece.quantity for piece in project.pieces)
    found = [
        StepTime(
            step=0,
            title="Cut the pieces",
            phase=WorkPhase.PREPARE,
            hand=pieces * times.before.cut * pace.hand,
        ),
        StepTime(
            step=0,
            title="Hoop the stabiliser",
            phase=WorkPhase.IN_HOOP,
            hand=times.before.hoop * pace.hand,
        ),
    ]
    for step in project.steps:
        done = WorkPhase.IN_HOOP
        if step.number < first or step.number > last:
            done = WorkPhase.PREPARE if step.number < first else WorkPhase.FINISH
        machine = hand = 0.0
        if step.act is Act.STITCH:
            machine = machine_seconds(sewn.get(step.stop or 0), times, slow=step.number in slow)
        else:
            several = project.copies if done is WorkPhase.FINISH else 1
            hand = hand_seconds(step, project, times, several)
        found.append(
            StepTime(
                step=step.number,
                title=step.title,
                phase=done,
                machine=machine * pace.machine,
                hand=hand * pace.hand,
            )
        )
    return tuple(found)


def machine_seconds(sewn: SewnStep | None, times: WorkTimes, *, slow: bool) -> float:
    """How long the machine takes for a stop, at its usual pace.

    Parameters
    ----------
    sewn : SewnStep or None
        None for a stop in which nothing is sewn.
    times : WorkTimes
    slow : bool
        Whether it sews through many layers, or near a zip.
    """
    if sewn is None:
        return 0.0
    rates = times.machine
    rate = rates.slow_stitches_per_minute if slow else rates.stitches_per_minute
    return rates.stop + 60 * sewn.stitch_count / rate + rates.trim * len(sewn.runs)


def hand_seconds(step: Step, project: Project, times: WorkTimes, copies: int = 1) -> float:
    """How long hands take for a step, at their usual pace.

    Parameters
    ----------
    step : Step
        By hand.
    project : Project
    times : WorkTimes
    copies : int
        So many things are done to, one after the other.
    """
    known = times.hand[step.act]
    length = sum(path.length for path in step.mark)
    if step.act is Act.TOP_STITCH:
        sewn = length or project.seam.length * copies
        return known.step * copies + sewn * times.sewing_machine.seconds_per_mm
    if step.act is Act.TRIM:
        length = length or project.seam.length * copies
    return known.step * copies + known.each * _things(step) + known.metre * length / 1000


def _things(step: Step) -> int:
    """What is laid, taped, folded or clipped in it, one for each."""
    if step.act is Act.LAY:
        return len(step.layers)
    if step.act is Act.TAPE:
        return len(step.tape)
    if step.act in (Act.CLIP, Act.NOTCH):
        return len(step.mark)
    return max(1, len(step.pieces))


def _hooped_steps(project: Project) -> tuple[int, int]:
    """The first and the last step for which the work is in the hoop."""
    first = next(one.number for one in project.steps if one.act in (Act.STITCH, Act.LAY, Act.TAPE))
    last = max(one.number for one in project.steps if one.act is Act.STITCH)
    return first, last


def in_phase(found: Sequence[StepTime], phase: WorkPhase) -> float:
    """Seconds of a phase."""
    return sum(one.seconds for one in found if one.phase is phase)
