"""Loops, tabs and tails: what the seam catches at one side alone, and what of it comes out."""

from collections.abc import Iterator

from paramgen.findings import Finding, Severity
from paramgen.finished.flaps import TOUCH, Flap, Lies, rim_line
from paramgen.finished.limits import RIBBON
from paramgen.finished.thing import Finished
from paramgen.layout.project import Act, Project
from paramgen.lengths import show_both
from paramgen.reference.materials import ANY_CLOTH
from paramgen.rehearsal.places import place_of


def loops(thing: Finished) -> Iterator[Finding]:
    """Find what is laid the wrong way round, laid outward and cut off, or said nothing of."""
    for flap in thing.flaps:
        rim = rim_line(flap)
        if rim is None or rim.length <= TOUCH:
            continue
        if _fold_is_lost(thing, flap):
            yield _fold_in_seam(flap)
        elif (cut := _cut_off(thing, flap)) > (left := _left(thing, flap)):
            yield _laid_outward(thing, flap, cut, left)
        elif flap.lies is Lies.WORK:
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
            f"the fabric {role} is cut {show_both(wide, project.unit)} wide at most, and nothing "
            "says what it is: it is taken to be woven cloth, bought by its width",
            "If it is ribbon, say so, and it is bought by its length: "
            f'[fabrics.{role}] with kind = "ribbon".',
            piece=pieces[0].name,
        )


def _fold_is_lost(thing: Finished, flap: Flap) -> bool:
    """Whether the fold of what is folded in half lies outside the seam line."""
    sheet = thing.done.sandwich.sheets[flap.sheets[0]]
    if sheet.leaf not in ("back", "front"):
        return False
    return float((sheet.folds[-1] & thing.project.seam.area).length) <= TOUCH


def _cut_off(thing: Finished, flap: Flap) -> float:
    """Area of a flap that trimming cuts off, mm²."""
    trimmed = thing.project.finish.trimmed
    return 0.0 if trimmed is None else float((flap.area - trimmed.area).area)


def _left(thing: Finished, flap: Flap) -> float:
    """Area of a flap that lies within the seam line, and so comes out, mm²."""
    return float((flap.area & thing.project.seam.area).area)


def _fold_in_seam(flap: Flap) -> Finding:
    title = flap.title
    return Finding(
        "fold-in-seam",
        Severity.CANNOT,
        f"the {title} lies with its fold outside the seam line: the fold is sewn into the seam, "
        "and its ends come out",
        f"Lay the {title} the other way round in step {flap.step}: its fold inward, its ends past "
        "the seam line (fold).",
        place=place_of([flap.area]),
        step=flap.step,
        piece=flap.piece,
    )


def _laid_outward(thing: Finished, flap: Flap, cut: float, left: float) -> Finding:
    title, unit = flap.title, thing.project.unit
    trim = next(step for step in thing.project.steps if step.act is Act.TRIM)
    wide = float(flap.rim.length)
    return Finding(
        "laid-outward",
        Severity.DISAPPOINT,
        f"the {title} lies outward: {show_both(cut / wide, unit)} of its length lie outside the "
        f"line that it is trimmed to in step {trim.number}, and only "
        f"{show_both(left / wide, unit)} are left to come out",
        f"Lay the {title} inward over the work in step {flap.step}, with only its ends past the "
        "seam line.",
        amount=cut / wide,
        place=place_of([flap.area - thing.project.seam.area]),
        step=flap.step,
        piece=flap.piece,
    )


def _lies_on_the_face(thing: Finished, flap: Flap) -> Finding:
    title = flap.title
    work = thing.done.project.finish.between[0]
    sheet = thing.done.sandwich.sheets[thing.done.indices(work)[0]]
    return Finding(
        "loose-on-the-face",
        Severity.DISAPPOINT,
        f"the {title} is caught at one side alone and comes to lie on the face of the "
        f"{sheet.title}, its other end loose; so it is drawn",
        f"If the {title} is to stand out past the edge, name it under `finish` "
        f'(stands_out = ["{flap.piece}"]); else stitch its other end down as well.',
        place=place_of([flap.area & thing.project.seam.area]),
        step=flap.step,
        piece=flap.piece,
    )
