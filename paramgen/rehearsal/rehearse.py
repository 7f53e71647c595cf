"""The rehearsal's own findings: what is wrong with the layers and lines in the hoop."""

from collections.abc import Iterable, Iterator

from paramgen.rehearsal.by_hand import by_hand
from paramgen.rehearsal.holding import holding
from paramgen.rehearsal.openings import openings
from paramgen.rehearsal.out_of_hoop import out_of_hoop
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.placement_marks import placement_marks
from paramgen.rehearsal.securing import securing
from paramgen.rehearsal.stabiliser_left_in import stabiliser_left_in
from paramgen.rehearsal.surfaces import surfaces
from paramgen.rehearsal.thickness import thickness
from paramgen.rehearsal.work_order import order
from paramgen.rehearsal.zip_checks import zips
from paramgen.vocabulary.findings import Finding, Severity


def rehearsed(done: Rehearsed) -> Iterator[Finding]:
    """Find what is wrong up to the last stitch, step by step and hollow by hollow.

    All that may stop the project is here, and whatever is found with it.
    """
    yield from (found for one in done.project.embellishments for found in one.findings)
    yield from order(done)
    yield from securing(done.project)
    yield from out_of_hoop(done.project)
    yield from by_hand(done.project)
    yield from openings(done)
    yield from stabiliser_left_in(done)
    yield from surfaces(done)
    yield from holding(done)
    yield from zips(done)
    yield from thickness(done)


def rehearsed_beside(done: Rehearsed) -> Iterator[Finding]:
    """Find what is only told, and never stops the project."""
    yield from placement_marks(done.project)


#: Chords may leave curves by so much in the rehearsal, mm: far below any limit it knows.
COARSE = 0.02


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings, the worst first and otherwise in their order.

    Examples
    --------
    >>> found = [Finding("thin", Severity.KNOW), Finding("thick", Severity.CANNOT)]
    >>> [one.code for one in worst_first(found)], worst_first([])
    (['thick', 'thin'], ())
    """
    order_of = list(Severity)
    return tuple(sorted(findings, key=lambda finding: order_of.index(finding.severity)))
