"""Loops, tabs and tails: what the seam catches at one side alone, and what of it comes out.

What is caught at one side alone is told, and so is a loop whose fold the seam catches.
"""

from collections.abc import Iterator

from paramgen.finished.finished_limits import RIBBON
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.flaps import TOUCH, Flap, FlapSide, rim_line
from paramgen.reference.materials import ANY_CLOTH
from paramgen.rehearsal.finding_points import place_of
from paramgen.vocabulary.facts import Mm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Project


def loops(thing: FinishedThing) -> Iterator[Finding]:
    """Find what is laid the wrong way round, laid outward and cut off, or said nothing of."""
    for flap in thing.flaps:
        rim = rim_line(flap)
        if rim is None or rim.length <= TOUCH:
            continue
        if _fold_is_lost(thing, flap):
            yield _fold_in_seam(thing, flap)
        elif (cut := _cut_off(thing, flap)) > (left := _left(thing, flap)):
            yield _laid_outward(thing, flap, cut, left)
        elif flap.lies is FlapSide.WORK:
            yield _lies_on_the_face(thing, flap)


def strips(project: Project) -> Iterator[Finding]:
    """Find what is as narrow as ribbon, alike on both faces, and said to be no more than cloth."""
    known = {one.role for one in project.fabrics if one.material.name != ANY_CLOTH}
    alike = {
        one.piece
        for step in project.steps
        for one in step.layers
        if one.two_sided and not one.clear
    }
    for role in dict.fromkeys(piece.fabric for piece in project.pieces):
        pieces = [piece for piece in project.pieces if piece.fabric == role]
        wide = max(min(piece.cut) for piece in pieces)
        if role in known or wide > RIBBON or not all(one.name in alike for one in pieces):
            continue
        yield Finding(
            "narrow-and-not-said",
            Severity.KNOW,
            facts(fabric=Name("fabric", role, role), wide=Mm(wide)),
            piece=pieces[0].name,
        )


def _fold_is_lost(thing: FinishedThing, flap: Flap) -> bool:
    """Whether the fold of what is folded in half lies outside the seam line."""
    sheet = thing.done.sandwich.sheets[flap.sheets[0]]
    if not sheet.folded:
        return False
    return float((sheet.folds[-1] & thing.project.seam.area).length) <= TOUCH


def _cut_off(thing: FinishedThing, flap: Flap) -> float:
    """Area of a flap that trimming cuts off, mm²."""
    trimmed = thing.project.finish.trimmed
    return 0.0 if trimmed is None else float((flap.area - trimmed.area).area)


def _left(thing: FinishedThing, flap: Flap) -> float:
    """Area of a flap that lies within the seam line, and so comes out, mm²."""
    return float((flap.area & thing.project.seam.area).area)


def _fold_in_seam(thing: FinishedThing, flap: Flap) -> Finding:
    return Finding(
        "fold-in-seam",
        Severity.CANNOT,
        facts(piece=flap.called, step=thing.project.step_called(flap.step)),
        place=place_of([flap.area]),
        step=flap.step,
        piece=flap.piece,
    )


def _laid_outward(thing: FinishedThing, flap: Flap, cut: float, left: float) -> Finding:
    trim = next(step for step in thing.project.steps if step.act is Act.TRIM)
    wide = float(flap.rim.length)
    return Finding(
        "laid-outward",
        Severity.DISAPPOINT,
        facts(
            piece=flap.called,
            cut=Mm(cut / wide),
            left=Mm(left / wide),
            trim=trim.called,
            step=thing.project.step_called(flap.step),
        ),
        amount=cut / wide,
        place=place_of([flap.area - thing.project.seam.area]),
        step=flap.step,
        piece=flap.piece,
    )


def _lies_on_the_face(thing: FinishedThing, flap: Flap) -> Finding:
    work = thing.done.project.finish.work
    sheet = thing.done.sandwich.sheets[thing.done.indices(work)[0]]
    return Finding(
        "loose-on-the-face",
        Severity.DISAPPOINT,
        facts(
            piece=flap.called,
            work=sheet.called,
            name=Name("size", flap.piece, flap.piece),
        ),
        place=place_of([flap.area & thing.project.seam.area]),
        step=flap.step,
        piece=flap.piece,
    )
