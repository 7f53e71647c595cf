"""The order of the work: laid before held, marked before laid, tape off, hoop turned back."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.vocabulary.facts import Name, Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, Role, Side
from paramgen.vocabulary.project import Step

#: A line crosses tape if more of it than this lies under a strip, mm.
UNDER_TAPE = 1.0
#: Tape that reaches no farther than this inside the seam comes out with the allowance, mm².
SEALED_AREA = 5.0


def order(done: Rehearsed) -> Iterator[Finding]:
    """Find steps that come too early or too late."""
    steps = list(done.project.steps)
    yield from _nothing_to_hold(steps)
    yield from _nothing_to_tape(steps)
    yield from _marked_too_late(steps)
    yield from _after_the_seam(steps)
    yield from _turned_over(steps)
    yield from _tape(steps, done.project.seam.area)


def _nothing_to_hold(steps: list[Step]) -> Iterator[Finding]:
    """Tack-downs with nothing newly laid."""
    fresh = False
    for step in steps:
        fresh = fresh or bool(step.layers)
        if Role.TACK_DOWN not in roles_of(step):
            continue
        if not fresh:
            yield Finding(
                "held-before-laid",
                Severity.CANNOT,
                facts(step=step.called),
                step=step.number,
                place=place_of(_lines(step)),
            )
        fresh = False


def _nothing_to_tape(steps: list[Step]) -> Iterator[Finding]:
    """Pieces that a step tapes and only a later one lays."""
    there: set[str] = set()
    for step in steps:
        there |= {layer.piece for layer in step.layers}
        for name in step.taped:
            later = [(one, layer) for one in steps[step.number :] for layer in one.layers]
            laid = next((one for one in later if one[1].piece == name), None)
            if name not in there and laid:
                yield Finding(
                    "taped-before-laid",
                    Severity.CANNOT,
                    facts(step=step.called, piece=laid[1].called, laid=laid[0].called),
                    place=place_of([laid[1].outline.line]),
                    step=step.number,
                    piece=name,
                )


def _marked_too_late(steps: list[Step]) -> Iterator[Finding]:
    """Placement lines that go through a piece that is laid and not yet held."""
    loose: list[tuple[Name, BaseGeometry]] = []
    for step in steps:
        roles = roles_of(step)
        held_next = next((one for one in steps[step.number :] if one.layers or one.lines), None)
        if roles == {Role.PLACEMENT} and held_next is not None and not held_next.layers:
            lines = shapely.union_all(_lines(step))
            under = [one for one in loose if (lines & one[1]).length > UNDER_TAPE]
            for piece, _ in under[:1]:
                yield Finding(
                    "marked-after-laid",
                    Severity.CANNOT,
                    facts(step=step.called, piece=piece),
                    place=place_of(_lines(step)),
                    step=step.number,
                    piece=piece.name,
                )
        elif roles:
            loose = []
        loose += [(layer.called, layer.outline.area) for layer in step.layers]


def _after_the_seam(steps: list[Step]) -> Iterator[Finding]:
    """Pieces laid when the last seam is sewn already."""
    seams = [step.number for step in steps if Role.SEAM in roles_of(step)]
    for step in steps:
        for layer in step.layers if seams and step.number > seams[-1] else ():
            yield Finding(
                "laid-after-seam",
                Severity.CANNOT,
                facts(piece=layer.called, laid=step.number, seam=seams[-1]),
                place=tuple((float(x), float(y)) for x, y in layer.outline.points),
                step=step.number,
                piece=layer.piece,
            )


def roles_of(step: Step) -> set[Role]:
    """What the lines of a step are for."""
    return {line.role for line in step.lines}


def _lines(step: Step) -> list[shapely.LineString]:
    return [path.line for line in step.lines for path in line.paths]


def _turned_over(steps: list[Step]) -> Iterator[Finding]:
    """Stitching with the hoop upside down, and laying on the side that is not seen."""
    for step in steps:
        if step.act is Act.UNHOOP:
            return
        if step.act is Act.STITCH and step.seen_from is Side.BACK:
            yield Finding(
                "hoop-not-turned-back",
                Severity.CANNOT,
                facts(step=step.called),
                step=step.number,
            )
            return
        for layer in step.layers:
            if layer.side != step.seen_from:
                yield Finding(
                    "hoop-wrong-way",
                    Severity.CANNOT,
                    facts(
                        piece=layer.called,
                        side=Term("side", layer.side),
                        step=step.called,
                        up=Term("side", step.seen_from),
                    ),
                    step=step.number,
                    piece=layer.piece,
                )


def _sealed(
    strips: list[tuple[Step, BaseGeometry]], last_laid: int, seam: BaseGeometry
) -> Iterator[Finding]:
    """Tape still there inside the seam under the piece laid last."""
    inside = [
        (on, strip)
        for on, strip in strips
        if on.number < last_laid and (strip & seam).area > SEALED_AREA
    ]
    if inside:
        yield Finding(
            "tape-left-inside",
            Severity.CANNOT,
            facts(taped=inside[0][0].number, laid=last_laid),
            place=place_of([strip for _, strip in inside]),
            step=inside[0][0].number,
        )


def _tape(steps: list[Step], seam: BaseGeometry) -> Iterator[Finding]:
    """Tape that a line is sewn through while it is still there."""
    strips: list[tuple[Step, BaseGeometry]] = []
    last_laid = max((step.number for step in steps if step.layers), default=0)
    for step in steps:
        if step.act is Act.UNHOOP:
            yield from _sealed(strips, last_laid, seam)
            return
        strips = [pair for pair in strips if not step.takes_tape_off(pair[0].taped)]
        strips += [(step, strip.area) for strip in step.tape]
        if not step.lines or not strips:
            continue
        lines = shapely.union_all(_lines(step))
        under = shapely.length(shapely.intersection(lines, [strip for _, strip in strips]))
        caught = [strips[place] for place in np.flatnonzero(under > UNDER_TAPE)]
        if caught:
            yield Finding(
                "tape-sewn-in",
                Severity.CANNOT,
                facts(step=step.called, taped=caught[0][0].number),
                place=place_of([strip for _, strip in caught]),
                step=step.number,
            )
            strips = [pair for pair in strips if pair not in caught]
