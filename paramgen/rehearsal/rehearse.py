"""The whole rehearsal: what is wrong with a project, and the proof when nothing is."""

from collections.abc import Sequence
from dataclasses import dataclass

from paramgen.findings import Finding, Severity
from paramgen.layout.project import Project
from paramgen.rehearsal.contents import contents
from paramgen.rehearsal.density import density
from paramgen.rehearsal.hardware import hardware
from paramgen.rehearsal.holding import holding
from paramgen.rehearsal.openings import openings
from paramgen.rehearsal.order import order
from paramgen.rehearsal.surfaces import surfaces
from paramgen.rehearsal.thickness import thickness
from paramgen.rehearsal.turned import Rehearsed, work_through
from paramgen.rehearsal.zips import zips
from paramgen.stitches.sewn import SewnStep


@dataclass(frozen=True)
class Rehearsal:
    """What the rehearsal found.

    Parameters
    ----------
    findings : tuple of Finding
        Worst first, then in the order of the steps.
    done : Rehearsed
        The finished thing.
    """

    findings: tuple[Finding, ...]
    done: Rehearsed


def rehearse(project: Project, sewn: Sequence[SewnStep] = ()) -> Rehearsal:
    """Rehearse a project.

    Parameters
    ----------
    project : Project
        Laid out with curves no finer than they need be, see `COARSE`.
    sewn : sequence of SewnStep
        Its stitches, where the project lies; without them nothing is said of their number.
    """
    done = work_through(project)
    found = [
        *order(done),
        *openings(done),
        *surfaces(done),
        *holding(done),
        *zips(done),
        *contents(done),
        *thickness(done),
        *hardware(done),
        *density(sewn, project),
    ]
    return Rehearsal(worst_first(_causes(found)), done)


#: What follows from another finding about the same piece is not said again.
FOLLOWS = {
    "raw-edge-shows": ("opens-inside",),
    "edge-not-held": ("opens-inside", "raw-edge-shows", "needle-misses", "loose"),
    "sewn-shut": ("sewn-to-outside",),
    "does-not-fit": ("sewn-to-outside",),
    "held-too-little": ("sewn-to-outside",),
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


#: Chords may leave curves by so much in the rehearsal, mm: far below any limit it knows.
COARSE = 0.02


def worst_first(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings, the worst first and otherwise in their order."""
    order_of = list(Severity)
    return tuple(sorted(findings, key=lambda finding: order_of.index(finding.severity)))
