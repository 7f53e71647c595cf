"""Everything that is found about a project, from its first step to the finished thing."""

from collections.abc import Sequence
from dataclasses import dataclass

from paramgen.findings import Finding
from paramgen.finished.bulk import bulk
from paramgen.finished.contents import contents
from paramgen.finished.covered import covered
from paramgen.finished.curves import curves
from paramgen.finished.faces import faces
from paramgen.finished.folding import folding
from paramgen.finished.gap import gap
from paramgen.finished.hardware import hardware
from paramgen.finished.loops import loops, strips
from paramgen.finished.pulling import pulling
from paramgen.finished.thing import Finished, finish
from paramgen.finished.thread import thread
from paramgen.layout.project import Project
from paramgen.rehearsal.density import density
from paramgen.rehearsal.rehearse import rehearsed, worst_first
from paramgen.rehearsal.turned import work_through
from paramgen.stitches.sewn import SewnStep


@dataclass(frozen=True)
class Proven:
    """What was found, and the finished thing.

    Parameters
    ----------
    findings : tuple of Finding
        Worst first, then in the order of the steps.
    thing : Finished
    """

    findings: tuple[Finding, ...]
    thing: Finished


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
        *rehearsed(done),
        *faces(thing),
        *pulling(thing),
        *loops(thing),
        *strips(project),
        *covered(thing),
        *contents(thing),
        *folding(thing),
        *curves(thing),
        *gap(thing),
        *bulk(thing),
        *hardware(thing),
        *thread(thing),
        *density(sewn, project),
    ]
    return Proven(worst_first(_causes(found)), thing)


#: What follows from another finding about the same piece is not said again.
FOLLOWS = {
    "raw-edge-shows": ("opens-inside", "fold-in-seam"),
    "edge-not-held": ("opens-inside", "raw-edge-shows", "needle-misses", "loose"),
    "loose-on-the-face": ("zip-covered",),
    "sewn-shut": ("sewn-to-outside",),
    "flap-cannot-stand-out": ("needle-misses", "loose"),
    "zip-covered": ("flap-cannot-stand-out", "flap-trapped"),
    "does-not-fit": ("sewn-to-outside",),
    "held-too-little": ("sewn-to-outside",),
    "not-secured": ("needle-misses",),
    "not-taped": ("needle-misses",),
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
