"""What no stitch file of a kind can carry, known before it is written."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np

from paramgen.files.formats import FORMATS, Format
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.facts import Facts, Mm, Name, NamesInTurn, StepName, facts
from paramgen.vocabulary.findings import (
    CannotMakeError,
    Fault,
    Finding,
    InputError,
    Severity,
    WriteError,
)


def check_limits(steps: Sequence[SewnStep], formats: Iterable[Format]) -> None:
    """See that each format can carry the steps.

    Parameters
    ----------
    steps : sequence of SewnStep
        In order.
    formats : iterable of Format

    Raises
    ------
    InputError
        If nothing is stitched.
    CannotMakeError
        If a format cannot carry the steps: one finding for each limit of each format.
    WriteError
        If the steps are such that a format would lose one: a fault of the program.
    """
    _check_steps(steps)
    passed = [finding for kind in formats for finding in _limits_passed(steps, kind)]
    if passed:
        raise CannotMakeError(passed)


def _check_steps(steps: Sequence[SewnStep]) -> None:
    if not steps:
        raise InputError([Fault("no step is stitched; a stitch file needs at least one.")])
    for step in steps:
        if not step.runs:
            raise WriteError(f"Stop {step.stop} has nothing to sew, so a file would lose it.")
    for one, two in pairwise(steps):
        if one.colour.lower() == two.colour.lower():
            raise WriteError(
                f"Stops {one.stop} and {two.stop} have one colour, {one.colour}; "
                "some files would make one step of them."
            )


def _limits_passed(steps: Sequence[SewnStep], kind: Format) -> Iterator[Finding]:
    def passed(variant: str, known: Facts) -> Finding:
        known = facts(file=Name("file", kind.name, kind.name), able=_carried_by(steps)) + known
        return Finding("file-exceeded", Severity.CANNOT, known, variant=variant)

    if kind.most_steps is not None and len(steps) > kind.most_steps:
        yield passed("steps", facts(most=kind.most_steps, steps=len(steps)))
    long, step = _longest_stitch(steps)
    if kind.longest_stitch is not None and long > kind.longest_stitch:
        most, has = (Mm(tenths / 10) for tenths in (kind.longest_stitch, long))
        stop = StepName(step.stop, step.title)
        yield passed("stitch", facts(most=most, stop=stop, has=has))


def _longest_stitch(steps: Sequence[SewnStep]) -> tuple[int, SewnStep]:
    """Longest stitch along either axis, tenths of a millimetre, and the step it is in."""

    def longest(step: SewnStep) -> int:
        return max(int(np.abs(np.diff(run.needles, axis=0)).max()) for run in step.runs)

    step = max(steps, key=longest)
    return longest(step), step


def _carried_by(steps: Sequence[SewnStep]) -> NamesInTurn | None:
    """The formats that would carry the steps."""
    long, _ = _longest_stitch(steps)
    able = tuple(
        Name("file", kind.name, kind.name)
        for kind in FORMATS
        if (kind.most_steps is None or len(steps) <= kind.most_steps)
        and (kind.longest_stitch is None or long <= kind.longest_stitch)
    )
    return NamesInTurn(able) if able else None
