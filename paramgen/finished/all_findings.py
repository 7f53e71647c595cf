"""Everything that is found about a project, from its first step to the finished thing."""

from collections.abc import Iterator, Sequence
from itertools import chain

from paramgen.finished.bulk import bulk
from paramgen.finished.covered_openings import covered
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.fold_room import crowding, folding
from paramgen.finished.gap_closing import gap
from paramgen.finished.hardware import hardware
from paramgen.finished.held_things import contents
from paramgen.finished.loops import loops, strips
from paramgen.finished.pulled_flaps import pulling
from paramgen.finished.thread_that_shows import thread
from paramgen.finished.turned_curves import curves
from paramgen.finished.wrong_sides import faces
from paramgen.rehearsal.density import density
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import rehearsed, rehearsed_beside, worst_first
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Project


@dataclass(frozen=True)
class Proven:
    """What was found, and the finished thing.

    Parameters
    ----------
    findings : tuple of Finding
        Worst first, then in the order of the steps.
    thing : FinishedThing
    """

    findings: tuple[Finding, ...]
    thing: FinishedThing


def prove(project: Project, sewn: Sequence[SewnStep] = ()) -> Proven:
    """Rehearse a project and turn it out.

    Parameters
    ----------
    project : Project
        Laid out with curves no finer than they need be, see `COARSE`.
    sewn : sequence of SewnStep
        Its stitches, where the project lies; without them nothing is said of single ones.
    """
    done = work_through(project)
    thing = finish(done)
    found = [
        *rehearsed_beside(done),
        *rehearsed(done),
        *_finished(thing),
        *crowding(thing),
        *curves(thing),
        *density(sewn, project),
    ]
    return Proven(worst_first(_causes(found)), thing)


def stopped(project: Project) -> bool:
    """Whether anything that `prove` finds stops it: known sooner than all that is found.

    What never stops it is not looked for, nor anything more once something does. The finished
    thing comes first: sizes that do not do mostly fail there.
    """
    done = work_through(project)
    return any(one.stops for one in chain(_finished(finish(done)), rehearsed(done)))


def _finished(thing: FinishedThing) -> Iterator[Finding]:
    """Find what may stop the finished thing, and whatever is found with it."""
    yield from faces(thing)
    yield from pulling(thing)
    yield from loops(thing)
    yield from strips(thing.project)
    yield from covered(thing)
    yield from contents(thing)
    yield from folding(thing)
    yield from gap(thing)
    yield from bulk(thing)
    yield from hardware(thing)
    yield from thread(thing)


#: What follows from another finding about the same piece is not said again. All of those others
#: stop the project.
FOLLOWS = {
    "raw-edge-shows": ("opens-inside", "fold-in-seam"),
    "edge-not-held": ("opens-inside", "raw-edge-shows", "needle-misses", "loose"),
    "loose-on-the-face": ("zip-covered",),
    "sewn-shut": ("sewn-to-outside",),
    "flap-cannot-stand-out": ("needle-misses", "loose"),
    "zip-covered": ("flap-cannot-stand-out", "flap-trapped"),
    "does-not-fit": ("sewn-to-outside",),
    "held-too-little": ("sewn-to-outside",),
    "not-secured": ("needle-misses", "taped-before-laid"),
    "not-taped": ("needle-misses", "taped-before-laid"),
}


def _causes(found: Sequence[Finding]) -> list[Finding]:
    """Leave out what only follows from another finding."""
    codes = {(one.piece, one.code) for one in found}
    kept: list[Finding] = []
    for one in found:
        follows = any((one.piece, cause) in codes for cause in FOLLOWS.get(one.code, ()))
        again = (
            one.piece
            and one.code == "sewn-shut"
            and any((other.code, other.piece) == (one.code, one.piece) for other in kept)
        )
        if not follows and not again:
            kept.append(one)
    return kept
