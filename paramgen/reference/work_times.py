"""How long each kind of work takes: what comes with the program, and what a person says anew."""

from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, model_validator

from paramgen.nearest_word import did_you_mean
from paramgen.reference.own_folder import own
from paramgen.reference.own_over_common import over_common
from paramgen.vocabulary.kinds import Act

_FILE = "work-times.toml"

#: Longer than a day is a slip of the pen.
MOST_SECONDS = 86_400.0

Seconds = Annotated[float, Field(ge=0, le=MOST_SECONDS)]
Rate = Annotated[float, Field(ge=10, le=5000)]
Factor = Annotated[float, Field(ge=0.05, le=20)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Pace(_Table):
    """What was measured once, divided by what was told: of the machine, and of hands."""

    machine: Factor
    hand: Factor


class MachinePace(_Table):
    """How fast an embroidery machine goes: stitches a minute, and seconds."""

    stitches_per_minute: Rate
    slow_stitches_per_minute: Rate
    trim: Seconds
    stop: Seconds


class SewingMachinePace(_Table):
    """How fast a person sews on a sewing machine."""

    stitches_per_minute: Rate
    stitch_length_mm: Annotated[float, Field(ge=0.5, le=10)]

    @property
    def seconds_per_mm(self) -> float:
        """Of a seam."""
        return 60 / (self.stitches_per_minute * self.stitch_length_mm)


class HandTime(_Table):
    """What a step by hand takes: itself, each thing in it, each metre trimmed; s."""

    step: Seconds = 0.0
    each: Seconds = 0.0
    metre: Seconds = 0.0


class BeforeTimes(_Table):
    """To hoop the stabiliser, and to cut a piece, s."""

    hoop: Seconds
    cut: Seconds


class WorkTimes(_Table):
    """All of it; each act by hand has its time."""

    pace: Pace
    machine: MachinePace
    sewing_machine: SewingMachinePace
    hand: dict[str, HandTime]
    before: BeforeTimes

    @model_validator(mode="after")
    def _knows_all_acts(self) -> "WorkTimes":
        acts = {str(act) for act in Act} - {Act.STITCH}
        if unknown := sorted(set(self.hand) - acts):
            raise ValueError(f"no step does `{unknown[0]}`. {did_you_mean(unknown[0], acts)}")
        if missing := sorted(acts - set(self.hand)):
            raise ValueError(f"`{missing[0]}` has no time")
        return self


def own_times() -> Path:
    """Tell where a person's own times are read from; the file need not be there."""
    return own(_FILE)


def work_times(file: Path | None = None) -> WorkTimes:
    """The times that come with the program, and over them a person's own.

    Parameters
    ----------
    file : Path or None
        A person's own; in the usual place if None.

    Raises
    ------
    InputError
        With every fault of the file: what it says that is not known, or is no time.
    """
    return over_common(_FILE, WorkTimes, file)
